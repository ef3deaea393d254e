"""Which gauge a reading was taken with: the one named, or the first kind that its pack lists, which is then assumed.

A gauge that a sheet does not name is one for each measurand: nobody said that one gauge measured two of them, so
nothing cancels between them.
"""

import math
from collections.abc import Mapping, Sequence
from decimal import Decimal
from functools import cache
from typing import NamedTuple

from specrules.pack import Capability, Specification
from specrules.sheet import Gauge, Reading, Sheet
from specrules.sheet.gauges import able_for

NO_CAPABILITY = Capability()
NOTHING = Decimal(0)


class Link(NamedTuple):
    """One gauge in a chain of setting: what tells it from all others, what it is called, and what it can do.

    `basis`: ("assumed",) where it is a class of which no gauge was named.
    """

    key: str
    name: str
    capability: Capability
    basis: tuple[str, ...] = ()


class Gauging(NamedTuple):
    """How a reading was taken. `chain` is the gauge, the gauge that set it, and so on.

    `scatter` is the repeatability that the sheet itself shows for this gauge, pooled over its repeats, where it counts;
    None: the class figure stands.
    """

    chain: tuple[Link, ...]
    gauge_class: str
    scatter: float | None = None

    @property
    def capability(self) -> Capability:
        """What the gauge itself can do."""
        return self.chain[0].capability if self.chain else NO_CAPABILITY


ENOUGH = 10
"""Degrees of freedom from which the scatter that a sheet shows may count for less than the class figure."""


def gaugings_of(sheet: Sheet, spec: Specification) -> Sequence[Gauging]:
    """The gauging of every reading, with the scatter of its repeats pooled per gauge over the whole sheet."""
    gauges = _of_one_kind(sheet, spec)
    alike = cache(lambda measurand, named: gauging(measurand, named, gauges, spec))
    found = [alike(reading.name, reading.gauge) for reading in sheet.readings]
    squares: dict[str, float] = {}
    freedom: dict[str, int] = {}
    told: set[int] = set()
    for reading, each in zip(sheet.readings, found, strict=True):
        if reading.repeats > 1 and each.chain and reading.statement not in told:
            told.add(reading.statement)
            key = each.chain[0].key
            squares[key] = squares.get(key, 0.0) + float(reading.squares)
            freedom[key] = freedom.get(key, 0) + reading.repeats - 1
    return [
        each._replace(scatter=_pooled(each, squares[key], freedom[key], reading))
        if each.chain and (key := each.chain[0].key) in freedom
        else each
        for reading, each in zip(sheet.readings, found, strict=True)
    ]


def _of_one_kind(sheet: Sheet, spec: Specification) -> Mapping[str, Gauge]:
    """The sheet's gauges; one whose kind nobody states is of the first kind for what it reads first, and stays so."""
    gauges = dict(sheet.gauges)
    for reading in sheet.readings:
        gauge = gauges.get(reading.gauge)
        if gauge is not None and not gauge.gauge_class:
            first = next(iter(spec.measurands[reading.name].gauge_classes), "")
            gauges[gauge.name] = gauge._replace(gauge_class=first)
    return gauges


def _pooled(gauging: Gauging, squares: float, freedom: int, reading: Reading) -> float:
    """The pooled standard deviation; below ten degrees of freedom never less than the class figure."""
    pooled = math.sqrt(squares / freedom)
    size = reading.value or NOTHING
    stated = gauging.capability.at(size).repeatability
    if freedom >= ENOUGH or stated is None:
        return pooled
    return max(pooled, float(stated.at(size)))


def gauging(measurand: str, named: str, gauges: Mapping[str, Gauge], spec: Specification) -> Gauging:
    """The gauge by its name in the sheet, else the measurand's first class, each measurand with a gauge of its own."""
    first = next(iter(spec.measurands[measurand].gauge_classes), "")
    if not named:
        known = spec.gauge_classes.get(first)
        if known is None:
            return Gauging((), "")
        return Gauging((Link(f"assumed for {measurand}", first, known.capability, ("assumed",)),), first)
    chain = tuple(_link(gauge, measurand, spec) for gauge in _chain(named, gauges))
    return Gauging(chain, gauges[named].gauge_class if named in gauges else first)


def _link(gauge: Gauge, measurand: str, spec: Specification) -> Link:
    return Link(gauge.name, gauge.name, able_for(spec.measurands[measurand], gauge, spec))


def _chain(name: str, gauges: Mapping[str, Gauge]) -> Sequence[Gauge]:
    chain: list[Gauge] = []
    while name in gauges and gauges[name] not in chain:
        chain.append(gauges[name])
        name = gauges[name].set_with
    return chain
