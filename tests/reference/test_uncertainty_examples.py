"""Worked examples of uncertainty from calibration and chemistry: estimate, contributions and U as they print them.

Sources: EA-4/02, supplements S2 (a weight of 10 kg) and S4 (a gauge block of 50 mm); the EURACHEM/CITAC guide
"Quantifying uncertainty in analytical measurement" (QUAM), examples A1 (a cadmium standard) and A2 (sodium hydroxide).
All inputs and results from memory; the contributions agree with them when worked anew.
"""

from __future__ import annotations

import math

import pytest

from specrules.evaluate.error_sources import ErrorSources
from tests.evaluate.small_gauges import causes, part, point
from tests.reference.formula_bench import Example


def rectangular(half: float) -> float:
    return half / math.sqrt(3)


# --- EA-4/02, S2: a weight of nominally 10 kg, in grams -----------------------------------------------------------

WEIGHT = "m_s + drift + difference + eccentricity + buoyancy"
WEIGHT_INPUTS = {"m_s": "10000.005", "drift": "0", "difference": "0.020", "eccentricity": "0", "buoyancy": "0"}
WEIGHT_US = {
    "m_s": 0.0225,  # U of 45 mg at k = 2
    "drift": rectangular(0.015),
    "difference": 0.025 / math.sqrt(3),  # pooled 25 mg, three substitutions
    "eccentricity": rectangular(0.010),
    "buoyancy": rectangular(0.010),
}


def test_a_weight() -> None:
    """S2: 10.000 025 kg, u 29.3 mg, U 59 mg."""
    example = Example(WEIGHT_INPUTS, WEIGHT_US)
    assert example.number(WEIGHT) == pytest.approx(10000.025, abs=1e-9)
    assert 1000 * example.u_of(WEIGHT) == pytest.approx(29.3, abs=0.05)
    assert 2000 * example.u_of(WEIGHT) == pytest.approx(59, abs=0.5)
    printed = {"m_s": 22.5, "drift": 8.66, "difference": 14.4, "eccentricity": 5.77, "buoyancy": 5.77}
    assert {name: 1000 * u for name, u in WEIGHT_US.items()} == pytest.approx(printed, abs=0.05)


# --- EA-4/02, S4: a gauge block of 50 mm by comparison, in nanometres ----------------------------------------------

PER_KELVIN = 11.5e-6 * 50e6  # nm a kelvin that the two blocks differ by
BLOCK: ErrorSources = causes(
    part("reference", variance=15.0**2),
    part("drift", half=30.0),
    part("comparison", variance=(12.0 / math.sqrt(5)) ** 2),
    part("comparator", half=32.0),
    part("difference of temperature", half=0.05),
    part("expansion and temperature together", variance=0.236e-6**2),  # a product of two small ones, as a whole
    part("off the middle", variance=3.87**2),
)
BY = {0: 1.0, 1: 1.0, 2: 1.0, 3: 1.0, 4: -PER_KELVIN, 5: -50e6, 6: -1.0}


def test_a_gauge_block() -> None:
    """S4: u 36.4 nm, U 73 nm; contributions 15.0, 17.3, 5.37, 18.5, 16.6, 11.8 and 3.87 nm."""
    budget = {line.cause.names[0]: line.u for line in BLOCK.budget(point("49.999926", BY))}
    printed = {
        "reference": 15.0, "drift": 17.3, "comparison": 5.37, "comparator": 18.5, "difference of temperature": 16.6,
        "expansion and temperature together": 11.8, "off the middle": 3.87,
    }  # fmt: skip
    assert budget == pytest.approx(printed, abs=0.05)
    U = float(BLOCK.uncertainty(point("49.999926", BY)).expanded)
    assert pytest.approx(36.4, abs=0.05) == U / 2
    assert pytest.approx(73, abs=0.5) == U


def test_of_a_gauge_block_95_of_100_errors_lie_within_u() -> None:
    """The guide's reason for k = 2: five and more contributions, none of which rules, are as good as normal."""
    U = float(BLOCK.uncertainty(point("49.999926", BY)).expanded)
    error = BLOCK.distribution(BY)
    assert error.below(U) - error.below(-U) == pytest.approx(0.955, abs=0.005)


# --- QUAM A1 and A2 ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("formula", "inputs", "us", "result", "u", "U", "places"),
    [
        pytest.param(
            "1000 * m * P / V",
            {"m": "100.28", "P": "0.9999", "V": "100.0"},
            {"m": 0.05, "P": 0.000058, "V": 0.07},
            1002.7, 0.9, 1.8, 0.05,
            id="A1: a cadmium standard, mg/l",
        ),
        pytest.param(
            "1000 * m * P / (M * V) * rep",
            {"m": "0.3888", "P": "1.0", "M": "204.2212", "V": "18.64", "rep": "1.0"},
            {"m": 0.00013, "P": 0.00029, "M": 0.0038, "V": 0.013, "rep": 0.0005},
            0.10214, 0.00010, 0.0002, 0.000005,
            id="A2: sodium hydroxide, mol/l",
        ),
    ],
)  # fmt: skip
def test_a_solution(
    formula: str,
    inputs: dict[str, str],
    us: dict[str, str | float],
    result: float,
    u: float,
    U: float,
    places: float,
) -> None:
    """`places`: half of the last place that the guide prints of the result; of u and U it prints one figure."""
    example = Example(inputs, us)
    assert example.number(formula) == pytest.approx(result, abs=places)
    one_figure = 10.0 ** math.floor(math.log10(u))
    assert example.u_of(formula) == pytest.approx(u, abs=one_figure / 2)
    assert 2 * example.u_of(formula) == pytest.approx(U, abs=one_figure)
