"""A page as its lines, each with the style that it is in: to hold a page to the letter and the look."""

from __future__ import annotations

from collections.abc import Iterable

from specrules.output.lines import STYLES, Line


def styled(lines: Iterable[Line]) -> list[str]:
    """Each line, with the styles of its parts before them in brackets: `[bad]Stop at ...`."""
    names = {style: name for name, style in STYLES.items()}
    return ["".join(f"[{names[part.style]}]{part.text}" if part.style else part.text for part in row) for row in lines]
