"""Readings and stated facts that look like a known slip of the hand, by what is written. Nothing is put right here."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import chain, groupby, islice

from specrules.pack import GaugeClass, GaugeSlip, Measurand, Specification
from specrules.quantity import LENGTH, Exact, Unit, find_unit, read_written
from specrules.sheet.family import Family, Suspect, middle_of, middle_reading
from specrules.sheet.gauges import able_for
from specrules.sheet.part_states import PartStates
from specrules.sheet.reading_slips import (
    ALIKE,
    FAR_APART,
    INCH,
    MICROMETRE,
    NEAR,
    SLIPS,
    beyond_suspicion,
    in_inches,
    only_unusual,
)
from specrules.sheet.sheet_parts import FactValue, Reading, Sheet
from specrules.sheet.stated import stated_suspects

__all__ = ["Suspect", "suspects"]

TURNS = tuple(
    GaugeSlip("thimble turn", turn, unit)
    for turn, unit in ((INCH / 40, find_unit("in")), (Decimal("0.5"), find_unit("mm")))
    if isinstance(unit, Unit)
)
"""One turn of the thimble of an inch micrometer, 40 threads an inch, and of a metric one: looked for on every kind of
gauge whose pack does not say by which steps it is misread. Common practice, no source."""

MOST_NEIGHBOURS = 100
"""More of them would say no more, and cost the square of their number."""


def suspects(sheet: Sheet, spec: Specification, worn: bool = False) -> tuple[Suspect, ...]:
    """Every figure that looks like a slip, each once, with the most particular thing that can be said of it.

    `worn`: the parts of which the sheet does not say it are used ones; none of those is larger than it was new."""
    found: list[Suspect] = []
    sheet = sheet._replace(readings=tuple([reading.as_written() for reading in sheet.readings]))
    parts = PartStates(sheet, spec)
    for name, group in groupby(sheet.readings, key=lambda reading: reading.name):
        measurand, readings = spec.measurands[name], list(group)
        kinds = _kinds_of({reading.station for reading in readings}, measurand, sheet, spec)
        steps = {gauge: gauge_steps(gauge, measurand, sheet, spec) for gauge in {each.gauge for each in readings}}
        new = _sizes_when_new((each for each in readings if _is_used(each, parts, worn)), measurand, sheet, spec)
        told: set[int] = set()
        for family in _families(readings, measurand, kinds, steps, new):
            looked_at = (slip(family) for slip in SLIPS)
            suspect = next((suspect for suspect in looked_at if suspect is not None), None)
            if suspect is not None and not (suspect.neighbours and _another_size_here(family, sheet, spec)):
                told.add(family.reading.statement)
                found.append(suspect)
        for reading in readings:
            if reading.place_value < MICROMETRE and reading.statement not in told:
                suspect = in_inches(reading, measurand, gauge_resolution(reading, measurand, sheet, spec))
                found += [suspect] if suspect is not None else []
    return as_stated((*found, *stated_suspects(sheet, spec)), sheet, spec)


def as_stated(found: Sequence[Suspect], sheet: Sheet, spec: Specification) -> tuple[Suspect, ...]:
    """The suspects, where sizes outside the usual ones are borne out: by the fact that states the size of a part when
    new, that fact by its readings, and what runs with a part by the part."""
    odd = {suspect: size for suspect in found if only_unusual(suspect.reason) and (size := _size(suspect)) is not None}
    if not odd:
        return tuple(found)
    states = {each.name: each.new.fact for each in spec.measurands.values() if each.new is not None}
    by: dict[Suspect, str] = {}
    for suspect, size in odd.items():
        read = [r.value for r in sheet.readings if states.get(r.name) == suspect.name and r.value is not None]
        stated = [each.value for each in sheet.facts.get(states.get(suspect.name, ""), ())]
        if any(isinstance(each, Decimal) and abs(each - size) <= abs(size) * ALIKE for each in (*read, *stated)):
            by[suspect] = states.get(suspect.name) or next(name for name in states if states[name] == suspect.name)
    more: dict[Suspect, str] = {}
    for suspect, size in odd.items():
        if suspect not in by:
            beside = (other for other in by if abs(odd[other] - size) <= abs(size) * ALIKE)
            if (other := next(beside, None)) is not None:
                more[suspect] = by[other]
    by.update(more)
    return tuple([suspect._replace(as_stated=by.get(suspect, "")) for suspect in found])


def _size(suspect: Suspect) -> Decimal | None:
    read = read_written(suspect.text, unit=suspect.unit, dimension=suspect.unit.dimension)
    return read.value if isinstance(read, Exact) else None


def _kinds_of(
    stations: Iterable[tuple[str, ...]], measurand: Measurand, sheet: Sheet, spec: Specification
) -> Mapping[tuple[str, ...], tuple[str, ...]]:
    """The kind of each station: by the labels that a pack names."""
    named = [(place, axis) for place, axis in enumerate(measurand.at) if spec.axes[axis].names]
    return {station: tuple([sheet.kind(axis, station[place]) for place, axis in named]) for station in stations}


def _families(
    readings: Sequence[Reading],
    measurand: Measurand,
    kinds: Mapping[tuple[str, ...], tuple[str, ...]],
    steps: Mapping[str, tuple[GaugeSlip, ...]],
    new: Mapping[tuple[str, ...], FactValue],
) -> Iterator[Family]:
    """The family of each reading of a measurand that is not beyond suspicion; `steps` by gauge, `new` and `kinds` by
    station.

    Only stations of one kind are held against one another. Stations vote, not readings:
    where other readings of the same station cannot outvote one, every other station of its kind has one vote, its
    reading in the middle. One written figure has one vote, for however many places it stands."""
    sized = [(reading, value, kinds[reading.station]) for reading in readings if (value := reading.value) is not None]
    sizes: dict[tuple[str, ...], list[Decimal]] = {}
    for _, value, kind in sized:
        sizes.setdefault(kind, []).append(value)
    misread_by = list(chain.from_iterable(steps.values()))
    doubtful = {kind for kind in sizes if new or not beyond_suspicion(sizes[kind], measurand, misread_by)}
    if not doubtful:
        return
    told: set[int] = set()
    stations: dict[tuple[str, ...], dict[tuple[str, ...], list[Reading]]] = {}
    for reading, _, kind in sized:
        if reading.statement not in told:
            told.add(reading.statement)
            stations.setdefault(kind, {}).setdefault(reading.station, []).append(reading)
    votes = {kind: {at: middle_reading(there) for at, there in each.items()} for kind, each in stations.items()}
    for reading, value, kind in sized:
        if kind in doubtful:
            here = _without(stations.get(kind, {}).get(reading.station, ()), reading)
            elsewhere = (vote for at, vote in votes.get(kind, {}).items() if at != reading.station)
            others = _without(elsewhere, reading)
            neighbours = here if _agree(here, measurand) else others if len(here) > 1 else (*here, *others)
            yield Family(reading, value, neighbours, measurand, steps[reading.gauge], new.get(reading.station))


def _agree(here: Sequence[Reading], measurand: Measurand) -> bool:
    """Whether the other readings of a station can outvote one: two of them at least, and no length far from another."""
    sizes = [each.value for each in here if each.value is not None]
    far = measurand.unit.dimension == LENGTH and bool(sizes) and max(sizes) - min(sizes) > FAR_APART
    return len(here) > 1 and not far


def _is_used(reading: Reading, parts: PartStates, worn: bool) -> bool:
    reused = parts.reused([(reading.name, reading.station)])
    return worn if reused is None else reused


def _without(others: Iterable[Reading], reading: Reading) -> tuple[Reading, ...]:
    return tuple(islice((other for other in others if other.statement != reading.statement), MOST_NEIGHBOURS))


def gauge_steps(gauge: str, measurand: Measurand, sheet: Sheet, spec: Specification) -> tuple[GaugeSlip, ...]:
    """The steps that a gauge of the sheet is easily misread by; the measurand's first kind where none is named."""
    kind = _kind(gauge, measurand, sheet, spec)
    return (kind.slips if kind is not None else ()) or TURNS


