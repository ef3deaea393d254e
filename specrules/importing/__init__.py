"""Readings out of a shop's own tables: a map says what stands where, and what is not surely a number is refused."""
