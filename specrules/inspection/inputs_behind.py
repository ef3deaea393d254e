"""Readings as whoever looks at a finding sees them: where each was taken, as written, its error, what was before."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal, localcontext

from specrules.evaluate import Point
from specrules.evaluate.binding import Binding
from specrules.evaluate.places import Digits
from specrules.inspection.finding_parts import Earlier, Input
from specrules.inspection.findings import difference_in, value_in
from specrules.quantity import CONTEXT
from specrules.sheet import Reading, same_place


def inputs_of(numbers: Iterable[int], of: Binding) -> Iterator[Input]:
    """The readings of these numbers."""
    for number in numbers:
        reading = of.readings[number]
        measurand = of.spec.measurands[reading.name]
        yield Input(
            name=reading.name,
            station=dict(zip(measurand.at, reading.station, strict=True)),
            position=dict(zip(measurand.positions, reading.position or (), strict=False)),
            value=value_in(reading.unit, reading.value),
            low=value_in(reading.unit, reading.low),
            high=value_in(reading.unit, reading.high),
            U=difference_in(reading.unit, reading.U),
            unit=reading.unit,
            text=reading.text,
            gauge=reading.gauge,
            place=reading.place,
            confirmed=reading.confirmed,
            state=reading.state,
            taken=reading.taken,
            earlier=tuple(_earlier(reading, of.sheet.history)),
            **_of_bracket(number, of),
        )


def _of_bracket(number: int, of: Binding) -> dict[str, Decimal]:
    """What a bracket leaves in doubt besides its ends; nothing for any other reading."""
    reading, sources = of.readings[number], of.error_sources
    if sources.simple or reading.value is None or reading.low == reading.high:
        return {}
    with localcontext(CONTEXT):
        mpe = of.gaugings[number].capability.at(reading.value).mpe
        point = Point(reading.value, sources.slopes[number])
        return {
            "gauge_error": reading.unit.difference_from_base(Decimal(0) if mpe is None else mpe.at(reading.value)),
            "expanded": reading.unit.difference_from_base(sources.uncertainty(point).expanded),
        }


def _earlier(now: Reading, history: Sequence[Reading]) -> Iterator[Earlier]:
    """What stood in the place of a reading before it, the oldest first."""
    unit = now.unit
    for before in history:
        if (before.name, before.station) != (now.name, now.station) or not same_place(before, now):
            continue
        whole = now.low == now.high and before.low == before.high
        moved = now.low - before.low if whole and now.low is not None and before.low is not None else None
        yield Earlier(
            value=value_in(unit, before.value),
            low=value_in(unit, before.low),
            high=value_in(unit, before.high),
            moved=difference_in(unit, moved),
            places=Digits((now, before)).places((0, 1), unit),
            text=before.text,
            state=before.state,
            taken=before.taken,
            place=before.place,
        )
