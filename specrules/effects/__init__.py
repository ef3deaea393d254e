"""All that touches files and folders besides what a person reads or writes by name."""
