"""One rule at one station: its value, its limits, the margins between them and what is decided from those alone.

What the verdict rests on (sign-offs, stale and suspect readings, other packs) is weighed afterwards, in evidence.
"""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from functools import cached_property
from typing import NamedTuple

from specrules.evaluate import NotEvaluable, Point, Value, evaluate, holds, subtract
from specrules.evaluate.binding import SheetEnvironment
from specrules.evaluate.error_distribution import ErrorDistribution
from specrules.evaluate.error_sources import CERTAIN, Uncertainty
from specrules.evaluate.trace import Place, Trace
from specrules.evaluate.worlds import World
from specrules.formula import Station
from specrules.formula.operators import Hanging, together
from specrules.inspection.decision import Conformity, Decision, Margin, decide, decide_worn, inside
from specrules.inspection.finding_parts import Limits
from specrules.inspection.limits import ResolvedLimits, as_limits, counts, limits_at, limits_of_sheet, over_reused
from specrules.pack import LimitLine, Rule
from specrules.vocabulary import BEYOND, SIDES, WORN, DecisionRule, Reason, Verdict, Why

Version = tuple[str, tuple[tuple[str, str], ...]]
"""What tells a rule's versions apart: its name, and the reasons of the amendments in it."""


class Judgement(NamedTuple):
    """What the numbers alone say. `lacks` names what has to be stated or measured before they can say more."""

    rule: Rule
    station: Station
    world: World
    value: Value | None
    resolved: ResolvedLimits
    limits: Limits
    margins: tuple[Margin, ...]
    decision: Decision
    trace: Trace
    lacks: tuple[Reason, ...] = ()
    uncertainty: Uncertainty = CERTAIN  # of the value, where it is one number


class Bounds(NamedTuple):
    """Limits as data, on each side the one that decides, and the sides on which there is no figure for it, and why: no
    reason where that is not known."""

    limits: Limits
    sides: Sequence[tuple[str, Value]]
    silent: Mapping[str, tuple[Reason, ...]]


class Held(NamedTuple):
    """The limits at a station, as they stand and as they decide over new and over reused parts, and what they looked
    at. `missing`: what of that keeps them from being known."""

    resolved: ResolvedLimits
    new: Bounds
    reused: Bounds
    trace: Trace
    missing: Mapping[Place, None]


