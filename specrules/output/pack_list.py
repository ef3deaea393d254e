"""The list of packs, as a person reads it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from specrules.output.lines import Line, folded, line, spread
from specrules.output.words import listed
from specrules.pack import PackHead


def listing(heads: Sequence[PackHead]) -> Iterator[Line]:
    """A line or two for each pack."""
    for head in heads:
        builds_on = f"builds on {listed(head.builds_on)}" if head.builds_on else ""
        yield from spread(f"{head.name} {head.version}", builds_on, "heading")
        yield from folded(head.title, 2)
    yield line()
    yield line("A sheet names those that it is judged by: packs: [street]. To read one whole:")
    yield line("  specrules pack show street")
