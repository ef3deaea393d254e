"""An import map's file to its model, and the model held against a sheet and its packs: every name of it is known."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from specrules.document import Fault, Fields, Text, read, shown
from specrules.importing.import_map import (
    BY_BLOCK,
    HEADER,
    Block,
    ImportMap,
    MappedReading,
)
from specrules.importing.written_labels import plain
from specrules.pack import Measurand, Specification
from specrules.quantity import Dimension, Unit
from specrules.sheet import Sheet
from specrules.sheet.faults import listed, unknown
from specrules.validation import checked, headed
from specrules.vocabulary import Code


class Target(NamedTuple):
    """What the figures under one heading are: of which measurand, where by the heading alone, in which unit if said.

    `repeat`: which of several readings of the same place they are, from 1; 0 where there is only one.
    """

    measurand: Measurand
    at: Mapping[str, str]
    unit: Unit | None
    repeat: int = 0


class Fitted(NamedTuple):
    """An import map of which every name is known: what stands under each heading, and the units of bare figures."""

    map: ImportMap
    targets: Mapping[Text, Target]
    units: Mapping[Dimension, Unit]


def read_map(source: bytes | str, file: str) -> tuple[ImportMap | None, tuple[Fault, ...]]:
    """An import map's file. Never raises for any input; every fault of its shape is told in one run."""
    tree, faults = read(source, file, kind="file")
    if tree is None:
        return None, faults
    if (head := headed(tree, HEADER, "import map", "file")) is not None:
        return None, (head,)
    model, wrong = checked(ImportMap, tree, "file")
    found = [*faults, *wrong]
    if model is not None:
        found += _disagreeing(model, tree)
    return (None if found else model), tuple(sorted(dict.fromkeys(found)))


def _disagreeing(model: ImportMap, tree: Fields) -> Iterator[Fault]:
    """Keys that do not go together."""
    blocks = model.layout == BY_BLOCK
    if blocks and model.block is None:
        said = "blocks need the axis of their titles"
        yield Fault(model.layout.place, "layout", Code.MISSING_KEY, said, "block: {titles: AXIS}", "file")
    if blocks and model.stations:
        key = next(each for each in tree if each == "stations")
        said = "stations are headings of labels, and a block says its part in its title"
        yield Fault(key.place, "stations", Code.KEYS_DISAGREE, said, "block: {titles: AXIS}", "file")
    if not blocks and model.block is not None:
        said = "block goes with the layout of blocks alone"
        yield Fault(model.block.place, "block", Code.KEYS_DISAGREE, said, f"layout: {BY_BLOCK}", "file")
    if blocks and model.heading_lines != 1:
        yield Fault(
            model.layout.place, "heading lines", Code.KEYS_DISAGREE, "a block has one line of headings", "", "file"
        )
    known: dict[str, Text] = {}
    for heading in (*model.stations, *model.readings):
        if (before := known.setdefault(plain(heading), heading)) is not heading:
            said = f"{shown(heading)} is the heading of line {before.place.line} again"
            yield Fault(heading.place, "", Code.DEFINED_TWICE, said, "", "file")
    dimensions = [unit.dimension for unit in model.unit]
    if len(set(dimensions)) < len(dimensions):
        key = next(each for each in tree if each == "unit")
        said = "two units of one kind of quantity; a heading may have its own"
        yield Fault(key.place, "unit", Code.CONTRADICTION, said, "", "file")


