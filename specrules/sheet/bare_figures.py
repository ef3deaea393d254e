"""What figures without a unit mean in a sheet: lengths are in its own unit, all else in that of its system of units."""

from __future__ import annotations

import re
from collections.abc import Iterator

from specrules.pack import Specification
from specrules.quantity import LENGTH, Unit
from specrules.sheet.sheet_parts import Sheet
from specrules.vocabulary import Reason, Why

_NAMED = re.compile(r"[A-Za-z°%\"']")


def bare_unit(unit: Unit, lengths_in: Unit | None) -> Unit | None:
    """What a bare number means where `unit` is expected; None: a length, in a sheet that states no unit."""
    return lengths_in if unit.dimension == LENGTH else unit


def is_bare(text: str) -> bool:
    """Whether a figure is written without any unit."""
    return _NAMED.search(text) is None


def units_taken(sheet: Sheet, spec: Specification) -> Iterator[Reason]:
    """A remark for each unit that bare figures were taken in because of the sheet's own and not as the packs have it:
    they used to mean the packs' unit. `spec` is told in the units of the sheet."""
    taken: dict[tuple[str, str], dict[str, None]] = {}
    written = spec.written or spec
    for name in dict.fromkeys(reading.name for reading in sheet.readings if reading.bare):
        _note(name, written.measurands[name].unit, spec.measurands[name].unit, taken)
    for name, values in sheet.facts.items():
        was, now = written.facts[name].unit, spec.facts[name].unit
        if was is not None and now is not None and any(is_bare(value.text) for value in values):
            _note(name, was, now, taken)
    for (now_in, was_in), names in taken.items():
        yield Reason(Why.UNIT_TAKEN, tuple(names), (now_in, was_in))


def _note(name: str, was: Unit, now: Unit, taken: dict[tuple[str, str], dict[str, None]]) -> None:
    if was != now and now.dimension != LENGTH:
        taken.setdefault((now.symbol, was.symbol), {})[name] = None
