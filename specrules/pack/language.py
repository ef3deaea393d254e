"""The reference of the pack language, asked for one word: the sections, the rows of tables and the sentences on it.

The reference is packs/README.md itself, whose tables are written from the declarations: there is no second text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

_HEADING = re.compile(r"(#+) (.+)")
_CELLS = re.compile(r"(?<!\\)\|")
_CODE = re.compile(r"`([^`]+)`")
_WORD = re.compile(r"[\w. -]*\w")
_LINK = re.compile(r"\[([^\]]+)\]\([^)]+\)")
_RULE = re.compile(r"[| -]+")


class Section(NamedTuple):
    """A heading of the reference with what stands under it, up to the next heading; `level` 2 or more."""

    level: int
    heading: str
    blocks: tuple[str, ...]  # paragraphs, bullets, rows of tables, pieces of code

    @property
    def rows(self) -> tuple[tuple[str, ...], ...]:
        """The rows of its tables, without their heads."""
        return tuple(cells(block) for block in self.blocks if block.startswith("|"))


def cells(row: str) -> tuple[str, ...]:
    """The cells of a row of a table."""
    return tuple(cell.strip().replace("\\|", "|") for cell in _CELLS.split(row)[1:-1])


class Told(NamedTuple):
    """What a section says of a word: all of it, or the blocks that speak of it."""

    section: Section
    blocks: tuple[str, ...]


def sections(reference: str) -> tuple[Section, ...]:
    """The reference by its headings, without the marks of its tables."""
    found: list[Section] = []
    level, heading, blocks = 0, "", list[str]()
    for block in _blocks(reference):
        title = _HEADING.fullmatch(block)
        if title is None:
            blocks.append(block)
            continue
        found += [Section(level, heading, tuple(blocks))] if level > 1 else []
        level, heading, blocks = len(title[1]), title[2].replace("`", ""), []
    return (*found, Section(level, heading, tuple(blocks)))


def told_of(word: str, reference: str) -> tuple[Told, ...]:
    """What the reference says of a word: sections of that name whole, else rows and sentences in which it is a word of
    the language."""
    every = sections(reference)
    asked = word.strip().casefold()
    named = tuple(each for each in every if asked in _names(each.heading))
    whole = tuple(Told(each, each.blocks) for each in named)
    rest = ((each, tuple(block for block in each.blocks if _speaks(block, asked))) for each in every)
    return (*whole, *(Told(each, blocks) for each, blocks in rest if blocks and each not in named))


def words(reference: str) -> frozenset[str]:
    """Every word that the reference can be asked for."""
    found: set[str] = set()
    for each in sections(reference):
        found |= _names(each.heading)
        for block in each.blocks:
            found |= _words_of(block)
    return frozenset(found)


def _names(heading: str) -> set[str]:
    """What a section is called: its heading, and the key before a colon."""
    lower = heading.casefold()
    return {lower, lower.partition(":")[0]}


def _speaks(block: str, asked: str) -> bool:
    return asked in _words_of(block)


def _words_of(block: str) -> set[str]:
    """What stands in a block as a word of the language: whole, before its bracket, and before its colon."""
    if block.startswith("```"):
        return set()
    spans = [span.casefold() for span in _CODE.findall(block)]
    cut = (re.split(r"[(:]", span)[0].strip() for span in spans)
    return {each for each in (*spans, *cut) if _WORD.fullmatch(each)}


def _blocks(reference: str) -> Iterator[str]:
    """Headings, paragraphs and bullets in one line each, rows of tables, and pieces of code as they stand."""
    held: list[str] = []
    code: list[str] | None = None
    head: str | None = None  # a row that is the head of its table if a rule follows
    for row in [*reference.split("\n"), ""]:
        if row.startswith("```"):
            if code is None:
                code = [row]
            else:
                yield "\n".join([*code, row])
                code = None
            continue
        if code is not None:
            code.append(row)
            continue
        starts = not row.strip() or row.startswith(("#", "|", "- ", "<!--"))
        if starts and held:
            yield _LINK.sub(r"\1", " ".join(held))
            held = []
        if head is not None and not _RULE.fullmatch(row):
            yield head
        head = row if row.startswith("|") and not _RULE.fullmatch(row) else None
        if row.startswith("#"):
            yield row
        elif head is not None or row.startswith("|"):
            continue
        elif row.strip() and not row.startswith("<!--"):
            held.append(row.strip())