class Judge:
    """Judges rules against one sheet's environment under one decision rule."""

    def __init__(
        self, environment: SheetEnvironment, acceptance: DecisionRule, own: Mapping[str, Sequence[LimitLine]]
    ) -> None:
        self.environment = environment
        self.acceptance = acceptance
        self.own = own
        self._hanging: dict[Version, Hanging] = {}
        self._held: dict[tuple[object, ...], Held] = {}
        self._aside = Trace()  # what is looked at for other ends than a judgement

    @cached_property
    def without_own(self) -> "Judge":
        """The same judge, to whom the sheet's own limits are nothing."""
        return Judge(self.environment, self.acceptance, {}) if self.own else self

    def judge(self, rule: Rule, station: Station, known: Judgement | None = None) -> Judgement:
        """One rule at one station. `known`: what another version of it came to there; the value is the same."""
        environment = self.environment
        environment.trace = trace = Trace()
        if holds(rule.applies_when, environment, station) is False and not self._limited_there(rule, station, trace):
            return self._undecided(rule, station, trace, Verdict.NOT_APPLICABLE)
        if known is not None and known.value is not None:
            value: Value | None = known.value
            trace.take(known.trace)
        else:
            value = self._value(rule, station, trace)
        resolved, bounds, reused, limit_trace, missing = self.held(rule, station)
        environment.trace = self._aside
        trace.facts.update(limit_trace.facts)
        trace.questions.update(limit_trace.questions)
        if reused is not bounds and self._stands_on_reused_parts(trace):
            bounds = reused
        limits = bounds.limits
        trace.assumed.update(limit_trace.assumed)
        lacks: tuple[Reason, ...] = () if resolved.lacks is None else (resolved.lacks,)
        without_row = tuple(_without_row(value, trace)) if trace.troubles and not (lacks or trace.missing) else ()
        trace.missing.update(missing)
        trace.by_limits.update(limit_trace.found)
        uncertainty = self.uncertainty(value.low) if value is not None and value.exact else CERTAIN
        exact = _exact(rule, trace)
        margins = () if lacks else self._margins(value, uncertainty, bounds.sides, exact)
        wanted = rule.limits_wanted or resolved.from_sheet  # what a maker limits is judged, whatever a pack only shows
        if not wanted or not (margins or lacks or bounds.silent):
            decision = Decision(Verdict.NOT_APPLICABLE)
        elif without_row:
            lacks, margins, decision = without_row, (), Decision(Verdict.NO_FIGURE)
        elif lacks:
            decision = Decision(Verdict.NO_FIGURE if _is_measured(value, trace) else Verdict.NOT_MEASURED)
        else:
            decision = self._decide(margins, value, trace, uncertainty, resolved, bounds, exact)
            why = tuple(dict.fromkeys([reason for reasons in bounds.silent.values() for reason in reasons]))
            if decision.verdict in BEYOND:
                limits = limits._replace(notes=(*limits.notes, *why)) if why else limits
            else:
                lacks = why
        return Judgement(
            rule, station, environment.world, value, resolved, limits, margins, decision, trace, lacks, uncertainty
        )

    def again(self, judged: Judgement, value: Value) -> Decision:
        """The decision if the value were another and all else the same: what a remedy would bring."""
        uncertainty, exact = self.uncertainty(value.low) if value.exact else CERTAIN, _exact(judged.rule, judged.trace)
        bounds = bounds_of(judged.resolved, judged.limits)
        margins = self._margins(value, uncertainty, bounds.sides, exact)
        return self._decide(margins, value, judged.trace, uncertainty, judged.resolved, bounds, exact)

    def conformity(self, value: Value | None, bounds: Bounds) -> Conformity | None:
        """The probability that the true value lies inside every limit; None where nothing says how sure it is.

        What value and limit share cancels: the error is that of the room between them.
        """
        sources = self.environment.binding.error_sources
        if sources.simple or value is None or not (value.exact and value.whole) or bounds.silent:
            return None
        rooms: list[tuple[Decimal, ErrorDistribution]] = []
        for side, limit in bounds.sides:
            room = (subtract(value, limit) if side == "least" else subtract(limit, value)).low
            if room is None or not (limit.exact and limit.whole):
                return None
            rooms.append((room.value, sources.distribution(room.slopes)))
        return inside(rooms)

    def uncertainty(self, point: Point | None) -> Uncertainty:
        """How sure a point is, under the decision rule in force."""
        return self.environment.binding.error_sources.uncertainty(point)

    def _limited_there(self, rule: Rule, station: Station, trace: Trace) -> bool:
        """Whether the sheet limits what the packs ask nothing of there: by a line about some stations, or where it was
        read by any. A maker's limit is always judged."""
        environment = self.environment

        def asked() -> bool:
            lines = [line for line in self.own.get(rule.name, ()) if counts(line, station, environment)]
            if any(line.when is not None for line in lines):
                return True
            return bool(lines) and _is_measured(self._value(rule, station, Trace()), environment.trace)

        try:
            answer, looked_at = environment.aside(asked)
        except NotEvaluable:
            return True  # no row for a line of the sheet: that is told as such
        trace.facts.update(looked_at.facts)
        trace.questions.update(looked_at.questions)
        return answer

    def _undecided(self, rule: Rule, station: Station, trace: Trace, verdict: Verdict) -> Judgement:
        return Judgement(
            rule, station, self.environment.world, None, ResolvedLimits(), Limits(), (), Decision(verdict), trace
        )

    def _value(self, rule: Rule, station: Station, trace: Trace) -> Value | None:
        try:
            return evaluate(rule.formula, self.environment, station)
        except NotEvaluable as trouble:
            trace.troubles[trouble.within(Why.WITHOUT_VALUE)] = None
            return None

    def held(self, rule: Rule, station: Station) -> Held:
        """The limits of a rule there; worked out once for all stations at which nothing that they hang on differs."""
        version = rule.name, rule.reasons
        if version not in self._hanging:
            lines = (*rule.lines, *self.own.get(rule.name, ()))
            self._hanging[version] = together([formula.hanging for line in lines for formula in line.formulas()])
        key = *version, *self.environment.layout.hung_on(self._hanging[version], station)
        if key not in self._held:
            self._held[key] = self._work_out(rule, station)
        return self._held[key]

    def _work_out(self, rule: Rule, station: Station) -> Held:
        environment, own = self.environment, self.own.get(rule.name)
        environment.trace = trace = Trace()
        try:
            of_sheet = [line for line in own or () if counts(line, station, environment)]
            if of_sheet:
                resolved = limits_of_sheet(rule, of_sheet, self._of_packs(rule, station), station, environment)
            else:
                resolved = limits_at(rule, station, environment)
        except NotEvaluable as trouble:
            resolved = ResolvedLimits(lacks=trouble.within(Why.LIMIT_WITHOUT_VALUE))
        if own is not None and not own:
            resolved = ResolvedLimits(from_sheet=True, notes=[Reason(Why.NO_LIMITS_WANTED)])
        has_wear = tuple([side for side in SIDES if resolved.stands(WORN[side])])
        limits = as_limits(resolved)
        new = reused = bounds_of(resolved, limits)
        if has_wear:
            reused = bounds_of(resolved, over_reused(limits, has_wear, resolved))
        of_a_size = any(not question.facts for question in trace.questions)
        open_yet = resolved.lacks is None and (of_a_size or not _all_known(resolved))
        return Held(resolved, new, reused, trace, trace.missing if open_yet else {})

    def _of_packs(self, rule: Rule, station: Station) -> ResolvedLimits | None:
        """The limits of packs where the sheet has its own: looked at aside, since nothing hangs on what they lack. None
        where they cannot be worked out, or hang on what nobody states."""
        environment = self.environment
        try:
            resolved, looked_at = environment.aside(lambda: limits_at(rule, station, environment))
        except NotEvaluable:
            environment.so_far = {}
            return None
        return None if looked_at.questions else resolved

    def _stands_on_reused_parts(self, trace: Trace) -> bool:
        """Whether every part that the value was read from is reused: where the sheet doesn't say, as `wear when` has
        it. Parts that only its limits are read from don't count: it is the value that wears."""
        told = self.environment.binding.parts.reused(trace.asked)
        if told is not None:
            return told
        answer, looked_at = self._by_work
        trace.facts.update(looked_at.facts)
        trace.questions.update(looked_at.questions)
        return answer

    @cached_property
    def _by_work(self) -> tuple[bool, Trace]:
        """Whether the packs' condition for wear holds, and what it looked at."""
        environment, when = self.environment, self.environment.binding.spec.wear_when
        return environment.aside(lambda: when is not None and holds(when, environment, {}) is True)

    def _decide(
        self,
        margins: Sequence[Margin],
        value: Value | None,
        trace: Trace,
        uncertainty: Uncertainty,
        resolved: ResolvedLimits,
        bounds: Bounds,
        exact: bool,
    ) -> Decision:
        """The verdict by these margins; inside a wear limit, whether it is worn.

        A limit of which there is no figure leaves no other verdict than beyond one that there is."""
        decision = decide(margins, self.acceptance, lambda: self.conformity(value, bounds))
        silent, worn = bounds.silent, bounds.limits.worn
        if silent and decision.verdict not in BEYOND:
            known = _is_measured(value, trace) and all(silent.values())
            return Decision(Verdict.NO_FIGURE if known else Verdict.NOT_MEASURED)
        if not worn or silent:
            return decision
        of_new = [(side, limit) for side in worn if (limit := resolved.sets.get(side)) is not None]
        return decide_worn(decision, self._margins(value, uncertainty, of_new, exact))

    def _margins(
        self, value: Value | None, uncertainty: Uncertainty, sides: Sequence[tuple[str, Value]], exact: bool
    ) -> tuple[Margin, ...]:
        """The margin to each of some limits."""
        return tuple([self._margin(side, limit, value, uncertainty, exact) for side, limit in sides])

    def _margin(self, side: str, limit: Value, value: Value | None, uncertainty: Uncertainty, exact: bool) -> Margin:
        """One quantity, so that what value and limit share cancels."""
        if value is None:
            return Margin(side, None, None, whole=False)
        scale, point, plain = None if exact else _size(value, limit), value.low, limit.low
        if point is not None and point is value.high and plain is not None and plain is limit.high and not plain.slopes:
            inside, down, up = point.value - plain.value, uncertainty.down, uncertainty.up
            if side == "most":  # as sure as the value, the other way round below it
                inside, down, up = -inside, up, down
            return Margin(side, inside, inside, down, up, value.whole and limit.whole, scale, uncertainty.half)
        room = subtract(value, limit) if side == "least" else subtract(limit, value)
        low = self.uncertainty(room.low)
        high = low if room.exact else self.uncertainty(room.high)
        return Margin(
            side,
            None if room.low is None else room.low.value,
            None if room.high is None else room.high.value,
            low.down,
            high.up,
            room.whole,
            scale,
            low.half if room.exact else _NOTHING,
        )


