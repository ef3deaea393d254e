"""Readings that are the same to the last place at every station: good parts may be, and so is one reading copied."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from specrules.pack import Specification
from specrules.sheet.sheet_parts import Reading, Sheet
from specrules.vocabulary import Reason, Why

SO_MANY = 4
"""Stations, each read for itself, from which it is worth a word. Common practice, no source."""


def all_alike(sheet: Sheet, spec: Specification) -> tuple[Reason, ...]:
    """A remark that names each measurand, or each kind of its stations, that reads the same at every one of them."""
    found: list[tuple[str, str]] = []
    for name, group in groupby(sheet.readings, key=lambda reading: reading.name):
        at = spec.measurands[name].at
        named = [(place, axis) for place, axis in enumerate(at) if spec.axes[axis].names]
        found += [(name, f"{' '.join(kind)} {text}".strip()) for kind, text in _kinds(list(group), named, sheet)]
    names, labels = zip(*found, strict=True) if found else ((), ())
    return (Reason(Why.ALL_ALIKE, names, labels),) if found else ()


def _kinds(
    readings: list[Reading], named: list[tuple[int, str]], sheet: Sheet
) -> Iterator[tuple[tuple[str, ...], str]]:
    """The kinds of station at which all figures are the same, with that figure; nothing at all is no figure."""
    kinds: dict[tuple[str, ...], list[Reading]] = {}
    for reading in readings:
        kind = tuple([sheet.kind(axis, reading.station[place]) for place, axis in named])
        kinds.setdefault(kind, []).append(reading)
    for kind, of_kind in kinds.items():
        if of_kind[0].value and len({reading.text for reading in of_kind}) == 1:
            stations = {reading.station for reading in of_kind if _told_alone(reading)}
            if len(stations) >= SO_MANY:
                yield kind, of_kind[0].text


def _told_alone(reading: Reading) -> bool:
    """One figure written for one station, and no bracket, which many sizes share."""
    return reading.low is not None and reading.low == reading.high and not reading.group
