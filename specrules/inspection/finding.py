"""From a judgement and its evidence to a finding: everything about one rule at one station, in one frozen value."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from specrules.formula import NotEvaluable, Value, explain
from specrules.formula.bounds import subtract
from specrules.inspection.able import unable
from specrules.inspection.bench import Trace
from specrules.inspection.decide import BEYOND, STATEMENTS, Margin, Verdict, conformity
from specrules.inspection.judge import Judge, Judgement
from specrules.inspection.parts import (
    IMPORTANCES,
    Beside,
    Finding,
    Input,
    OtherWay,
    RestsOn,
    SideMargin,
)
from specrules.inspection.remedy import otherwise, steps, word_of
from specrules.quantity import Dimension, Unit, show
from specrules.sheet import Reading

LENGTH = Dimension(length=1)


def shown_unit(unit: Unit, sheet_unit: Unit | None) -> Unit:
    """Lengths are shown in the sheet's unit where it states one; all else as the pack says."""
    return sheet_unit if sheet_unit is not None and unit.dimension == LENGTH else unit


def inputs(trace: Trace, judge: Judge) -> tuple[Input, ...]:
    """Every reading and fact that a value stands on, in the order in which it was met."""
    of = judge.bench.of
    stack = of.stack
    found = []
    for number in trace.found:
        reading = of.readings[number]
        measurand = stack.measurands[reading.name]
        found.append(
            Input(
                reading.name,
                dict(zip(measurand.at, reading.station, strict=True)),
                dict(zip(measurand.positions, reading.position or (), strict=False)),
                reading.value, reading.low, reading.high, reading.U, reading.unit, reading.text,
                reading.gauge, reading.place,
            )
        )  # fmt: skip
    for place in trace.facts:
        fact = of.fact_places.get(place)
        if fact is not None and isinstance(fact.value, Decimal | int):
            entry = stack.facts[fact.name]
            unit = entry.unit or Unit("", Dimension(), 1)  # type: ignore[arg-type]  # a count or a bare number
            number_value = Decimal(fact.value)
            station = dict(zip(entry.at, fact.station, strict=False))
            found.append(
                Input(
                    fact.name,
                    station,
                    {},
                    number_value,
                    number_value,
                    number_value,
                    None,
                    unit,
                    fact.text,
                    "",
                    fact.place,
                )
            )
    return tuple(found)


def written_places(readings: Sequence[Reading], numbers: Sequence[int], unit: Unit) -> int:
    """Decimals in `unit` that show every place that was written; the middle of a bracket takes one more."""
    finest = min(
        (
            reading.place_value if reading.low == reading.high else reading.place_value / 2
            for number in numbers
            if (reading := readings[number]).unit.dimension == unit.dimension
        ),
        default=None,
    )
    if finest is None or finest <= 0:
        return 2
    places = 0
    size = unit.to_base(Decimal(1)) - unit.to_base(Decimal(0))
    while size > finest * Decimal("1.0000001") and places < 9:
        size /= 10
        places += 1
    return places


def importance(judge: Judge, judged: Judgement, word: str) -> str:
    """How grave it is: of the side beyond, else the gravest of both; the gravest where the place is not known."""
    asked = [word] if word else list(judged.rule.words)
    given = [
        answer
        for each in asked
        if (formula := judged.rule.importance.get(each)) is not None
        and set(formula.each) <= set(judged.station)
        and isinstance(answer := formula.answer(judge.bench, judged.station), str)
    ]
    return min(given, key=IMPORTANCES.index, default=IMPORTANCES[0])