_NOTHING = Decimal(0)


def bounds_of(resolved: ResolvedLimits, limits: Limits) -> Bounds:
    """What decides of the limits as they stand: wear limits on worn sides."""
    parts = {side: WORN[side] if side in limits.worn else side for side in SIDES}
    sides = [(side, limit) for side, part in parts.items() if (limit := resolved.sets.get(part)) is not None]
    silent = {side: resolved.silent[part] for side, part in parts.items() if part in resolved.silent}
    return Bounds(limits, sides, silent)


def _all_known(resolved: ResolvedLimits) -> bool:
    known = all(limit is None or limit.exact for limit in resolved.sets.values())
    return known and all(resolved.silent.values())


def _is_measured(value: Value | None, trace: Trace) -> bool:
    """Whether anything that was read, or stated in full, says something of a value: that a spread is not less than
    nothing nobody has to measure."""
    if value is None or (value.low is None and value.high is None):
        return False
    return value.exact or bool(trace.found)


def _without_row(value: Value | None, trace: Trace) -> Iterator[Reason]:
    """Why there is no value, where a table without a row is why."""
    for reason in trace.troubles if not _is_measured(value, trace) else ():
        if reason.names[0] == Why.NO_ROW:
            yield Reason(Why.NO_ROW, reason.names[1:], (), reason.text)


def _exact(rule: Rule, trace: Trace) -> bool:
    """Whether the value came through decimals alone: the rule's own formula, and the ways of the figures behind it."""
    return rule.formula.exact and all(way.formula.exact for way in trace.ways.values())


def _size(value: Value, limit: Value) -> Decimal | None:
    ends = [abs(end.value) for end in (value.low, value.high, limit.low) if end is not None]
    return max(ends, default=None)
