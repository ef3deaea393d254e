"""A rule engine for the bench: a measured build in, a judged and explained inspection out."""

VERSION = "1.0.0"
"""The one place where the version stands; asking the installed metadata for it would cost more than a small sheet."""
