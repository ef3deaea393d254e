"""Putting text where it belongs: the terminal, a pipe, or a file.

With `--out` the console's form holds the faults too, so that a sheet at fault leaves no "Go on" of yesterday in place;
where nothing is written that is said.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import NoReturn

import click

from specrules.cli.status import Status
from specrules.document import Fault
from specrules.effects.files import STANDARD_INPUT, LeftAlone, NotWritten, WholeFile, create, to_be_free, unless_ours
from specrules.output.lines import Line, folded, line
from specrules.output.marks import MARKS
from specrules.output.pdf import NoPdf, pdf_of
from specrules.output.progress_bar import Bar, progress
from specrules.output.terminal import colour_wanted, put, text_of

MOST_FAULTS = 100
"""More than these are counted, not listed."""

COLOUR = click.option(
    "--colour",
    type=click.Choice(("auto", "always", "never")),
    default="auto",
    help="auto: as the terminal says.",
)

OUT = click.option(
    "--out", type=click.Path(path_type=Path, dir_okay=False), default=None, help="Write to a file instead."
)

REPLACE = click.option("--replace", is_flag=True, help="Let --out replace any file that is not read here.")

ADD = click.option("--add", multiple=True, metavar="PACK", help="One more pack, over those of the sheet.")

NO_PLUGINS = click.option("--no-plugins", is_flag=True, help="Leave out what installed plugins offer.")


def put_lines(lines: Iterable[Line], colour: str = "auto", out: WholeFile | None = None) -> None:
    """Lines to a file as plain text, or to the standard output."""
    if out is not None:
        put_text(text_of(lines), out)
    else:
        put(lines, sys.stdout, colour_wanted(colour, os.environ, sys.stdout))
        sys.stdout.flush()


def progress_of(total: int, colour: str = "auto") -> AbstractContextManager[Bar]:
    """A bar for so many sheets or packs on the standard error, where that is a terminal and they take a while."""
    return progress(total, sys.stderr, colour_wanted(colour, os.environ, sys.stderr))


def put_text(text: str | bytes, out: WholeFile | None = None) -> None:
    """What is for a machine: to a file, or to the standard output, in UTF-8 whatever the terminal speaks."""
    data = text if isinstance(text, bytes) else text.encode("utf-8")
    if out is not None:
        out.write(data)
        return
    sys.stdout.flush()
    sys.stdout.buffer.write(data)
    sys.stdout.buffer.flush()


def put_faults(faults: Sequence[Fault], out: WholeFile | None = None) -> None:
    """Each fault as a sentence on the standard error, each told once; and in a report's file, if there is one."""
    files = {fault.place.file: None for fault in faults}
    order = list(files)
    told = sorted(dict.fromkeys(faults), key=lambda fault: (order.index(fault.place.file), fault.place[1:]))
    lines: list[Line] = []
    for fault in told[:MOST_FAULTS]:
        lines += folded(fault.sentence(), width=10_000)
    if len(told) > MOST_FAULTS:
        lines.append(line(f"and {len(told) - MOST_FAULTS} more."))
    in_files = sum(fault.kind not in ("plugin", "program", "picture") for fault in told)
    if in_files:
        number = "1 fault. Put it" if in_files == 1 else f"{in_files} faults. Put them"
        lines.append(line(f"{number} right, then run it again: a file at fault is not judged."))
    put(lines, sys.stderr)
    sys.stderr.flush()
    if out is not None and lines:
        put_lines(lines, out=out)


def end_at_fault(faults: Sequence[Fault]) -> NoReturn:
    """End the command with these faults."""
    put_faults(faults)
    raise click.exceptions.Exit(Status.FAULT)


def for_a_pdf(path: Path) -> bool:
    """Whether a page that goes to this file is made a PDF."""
    return path.suffix.lower() == ".pdf"


def put_page(page: str, out: WholeFile | None) -> None:
    """A page to a file, as PDF where its name says so, or to the standard output."""
    if out is None or not for_a_pdf(out.path):
        put_text(page, out)
        return
    try:
        out.write(pdf_of(page))
    except NoPdf as refused:
        raise FileNotWritten(f"{out.path}: {refused}") from refused


class FileNotWritten(click.ClickException):
    """A file is not written."""

    exit_code = Status.FAULT


@contextmanager
def written_or_told() -> Iterator[None]:
    """What keeps a file from being written inside ends the command, which says so."""
    try:
        yield
    except NotWritten as refused:
        raise FileNotWritten(str(refused)) from refused


def unless_there(path: Path) -> None:
    """Refuse a name for a new file before anything is asked, where `put_new` would refuse it at the end."""
    with written_or_told():
        to_be_free(path)


def put_new(path: Path, text: str) -> None:
    """A new file, and nothing where anything is there."""
    with written_or_told():
        create(path, text)


@contextmanager
def report_file(
    out: Path | None, inputs: Callable[[], Iterable[Path]], replace: bool, head: str = "", marks: Collection[str] = ()
) -> Iterator[WholeFile | None]:
    """The file that a report goes to; None where it goes to the standard output.

    inputs: what the run reads. head: the mark, where what is written has none yet. marks: with what reports of plugins'
    forms begin. Where the report of an earlier run stays in place that is said, so that nobody takes it for this run's.
    """
    if out is None:
        yield None
        return
    file = WholeFile(out, unless_ours((*MARKS, *marks), inputs, replace), head.encode())
    alone = False
    try:
        with file:
            yield file
    except NotWritten as refused:
        alone = isinstance(refused, LeftAlone)
        raise FileNotWritten(str(refused)) from refused
    finally:
        if not (file.written or alone) and os.path.isfile(out) and os.path.getsize(out):
            click.echo(f"{out} is still what an earlier run wrote.", err=True)


class Readable(click.Path):
    """The path of a file to be read; `-` is the standard input, and `./-` a file of that name."""

    def convert(self, value: str | os.PathLike[str], param: click.Parameter | None, ctx: click.Context | None) -> Path:
        """The path as it was given."""
        path = Path(os.fsdecode(super().convert(value, param, ctx)))
        return path.absolute() if path == STANDARD_INPUT and value != str(STANDARD_INPUT) else path


READABLE = Readable(path_type=Path)


def plain(text: str) -> str:
    """A text as it can be written in UTF-8, whatever the command line held."""
    return text.encode("utf-8", "replace").decode("utf-8")


def quoted(path: Path) -> str:
    """A path as it can be typed in a command."""
    return f'"{path}"' if " " in str(path) else str(path)
