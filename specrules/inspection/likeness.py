"""Stations that were measured like one that has been judged already: as sure as that one, each with its own value.

A filter in front of the judge. It passes what is plainly inside its limits and leaves all else to be judged in full:
whatever is missing, in question, or beyond a limit. What it passes says the same as the judge would have said.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from decimal import Decimal, localcontext
from operator import attrgetter
from typing import NamedTuple

from specrules.formula import Formula, NotPlain, Plain, Plainly, Station, plainly, told_apart
from specrules.inspection.able import width_of
from specrules.inspection.basis import Basis
from specrules.inspection.decide import INSIDE, Margin, Verdict, decide, enough_for_any, probably_inside
from specrules.inspection.judge import Judge, Judgement
from specrules.inspection.limits import SHIFTED
from specrules.inspection.parts import Finding, Limits, SideMargin, made_finding, made_limits, made_side_margin
from specrules.inspection.plain_bench import PlainBench
from specrules.inspection.weigh import Evidence, needs_of
from specrules.pack import LimitLine, Rule, RuleChain
from specrules.quantity import CONTEXT

NOTHING = Decimal(0)
IN_SPEC = Verdict.IN_SPEC
_ROOM = attrgetter("value")
_NONE = (None, 0.0)

_at = Finding._fields.index
_COMMON = (
    slice(_at("station")),
    slice(_at("limits") + 1, _at("rests_on")),
    slice(_at("rests_on") + 1, _at("behind")),
)
"""The runs of a finding's parts that all of one pattern share; what lies between them is each one's own."""


class Line(NamedTuple):
    """A limit line in plain decimals. `when`: what it hangs on, where that may differ from station to station."""

    when: Formula | None
    sets: tuple[tuple[str, Plainly], ...]
    shift: Plainly | None
    from_the_maker: bool


class Side(NamedTuple):
    """One side on which a pattern has a limit."""

    side: str  # least or most
    part: str  # the limit that counts there: the side's own, or its wear limit
    enough: Decimal  # with more room than this it is in spec under any decision rule but one of probability
    U_low: Decimal
    U_high: Decimal
    half: Decimal


class Pattern(NamedTuple):
    """What the findings of one rule with one shape have in common, taken from the first, which was judged in full."""

    rule: Rule
    finding: Finding
    common: tuple[tuple[object, ...], ...]  # what all of them share, see _COMMON
    sides: tuple[Side, ...]
    half: Decimal
    sign_offs: tuple[str, ...]
    us: tuple[float, ...]  # of the margins, side by side
    coarsest: Decimal  # the most that the last written place of a reading is worth in the value

    def margins(self, told: Sequence[SideMargin]) -> tuple[Margin, ...]:
        """The margins of another value in full, from how much room it has on each side."""
        return tuple(
            [
                Margin(each.side, room, room, each.U_low, each.U_high, half=each.half, u=u)
                for each, (_, room, _), u in zip(self.sides, told, self.us, strict=True)
            ]
        )


class Plan(NamedTuple):
    """How a rule is judged in plain decimals, and the patterns of it that are known so far, by their shape."""

    applies_when: Formula | None
    value: Plainly
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

    def look(self, plan: Plan, station: Station) -> Finding | Sight | None:
        """The finding there, where it is plainly inside its limits and one of its shape is known; else what there is to
        learn from the judgement in full, if anything."""
        bench = self.bench
        noted: list[Hashable] = []
        bench.shape = noted
        try:
            if plan.applies_when is not None and bench.answer(plan.applies_when, station) is False:
                return None
            value, _ = plan.value.run(bench, station)
            limits = self._limits(plan, station)
        except (NotPlain, ArithmeticError):
            return None
        shape = tuple(noted)
        pattern = plan.patterns.get(shape)
        return Sight(shape, value, limits) if pattern is None else self._like(pattern, value, limits, station)

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
            fresh = {part: formula.run(bench, station) for part, formula in sets}
            limits = {**limits, **fresh} if limits else fresh
            if shift is not None:
                by, reach = shift.run(bench, station)
                shifted = {part: limits[part] for part in SHIFTED if part in limits}
                limits |= {part: (limit + by, of_limit + reach) for part, (limit, of_limit) in shifted.items()}
        return limits

    def _like(self, pattern: Pattern, value: Decimal, given: Mapping[str, Plain], station: Station) -> Finding | None:
        """The finding of a value that is as sure as the pattern's; None where it is not plainly inside its limits."""
        like, (before, between, after), sides, half, sign_offs = pattern[1:6]
        sure, margins = self.by_room_alone, []
        for side, part, enough, U, _, _ in sides:
            limit = given[part][0]
            room = value - limit if side == "least" else limit - value
            margins.append(made_side_margin((side, room, U)))
            sure = sure and room > enough
        limits = _limits_like(like.limits, given)
        if limits is None or value < NOTHING:
            return None
        verdict, side = IN_SPEC, ""
        if not sure:
            verdict, side, _ = decide(pattern.margins(margins), self.judge.acceptance)
            width = width_of(limits)
            coarse = width is not None and width <= pattern.coarsest
            by_a_hair = any(room is None or room < NOTHING for _, room, _ in margins)
            if verdict not in INSIDE or by_a_hair or coarse:
                return None
        lacking = self.evidence.sign_offs.lacking(sign_offs, station) if sign_offs else ()
        rests_on = like.rests_on
        if lacking != rests_on.unsigned:
            rests_on = rests_on._replace(unsigned=lacking)
        return made_finding(
            (
                *before,
                station,
                Verdict.NOT_PROVEN if lacking else verdict,
                verdict if lacking else None,
                "",
                side,
                None if half else value,
                value - half if half else value,
                value + half if half else value,
                like.unit,
                like.U,
                limits,
                *between,
                rests_on,
                *after,
                Likeness(self.judge, pattern, station, tuple(margins)),
                False,
            )
        )

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
        parts: tuple[object, ...] = tuple(finding)
        plan.patterns[sight.shape] = Pattern(
            judged.rule,
            finding,
            tuple([parts[run] for run in _COMMON]),
            tuple(
                [
                    Side(
                        margin.side,
                        f"wear {margin.side}" if margin.side in worn else margin.side,
                        max(enough_for_any(margin), coarsest / 2),
                        margin.U_low,
                        margin.U_high,
                        margin.half,
                    )
                    for margin in judged.margins
                ]
            ),
            judged.doubt.half,
            tuple([need for need in needs_of(judged) if need in self.judge.bench.of.stack.sign_offs]),
            tuple([margin.u for margin in judged.margins]),
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
            or self.bench.closed(rule.formula)
            or not self.bench.one_way(rule.formula.text)
            or not all(grave.anywhere for grave in rule.importance.values())
            or (wear_when is not None and not wear_when.anywhere)
        ):
            return None
        try:
            applies_when = self.bench.asked(rule.applies_when)
            value = plainly(rule.formula)
            lines = [_line(line, when) for line in rule.lines for when in self.bench.asked(line.when)]
        except NotPlain:
            return None
        shifts = [line.shift for line in lines if line.shift is not None]
        formulas = [value, *(formula for line in lines for _, formula in line.sets), *shifts]
        if not applies_when or not told_apart(use for formula in formulas for use in self.bench.uses(formula)):
            return None
        return Plan(applies_when[0], value, tuple(lines), {})


