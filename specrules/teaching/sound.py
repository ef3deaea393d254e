"""Whether an exercise teaches what it means to: its answers come out, and no mistake comes to the right one."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import combinations
from typing import NamedTuple

from specrules.document import Place
from specrules.pack import Exercise, Question, Specification
from specrules.quantity import CONTEXT, is_zero, show
from specrules.sheet import Sheet, Suspect, suspects
from specrules.teaching.exercise_parts import Asked, Posed
from specrules.teaching.varying import figures, moved


class Flaw(NamedTuple):
    """One thing that keeps an exercise from being put to anyone."""

    place: Place
    said: str
    write: str = ""
    suspect: Suspect | None = None  # what looks like a slip; `said` is "" then


def near(one: Decimal, other: Decimal, place: Decimal) -> bool:
    """Whether two values are one figure at a place of this size: half of it apart at most. All base units."""
    beyond = CONTEXT.subtract(CONTEXT.subtract(one, other).copy_abs(), place / 2)
    return beyond < 0 or is_zero(beyond)


def flaws(posed: Posed, sheet: Sheet, spec: Specification) -> tuple[Flaw, ...]:
    """All that is wrong with a question as it is posed."""
    found = [flaw for number, asked in enumerate(posed.asked, 1) for flaw in _of(asked, number)]
    found += (Flaw(each.place, "", suspect=each) for each in suspects(sheet, spec))
    return tuple(found)


def _of(asked: Asked, number: int) -> Iterator[Flaw]:
    question = asked.question
    right = asked.right
    if not right.text:
        known = question.choices and right.value is not None
        said = f"question {number} has {'two choices that are as near' if known else 'no answer'} with these readings"
        yield Flaw(question.place, said)
        return
    for wrong in asked.wrong:
        if not wrong.text:
            yield Flaw(wrong.mistake.place, f"a mistake at question {number} comes to no figure")
        elif _alike(wrong.value, wrong.text, right.value, right.text, question):
            yield Flaw(wrong.mistake.place, f"a mistake at question {number} comes to the right answer, {right.text}")
    for one, other in combinations((wrong for wrong in asked.wrong if wrong.text), 2):
        if _alike(one.value, one.text, other.value, other.text, question):
            yield Flaw(other.mistake.place, f"two mistakes at question {number} come to one figure, {one.text}")


def _alike(wrong: Decimal | None, text: str, right: Decimal | None, its: str, question: Question) -> bool:
    """Whether one answer, rounded as it is asked for, would be taken for the other."""
    if wrong is None or right is None:
        return text == its
    rounded = question.unit.to_base(Decimal(show(wrong, question.unit, question.places)))
    return near(rounded, right, question.least)


def unfit(exercise: Exercise, sheet: Sheet, spec: Specification) -> Iterator[Flaw]:
    """What is wrong with how an exercise is varied: figures that cannot be moved so, or leave their usual sizes."""
    known = list(figures(sheet, spec))
    for vary in exercise.vary:
        for name in vary.names:
            if all(name != each for each, *_ in known):
                yield Flaw(vary.place, f"{name} is varied and is not given")
        for name, text, unit, thing in known:
            there = moved(text, unit, vary.by) if name in vary.names else None
            if name in vary.names and there is None:
                yield Flaw(thing.place, f"{name} {text} is no one figure that can be moved")
            elif there is not None and not is_zero(there.by - vary.by):
                yield Flaw(vary.place, f"{name} {text} cannot be moved by so fine a step", "a step of its last place")
    for name, text, _, thing in known:
        most = sum((vary.by * vary.steps for vary in exercise.vary if name in vary.names), Decimal(0))
        usual = spec.measurands[name].usual if name in spec.measurands else spec.facts[name].usual
        if most and usual is not None and isinstance(thing.value, Decimal | int):
            for end in (thing.value - most, thing.value + most):
                if (usual.low is not None and end < usual.low) or (usual.high is not None and end > usual.high):
                    yield Flaw(
                        thing.place, f"{name} {text} may be moved out of its usual sizes", "fewer steps under vary"
                    )
                    break
