"""JCGM 100:2008 (GUM), H.2, resistance and reactance: inputs measured together, so that their errors go together.

The five simultaneous readings are from memory; their means, uncertainties and correlations are held to Table H.2 as
other software quotes it. Results: Table H.3 and H.4. The correlations of the results are from memory.
"""

from __future__ import annotations

from itertools import combinations
from math import sqrt
from statistics import fmean

import pytest

from tests.reference.formula_bench import Example

READINGS = {  # from memory
    "v": ("5.007", "4.994", "5.005", "4.990", "4.999"),  # V
    "i": ("0.019663", "0.019639", "0.019640", "0.019685", "0.019678"),  # A
    "phi": ("1.0456 rad", "1.0438 rad", "1.0468 rad", "1.0428 rad", "1.0433 rad"),
}
FORMULAS = {"R": "v * cos(phi) / i", "X": "v * sin(phi) / i", "Z": "v / i"}
COUNT = 5
U_OF_A_MEAN = 1 / sqrt(COUNT * (COUNT - 1))
PUBLISHED = {"R": (127.732, 0.071), "X": (219.847, 0.295), "Z": (254.260, 0.236)}  # ohm; Table H.4
BY = 0.001
"""Ohm. The GUM's two routes differ by so much (Table H.3 and H.4: u(X) is 0.295 58 or 0.295 49, printed 0.295)."""


@pytest.fixture
def observations() -> list[Example]:
    return [Example({name: row[number] for name, row in READINGS.items()}) for number in range(COUNT)]


@pytest.fixture
def means(observations: list[Example]) -> Example:
    """The means, each moving with five shared causes: the deviation of one observation in all three."""
    rows = {name: [float(one.point(name).value) for one in observations] for name in READINGS}
    units = {"v": "", "i": "", "phi": " deg"}
    example = Example({name: f"{fmean(row):.15f}"[:17] + units[name] for name, row in rows.items()})
    example.correlate({name: [x - fmean(row) for x in row] for name, row in rows.items()}, U_OF_A_MEAN)
    return example


def covariance(example: Example, one: str, other: str) -> float:
    a, b = example.point(one).slopes, example.point(other).slopes
    return sum(a[cause] * b[cause] * example.u(cause) ** 2 for cause in a)


def correlation(example: Example, one: str, other: str) -> float:
    return covariance(example, one, other) / sqrt(covariance(example, one, one) * covariance(example, other, other))


def test_inputs(means: Example) -> None:
    # Table H.2
    assert means.number("v") == pytest.approx(4.9990, abs=0.00005)
    assert means.number("i") * 1000 == pytest.approx(19.6610, abs=0.00005)
    assert means.number("phi", "rad") == pytest.approx(1.04446, abs=0.000005)
    assert means.u_of("v") == pytest.approx(0.0032, abs=0.00005)
    assert means.u_of("i") * 1000 == pytest.approx(0.0095, abs=0.00005)
    assert means.u_of("phi", "rad") == pytest.approx(0.00075, abs=0.000005)
    assert correlation(means, "v", "i") == pytest.approx(-0.36, abs=0.005)
    assert correlation(means, "v", "phi") == pytest.approx(0.86, abs=0.005)
    assert correlation(means, "i", "phi") == pytest.approx(-0.65, abs=0.005)


@pytest.mark.parametrize("name", list(FORMULAS))
def test_results_by_shared_slopes(means: Example, name: str) -> None:
    estimate, u = PUBLISHED[name]
    assert means.number(FORMULAS[name]) == pytest.approx(estimate, abs=BY)
    assert means.u_of(FORMULAS[name]) == pytest.approx(u, abs=BY)


@pytest.mark.parametrize("name", list(FORMULAS))
def test_results_observation_by_observation(observations: list[Example], name: str) -> None:
    estimate, u = PUBLISHED[name]
    results = [one.number(FORMULAS[name]) for one in observations]
    mean = fmean(results)
    assert mean == pytest.approx(estimate, abs=BY)
    assert sqrt(sum((result - mean) ** 2 for result in results)) * U_OF_A_MEAN == pytest.approx(u, abs=BY)


def test_correlations_of_the_results(means: Example) -> None:
    # from memory
    wanted = {("R", "X"): -0.588, ("R", "Z"): -0.485, ("X", "Z"): 0.993}
    for pair in combinations(FORMULAS, 2):
        one, other = (FORMULAS[name] for name in pair)
        assert correlation(means, one, other) == pytest.approx(wanted[pair], abs=BY)


def test_what_ignoring_the_correlation_would_give(means: Example) -> None:
    """Not published: computed from the same inputs, to show that the shared causes do the work."""
    apart = Example(
        {"v": "4.9990", "i": "0.0196610", "phi": "1.04446 rad"},
        {"v": means.u_of("v"), "i": means.u_of("i"), "phi": means.u_of("phi")},
    )
    us = [apart.u_of(FORMULAS[name]) for name in "RXZ"]
    assert us == pytest.approx([0.194, 0.201, 0.204], abs=0.0006)
    for name, u in zip("RXZ", us, strict=True):
        assert abs(u - PUBLISHED[name][1]) > 10 * BY
