"""Tails of chi-square and F, and how sure a standard deviation is, held against printed tables."""

from __future__ import annotations

from math import exp, inf, pi, sqrt
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.study.chance import chi_square_at, chi_square_below, f_above, relative_uncertainty


@pytest.mark.parametrize(
    ("readings", "percent"), [(2, 76), (3, 52), (4, 42), (5, 36), (10, 24), (20, 16), (30, 13), (50, 10)]
)
def test_how_sure_a_standard_deviation_is(readings: int, percent: int) -> None:
    """GUM (JCGM 100:2008) E.4.3, table E.1 (from memory)."""
    assert round(100 * relative_uncertainty(readings - 1)) == percent


def test_two_readings_exactly() -> None:
    """With one degree of freedom c4 is sqrt(2/pi)."""
    assert relative_uncertainty(1) == pytest.approx(sqrt(pi / 2 - 1))


def test_many_degrees_of_freedom_join_without_a_step() -> None:
    """GUM E.4.3: 1/sqrt(2 nu) is the form for many."""
    assert relative_uncertainty(999.9999) == pytest.approx(relative_uncertainty(1000.0001), rel=1e-3)
    assert relative_uncertainty(1e6) == pytest.approx(1 / sqrt(2e6))


@pytest.mark.parametrize(
    ("chance", "freedom", "value"),
    [
        (0.95, 1, "3.841"),
        (0.95, 5, "11.070"),
        (0.95, 10, "18.307"),
        (0.95, 30, "43.773"),
        (0.95, 100, "124.342"),
        (0.975, 5, "12.833"),
        (0.975, 10, "20.483"),
        (0.99, 10, "23.209"),
        (0.999, 1, "10.828"),
        (0.025, 5, "0.831"),
        (0.025, 10, "3.247"),
        (0.025, 30, "16.791"),
        (0.05, 100, "77.929"),
    ],
)
def test_chi_square_as_tabled(chance: float, freedom: float, value: str) -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4 (from memory)."""
    assert f"{chi_square_at(chance, freedom):.3f}" == value


@pytest.mark.parametrize(
    ("chance", "over", "under", "value"),
    [
        (0.05, 1, 1, 161.448),
        (0.05, 1, 10, 4.965),
        (0.05, 3, 10, 3.708),
        (0.05, 5, 20, 2.711),
        (0.05, 10, 10, 2.978),
        (0.05, 2, 60, 3.150),
        (0.01, 2, 10, 7.559),
        (0.01, 10, 10, 4.849),
    ],
)
def test_f_as_tabled(chance: float, over: float, under: float, value: float) -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.3 (from memory), to the table's last place."""
    assert f_above(value - 0.0006, over, under) > chance > f_above(value + 0.0006, over, under)


@given(st.floats(0.01, 50), st.floats(1, 200))
def test_chi_square_of_two_is_an_exponential_and_quantiles_come_back(value: float, freedom: float) -> None:
    assert chi_square_below(value, 2) == pytest.approx(1 - exp(-value / 2), rel=1e-12)
    chance = chi_square_below(value, freedom)
    if 1e-6 < chance < 1 - 1e-6:
        assert chi_square_at(chance, freedom) == pytest.approx(value, rel=1e-6)


@given(st.floats(0.01, 20), st.integers(1, 100), st.integers(1, 100))
def test_f_turned_over_is_the_other_tail(ratio: float, over: int, under: int) -> None:
    assert f_above(ratio, over, under) + f_above(1 / ratio, under, over) == pytest.approx(1)


@given(st.floats(0.01, 6))
def test_one_degree_of_freedom_is_a_normal_squared(z: float) -> None:
    assert chi_square_below(z * z, 1) == pytest.approx(2 * NormalDist().cdf(z) - 1, rel=1e-9)


def test_the_ends() -> None:
    assert (f_above(inf, 3, 4), f_above(0, 3, 4), chi_square_below(0, 3), chi_square_below(-1, 3)) == (0, 1, 0, 0)
    assert f_above(1e300, 1e4, 3) == 0
    assert f_above(1e-300, 3, 4) == 1
