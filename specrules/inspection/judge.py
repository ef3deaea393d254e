"""One rule at one station: its value, its limits, the margins between them and what is decided from those alone.

What the verdict rests on (sign-offs, stale and suspect readings, other packs) is weighed afterwards, in evidence.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import NamedTuple

from specrules.formula import NotEvaluable, Point, Station, Value
from specrules.formula.bounds import subtract
from specrules.inspection.bench import Bench, Trace
from specrules.inspection.causes import Doubt
from specrules.inspection.decide import Acceptance, Decision, Margin, Verdict, decide
from specrules.inspection.limits import Standing, as_limits, limits_at
from specrules.inspection.parts import Limits
from specrules.pack import SIDES, LimitLine, Rule

MOST_SUPPOSED = 64
"""Combinations of unstated facts that are tried; beyond this the facts have to be stated."""


class Judgement(NamedTuple):
    """What the numbers alone say. `lacks` names what has to be stated or measured before they can say more."""

    rule: Rule
    station: Station
    supposed: Mapping[str, str]
    value: Value | None
    standing: Standing
    limits: Limits
    margins: tuple[Margin, ...]
    decision: Decision
    trace: Trace
    lacks: tuple[str, ...] = ()


class Judge:
    """Judges rules against one sheet's bench under one decision rule."""

    def __init__(self, bench: Bench, acceptance: Acceptance, own: Mapping[str, Sequence[LimitLine]]) -> None:
        self.bench = bench
        self.acceptance = acceptance
        self.own = own

    def judge(self, rule: Rule, station: Station) -> Judgement:
        """One rule at one station."""
        bench = self.bench
        bench.trace = trace = Trace()
        if rule.applies_when is not None and rule.applies_when.answer(bench, station) is False:
            return self._undecided(rule, station, trace, Verdict.NOT_APPLICABLE)
        value = self._value(rule, station, trace)
        looked_at, bench.trace = trace, Trace()
        own = self.own.get(rule.name)
        try:
            standing = limits_at(rule, own or (), station, bench)
        except NotEvaluable as trouble:
            standing = Standing(by_maker=f"limits that can be worked out: {trouble.said}")
        if own is not None and not own:
            standing = Standing(from_sheet=True, notes=["the sheet says that there are no limits"])
        trace = looked_at
        limit_trace = bench.trace
        trace.unstated.update(limit_trace.unstated)
        trace.assumed.update(limit_trace.assumed)
        limits = as_limits(standing, self._worn(standing, station))
        lacks: tuple[str, ...] = (standing.by_maker,) if standing.by_maker else ()
        if not lacks and not self._all_known(standing):
            trace.missing.update(limit_trace.missing)
        trace.facts.update(limit_trace.facts)
        trace.by_limits.update(limit_trace.found)
        margins = () if lacks else tuple(self._margins(value, standing, limits, _exact(rule, trace)))
        if not rule.limits_wanted or (not margins and not lacks):
            decision = Decision(Verdict.NOT_APPLICABLE)
        elif lacks:
            decision = Decision(Verdict.NOT_MEASURED)
        else:
            decision = decide(margins, self.acceptance)
        return Judgement(rule, station, bench.supposed, value, standing, limits, margins, decision, trace, lacks)

    def again(self, judged: Judgement, value: Value) -> Decision:
        """The decision if the value were another and all else the same: what a remedy would bring."""
        margins = tuple(self._margins(value, judged.standing, judged.limits, _exact(judged.rule, judged.trace)))
        return decide(margins, self.acceptance)

    def doubt(self, point: Point | None) -> Doubt:
        """How sure a point is, under the decision rule in force."""
        return self.bench.of.causes.doubt(point)

    def _undecided(self, rule: Rule, station: Station, trace: Trace, verdict: Verdict) -> Judgement:
        return Judgement(rule, station, self.bench.supposed, None, Standing(), Limits(), (), Decision(verdict), trace)

    def _value(self, rule: Rule, station: Station, trace: Trace) -> Value | None:
        try:
            return rule.formula.evaluate(self.bench, station)
        except NotEvaluable as trouble:
            trace.troubles[trouble.said] = None
            return None

    def _worn(self, standing: Standing, station: Station) -> tuple[str, ...]:
        """The sides on which the wear limit counts: those that have one, when the packs' condition for wear holds."""
        when = self.bench.of.stack.wear_when
        has_wear = [side for side in SIDES if standing.sets.get(f"wear {side}") is not None]
        if not has_wear or when is None or when.answer(self.bench, station) is not True:
            return ()
        return tuple(has_wear)

    def _all_known(self, standing: Standing) -> bool:
        return all(limit is None or limit.exact for limit in standing.sets.values())

    def _margins(self, value: Value | None, standing: Standing, limits: Limits, exact: bool) -> list[Margin]:
        """The margin on each side that has a limit: one quantity, so that what value and limit share cancels."""
        margins: list[Margin] = []
        for side in SIDES:
            limit = standing.sets.get(f"wear {side}" if side in limits.worn else side)
            if limit is None:
                continue
            if value is None:
                margins.append(Margin(side, None, None, whole=False))
                continue
            room = subtract(value, limit) if side == "least" else subtract(limit, value)
            low = self.doubt(room.low)
            high = low if room.exact else self.doubt(room.high)
            margins.append(
                Margin(
                    side,
                    None if room.low is None else room.low.value,
                    None if room.high is None else room.high.value,
                    low.down,
                    high.up,
                    room.whole,
                    None if exact else _size(value, limit),
                    low.half if room.exact else _NOTHING,
                    low.u,
                )
            )
        return margins


_NOTHING = Decimal(0)


def _exact(rule: Rule, trace: Trace) -> bool:
    """Whether the value came through decimals alone: the rule's own formula, and the ways of the figures behind it."""
    return rule.formula.exact and all(way.formula.exact for way in trace.ways.values())


def _size(value: Value, limit: Value) -> Decimal | None:
    ends = [abs(end.value) for end in (value.low, value.high, limit.low) if end is not None]
    return max(ends, default=None)
