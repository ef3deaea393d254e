"""Figures of the general pack that no rule judges, held against sums done by hand and geometry done another way."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest

from specrules.inspection import FigureValue
from tests.inspecting import inspected, same

PAIR = "cylinders: 2, throws: [[1, 2]]"
WEIGHTS = """\
  piston_weight: {1: 583.9, 2: 583.9}
  pin_weight: {1: 173.6, 2: 173.6}
  ring_set_weight: {1: 69.5, 2: 69.5}
  rod_small_end_weight: {1: 162.4, 2: 162.4}
  rod_big_end_weight: {1: 229.8, 2: 229.8}
  shell_set_weight: {1: 23.7, 2: 23.7}
"""
EVENTS = """\
  tdc_stop_before: 22.0
  tdc_stop_after: 19.5
  intake_opens: {1: 6.0}
  intake_closes: {1: 42.0}
  exhaust_opens: {1: 49.0}
  exhaust_closes: {1: 5.0}
"""


def figure(name: str, facts: str, readings: str = "", **station: str) -> FigureValue:
    """One figure of a sheet on the general pack."""
    read = f"readings:\n{readings}" if readings else ""
    found = inspected(f"specrules: build-sheet/1\npacks: [general]\nunit: in\nfacts: {{{facts}}}\n{read}")
    (one,) = [each for each in found.figures if each.name == name and each.station == station]
    return one


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("stroke", "speed", "published"),
    [
        ("86.0 mm", "3600 rpm", "about 10.32 m/s"),  # Engineering Fundamentals of the ICE, example 2-1, from memory
        ("55.6 mm", "7500 rpm", "about 13.9 m/s"),  # a public thesis on a small engine
        ("3.750 in", "4800 rpm", "3000 ft/min"),  # by hand: 2 x 3.75 / 12 x 4800
    ],
)
def test_mean_piston_speed(stroke: str, speed: str, published: str) -> None:
    found = figure("mean_piston_speed", f"stroke: {stroke}, redline: {speed}")
    assert same(found.value, published, found.unit)


def test_peak_acceleration_is_the_bend_of_the_piston_s_path_at_top_centre() -> None:
    """Against a second difference of x = r + l - (r cos t + sqrt(l^2 - r^2 sin^2 t)), the crank-slider's path."""
    r, rod, turns, t = 1.74 * 25.4, 5.7 * 25.4, 6500 / 60, 1e-3
    travel = r + rod - (r * math.cos(t) + math.sqrt(rod**2 - (r * math.sin(t)) ** 2))
    seconds = t / (2 * math.pi * turns)
    found = figure("peak_piston_acceleration", "stroke: 3.480 in, rod_length: 5.700 in, redline: 6500 rpm")
    assert found.value is not None
    assert float(found.unit.to_base(found.value)) == pytest.approx(2 * travel / seconds**2, rel=1e-5)


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("pin", "locks", "reciprocating", "total"),
    [
        ("floating", "  locks_weight: {1: 4.8, 2: 4.8}\n", "994.2 g", "1505.2 g"),  # a public article's V8
        ("pressed", "", "989.4 g", "1500.4 g"),  # the same without locks, by hand
    ],
)
def test_bobweight_of_two_rods_a_pin(pin: str, locks: str, reciprocating: str, total: str) -> None:
    """Both rods' big ends and shells once each, the oil, and half of both pistons: 2 x 253.5 + 4 + 994.2."""
    facts = f"{PAIR}, pin_fit: {pin}, oil_allowance: 4 g, reciprocating_share: 0.5"
    one = figure("reciprocating_weight", facts, WEIGHTS + locks, cylinder="1")
    assert same(one.value, reciprocating, one.unit)
    both = figure("bobweight", facts, WEIGHTS + locks, throw="1")
    assert same(both.value, total, both.unit)


@pytest.mark.second_lane
def test_no_bobweight_while_a_rod_is_not_weighed() -> None:
    facts = f"{PAIR}, pin_fit: pressed, oil_allowance: 4 g, reciprocating_share: 0.5"
    found = figure("bobweight", facts, WEIGHTS.replace("{1: 229.8, 2: 229.8}", "{1: 229.8}"), throw="1")
    assert found.value is None


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("name", "by_hand"),
    [
        ("intake_centreline", "109.25 deg"),  # (42 - 6 + 180) / 2 + 1.25
        ("exhaust_centreline", "110.75 deg"),  # (49 - 5 + 180) / 2 - 1.25
        ("lobe_separation", "110 deg"),  # the mean of the two
        ("cam_advance", "0.75 deg"),  # 110 - 109.25
        ("overlap", "11 deg"),  # 6 + 5
        ("intake_closing_effective", "43.25 deg"),  # 42 + 1.25
    ],
)
def test_figures_of_the_cam(name: str, by_hand: str) -> None:
    found = figure(name, "cylinders: 1", EVENTS, cylinder="1")
    assert same(found.value, by_hand, found.unit)


def test_true_top_centre_lies_midway_between_the_stops() -> None:
    """A public article: 22 before and 19.5 after, so the wheel stands 1.25 early."""
    found = figure("tdc_correction", "cylinders: 1", EVENTS)
    assert same(found.value, "1.25 deg", found.unit)


@pytest.mark.parametrize(("material", "opens_by"), [("aluminium", "0.0024"), ("iron", "0.0000")])
def test_a_warm_aluminium_block_opens_its_mains(material: str, opens_by: str) -> None:
    """2.69 in and 140 F at 6.4 millionths a degree: common practice, worked by hand."""
    facts = f"mains: 1, block_material: {material}, working_temperature_rise: 140 degF_difference"
    readings = "  main_bearing_bore: {1: 2.6920}\n  main_journal: {1: 2.6900}\n"
    found = figure("running_main_clearance", facts, readings, main="1")
    assert found.value is not None
    assert same(found.value - Decimal("0.0020"), f"about {opens_by} in", found.unit)


def test_a_short_bolt_is_at_proof_stress_before_it_has_stretched_by_five_thou() -> None:
    """M10 x 1.25 of class 10.9: 61.2 mm2 and 830 MPa (ISO 898-1), a waist of 9 mm over 20 mm, 5 mm of free thread."""
    sizes = "rod_bolt_diameter: 10 mm, rod_bolt_pitch: 1.25 mm, rod_bolt_waist: 9 mm, rod_bolt_waist_length: 20 mm"
    steel = "rod_bolt_thread: metric, rod_bolt_thread_length: 5 mm, rod_bolt_proof_stress: 830 MPa"
    found = figure("rod_bolt_stretch_at_proof", f"cylinders: 1, {sizes}, {steel}")
    area = math.pi / 4 * (10 - 0.9382 * 1.25) ** 2
    load, stiffness = 830 * area, 30_000_000 * 0.006894757
    by_hand = load / stiffness * (20 / (math.pi / 4 * 9**2) + 5 / area) / 25.4
    assert found.value is not None
    assert float(found.value) == pytest.approx(by_hand, rel=1e-5)
    assert by_hand == pytest.approx(0.0038, abs=0.00005)
