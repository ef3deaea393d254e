"""What each step of a remedy would bring: the value moved by the step, judged again against the same limits."""

from __future__ import annotations

from specrules.evaluate import NotEvaluable, Value, add, evaluate
from specrules.inspection.choosing import chosen
from specrules.inspection.decision import Decision
from specrules.inspection.finding_parts import StepOutcome
from specrules.inspection.judge import Judge, Judgement
from specrules.pack import Step
from specrules.pack.in_units import step_in
from specrules.quantity import Unit
from specrules.vocabulary import BEYOND, INSIDE


def steps(judge: Judge, judged: Judgement, word: str, unit: Unit) -> tuple[StepOutcome, ...]:
    """The steps for this side, each with what it would bring."""
    return tuple(_outcome(judge, judged, step, unit) for step in judged.rule.remedy.get(word, ()))


def _outcome(judge: Judge, judged: Judgement, step: Step, unit: Unit) -> StepOutcome:
    step = step_in(step, judge.environment.binding.spec.lengths_in)
    if step.one_of:
        return _one_of(judge, judged, step, unit)
    value, moves = judged.value, step.moves
    unknown = StepOutcome(step.do, None, None, "", None)
    if moves is None or value is None:
        return unknown
    try:
        by = evaluate(moves, judge.environment, judged.station)
    except NotEvaluable:
        return unknown
    if by is None or not by.whole:
        return unknown
    moved = add(value, by)
    return _brought(judged, step.do, moved, judge.again(judged, moved), unit)


def _one_of(judge: Judge, judged: Judgement, step: Step, unit: Unit) -> StepOutcome:
    """What the best size that is sold would bring; none where it cannot be told, and that there is none."""
    best = chosen(judge, judged, step, unit)
    title = judge.environment.binding.spec.sold[step.one_of].title
    if isinstance(best, bool):
        return StepOutcome(filled(step, f"({title})"), None, None, "", None, "" if best else title)
    return _brought(judged, filled(step, best.text), best.moved, best.decision, unit)


def filled(step: Step, size: str) -> str:
    """What to do, with the size in its place."""
    return step.do.replace(f"{{{step.one_of}}}", size)


def _brought(judged: Judgement, do: str, moved: Value, decision: Decision, unit: Unit) -> StepOutcome:
    """What a value that a step has moved comes to."""
    end = moved.low if moved.low is not None else moved.high
    word = word_for(judged, decision.side) if decision.verdict in BEYOND else ""
    shown = None if end is None else unit.from_base(end.value)
    beyond = None if decision.beyond is None else unit.difference_from_base(decision.beyond)
    return StepOutcome(do, shown, decision.verdict, word, beyond)


def word_of(judged: Judgement) -> str:
    """The pack's word for the side that the value is beyond; "" where it is not."""
    return word_for(judged, judged.decision.side) if judged.decision.verdict in BEYOND else ""


def word_for(judged: Judgement, side: str) -> str:
    """The pack's word for a limit's side: tight for least, say."""
    return {"least": judged.rule.words[0], "most": judged.rule.words[1]}.get(side, "")


def otherwise(outcomes: tuple[StepOutcome, ...], text: str) -> str:
    """What to do when no step is enough; nothing where one is."""
    return "" if any(outcome.verdict in INSIDE for outcome in outcomes) else text
