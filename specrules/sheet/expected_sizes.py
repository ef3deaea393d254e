"""What a reading is likely to be before it is taken: as the sheet states it, as other places read, as is usual."""

from __future__ import annotations

from collections.abc import Collection
from decimal import Decimal
from typing import NamedTuple

from specrules.pack import Specification
from specrules.quantity import Bracket, Unit, fixed
from specrules.sheet.cells import Cell, Spot
from specrules.sheet.reading_slips import few_digits
from specrules.sheet.sheet_parts import Reading, Sheet


class ExpectedSize(NamedTuple):
    """What is known of a size, as texts in the unit of a bare figure; "" and () where nothing is.

    `stated`: when new. `elsewhere`: the least and the greatest that other stations read. `usual`: what the packs call
    usual.
    """

    stated: str = ""
    elsewhere: tuple[str, ...] = ()
    usual: str = ""


def expected_size(cell: Cell, sheet: Sheet, spec: Specification, stale: Collection[Spot] = ()) -> ExpectedSize:
    """What is known of a place that is to be read. `stale`: places whose readings say nothing any more."""
    measurand, unit = cell.measurand, cell.unit or cell.measurand.unit
    new = measurand.new
    when_new = {fact.station: fact.text for fact in sheet.facts.get(new.fact, ())} if new is not None else {}
    labels = tuple(cell.place.get(axis, "") for axis in spec.facts[new.fact].at) if new is not None else ()
    stated = when_new.get(labels, when_new.get((), ""))
    read = [each for each in sheet.readings if each.name == measurand.name and each.value is not None]
    others = [
        each
        for each in read
        if each.station != cell.station and (each.name, each.station, each.position or ()) not in stale
    ]
    return ExpectedSize(stated, _ends(others, unit), usual_size(measurand.usual, unit))


def usual_size(usual: Bracket | None, unit: Unit) -> str:
    """What packs call usual, in few digits of a unit and without it: `1.5 to 4.5`; "" where they say nothing."""
    low, high = ("" if end is None else few_digits(unit.from_base(end)) for end in usual[:2]) if usual else ("", "")
    return f"{low} to {high}" if low and high else f"{low} or more" if low else f"{high} or less" if high else ""


def _ends(readings: list[Reading], unit: Unit) -> tuple[str, ...]:
    if not readings:
        return ()
    finest = min(unit.difference_from_base(each.place_value.copy_abs()) for each in readings)
    places = max(-finest.adjusted(), 0)
    values = [unit.from_base(each.value or Decimal(0)) for each in readings]
    return tuple(dict.fromkeys(fixed(value, places) for value in (min(values), max(values))))
