"""All that touches files, folders and processes."""
