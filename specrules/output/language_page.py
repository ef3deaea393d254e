"""The reference of the pack language on the screen: its headings, or what it says of one word."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from specrules.output.lines import Line, folded, line
from specrules.pack.language import Section, Told, cells

_COLUMN = 22


def contents(sections: Sequence[Section]) -> Iterator[Line]:
    """Every heading with the keys of its table."""
    for each in sections:
        keys = [row[0].strip("`") for row in each.rows if row[0].startswith("`") and len(row) > 2]
        yield from folded(each.heading, 2 * (each.level - 2), style="heading" if each.level == 2 else "")
        yield from folded(", ".join(keys) if len(keys) < _COLUMN else "", 2 * each.level, style="quiet")
    yield line()
    yield line("specrules pack language WORD says what is known of one of them.")


def of_word(told: Sequence[Told]) -> Iterator[Line]:
    """What the reference says of a word, under the headings where it says it."""
    for number, (section, blocks) in enumerate(told):
        if number:
            yield line()
        yield line((section.heading, "heading"))
        for block in blocks:
            yield from _block(block)


def _block(block: str) -> Iterator[Line]:
    if block.startswith("```"):
        for row in block.split("\n")[1:-1]:
            yield line(f"    {row}")
    elif block.startswith("|"):
        first, *rest = cells(block)
        yield from folded("; ".join(cell for cell in rest if cell), 4, f"{first.strip('`'):<{_COLUMN}} ", hang=6)
    else:
        bullet = block.startswith("- ")
        yield from folded(block.removeprefix("- "), 2, "- " if bullet else "")
