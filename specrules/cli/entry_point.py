"""The outermost command: the one place that catches the unexpected, so that nobody ever sees a traceback."""

from __future__ import annotations

import gc
import os
import sys
from io import StringIO

import click

from specrules.cli.commands import specrules
from specrules.cli.interrupts import STOPPED, Interrupted, Interruptible
from specrules.cli.status import Status
from specrules.cli.streams import NotPrinted, steady


def main() -> None:
    """Run the command line and exit with its status."""
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # the search for them reads what all packages say
    steady()
    status = run(sys.argv[1:])
    gc.freeze()  # a tenth of a run goes into taking apart at the end what it made, which the process does by ending
    sys.exit(status)


def run(arguments: list[str]) -> int:
    """Run the command line; the exit status. Whatever was not foreseen becomes a sentence and status 2."""
    try:
        with Interruptible():
            status = _status(arguments or ["--help"])
            sys.stdout.flush()
    except NotPrinted as refused:
        return Status.PIPE_CLOSED if refused.closed else _told(str(refused))
    except KeyboardInterrupt as stopped:
        return _stopped(stopped)
    return status


def _status(arguments: list[str]) -> int:
    try:
        with specrules.make_context("specrules", arguments) as context:
            specrules.invoke(context)
    except click.exceptions.Exit as done:
        return done.exit_code
    except click.exceptions.Abort as stopped:
        return _stopped(stopped.__context__)
    except click.ClickException as wrong:
        shown = StringIO()
        wrong.show(shown)
        return _told(_harmless(shown.getvalue().removesuffix("\n")))
    except NotPrinted:
        raise
    except Exception as unforeseen:
        if os.environ.get("SPECRULES_DEBUG"):
            raise
        if isinstance(unforeseen, OSError | MemoryError):
            return _told(_harmless(_of_the_machine(unforeseen)))
        said = _harmless(f"{type(unforeseen).__name__}: {unforeseen}")[:300]
        return _told(
            f"specrules itself is at fault here, not your files: {said}\n"
            "Set SPECRULES_DEBUG=1 and run it again to see where."
        )
    return Status.GO


def _told(sentence: str) -> Status:
    """Say on the standard error why nothing more came of it."""
    click.echo(sentence, err=True)
    return Status.FAULT


def _of_the_machine(failure: OSError | MemoryError) -> str:
    """What neither the files nor the program is at fault for."""
    if isinstance(failure, MemoryError):
        return "There is not enough memory for this."
    try:
        os.getcwd()
    except OSError:
        return "The folder that you are working in is gone; change to one that is there."
    from specrules.effects.files import why

    about = f"{failure.filename}: " if failure.filename else ""
    return f"The system refuses: {about}{why(failure)}."


def _stopped(by: object) -> int:
    """Say so; where code of others was at work, whose: it may be that which never came back."""
    where = "".join(f", {note}" for note in getattr(by, "__notes__", ()))
    click.echo(f"{STOPPED.removesuffix('.')}{where}.", err=True)
    return 128 + by.number if isinstance(by, Interrupted) else Status.STOPPED


def _harmless(message: str) -> str:
    """A message that may carry what a command line or a file holds, with nothing in it that steers a terminal."""
    from specrules.document.safe_text import safe

    return "\n".join(map(safe, message.split("\n")))
