"""The figures of a table against a sheet: what goes in, what is there already, what the sheet has otherwise; and the
sheet's text with all of them, every other character as it was.

The sheet as it would be is settled, and everything that it says besides the figures has to be what it said.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Sequence
from typing import NamedTuple

from specrules.document import Fault, shown
from specrules.document.replacing import BARE
from specrules.document.source import quoted
from specrules.importing.figures_read import FigureRead
from specrules.importing.placing import PlacedFigure
from specrules.importing.whole_stations import empty_station
from specrules.pack import Specification
from specrules.quantity import Bracket, Exact, read_written
from specrules.sheet import Sheet
from specrules.sheet.cells import Cell, Spot, spot_of
from specrules.sheet.entering import NOTHING, with_figures, with_room, with_superseded
from specrules.sheet.faults import listed
from specrules.sheet.grid import is_open
from specrules.sheet.new_sheet import rows_of
from specrules.sheet.sheet_reading import RawSheet
from specrules.vocabulary import Code


class Entry(NamedTuple):
    """One figure that goes into a cell of a sheet, or the repeats of one, as they are written there. `before`: what
    stands there otherwise. `instead`: where the empty braces stand that it comes in place of, one figure for a whole
    station."""

    placed: PlacedFigure
    cell: Cell
    texts: tuple[str, ...]
    before: str = ""
    instead: tuple[int, int] | None = None

    @property
    def text(self) -> str:
        """As the sheet says it when it is read."""
        return ", ".join(self.texts)


class AgainstSheet(NamedTuple):
    """What goes into a sheet, what stands there already, what the sheet has otherwise, and what it has no place for."""

    entered: tuple[Entry, ...]
    already: tuple[PlacedFigure, ...]
    otherwise: tuple[Entry, ...]
    faults: tuple[Fault, ...]


def roomy(
    source: str, file: str, placed: Iterable[PlacedFigure], cells: Sequence[Cell], sheet: Sheet, spec: Specification
) -> str:
    """The sheet's text with empty cells for every measurand that it does not name and that a figure is of."""
    named = {cell.measurand.name for cell in cells if cell.written is not None or cell.given}
    wanted = {each.measurand.name: each.measurand for each in placed if each.measurand.name not in named}
    for measurand in wanted.values():
        source = with_room(source, file, rows_of(spec.measurands[measurand.name], sheet, spec)) or source
    return source


def entries(placed: Sequence[PlacedFigure], cells: Sequence[Cell], source: str, raw: RawSheet) -> AgainstSheet:
    """Every figure of a table against the cells of a sheet that has room for it; `raw`: the sheet of that `source`."""
    by_spot = {cell.spot: cell for cell in cells}
    of_station = {cell.spot[:2]: cell for cell in cells}
    apart = {each.spot[:2] for each in placed if each.spot[2]}  # stations of which positions are read one by one
    entered, already, otherwise, faults = list[Entry](), list[PlacedFigure](), list[Entry](), list[Fault]()
    for each in placed:
        cell, instead = by_spot.get(each.spot), None
        if cell is None and not each.spot[2] and each.spot[:2] in of_station and each.spot[:2] not in apart:
            instead = empty_station(source, raw, each.spot)
            cell = of_station[each.spot[:2]]._replace(position=None, written=None) if instead else None
        if cell is None:
            faults.append(_no_place(each, of_station))
            continue
        found = [(one, one.written_in(cell.unit, each.measurand.unit.dimension)) for one in each.figures]
        texts = tuple(text for _, text in found if text is not None)
        if len(texts) < len(found):
            first = next(one for one, text in found if text is None)
            said = f"{shown(first.text)} would not say the same in the sheet; write it in by hand"
            faults.append(each.cell.fault(Code.AMBIGUOUS, said, "", each.measurand.name))
        elif instead is not None and not each.others:
            entered.append(Entry(each, cell, texts, instead=instead))
        elif cell.written is None:
            has = "one figure for several places" if cell.given else "no room for it"
            said = f"the sheet has {has}; write it in by hand"
            faults.append(each.cell.fault(Code.MISPLACED, said, "", each.measurand.name))
        elif all(map(is_open, cell.written.texts)):  # of a later set, where an earlier one has a figure
            entered.append(Entry(each, cell, texts))
        elif _same(cell, each):
            already.append(each)
        else:
            otherwise.append(Entry(each, cell, texts, ", ".join(cell.written.texts)))
    return AgainstSheet(tuple(entered), tuple(already), tuple(otherwise), tuple(faults))


