"""What a good value lacks is told by how: not signed, signed as not good or too early, a check that is not good."""

from __future__ import annotations

import pytest

from specrules.inspection.finding_parts import RestsOn
from specrules.output.telling import unproven_by
from specrules.vocabulary import Verdict
from tests.inspecting import finding, whole
from tests.inspection.small_build import build

NOTHING = RestsOn()
CASES = [
    (NOTHING, []),
    (RestsOn(unsigned=("clean",)), ["Not signed: clean."]),
    (RestsOn(unsigned=("clean",), answered_no=("clean",)), ["Signed as not good: clean."]),
    (RestsOn(unsigned=("clean",), signed_before=("clean",)), ["Signed before later work; sign again: clean."]),
    (RestsOn(unsigned=("end_gap",), needed_rules=("end_gap",)), ["Not good itself: end gap."]),
    (
        RestsOn(
            unsigned=("caps_torqued", "clean", "end_gap", "dry"),
            answered_no=("clean",),
            signed_before=("dry",),
            needed_rules=("end_gap", "side_gap"),
        ),
        [
            "Not signed: caps torqued.",
            "Signed as not good: clean.",
            "Signed before later work; sign again: dry.",
            "Not good itself: end gap.",
        ],
    ),
]


@pytest.mark.parametrize(("rests_on", "told"), CASES)
def test_each_way_to_lack_has_words_of_its_own(rests_on: RestsOn, told: list[str]) -> None:
    assert list(unproven_by(rests_on)) == told


@pytest.mark.parametrize(
    ("signed", "told"),
    [
        ("", "Not signed: caps torqued."),
        ("signed: {caps_torqued: {by: me, answer: no}}", "Signed as not good: caps torqued."),
    ],
)
def test_an_inspection_says_which_it_is(signed: str, told: str) -> None:
    found = whole(finding(build("readings: {dial: {1: 0.0020}}", facts="block: iron", signed=signed), "fit", main="1"))
    assert found.verdict is Verdict.NOT_PROVEN
    assert list(unproven_by(found.rests_on)) == [told]
