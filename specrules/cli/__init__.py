"""The commands: read, call, print, exit status. Nothing is decided here."""

from specrules.cli.entry_point import main

__all__ = ["main"]
