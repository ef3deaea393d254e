"""A map proposed from a table's headings: what is surely meant as lines, what is not as comments to fill in."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import product
from typing import NamedTuple

from specrules.document.source import quoted, visible
from specrules.importing.import_map import BY_BLOCK, BY_COLUMN, BY_ROW, HEADER, MOST_HEADING_LINES
from specrules.importing.table_cells import CellTable, TableCell, joined
from specrules.importing.written_labels import label_meant, names_axis, plain
from specrules.pack import Measurand, Specification
from specrules.quantity import nearest
from specrules.sheet import Sheet

LOOKED_AT = 40
"""So many rows from the top, and columns from the left, are looked at for headings."""
MOST_HEADINGS = 400
"""So many texts are looked up; looking takes long."""
MOST_NEAR = 4

SMALL_WORDS = frozenset(("a", "an", "and", "at", "by", "for", "from", "in", "of", "off", "on", "over", "the", "to"))
"""Words that say nothing of what is measured."""

_ASIDE = re.compile(r"[(\[][^()\[\]]*[)\]]")
_SIGNS = re.compile(r"[^\w#.]+")
_NUMBER_WORDS = ("", "no", "no.", "nr", "nr.", "#", "number")
_COMMA_NUMBER = re.compile(r"[0-9]+,[0-9]+")


class Meant(NamedTuple):
    """What a heading may mean by itself: the axis of the labels under it; or measurands, each with the labels that the
    heading says of its axes."""

    axis: str = ""
    options: Mapping[str, Mapping[str, str]] = {}
    like: str = ""  # where it means nothing, the name that is spelt nearly so


Look = Callable[[TableCell], Meant]
"""What a heading means, looked up once for all of its text."""


class _Guess(NamedTuple):
    """One way to read a table. `first`: the row, or column, of the headings, which
    are so many `deep`; `options`: for each heading of figures
    what it may be, beside these labels."""

    table: CellTable
    layout: str
    first: int
    deep: int
    axes: Mapping[str, str]  # headings of labels, and their axes
    options: Mapping[str, Mapping[str, Mapping[str, str]]]
    like: Mapping[str, str]
    titles: str = ""
    across: str = ""

    @property
    def worth(self) -> tuple[int, int, int]:
        """How many headings are sure, beside labels; how many may be something."""
        sure = sum(len(each) == 1 for each in self.options.values())
        labelled = bool(self.axes or self.titles)
        return sure if labelled or sure > 1 else 0, labelled, sum(map(bool, self.options.values()))


def propose(tables: Sequence[CellTable], spec: Specification, sheet: Sheet, lead: Sequence[str] = ()) -> str:
    """The text of a map for the table whose headings say most. `lead`: lines on how its file is read."""
    known: dict[str, Meant] = {}

    def look(cell: TableCell) -> Meant:
        if cell.text not in known:
            looked_up = len(known) < MOST_HEADINGS and not cell.number
            known[cell.text] = heading_meant(cell.text, spec, sheet) if looked_up else Meant()
        return known[cell.text]

    guesses = [
        each for table in tables for each in (*_in_lines(table, look, spec), *_in_blocks(table, look, spec, sheet))
    ]
    nothing = _Guess(CellTable("", "", ()), BY_ROW, 1, 1, {}, {}, {})
    return "\n".join(_text(max(guesses, key=lambda each: each.worth, default=nothing), tables, lead)) + "\n"


def heading_meant(text: str, spec: Specification, sheet: Sheet) -> Meant:
    """What a heading may mean by itself: its words, but for labels, are all of a name or title, else words of a name,
    else words of a title."""
    words = _words(text)
    if not words:
        return Meant()
    axes = sorted({axis for measurand in spec.measurands.values() for axis in measurand.axes})
    same = [axis for axis in axes if plain(axis) == " ".join(words)]
    short = [axis for axis in axes if names_axis(words[0], plain(axis)) and " ".join(words[1:]) in _NUMBER_WORDS]
    exact_short = [axis for axis in short if plain(axis) == words[0]]
    for found in (same, exact_short, short):
        if len(found) == 1:
            return Meant(axis=found[0])
    tiers: tuple[dict[str, Mapping[str, str]], ...] = ({}, {}, {})
    for measurand in spec.measurands.values():
        name, title = (frozenset(_words(each)) for each in (measurand.name, measurand.title))
        whole = frozenset(words) in (name, title)
        at, rest = ({}, frozenset(words)) if whole else _labels_in(words, measurand, sheet)
        fits = (rest in (name, title), rest <= name, rest <= title)
        if any(fits) and not rest <= SMALL_WORDS:
            tiers[fits.index(True)][measurand.name] = at
    options = next(filter(None, tiers), {})
    return Meant(options=options, like="" if options else nearest("_".join(words), spec.measurands) or "")


def _words(text: str) -> list[str]:
    return plain(_SIGNS.sub(" ", _ASIDE.sub(" ", text))).split()


def _labels_in(words: Sequence[str], measurand: Measurand, sheet: Sheet) -> tuple[Mapping[str, str], frozenset[str]]:
    """The labels that words say of a measurand's axes, and the other words; no words where a label may be of two axes,
    or an axis has two labels."""
    at: dict[str, str] = {}
    rest = set(words)
    for word in words:
        axes = [axis for axis in measurand.axes if not word.isdigit() and word in map(plain, sheet.labels[axis])]
        if len(axes) > 1 or (axes and axes[0] in at):
            return {}, frozenset()
        if axes:
            at[axes[0]] = next(label for label in sheet.labels[axes[0]] if plain(label) == word)
            rest.discard(word)
    return at, frozenset(rest)


def _guess(
    table: CellTable,
    layout: str,
    lines: tuple[int, int],
    cells: Sequence[TableCell],
    look: Look,
    spec: Specification,
    *by: str,
) -> _Guess:
    """A way to read a table: what each heading may be, so that it and the labels say every station of it. `lines`:
    the first of the headings, and how many there are; `by`: the axes of titles."""
    meant = {cell.text: look(cell) for cell in cells}
    axes = {text: each.axis for text, each in meant.items() if each.axis} if not by else {}
    labels = {*axes.values(), *filter(None, by)}
    options = {
        text: {
            name: at
            for name, at in each.options.items()
            if labels <= set(spec.measurands[name].axes) - set(at) and set(spec.measurands[name].at) <= labels | set(at)
        }
        or (each.options if not labels else {})
        for text, each in meant.items()
        if text not in axes
    }
    like = {text: each.like or " or ".join([*each.options][:MOST_NEAR]) for text, each in meant.items()}
    return _Guess(table, layout, *lines, axes, options, like, *by)


def _in_lines(table: CellTable, look: Look, spec: Specification) -> Iterator[_Guess]:
    """Each row, and each column, as the one that holds the headings, alone or with the next."""
    for layout, turned in ((BY_ROW, table), (BY_COLUMN, table.turned)):
        for deep, number in product(range(1, MOST_HEADING_LINES), range(min(len(turned.rows), LOOKED_AT))):
            headings = map(joined, zip(*turned.rows[number : number + deep], strict=True))
            yield _guess(table, layout, (number + 1, deep), [cell for cell in headings if cell.text], look, spec)


def _in_blocks(table: CellTable, look: Look, spec: Specification, sheet: Sheet) -> Iterator[_Guess]:
    """The first column as titles of one axis, with the same headings under each."""
    every = sorted({axis for measurand in spec.measurands.values() for axis in measurand.axes})
    rows = [row for row in table.rows if row and row[0].text]
    for axis in every:
        bare = frozenset(map(plain, sheet.labels[axis]))
        titled = [
            row
            for row in rows
            if plain(row[0].text) not in bare and label_meant(row[0].text, axis, sheet.labels[axis], {}) is not None
        ]
        if len(titled) < 2:
            continue
        titles = {row[0].text for row in titled}
        beside = [cell.text for row in titled for cell in row[1:] if cell.text]
        across = [
            other
            for other in every
            if beside and other != axis and all(label_meant(text, other, sheet.labels[other], {}) for text in beside)
        ]
        headings = {plain(row[0].text): row[0] for row in rows if row[0].text not in titles}
        yield _guess(
            table, BY_BLOCK, (1, 1), [*headings.values()], look, spec, axis, across[0] if len(across) == 1 else ""
        )


def _text(best: _Guess, tables: Sequence[CellTable], lead: Sequence[str]) -> Iterator[str]:
    yield f"specrules: {HEADER}"
    yield "# Proposed from the headings of the table. Check every line before you use it."
    yield from lead
    yield f"layout: {best.layout}"
    if best.table.name:
        yield f"worksheet: {quoted(best.table.name)}"
        others = [visible(each.name) for each in tables if each is not best.table]
        yield from [f"# other worksheets: {', '.join(others)}"] if others else ()
    if best.first > 1:
        yield f"{'columns' if best.layout == BY_COLUMN else 'rows'}: {best.first}.."
    if best.deep > 1:
        yield f"heading lines: {best.deep}"
    if any(not cell.number and _COMMA_NUMBER.fullmatch(cell.text) for row in best.table.rows for cell in row):
        yield "# decimal: comma     # figures here have a comma: say so if it is the decimal point"
    yield "# unit:              # in or mm, of figures whose heading and cell say none; it is never guessed"
    if best.titles:
        yield f"block: {{titles: {best.titles}{f', across: {best.across}' if best.across else ''}}}"
    elif best.axes:
        yield "stations:"
        yield from (f"  {quoted(text)}: {axis}" for text, axis in best.axes.items())
    else:
        yield "# stations:          # which heading has the labels, and of which axis, as {Main: main}"
    yield "readings:"
    for text, options in best.options.items():
        if len(options) == 1:
            (name, at), *_ = options.items()
            said = f", at: {{{', '.join(f'{axis}: {label}' for axis, label in at.items())}}}" if at else ""
            yield f"  {quoted(text)}: {{measurand: {name}{said}}}"
        else:
            near = " or ".join([*options][:MOST_NEAR]) or best.like[text]
            yield f"  # {quoted(text)}:     # {f'{near}?' if near else 'nothing of these packs is called so'}"
