"""A class's marks as a page: a line a learner with a mark for each question, how the class did by question, and what
the wrong answers show."""

from __future__ import annotations

from collections.abc import Sequence
from xml.etree.ElementTree import Element

from specrules.output.class_sheet import QuestionMarks, by_question
from specrules.output.marks import CLASS_PAGE
from specrules.output.markup import Content, bullets, element, page, row, table
from specrules.output.page_frame import CLASS_STYLE, RECORDS_STYLE
from specrules.output.words import counted, listed, many
from specrules.pack import Exercise
from specrules.teaching import GOOD, Mark, Marked, Outcome, points


def page_of_marks(exercise: Exercise, of: Sequence[Marked], faults: Sequence[str]) -> str:
    """The whole page. `faults`: what is wrong with files that were handed in and could not be marked."""
    went = by_question(of)
    learners = many(len(of), "learner")
    main = element(
        "main",
        {},
        element("header", {}, element("h1", {}, exercise.title), element("p", {}, f"{learners}. {exercise.name}.")),
        element("p", {"class": "stands"}, _summary(went)) if went else [],
        [element("h2", {}, "Not marked"), *bullets(faults)] if faults else [],
        [element("h2", {}, "Marks"), _marks(of, went)] if went else [],
        [element("h2", {}, "How the class did"), _questions(exercise, went)] if went else [],
    )
    return page(CLASS_PAGE, exercise.title, exercise.title, RECORDS_STYLE + CLASS_STYLE, main)


def _summary(went: Sequence[QuestionMarks]) -> str:
    """Which question most had wrong, and what that shows."""
    least = min(each.good for each in went)
    of = went[0].of
    if least == of:
        return "All of it is right."
    worst = [each for each in went if each.good == least]
    which = f"{'question' if len(worst) == 1 else 'questions'} {listed(str(each.number) for each in worst)}"
    said = f"Fewest have {which} right: {least} of {of}."
    slips = [(each.number, *each.shows[0]) for each in worst if each.shows]
    told = (f"Question {number}, {many(len(names), 'learner')}: {shows}" for number, shows, names in slips)
    return " ".join((said, *told))


def _marks(of: Sequence[Marked], went: Sequence[QuestionMarks]) -> Element:
    """A row a learner, a column a question; below them how many have each right."""
    papers = any(each.paper is not None for each in of)
    heads = ["Learner", *(["Paper"] if papers else []), *(f"Question {each.number}" for each in went), "Right"]
    rows = [
        element(
            "tr",
            {},
            element("th", {"scope": "row"}, each.name),
            [element("td", {}, "" if each.paper is None else str(each.paper))] if papers else [],
            map(_mark, each.marks),
            element("td", {}, f"{points(each.marks)} of {len(each.marks)}"),
        )
        for each in of
    ]
    good, every = sum(each.good for each in went), sum(each.of for each in went)
    totals = [*([""] if papers else []), *(f"{each.good} of {each.of}" for each in went), f"{good} of {every}"]
    return table("told marks", rows, heads, row("Right", *totals))


def _mark(mark: Mark) -> Element:
    """What an answer is found to be; one that is not right with the answer itself."""
    right = mark.outcome is Outcome.RIGHT
    told: list[Content] = [str(mark.outcome)]
    if not right and mark.answer.strip():
        told.append(element("div", {"class": "answer"}, mark.answer))
    return element("td", {} if mark.outcome in GOOD else {"class": "wrong"}, told)


def _questions(exercise: Exercise, went: Sequence[QuestionMarks]) -> Element:
    """Question by question how many have it right, those first that fewest have."""
    rows = [
        row(
            f"{each.number}. {exercise.questions[each.number - 1].ask}",
            f"{each.good} of {each.of}",
            _not_right(each),
        )
        for each in sorted(went, key=lambda each: each.good)
    ]
    return table("told", rows, ("Question", "Right", "What the others show"))


def _not_right(of: QuestionMarks) -> list[Element]:
    """What wrong answers show, the most first, and whose they are."""
    told = [f"{len(names)}: {shows} ({listed(names)})" for shows, names in of.shows]
    return [element("div", {}, each) for each in (*told, *([f"{counted(of.rest)}."] if of.rest else []))]
