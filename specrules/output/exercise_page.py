"""Lessons and exercises as a learner reads them: readings and questions, marks, and, when asked for, the answers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from string import ascii_lowercase

from specrules.output.lines import Line, folded, line, spread
from specrules.output.words import counted, place
from specrules.pack import Lesson, Specification
from specrules.teaching import GOOD, Asked, Mark, Outcome, Posed, points

STYLES = {
    **dict.fromkeys(GOOD, "good"),
    Outcome.OPEN: "quiet",
    Outcome.MISTAKE: "bad",
    Outcome.WRONG: "bad",
}


def lesson_list(spec: Specification, pack: str) -> Iterator[Line]:
    """The lessons of a specification, each with its exercises, and how to go on."""
    if not spec.exercises and not spec.lessons:
        yield from folded(f"{pack} has no lessons and no exercises. specrules pack list shows other packs.")
        return
    for lesson in spec.lessons.values():
        yield from spread(lesson.title, lesson.name, "heading")
        yield from _exercises(lesson, spec)
    yield line()
    yield line("To read a lesson, or to take an exercise, put its name behind:")
    yield line(f"  specrules pack exercise {pack} {next(iter(spec.exercises or spec.lessons))}")


def lesson_whole(lesson: Lesson, spec: Specification) -> Iterator[Line]:
    """One lesson, for reading."""
    yield from spread(lesson.title, lesson.name, "heading")
    for paragraph in lesson.text:
        yield line()
        yield from folded(paragraph)
    yield line()
    titles = (spec.rules[rule].governing[-1].title for rule in lesson.rules)
    yield from folded("; ".join(titles), 0, "It explains: ", "quiet")
    yield from _exercises(lesson, spec)


def _exercises(lesson: Lesson, spec: Specification) -> Iterator[Line]:
    for exercise in spec.exercises.values():
        if exercise.lesson == lesson.name:
            yield from spread(f"  {exercise.title}", exercise.name)


def exercise_given(posed: Posed, caution: str) -> Iterator[Line]:
    """What an exercise gives: the task, every reading, and the usual caution. No questions yet."""
    yield from spread(posed.exercise.title, posed.exercise.name, "heading")
    seed = "" if posed.seed is None else f"seed {posed.seed}"
    yield from spread(f"Lesson: {posed.lesson.title} ({posed.lesson.name})", seed, "quiet")
    yield from folded(posed.exercise.task)
    for given in posed.given:
        where = place(given.station, given.position)
        yield from spread(f"  {given.title}{f', {where}' if where else ''}", given.text)
    yield from folded(caution, 0, "Caution: ", "quiet")


def question(asked: Asked, number: int) -> Iterator[Line]:
    """One question, with the unit and the places that are asked for."""
    of = asked.question
    form = "" if of.rule or of.choices else f" ({of.unit.symbol + ', ' if of.unit.symbol else ''}{of.places} decimals)"
    yield from folded(f"{of.ask}{form}", 0, f"{number}  ")
    for letter, offered in zip(ascii_lowercase, of.choices, strict=False):
        yield from folded(offered.name, 3, f"{letter}  ")


def hint(asked: Asked) -> Iterator[Line]:
    """What helps a learner on."""
    yield from folded(asked.question.hint or "There is no hint for this question.", 3, style="quiet")


def marked(mark: Mark) -> Iterator[Line]:
    """One answer and what it shows."""
    said = mark.said or "Open."
    yield from folded(
        said, 3, f"{mark.answer.strip()}: " if mark.answer.strip() else "", STYLES.get(mark.outcome, "doubt")
    )


def tally(marks: Sequence[Mark]) -> Iterator[Line]:
    """How it went, in one line."""
    counts = ((str(outcome), sum(mark.outcome is outcome for mark in marks)) for outcome in Outcome)
    right = points(marks) == len(marks)
    yield line((f"{counted(counts)}.", "good" if right else "doubt"))


def solution(posed: Posed) -> Iterator[Line]:
    """The answers, how they come about, and what each likely mistake shows: for whoever teaches."""
    for number, asked in enumerate(posed.asked, 1):
        yield from question(asked, number)
        side = f", {asked.right.side}" if asked.right.side else ""
        yield line("   ", (f"{asked.right.text}{side}", "good"))
        yield from folded(asked.question.working or asked.right.worked, 3)
        for wrong in asked.wrong:
            yield from folded(wrong.mistake.shows, 5, f"{wrong.text}: ", hang=7)
