"""The commands: read, call, print, exit status. Nothing is decided here."""

from specrules.cli.interrupts import end_at_once


def main() -> None:
    """Run the command line and exit with its status. What takes time is imported once a signal is heeded."""
    end_at_once()
    import gc

    gc.set_threshold(500_000, 50, 50)  # what a run makes lives to its end: looking through it takes a tenth of it
    from specrules.cli.entry_point import main as run_and_exit

    run_and_exit()


__all__ = ["main"]
