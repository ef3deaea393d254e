"""Exercises with the readings that were written, and with those that a seed makes."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.proving.exercises import work_exercises
from specrules.teaching import Posed, pose
from tests.pack.small_packs import resolved
from tests.teaching.small_lessons import MORE, PACK, changed, made

SPEC = resolved(PACK)


def texts(posed: Posed) -> list[str]:
    return [given.text for given in posed.given]


def test_the_written_readings_stand_without_a_seed() -> None:
    posed = made()
    assert [(each.title, dict(each.station), each.text) for each in posed.given] == [
        ("material", {}, "iron"),
        ("hole", {"place": "1"}, "2.5023 in"),
        ("Shaft size", {"place": "1"}, "2.5000 in"),
    ]
    assert [each.right.text for each in posed.asked] == ["0.0023 in", "2.5000 in"]
    assert posed.asked[0].right.worked == "smallest hole 2.5023 - largest shaft size 2.5000"
    assert [wrong.text for wrong in posed.asked[0].wrong] == ["0.0012 in", "0.0033 in"]


def test_stated_uncertainties_and_limits_are_given_and_counted() -> None:
    """U of independent readings is the root of the sum of their squares (JCGM 100:2008, clause 5.1.2): 3, 4 and 5."""
    posed = made("sure")
    assert texts(posed)[1:] == ["2.5017 ±0.0003 in", "2.5000 ±0.0004 in", "least 0.0018 in, most 0.0040 in"]
    assert [each.right.text for each in posed.asked] == ["0.0005 in", "just out"]
    assert posed.asked[1].right.worked == "0.0017 ±0.0005, least 0.0018, most 0.0040 in"


def test_a_seed_makes_the_same_readings_for_ever() -> None:
    """Written down once: a trainer who notes a seed finds the same sheet again next year."""
    assert texts(made(seed=7)) == SEVEN
    assert texts(made(seed=8)) != SEVEN


SEVEN = ["iron", "2.4917 in", "2.4888 in"]


@pytest.mark.second_lane
@pytest.mark.parametrize("seed", range(60))
def test_every_seed_asks_the_same_question_of_other_sizes_and_knows_the_answer(seed: int) -> None:
    """The answer is held against a subtraction of the printed readings."""
    posed = made(seed=seed, spec=SPEC)
    hole, shaft = (Decimal(text.removesuffix(" in")) for text in texts(posed)[1:])
    assert posed.asked[0].right.text == f"{hole - shaft} in"
    assert posed.asked[1].right.text == f"{shaft} in"
    assert abs(hole - Decimal("2.5023")) <= Decimal("0.1004")
    assert abs(hole - shaft - Decimal("0.0023")) <= Decimal("0.0008")
    assert [each.question for each in posed.asked] == [each.question for each in made(spec=SPEC).asked]


def test_seeds_differ() -> None:
    assert len({tuple(texts(made(seed=seed, spec=SPEC))) for seed in range(60)}) == 60


@pytest.mark.second_lane
def test_readings_by_which_a_mistake_would_be_right_are_drawn_again() -> None:
    """With another mistake 0.0025 in is the right answer of some seeds; where it is a mistake it is that of none."""
    colliding = resolved(changed("clearance[1] + 0.001 in", "0.0025 in"))
    answers = {made(seed=seed, spec=SPEC).asked[0].right.text for seed in range(60)}
    drawn_again = {made(seed=seed, spec=colliding).asked[0].right.text for seed in range(60)}
    assert "0.0025 in" in answers
    assert "0.0025 in" not in drawn_again
    assert len(drawn_again) > 10


@pytest.mark.parametrize(
    ("old", "new", "name", "said"),
    [
        (
            "clearance[1] + 0.001 in",
            "clearance[1] + 0 in",
            "one_fit",
            "exercise one_fit: makes no sound question of the seed 1, in 50 draws; write other steps under vary.",
        ),
        (
            "title: One fit",
            "title: One",
            "sure",
            "exercise sure: varies nothing, so that no seed gives it new readings.",
        ),
        (
            "{hole: {1: 2.5023},",
            "{hoel: {1: 2.5023},",
            "one_fit",
            'exercise one_fit readings: "hoel" is no measurand of these packs; write hole.',
        ),
    ],
)
def test_what_cannot_be_posed_is_a_fault_of_the_pack(old: str, new: str, name: str, said: str) -> None:
    posed, (fault, *_) = pose(resolved(changed(old, new)), name, 1)
    assert posed is None
    assert fault.kind == "pack"
    assert fault.sentence().startswith("pack0.yaml, line ")
    assert fault.sentence().endswith(said)


WORDED = changed(
    "facts: {material: iron}, readings: {hole: {1: 2.5023}", "facts: {grip: 0.50}, readings: {hole: {1: 63.56 mm}"
)


def test_a_figure_moves_in_its_own_unit_and_keeps_its_places() -> None:
    vary = "      - {names: grip, by: 0.01, steps: 9}\n      - {names: hole, by: 0.01 mm, steps: 3}\n"
    text = WORDED.replace(TOGETHER, vary)
    spec = resolved(text)
    for seed in range(20):
        grip, hole, _ = texts(made(seed=seed, spec=spec))
        assert Decimal("0.41") <= Decimal(grip) <= Decimal("0.59")
        assert len(grip) == 4
        assert Decimal("63.53") <= Decimal(hole.removesuffix(" mm")) <= Decimal("63.59")
        assert len(hole) == 8


TOGETHER = """\
      - {names: [hole, shaft], by: 0.001 in, steps: 100, together: yes}
      - {names: [hole, shaft], by: 0.0001 in, steps: 4}
"""


def test_what_the_pack_takes_for_facts_is_not_given() -> None:
    """A learner is given what an exercise states: what its pack takes for facts in all of them is of no use there."""
    assuming = resolved(
        changed("facts: {material: iron}, readings: {hole: {1: 2.5023}", "readings: {hole: {1: 2.5023}")
    )
    assert [each.title for each in made(spec=assuming).given] == ["hole", "Shaft size"]


def test_two_choices_that_are_as_near_are_no_question() -> None:
    """0.0030 in less 0.0023 in is 0.0007 in; 0.0002 in and 0.0012 in are both 0.0005 in from it."""
    alike = "standard: 0.0002 in, one half: 0.0012 in, the pair: 0.002 in"
    sizes = "standard: 0 in, one half: 0.0005 in, the pair: 0.001 in"
    found = work_exercises(resolved(PACK + MORE.replace(sizes, alike)), "base").remarks
    said = [f"question {number} has two choices that are as near with these readings" for number in (2, 3)]
    assert [each.said for each in found if each.kind == "exercise"] == said
