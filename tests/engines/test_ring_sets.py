"""Pistons of two to five rings: what they have is asked for, and what no source is about is the maker's."""

from __future__ import annotations

import pytest

from specrules.sheet.new_sheet import NewSheet, start
from specrules.vocabulary import Verdict
from tests.inspecting import finding, inspected, settled
from tests.shipped import resolved

HEAD = "specrules: build-sheet/1\npacks: [general]\nunit: in\n"
KIND = (
    "cylinders: 1, mains: 2, ignition: spark, cooling: liquid, cycle: four_stroke, card_bore: 4.000, induction: natural"
)
SETS = {
    "": ("top", "second", "oil"),
    "[top, oil]": ("top", "oil"),
    "[top, second, third, oil]": ("top", "second", "third", "oil"),
    "[top, second, third, oil, lower_oil]": ("top", "second", "third", "oil", "lower_oil"),
}
GAPS = {"top": "0.0160", "second": "0.0200", "third": "0.0200", "oil": "0.0250", "lower_oil": "0.0250"}
MAKERS = ("third", "lower_oil")


def written(rings: str, limits: str = "") -> str:
    """A cylinder with every gap of its rings read, each one good for the ring above it."""
    gaps = ", ".join(f"{ring}: {GAPS[ring]}" for ring in SETS[rings])
    sides = ", ".join(f"{ring}: 0.0020" for ring in SETS[rings] if "oil" not in ring)
    said = f", rings: {rings}" if rings else ""
    signed = "{rings_squared: {by: AB}, ring_grooves_not_mixed: {by: AB}}"
    read = f"cylinder_bore: {{1: 4.0000}}, ring_end_gap: {{1: {{{gaps}}}}}, ring_side_gap: {{1: {{{sides}}}}}"
    return f"{HEAD}facts: {{{KIND}{said}}}\nsigned: {signed}\n{limits}readings: {{{read}}}\n"


@pytest.mark.second_lane
@pytest.mark.parametrize("rings", SETS)
def test_a_gap_of_a_ring_that_no_source_is_about_has_no_figure(rings: str) -> None:
    report = inspected(written(rings))
    for ring in SETS[rings]:
        wanted = Verdict.NO_FIGURE if ring in MAKERS else Verdict.IN_SPEC
        assert finding(report, "ring_end_gap", cylinder="1", ring=ring).verdict is wanted
        side = Verdict.NOT_APPLICABLE if "oil" in ring else wanted
        assert finding(report, "ring_side_clearance", cylinder="1", ring=ring).verdict is side


@pytest.mark.second_lane
@pytest.mark.parametrize("rings", SETS)
def test_the_order_of_top_and_second_is_judged_only_where_there_is_a_second(rings: str) -> None:
    rules = {each.rule for each in inspected(written(rings)).findings}
    assert ("second_ring_gap" in rules) is ("second" in SETS[rings])


def test_the_makers_own_figure_judges_a_third_ring() -> None:
    limits = "limits: {ring_end_gap: [{name: third, when: ring == third, least: 0.0140, most: 0.0180}]}\n"
    third = finding(inspected(written("[top, second, third, oil]", limits)), "ring_end_gap", cylinder="1", ring="third")
    assert (third.verdict, third.side) == (Verdict.OUT, "loose")


@pytest.mark.second_lane
@pytest.mark.parametrize("rings", SETS)
def test_a_new_sheet_asks_for_the_rings_that_there_are(rings: str) -> None:
    facts = {"cylinders": "2", "mains": "2", "throws": "[[1, 2]]", "rod_material": "steel", "pin_fit": "floating"}
    sheet, _, said = settled(
        start(resolved("general"), facts | ({"rings": rings} if rings else {}), NewSheet("", ["general"], "in")), {}
    )
    assert sheet is not None, said
    assert sheet.labels["ring"] == SETS[rings]


def test_a_ring_that_the_piston_does_not_carry_cannot_be_read() -> None:
    _, _, faults = settled(f"{HEAD}facts: {{{KIND}}}\nreadings: {{ring_end_gap: {{1: {{third: 0.02}}}}}}\n", {})
    assert ["top, second and oil" in fault for fault in faults] == [True]