def _same(cell: Cell, placed: PlacedFigure) -> bool:
    """Whether the figures of a cell are the same numbers, to the same place, whatever they are written in."""
    texts = () if cell.written is None else cell.written.texts
    pairs = zip(placed.figures, texts, strict=False)
    return len(texts) == len(placed.figures) and all(_says(text, one, cell, placed) for one, text in pairs)


def _says(text: str, figure: FigureRead, cell: Cell, placed: PlacedFigure) -> bool:
    read, other = figure.read, read_written(text, unit=cell.unit, dimension=placed.measurand.unit.dimension)
    if isinstance(read, Exact) and isinstance(other, Exact):
        return read == other._replace(unit=read.unit, number=read.number)
    return isinstance(read, Bracket) and isinstance(other, Bracket) and read == other._replace(unit=read.unit)


def _no_place(placed: PlacedFigure, stations: Container[tuple[str, tuple[str, ...]]]) -> Fault:
    measurand, (name, station, position) = placed.measurand, placed.spot
    if (name, station) not in stations:
        said, write = f"there is no such place of {name} in this build", ""
    elif position:
        said, write = f"the sheet has one figure of {name} for the whole of this station", ""
    else:
        said = f"one figure for the whole station, of which something is read at each {listed(measurand.positions)}"
        write = "at: in the map, or the figure into the sheet by hand"
    return placed.cell.fault(Code.MISPLACED, said, write, name)


def with_all(source: str, wanted: Iterable[Entry]) -> str | None:
    """The sheet's text with every one of these figures in its cell, and beside it what the sheet has otherwise; None
    where that cannot be."""
    for each in sorted(wanted, key=_start, reverse=True):
        made: str | None
        if each.instead is not None:
            start, end = each.instead
            made = f"{source[:start]}{each.text if BARE.fullmatch(each.text) else quoted(each.text)}{source[end:]}"
        elif each.before:
            made = with_superseded(source, each.cell, each.texts, NOTHING)
        else:
            made = with_figures(source, each.cell, each.texts)
        if made is None:
            return None
        source = made
    return source


def _start(entry: Entry) -> int:
    """Where in its sheet's text it goes; 0 where that is nowhere, which `with_all` finds."""
    if entry.instead is not None:
        return entry.instead[0]
    return entry.cell.written.texts[0].span[0] if entry.cell.written is not None else 0


def changes_only(before: Sheet, after: Sheet, wanted: Sequence[Entry]) -> bool:
    """Whether a sheet says what it said, in its history where one of these figures came in its stead, and no more."""
    spots = {each.placed.spot: each.text for each in wanted}
    new = {spot_of(each): each.text for each in after.readings if spot_of(each) in spots}
    kept = {(spot_of(each), each.text) for each in (*before.readings, *before.history) if spot_of(each) in spots}
    kept -= {(spot_of(each), each.text) for each in after.history}
    return (
        new == spots and not kept and sorted(map(repr, _said(before, spots))) == sorted(map(repr, _said(after, spots)))
    )


def _said(sheet: Sheet, but: Iterable[Spot]) -> Iterator[tuple[object, ...]]:
    """What a sheet says but for the readings at some spots, wherever it stands in its file."""
    left = frozenset(but)
    for each in (*sheet.readings, *sheet.history):
        if spot_of(each) not in left:
            yield spot_of(each), each.text, each.gauge, each.taken, each.confirmed
    yield "", sheet.title, tuple(sheet.build.items()), sheet.packs, sheet.unit, sheet.decision, sheet.scope, sheet.until
    for name, values in sheet.facts.items():
        yield "fact", name, tuple((each.station, each.value, each.confirmed) for each in values)
    yield "rest", *map(tuple, (sheet.gauges, sheet.signed, sheet.limits)), len(sheet.work_done), len(sheet.concessions)
