"""What an exercise is once its readings stand: figures given, questions with their answers, and marks. Frozen."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal
from enum import StrEnum
from typing import NamedTuple

from specrules.formula import Station
from specrules.pack import Exercise, Lesson, Mistake, Question


class Given(NamedTuple):
    """One figure or word that is given: what it is, where, and its text with the unit."""

    title: str
    station: Station
    position: Station
    text: str


class Wrong(NamedTuple):
    """A likely mistake and what it comes to with these readings; value (base units) None where that is not known."""

    mistake: Mistake
    value: Decimal | None
    text: str


class Right(NamedTuple):
    """A right answer: a value in base units, a choice with the value that it is the nearest to, or a verdict as its
    text (value None), with the pack's word for its side. `worked`: how it came."""

    value: Decimal | None = None
    text: str = ""
    worked: str = ""
    side: str = ""


class Asked(NamedTuple):
    """A question with its right answer. `sides`: the words for under the least and over the most, of a verdict."""

    question: Question
    right: Right
    wrong: tuple[Wrong, ...]
    sides: tuple[str, ...] = ()


class Posed(NamedTuple):
    """An exercise with its readings: as they were written, or as a seed made them.

    `follow`: the right answer to the question of a number, were those to earlier questions, by number, these values in
    base units; None where it does not hang on them."""

    exercise: Exercise
    lesson: Lesson
    seed: int | None
    given: tuple[Given, ...]
    asked: tuple[Asked, ...]
    follow: Callable[[int, Mapping[int, Decimal]], Right | None]


class Outcome(StrEnum):
    """What an answer is found to be."""

    RIGHT = "right"
    FOLLOWS = "right by an earlier answer"
    COARSE = "too few places"
    MISTAKE = "mistaken"
    WRONG = "not it"
    UNREAD = "not taken"
    OPEN = "open"


GOOD = (Outcome.RIGHT, Outcome.FOLLOWS)
"""What counts as a right answer: one that is right by an earlier one that is not shows that this step is known."""


class Mark(NamedTuple):
    """One answer, marked. `said` never gives the right answer away. `value`: the answer read, where it is a figure."""

    number: int
    answer: str
    outcome: Outcome
    said: str
    value: Decimal | None = None


class Marked(NamedTuple):
    """What one learner handed in, marked: whose it is, in which file, which paper (None: as it was written)."""

    name: str
    file: str
    paper: int | None
    marks: tuple[Mark, ...]