def _line(line: LimitLine, when: Formula | None) -> Line:
    """The line in plain decimals. Raises NotPlain where they are not enough for it."""
    sets = tuple([(part, plainly(formula)) for part, formula in line.sets.items()])
    return Line(when, sets, None if line.shift is None else plainly(line.shift), line.from_the_maker)


def _limits_like(like: Limits, given: Mapping[str, Plain]) -> Limits | None:
    """These limits in the place of those; None where the aim lies outside them, which takes a word more."""
    known = given.get
    least, aim, most = known("least", _NONE)[0], known("aim", _NONE)[0], known("most", _NONE)[0]
    wear_least, wear_most = known("wear least", _NONE)[0], known("wear most", _NONE)[0]
    if aim is not None and ((least is not None and aim < least) or (most is not None and aim > most)):
        return None
    if like.worn:
        least, most = wear_least if "least" in like.worn else least, wear_most if "most" in like.worn else most
    return made_limits((least, aim, most, like.worn, wear_least, wear_most, False, like.notes, like.sources))


class Likeness(Basis):
    """What a finding stands on that was found by its likeness: judged in full when somebody asks for more."""

    def __init__(self, judge: Judge, pattern: Pattern, station: Station, margins: tuple[SideMargin, ...]) -> None:
        self.judge = judge
        self.unit = pattern.finding.unit
        self.pattern = pattern
        self.station = station
        self.told = margins

    def in_full(self) -> Judgement:
        with localcontext(CONTEXT):
            return self.judge.judge(self.pattern.rule, self.station)

    @property
    def margins(self) -> tuple[SideMargin, ...]:
        """As of any finding."""
        return self.told

    @property
    def conformance(self) -> float | None:
        """As of any finding."""
        simple = self.judge.bench.of.causes.simple
        return None if simple else probably_inside(map(_ROOM, self.told), self.pattern.us)
