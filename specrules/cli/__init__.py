"""The commands: read, call, print, exit status. Nothing is decided here."""

from specrules.cli.main import main

__all__ = ["main"]
