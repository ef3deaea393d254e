"""The exercises that ship, held against sums done by hand, and what they say to a learner."""

from __future__ import annotations

import pytest

from specrules.output.exercise_page import exercise_given, lesson_list, lesson_whole, question, solution
from specrules.output.lines import WIDTH
from specrules.output.terminal import text_of
from specrules.pack import Specification
from specrules.teaching import Outcome, mark, pose
from tests.shipped import resolved

BY_HAND = {
    "inch_micrometer": ["2.4375 in"],  # 2 + 17 * 0.025 + 0.012 + 0.0005
    "metric_micrometer": ["62.285 mm", "2.4522 in"],  # 50 + 24 * 0.5 + 0.28 + 0.005; 62.285 / 25.4 is 2.45216
    "hole_less_shaft": ["0.0023 in", "0.00115 in"],  # 2.5018 - 2.4995
    "two_units": [
        "2.5005 in",
        "0.0023 in",
        "0.059 mm",
    ],  # 63.512 / 25.4 is 2.50047; 2.5028 - 2.50047; 63.57112 - 63.512
    "tightest_pair": ["0.0022 in", "0.0032 in", "0.0006 in"],  # 2.5020 - 2.4998; 2.5024 - 2.4992; 2.4998 - 2.4992
    "along_the_crank": ["0.0024 in", "0.0005 in"],  # 0.0024, 0.0025 and 0.0029
    "by_parts": ["0.0025 in", "2.5023 in"],  # 2.6906 - 0.0942 - 0.0941 - 2.4998; the same without the journal
    "changing_shells": ["0.0033 in", "0.0018 in", "0.0005 in"],  # 0.0028 and half a thou; less one; half of one
    # 2.5015 - 2.4999 is 0.0016; 0.0025 less that is 0.0009, and of 0, 0.0005 and 0.001 the last is the nearest
    "which_shells": ["0.0009 in", "the extra-clearance pair"],
    # the squares of 3 and 1.5 add up to 11.25, whose root is 3.354 (JCGM 100:2008, clause 5.1.2)
    "doubt_of_a_difference": ["0.0023 in", "0.00034 in"],
    # U is the root of 4 and 4, 2.83 tenths; 18 lies on the least of 18, 27 lies 9 inside both, 10 lies 8 beyond
    "near_a_limit": ["0.0018 in", "0.0003 in", "just in", "in spec", "out of spec"],
}


def teaching() -> Specification:
    return resolved("teaching")


def test_every_exercise_is_held_here() -> None:
    assert set(BY_HAND) == set(teaching().exercises)


@pytest.mark.second_lane
@pytest.mark.parametrize("name", BY_HAND)
def test_the_answers_are_those_of_the_sums_done_by_hand(name: str) -> None:
    posed, _ = pose(teaching(), name)
    assert posed is not None
    assert [asked.right.text for asked in posed.asked] == BY_HAND[name]
    answers = dict(enumerate(BY_HAND[name], 1))
    assert {each.outcome for each in mark(posed, answers)} == {Outcome.RIGHT}


@pytest.mark.second_lane
@pytest.mark.parametrize("name", BY_HAND)
@pytest.mark.parametrize("seed", [0, 3, 1_000_003])
def test_a_mistake_is_answered_with_what_it_shows_and_never_with_the_answer(name: str, seed: int) -> None:
    posed, _ = pose(teaching(), name, seed)
    assert posed is not None
    for number, asked in enumerate(posed.asked, 1):
        for wrong in asked.wrong:
            found = mark(posed, {number: wrong.text})[number - 1]
            assert (found.outcome, found.said) == (Outcome.MISTAKE, wrong.mistake.shows)
            words = asked.question.rule or asked.question.choices
            assert (asked.right.text if words else asked.right.text.split()[0]) not in found.said.split()


@pytest.mark.second_lane
@pytest.mark.parametrize("name", BY_HAND)
def test_a_seed_gives_other_readings_within_the_screen(name: str) -> None:
    written, seeded = (pose(teaching(), name, seed)[0] for seed in (None, 5))
    assert written is not None
    assert seeded is not None
    assert written.given != seeded.given
    rows = [*exercise_given(seeded, "Mind the crank."), *solution(seeded)]
    rows += (row for number, asked in enumerate(seeded.asked, 1) for row in question(asked, number))
    assert max(len(row) for row in text_of(rows).split("\n")) <= WIDTH


def test_every_lesson_is_read_and_every_exercise_listed() -> None:
    resolved = teaching()
    assert 4 <= len(resolved.lessons) <= 6
    listed = text_of(lesson_list(resolved, "teaching"))
    for name in (*resolved.lessons, *resolved.exercises):
        assert f" {name}\n" in listed
    for lesson in resolved.lessons.values():
        assert len(lesson.text) >= 3
        text = text_of(lesson_whole(lesson, resolved))
        assert " ".join(lesson.text[-1].split()) in " ".join(text.split())