def gauge_resolution(reading: Reading, measurand: Measurand, sheet: Sheet, spec: Specification) -> Decimal | None:
    """The smallest step that the gauge of a reading shows, in base units; None where nobody says."""
    if reading.value is None:
        return None
    step = able_for(measurand, sheet.gauges.get(reading.gauge), spec).at(reading.value).resolution
    return None if step is None else step.at(reading.value)


def _kind(gauge: str, measurand: Measurand, sheet: Sheet, spec: Specification) -> GaugeClass | None:
    named = sheet.gauges[gauge].gauge_class if gauge in sheet.gauges else ""
    return spec.gauge_classes.get(named or next(iter(measurand.gauge_classes), ""))


def _another_size_here(family: Family, sheet: Sheet, spec: Specification) -> bool:
    """Whether something else that is measured at the station is off by as much from the other stations: then the part
    was made to another size there, and nothing was misread."""
    if not family.values:
        return False
    off, measurand, here = family.value - family.middle, family.measurand, family.reading.station
    beside = [other.value for other in family.neighbours if other.station == here and other.value is not None]
    alone = len(beside) == len(family.neighbours)
    if beside and (alone or all(abs(size - family.value) > abs(off) / 2 for size in beside)):
        return False  # another place on the same part is not
    sizes: dict[str, tuple[list[Decimal], list[Decimal]]] = {}
    for reading in sheet.readings:
        other = spec.measurands[reading.name]
        if other.name == measurand.name or other.unit.dimension != measurand.unit.dimension or reading.value is None:
            continue
        met = _met(dict(zip(other.at, reading.station, strict=True)), measurand.at, here, sheet, spec)
        if met is not None:
            sizes.setdefault(other.name, ([], []))[met].append(reading.value)
    return any(
        abs(middle_of(there) - middle_of(rest) - off) <= abs(off) / NEAR
        for rest, there in sizes.values()
        if rest and there
    )


def _met(
    station: Mapping[str, str], axes: Sequence[str], labels: Sequence[str], sheet: Sheet, spec: Specification
) -> bool | None:
    """Whether two stations are one, along the same axes or along one that groups the other; None for other axes."""
    if len(station) != len(axes):
        return None
    met = True
    for (axis, label), mine, here in zip(station.items(), axes, labels, strict=True):
        if axis == mine:
            met &= label == here
        elif spec.axes[mine].of == axis:
            met &= sheet.groups.get(mine, {}).get(label) == here
        elif spec.axes[axis].of == mine:
            met &= sheet.groups.get(axis, {}).get(here) == label
        else:
            return None
    return met


def _sizes_when_new(
    readings: Iterable[Reading], measurand: Measurand, sheet: Sheet, spec: Specification
) -> dict[tuple[str, ...], FactValue]:
    """Station -> what states the size there of the part when new, where that is stated."""
    if measurand.new is None:
        return {}
    axes = spec.facts[measurand.new.fact].at
    stated = {value.station: value for value in sheet.facts.get(measurand.new.fact, ())}
    found: dict[tuple[str, ...], FactValue] = {}
    for reading in readings:
        labels = dict(zip(measurand.at, reading.station, strict=True))
        value = stated.get(tuple(labels[axis] for axis in axes), stated.get(()))
        if value is not None:
            found[reading.station] = value
    return found
