"""New readings for the same question: each given figure moved by whole steps that a seed picks."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal
from hashlib import sha256
from typing import NamedTuple

from specrules.pack import Exercise, Specification
from specrules.quantity import CONTEXT, NO_UNIT, Exact, Unit, read_written
from specrules.sheet import FactValue, Reading, Sheet
from specrules.sheet.bare_figures import bare_unit

_LEADING = re.compile(r"([+-]?(?:\d+\.?\d*|\.\d+))((?!\s*[-/\d])(?!.*(?:\(|\.\.|,)).*)")
"""One figure, and what stands behind it: a unit, an uncertainty. No fraction, no range, no second column."""


class Moved(NamedTuple):
    """A written figure after a move: its new text, and how far it went, base units."""

    text: str
    by: Decimal


def varied(sheet: Sheet, exercise: Exercise, spec: Specification, seed: int, draw: int) -> Sheet:
    """The sheet with new figures. The same seed and draw give the same ones, wherever they are drawn."""

    def offset(name: str, figure: object) -> Decimal:
        moves = Decimal(0)
        for number, vary in enumerate(exercise.vary):
            if name in vary.names:
                what = "" if vary.together else f"{name} {figure}"
                moves = CONTEXT.add(moves, vary.by * _pick(f"{seed}/{draw}/{number}/{what}", vary.steps))
        return moves

    readings = tuple(_reading(each, offset(each.name, each.statement)) for each in sheet.readings)
    facts = {
        name: tuple(_fact(each, unit_of(each, sheet, spec), offset(name, each.station)) for each in values)
        for name, values in sheet.facts.items()
    }
    return sheet._replace(readings=readings, facts=facts)


def figures(sheet: Sheet, spec: Specification) -> Iterator[tuple[str, str, Unit, Reading | FactValue]]:
    """Every figure that is given: its name, its text, the unit that its number is in, and the thing itself."""
    for reading in sheet.readings:
        yield reading.name, reading.text, reading.unit, reading
    for name, values in sheet.facts.items():
        for fact in values:
            if isinstance(fact.value, Decimal | int):
                yield name, fact.text, unit_of(fact, sheet, spec), fact


def moved(text: str, unit: Unit, by: Decimal) -> Moved | None:
    """A figure in `unit` moved by so much (base units), to the places that it is written in; None if it is not one."""
    match = _LEADING.fullmatch(text)
    if match is None:
        return None
    number = Decimal(match[1])
    step = CONTEXT.divide(by, unit.difference_to_base(Decimal(1)))
    new = CONTEXT.add(number, step).quantize(number, ROUND_HALF_UP)
    return Moved(f"{new + 0:f}{match[2]}", unit.difference_to_base(new - number))


def unit_of(fact: FactValue, sheet: Sheet, spec: Specification) -> Unit:
    """The unit that a fact's number is written in."""
    own = spec.facts[fact.name].unit or NO_UNIT
    found = read_written(fact.text, unit=bare_unit(own, sheet.unit), dimension=own.dimension)
    return found.unit if isinstance(found, Exact) else own


def _pick(what: str, steps: int) -> int:
    """A whole number from -steps to steps, the same for the same text on every machine and every version."""
    return int.from_bytes(sha256(what.encode()).digest()[:8], "big") % (2 * steps + 1) - steps


def _reading(reading: Reading, by: Decimal) -> Reading:
    there = moved(reading.text, reading.unit, by) if by else None
    if there is None:
        return reading
    value, low, high = (
        None if end is None else CONTEXT.add(end, there.by) for end in (reading.value, reading.low, reading.high)
    )
    return reading._replace(text=there.text, value=value, low=low, high=high)


def _fact(fact: FactValue, unit: Unit, by: Decimal) -> FactValue:
    there = moved(fact.text, unit, by) if by else None
    if there is None or not isinstance(fact.value, Decimal | int):
        return fact
    value = CONTEXT.add(Decimal(fact.value), there.by)
    return fact._replace(text=there.text, value=int(value) if isinstance(fact.value, int) else value)
