"""Stations that were measured like one that has been judged already: as sure as that one, each with its own value.

A filter in front of the judge. It passes what is plainly inside its limits and leaves all else to be judged in full:
whatever is missing, in question, or beyond a limit. What it passes says the same as the judge would have said.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from decimal import Decimal, localcontext
from typing import NamedTuple

from specrules.formula import Formula, NotPlain, Plain, Run, Station, plainly
from specrules.inspection.basis import Basis
from specrules.inspection.decide import INSIDE, SURELY_IN_SPEC, Margin, Verdict, decide, enough_for_any, probably_inside
from specrules.inspection.judge import Judge, Judgement
from specrules.inspection.limits import SHIFTED
from specrules.inspection.parts import Finding, Limits, SideMargin, made_finding, made_limits, made_side_margin
from specrules.inspection.plain import PlainBench
from specrules.inspection.weigh import Evidence, needs_of
from specrules.pack import PARTS, LimitLine, Rule, RuleChain
from specrules.quantity import CONTEXT

NOTHING = Decimal(0)
_ENDLESS = Decimal("Infinity")
_NO_LIMIT = (None, 0.0)


class Line(NamedTuple):
    """A limit line in plain decimals. `when`: what it hangs on, where that may differ from station to station."""

    when: Formula | None
    sets: tuple[tuple[str, Run], ...]
    shift: Run | None
    from_the_maker: bool


class Side(NamedTuple):
    """One side on which a pattern has a limit."""

    side: str  # least or most
    part: str  # the limit that counts there: the side's own, or its wear limit
    enough: Decimal  # with more room than this it is in spec under any decision rule but one of probability
    U_low: Decimal
    U_high: Decimal
    half: Decimal
    u: float


class Pattern(NamedTuple):
    """What the findings of one rule with one shape have in common, taken from the first, which was judged in full."""

    rule: Rule
    finding: Finding
    sides: tuple[Side, ...]
    half: Decimal
    sign_offs: tuple[str, ...]
    coarsest: Decimal  # the most that the last written place of a reading is worth in the value

    def margins(self, rooms: Sequence[Decimal]) -> tuple[Margin, ...]:
        """The margins of another value, which has this much room on each side."""
        return tuple(
            [
                Margin(each.side, room, room, each.U_low, each.U_high, half=each.half, u=each.u)
                for each, room in zip(self.sides, rooms, strict=True)
            ]
        )


class Plan(NamedTuple):
    """How a rule is judged in plain decimals, and the patterns of it that are known so far, by their shape."""

    applies_when: Formula | None
    value: Run
    lines: tuple[Line, ...]
    patterns: dict[tuple[Hashable, ...], Pattern]


class Sight(NamedTuple):
    """What plain decimals say of one rule at one station."""

    shape: tuple[Hashable, ...]
    value: Decimal
    limits: Mapping[str, Plain]


class Alike:
    """Finds what is plainly inside its limits, for one judge and what is known of one sheet."""

    def __init__(self, judge: Judge, evidence: Evidence) -> None:
        self.judge = judge
        self.evidence = evidence
        self.by_room_alone = judge.acceptance.probability is None
        doubted = {number for number in (*evidence.suspects, *evidence.stale) if isinstance(number, int)}
        self.facts_in_doubt = bool(evidence.stale_facts) or not doubted.issuperset(evidence.suspects)
        self.bench = PlainBench(judge.bench, evidence.gauges, doubted)

    def sight(self, plan: Plan, station: Station) -> Sight | None:
        """The rule there in plain decimals; None where it has to be judged in full in any case."""
        bench = self.bench
        noted: list[Hashable] = []
        bench.shape = noted
        try:
            if plan.applies_when is not None and bench.answer(plan.applies_when, station) is False:
                return None
            value, _ = plan.value(bench, station)
            limits = self._limits(plan, station)
        except (NotPlain, ArithmeticError):
            return None
        return Sight(tuple(noted), value, limits)

    def _limits(self, plan: Plan, station: Station) -> Mapping[str, Plain]:
        """The limits, line by line as `limits_at` reads them."""
        bench = self.bench
        limits: dict[str, Plain] = {}
        for when, sets, shift, from_the_maker in plan.lines:
            if when is not None and bench.answer(when, station) is not True:
                continue
            if from_the_maker:
                raise NotPlain
            bench.so_far = limits
            fresh = {part: run(bench, station) for part, run in sets}
            limits = {**limits, **fresh} if limits else fresh
            if shift is not None:
                by, reach = shift(bench, station)
                shifted = {part: limits[part] for part in SHIFTED if part in limits}
                limits |= {part: (limit + by, of_limit + reach) for part, (limit, of_limit) in shifted.items()}
        return limits

    def finding(self, plan: Plan, sight: Sight, station: Station) -> Finding | None:
        """The finding that is like others of its shape; None where none is known, or it is not plainly inside."""
        shape, value, given = sight
        pattern = plan.patterns.get(shape)
        if pattern is None:
            return None
        sure, rooms = self.by_room_alone, []
        for side, part, enough, _, _, _, _ in pattern.sides:
            limit = given[part][0]
            room = value - limit if side == "least" else limit - value
            rooms.append(room)
            sure = sure and room > enough
        verdict, side, _ = SURELY_IN_SPEC if sure else decide(pattern.margins(rooms), self.judge.acceptance)
        like = pattern.finding
        limits = _limits_like(like.limits, given)
        if limits is None or value < NOTHING:
            return None
        if not sure and (verdict not in INSIDE or _width(limits) <= pattern.coarsest):
            return None
        lacking = self.evidence.sign_offs.lacking(pattern.sign_offs, station) if pattern.sign_offs else ()
        rests_on = like.rests_on
        if lacking != rests_on.unsigned:
            rests_on = rests_on._replace(unsigned=lacking)
        low, high = value - pattern.half, value + pattern.half
        own = (
            station,
            Verdict.NOT_PROVEN if lacking else verdict,
            verdict if lacking else None,
            "",
            side,
            None if pattern.half else low,
            low,
            high,
            like.unit,
            like.U,
            limits,
        )
        behind = Likeness(self.judge, pattern, station, rooms)
        return made_finding((*like[:4], *own, *like[15:20], rests_on, *like[21:-2], behind, False))

    def learn(self, plan: Plan, sight: Sight, judged: Judgement, finding: Finding) -> None:
        """Keep what was judged in full as the pattern for all that have its shape, if it is inside its limits itself
        and nothing was found on the way that plain decimals do not see."""
        value, rests_on, sets = judged.value, finding.rests_on, judged.standing.sets
        known = {part: limit.low.value for part, limit in sets.items() if limit is not None and limit.low is not None}
        if (
            judged.decision.verdict not in INSIDE
            or judged.supposed
            or value is None
            or value.low is None
            or (value.low.value, known) != (sight.value, {part: limit for part, (limit, _) in sight.limits.items()})
            or finding.other_ways
            or rests_on.suspect
            or rests_on.stale
        ):
            return
        slopes, readings, worn = value.low.slopes, self.evidence.readings, judged.limits.worn
        worths = [abs(Decimal(slopes[n])) * readings[n].place_value for n in judged.trace.found if n in slopes]
        coarsest = max(worths, default=NOTHING)
        plan.patterns[sight.shape] = Pattern(
            judged.rule,
            finding,
            tuple(
                [
                    Side(
                        margin.side,
                        f"wear {margin.side}" if margin.side in worn else margin.side,
                        max(enough_for_any(margin), coarsest / 2),
                        margin.U_low,
                        margin.U_high,
                        margin.half,
                        margin.u,
                    )
                    for margin in judged.margins
                ]
            ),
            judged.doubt.half,
            tuple([need for need in needs_of(judged) if need in self.judge.bench.of.stack.sign_offs]),
            coarsest,
        )

    def plan(self, chain: RuleChain) -> Plan | None:
        """How to judge a rule; None where more than its own lines, or more than plain decimals, has a say in it."""
        rule, wear_when = chain.versions[-1], self.judge.bench.of.stack.wear_when
        if (
            len(chain.versions) > 1
            or rule.name in self.judge.own
            or self.facts_in_doubt
            or self.evidence.barring.get(rule.name)
            or rule.from_the_maker
            or not rule.limits_wanted
            or not self.bench.one_way(rule.formula.text)
            or not all(grave.anywhere for grave in rule.importance.values())
            or (wear_when is not None and not wear_when.anywhere)
        ):
            return None
        try:
            value, applies_when = plainly(rule.formula), self.bench.asked(rule.applies_when)
            lines = [line for each in rule.lines for line in self._line(each)]
        except NotPlain:
            return None
        return Plan(applies_when[0], value, tuple(lines), {}) if applies_when else None

    def _line(self, line: LimitLine) -> Sequence[Line]:
        """The line where it may count, or nothing. Raises NotPlain where plain decimals are not enough for it."""
        sets, shift = line.sets.items(), line.shift
        return [
            Line(
                when,
                tuple([(part, plainly(formula)) for part, formula in sets]),
                None if shift is None else plainly(shift),
                line.from_the_maker,
            )
            for when in self.bench.asked(line.when)
        ]


def _limits_like(like: Limits, given: Mapping[str, Plain]) -> Limits | None:
    """These limits in the place of those; None where the aim lies outside them, which takes a word more."""
    least, aim, most, wear_least, wear_most = [given.get(part, _NO_LIMIT)[0] for part in PARTS]
    if aim is not None and ((least is not None and aim < least) or (most is not None and aim > most)):
        return None
    if like.worn:
        least, most = wear_least if "least" in like.worn else least, wear_most if "most" in like.worn else most
    return made_limits((least, aim, most, like.worn, wear_least, wear_most, False, like.notes, like.sources))


def _width(limits: Limits) -> Decimal:
    """How wide a tolerance is; without end where nothing bounds it above."""
    return _ENDLESS if limits.most is None else limits.most - (limits.least or NOTHING)


class Likeness(Basis):
    """What a finding stands on that was found by its likeness: judged in full when somebody asks for more."""

    def __init__(self, judge: Judge, pattern: Pattern, station: Station, rooms: Sequence[Decimal]) -> None:
        super().__init__(judge, pattern.finding.unit)
        self.pattern = pattern
        self.station = station
        self.rooms = rooms

    def in_full(self) -> Judgement:
        with localcontext(CONTEXT):
            return self.judge.judge(self.pattern.rule, self.station)

    @property
    def sides(self) -> tuple[Margin, ...]:
        return self.pattern.margins(self.rooms)

    @property
    def margins(self) -> tuple[SideMargin, ...]:
        """As of any finding, without the parts of a margin that nobody asked for."""
        sides = zip(self.rooms, self.pattern.sides, strict=True)
        return tuple(
            [
                made_side_margin((side, room, U_high if room < NOTHING else U_low))
                for room, (side, _, _, U_low, U_high, _, _) in sides
            ]
        )

    @property
    def conformance(self) -> float | None:
        """As of any finding."""
        if self.judge.acceptance.simple:
            return None
        return probably_inside([(room, side.u) for room, side in zip(self.rooms, self.pattern.sides, strict=True)])