def build(
    judge: Judge,
    judged: Judgement,
    verdict: Verdict,
    rests_on: RestsOn,
    beside: tuple[Beside, ...],
    notes: tuple[str, ...],
    others: tuple[OtherWay, ...],
    spread: tuple[Decimal, Decimal] | None,
    sheet_unit: Unit | None,
    work_out: bool = True,
    budget: bool = False,
) -> Finding:
    """Put a finding together; with its formula in numbers (`work_out`) and its budget only where they are wanted."""
    rule, decision, value = judged.rule, judged.decision, judged.value
    beyond = decision.verdict in BEYOND
    word = word_of(judged)
    unit = shown_unit(rule.unit, sheet_unit)
    outcomes = steps(judge, judged, word) if beyond else ()
    low, high = _ends(judge, value)
    exact = low is not None and low == high
    way = next((way.name for way in judged.trace.ways.values()), "")
    point = value.low if value is not None and value.exact else None
    doubt, causes = judge.doubt(point), judge.bench.of.causes
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
        range=spread,
        unit=unit,
        U=doubt.expanded if exact else None,
        limits=judged.limits,
        beyond=decision.beyond,
        beyond_at_most=_at_most(judged, decision.side) if beyond else None,
        margins=tuple(_side_margin(margin) for margin in judged.margins),
        way=way,
        other_ways=others,
        formula=_formula_text(judged),
        worked=worked_text(judge, judged, unit) if work_out and value is not None else "",
        inputs=inputs(judged.trace, judge),
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
        places=written_places(judge.bench.of.readings, list(judged.trace.found), unit),
        place=rule.place,
        conformance=None if causes.simple else conformity(judged.margins),
        conformance_normal=doubt.normal,
        budget=causes.budget(point) if budget and point is not None else (),
        unable=None if causes.simple or point is None else unable(point, doubt.expanded, judged.limits, judge.bench.of),
    )


def _side_margin(margin: Margin) -> SideMargin:
    """A margin with U towards the limit: downwards while it is inside, upwards once it is beyond."""
    beyond = margin.high is not None and margin.high < 0
    return SideMargin(margin.side, margin.low, margin.U_high if beyond else margin.U_low)


def _ends(judge: Judge, value: Value | None) -> tuple[Decimal | None, Decimal | None]:
    """What is sure of a value: one number twice, or the ends of a range or of the brackets that it stands on."""
    if value is None:
        return None, None
    half = judge.doubt(value.low).half if value.exact else 0
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


def worked_text(judge: Judge, judged: Judgement, unit: Unit) -> str:
    """The formula with its numbers in it, in the unit shown."""
    bench, stack = judge.bench, judge.bench.of.stack
    places = written_places(bench.of.readings, list(judged.trace.found), unit)

    def shown(value: Value) -> str:
        end = value.low if value.low is not None else value.high
        if end is None:
            return "not measured"
        if (half := judge.doubt(end).half) and value.exact:
            return f"{show(end.value - half, unit, places)} to {show(end.value + half, unit, places)}"
        text = show(end.value, unit, places)
        return text if value.exact else f"at least {text}" if value.high is None else f"at most {text}"

    def title(name: str) -> str:
        thing = stack.measurands.get(name) or stack.figures.get(name) or stack.facts.get(name)
        return (
            (thing.title[:1].lower() + thing.title[1:]) if thing is not None and thing.title else name.replace("_", " ")
        )

    formula, station = judged.rule.formula, judged.station
    for (name, labels), way in judged.trace.ways.items():
        if name == formula.text:
            formula, station = way.formula, dict(zip(stack.figures[name].each, labels, strict=True))
            break
    if formula.dimension != unit.dimension:
        return ""
    outer, bench.trace = bench.trace, Trace()
    try:
        return explain(formula, bench, station, shown, title)
    except NotEvaluable:
        return ""
    finally:
        bench.trace = outer


def other_ways(judge: Judge, judged: Judgement) -> tuple[OtherWay, ...]:
    """What the other ways to the judged figure say, where they have their readings, and whether they agree with it."""
    stack, value = judge.bench.of.stack, judged.value
    place = next(((n, labels) for n, labels in judged.trace.ways if n == judged.rule.formula.text), None)
    if place is None or value is None or value.low is None or not value.exact:
        return ()
    used, figure = judged.trace.ways[place], stack.figures[place[0]]
    found = []
    for way in figure.ways:
        if way.name == used.name:
            continue
        worked = judge.bench.way(figure, way, place[1])
        if (
            worked is None
            or worked.value is None
            or not worked.begun
            or not worked.value.exact
            or worked.value.low is None
        ):
            continue
        apart = subtract(value, worked.value).low
        U = judge.doubt(worked.value.low).expanded
        mine = judge.doubt(value.low).expanded
        both_known = bool(U) and bool(mine)
        agrees = abs(apart.value) <= judge.doubt(apart).expanded if both_known and apart is not None else None
        found.append(OtherWay(way.name, worked.value.low.value, U, agrees, surer=mine > U))
    return tuple(found)


def statement(finding: Finding) -> str:
    """The statement of conformity that goes with a verdict, or that it would have."""
    return STATEMENTS.get(finding.verdict, "") or STATEMENTS.get(finding.would_be or finding.verdict, "")
