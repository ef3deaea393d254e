"""The solver of bearing films against published figures, and the program's film against the solver.

What it is held against: the table that the program takes (A Solution for the Finite Journal Bearing, ASLE Transactions
1, 1958, from memory) at all its lengths, the endless one among them, and the short bearing theory (Fluid Film
Lubrication, from memory) where bearings are short. The program's two columns between a quarter and a half of the
diameter, and its places of 0.95, are the solver's; its film is off by what `specrules/trade/oil_film.py` states.
"""

from __future__ import annotations

import math

import pytest

from specrules.trade import oil_film
from tests.lanes import first_alone
from tests.reference.reynolds_solver import BETWEEN, ECCENTRIC, characteristic_number
from tests.reference.test_trade_bearing import film_ratio

PUBLISHED = {  # diameter by length -> the characteristic number at each eccentricity ratio; 0 is endless
    0.0: ("", "0.0115", "0.0210", "0.0389", "0.0626", "0.123", "0.240"),
    1.0: ("0.00474", "0.0188", "0.0446", "0.121", "0.264", "0.631", "1.33"),
    2.0: ("0.00609", "0.0313", "0.0923", "0.319", "0.779", "2.03", "4.31"),
    4.0: ("0.0101", "0.0736", "0.261", "1.07", "2.83", "7.57", "16.2"),
}
OWN = {
    2.5: ("0.00708", "0.0396", "0.1247", "0.4631", "1.173", "3.074", "6.56"),
    3.0: ("0.00807", "0.0494", "0.1642", "0.6373", "1.644", "4.346", "9.288"),
}
AT_0_95 = {1.0: "0.00845", 2.0: "0.0119", 2.5: "0.0142", 3.0: "0.0167", 4.0: "0.0230"}


@pytest.mark.parametrize(
    ("ratio", "place"), first_alone(*((r, n) for r in PUBLISHED for n in range(7) if PUBLISHED[r][n]))
)
def test_it_comes_to_what_is_published(ratio: float, place: int) -> None:
    """The table has three digits at most, and was worked on coarse grids where the film is thinnest."""
    solved = characteristic_number(ECCENTRIC[place], ratio)
    assert solved == pytest.approx(float(PUBLISHED[ratio][place]), rel=0.035 if place == 0 else 0.013)


@pytest.mark.parametrize("e", first_alone(0.3, 0.1, 0.5))
def test_it_comes_to_the_short_bearing_theory(e: float) -> None:
    """S (l/d)^2 = (1 - e^2)^2 / (pi e sqrt(pi^2 (1 - e^2) + 16 e^2)), of a sixteenth of the diameter."""
    short = (1 - e**2) ** 2 / (math.pi * e * math.sqrt(math.pi**2 * (1 - e**2) + 16 * e**2))
    assert characteristic_number(e, 16.0) / 16**2 == pytest.approx(short, rel=0.01)


@pytest.mark.second_lane
def test_a_finer_grid_moves_it_little() -> None:
    for e in (0.95, 0.6):
        assert characteristic_number(e, 3.0, 72, 8) == pytest.approx(characteristic_number(e, 3.0), rel=0.012)


@pytest.mark.second_lane
@pytest.mark.parametrize("ratio", BETWEEN)
def test_the_columns_that_the_program_takes_are_its(ratio: float) -> None:
    for e, number in zip(ECCENTRIC, OWN[ratio], strict=True):
        assert characteristic_number(e, ratio) == pytest.approx(float(number), rel=0.012)
        if float(number) >= 0.0115:  # the table ends there
            assert film_ratio(float(number), 1 / ratio) == pytest.approx(1 - e, abs=1e-5)


@pytest.mark.parametrize("ratio", first_alone(*AT_0_95))
def test_the_places_that_the_program_takes_are_its(ratio: float) -> None:
    number = float(AT_0_95[ratio])
    assert characteristic_number(0.95, ratio) == pytest.approx(number, rel=0.01)
    if number >= 0.0115:
        assert film_ratio(number, 1 / ratio) == pytest.approx(0.05, abs=1e-5)


WITHIN = (  # diameter by length: from, to; how much too thick a film may be, by the clearance and by itself; too thin
    (2.0, 4.0, 0.006, 0.025, 0.002),
    (1.0, 2.0, 0.016, 0.035, 0.005),
    (0.25, 1.0, 0.025, 0.09, 0.046),
)
TRIED = (0.96, 0.94, 0.92, 0.87, 0.82, 0.75, 0.7, 0.65, 0.55, 0.5, 0.45, 0.35, 0.3, 0.25, 0.15)
RATIOS = (3.7, 3.5, 3.25, 2.75, 2.3, 1.7, 1.4, 1.2, 0.8, 0.5, 0.35)


@pytest.mark.second_lane
@pytest.mark.parametrize("ratio", RATIOS)
def test_the_film_is_off_by_no_more_than_is_said(ratio: float) -> None:
    (_, _, thick, share, thin) = next(row for row in WITHIN if row[0] <= ratio <= row[1])
    for e in TRIED:
        number = characteristic_number(e, ratio)
        if number < 0.0115:  # the table ends there
            continue
        over = film_ratio(number, 1 / ratio) - (1 - e)
        assert -thin <= over <= thick
        assert over <= share * (1 - e)


def test_what_is_said_of_it_names_the_unsafe_side() -> None:
    said = " ".join((oil_film.__doc__ or "").split())
    for _, _, thick, share, _ in WITHIN:
        assert f"{thick:g}" in said
        assert f"{100 * share:g} %" in said
    assert "too thick, which is the unsafe side" in said
