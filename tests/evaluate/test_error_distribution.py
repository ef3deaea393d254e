"""The distribution of an error in closed form, held against draws and against published constants of ranges."""

from __future__ import annotations

import math
import random
from bisect import bisect_right
from collections.abc import Sequence
from statistics import fmean, pstdev

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.evaluate.error_distribution import (
    ErrorDistribution,
    Selected,
    expected_extreme,
    normal_with_rectangles,
    variance_of_extreme,
)

TRIALS = 40_000


def drawn(of: ErrorDistribution, seed: int = 1) -> Sequence[float]:
    """Errors by chance, in their order (JCGM 101:2008, clause 7)."""
    chance = random.Random(seed)

    def picked(each: Selected) -> float:
        picks = []
        for _ in range(abs(each.of)):
            values = [chance.gauss(0, 1) for _ in range(each.among)]
            picks.append(max(values) - min(values) if each.both else max(values))
        return each.u * (max(picks) if each.of > 0 else min(picks))

    def error() -> float:
        plain = of.shift + chance.gauss(0, math.sqrt(of.variance))
        return plain + sum(chance.uniform(-half, half) for half in of.halves) + sum(map(picked, of.selected))

    return sorted(error() for _ in range(TRIALS))


@pytest.mark.second_lane
@pytest.mark.parametrize(
    "of",
    [
        pytest.param(ErrorDistribution(1.0), id="normal"),
        pytest.param(ErrorDistribution(halves=(1.0,)), id="one rectangle"),
        pytest.param(ErrorDistribution(halves=(1.0, 1.0)), id="a triangle"),
        pytest.param(ErrorDistribution(0.04, (2.0, 1.0)), id="a trapezoid with soft edges"),
        pytest.param(ErrorDistribution(0.01, (1.0, 0.9, 0.8, 0.7)), id="more rectangles than are added up exactly"),
        pytest.param(ErrorDistribution(1.0, (0.05,)), id="a rectangle as good as nothing"),
        pytest.param(ErrorDistribution(0.2, (0.5,), 0.3, (Selected(5, 1.0),)), id="the greatest of five"),
        pytest.param(ErrorDistribution(0.2, selected=(Selected(5, -1.0),)), id="the least of five"),
        pytest.param(ErrorDistribution(0.1, selected=(Selected(5, 1.0), Selected(2, 2.0))), id="two extremes"),
        pytest.param(ErrorDistribution(selected=(Selected(8, 1.0, both=True),)), id="a range of eight"),
        pytest.param(ErrorDistribution(selected=(Selected(2, 1.0, both=True, of=3),)), id="the greatest of ranges"),
        pytest.param(ErrorDistribution(selected=(Selected(2, 1.0, both=True, of=-3),)), id="the least of ranges"),
        pytest.param(ErrorDistribution(0.1, selected=(Selected(3, 1.0),) * 3), id="more extremes than two"),
    ],
)
def test_as_drawn(of: ErrorDistribution) -> None:
    """Well within two points of a hundred: the cells of an extreme are 1.6 wide, and so many draws are sure to 0.5."""
    errors = drawn(of)
    for at in range(5, 100, 5):
        x = errors[TRIALS * at // 100]
        assert of.below(x) == pytest.approx(at / 100, abs=0.016), at
    assert of.mean == pytest.approx(fmean(errors), abs=0.02 * of.u)
    assert of.u == pytest.approx(pstdev(errors), rel=0.02)


def test_beyond_its_half_widths_nothing_lies() -> None:
    of = ErrorDistribution(halves=(1.0, 0.5, 0.5))
    assert (of.below(-2), of.below(2)) == pytest.approx((0, 1), abs=1e-12)
    assert of.below(0) == pytest.approx(0.5)
    corner = 0.2**3 / 6 / (2 * 1 * 1)  # of a box of these half-widths, cut off at a depth of 0.2
    assert (of.below(-1.8), of.below(1.8)) == pytest.approx((corner, 1 - corner), abs=1e-9)


@given(
    st.floats(-5, 5), st.floats(0, 2), st.lists(st.floats(0.1, 3), max_size=3).map(tuple), st.floats(0, 2)
)  # a distribution function rises, and its two ends add up to one
def test_a_distribution_function(x: float, sigma: float, halves: tuple[float, ...], step: float) -> None:
    below, further = normal_with_rectangles(x, sigma, halves), normal_with_rectangles(x + step, sigma, halves)
    assert 0 <= below <= further + 1e-9 <= 1 + 1e-9
    if sigma or halves:
        assert below + normal_with_rectangles(-x, sigma, halves) == pytest.approx(1, abs=1e-6)


# d2* of the tables for gauge studies (MSA reference manual, appendix C, as read in a copy): of many samples of m values
# the mean range, 1.128 to 2.326; of one sample the root of the mean square range.
MEAN_RANGE = {2: 1.128, 3: 1.693, 4: 2.059, 5: 2.326}
ROOT_MEAN_SQUARE_RANGE = {2: 1.41421, 3: 1.91155, 4: 2.23887, 5: 2.48124}


@pytest.mark.second_lane
@pytest.mark.parametrize("among", MEAN_RANGE)
def test_published_ranges(among: int) -> None:
    assert 2 * expected_extreme(among) == pytest.approx(MEAN_RANGE[among], abs=0.0006)
    of = ErrorDistribution(selected=(Selected(among, 1.0, both=True),))
    xs = [at * 0.005 for at in range(1600)]
    below = [of.below(x) for x in xs]
    square = sum(2 * x * (1 - p) * 0.005 for x, p in zip(xs, below, strict=True))
    assert math.sqrt(square) == pytest.approx(ROOT_MEAN_SQUARE_RANGE[among], rel=0.01)


@pytest.mark.second_lane
@pytest.mark.parametrize("among", [2, 3, 5, 8, 13])
def test_moments_of_an_extreme(among: int) -> None:
    errors = drawn(ErrorDistribution(selected=(Selected(among, 1.0),)))
    mean = sum(errors) / TRIALS
    assert expected_extreme(among) == pytest.approx(mean, abs=0.02)
    assert variance_of_extreme(among) == pytest.approx(sum((e - mean) ** 2 for e in errors) / TRIALS, abs=0.02)


@pytest.mark.parametrize("u", [1.0, -1.0])
def test_a_pick_of_picks_lies_further_on_its_side(u: float) -> None:
    """Of several greatest, or several least, the greatest lies above one of them and the least below."""
    one = Selected(3, u)
    assert one.picked_from(4, greatest=False).mean < one.mean < one.picked_from(4, greatest=True).mean


def test_the_median_is_where_half_are_below() -> None:
    of = ErrorDistribution(0.04, selected=(Selected(4, 1.0),))
    xs = [at * 0.01 for at in range(-300, 500)]
    at = bisect_right([of.below(x) for x in xs], 0.5)
    assert xs[at] == pytest.approx(1.0, abs=0.02)  # Phi^-1(0.5^(1/4)) = 0.998
