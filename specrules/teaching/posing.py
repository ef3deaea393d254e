"""An exercise to its readings, questions and answers: those that were written, or new ones from a seed."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import localcontext
from functools import partial

from specrules.document import Fault, Fields, Text
from specrules.formula import Station
from specrules.pack import Exercise, Mistake, Question, Specification, told_in
from specrules.quantity import CONTEXT
from specrules.sheet import FactValue, Sheet, read_fragment, settle
from specrules.teaching.exercise_parts import Asked, Given, Posed, Wrong
from specrules.teaching.following import followed
from specrules.teaching.sound import flaws
from specrules.teaching.varying import varied
from specrules.teaching.worked_answers import Working, in_places
from specrules.vocabulary import Code

DRAWS = 50
"""So often new readings are drawn for one seed until they make a sound question."""


def pose(spec: Specification, name: str, seed: int | None = None) -> tuple[Posed | None, tuple[Fault, ...]]:
    """The exercise of that name, which the specification must have; or what is wrong with its readings."""
    exercise = spec.exercises[name]
    with localcontext(CONTEXT):
        sheet, faults = settled(exercise, spec)
        if sheet is None:
            return None, faults
        if seed is None:
            return posed(exercise, sheet, spec), ()
        return drawn(exercise, sheet, spec, seed)


def drawn(exercise: Exercise, sheet: Sheet, spec: Specification, seed: int) -> tuple[Posed | None, tuple[Fault, ...]]:
    """An exercise with new readings in the place of those of its own sheet; or why there are none.

    A draw that makes no sound question, such as one in which a mistake comes to the right answer, is drawn again.
    """
    if not exercise.vary:
        said = "varies nothing, so that no seed gives it new readings"
        return None, (_fault(exercise, Code.NO_NEW_READINGS, said),)
    for draw in range(DRAWS):
        other = varied(sheet, exercise, spec, seed, draw)
        made = posed(exercise, other, spec, seed)
        if not flaws(made, other, spec):
            return made, ()
    said = f"makes no sound question of the seed {seed}, in {DRAWS} draws"
    return None, (_fault(exercise, Code.NO_NEW_READINGS, said, "other steps under vary"),)


def settled(exercise: Exercise, spec: Specification) -> tuple[Sheet | None, tuple[Fault, ...]]:
    """Its given part as a sheet; faults of it are faults of the pack."""
    raw, faults = read_fragment(exercise.given, exercise.place.file, spec.examples_assume)
    sheet = None
    if raw is not None and not faults:
        sheet, faults = settle(raw, spec)
    subject = f"exercise {exercise.name}"
    return sheet, tuple(f._replace(subject=f"{subject} {f.subject}".rstrip(), kind="pack") for f in faults)


def posed(exercise: Exercise, sheet: Sheet, spec: Specification, seed: int | None = None) -> Posed:
    """The exercise with the readings of this sheet, every answer and every mistake worked out."""
    spec = told_in(spec, sheet.unit)
    working = Working(sheet, spec)
    asked = tuple(_asked(question, working) for question in exercise.questions)
    follow = partial(followed, working, exercise.questions)
    return Posed(exercise, spec.lessons[exercise.lesson], seed, tuple(_given(exercise, sheet, spec)), asked, follow)


def _asked(question: Question, working: Working) -> Asked:
    wrong = tuple(_wrong(each, question, working) for each in question.mistakes)
    sides = working.spec.rules[question.rule].governing[-1].words if question.rule else ()
    return Asked(question, working.right(question), wrong, sides)


def _wrong(mistake: Mistake, question: Question, working: Working) -> Wrong:
    if mistake.formula is None:
        return Wrong(mistake, None, mistake.word)
    value = working.value(mistake.formula)
    return Wrong(mistake, value, "" if value is None else in_places(value, question))


def _given(exercise: Exercise, sheet: Sheet, spec: Specification) -> Iterator[Given]:
    """What the exercise itself states; not what the pack takes for facts in all of them."""
    written = exercise.given.get(Text("facts"))
    for name, values in sheet.facts.items():
        if not isinstance(written, Fields) or name not in written:
            continue
        fact = spec.facts[name]
        for value in values:
            yield Given(
                fact.title, _at(fact.at, value.station), {}, _text(value, fact.unit.symbol if fact.unit else "")
            )
    for reading in sheet.readings:
        measurand = spec.measurands[reading.name]
        position = _at(measurand.positions, reading.position or ())
        text = with_unit(reading.text, reading.unit.symbol)
        yield Given(measurand.title, _at(measurand.at, reading.station), position, text)
    for name, lines in sheet.limits.items():
        limits = [f"{part} {formula.text}" for line in lines for part, formula in line.sets.items()]
        yield Given(f"Limits of: {spec.rules[name].governing[-1].title}", {}, {}, ", ".join(limits))


def _at(axes: tuple[str, ...], labels: tuple[str, ...]) -> Station:
    return dict(zip(axes, labels, strict=False))


def _text(value: FactValue, unit: str) -> str:
    if isinstance(value.value, tuple):
        return "; ".join(f"{label}: {', '.join(members)}" for label, members in value.value)
    return value.text if isinstance(value.value, str) else with_unit(value.text, unit)


def with_unit(text: str, unit: str) -> str:
    """A written figure with its unit, where it was written without."""
    return text if any(c.isalpha() or c in "\"'" for c in text) else f"{text} {unit}".rstrip()


def _fault(exercise: Exercise, code: Code, said: str, write: str = "") -> Fault:
    return Fault(exercise.place, f"exercise {exercise.name}", code, said, write, "pack")
