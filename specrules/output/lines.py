"""Lines of styled text, which screens are made of, and how long ones are folded. Styles are names, not colours."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from specrules.output.safe import safe

WIDTH = 80


class Span(NamedTuple):
    """A run of text. style: "", heading, quiet, good, doubt, bad."""

    text: str
    style: str = ""


Line = tuple[Span, ...]


def line(*parts: str | tuple[str, str]) -> Line:
    """A line of texts, or of (text, style) pairs; every text is made safe here, whoever else made it so before."""
    return tuple(Span(safe(part)) if isinstance(part, str) else Span(safe(part[0]), part[1]) for part in parts)


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


def spread(left: str, right: str, style: str = "", right_style: str = "") -> Iterator[Line]:
    """Two texts at the two ends of a line, or one below the other where they are too long for that."""
    left, right = safe(left), safe(right)
    room = WIDTH - len(left) - len(right)
    if right and room >= 2:
        yield line((left, style), " " * room, (right, right_style))
    else:
        yield from folded(left, style=style)
        yield from folded(right, max(0, WIDTH - len(right)), style=right_style)


def columns(
    left: str, middle: str, right: str = "", style: str = "", wide: int = 40, over: bool = False
) -> Iterator[Line]:
    """A line of three: at the left, from column `wide` on, at the right edge.

    A left part that is too wide stands above (`over`: only where the line would be too long), and a right part below.
    """
    left, middle, right = safe(left).rstrip(), safe(middle), safe(right)
    head = f"{left:<{wide}}  "
    room = WIDTH - len(head) - len(middle) - len(right)
    if room >= 2 and (over or len(left) <= wide):
        yield line(f"{head}{middle}{' ' * room}", (right, style))
    elif left and (len(left) > wide or not middle):
        indent = len(left) - len(left.lstrip())
        yield from folded(left.lstrip(), indent, hang=indent + 2)
        yield from columns("", middle, right, style, wide) if middle or right else ()
    else:
        yield from folded(middle, 0, head, hang=wide + 2)
        yield from folded(right, wide + 2, style=style)


def text_of(lines: Iterable[Line]) -> str:
    """The bare text of lines."""
    return "".join("".join(span.text for span in row).rstrip() + "\n" for row in lines)
