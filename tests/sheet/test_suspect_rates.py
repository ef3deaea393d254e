"""The measured rates in kind: hardly a false alarm on honest engines, and what is looked for is mostly caught.

The whole measurement is `python -m tests.benchmarks.suspect_rates`; this is a small one with a seed of its own.
"""

from __future__ import annotations

import random
from functools import cache

import pytest

from tests.benchmarks.engines import Engine, honest, spread
from tests.benchmarks.suspect_rates import (
    SLIPS,
    STATIONS,
    caught,
    copied,
    false_alarms,
    fine_of,
    fits_doubted,
    whole_stations,
    with_limits,
)

pytestmark = pytest.mark.second_lane


@cache
def engines() -> tuple[Engine, ...]:
    dice = random.Random(7)
    return tuple(honest(dice) for _ in range(40))


def test_the_spreads_are_those_of_the_public_cases() -> None:
    found = spread()  # c05, c01 twice, c11, c13, c14, c19
    assert found.journal == pytest.approx(0.0001 * 25.4)
    assert found.clearance == pytest.approx(0.0003 * 25.4)
    assert found.loose == pytest.approx(0.0050 / 0.00265)
    assert found.gap == pytest.approx(0.005 * 25.4)
    assert found.deck == pytest.approx(0.003 * 25.4)
    assert found.chamber == pytest.approx(5.7 / 14.8)
    assert found.guide == pytest.approx(5)


def test_honest_engines_give_no_false_alarm() -> None:
    readings, marked, told = false_alarms(list(engines()))
    assert readings.tried > 4000
    assert told == ()
    assert marked.found == 0


@pytest.mark.parametrize(
    ("kind", "least"),
    [
        ("thimble turn", 0.85),
        ("decimal, in a size", 0.95),
        ("decimal, in a gap", 0.5),
        ("decimal, in a weight or volume", 0.8),
        ("unit, in a size", 0.95),
        ("unit, in a gap", 0.75),
        ("thou or um without its unit", 0.95),
        ("digits exchanged", 0.4),
        ("impossible negative", 1),
        ("larger than new", 0.9),
        ("decimal, in a stated fact", 0.75),
    ],
)
def test_slips_are_caught(kind: str, least: float) -> None:
    found, _ = caught(SLIPS[kind], list(engines())[:25], random.Random(11))
    assert found.tried >= 3
    assert found.share >= least


def test_the_inspection_catches_what_only_limits_show() -> None:
    honestly, coarse, tight = with_limits(list(engines()), random.Random(3))
    assert honestly.tried >= 5
    assert honestly.found == 0
    assert min(coarse.tried, tight.tried) >= 5
    assert (coarse.share, tight.share) == (1, 1)


@pytest.mark.parametrize("kind", STATIONS)
def test_slips_of_whole_stations_are_caught(kind: str) -> None:
    rates = whole_stations(kind, list(engines()), random.Random(5))
    assert rates.caught.tried >= 5
    assert rates.caught.share >= 0.8


def test_no_fit_of_an_honest_engine_is_doubted() -> None:
    rate, told = fits_doubted(fine_of(list(engines())[:20]))
    assert rate.tried >= 5
    assert told == ()


def test_a_copied_column_is_remarked_on_and_a_measured_one_seldom() -> None:
    measured, one_copied = copied([engine for engine in engines() if engine.cylinders >= 4])
    assert one_copied.share == 1
    assert measured.share < 0.2
