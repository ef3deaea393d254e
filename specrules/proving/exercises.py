"""The exercises of a pack, worked as they are written and with new readings: each must have answers that teach."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from specrules.document import Fault, Place
from specrules.pack import Exercise, Specification
from specrules.proving.proof_parts import ProofRemark, RemarkKind
from specrules.teaching import Flaw, drawn, flaws, posed, settled, unfit

SEEDS = 20
"""So many sets of new readings are tried for each exercise."""


class WorkedExercises(NamedTuple):
    """What came of all exercises of one pack, and how many questions and mistakes they have."""

    remarks: tuple[ProofRemark, ...]
    counts: dict[str, int]


def work_exercises(spec: Specification, name: str) -> WorkedExercises:
    """Work every exercise that the pack wrote or amended last. A pack without any counts none."""
    own = [exercise for exercise in spec.exercises.values() if exercise.pack == name]
    remarks = [remark for exercise in own for remark in _of(exercise, spec)]
    remarks += _idle(spec, name)
    asked = [question for exercise in own for question in exercise.questions]
    counts = {
        "exercises": len(own),
        "questions": len(asked),
        "mistakes": sum(len(question.mistakes) for question in asked),
    }
    return WorkedExercises(tuple(remarks), counts if own else {})


def _of(exercise: Exercise, spec: Specification) -> Iterator[ProofRemark]:
    sheet, faults = settled(exercise, spec)
    if sheet is None:
        yield from (_told(fault) for fault in faults)
        return
    found: list[Flaw] = [*flaws(posed(exercise, sheet, spec), sheet, spec), *unfit(exercise, sheet, spec)]
    for flaw in found:
        yield _remark(flaw.place, exercise.name, flaw.said, flaw.write)._replace(suspect=flaw.suspect)
    if found or not exercise.vary:
        return
    for seed in range(SEEDS):
        _, faults = drawn(exercise, sheet, spec, seed)
        if faults:
            yield from (_told(fault) for fault in faults)
            return


def _idle(spec: Specification, name: str) -> Iterator[ProofRemark]:
    """Lessons that nothing practises, and questions for which no mistake is foreseen."""
    practised = {exercise.lesson for exercise in spec.exercises.values()}
    for lesson in spec.lessons.values():
        if lesson.pack == name and lesson.name not in practised:
            yield _remark(lesson.place, lesson.name, "no exercise belongs to this lesson", "", "unexercised")
    for exercise in (each for each in spec.exercises.values() if each.pack == name):
        for number, question in enumerate(exercise.questions, 1):
            if not question.mistakes:
                said = f"question {number} foresees no mistake"
                yield _remark(question.place, exercise.name, said, "mistakes: and what each shows", "unexercised")


def _told(fault: Fault) -> ProofRemark:
    return ProofRemark(fault.place, fault.subject, fault.said, fault.write, "exercise")


def _remark(place: Place, name: str, said: str, write: str, kind: RemarkKind = "exercise") -> ProofRemark:
    return ProofRemark(place, f"exercise {name}" if kind == "exercise" else name, said, write, kind)
