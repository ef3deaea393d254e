"""The cells of a sheet: every place at which a reading may stand, with the text that stands there, empty or not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import product
from typing import NamedTuple, TypeAlias

from specrules.document import Fields, Items, Node, Text
from specrules.formula import Axis
from specrules.pack import Measurand, SignOff, Specification
from specrules.quantity import Refusal, Unit, find_unit
from specrules.sheet.bare_figures import bare_unit
from specrules.sheet.family import Suspect
from specrules.sheet.grid import Grid, Statement
from specrules.sheet.key_labels import KindOfLabels, Kinds
from specrules.sheet.misplaced import AT
from specrules.sheet.reading_shapes import written_cells
from specrules.sheet.sets import listed_axes, set_and_readings
from specrules.sheet.sheet_parts import Reading, Sheet
from specrules.sheet.sheet_reading import RawSheet

Spot: TypeAlias = tuple[str, tuple[str, ...], tuple[str, ...]]
"""What is measured, at which station, at which position there."""


def spot_of(read: Reading | Suspect) -> Spot:
    """The place of a reading."""
    return read.name, read.station, read.position or ()


class Cell(NamedTuple):
    """One place for one figure: what is measured, where, and what stands there (None: nothing does, and no room).

    `position` None: one figure is to stand for the whole station. `unit`: what a bare number means there. `given`: a
    figure stands there already, be it one for many places.
    """

    measurand: Measurand
    station: tuple[str, ...]
    position: tuple[str, ...] | None
    written: Statement | None
    unit: Unit | None
    given: bool

    @property
    def spot(self) -> Spot:
        """What tells it from every other cell of a sheet."""
        return self.measurand.name, self.station, self.position or ()

    @property
    def stands(self) -> tuple[object, ...]:
        """What stands there, wherever in the file."""
        return (self.given, *((self.written.texts, self.written.own) if self.written is not None else ()))

    @property
    def place(self) -> Mapping[str, str]:
        """Axis -> label, of its station and its position."""
        axes = (*self.measurand.at, *self.measurand.positions)
        return dict(zip(axes, (*self.station, *(self.position or ())), strict=False))


WorkStep: TypeAlias = Cell | SignOff
"""What is done next: a place to read, or a question to sign."""


def in_order_of_work(cells: Iterable[Cell], sign_offs: Iterable[SignOff], groups: Sequence[str]) -> list[WorkStep]:
    """The order of the work: under each heading all that one gauge reads, then the next, then what is to be signed."""
    wanted = list(cells)
    gauges: dict[tuple[str, ...], int] = {}
    for each in wanted:
        gauges.setdefault(each.measurand.gauge_classes[:1], len(gauges))
    wanted.sort(key=lambda each: gauges[each.measurand.gauge_classes[:1]])
    headings = {group: number for number, group in enumerate(groups)}
    return sorted([*wanted, *sign_offs], key=lambda step: headings.get(group_of(step), len(headings)))


def group_of(step: WorkStep) -> str:
    """The heading that a step stands under."""
    return step.group if isinstance(step, SignOff) else step.measurand.group


def cells_of_sheet(raw: RawSheet, sheet: Sheet, spec: Specification) -> Iterator[Cell]:
    """The cells of a settled sheet, measurand by measurand in the order of the specification."""
    given = set(map(spot_of, sheet.readings))
    kinds = {axis.name: _kinds(axis, sheet) for axis in spec.axes.values() if axis.kinds}
    listed = listed_axes(spec, sheet.labels, kinds)
    for measurand in spec.measurands.values():
        grid = Grid(measurand.name, measurand.at, measurand.positions, sheet.labels, listed, kinds=kinds)
        unit, nodes = _unit_and_readings(raw.model.readings.get(Text(measurand.name)), measurand, sheet)
        written = (each for node in nodes for each in written_cells(node, grid))
        there = {(each.spots[0][0], each.spots[0][1] or ()): each for each in written}
        for station in product(*(sheet.labels[axis] for axis in measurand.at)):
            alone = (station, ()) in there or (measurand.name, station, ()) in given
            positions = [()] if alone else [*product(*(sheet.labels[axis] for axis in measurand.positions))]
            for position in positions:
                found = (measurand.name, station, position) in given
                yield Cell(measurand, station, position or None, there.get((station, position)), unit, found)


def facts_to_place(spec: Specification, sheet: Sheet, things: Iterable[Measurand | SignOff]) -> list[str]:
    """The facts that nobody states and without which there are no places for what is to be measured, or signed."""
    along = (axis for each in things for axis in (each.axes if isinstance(each, Measurand) else each.at))
    unknown = (spec.axes[axis] for axis in along if not sheet.labels[axis])
    return [*dict.fromkeys(axis.shaped_by or spec.axes[axis.of].shaped_by for axis in unknown)]


def _kinds(axis: Axis, sheet: Sheet) -> Kinds:
    """Each kind of an axis with its labels in this build."""
    labels = sheet.labels[axis.name]
    return {
        kind: KindOfLabels(fact, tuple(label for label in labels if sheet.kind(axis.name, label) == kind), "")
        for kind, fact in axis.count_of.items()
    }


def _unit_and_readings(node: Node | None, measurand: Measurand, sheet: Sheet) -> tuple[Unit | None, list[Node]]:
    """What a bare figure means in the last set of readings, and the readings of each set."""
    unit = bare_unit(measurand.unit, sheet.unit)
    sets = isinstance(node, Items) and any(isinstance(each, Fields) and Text(AT) in each for each in node)
    found = list[Node]()
    for each in node if sets and isinstance(node, Items) else [] if node is None else [node]:
        if not isinstance(each, Fields):
            found.append(each)
            continue
        said = each.get(Text("unit"))
        stated = find_unit(said, dimension=measurand.unit.dimension) if isinstance(said, Text) and said else None
        unit = unit if stated is None or isinstance(stated, Refusal) else stated
        found.append(each.get(Text(AT), set_and_readings(each)[1]))
    return unit, found
