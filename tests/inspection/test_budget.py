"""The uncertainty of a value from that of its readings: GUM (JCGM 100:2008), clauses 4.3.7 and 5.1.2."""

from __future__ import annotations

from decimal import Decimal
from math import isclose, sqrt

import pytest

from specrules.formula import Point
from specrules.inspection import Options
from specrules.inspection.budget import NOTHING, Part, expanded, half_width
from tests.inspecting import finding
from tests.inspection.small_build import build, fit, inches, readings

GUARDED = Options(decision="guarded")


def part(U: str, half: str = "0") -> Part:
    return Part(Decimal(U), Decimal(half))


def doubt(slopes: dict[int, float], *parts: Part, simple: bool = False) -> float:
    return float(expanded(Point(Decimal(1), slopes), parts, simple))


def test_independent_readings_add_in_squares() -> None:
    assert isclose(doubt({0: 1.0, 1: -1.0}, part("0.3"), part("0.4")), 0.5)
    assert isclose(doubt({0: 2.0}, part("0.3")), 0.6)


def test_a_shared_reading_cancels() -> None:
    """A reading that a value does not move with adds nothing, whatever its U."""
    assert doubt({0: 0.0}, part("0.3")) == 0
    assert doubt({}, part("0.3")) == 0
    assert doubt({0: 1.0}, NOTHING) == 0
    assert expanded(None, (), False) == 0


def test_a_bracket_is_rectangular_over_its_width() -> None:
    """Clause 4.3.7: half-width over the root of three; of two equal ones U is twice the root of two thirds of it."""
    assert isclose(part("0", "0.3").u, 0.3 / sqrt(3))
    assert isclose(part("0.4", "0.3").u, sqrt(0.2**2 + 0.3**2 / 3))
    assert isclose(doubt({0: 1.0, 1: 1.0}, part("0", "0.3"), part("0", "0.3")), 2 * sqrt(2 / 3) * 0.3)


def test_it_is_never_wider_than_the_brackets_and_twice_u_of_the_rest() -> None:
    """One bracket alone would give 2/sqrt(3) of its half-width, yet the value cannot lie outside it."""
    assert doubt({0: 1.0}, part("0", "0.3")) == 0.3
    assert isclose(doubt({0: 1.0, 1: 1.0}, part("0", "0.3"), part("0.01")), 0.31)
    wide = 2 * sqrt(0.25**2 / 4 + 0.3**2 / 3)
    assert isclose(doubt({0: 1.0, 1: 1.0}, part("0", "0.3"), part("0.25")), wide)
    assert wide < 0.55


def test_under_simple_acceptance_gauges_count_for_nothing_and_brackets_keep_their_width() -> None:
    assert doubt({0: 1.0}, part("0.3"), simple=True) == 0
    assert doubt({0: 1.0, 1: -2.0}, part("0.3", "0.1"), part("0", "0.2"), simple=True) == pytest.approx(0.5)


def test_half_width_is_the_sum_over_the_brackets() -> None:
    point = Point(Decimal(1), {0: 1.0, 1: -2.0, 2: 5.0})
    assert half_width(point, (part("9", "0.1"), part("0", "0.2"), part("3"))) == Decimal("0.5")


def test_a_stated_doubt_stands_beside_the_value() -> None:
    found = fit(readings("hole: {1: 2.0020 ±0.0003}, shaft: {1: 2.0000 ±0.0004}", options=GUARDED))
    assert found.U is not None
    assert isclose(float(found.U), float(inches("0.0005")))


@pytest.mark.parametrize(
    ("dial", "simple", "guarded"),
    [
        ("0.0020 ±0.0010", "in spec", "in spec"),  # inside by exactly U
        ("0.0020 ±0.0011", "in spec", "just in"),
        ("0.0030 ±0.0001", "in spec", "just in"),
        ("0.0031 ±0.0001", "out of spec", "just out"),  # beyond by exactly U
        ("0.0032 ±0.0001", "out of spec", "out of spec"),
        ("0.0020..0.0030", "in spec", "in spec"),  # the far end lies on the limit
        ("0.0020..0.0031", "just in", "just in"),
        ("0.0030..0.0040", "just out", "just out"),  # the near end lies on the limit
        ("0.0031..0.0040", "out of spec", "out of spec"),
        ("under 0.0030", "not measured", "not measured"),
        ("over 0.0031", "out of spec", "out of spec"),
    ],
)
def test_verdicts_under_both_decision_rules(dial: str, simple: str, guarded: str) -> None:
    """On the wear limit's inside, but on new work: limits are 0.0010 to 0.0030 in."""
    assert fit(readings(f"dial: {{1: {dial}}}")).verdict == simple
    assert fit(readings(f"dial: {{1: {dial}}}", options=GUARDED)).verdict == guarded


def test_the_margin_has_a_doubt_of_its_own_on_each_side() -> None:
    found = fit(readings("dial: {1: 0.0020 ±0.0003}", options=GUARDED))
    assert [(margin.side, margin.value, margin.U) for margin in found.margins] == [
        ("least", inches("0.0010"), inches("0.0003")),
        ("most", inches("0.0010"), inches("0.0003")),
    ]


def test_a_limit_that_rests_on_the_same_readings_shares_their_error() -> None:
    """Value 2.0, limit twice the same reading: the margin moves with the reading once, not with a sum of squares."""
    limits = "limits: {float: {most: 2 * float - 0.001 in}}\nreadings: {float: 0.0050 ±0.0010}"
    found = finding(build(limits, options=GUARDED), "float")
    assert [(margin.value, margin.U) for margin in found.margins] == [(inches("0.0040"), inches("0.0010"))]
