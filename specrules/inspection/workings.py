"""The formula of a finding with its numbers in it, as the station has them."""

from __future__ import annotations

from functools import partial

from specrules.evaluate import NotEvaluable, Value
from specrules.evaluate.explanation import combines, explain, plain
from specrules.formula import Formula, Station
from specrules.inspection.judge import Judge, Judgement
from specrules.quantity import Unit, show


def _used(judge: Judge, judged: Judgement) -> tuple[Formula, Station]:
    """The formula judged and its station; of a rule that judges a figure, the way that the figure was got by."""
    formula, figures = judged.rule.formula, judge.environment.binding.spec.figures
    for (name, labels), way in judged.trace.ways.items():
        if name == formula.text:
            return way.formula, dict(zip(figures[name].each, labels, strict=True))
    return formula, judged.station


def combines_readings(judge: Judge, judged: Judgement) -> bool:
    """Whether the formula is more than one reading."""
    formula, station = _used(judge, judged)
    environment, scope = judge.environment, judge.environment.binding.spec.scope
    try:
        return environment.aside(lambda: combines(formula, scope, environment, station))[0]
    except NotEvaluable:
        return False


def worked_out(judge: Judge, judged: Judgement, unit: Unit) -> str:
    """The formula with its numbers in it, in the unit shown."""
    environment, spec = judge.environment, judge.environment.binding.spec
    places = environment.binding.digits.places(judged.trace.found, unit)

    def shown(value: Value) -> str:
        end = value.low if value.low is not None else value.high
        if end is None:
            return "not measured"
        if (half := judge.uncertainty(end).half) and value.exact:
            return f"{show(end.value - half, unit, places)} to {show(end.value + half, unit, places)}"
        text = show(end.value, unit, places)
        return text if value.exact else f"at least {text}" if value.high is None else f"at most {text}"

    def title(name: str) -> str:
        thing = spec.measurands.get(name) or spec.figures.get(name) or spec.facts.get(name)
        return (
            (thing.title[:1].lower() + thing.title[1:]) if thing is not None and thing.title else name.replace("_", " ")
        )

    formula, station = _used(judge, judged)
    if formula.dimension != unit.dimension:
        return ""
    try:
        other = partial(plain, lengths_in=spec.lengths_in)
        return environment.aside(lambda: explain(formula, spec.scope, environment, station, shown, title, other))[0]
    except NotEvaluable:
        return ""
