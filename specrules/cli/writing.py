"""Putting text where it belongs: the terminal, a pipe, or a file that is written whole or not at all."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from contextlib import AbstractContextManager
from pathlib import Path

import click

from specrules.document import Fault
from specrules.effects.files import cause, write_file
from specrules.output.lines import Line, folded, line
from specrules.output.progress import Bar, progress
from specrules.output.terminal import colour_wanted, put, text_of

MOST_FAULTS = 100
"""More than these are counted, not listed."""

COLOUR = click.option(
    "--colour",
    type=click.Choice(("auto", "always", "never")),
    default="auto",
    help="auto: as the terminal says.",
)

NO_PLUGINS = click.option("--no-plugins", is_flag=True, help="Leave out what installed plugins offer.")


def put_lines(lines: Sequence[Line], out: Path | None = None, colour: str = "auto") -> None:
    """Lines to a file as plain text, or to the standard output."""
    if out is not None:
        write_whole(out, text_of(list(lines)))
    else:
        put(lines, sys.stdout, colour_wanted(colour, os.environ, sys.stdout))


def progress_of(total: int, colour: str = "auto") -> AbstractContextManager[Bar]:
    """A bar for so many sheets or packs on the standard error, where that is a terminal and they take a while."""
    return progress(total, sys.stderr, colour_wanted(colour, os.environ, sys.stderr))


def put_text(text: str, out: Path | None = None) -> None:
    """Text that is for a machine: to a file, or to the standard output in UTF-8 whatever the terminal speaks."""
    if out is not None:
        write_whole(out, text)
        return
    sys.stdout.flush()
    sys.stdout.buffer.write(text.encode("utf-8"))
    sys.stdout.buffer.flush()


def put_faults(faults: Sequence[Fault]) -> None:
    """Each fault as a sentence on the standard error, each told once."""
    files = {fault.place.file: None for fault in faults}
    order = list(files)
    told = sorted(dict.fromkeys(faults), key=lambda fault: (order.index(fault.place.file), fault.place[1:]))
    lines: list[Line] = []
    for fault in told[:MOST_FAULTS]:
        lines += folded(fault.sentence(), width=10_000)
    if len(told) > MOST_FAULTS:
        lines.append(line(f"and {len(told) - MOST_FAULTS} more."))
    in_files = sum(fault.kind != "plugin" for fault in told)
    if in_files:
        number = "1 fault. Put it" if in_files == 1 else f"{in_files} faults. Put them"
        lines.append(line(f"{number} right, then run it again: a file at fault is not judged."))
    put(lines, sys.stderr)
    sys.stderr.flush()


def write_whole(path: Path, text: str) -> None:
    """Write a file whole or not at all; where that cannot be it is said, and all ends."""
    try:
        write_file(path, text)
    except OSError as error:
        raise click.ClickException(f"{path} cannot be written: {cause(error)}") from error


def plain(text: str) -> str:
    """A text as it can be written in UTF-8, whatever the command line held."""
    return text.encode("utf-8", "replace").decode("utf-8")


def quoted(path: Path) -> str:
    """A path as it can be typed in a command."""
    return f'"{path}"' if " " in str(path) else str(path)
