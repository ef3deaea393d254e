"""Puts lines on a terminal or into a stream: the edge where rich is used, for colour and never for markup."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Mapping
from typing import TextIO

from specrules.output.lines import Line, text_of
from specrules.output.safe import plain

STYLES = {"heading": "bold", "quiet": "dim", "good": "green", "doubt": "yellow", "bad": "bold red", "": ""}


def put(lines: Iterable[Line], stream: TextIO, colour: bool | None = None) -> None:
    """Write lines: coloured where the stream is a terminal that wants colour, plain text where it is not.

    colour: True or False decides; None asks the terminal and the environment (NO_COLOR, TERM=dumb).
    """
    rows = list(lines)
    if not _can_show(text_of(rows), stream):
        rows = [tuple(span._replace(text=plain(span.text)) for span in row) for row in rows]
    if colour is False or (colour is None and not stream.isatty()):
        stream.write(text_of(rows))
        return
    from rich.console import Console  # only where colour is wanted: it costs a third of the start
    from rich.text import Text

    console = Console(
        file=stream,
        width=500,
        height=50,
        markup=False,
        emoji=False,
        highlight=False,
        force_terminal=colour,
        soft_wrap=True,
    )
    for row in rows:
        text = Text()
        for span in row:
            text.append(span.text, STYLES[span.style])
        text.rstrip()
        console.print(text)


def _can_show(text: str, stream: TextIO) -> bool:
    try:
        text.encode(getattr(stream, "encoding", None) or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def colour_wanted(asked: str, environment: Mapping[str, str], stream: TextIO = sys.stdout) -> bool:
    """Whether to colour. "always" and "never" win; else NO_COLOR with any value and a dumb terminal say no."""
    if asked in ("always", "never"):
        return asked == "always"
    if environment.get("NO_COLOR") or environment.get("TERM") == "dumb":
        return False
    return stream.isatty()
