"""A study's file to a study: its readings, and that every operator read every part equally often."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from itertools import islice
from typing import NamedTuple

from specrules.document import Fault, Fields, Items, Node, Text, read, shown
from specrules.quantity import Bracket, Exact, Open, Refusal, Unit, read_written
from specrules.study.fields import Taker, placed
from specrules.study.parts import Study

HEADER = "gauge-study/1"
KEYS = ("specrules", "gauge", "unit", "date", "readings")
GAUGE_KEYS = ("name", "class")

MOST_FAULTS = 100
MOST_LISTED = 8

_STATED = re.compile(r"\s*(?:±|\+/-|\+-)")

Grid = Mapping[Text, Mapping[Text, Items]]


class Number(NamedTuple):
    """A reading and the size of its last written place, both in the study's unit, exact."""

    value: Fraction
    step: Fraction


def read_study(source: bytes | str, file: str) -> tuple[Study | None, tuple[Fault, ...]]:
    """A study's file. Never raises for any input; every fault is told in one run, and there is no study with any."""
    tree, faults = read(source, file, kind="file")
    if tree is None:
        return None, faults
    taker = Taker()
    study = _study(tree, taker)
    every = tuple(sorted(dict.fromkeys((*faults, *taker.faults))))[:MOST_FAULTS]
    return (None if every else study), every


def _study(tree: Fields, take: Taker) -> Study | None:
    if not take.headed(tree, HEADER, "gauge study"):
        return None
    take.known(tree, KEYS)
    gauge = take.get(tree, "gauge", Fields, "its name and class")
    name = kind = None
    if gauge is not None:
        take.known(gauge, GAUGE_KEYS, "gauge")
        name = take.get(gauge, "name", Text, "as sheets call it", "gauge ")
        kind = take.get(gauge, "class", Text, "as packs name it", "gauge ")
    unit = take.unit(take.get(tree, "unit", Text, "what a bare number means, such as in or mm"))
    if unit is not None and unit.dimension.point:
        take.fault(tree.place, "unit", "a study of temperatures on a scale is not taken; give differences")
    day = take.day(tree.get(Text("date")))
    grid = _grid(take.get(tree, "readings", Fields, "lists of readings by operator, then by part"), take)
    numbers = {
        who: {part: _numbers(cell, f"{who} {part}", unit, take) for part, cell in row.items()}
        for who, row in grid.items()
    }
    if take.faults or name is None or kind is None or unit is None:
        return None
    parts = tuple(next(iter(grid.values())))
    return Study(
        gauge=str(name),
        gauge_class=str(kind),
        unit=unit,
        on=day,
        operators=tuple(map(str, grid)),
        parts=tuple(map(str, parts)),
        readings=tuple(tuple(tuple(each.value for each in row[part]) for part in parts) for row in numbers.values()),
        step=min(each.step for row in numbers.values() for cell in row.values() for each in cell),
    )


def _grid(readings: Fields | None, take: Taker) -> Grid:
    """Lists of written readings by operator and part; whatever has another shape is told and left out."""
    before = len(take.faults)
    made: dict[Text, dict[Text, Items]] = {}
    for who, row in (readings or {}).items():
        fields = take.of_kind(row, Fields, f"readings {who}")
        cells = {part: take.of_kind(cell, Items, f"{who} {part}") for part, cell in (fields or {}).items()}
        made[who] = {part: cell for part, cell in cells.items() if cell is not None}
    if readings is not None and len(take.faults) == before:
        _balance(made, take)
    return made


def _balance(grid: Grid, take: Taker) -> None:
    """Every operator, every part, equally often, and at least twice: otherwise what is missing, and where."""
    parts = dict.fromkeys(part for row in grid.values() for part in row)
    for who, row in islice((each for each in grid.items() if len(each[1]) < len(parts)), MOST_FAULTS):
        missing = _listed([str(part) for part in parts if part not in row])
        take.fault(
            who.place, "readings", f"operator {who} has no readings of {missing}: every operator reads every part"
        )
    cells = [(who, part, cell) for who, row in grid.items() for part, cell in row.items()]
    counts = Counter(len(cell) for _, _, cell in cells)
    usual = max(counts, key=lambda count: (counts[count], count))
    if usual == 1:
        place = cells[0][2].place
        take.fault(place, "readings", "a single reading of each part cannot show repeatability; read each part again")
    for who, part, cell in cells:
        if len(cell) != usual:
            said = f"{len(cell)} reading{'s' * (len(cell) != 1)} here and {usual} elsewhere: as many everywhere"
            take.fault(cell.place, f"{who} {part}", said)


def _numbers(cell: Iterable[Node], subject: str, unit: Unit | None, take: Taker) -> list[Number]:
    made = []
    for node in cell:
        text = node if isinstance(node, Text) else take.of_kind(node, Text, subject)
        if text is None or unit is None:
            continue
        written = read_written(text, unit=unit, dimension=unit.dimension)
        match written:
            case Exact(U=None):
                base = Fraction(written.number) * written.unit.factor + written.unit.offset
                made.append(Number((base - unit.offset) / unit.factor, Fraction(written.place_value) / unit.factor))
            case Exact():
                said = f"{shown(text)} states its own uncertainty, which is what a study finds out"
                take.fault(text.place, subject, said, _STATED.split(text)[0])
            case Bracket():
                take.fault(text.place, subject, f"{shown(text)} is a range; a study needs single readings")
            case Open():
                take.fault(text.place, subject, "a reading is missing here; a study needs every one")
            case Refusal():
                take.fault(placed(text, written.at), subject, f"{shown(text)} {written.said}", written.write)
    return made


def _listed(names: Sequence[str]) -> str:
    if len(names) > MOST_LISTED:
        return f"parts {', '.join(names[:MOST_LISTED])} and {len(names) - MOST_LISTED} more"
    return f"part {names[0]}" if len(names) == 1 else f"parts {', '.join(names[:-1])} and {names[-1]}"
