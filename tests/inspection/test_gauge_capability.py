"""What the gauges of a sheet can decide, asked before anything is measured."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest

from specrules.inspection.gauge_capability import Capable, capable
from specrules.output.reasons import said
from specrules.vocabulary import Verdict
from tests.evaluate.small_gauges import PACKS, expanded, looked, of, sheet
from tests.inspecting import settled


def able(body: str, decision: str = "guarded") -> dict[str, Capable]:
    read, made, faults = settled(sheet(body, decision), PACKS)
    assert read is not None, faults
    assert made is not None
    return {each.rule: each for each in capable(read, made)}


def better(found: Capable) -> list[str]:
    """What would bring U below a quarter of the width."""
    return [said(each.how) for each in found.better]


MAINS = "facts: {mains: 2}\n"
PAIR = "gauges: {mic: {class: micrometer}, bore: {class: comparator, set with: mic}}\n"
ALONE = (0.001**2 + 0.001**2 / 3) ** 0.5  # what a reading by micrometer errs by alone


def test_nothing_is_measured_and_every_gauge_is_assumed() -> None:
    found = able(MAINS)["first_fit"]
    assert found.width == Decimal("0.5")
    assert float(found.U) == pytest.approx(expanded((0.002, 0.001), (0.001, 0.001, 0.003, 0.004)), rel=1e-9)
    assert not found.narrow
    assert (found.least, found.most) == (None, Decimal("0.5") - found.U)  # beyond doubt up to there
    assert found.better == ()


def test_a_spread_of_what_is_not_yet_measured_is_of_different_readings() -> None:
    found = able(MAINS)["taper"]
    assert (found.down, found.up < found.down) == (found.U, True)  # a spread of like sizes reads too wide
    half_normal = 2 / math.pi**0.5 + 2 * (2 - 4 / math.pi) ** 0.5  # mean and two standard deviations of the difference
    assert float(found.U) == pytest.approx(half_normal * ALONE, rel=1e-4)


def test_a_rule_without_a_width_or_without_sizes_is_left_out() -> None:
    found = able(MAINS)
    assert "smallest_shaft" not in found  # a least alone
    assert "bare_size" not in found  # nobody says how large it usually is
    assert "with_a_fact" not in found  # the fact is not stated


def test_the_gauges_of_the_sheet_count_before_they_have_read_anything() -> None:
    """Hole and shaft by caliper: each pair of jaws is a gauge of its own, so that nothing cancels."""
    found = able(MAINS + "gauges: {jaws: {class: caliper}}\n")
    jaws = expanded((0.01, 0.01), (0.01, 0.01, 0.03, 0.03))
    assert float(found["first_fit"].U) == pytest.approx(jaws, rel=1e-9)
    assert better(found["fit"]) == []
    assert found["taper"].narrow
    assert better(found["taper"]) == ["read shaft with a micrometer", "read shaft with a fine comparator"]


def test_of_several_gauges_the_kind_that_is_trusted_most_is_taken() -> None:
    """For a hole the pack trusts a comparator most; set with the micrometer, its scale cancels in the fit."""
    found = able(MAINS + PAIR.replace("gauges: {", "gauges: {jaws: {class: caliper}, "))
    pair = expanded((0.002, 0.001, 0.001), (0.001, 0.001, 0.001, 0.003))
    assert float(found["first_fit"].U) == pytest.approx(pair, rel=1e-9)


def test_a_gauge_that_has_read_something_is_taken_for_the_rest() -> None:
    body = (
        MAINS
        + "gauges: {jaws: {class: caliper}, mic: {class: micrometer}}\nreadings: {shaft: {gauge: jaws, 1: [50, 50]}}"
    )
    found = able(body)
    assert float(found["shaft_size"].U) == pytest.approx(expanded((0.01,), (0.01, 0.03)), rel=1e-9)
    assert found["taper"].narrow


def test_a_gauge_that_read_something_else_is_not_taken_for_it() -> None:
    """The jaws read the shaft alone; of the gauges at hand the pack trusts the comparator most for a hole."""
    gauges = "gauges: {jaws: {class: caliper}, bore: {class: comparator}}\n"
    found = able(f"{MAINS}{gauges}readings: {{shaft: {{gauge: jaws, 1: [50, 50]}}}}\n")
    jaws_and_bore = expanded((0.002, 0.01), (0.001, 0.003, 0.01, 0.03))
    assert float(found["first_fit"].U) == pytest.approx(jaws_and_bore, rel=1e-9)


NARROW = MAINS + "limits: {shaft_size: {least: 49.995 mm, most: 50.005 mm}}\n"


def test_the_station_where_the_gauges_do_worst_is_told_of() -> None:
    body = NARROW + "readings: {shaft: {%s: [50 ±0.001, open], %s: [50 ±0.004, open]}}"
    found, swapped = (able(body % mains)["shaft_size"] for mains in (("1", "2"), ("2", "1")))
    assert float(found.U) == pytest.approx(0.004)
    assert found.narrow
    assert swapped == found


def test_what_the_sheet_says_of_limits_counts() -> None:
    assert able(NARROW)["shaft_size"].width == Decimal("0.010")
    assert better(able(NARROW)["shaft_size"]) == ["read shaft with a fine comparator"]
    assert not able(MAINS)["shaft_size"].narrow
    assert "shaft_size" not in able(MAINS + "limits: {shaft_size: none}\n")


def test_the_decision_of_the_sheet_does_not_matter() -> None:
    assert able(MAINS, decision="simple") == able(MAINS)


def test_the_length_of_a_width_is_in_the_unit_of_the_sheet() -> None:
    """As the screen of the inspection has it, whatever the pack is written in."""
    read, made, _ = settled(sheet(MAINS, "guarded").replace("unit: mm", "unit: in"), PACKS)
    assert read is not None
    assert made is not None
    assert {each.rule: each.unit.symbol for each in capable(read, made)}["first_fit"] == "in"


def test_a_verdict_agrees_with_what_was_said_before_the_day_was_spent() -> None:
    """At the ends of what is in spec beyond doubt it is in spec, and a little further out it is just in."""
    asked = able(MAINS + PAIR)["fit"]
    assert asked.least is not None
    assert asked.most is not None
    for clearance, wanted in (
        (asked.least, Verdict.IN_SPEC),
        (asked.least - Decimal("0.0002"), Verdict.JUST_IN),
        (asked.most, Verdict.IN_SPEC),
        (asked.most + Decimal("0.0002"), Verdict.JUST_IN),
    ):
        hole = Decimal(50) + clearance
        body = f"readings: {{hole: {{gauge: bore, 1: [{hole}, {hole}]}}, shaft: {{gauge: mic, 1: [50.0000, 50.0000]}}}}"
        assert of(looked(PAIR + body), "fit").verdict is wanted, clearance


def test_where_u_is_wider_than_the_tolerance_no_value_is_in_spec_beyond_doubt() -> None:
    found = able(MAINS + "limits: {shaft_size: {least: 49.999 mm, most: 50.001 mm}}\n")["shaft_size"]
    assert (found.least, found.most) == (None, None)
