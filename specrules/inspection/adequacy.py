"""What would decide a doubtful verdict: the same sizes read more often, with another gauge, or after another setting.

Each is worked out whole: the readings that the value stands on are taken to have come out alike that way, and judged
again with the uncertainty that they would have had.

Only what leaves less in doubt is told, the fewest readings first of each kind of way. Of a gap between two blades finer
ones are tried where it is thinnest and where it is thickest, since nobody knows where in it the truth lies.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from functools import partial
from typing import NamedTuple

from specrules.evaluate import Point
from specrules.evaluate.binding import Binding
from specrules.evaluate.gaugings import Gauging, Link
from specrules.inspection.finding_parts import Alternative, Limits
from specrules.inspection.judge import Judge, Judgement
from specrules.pack import Specification
from specrules.sheet import Reading
from specrules.vocabulary import Reason, Why

SHARE = Decimal(4)
"""U may be a quarter of the width: the usual 4 to 1 of tolerance to uncertainty (common practice)."""
REPEATS = (2, 3, 4, 6, 10)
"""So many readings at each place are tried, the most first: where that is not enough no fewer are."""
WEIGHTY = 0.1
"""A measurand that makes up no more than such a share of the variance settles nothing by being read better."""


def width_of(limits: Limits) -> Decimal | None:
    """The width of a tolerance; a most alone is as wide as itself, a least alone has no width."""
    most = limits.deciding("most")
    if most is None:
        return None
    width = most - (limits.deciding("least") or Decimal(0))
    return width if width > 0 else None


class _Taken(NamedTuple):
    """How the readings behind a value were taken, or would be."""

    readings: Sequence[Reading]
    gaugings: Sequence[Gauging]


def alternatives(judge: Judge, judged: Judgement) -> Iterator[Alternative]:
    """The other ways to take the readings behind a value, with U and the verdict that each would bring; base units.

    None where one number is not known of the value, or where gauges count for nothing. Of what lies between two blades
    only finer blades are tried: read otherwise, it would come out otherwise.
    """
    of, value = judge.environment.binding, judged.value
    if of.error_sources.simple or value is None or not value.exact or value.low is None:
        return
    numbers = sorted(judged.trace.numbers())
    taken = _Taken([of.readings[n] for n in numbers], [of.gaugings[n] for n in numbers])
    places = {measurand: _of(measurand, taken.readings) for measurand in _least_sure(value.low, of)}
    for measurand, which in places.items():
        moving = [n for n in which if value.low.slopes.get(numbers[n]) and _is_bracket(taken.readings[n])]
        if len(moving) == 1:
            yield from _finer_blades(judge, judged, taken, moving[0], measurand)
    places = {m: which for m, which in places.items() if not any(_is_bracket(taken.readings[n]) for n in which)}
    for measurand, which in places.items():
        yield from _more_often(judge, judged, taken, which, (measurand,))
        for kind in _other_kinds(judged.rule.name, taken.gaugings[which[0]].gauge_class, measurand, of.spec):
            other = _with(taken, which, partial(_as, kind=kind, spec=of.spec))
            yield from _judged(judge, judged, other, Reason(Why.READ_WITH, (measurand, kind)))
        for kind in _setters(taken.gaugings[which[0]], of.spec):
            other = _with(taken, which, partial(_set_with, kind=kind, spec=of.spec))
            yield from _judged(judge, judged, other, Reason(Why.SET_WITH, (measurand, kind)))
    if len(places) > 1:
        yield from _more_often(judge, judged, taken, [n for which in places.values() for n in which], tuple(places))


def _of(measurand: str, readings: Sequence[Reading]) -> Sequence[int]:
    return [number for number, reading in enumerate(readings) if reading.name == measurand]


def _is_bracket(reading: Reading) -> bool:
    return reading.low != reading.high


def _least_sure(point: Point, of: Binding) -> Sequence[str]:
    """The measurands that leave most in doubt, the worst first."""
    sources = of.error_sources
    weights: dict[str, float] = {}
    for number, slope in point.slopes.items():
        if number < sources.own:
            u = math.hypot(*(slope * by * sources.us[cause] for cause, by in sources.slopes[number].items()))
            weights[of.readings[number].name] = weights.get(of.readings[number].name, 0.0) + u * u
    total = sum(weights.values())
    heavy = [name for name, weight in weights.items() if weight > WEIGHTY * total]
    return sorted(heavy, key=lambda name: -weights[name])


def _more_often(
    judge: Judge, judged: Judgement, taken: _Taken, which: Sequence[int], measurands: tuple[str, ...]
) -> Iterator[Alternative]:
    """The fewest readings at each place that decide; the most that are tried where none do."""
    fewest = max(taken.readings[number].repeats for number in which)
    found: Alternative | None = None
    for repeats in (REPEATS[-1], *REPEATS[:-1]):
        if repeats <= fewest or (found is not None and not found.decides):
            continue
        readings = list(taken.readings)
        for number in which:
            readings[number] = readings[number]._replace(repeats=repeats, squares=Decimal(0))
        how = Reason(Why.READ_MORE_OFTEN, measurands, (str(repeats),))
        for each in _judged(judge, judged, _Taken(readings, taken.gaugings), how):
            if found is None:
                found = each
            elif each.decides:
                yield each
                return
    if found is not None:
        yield found


def _finer_blades(judge: Judge, judged: Judgement, taken: _Taken, which: int, measurand: str) -> Iterator[Alternative]:
    """A gap between two blades, read with sets that have others between those: at its thinnest and at its thickest."""
    spec, reading, gauging = judge.environment.binding.spec, taken.readings[which], taken.gaugings[which]
    for kind in _other_kinds(judged.rule.name, gauging.gauge_class, measurand, spec):
        for blades in spec.gauge_classes[kind].capability.of_system(reading.unit):
            ends = blades.within(reading.low, reading.high)
            for low, high in dict.fromkeys(((ends[0], ends[1]), (ends[-2], ends[-1]))) if len(ends) > 2 else ():
                readings, gaugings = list(taken.readings), list(taken.gaugings)
                readings[which] = reading._replace(value=(low + high) / 2, low=low, high=high)
                gaugings[which] = _as(gauging, kind, spec)
                said = (
                    *(f"{round(blades.unit.from_base(end), 5).normalize():f}" for end in (low, high)),
                    blades.unit.symbol,
                )
                how = Reason(Why.READ_BETWEEN, (measurand, kind), said)
                yield from _judged(judge, judged, _Taken(readings, gaugings), how)


def _other_kinds(rule: str, used: str, measurand: str, spec: Specification) -> Iterator[str]:
    """The kinds of gauge that the packs list for a measurand, but the one used and those that must not decide."""
    for kind in spec.measurands[measurand].gauge_classes:
        if kind != used and rule not in spec.gauge_classes[kind].must_not_decide:
            yield kind


def _setters(gauging: Gauging, spec: Specification) -> Iterator[str]:
    """Kinds that read no part and so are there to set gauges with, for a gauge that was set with another."""
    if len(gauging.chain) < 2:
        return
    reads = {kind for measurand in spec.measurands.values() for kind in measurand.gauge_classes}
    for name, kind in spec.gauge_classes.items():
        if name not in reads and kind.capability != gauging.chain[1].capability:
            yield name


def _with(taken: _Taken, which: Sequence[int], other: Callable[[Gauging], Gauging]) -> _Taken:
    gaugings = list(taken.gaugings)
    for number in which:
        gaugings[number] = other(gaugings[number])
    return taken._replace(gaugings=gaugings)


def _as(gauging: Gauging, kind: str, spec: Specification) -> Gauging:
    """Read with a gauge of another kind, which was set as this one was."""
    link = Link(f"a {kind}", kind, spec.gauge_classes[kind].capability)
    return Gauging((link, *gauging.chain[1:]), kind)


def _set_with(gauging: Gauging, kind: str, spec: Specification) -> Gauging:
    link = Link(f"a {kind}", kind, spec.gauge_classes[kind].capability)
    return gauging._replace(chain=(gauging.chain[0], link))


def _judged(judge: Judge, judged: Judgement, taken: _Taken, how: Reason) -> Iterator[Alternative]:
    """What comes of it; nothing where that leaves no less in doubt, or the value would not be one number any more."""
    binding = judge.environment.binding.supposing(taken.readings, taken.gaugings)
    other = Judge(binding.environment(judge.environment.world), judge.acceptance, judge.own)
    again = other.judge(judged.rule, judged.station)
    if again.value is not None and again.value.exact and again.uncertainty.expanded < judged.uncertainty.expanded:
        yield Alternative(how, again.uncertainty.expanded, again.decision.verdict)
