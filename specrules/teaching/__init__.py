"""Teaching: exercises posed with readings of their own, and answers marked with what each likely mistake shows."""

from specrules.teaching.answers import read_answers
from specrules.teaching.exercise_parts import Asked, Given, Mark, Outcome, Posed, Wrong
from specrules.teaching.marking import mark, mark_one
from specrules.teaching.posing import pose, posed, settled
from specrules.teaching.sound import Flaw, flaws, unfit

__all__ = [
    "Asked",
    "Flaw",
    "Given",
    "Mark",
    "Outcome",
    "Posed",
    "Wrong",
    "flaws",
    "mark",
    "mark_one",
    "pose",
    "posed",
    "read_answers",
    "settled",
    "unfit",
]
