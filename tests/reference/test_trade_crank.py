"""Crank geometry, what is swept and bobweights, held against worked examples and exact geometry."""

from __future__ import annotations

import math

import pytest

from tests.reference.trade_examples import worth

SQUARE = "8.60 cm, 16.6 cm, 0 cm"


def test_a_piston_twenty_degrees_after_the_top() -> None:
    """Example 2-1 of "Engineering Fundamentals of the Internal Combustion Engine", from memory.

    Square, stroke 8.60 cm, rod 16.6 cm, 3600 rpm: mean speed 10.32 m/s; at 20 deg the piston is 0.32 cm down and goes
    6.89 m/s, 0.668 of the mean. The 6.89 is the rounded ratio times the mean; unrounded it is 6.899.
    """
    assert worth("mean_speed_of_piston(8.60 cm, 3600 rpm)", "m/s") == pytest.approx(10.32, abs=0.005)
    assert worth(f"piston_travel_at(20 deg, {SQUARE})", "cm") == pytest.approx(0.32, abs=0.005)
    speed = worth(f"piston_speed_at(20 deg, {SQUARE}, 3600 rpm)", "m/s")
    assert speed == pytest.approx(6.89, abs=0.01)
    assert speed / worth("mean_speed_of_piston(8.60 cm, 3600 rpm)", "m/s") == pytest.approx(0.668, abs=0.001)


@pytest.mark.parametrize("degrees", [1, 20, 75, 90, 133, 180, 260, 359])
def test_the_speed_is_the_published_ratio_to_the_mean(degrees: int) -> None:
    """Internal Combustion Engine Fundamentals, 1988, equation 2.11 (seen quoted in a thesis)."""
    ratio, angle = 16.6 / 4.3, math.radians(degrees)
    published = math.pi / 2 * math.sin(angle) * (1 + math.cos(angle) / math.sqrt(ratio**2 - math.sin(angle) ** 2))
    mean = worth("mean_speed_of_piston(8.60 cm, 3600 rpm)", "m/s")
    found = worth(f"piston_speed_at({degrees} deg, {SQUARE}, 3600 rpm)", "m/s")
    assert found == pytest.approx(published * mean, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(("degrees", "by"), [(0, 1), (180, -1)])
def test_the_acceleration_at_top_and_bottom_is_exact_geometry(degrees: int, by: int) -> None:
    """r w^2 (1 + r/l) at the top, by the other sign at the bottom: the two ends of the usual expansion are exact."""
    throw, rod, turning = 0.043, 0.166, 3600 / 60 * 2 * math.pi
    found = worth(f"piston_acceleration_at({degrees} deg, {SQUARE}, 3600 rpm)", "m/s^2")
    assert found == pytest.approx(throw * turning**2 * (by + throw / rod), rel=1e-12)


@pytest.mark.parametrize("degrees", [1, 20, 75, 133, 260, 359])
def test_the_acceleration_is_how_fast_the_speed_grows(degrees: int) -> None:
    """With an offset pin, by differences over a thousandth of a degree."""
    sizes, step = "3.48 in, 5.70 in, 0.060 in, 6200 rpm", 0.001
    later, earlier = (worth(f"piston_speed_at({degrees + side * step} deg, {sizes})", "m/s") for side in (1, -1))
    seconds = 2 * step / (6200 * 6)
    found = worth(f"piston_acceleration_at({degrees} deg, {sizes})", "m/s^2")
    assert found == pytest.approx((later - earlier) / seconds, rel=1e-6)


def test_a_thesis_with_a_slip_is_not_followed() -> None:
    """A thesis on a small engine: throw 27.8, rod 97.3, stroke 55.6 mm, 7500 rpm.

    Its mean speed of 13.9 m/s follows. Its 2.1448 mm of travel and 9.4196 m/s at one angle do not: they hold a slip of
    multiplication (0.67767 for 0.68179), and the sizes give 2.1422 mm and 9.4823 m/s.
    """
    assert worth("mean_speed_of_piston(55.6 mm, 7500 rpm)", "m/s") == pytest.approx(13.9, abs=0.05)
    angle = 20
    travel = worth(f"piston_travel_at({angle} deg, 55.6 mm, 97.3 mm, 0 mm)", "mm")
    speed = worth(f"piston_speed_at({angle} deg, 55.6 mm, 97.3 mm, 0 mm, 7500 rpm)", "m/s")
    assert travel == pytest.approx(2.1422, abs=0.00005)
    assert abs(travel - 2.1448) > 0.002
    assert speed == pytest.approx(9.4823, abs=0.0015)
    assert abs(speed - 9.4196) > 0.05


def test_half_way_round_with_a_rod_of_four_throws() -> None:
    """An identity: 5 - sqrt(15) half-strokes down after a quarter of a turn."""
    assert worth("piston_travel_at(90 deg, 2 in, 4 in, 0 in)", "in") / 2 == pytest.approx(
        (5 - math.sqrt(15)) / 2, rel=1e-14
    )


def test_what_is_left_when_the_intake_closes_at_seventy_degrees() -> None:
    """A stroke of 3.48 in and a rod of 5.70 in: 0.9053 in of rise is lost, as a magazine's article has it."""
    left = worth("piston_travel_at(180 deg + 70 deg, 3.48 in, 5.70 in, 0 in)", "in")
    assert 3.48 - left == pytest.approx(0.9053, abs=0.00005)
    swept = worth("swept_after(70 deg, 4.030 in, 3.48 in, 5.70 in, 0 in)", "cc")
    assert (swept + 78.5) / 78.5 == pytest.approx(7.86, abs=0.005)  # common practice, 78.5 cc above the piston


def test_an_offset_pin_by_the_triangle_itself() -> None:
    """Geometry worked apart: the true top and bottom are where crank and rod lie in line, and the stroke grows."""
    throw, rod, offset = 1.75, 6.0, 0.060
    top, bottom = (math.sqrt((rod + side * throw) ** 2 - offset**2) for side in (1, -1))
    turn = 180 - math.degrees(math.asin(offset / (rod - throw)) - math.asin(offset / (rod + throw)))
    found = worth(f"piston_travel_at({turn:.12f} deg, 3.5 in, 6 in, 0.060 in)", "in")
    assert found == pytest.approx(top - bottom, rel=1e-12)
    assert found > 3.5
    assert worth(f"piston_speed_at({turn:.12f} deg, 3.5 in, 6 in, 0.060 in, 6000 rpm)", "m/s") == pytest.approx(
        0, abs=1e-9
    )


def test_bobweight_of_a_printed_list() -> None:
    """A public article's list for a 90-degree V of two rods a pin: 1505.2 g, if 47.4 g of shells are of two rods."""
    reciprocating = "583.9 g + 173.6 g + 69.5 g + 4.8 g + 162.4 g"
    assert worth(f"bobweight_of({reciprocating}, 229.8 g + 23.7 g, 4 g, 2, 0.5)", "g") == pytest.approx(
        1505.2, abs=1e-9
    )
    assert worth(f"bobweight_of({reciprocating}, 229.8 g + 47.4 g, 4 g, 2, 0.5)", "g") == pytest.approx(
        1552.6, abs=1e-9
    )
