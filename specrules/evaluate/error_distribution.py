"""The distribution of a value's error: normal parts, rectangular ones, and what picking an extreme adds.

What JCGM 101:2008 draws by chance stands here in closed form, so that it costs little and comes out alike each time;
tests hold it against draws. An error is what was observed less what is true.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable, Sequence
from functools import lru_cache
from itertools import product
from statistics import NormalDist
from typing import NamedTuple

_NORMAL = NormalDist()
_ROOT_OF_TWO = math.sqrt(2)
_ROOT_OF_TWO_PI = math.sqrt(2 * math.pi)
EXACT_HALVES = 3
"""So many rectangular parts are added up exactly; of more, the smaller ones as if they were normal."""
SMALL = 0.05
"""A rectangular part of so small a share of the variance is as good as normal in a sum."""
NOTHING_BESIDE = 1e-9
"""A standard deviation of so small a share of a half-width changes nothing, and its square may be no number."""
NODES = {1: 64, 2: 16}
"""Into so many equally probable parts the distribution of each extreme is cut, where there are one or two."""


class Selected(NamedTuple):
    """An extreme of `among` values that cannot be told apart, each with an own error of the standard deviation `u`.

    `u` is negative where the least was picked. `both`: the greatest less the least of them. `of`: that is the greatest,
    or where negative the least, of so many such picks, by its amount.
    """

    among: int
    u: float
    both: bool = False
    of: int = 1

    def picked_from(self, picks: int, greatest: bool) -> Selected:
        """The greatest or least of several such picks."""
        return self._replace(of=picks if greatest is (self.u > 0) else -picks)

    @property
    def mean(self) -> float:
        """How far off the extreme is expected to be."""
        return self.u * sum(_standard_nodes(self.among, self.both, self.of, NODES[1])) / NODES[1]


class ErrorDistribution(NamedTuple):
    """Independent parts of an error: a normal variance, half-widths of rectangular ones, a shift, picked extremes.

    `approximate`: the picks are such as the closed form only comes near to.
    """

    variance: float = 0.0
    halves: Sequence[float] = ()
    shift: float = 0.0
    selected: Sequence[Selected] = ()
    approximate: bool = False

    @property
    def known(self) -> bool:
        """Whether anything says how sure the value is."""
        return bool(self.variance or self.halves or self.selected)

    def below(self, x: float) -> float:
        """The probability that the error is at most x."""
        x -= self.shift
        rest = self._without_extremes()
        largest = sorted(self.selected, key=lambda each: -abs(each.u))[:2]
        if not largest:
            return rest(x)
        nodes = [_nodes(each, NODES[len(largest)]) for each in largest]
        at = [x - sum(offs) for offs in product(*nodes)]
        return sum(map(rest, at)) / len(at)

    def _without_extremes(self) -> Callable[[float], float]:
        """The distribution function of the normal and rectangular parts; of a third extreme and more only the width."""
        variance, shift = self.variance, 0.0
        for each in sorted(self.selected, key=lambda each: -abs(each.u))[2:]:
            variance += each.u * each.u * variance_of_extreme(each.among) * (2 if each.both else 1)
            shift += each.mean
        halves = sorted(self.halves, reverse=True)
        total = variance + sum(half * half for half in halves) / 3
        exact = [half for half in halves[:EXACT_HALVES] if half * half / 3 > SMALL * total]
        sigma = math.sqrt(max(0.0, variance + sum(half * half for half in halves[len(exact) :]) / 3))
        return lambda x: normal_with_rectangles(x - shift, sigma, exact)


def normal_with_rectangles(x: float, sigma: float, halves: Sequence[float]) -> float:
    """The probability that a normal error (`sigma`, may be 0) and rectangular ones add up to at most x.

    Each rectangle integrates once more: the repeated integrals of the normal distribution function, differenced.
    """
    if halves and sigma < NOTHING_BESIDE * max(halves):
        sigma = 0.0
    found = 0.0
    for signs in product((1, -1), repeat=len(halves)):
        at = x + sum(sign * half for sign, half in zip(signs, halves, strict=True))
        found += math.prod(signs) * _repeated_integral(at, sigma, len(halves))
    return min(1.0, max(0.0, found / math.prod(2 * half for half in halves)))


def _repeated_integral(x: float, sigma: float, times: int) -> float:
    """The normal distribution function integrated so many times, from minus infinity; of sigma 0, a power of x."""
    if not sigma:
        return (x >= 0) if not times else max(0.0, x) ** times / math.factorial(times)
    z = x / sigma
    before, now = math.exp(-z * z / 2) / _ROOT_OF_TWO_PI, 0.5 * math.erfc(-z / _ROOT_OF_TWO)
    for n in range(1, times + 1):
        before, now = now, (z * now + before) / n
    return now * sigma**times


@lru_cache(maxsize=64)
def expected_extreme(among: int) -> float:
    """The expected greatest of so many standard normal values."""
    return _moments(among)[0]


@lru_cache(maxsize=64)
def variance_of_extreme(among: int) -> float:
    """The variance of the greatest of so many standard normal values."""
    mean, square = _moments(among)
    return square - mean * mean


def _moments(among: int) -> tuple[float, float]:
    """The mean and the mean square, by the trapezoidal rule, which is all but exact for such a density."""
    step, mean, square = 0.05, 0.0, 0.0
    for at in range(-160, 161):
        x = at * step
        weight = step * among * _NORMAL.pdf(x) * _NORMAL.cdf(x) ** (among - 1)
        mean += weight * x
        square += weight * x * x
    return mean, square


def _nodes(of: Selected, count: int) -> Sequence[float]:
    """The middles of equally probable parts."""
    return [of.u * at for at in _standard_nodes(of.among, of.both, of.of, count)]


@lru_cache(maxsize=256)
def _standard_nodes(among: int, both: bool, of: int, count: int) -> Sequence[float]:
    middles = [(at + 0.5) / count for at in range(count)]
    shares = [p ** (1 / of) if of > 0 else 1 - (1 - p) ** (-1 / of) for p in middles]
    if both:
        widths, below = _ranges(among)
        return tuple([_interpolated(share, below, widths) for share in shares])
    return tuple([_NORMAL.inv_cdf(share ** (1 / among)) for share in shares])


def _interpolated(x: float, xs: Sequence[float], ys: Sequence[float]) -> float:
    after = min(max(bisect_right(xs, x), 1), len(xs) - 1)
    share = (x - xs[after - 1]) / (xs[after] - xs[after - 1])
    return ys[after - 1] + share * (ys[after] - ys[after - 1])


@lru_cache(maxsize=64)
def _ranges(among: int) -> tuple[Sequence[float], Sequence[float]]:
    """Widths, and how probable it is that the range of so many standard normal values is at most as wide."""
    widths = [at * 0.05 for at in range(161)]
    return widths, [_range_below(width, among) for width in widths]


def _range_below(width: float, among: int) -> float:
    step = 0.1
    xs = [at * step for at in range(-80, 81)]
    inside = [_NORMAL.pdf(x) * (_NORMAL.cdf(x + width) - _NORMAL.cdf(x)) ** (among - 1) for x in xs]
    return min(1.0, step * among * sum(inside))
