"""Marking: an answer held against the right one by its written places, and against the mistakes that are likely."""

from __future__ import annotations

from collections.abc import Mapping

from specrules.document import shown
from specrules.quantity import Exact, Open, Refusal, read_written
from specrules.teaching.drawn_slips import slip
from specrules.teaching.exercise_parts import Asked, Mark, Outcome, Posed
from specrules.teaching.sound import near
from specrules.validation import not_a_word
from specrules.vocabulary import VERDICTS

NOT_IT = "Not it."
RIGHT = "Right."


def mark(posed: Posed, answers: Mapping[int, str]) -> tuple[Mark, ...]:
    """Every question marked, by its number from 1; one without an answer is open."""
    return tuple(mark_one(asked, number, answers.get(number, "")) for number, asked in enumerate(posed.asked, 1))


def mark_one(asked: Asked, number: int, answer: str) -> Mark:
    """One answer marked. Right at the places that are asked for is right, in whatever unit of the kind."""
    if asked.question.rule:
        return _verdict(asked, number, answer)
    question = asked.question
    written = read_written(answer, unit=question.unit, dimension=question.unit.dimension)
    if isinstance(written, Open):
        return Mark(number, answer, Outcome.OPEN, "")
    if isinstance(written, Refusal):
        write = f"; write {written.write}" if written.write else ""
        return Mark(number, answer, Outcome.UNREAD, f"{shown(answer)} {written.said}{write}.")
    if not isinstance(written, Exact):
        return Mark(number, answer, Outcome.UNREAD, f"{shown(answer)} is a range, and one figure is asked for.")
    place = max(question.least, written.place_value) if written.value else question.least  # 0 is near to all, coarsely
    if asked.value is not None and near(written.value, asked.value, place):
        if written.place_value <= question.least:
            return Mark(number, answer, Outcome.RIGHT, RIGHT)
        said = f"Right as far as it goes, but {question.places} places are asked for."
        return Mark(number, answer, Outcome.COARSE, said)
    for wrong in asked.wrong:
        if wrong.value is not None and near(written.value, wrong.value, place):
            return Mark(number, answer, Outcome.MISTAKE, wrong.mistake.shows)
    said = slip(written, asked)
    return Mark(number, answer, Outcome.MISTAKE if said else Outcome.WRONG, said or NOT_IT)


def _verdict(asked: Asked, number: int, answer: str) -> Mark:
    word = " ".join(answer.lower().split())
    if word in ("", "open"):
        return Mark(number, answer, Outcome.OPEN, "")
    if word not in VERDICTS:
        _, said, write = not_a_word(word, VERDICTS)
        return Mark(number, answer, Outcome.UNREAD, f"{said}{f'; write {write}' if write else ''}.")
    if word == asked.text:
        return Mark(number, answer, Outcome.RIGHT, RIGHT)
    shows = next((wrong.mistake.shows for wrong in asked.wrong if wrong.text == word), "")
    return Mark(number, answer, Outcome.MISTAKE if shows else Outcome.WRONG, shows or NOT_IT)
