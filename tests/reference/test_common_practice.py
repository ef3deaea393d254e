"""What every builder takes for granted of a mild street engine of about 4 in bore and 2.45 in mains.

Every figure here is common practice, no source. The street pack must agree with each of them.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.inspection import Options, Report, WholeFinding
from specrules.vocabulary import Verdict
from tests.inspecting import finding, inspected, same

SIGNED = """\
signed:
  caps_torqued_dry_shells: {by: the builder}
  fasteners_lubricated_as_specified: {by: the builder}
  ring_grooves_not_mixed: {by: the builder}
  rings_squared: {by: the builder}
"""


def street(readings: str, more: str = SIGNED, decision: str = "simple") -> Report:
    """A street sheet with an iron block, one cylinder and one main."""
    engine = "ignition: spark, cooling: liquid, cycle: four_stroke, card_bore: 4.0300 in, card_pin: 0.9270 in"
    facts = f"{{cylinders: 1, mains: 1, block_material: iron, {engine}}}"
    head = f"specrules: build-sheet/1\npacks: [street]\nunit: in\nfacts: {facts}\n"
    return inspected(f"{head}readings:\n  {readings}\n{more}", options=Options(decision=decision))


def main(found: Report) -> WholeFinding:
    """The clearance of the one main."""
    return finding(found, "main_oil_clearance", main="1")


def ring_gap(gap: str) -> WholeFinding:
    """A top ring's gap in a bore of 4.030 in."""
    found = street(f"cylinder_bore: {{1: 4.0300}}\n  ring_end_gap: {{1: {{top: {gap}}}}}")
    return finding(found, "ring_end_gap", cylinder="1", ring="top")


@pytest.mark.second_lane
@pytest.mark.parametrize("bore", ["2.4522", "2.4526", "2.4530"])
def test_mains_from_22_to_30_tenths_by_two_sizes_are_well_inside(bore: str) -> None:
    """Common practice, no source."""
    found = main(street(f"main_bearing_bore: {{1: {bore}}}\n  main_journal: {{1: 2.4500}}"))
    assert (found.verdict, found.way) == (Verdict.IN_SPEC, "two sizes")
    assert min(margin.value for margin in found.margins if margin.value is not None) > Decimal("0.0001")


@pytest.mark.second_lane
def test_a_strip_a_shade_over_two_thou_is_what_is_wanted() -> None:
    """Common practice, no source."""
    found = main(street("main_strip: {1: 0.0022}\n  main_journal: {1: 2.4500}"))
    assert (found.verdict, found.way) == (Verdict.IN_SPEC, "strip")


@pytest.mark.second_lane
@pytest.mark.parametrize(("bore", "agrees"), [("2.4526", True), ("2.4534", False)])
def test_a_strip_agrees_with_two_sizes_within_what_it_can_tell(bore: str, agrees: bool) -> None:
    """Common practice, no source; seven tenths is about what a strip can tell, from memory."""
    sizes = f"main_bearing_bore: {{1: {bore} ±0.0002}}\n  main_journal: {{1: 2.4500 ±0.0001}}"
    found = main(street(f"main_strip: {{1: 0.0022 ±0.0007}}\n  {sizes}", decision="guarded"))
    assert found.way == "two sizes"
    assert [(other.way, other.agrees) for other in found.other_ways] == [("strip", agrees)]


def test_end_float_just_under_three_thou_is_good() -> None:
    """Common practice, no source."""
    assert finding(street("crank_end_float: 0.0028"), "crank_end_float").verdict is Verdict.IN_SPEC


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("end_float", "side", "because", "remedy"),
    [("0.0010", "tight", "burns", "lap"), ("0.0120", "loose", "hammers", "thrust washer")],
)
def test_end_float_too_tight_burns_and_too_loose_gets_a_thicker_thrust(
    end_float: str, side: str, because: str, remedy: str
) -> None:
    """Common practice, no source."""
    found = finding(street(f"crank_end_float: {end_float}"), "crank_end_float")
    assert (found.verdict, found.side) == (Verdict.OUT, side)
    assert because in found.because
    assert remedy in found.steps[0].do


