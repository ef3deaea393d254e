"""Makes the helpers that lie in this folder known to the tests in the folders below it."""
