"""Answers are marked by their written places, and a likely mistake is told from any other."""

import pytest

from specrules.teaching import Outcome, mark, mark_one
from specrules.teaching.drawn_slips import DIGIT, EXCHANGED, POINT, SIGN, UNIT
from tests.teaching.small_lessons import asked, made

RIGHT, COARSE, MISTAKE = Outcome.RIGHT, Outcome.COARSE, Outcome.MISTAKE
WRONG, UNREAD, OPEN = Outcome.WRONG, Outcome.UNREAD, Outcome.OPEN

CLEARANCE = [
    # 2.5023 - 2.5000 is 0.0023 in, to four places
    ("0.0023", RIGHT, "Right."),
    (".0023", RIGHT, "Right."),
    ("0.0023 in", RIGHT, "Right."),
    ("2.3 thou", RIGHT, "Right."),
    ("0.058 mm", RIGHT, "Right."),  # 0.0023 * 25.4 is 0.05842
    ("58 um", RIGHT, "Right."),
    ("0.00230", RIGHT, "Right."),
    ("0.00234", RIGHT, "Right."),  # right to the four places that are asked for
    ("0.00236", WRONG, "Not it."),
    ("0.002", COARSE, "Right as far as it goes, but 4 places are asked for."),
    ("0.06 mm", COARSE, "Right as far as it goes, but 4 places are asked for."),
    ("0.0024", WRONG, "Not it."),
    ("0", WRONG, "Not it."),
    ("0.0000", WRONG, "Not it."),
    ("0.00115", MISTAKE, "That is half of it."),
    ("0.0012", MISTAKE, "That is half of it."),
    ("0.0011", MISTAKE, "That is half of it."),  # half of it lies half-way, and may be rounded either way
    ("0.029 mm", MISTAKE, "That is half of it."),
    ("0.0033", MISTAKE, "One was borrowed twice."),
    ("-0.0023", MISTAKE, SIGN),
    ("0.023", MISTAKE, POINT),
    ("2.3", MISTAKE, POINT),
    ("0.00023", MISTAKE, POINT),
    ("0.0584", MISTAKE, UNIT),
    ("", OPEN, ""),
    ("open", OPEN, ""),
    ("0,0023", UNREAD, '"0,0023" has a comma; write 0.0023.'),
    ("0.0022..0.0024", UNREAD, '"0.0022..0.0024" is a range, and one figure is asked for.'),
    ("2.3 deg", UNREAD, '"2.3 deg" '),
    ("about 0.002", UNREAD, '"about 0.002" '),
]


@pytest.mark.second_lane
@pytest.mark.parametrize(("answer", "outcome", "said"), CLEARANCE)
def test_an_answer_is_marked(answer: str, outcome: Outcome, said: str) -> None:
    found = mark_one(asked(1), 1, answer)
    assert (found.number, found.answer, found.outcome) == (1, answer, outcome)
    assert found.said.startswith(said)
    assert bool(found.said) == bool(said)


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("answer", "outcome", "said"),
    [
        ("2.5000", RIGHT, "Right."),
        ("63.500 mm", RIGHT, "Right."),
        ("2.500", COARSE, "Right as far as it goes, but 4 places are asked for."),
        ("2.5010", MISTAKE, DIGIT),
        ("2.0500", MISTAKE, EXCHANGED),
        ("2.4990", WRONG, "Not it."),
        ("63.500", MISTAKE, UNIT),
        ("2.501", WRONG, "Not it."),  # too few places to say which digit
    ],
)
def test_slips_that_any_figure_may_have_are_known(answer: str, outcome: Outcome, said: str) -> None:
    found = mark_one(asked(2), 2, answer)
    assert (found.outcome, found.said) == (outcome, said)


@pytest.mark.parametrize(
    ("answer", "outcome", "said"),
    [
        ("just out", RIGHT, "Right."),  # 0.0017 is 0.0001 under the least, and U is 0.0005
        ("  Just   OUT ", RIGHT, "Right."),
        ("out of spec", MISTAKE, "It may be inside."),
        ("in spec", WRONG, "Not it."),
        ("open", OPEN, ""),
        ("just uot", UNREAD, '"just uot" is none of '),
    ],
)
def test_a_verdict_is_marked(answer: str, outcome: Outcome, said: str) -> None:
    found = mark_one(asked(2, "sure"), 2, answer)
    assert found.outcome is outcome
    assert found.said.startswith(said)


def test_questions_without_an_answer_are_open_and_all_are_marked() -> None:
    marks = mark(made(), {2: "2.5000"})
    assert [(each.number, each.outcome) for each in marks] == [(1, OPEN), (2, RIGHT)]


@pytest.mark.second_lane
def test_no_mark_of_a_wrong_answer_gives_the_right_one_away() -> None:
    for answer, outcome, _ in CLEARANCE:
        if outcome in (WRONG, MISTAKE):
            assert "0.0023" not in mark_one(asked(1), 1, answer).said
