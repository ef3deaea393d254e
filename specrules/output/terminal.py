"""The edge where lines are printed: rich puts every screen on a terminal, into a stream or into a text."""

from __future__ import annotations

import codecs
from collections.abc import Iterable, Mapping
from io import StringIO
from typing import IO, TextIO, cast

from rich.console import Console
from rich.segment import Segment, Segments

from specrules.output.lines import Line
from specrules.output.safe import can_show, plain


def put(lines: Iterable[Line], stream: TextIO, colour: bool = False) -> None:
    """Print lines, in colour or plain, in what the stream's encoding can show. Raises OSError where it can't write."""
    rows, encoding = list(lines), encoding_of(stream)
    if not can_show("".join(part.text for row in rows for part in row), encoding):
        rows = [tuple(part._replace(text=plain(part.text, encoding)) for part in row) for row in rows]
    _print(rows, stream, colour)


def text_of(lines: Iterable[Line]) -> str:
    """Lines as plain text."""
    stream = StringIO()
    _print(lines, stream, colour=False)
    return stream.getvalue()


def _print(lines: Iterable[Line], stream: TextIO, colour: bool) -> None:
    console = _Printer(
        file=cast(IO[str], _LineByLine(stream)),
        width=500,  # lines are folded already
        height=50,
        soft_wrap=True,
        force_terminal=True,
        force_jupyter=False,  # what is printed goes where it is asked to go, in a notebook too
        color_system="standard" if colour else None,
        no_color=False,  # whether there is colour was decided before
    )
    console.print(Segments([part for row in lines for part in (*row, Segment.line())]))


class _Printer(Console):
    """A console that leaves a closed pipe to the command line, which knows the status that goes with it."""

    def on_broken_pipe(self) -> None:
        raise


class _LineByLine:
    """A stream that gets a line at a time: one without a buffer loses the end of a long text unsaid."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def write(self, text: str) -> None:
        for row in text.splitlines(keepends=True):
            self._stream.write(row)

    def flush(self) -> None:
        self._stream.flush()


def encoding_of(stream: TextIO) -> str:
    """What a stream writes letters in, and ASCII where it doesn't say."""
    name = getattr(stream, "encoding", None) or "ascii"
    try:
        return codecs.lookup(name).name
    except LookupError:
        return "ascii"


def colour_wanted(asked: str, environment: Mapping[str, str], stream: TextIO) -> bool:
    """Whether to colour: "always" and "never" win, then NO_COLOR, FORCE_COLOR, a dumb terminal; else a terminal does.

    NO_COLOR counts with any value that is not empty, FORCE_COLOR with any but 0.
    """
    if asked in ("always", "never"):
        return asked == "always"
    if environment.get("NO_COLOR"):
        return False
    if environment.get("FORCE_COLOR"):
        return environment["FORCE_COLOR"] != "0"
    return environment.get("TERM") != "dumb" and stream.isatty()
