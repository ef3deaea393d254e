"""Numbers that somebody read again, or looked up again, and found right: each is told of, whatever it looked like.

A confirmation belongs to the mapping whose value it stands beside: a later set, or the same station's other readings,
do not have it. It clears what the number looks like, and not that it has too few places.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from specrules.sheet.family import Suspect
from specrules.sheet.sheet_parts import FactValue, Reading, Sheet
from specrules.vocabulary import Reason, Why


def confirmed(sheet: Sheet, suspects: Collection[Suspect]) -> tuple[Reason, ...]:
    """A remark for each confirmed number that nothing was said of: one that looks like a slip is told as a suspect."""
    told = {(suspect.name, suspect.station) for suspect in suspects if suspect.confirmed and suspect.position is None}
    places = {suspect.place for suspect in suspects if suspect.confirmed}
    found: dict[object, Reason] = {}
    for each in _given(sheet):
        if each.confirmed and (each.name, each.station) not in told and each.place not in places:
            found.setdefault(
                each.place, Reason(Why.CONFIRMED, (each.name,), (each.confirmed, each.text, *_where(each)))
            )
    return tuple(found.values())


def _given(sheet: Sheet) -> Iterator[Reading | FactValue]:
    yield from sheet.readings
    for values in sheet.facts.values():
        yield from values


def _where(given: Reading | FactValue) -> tuple[str, ...]:
    """Where it was taken; nothing where one figure stands for several places."""
    if isinstance(given, FactValue):
        return given.station
    return () if given.group else (*given.station, *(given.position or ()))
