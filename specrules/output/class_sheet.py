"""A class's work: papers that differ, the key to them, and a marks sheet with what each wrong answer shows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from specrules.output.csv_tables import table_text
from specrules.output.exercise_page import exercise_given, hint, question, solution
from specrules.output.lines import Line, columns, folded, line, spread
from specrules.output.words import counted, listed, many
from specrules.teaching import GOOD, Alike, Marked, Outcome, Posed, points

COLUMNS = ("exercise", "learner", "file", "paper", "question", "answer", "outcome", "shows", "mark")
"""Of a marks sheet as a table; `mark`: 1 or 0."""
NAMES = 24
"""How wide the names of learners stand."""


def paper(posed: Posed, number: int, caution: str, hints: bool) -> Iterator[Line]:
    """One paper to hand out, with room for a name and for each answer."""
    yield from spread("Name ______________________________", f"Paper {number}", "", "heading")
    yield line()
    yield from exercise_given(posed, caution)
    for at, asked in enumerate(posed.asked, 1):
        yield line()
        yield from question(asked, at)
        if hints and asked.question.hint:
            yield from hint(asked)
        yield line()
        yield line("   ______________________________")


def likeness(found: Alike) -> Iterator[Line]:
    """What the papers have alike though seeds were looked for by which they differ: who gives them out should know."""
    if found.words:
        words = "; ".join(found.words)
        yield from folded(f"All {found.papers} papers come to the same: {words}. No seed looked at gives another.")
    if found.one_verdict:
        yield from folded(f"{many(found.one_verdict, 'paper')} with one verdict throughout.")
    if found.answers < found.papers:
        sets = many(found.answers, "set")
        yield from folded(f"{sets} of right answers among {found.papers} papers: these readings move by few steps.")


def key(posed: Posed, number: int) -> Iterator[Line]:
    """The answers to one paper, how they come about, and what each likely mistake shows."""
    yield from spread(f"Key to paper {number}", posed.exercise.name, "heading")
    yield from solution(posed)


def marks_sheet(title: str, of: Sequence[Marked]) -> Iterator[Line]:
    """A line a learner, and then what wrong answers show, question by question: what to teach again."""
    yield from spread(title, many(len(of), "learner"), "heading")
    yield line()
    for each in of:
        paper = "" if each.paper is None else f"paper {each.paper}"
        score = f"{points(each.marks)} of {len(each.marks)}"
        rest = [f"{mark.number} {mark.outcome}" for mark in each.marks if mark.outcome is not Outcome.RIGHT]
        yield from columns(each.name, ", ".join(filter(None, (paper, *rest))), score, wide=NAMES)
    for went in by_question(of):
        yield from _of_question(went)


def marks_table(exercise: str, of: Sequence[Marked]) -> str:
    """The same as comma-separated values (RFC 4180): a row an answer, with its heading."""
    rows = (
        (exercise, each.name, each.file, each.paper, one.number, one.answer, str(one.outcome), one.said, points([one]))
        for each in of
        for one in each.marks
    )
    return table_text((COLUMNS, *rows))


class QuestionMarks(NamedTuple):
    """How a question went: how many have it right, of how many; whose wrong answers show what, the most first; how many
    others are wrong or open."""

    number: int
    good: int
    of: int
    shows: tuple[tuple[str, tuple[str, ...]], ...]
    rest: tuple[tuple[str, int], ...]


def by_question(of: Sequence[Marked]) -> list[QuestionMarks]:
    """How each question went."""
    return [_question(number, of) for number in range(1, max((len(each.marks) for each in of), default=0) + 1)]


def _question(number: int, of: Sequence[Marked]) -> QuestionMarks:
    marks = [(each.name, each.marks[number - 1]) for each in of]
    shows: dict[str, list[str]] = {}
    for name, mark in marks:
        if mark.outcome in (Outcome.MISTAKE, Outcome.COARSE, Outcome.FOLLOWS, Outcome.UNREAD):
            shows.setdefault(mark.said, []).append(name)
    rest = [mark.outcome for _, mark in marks if mark.outcome in (Outcome.WRONG, Outcome.OPEN)]
    return QuestionMarks(
        number,
        sum(mark.outcome in GOOD for _, mark in marks),
        len(marks),
        tuple((said, tuple(names)) for said, names in sorted(shows.items(), key=lambda each: -len(each[1]))),
        tuple((str(outcome), rest.count(outcome)) for outcome in dict.fromkeys(rest)),
    )


def _of_question(went: QuestionMarks) -> Iterator[Line]:
    """How a question went, and whose wrong answers show what."""
    yield line()
    yield line((f"Question {went.number}: {went.good} of {went.of}", "heading"))
    for said, names in went.shows:
        yield from folded(f"{said} ({listed(names)})", 2, f"{len(names)}: ", hang=5)
    if went.rest:
        yield line(f"  {counted(went.rest)}.")
