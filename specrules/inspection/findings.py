"""From a judgement and its evidence to a finding: one rule at one station, in the unit that it is shown in."""

from __future__ import annotations

from decimal import Decimal

from specrules.evaluate import Value, label, subtract
from specrules.inspection.finding_parts import About, Limits, OtherWay, RestsOn
from specrules.inspection.judge import Judge, Judgement
from specrules.inspection.remedy import word_of
from specrules.inspection.report import Finding
from specrules.pack import Rule
from specrules.quantity import Unit
from specrules.vocabulary import BEYOND, IMPORTANCES, Reason, Verdict


def about(rule: Rule) -> About:
    """What all findings of a rule share."""
    return About(
        title=rule.title,
        group=rule.group,
        pack=rule.pack,
        unit=rule.unit,
        hold_point=rule.hold_point,
        because=rule.because,
        caution=rule.caution,
        does_not_test=rule.does_not_test,
        source=rule.source,
        place=rule.place,
    )


def value_in(unit: Unit, value: Decimal | None) -> Decimal | None:
    """A value in base units, in a unit."""
    return None if value is None else unit.from_base(value)


def difference_in(unit: Unit, difference: Decimal | None) -> Decimal | None:
    """A difference in base units, in a unit, whose zero point does not shift it."""
    return None if difference is None else unit.difference_from_base(difference)


def limits_in(unit: Unit, limits: Limits) -> Limits:
    """Limits in base units, in a unit."""
    return limits._replace(
        least=value_in(unit, limits.least),
        aim=value_in(unit, limits.aim),
        most=value_in(unit, limits.most),
        wear_least=value_in(unit, limits.wear_least),
        wear_most=value_in(unit, limits.wear_most),
    )


def importance(judge: Judge, judged: Judgement, word: str) -> str:
    """How grave it is: of the side beyond, else the gravest of both; the gravest where the place is not known."""
    asked = [word] if word else list(judged.rule.words)
    given = [
        answer
        for each in asked
        if (formula := judged.rule.importance.get(each)) is not None
        and set(formula.each) <= set(judged.station)
        and (answer := label(formula, judge.environment, judged.station)) is not None
    ]
    return min(given, key=IMPORTANCES.index, default=IMPORTANCES[0])


def build(
    judge: Judge,
    judged: Judgement,
    shared: About,
    verdict: Verdict,
    rests_on: RestsOn,
    notes: tuple[Reason, ...],
    others: tuple[OtherWay, ...],
    limits: Limits,
) -> Finding:
    """Put a finding together. `limits`: those of the judgement, in the unit shown."""
    decision, uncertainty, unit = judged.decision, judged.uncertainty, shared.unit
    word = word_of(judged)
    low, high = _ends(judged.value, uncertainty.half)
    exact = low is not None and low == high
    shown = value_in(unit, low)
    return Finding(
        rule=judged.rule.name,
        about=shared,
        station=judged.station,
        verdict=verdict,
        would_be=decision.verdict if verdict is not decision.verdict else None,
        side=word,
        limit_side=decision.side,
        value=shown if exact else None,
        low=shown,
        high=shown if exact else value_in(unit, high),
        U=difference_in(unit, uncertainty.expanded) if exact else None,
        limits=limits,
        beyond=difference_in(unit, decision.beyond),
        beyond_at_most=difference_in(unit, _at_most(judged, decision.side)) if decision.verdict in BEYOND else None,
        way=next((way.name for way in judged.trace.ways.values()), ""),
        other_ways=others,
        formula=_formula_text(judged),
        rests_on=rests_on,
        importance=importance(judge, judged, word),
        notes=notes,
        places=judge.environment.binding.digits.places(judged.trace.found, unit),
    )


def _ends(value: Value | None, half: Decimal) -> tuple[Decimal | None, Decimal | None]:
    """What is sure of a value: one number twice, or the ends of a range or of the brackets that it stands on."""
    if value is None:
        return None, None
    return (
        None if value.low is None else value.low.value - half,
        None if value.high is None else value.high.value + half,
    )


def _at_most(judged: Judgement, side: str) -> Decimal | None:
    margin = next((margin for margin in judged.margins if margin.side == side), None)
    return None if margin is None or margin.low is None else margin.half - margin.low


def _formula_text(judged: Judgement) -> str:
    """The formula as its pack writes it; of a figure with ways, the way that was used."""
    text, ways = judged.rule.formula.text, judged.trace.ways
    if ways and any(name == text for name, _ in ways):
        return str(next(iter(ways.values())).formula.text)
    return str(text)


def other_ways(judge: Judge, judged: Judgement, unit: Unit) -> tuple[OtherWay, ...]:
    """What the other ways to the judged figure say, where they have their readings, and whether they agree with it."""
    spec, value = judge.environment.binding.spec, judged.value
    place = next(((n, labels) for n, labels in judged.trace.ways if n == judged.rule.formula.text), None)
    if place is None or value is None or value.low is None or not value.exact:
        return ()
    used, figure = judged.trace.ways[place], spec.figures[place[0]]
    found = []
    for way in figure.ways:
        if way.name == used.name:
            continue
        worked = judge.environment.way(figure, way, place[1])
        if worked is None or worked.value is None or not worked.begun or not worked.value.exact:
            continue
        point = worked.value.low
        assert point is not None  # it is exact
        apart = subtract(value, worked.value).low
        U = judge.uncertainty(point).expanded
        mine = judged.uncertainty.expanded
        both_known = bool(U) and bool(mine)
        agrees = abs(apart.value) <= judge.uncertainty(apart).expanded if both_known and apart is not None else None
        shown = unit.from_base(point.value), unit.difference_from_base(U)
        found.append(OtherWay(way.name, *shown, agrees, surer=mine > U))
    return tuple(found)


def statement(finding: Finding) -> str:
    """The statement of conformity that goes with a verdict, or that it would have."""
    return finding.verdict.statement or (finding.would_be or finding.verdict).statement
