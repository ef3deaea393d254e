"""A gauge's repeatability study: read, taken apart by analysis of variance, and put into words that a sheet takes."""
