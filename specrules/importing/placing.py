"""A table's cells to readings at their places, by an import map; whatever is not surely one is refused at its address.

In all layouts a figure's place is what its heading says and what the labels beside it say, together. A table whose
columns are stations is read turned, a block as a small table of its own under its title.

A line of which any cell is not sure has no reading; a heading or place that comes twice is read from neither. A unit is
the cell's, the heading's, the map's or the command's; a cell and its heading that name two are refused.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import chain
from typing import NamedTuple

from specrules.document import Fault, Text, shown
from specrules.importing.figures_read import FigureRead, figure_of
from specrules.importing.heading_units import SaidUnits, units_of
from specrules.importing.import_map import BY_BLOCK, BY_COLUMN, Block
from specrules.importing.map_reading import Fitted, Target
from specrules.importing.table_cells import CellTable, TableCell, joined
from specrules.importing.written_labels import label_meant, plain
from specrules.pack import Measurand
from specrules.quantity import Exact, nearest
from specrules.sheet import Sheet
from specrules.sheet.cells import Spot
from specrules.sheet.faults import listed
from specrules.vocabulary import Code

Row = Sequence[TableCell]


class PlacedFigure(NamedTuple):
    """One figure of a table: where it stands there, and of what place of the build it is: of no position where it is
    for the whole station. `repeat`: which of several of the same place, from 1, or 0; `others`: those after the first.
    """

    cell: TableCell
    measurand: Measurand
    spot: Spot
    figure: FigureRead
    repeat: int = 0
    others: tuple[PlacedFigure, ...] = ()

    @property
    def figures(self) -> tuple[FigureRead, ...]:
        """It, and what was read again at the same place."""
        return (self.figure, *(each.figure for each in self.others))


class Placing(NamedTuple):
    """What came of a table: its readings, what is refused, and the headings that nobody asked for."""

    placed: tuple[PlacedFigure, ...]
    faults: tuple[Fault, ...]
    passed: tuple[TableCell, ...]


class _Column(NamedTuple):
    """What the figures under one heading are."""

    target: Target
    units: SaidUnits


def place(table: CellTable, fitted: Fitted, sheet: Sheet) -> Placing:
    """Every figure of a table at its place. Figures of one place that stand twice are both refused."""
    reader = _Reader(table.turned if fitted.map.layout == BY_COLUMN else table, fitted, sheet)
    reader.read()
    return reader.settled()


class _Reader:
    def __init__(self, table: CellTable, fitted: Fitted, sheet: Sheet) -> None:
        self.table, self.fitted, self.map, self.sheet = table, fitted, fitted.map, sheet
        self.found: list[PlacedFigure] = []
        self.faults: list[Fault] = []
        self.passed: list[TableCell] = []
        self.left_out = frozenset(map(plain, self.map.left_out))
        self.targets = {plain(heading): target for heading, target in fitted.targets.items()}
        self.met: dict[str, TableCell] = {}

    def read(self) -> None:
        if self.map.layout == BY_BLOCK and self.map.block is not None:
            self.blocks(self.map.block)
        else:
            self.lines()
        missing = [heading for heading in chain(self.map.stations, self.map.readings) if plain(heading) not in self.met]
        for heading in missing:
            self.faults.append(self.lacking(heading))

    def lacking(self, heading: Text) -> Fault:
        there = [cell.text for cell in self.passed]
        where = f' of sheet "{self.table.name}"' if self.table.name else ""
        first = next((cell.text for row in self.table.rows for cell in row if not cell.empty), "")
        said = f"no heading{where} in {self.table.file} is {shown(heading)}"
        if len(self.table.rows[:1]) and len(self.table.rows[0]) == 1 and (";" in first or "\t" in first):
            return Fault(
                heading.place,
                "",
                Code.UNKNOWN_NAME,
                said,
                f"delimiter: {'semicolon' if ';' in first else 'tab'}",
                "file",
            )
        return Fault(heading.place, "", Code.UNKNOWN_NAME, said, nearest(heading, there) or "", "file")

    def column(self, cell: TableCell, target: Target) -> _Column | None:
        units = units_of(cell, target, self.fitted.units)
        if isinstance(units, Fault):
            self.faults.append(units)
            return None
        return _Column(target, units)

    # --- a row a station, and a column a station once it is turned ------------------------------------------------

    def lines(self) -> None:
        deep, rows = self.map.heading_lines, self.table.rows
        stations = {plain(heading): str(axis) for heading, axis in self.map.stations.items()}
        labels: dict[int, str] = {}
        columns: dict[int, _Column | None] = {}
        bare = set[int]()
        headings = [joined(cells) for cells in zip(*rows[:deep], strict=True)]
        words = [plain(heading.text) for heading in headings]
        for number, (heading, word) in enumerate(zip(headings, words, strict=True)):
            if word in stations or word in self.targets:
                before = self.met.setdefault(word, heading)
                if words.count(word) > 1:  # none of them is read
                    columns[number] = None
                    if before is not heading:
                        said = f"{shown(heading.text)} stands in {before.address} too, and one of them is meant"
                        self.faults.append(heading.fault(Code.DEFINED_TWICE, f"the heading {said}"))
                elif word in stations:
                    labels[number] = stations[word]
                else:
                    columns[number] = self.column(heading, self.targets[word])
            elif not word:
                bare.add(number)
            elif word not in self.left_out:
                self.passed.append(heading)
        if len(labels) < len(stations):
            return  # without a heading of labels nobody knows of which station a figure is
        for row in rows[deep:]:
            if any(not row[number].empty for number in columns):
                self.line(row, labels, columns, bare)

    def line(self, row: Row, labels: Mapping[int, str], columns: Mapping[int, _Column | None], bare: set[int]) -> None:
        if any(plain(row[number].text) in self.left_out for number in labels):
            return
        for number in bare:
            if not row[number].empty:
                said = "stands under no heading, so nothing in its line is sure"
                self.faults.append(row[number].fault(Code.MISPLACED, f"{shown(row[number].text)} {said}"))
                return
        place: dict[str, str] = {}
        for number, axis in labels.items():
            label = self.label(row[number], axis)
            if label is None:
                return
            if place.setdefault(axis, label) != label:
                said = f"the line says two labels of {axis}, {place[axis]} and {label}"
                self.faults.append(row[number].fault(Code.CONTRADICTION, said))
                return
        for number, column in columns.items():
            if column is not None:
                self.figure(row[number], column, place)

    # --- a block a part ------------------------------------------------------------------------------------------

    def blocks(self, block: Block) -> None:
        """What is not sure ends a block: until the next title nothing more is read."""
        title: str | None = None
        across: dict[int, str] = {}
        seen = set[str]()
        for first, *rest in self.table.rows:
            word = plain(first.text)
            filled = any(not cell.empty for cell in rest)
            if word in self.targets:
                self.met.setdefault(word, first)
                if word in seen:
                    said = f"{shown(first.text)} stands under its title already, so a title may be missing above it"
                    self.faults.append(first.fault(Code.DEFINED_TWICE, said))
                    title = None
                elif title is not None:
                    self.block_line(first, rest, block, title, across)
                elif filled:
                    said = f"{shown(first.text)} stands in no block: above it is no title that says the {block.titles}"
                    self.faults.append(first.fault(Code.STATION_NOT_NAMED, said))
                seen.add(word)
            elif first.empty:
                if filled:
                    self.faults.append(first.fault(Code.MISPLACED, "something stands here beside no heading or title"))
                    title = None
            elif word not in self.left_out:
                title, beside = self.title(first, rest, block)
                across = self.beside_title(beside, block) if title is not None else {}
                seen.clear()
                if title is None:
                    self.unread_title(first, block)

    def title(self, first: TableCell, rest: Row, block: Block) -> tuple[str | None, Row]:
        """The label that a title says, alone or with the cell beside it, and what else stands in its row."""
        labels, said = self.sheet.labels[block.titles], self._said(block.titles)
        alone = label_meant(first.text, block.titles, labels, said)
        if alone is not None or not rest:
            return alone, rest
        both = label_meant(f"{first.text.removesuffix(':')} {rest[0].text}", block.titles, labels, said)
        return both, (rest[0]._replace(text="", refusal=None), *rest[1:])

    def unread_title(self, first: TableCell, block: Block) -> None:
        said = f"{shown(first.text)} is neither a heading of the map nor a label of {block.titles}"
        there = listed(self.sheet.labels[block.titles])
        self.faults.append(
            first.fault(Code.UNKNOWN_LABEL, f"{said}; there are {there}", "it under left out: or labels:")
        )

    def beside_title(self, rest: Row, block: Block) -> dict[int, str]:
        made: dict[int, str] = {}
        for number, cell in enumerate(rest):
            if cell.empty:
                continue
            if block.across is None:
                self.faults.append(
                    cell.fault(
                        Code.MISPLACED, f"{shown(cell.text)} stands beside a title", "across: in the map's block"
                    )
                )
            elif (label := self.label(cell, block.across)) is not None:
                made[number] = label
        return made

    def block_line(self, first: TableCell, rest: Row, block: Block, title: str, across: Mapping[int, str]) -> None:
        column = self.column(first, self.targets[plain(first.text)])
        if column is None:
            return
        filled = [number for number, cell in enumerate(rest) if not cell.empty]
        for number in filled:
            if block.across is None and number != filled[0]:
                said = f"{shown(rest[number].text)} is one figure more than {shown(first.text)} can have"
                self.faults.append(rest[number].fault(Code.SEVERAL_NUMBERS, said, "across: in the map's block"))
            elif block.across is not None and number not in across:
                said = f"{shown(rest[number].text)} stands under no label of {block.across}"
                self.faults.append(rest[number].fault(Code.STATION_NOT_NAMED, said))
            else:
                place = {str(block.titles): title}
                if block.across is not None:
                    place[str(block.across)] = across[number]
                self.figure(rest[number], column, place)

    # --- all layouts ---------------------------------------------------------------------------------------------

    def _said(self, axis: str) -> Mapping[str, str]:
        return {str(text): str(label) for text, label in self.map.labels.get(Text(axis), {}).items()}

    def label(self, cell: TableCell, axis: str) -> str | None:
        """The label that a cell says; None where it says none, which is told."""
        labels = self.sheet.labels[axis]
        found = label_meant(cell.text, axis, labels, self._said(axis))
        if found is None:
            there = f"there are {listed(labels)}"
            said = (
                f"{shown(cell.text)} is no label of {axis}; {there}"
                if cell.text
                else f"has no label of {axis}; {there}"
            )
            write = "it under left out: or labels:" if cell.text else ""
            self.faults.append(cell.fault(Code.UNKNOWN_LABEL, said, write))
        return found

    def figure(self, cell: TableCell, column: _Column, place: Mapping[str, str]) -> None:
        if cell.empty:
            return
        figure = figure_of(cell, column.target, column.units, self.map.decimal == "comma")
        if isinstance(figure, Fault):
            self.faults.append(figure)
        elif figure is not None:
            measurand = column.target.measurand
            known = {**column.target.at, **place}
            station, position = (self.labels_of(axes, known) for axes in (measurand.at, measurand.positions))
            spot = (measurand.name, station, position)
            self.found.append(PlacedFigure(cell, measurand, spot, figure, column.target.repeat))

    def labels_of(self, axes: Sequence[str], known: Mapping[str, str]) -> tuple[str, ...]:
        """The labels on these axes; none where those of several positions are not said: the whole station."""
        if any(axis not in known and len(self.sheet.labels[axis]) != 1 for axis in axes):
            return ()
        return tuple(known[axis] if axis in known else self.sheet.labels[axis][0] for axis in axes)

    def settled(self) -> Placing:
        by_spot: dict[Spot, list[PlacedFigure]] = {}
        for each in self.found:
            by_spot.setdefault(each.spot, []).append(each)
        placed = []
        for several in by_spot.values():
            numbers = {each.repeat for each in several}
            if several[1:] and (len(numbers) < len(several) or 0 in numbers):
                self.faults += _twice(several)
            elif ranges := [each for each in several if several[1:] and not isinstance(each.figure.read, Exact)]:
                self.faults += map(_no_repeat, ranges)
            else:
                first, *others = sorted(several, key=lambda each: each.repeat)
                placed.append(first._replace(others=tuple(others)))
        return Placing(tuple(placed), tuple(dict.fromkeys(self.faults)), tuple(self.passed))


def _twice(several: Sequence[PlacedFigure]) -> Iterator[Fault]:
    """The faults of figures that are all of one place."""
    first, second = several[0], several[1]
    for each in several:
        other = second if each is first else first
        said = f"{shown(each.cell.text)} is of the same place as the figure at {other.cell.where}"
        one_line = 0 < each.cell.place.line == other.cell.place.line
        write = "repeat: 1 and repeat: 2 in the map" if one_line else ""
        yield each.cell.fault(Code.DEFINED_TWICE, said, write, each.measurand.name)


def _no_repeat(placed: PlacedFigure) -> Fault:
    said = f"{shown(placed.cell.text)} is no one figure, and what is read again is one"
    return placed.cell.fault(Code.NOT_ONE_FIGURE, said, "", placed.measurand.name)
