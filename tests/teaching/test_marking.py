"""Answers are marked by their written places, and a likely mistake is told from any other."""

import pytest

from specrules.teaching import Mark, Outcome, mark, mark_one, points
from specrules.teaching.drawn_slips import DIGIT, EXCHANGED, POINT, SIGN, UNIT
from specrules.teaching.marking import HOW_SURE, NOT_IT, OTHER_SIDE
from tests.teaching.small_lessons import made

RIGHT, COARSE, MISTAKE, FOLLOWS = Outcome.RIGHT, Outcome.COARSE, Outcome.MISTAKE, Outcome.FOLLOWS
WRONG, UNREAD, OPEN = Outcome.WRONG, Outcome.UNREAD, Outcome.OPEN

SKIPPED = (Mark(1, "", OPEN, ""),)
"""The first question left open."""

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
    ("0,0023", RIGHT, "Right."),  # a decimal comma
    ("0,058 mm", RIGHT, "Right."),
    ("0,002", COARSE, "Right as far as it goes, but 4 places are asked for."),
    ("0,0023,1", UNREAD, '"0,0023,1" '),
    ("0.0022..0.0024", UNREAD, '"0.0022..0.0024" is a range, and one figure is asked for.'),
    ("2.3 deg", UNREAD, '"2.3 deg" '),
    ("about 0.002", UNREAD, '"about 0.002" '),
]


@pytest.mark.second_lane
@pytest.mark.parametrize(("answer", "outcome", "said"), CLEARANCE)
def test_an_answer_is_marked(answer: str, outcome: Outcome, said: str) -> None:
    found = mark_one(made(), answer)
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
    found = mark_one(made(), answer, SKIPPED)
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
    found = mark_one(made("sure"), answer, SKIPPED)
    assert found.outcome is outcome
    assert found.said.startswith(said)


def test_questions_without_an_answer_are_open_and_all_are_marked() -> None:
    marks = mark(made(), {2: "2.5000"})
    assert [(each.number, each.outcome) for each in marks] == [(1, OPEN), (2, RIGHT)]


@pytest.mark.second_lane
def test_no_mark_of_a_wrong_answer_gives_the_right_one_away() -> None:
    for answer, outcome, _ in CLEARANCE:
        if outcome in (WRONG, MISTAKE):
            assert "0.0023" not in mark_one(made(), answer).said


def test_a_comma_parts_thousands_where_that_is_right() -> None:
    """2,500 is 2.500 or 2500, and whoever writes it knows which: either is right where it is what is asked for."""
    assert mark_one(made(), "2,5000", SKIPPED).outcome is RIGHT
    assert mark_one(made("kilo"), "2,500").outcome is RIGHT
    assert mark_one(made("kilo"), "2500").outcome is RIGHT


@pytest.mark.parametrize(
    ("answer", "outcome", "said"),
    [
        ("loose", RIGHT, "Right."),
        ("out of spec", RIGHT, "Right."),
        ("out of spec, loose", RIGHT, "Right."),
        ("Loose  out of spec", RIGHT, "Right."),
        ("just out, loose", WRONG, NOT_IT),
        ("tight", MISTAKE, OTHER_SIDE),
        ("out of spec, tight", MISTAKE, OTHER_SIDE),
        ("in spec, tight", WRONG, NOT_IT),
        ("tihgt", UNREAD, '"tihgt" is none of '),
    ],
)
def test_the_words_of_the_trade_answer_what_is_beyond(answer: str, outcome: Outcome, said: str) -> None:
    """0.0043 in is over the most, 0.0014 of 2.5 in: 0.0035 in."""
    found = mark_one(made("loose_fit"), answer)
    assert found.outcome is outcome
    assert found.said.startswith(said)


def test_a_side_alone_does_not_say_how_sure_it_is() -> None:
    found = [mark_one(made("sure"), answer, SKIPPED) for answer in ("tight", "just out, tight", "loose")]
    assert [(each.outcome, each.said) for each in found] == [
        (COARSE, HOW_SURE),
        (RIGHT, "Right."),
        (MISTAKE, OTHER_SIDE),
    ]


@pytest.mark.parametrize(
    ("answer", "outcome", "said"),
    [
        ("one half", RIGHT, "Right."),
        ("ONE  half", RIGHT, "Right."),
        ("b", RIGHT, "Right."),
        ("b)", RIGHT, "Right."),
        ("a", WRONG, NOT_IT),
        ("c", MISTAKE, "A pair does twice as much."),
        ("the pair", MISTAKE, "A pair does twice as much."),
        ("d", UNREAD, '"d" is none of standard, one half, the pair'),
        ("0.0005", UNREAD, '"0.0005" is none of '),
        ("", OPEN, ""),
    ],
)
def test_a_choice_is_what_is_nearest(answer: str, outcome: Outcome, said: str) -> None:
    """0.0030 in asked for less the 0.0023 in that there are leave 0.0007 in, of which 0.0005 in is the nearest."""
    found = mark_one(made("shells"), answer, SKIPPED)
    assert (found.outcome, found.said[: len(said)]) == (outcome, said)


FOLLOWING = [
    # 2.5023 - 2.5000 is 0.0023 in; 0.0030 - 0.0023 is 0.0007 in; the nearest shell is one half
    (("0.0023", "0.0007", "b"), (RIGHT, RIGHT, RIGHT)),
    (("0.0022", "0.0008", "c"), (WRONG, FOLLOWS, FOLLOWS)),  # 0.0008 in is nearer to the pair
    (("0.0022", "0.0007", "b"), (WRONG, RIGHT, RIGHT)),
    (("0.0022", "0.0009", "c"), (WRONG, WRONG, FOLLOWS)),
    (("0.0022", "", "b"), (WRONG, OPEN, RIGHT)),
    (("", "0.0008", "c"), (OPEN, WRONG, FOLLOWS)),
    (("0.002", "0.0010", "c"), (COARSE, FOLLOWS, FOLLOWS)),
]


@pytest.mark.parametrize(("answers", "outcomes"), FOLLOWING)
def test_what_is_right_by_an_earlier_answer_counts(answers: tuple[str, ...], outcomes: tuple[Outcome, ...]) -> None:
    marks = mark(made("carried"), dict(enumerate(answers, 1)))
    assert tuple(each.outcome for each in marks) == outcomes
    assert points(marks) == sum(outcome in (RIGHT, FOLLOWS) for outcome in outcomes)


def test_a_verdict_follows_from_a_wrong_figure_and_is_as_sure() -> None:
    """0.0023 in is in spec under a most of 0.0035 in; 0.0043 in, which a learner came to, would be loose."""
    marks = mark(made("judged"), {1: "0.0043", 2: "loose"})
    assert [each.outcome for each in marks] == [MISTAKE, FOLLOWS]
    assert [each.outcome for each in mark(made("judged"), {1: "0.0043", 2: "in spec"})] == [MISTAKE, RIGHT]
    assert [each.outcome for each in mark(made("judged"), {1: "0.0043", 2: "tight"})] == [MISTAKE, WRONG]
