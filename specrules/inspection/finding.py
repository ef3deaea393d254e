"""From a judgement and its evidence to a finding: everything about one rule at one station, in one frozen value."""

from __future__ import annotations

from decimal import Decimal

from specrules.evaluate import Value, label, subtract
from specrules.inspection.basis import Basis
from specrules.inspection.judge import Judge, Judgement
from specrules.inspection.parts import (
    Beside,
    Finding,
    OtherWay,
    RestsOn,
)
from specrules.inspection.remedy import otherwise, steps, word_of
from specrules.quantity import Dimension, Unit
from specrules.vocabulary import BEYOND, IMPORTANCES, Reason, Verdict

LENGTH = Dimension(length=1)


def shown_unit(unit: Unit, sheet_unit: Unit | None) -> Unit:
    """Lengths are shown in the sheet's unit where it states one; all else as the pack says."""
    return sheet_unit if sheet_unit is not None and unit.dimension == LENGTH else unit


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
    verdict: Verdict,
    rests_on: RestsOn,
    beside: tuple[Beside, ...],
    notes: tuple[Reason, ...],
    others: tuple[OtherWay, ...],
    sheet_unit: Unit | None,
) -> Finding:
    """Put a finding together."""
    rule, decision, value = judged.rule, judged.decision, judged.value
    beyond = decision.verdict in BEYOND
    word = word_of(judged)
    unit = shown_unit(rule.unit, sheet_unit)
    outcomes = steps(judge, judged, word) if beyond else ()
    uncertainty = judged.uncertainty
    low, high = _ends(value, uncertainty.half)
    exact = low is not None and low == high
    return Finding(
        rule=rule.name,
        title=rule.title,
        group=rule.group,
        pack=rule.pack,
        station=judged.station,
        verdict=verdict,
        would_be=decision.verdict if verdict is not decision.verdict else None,
        side=word,
        limit_side=decision.side,
        value=low if exact else None,
        low=low,
        high=high,
        unit=unit,
        U=uncertainty.expanded if exact else None,
        limits=judged.limits,
        beyond=decision.beyond,
        beyond_at_most=_at_most(judged, decision.side) if beyond else None,
        way=next((way.name for way in judged.trace.ways.values()), ""),
        other_ways=others,
        formula=_formula_text(judged),
        rests_on=rests_on,
        beside=beside,
        importance=importance(judge, judged, word),
        hold_point=rule.hold_point,
        because=rule.because.get(word, ""),
        steps=outcomes,
        otherwise=otherwise(outcomes, rule.otherwise) if beyond else "",
        caution=rule.caution,
        does_not_test=rule.does_not_test,
        source=judged.limits.sources[-1] if judged.limits.from_sheet and judged.limits.sources else rule.source,
        notes=notes,
        places=judge.environment.binding.digits.places(judged.trace.found, unit),
        conformance_normal=uncertainty.normal,
        place=rule.place,
        behind=Basis(judge, unit, judged),
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
    ways = list(judged.trace.ways.values())
    return (
        ways[0].formula.text if ways and judged.rule.formula.text in _figure_names(judged) else judged.rule.formula.text
    )


def _figure_names(judged: Judgement) -> set[str]:
    return {name for name, _ in judged.trace.ways}


def other_ways(judge: Judge, judged: Judgement) -> tuple[OtherWay, ...]:
    """What the other ways to the judged figure say, where they have their readings, and whether they agree with it."""
    stack, value = judge.environment.binding.stack, judged.value
    place = next(((n, labels) for n, labels in judged.trace.ways if n == judged.rule.formula.text), None)
    if place is None or value is None or value.low is None or not value.exact:
        return ()
    used, figure = judged.trace.ways[place], stack.figures[place[0]]
    found = []
    for way in figure.ways:
        if way.name == used.name:
            continue
        worked = judge.environment.way(figure, way, place[1])
        if (
            worked is None
            or worked.value is None
            or not worked.begun
            or not worked.value.exact
            or worked.value.low is None
        ):
            continue
        apart = subtract(value, worked.value).low
        U = judge.uncertainty(worked.value.low).expanded
        mine = judged.uncertainty.expanded
        both_known = bool(U) and bool(mine)
        agrees = abs(apart.value) <= judge.uncertainty(apart).expanded if both_known and apart is not None else None
        found.append(OtherWay(way.name, worked.value.low.value, U, agrees, surer=mine > U))
    return tuple(found)


def statement(finding: Finding) -> str:
    """The statement of conformity that goes with a verdict, or that it would have."""
    return finding.verdict.statement or (finding.would_be or finding.verdict).statement
