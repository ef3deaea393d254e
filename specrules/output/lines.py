"""Lines of styled text, which screens are made of, and how long ones are folded. Styles are names, not colours."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import NamedTuple

from specrules.output.safe import safe

WIDTH = 80


class Span(NamedTuple):
    """A run of text. style: "", heading, quiet, good, doubt, bad."""

    text: str
    style: str = ""


Line = tuple[Span, ...]


def line(*parts: str | tuple[str, str]) -> Line:
    """A line of texts, or of (text, style) pairs; every text is made safe here, and only here."""
    return tuple(Span(safe(part)) if isinstance(part, str) else Span(safe(part[0]), part[1]) for part in parts)


def spread(left: str, right: str, style: str = "", width: int = WIDTH) -> Line:
    """Two texts at the two ends of a line."""
    room = max(1, width - len(safe(left)) - len(safe(right)))
    return line((left, style), " " * room, right)


def folded(
    text: str, indent: int = 0, first: str = "", style: str = "", width: int = WIDTH, hang: int | None = None
) -> Iterator[Line]:
    """A text in lines of at most `width`; `first` stands before it. Later lines align with the text, or `hang` in."""
    lead = " " * indent + safe(first)
    for row in textwrap.wrap(
        safe(text),
        width,
        initial_indent=lead,
        subsequent_indent=" " * (len(lead) if hang is None else hang),
        break_long_words=False,
        break_on_hyphens=False,
    ):
        yield line((row, style))


def text_of(lines: list[Line]) -> str:
    """The bare text of lines."""
    return "".join("".join(span.text for span in row).rstrip() + "\n" for row in lines)
