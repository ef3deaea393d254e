"""Oil films, held against worked examples of the charts and against the charts' own interpolation between lengths."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from tests.reference.trade_examples import worth

INCHES = "1.5 in, 0.003 in, 1.5 in, 500 lbf, 0.000004 reyn, 1800 rpm"
MILLIMETRES = "25 mm, 0.030 mm, 12.5 mm, 1.2 kN, 55 [mPa s], 1100 rpm"
READ_OFF = 0.015
"""Of the clearance: a chart is read to about 0.01, and between seven places a curve is free by as much."""


def test_a_bearing_as_long_as_it_is_wide() -> None:
    """Mechanical Engineering Design, examples 12-1 to 12-4, from memory: S 0.135, h0/c 0.42, h0 0.00063 in."""
    assert worth(f"sommerfeld_of({INCHES})") == pytest.approx(0.135, abs=0.0005)
    film = worth(f"oil_film_at({INCHES})", "in")
    assert film / 0.0015 == pytest.approx(0.42, abs=READ_OFF)
    assert film == pytest.approx(0.00063, abs=READ_OFF * 0.0015)


def test_a_bearing_half_as_long_as_it_is_wide() -> None:
    """Mechanical Engineering Design, solutions manual, problem 12-1: S 0.182, h0/c 0.3, h0 0.0045 mm."""
    assert worth(f"sommerfeld_of({MILLIMETRES})") == pytest.approx(0.182, abs=0.0005)
    assert worth(f"oil_film_at({MILLIMETRES})", "mm") / 0.015 == pytest.approx(0.3, abs=READ_OFF)


def test_a_printed_number_that_does_not_follow() -> None:
    """Problem 12-2 prints S 0.797 for 32 mm, 32.05 mm, 64 mm, 1.75 kN, 55 mPa s, 900 rpm; its sizes give 0.3955.

    The film read off at 0.797, by interpolation to twice the diameter, is 0.92 of the clearance.
    """
    sizes = "32 mm, 0.050 mm, 64 mm, 1.75 kN, {} [mPa s], 900 rpm"
    assert worth(f"sommerfeld_of({sizes.format(55)})") == pytest.approx(0.3955, abs=0.0005)
    as_printed = sizes.format(round(55 * 0.797 / 0.3955, 3))
    assert worth(f"oil_film_at({as_printed})", "mm") / 0.025 == pytest.approx(0.92, abs=READ_OFF)


TABLE = [  # length by diameter, eccentricity ratio, characteristic number, from memory
    (1, 0.8, 0.0446),
    (1, 0.4, 0.264),
    (1, 0.1, 1.33),
    (0.5, 0.9, 0.0313),
    (0.5, 0.6, 0.319),
    (0.25, 0.9, 0.0736),
    (0.25, 0.4, 2.83),
    (0.25, 0.1, 16.2),
]


def film_ratio(number: float, length: float) -> float:
    """Least film by radial clearance at a characteristic number: a journal of 50 mm at one turn a second."""
    load = 1e6 * length / number  # g mm/s2, with a viscosity of 1 Pa s: (r/c)^2 is 1e6, L times d is 2500 length
    sizes = f"50 mm, 0.05 mm, {50 * length} mm, {load * 2500 / 1e6:.9f} N, 1 [Pa s], 60 rpm"
    assert worth(f"sommerfeld_of({sizes})") == pytest.approx(number, rel=1e-6)
    return worth(f"oil_film_at({sizes})", "mm") / 0.025


@pytest.mark.parametrize(("length", "eccentricity", "number"), TABLE)
def test_the_table_itself(length: float, eccentricity: float, number: float) -> None:
    assert film_ratio(number, length) == pytest.approx(1 - eccentricity, abs=1e-5)


def test_the_curve_through_the_table_is_as_steep_at_it_as_published() -> None:
    """A Method for Constructing Local Monotone Piecewise Cubic Interpolants, 1984, its weights for uneven widths, from
    memory: worked apart at the number 0.264 of a length of one diameter, between its neighbours in the table."""
    films, numbers = (0.4, 0.6, 0.8), (0.121, 0.264, 0.631)
    before, behind = (math.log(b / a) for a, b in pairwise(numbers))
    rise, next_rise = ((b - a) / width for (a, b), width in zip(pairwise(films), (before, behind), strict=True))
    share = (before + 2 * behind) / (3 * (before + behind))
    steep = rise * next_rise / (share * next_rise + (1 - share) * rise)
    step = 1e-4
    over = film_ratio(0.264 * math.exp(step), 1) - film_ratio(0.264 * math.exp(-step), 1)
    assert over / (2 * step) == pytest.approx(steep, rel=1e-4)


@pytest.mark.parametrize("number", [0.02, 0.1, 0.3, 1, 5, 40])
def test_a_longer_bearing_never_runs_on_a_thinner_film(number: float) -> None:
    films = [film_ratio(number, length) for length in (0.25, 0.3, 0.35, 0.4, 0.5, 0.7, 1, 1.5, 2, 4)]
    assert films == sorted(films)
    assert all(0 < film < 1 for film in films)


@pytest.mark.parametrize("length", [0.25, 0.4, 0.5, 1, 2])
def test_a_lighter_load_never_runs_on_a_thinner_film(length: float) -> None:
    films = [
        film_ratio(number, length) for number in (0.012, 0.02, 0.03, 0.05, 0.1, 0.2, 0.24, 0.3, 0.6, 1.33, 2, 9, 99)
    ]
    assert films == sorted(films)
    assert all(0 < film < 1 for film in films)


@pytest.mark.parametrize("length", [0.5, 1])
def test_short_bearings_agree_with_the_short_bearing_theory(length: float) -> None:
    """The short bearing theory (Fluid Film Lubrication, from memory), within its reach: light loads, short ones.

    S (l/d)^2 = (1 - e^2)^2 / (pi e sqrt(pi^2 (1 - e^2) + 16 e^2)). It overrates a bearing of half the diameter a little
    and one of the whole diameter more.
    """
    e = 0.2
    number = (1 - e**2) ** 2 / (math.pi * e * math.sqrt(math.pi**2 * (1 - e**2) + 16 * e**2)) / length**2
    film = film_ratio(number, length)
    assert 0 < 1 - e - film < (0.03 if length == 0.5 else 0.1)
