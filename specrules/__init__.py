"""A rule engine for the bench: a measured build in, a judged and explained inspection out."""
