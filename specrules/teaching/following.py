"""What is right by a learner's own earlier answers: a step well done on a wrong figure is known all the same."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any

from specrules.evaluate import Point, Value
from specrules.formula import Formula, Station
from specrules.formula.operators import Constant, Finder
from specrules.pack import Question
from specrules.teaching.exercise_parts import Right
from specrules.teaching.worked_answers import Working, in_places


def followed(
    working: Working, questions: Sequence[Question], number: int, earlier: Mapping[int, Decimal]
) -> Right | None:
    """The right answer to the question of a number (from 1), with a learner's figures (base units) in place of what
    earlier questions asked for. None where its formula has none of that in it, or comes to nothing so."""
    question = questions[number - 1]
    asked = {at: questions[at - 1].formula for at in earlier}
    known = {at: formula for at, formula in asked.items() if formula is not None and not questions[at - 1].uncertainty}
    if question.rule:
        return _verdict(working, question, known, earlier)
    if question.formula is None or question.uncertainty:
        return None
    made = _with(question.formula, known, earlier, {})
    value = None if made is None else working.value(made)
    if value is None:
        return None
    return working.choice(question, value) if question.choices else Right(value, in_places(value, question))


def _verdict(
    working: Working, question: Question, known: Mapping[int, Formula], earlier: Mapping[int, Decimal]
) -> Right | None:
    """The verdict on the learner's figure, which is as sure as the right one."""
    judged = working.judged(question)
    if judged is None or judged.value is None or judged.value.low is None or not judged.value.exact:
        return None
    made = _with(judged.rule.formula, known, earlier, question.at)
    value = None if made is None else working.value(made)
    if value is None:
        return None
    there = Point(value, judged.value.low.slopes)
    return working.verdict(judged, working.judge.again(judged, Value(there, there)))


def _with(
    formula: Formula, known: Mapping[int, Formula], earlier: Mapping[int, Decimal], station: Station
) -> Formula | None:
    """A formula at a station, with figures where it has the formulas of earlier questions, the latest first."""
    there = {Finder(axis, of=axis): Finder(axis, label) for axis, label in station.items()}
    before = made = _replaced(formula.operators, there)
    for number in sorted(known, reverse=True):
        made = _replaced(made, {known[number].operators: Constant(earlier[number])})
    return None if made == before else replace(formula, operators=made)


def _replaced(tree: Any, new: Mapping[Any, Any]) -> Any:
    """An operator tree with some of its parts replaced."""
    if not isinstance(tree, tuple):
        return tree
    if tree in new:
        return new[tree]
    parts = [_replaced(part, new) for part in tree]
    return type(tree)(*parts) if hasattr(tree, "_fields") else tuple(parts)
