"""Results of the core as it stood before it was rewritten, frozen as data, and what holds the program to them."""
