"""Lines of styled text, which screens are made of, and how long ones are folded. Styles are named, not colours."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator

from rich.segment import Segment
from rich.style import Style

from specrules.document.safe_text import safe

WIDTH = 80

STYLES = {
    "": None,
    "heading": Style(bold=True),
    "quiet": Style(dim=True),
    "good": Style(color="green"),
    "doubt": Style(color="yellow"),
    "bad": Style(color="red", bold=True),
}
"""Every style by its name: what it is for, not what it looks like."""

Line = tuple[Segment, ...]
"""Frozen and comparable; rich prints segments as they are, where a Text of its own is wrapped again (25 times as slow).
"""


def line(*parts: str | tuple[str, str]) -> Line:
    """A line of texts, or of (text, style) pairs, without blanks at its end.

    Every text is made safe here, whoever else made it so before.
    """
    pairs = [(part, "") if isinstance(part, str) else part for part in parts]
    made = [Segment(safe(text), STYLES[style]) for text, style in pairs]
    while made and not made[-1].text.rstrip():
        made.pop()
    if made:
        made[-1] = made[-1]._replace(text=made[-1].text.rstrip())
    return tuple(made)


def under(heading: str, rows: Iterable[Line]) -> Iterator[Line]:
    """These rows below a heading with a blank line before it; nothing where there are none."""
    for number, row in enumerate(rows):
        if not number:
            yield line()
            yield line((heading, "heading"))
        yield row


def apart(heading: str, rows: Iterable[Line]) -> Iterator[Line]:
    """These rows below a heading with a blank line behind them; nothing where there are none."""
    made = list(rows)
    if made:
        yield from (line((heading, "heading")), *made, line())


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
