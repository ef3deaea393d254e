"""What an exercise is once its readings stand: figures given, questions with their answers, and marks. Frozen."""

from __future__ import annotations

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


class Asked(NamedTuple):
    """A question with its right answer: a value in base units, or a verdict as its text. `worked`: how it came."""

    question: Question
    value: Decimal | None
    text: str
    worked: str
    wrong: tuple[Wrong, ...]


class Posed(NamedTuple):
    """An exercise with its readings: as they were written, or as a seed made them."""

    exercise: Exercise
    lesson: Lesson
    seed: int | None
    given: tuple[Given, ...]
    asked: tuple[Asked, ...]


class Outcome(StrEnum):
    """What an answer is found to be."""

    RIGHT = "right"
    COARSE = "too few places"
    MISTAKE = "mistaken"
    WRONG = "not it"
    UNREAD = "not taken"
    OPEN = "open"


class Mark(NamedTuple):
    """One answer, marked. `said` never gives the right answer away."""

    number: int
    answer: str
    outcome: Outcome
    said: str
