"""JCGM 100:2008 (GUM), H.1, end-gauge calibration: the estimate and its uncertainty through the formula engine.

Inputs and results of Table H.1 and H.1.3 to H.1.7, as other software quotes them. The standard uncertainties that the
GUM prints are rounded; here they are kept as the clauses derive them.
"""

from __future__ import annotations

from math import sqrt

import pytest

from tests.reference.formula_bench import Example

LENGTH = "l_s + d + d_random + d_systematic - l_s * (delta_alpha * theta + alpha_s * delta_theta)"

ESTIMATES = {
    "l_s": "50.000623 mm",  # H.1.3.1
    "d": "0.215 um",  # H.1.3.2, mean of five
    "d_random": "0 um",
    "d_systematic": "0 um",
    "alpha_s": "0.0000115 1/K",  # H.1.3.3
    "theta": "-0.1 K",  # H.1.3.4
    "delta_alpha": "0 1/K",  # H.1.3.5
    "delta_theta": "0 K",  # H.1.3.6
}
NANOMETRE = 1e-6  # mm, the base unit
US = {
    "l_s": 75 * NANOMETRE / 3,  # U = 75 nm at k = 3
    "d": 13 * NANOMETRE / sqrt(5),
    "d_random": 10 * NANOMETRE / 2.57,  # t95(5)
    "d_systematic": 20 * NANOMETRE / 3,
    "alpha_s": 2e-6 / sqrt(3),
    "theta": sqrt(0.2**2 + 0.5**2 / 2),
    "delta_alpha": 1e-6 / sqrt(3),
    "delta_theta": 0.05 / sqrt(3),
}


@pytest.fixture
def gauge() -> Example:
    return Example(ESTIMATES, US)


def test_estimate(gauge: Example) -> None:
    # H.1.3: l = 50.000 838 mm
    assert gauge.number(LENGTH, "mm") == pytest.approx(50.000838, abs=1e-9)


@pytest.mark.parametrize(
    ("name", "published", "places"),
    [
        ("l_s", 25.0, 0.5),  # Table H.1, |c_i| u(x_i), in nm; half of the last printed place
        ("delta_alpha", 2.9, 0.05),
        ("delta_theta", 16.6, 0.05),
        ("alpha_s", 0.0, 1e-12),
        ("theta", 0.0, 1e-12),
    ],
)
def test_contributions(gauge: Example, name: str, published: float, places: float) -> None:
    assert abs(gauge.contribution(LENGTH, name, "um")) * 1000 == pytest.approx(published, abs=places)


def test_contribution_of_the_comparison(gauge: Example) -> None:
    # H.1.3.2: 5.8 nm, 3.9 nm and 6.7 nm, together 9.7 nm
    parts = [gauge.contribution(LENGTH, name, "um") * 1000 for name in ("d", "d_random", "d_systematic")]
    assert parts == pytest.approx([5.8, 3.9, 6.7], abs=0.05)
    assert gauge.u_of("d + d_random + d_systematic", "um") * 1000 == pytest.approx(9.7, abs=0.05)


def test_combined_uncertainty(gauge: Example) -> None:
    # H.1.4: u_c(l) = 32 nm. Unrounded it is 31.66, which the effective degrees of freedom (16.7) need: 32 gives 17.5
    assert gauge.u_of(LENGTH, "um") * 1000 == pytest.approx(32, abs=0.5)
    assert gauge.u_of(LENGTH, "um") * 1000 == pytest.approx(31.66, abs=0.01)


def test_what_the_first_order_leaves_out(gauge: Example) -> None:
    """H.1.7: terms of second order of 11.7 nm and 1.7 nm make it 34 nm. Slopes do not see them; their change does."""
    step = 1e-3
    moved = Example({**ESTIMATES, "theta": "-0.099 K", "delta_theta": "0.001 K"}, US)
    extra = []
    for one, other in (("delta_alpha", "theta"), ("alpha_s", "delta_theta")):
        here, there = (example.point(LENGTH).slopes.get(example.numbers[one], 0.0) for example in (gauge, moved))
        extra.append((there - here) / step * US[one] * US[other] / NANOMETRE)
    assert [abs(term) for term in extra] == pytest.approx([11.7, 1.7], abs=0.05)
    first = gauge.u_of(LENGTH, "um") * 1000
    assert sqrt(first**2 + sum(term**2 for term in extra)) == pytest.approx(34, abs=0.5)
