"""Teaching: exercises posed with readings of their own, and answers marked with what each likely mistake shows."""

from specrules.teaching.answers import Answers, read_answers
from specrules.teaching.class_papers import Alike, alike, papers
from specrules.teaching.exercise_parts import GOOD, Asked, Given, Mark, Marked, Outcome, Posed, Right, Wrong
from specrules.teaching.marking import mark, mark_one, points
from specrules.teaching.posing import drawn, pose, posed, settled
from specrules.teaching.sound import Flaw, flaws, unfit

__all__ = [
    "GOOD",
    "Alike",
    "Answers",
    "Asked",
    "Flaw",
    "Given",
    "Mark",
    "Marked",
    "Outcome",
    "Posed",
    "Right",
    "Wrong",
    "alike",
    "drawn",
    "flaws",
    "mark",
    "mark_one",
    "papers",
    "points",
    "pose",
    "posed",
    "read_answers",
    "settled",
    "unfit",
]