def fitted(
    model: ImportMap, spec: Specification, sheet: Sheet, asked: tuple[Unit, ...] = ()
) -> tuple[Fitted | None, tuple[Fault, ...]]:
    """The map held against a sheet: measurands, axes and labels that there are. `asked`: units said on the command
    line, for what the map says none of."""
    faults: list[Fault] = []
    axes = {axis for measurand in spec.measurands.values() for axis in measurand.axes}

    def wrong(word: Text, what: str, choices: object, subject: str) -> None:
        faults.append(unknown(word, what, list(choices), subject, len(faults))._replace(kind="file"))  # type: ignore[call-overload]

    by_labels = [*model.stations.values(), *_of_block(model.block)]
    for axis in dict.fromkeys((*by_labels, *model.labels)):
        if axis not in axes:
            wrong(axis, "axis of these packs", sorted(axes), "axis")
        elif not sheet.labels[axis]:
            fact = spec.axes[axis].shaped_by or spec.axes[spec.axes[axis].of].shaped_by
            said = f"nothing says which labels {axis} has in this build"
            faults.append(Fault(axis.place, "axis", Code.UNKNOWN_LABEL, said, f"{fact}: in the sheet's facts", "file"))
    for axis, meanings in model.labels.items():
        for label in meanings.values() if axis in axes else ():
            if label not in sheet.labels[axis]:
                wrong(label, f"label of {axis} in this sheet", sheet.labels[axis], f"labels {axis}")
    targets = {}
    for heading, entry in model.readings.items():
        measurand = spec.measurands.get(entry.measurand)
        if measurand is None:
            wrong(entry.measurand, "measurand of these packs", spec.measurands, str(heading))
            continue
        faults += _misplaced(heading, entry, measurand, by_labels, sheet)
        if entry.unit is not None and entry.unit.dimension != measurand.unit.dimension:
            said = f"{entry.unit.symbol} is {entry.unit.dimension.words()}, and {measurand.name} is "
            said += measurand.unit.dimension.words()
            faults.append(Fault(heading.place, str(heading), Code.WRONG_UNIT, said, "", "file"))
        at = {str(axis): str(label) for axis, label in entry.at.items()}
        targets[heading] = Target(measurand, at, entry.unit, entry.repeat)
    if faults:
        return None, tuple(sorted(faults))
    units = {unit.dimension: unit for unit in (*asked, *model.unit)}
    return Fitted(model, targets, units), ()


def _of_block(block: Block | None) -> list[Text]:
    return [] if block is None else [block.titles, *([block.across] if block.across is not None else [])]


def _misplaced(
    heading: Text, entry: MappedReading, measurand: Measurand, by_labels: list[Text], sheet: Sheet
) -> Iterator[Fault]:
    """What a heading and the labels beside it say too much or too little of where its figures belong."""

    def wrong(at: Text, code: Code, said: str, write: str = "") -> Fault:
        return Fault(at.place, str(heading), code, said, write, "file")

    for axis, label in entry.at.items():
        if axis not in measurand.axes:
            lies = f"; it lies along {listed(measurand.axes)}" if measurand.axes else ""
            yield wrong(axis, Code.WRONG_AXIS, f"{measurand.name} does not lie along {shown(axis)}{lies}")
        elif axis in by_labels:
            yield wrong(axis, Code.CONTRADICTION, f"the table's own labels say the {axis}; leave it out here")
        elif label not in sheet.labels[axis]:
            said = f"{shown(label)} is no label of {axis} in this sheet; there are {listed(sheet.labels[axis])}"
            yield wrong(label, Code.UNKNOWN_LABEL, said)
    for axis in by_labels:
        if axis not in measurand.axes:
            said = f"the table has labels of {axis}, which {measurand.name} does not lie along"
            yield wrong(heading, Code.WRONG_AXIS, said, "another map for this heading")
    lacking = [
        axis
        for axis in measurand.axes
        if axis not in entry.at and axis not in by_labels and len(sheet.labels[axis]) != 1
    ]
    whole = set(lacking) == {axis for axis in measurand.positions if len(sheet.labels[axis]) != 1}
    if lacking and not whole:
        said = f"nothing says the {listed(lacking)} of these figures"
        yield wrong(heading, Code.STATION_NOT_NAMED, said, f"at: {{{', '.join(f'{axis}: ...' for axis in lacking)}}}")
