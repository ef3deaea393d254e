"""A class's marks on a page: a row a learner, how each question went, which went worst, and no answer is markup."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

import pytest

from specrules.output.class_page import page_of_marks
from specrules.teaching import Marked, mark
from tests.lanes import first_alone
from tests.output.hostile_records import HOSTILE
from tests.output.page_reading import of_class, safe_page, said
from tests.teaching.small_lessons import made

POSED = made(seed=3)
RIGHT = {number: asked.right.text for number, asked in enumerate(POSED.asked, 1)}
HALF = {**RIGHT, 1: POSED.asked[0].wrong[0].text}


def handed_in(**answers: Mapping[int, str]) -> list[Marked]:
    return [Marked(name, f"{name}.txt", 3, mark(POSED, each)) for name, each in answers.items()]


def page(of: list[Marked], *faults: str) -> Element:
    return safe_page(page_of_marks(POSED.exercise, of, faults))


def rows(tree: Element, number: int) -> list[list[str]]:
    return [[said(cell) for cell in row] for row in list(of_class(tree, "told"))[number].iter("tr")]


def test_each_learner_has_a_row_and_each_question_a_mark() -> None:
    tree = page(handed_in(ab=RIGHT, cd=HALF, ef={}))
    assert rows(tree, 0) == [
        ["Learner", "Paper", "Question 1", "Question 2", "Right"],
        ["ab", "3", "right", "right", "2 of 2"],
        ["cd", "3", f"mistaken {HALF[1]}", "right", "1 of 2"],
        ["ef", "3", "open", "open", "0 of 2"],
        ["Right", "", "1 of 3", "2 of 3", "3 of 6"],
    ]
    assert [said(each) for each in of_class(tree, "wrong")] == [f"mistaken {HALF[1]}", "open", "open"]


def test_the_question_that_fewest_have_right_comes_first_with_what_it_shows_and_whose() -> None:
    tree = page(handed_in(ab=RIGHT, cd={**RIGHT, 2: ""}, ef=HALF, gh={**HALF, 2: ""}, ij={**RIGHT, 2: ""}))
    assert rows(tree, 1)[1:] == [
        ["2. How large is the shaft?", "2 of 5", "3 open."],
        ["1. What is the clearance?", "3 of 5", "2: That is half of it. (ef and gh)"],
    ]
    assert [said(each) for each in of_class(tree, "stands")] == ["Fewest have question 2 right: 2 of 5."]
    worst = page(handed_in(ab=RIGHT, ef=HALF))
    assert [said(each) for each in of_class(worst, "stands")] == [
        "Fewest have question 1 right: 1 of 2. Question 1, 1 learner: That is half of it."
    ]


def test_a_class_that_has_all_right_is_told_so() -> None:
    tree = page(handed_in(ab=RIGHT, cd=RIGHT))
    assert [said(each) for each in of_class(tree, "stands")] == ["All of it is right."]


def test_where_the_readings_are_as_they_were_written_there_is_no_paper() -> None:
    tree = page([each._replace(paper=None) for each in handed_in(ab=RIGHT)])
    assert rows(tree, 0)[0] == ["Learner", "Question 1", "Question 2", "Right"]


def test_what_could_not_be_marked_is_told_even_where_nothing_was() -> None:
    tree = page([], "class/ef.txt: is no text in UTF-8.")
    assert "0 learners. one_fit. Not marked class/ef.txt: is no text in UTF-8." in said(tree)
    assert list(tree.iter("table")) == []


@pytest.mark.parametrize("kind", first_alone(*HOSTILE))
def test_hostile_answers_and_names_are_text(kind: str) -> None:
    text = HOSTILE[kind]
    (marked,) = handed_in(ab={1: text, 2: text})
    tree = page([marked._replace(name=text)], text)
    assert not {"\x1b", "\x00", "\u202e", "\ud800"} & {*said(tree)}
    assert len(list(of_class(tree, "marks"))) == 1
