"""Puts lines on a terminal or into a stream: the edge where rich is used, for colour and never for markup."""

from __future__ import annotations

import codecs
from collections.abc import Iterable, Mapping
from typing import TextIO

from specrules.output.lines import Line, text_of
from specrules.output.safe import plain

STYLES = {"heading": "bold", "quiet": "dim", "good": "green", "doubt": "yellow", "bad": "bold red", "": ""}


def put(lines: Iterable[Line], stream: TextIO, colour: bool = False) -> None:
    """Write lines, in colour or as plain text, in what the stream's encoding can show."""
    rows, encoding = list(lines), _encoding(stream)
    if not _can_show(text_of(rows), encoding):
        rows = [tuple(span._replace(text=plain(span.text, encoding)) for span in row) for row in rows]
    if not colour:
        for row in rows:
            stream.write(text_of([row]))  # line by line: an unbuffered stream loses the end of a long text unsaid
        return
    from rich.console import Console  # only where colour is wanted: it costs a third of the start
    from rich.text import Text

    console = Console(
        file=stream,
        width=500,  # lines are folded already
        height=50,
        markup=False,
        emoji=False,
        highlight=False,
        force_terminal=True,
        color_system="standard",
        no_color=False,  # whether there is colour was decided before
        soft_wrap=True,
    )
    for row in rows:
        text = Text()
        for span in row:
            text.append(span.text, STYLES[span.style])
        text.rstrip()
        console.print(text)


def _encoding(stream: TextIO) -> str:
    name = getattr(stream, "encoding", None) or "ascii"
    try:
        return codecs.lookup(name).name
    except LookupError:
        return "ascii"


def _can_show(text: str, encoding: str) -> bool:
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return False
    return True


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