def test_a_light_drag_on_a_fifteen_tenths_blade_is_a_good_ring_in_its_groove() -> None:
    """Common practice, no source."""
    found = finding(street("ring_side_gap: {1: {top: 0.0015}}"), "ring_side_clearance", cylinder="1", ring="top")
    assert found.verdict is Verdict.IN_SPEC


@pytest.mark.second_lane
@pytest.mark.parametrize("gap", ["0.015", "0.016"])
def test_a_ring_gap_of_fifteen_thou_in_a_four_inch_bore_is_in_spec(gap: str) -> None:
    """Common practice, no source: 0.014 to 0.016 in, 0.015 in the middle."""
    assert ring_gap(gap).verdict is Verdict.IN_SPEC


@pytest.mark.second_lane
def test_fourteen_thou_is_in_spec_up_to_a_bore_of_four_inches() -> None:
    """Common practice, no source: the low end of the saying is for the smaller bore, at 0.0035 in an inch."""
    found = street("cylinder_bore: {1: 4.0000}\n  ring_end_gap: {1: {top: 0.014}}")
    assert finding(found, "ring_end_gap", cylinder="1", ring="top").verdict is Verdict.IN_SPEC
    short = ring_gap("0.014")  # the blade goes and the next does not, and the least lies between them
    assert short.verdict is Verdict.JUST_IN
    short = ring_gap("0.013")
    assert (short.verdict, short.side, same(short.beyond, "0.000105 in", short.unit)) == (Verdict.OUT, "tight", True)


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("gap", "side", "remedy"),
    [("0.010", "tight", "see that ring and bore belong together"), ("0.040", "loose", "fit a file-fit ring")],
)
def test_a_small_ring_gap_doubts_the_set_first_and_a_large_one_wants_another_ring(
    gap: str, side: str, remedy: str
) -> None:
    """Common practice, no source."""
    found = ring_gap(gap)
    assert (found.verdict, found.side) == (Verdict.OUT, side)
    assert all(step.do.startswith(remedy) for step in found.steps)


@pytest.mark.second_lane
def test_a_micrometer_is_proved_on_its_standard_and_its_error_comes_off() -> None:
    """Common practice, no source. What reads a tenth high makes a journal a tenth large, and cancels in a clearance."""
    gauges = "gauges:\n  mic: {zero: {standard: 2.0000 in, reads: 2.0001 in}}\n  bore gauge: {set with: mic}\n"
    journal = "main_journal: {gauge: mic, 1: 2.4501}"
    set_with_it = street(f"main_bearing_bore: {{gauge: bore gauge, 1: 2.4525}}\n  {journal}", gauges + SIGNED)
    assert same(main(set_with_it).value, "0.0024 in", main(set_with_it).unit)
    set_otherwise = street(f"main_bearing_bore: {{1: 2.4525}}\n  {journal}", gauges + SIGNED)
    assert same(main(set_otherwise).value, "0.0025 in", main(set_otherwise).unit)


def test_no_clearance_is_proved_until_the_caps_were_torqued() -> None:
    """Common practice, no source."""
    unsigned = SIGNED.replace("  caps_torqued_dry_shells: {by: the builder}\n", "")
    found = main(street("main_bearing_bore: {1: 2.4526}\n  main_journal: {1: 2.4500}", unsigned))
    assert (found.verdict, found.would_be) == (Verdict.NOT_PROVEN, Verdict.IN_SPEC)
    assert found.rests_on.unsigned == ("caps_torqued_dry_shells",)


def test_lubricated_threads_give_the_true_torque() -> None:
    """Common practice, no source."""
    unsigned = SIGNED.replace("  fasteners_lubricated_as_specified: {by: the builder}\n", "")
    found = main(street("main_bearing_bore: {1: 2.4526}\n  main_journal: {1: 2.4500}", unsigned))
    assert found.rests_on.unsigned == ("fasteners_lubricated_as_specified",)


def test_everything_is_dry_fitted_before_parts_go_to_be_balanced() -> None:
    """Common practice, no source: the dry fit is a hold point before the balance, and is signed for there."""
    found = street("crank_end_float: 0.0028")
    assert found.hold_points.index("dry_fit") < found.hold_points.index("before_balance")
    asked = {state.name: state.hold_point for state in found.sign_offs}
    assert asked["dry_fit_complete"] == "before_balance"
    assert asked["rotates_freely"] == "dry_fit"
