"""Which gauge a reading was taken with: the one named, or the first kind that its pack lists, which is then assumed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from specrules.pack import Capability, Stack
from specrules.sheet import Gauge, Reading, Sheet

NO_CAPABILITY = Capability()


class Link(NamedTuple):
    """One gauge in a chain of setting: what it can do, what it is called, and what tells it from all others."""

    key: str
    name: str
    capability: Capability


class Gauging(NamedTuple):
    """How a reading was taken. `chain` is the gauge, the gauge that set it, and so on.

    `scatter` is the repeatability that the sheet itself shows for this gauge, pooled over its repeats, where it is known
    well enough to count; None: the class figure stands.
    """

    chain: tuple[Link, ...]
    gauge_class: str
    assumed: bool
    scatter: float | None = None

    @property
    def capability(self) -> Capability:
        """What the gauge itself can do."""
        return self.chain[0].capability if self.chain else NO_CAPABILITY


def gauge_of(reading: Reading, sheet: Sheet, stack: Stack) -> Gauging:
    """The gauging of one reading."""
    return gauging(reading.name, reading.gauge, sheet.gauges, stack)


def gauging(measurand: str, named: str, gauges: Mapping[str, Gauge], stack: Stack) -> Gauging:
    """The gauge by its name in the sheet, else the measurand's first class, each measurand with a gauge of its own."""
    first = next(iter(stack.measurands[measurand].gauge_classes), "")
    if not named:
        known = stack.gauge_classes.get(first)
        if known is None:
            return Gauging((), "", True)
        return Gauging((Link(f"assumed for {measurand}", f"{first}, assumed", known.capability),), first, True)
    chain = tuple(_link(gauge, first, stack) for gauge in _chain(named, gauges))
    gauge = gauges.get(named)
    kind = gauge.gauge_class if gauge is not None else ""
    return Gauging(chain, kind or first, not kind)


def _link(gauge: Gauge, first: str, stack: Stack) -> Link:
    known = stack.gauge_classes.get(gauge.gauge_class or first)
    able = gauge.capability.over(known.capability) if known is not None else gauge.capability
    return Link(gauge.name, gauge.name, able)


def _chain(name: str, gauges: Mapping[str, Gauge]) -> Sequence[Gauge]:
    chain: list[Gauge] = []
    while name in gauges and gauges[name] not in chain:
        chain.append(gauges[name])
        name = gauges[name].set_with
    return chain
