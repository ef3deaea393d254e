"""The distribution of a value's error: normal parts, rectangular ones, and what picking an extreme adds.

What JCGM 101:2008 draws by chance stands here in closed form, so that it costs little and comes out alike each time;
tests hold it against draws. An error is what was observed less what is true.

An extreme that was picked among values that cannot be told apart scatters as the greatest of so many do, in place of
the own errors of the one picked. U counts the pull on the side away from which it pulled, and never takes anything off
the other. U, every decision rule and the probability go by this one distribution; what opposite picks pull cancels in
all of them.
"""

import math
from bisect import bisect_right
from collections.abc import Callable, Sequence
from functools import cache, lru_cache
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
WIDTH = 0.05
"""Ranges of standard normal values are told apart in such steps."""
EVERY = 4
"""So many of them apart are the places at which a sum over standard normal values is taken."""
FARTHEST = 8.0
"""No standard normal value lies farther out, nor two of them farther apart, that would count."""


class Selected(NamedTuple):
    """An extreme of `among` values that cannot be told apart, each with an own error of the standard deviation `u`.

    `u` is negative where the least was picked. `both`: the greatest less the least of them. `of`: that is the greatest,
    or where negative the least, of so many such picks, by its amount.
    """

    among: int
    u: float
    both: bool = False
    of: int = 1

    def picked_from(self, picks: int, greatest: bool) -> "Selected":
        """The greatest or least of several such picks."""
        return self._replace(of=picks if greatest is (self.u > 0) else -picks)

    @property
    def mean(self) -> float:
        """How far off the extreme is expected to be."""
        return self.u * _standard_moments(self.among, self.both, self.of)[0]

    @property
    def variance(self) -> float:
        """How it scatters about that."""
        return self.u * self.u * _standard_moments(self.among, self.both, self.of)[1]


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

    @property
    def mean(self) -> float:
        """The expected error: other than nothing only where extremes were picked."""
        return self.shift + sum(each.mean for each in self.selected)

    @property
    def u(self) -> float:
        """The standard deviation of the error."""
        squares = sum(half * half for half in self.halves)
        return math.sqrt(self.variance + squares / 3 + sum(each.variance for each in self.selected))

    def below(self, x: float) -> float:
        """The probability that the error is at most x."""
        x -= self.shift
        rest = self._without_extremes()
        largest = sorted(self.selected, key=lambda each: -abs(each.u))[:2]
        if not largest:
            return rest(x)
        offs = sorted(map(sum, product(*(_nodes(each, NODES[len(largest)]) for each in largest))))
        every = len(offs) // NODES[1]
        return sum(rest(x - sum(offs[at : at + every]) / every) for at in range(0, len(offs), every)) / NODES[1]

    def _without_extremes(self) -> Callable[[float], float]:
        """The distribution function of the normal and rectangular parts; of a third extreme and more only the width."""
        variance, shift = self.variance, 0.0
        for each in sorted(self.selected, key=lambda each: -abs(each.u))[2:]:
            variance += each.variance
            shift += each.mean
        halves = sorted(self.halves, reverse=True)
        total = variance + sum(half * half for half in halves) / 3
        exact = tuple(half for half in halves[:EXACT_HALVES] if half * half / 3 > SMALL * total)
        sigma = math.sqrt(max(0.0, variance + sum(half * half for half in halves[len(exact) :]) / 3))
        return lambda x: normal_with_rectangles(x - shift, sigma, exact)


def normal_with_rectangles(x: float, sigma: float, halves: tuple[float, ...]) -> float:
    """The probability that a normal error (`sigma`, may be 0) and rectangular ones add up to at most x.

    Each rectangle integrates once more: the repeated integrals of the normal distribution function, differenced.
    """
    if halves and sigma < NOTHING_BESIDE * max(halves):
        sigma = 0.0
    times = len(halves)
    found = sum([weight * _repeated_integral(x + off, sigma, times) for off, weight in _corners(halves)])
    return min(1.0, max(0.0, found))


@lru_cache(maxsize=256)
def _corners(halves: tuple[float, ...]) -> Sequence[tuple[float, float]]:
    """Where the rectangles begin and end when they are added up, and what each such place counts."""
    whole = math.prod(2 * half for half in halves)
    return [
        (sum(sign * half for sign, half in zip(signs, halves, strict=True)), math.prod(signs) / whole)
        for signs in product((1, -1), repeat=len(halves))
    ]


def _repeated_integral(x: float, sigma: float, times: int) -> float:
    """The normal distribution function integrated so many times, from minus infinity; of sigma 0, a power of x."""
    if not sigma:
        return (x >= 0) if not times else max(0.0, x) ** times / math.factorial(times)
    z = x / sigma
    now = 0.5 * math.erfc(-z / _ROOT_OF_TWO)
    if times:
        before = math.exp(-z * z / 2) / _ROOT_OF_TWO_PI
        for n in range(1, times + 1):
            before, now = now, (z * now + before) / n
        now *= sigma**times
    return now


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
    density, below = _grid()
    mean = square = 0.0
    for at, (here, under) in enumerate(zip(density, below[::EVERY], strict=False)):
        x = at * EVERY * WIDTH - FARTHEST
        weight = EVERY * WIDTH * among * here * under ** (among - 1)
        mean += weight * x
        square += weight * x * x
    return mean, square


def _nodes(of: Selected, count: int) -> Sequence[float]:
    """The middles of equally probable parts."""
    return [of.u * at for at in _standard_nodes(of.among, of.both, of.of, count)]


@lru_cache(maxsize=256)
def _standard_moments(among: int, both: bool, of: int) -> tuple[float, float]:
    """The mean and the variance of an extreme of standard normal values, and of what is picked among extremes."""
    if of != 1:
        nodes = _standard_nodes(among, both, of, NODES[1])
        mean = sum(nodes) / len(nodes)
        return mean, sum((node - mean) ** 2 for node in nodes) / len(nodes)
    mean, square = _moments_of_range(among) if both else _moments(among)
    return mean, square - mean * mean


def _moments_of_range(among: int) -> tuple[float, float]:
    """The mean and the mean square of a range: how probable wider ones are, added up by Simpson's rule."""
    widths, below = _ranges(among)
    shares = [
        (widths[1] - widths[0]) / 3 * (1 if at in (0, len(widths) - 1) else 2 + 2 * (at % 2))
        for at in range(len(widths))
    ]
    wider = [share * (1 - under) for share, under in zip(shares, below, strict=True)]
    return sum(wider), sum(2 * width * share for width, share in zip(widths, wider, strict=True))


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
    """Widths, and how probable it is that the range of so many standard normal values is at most as wide.

    The least of them lies anywhere, weighed by its density; the trapezoidal rule is all but exact for one as smooth.
    """
    density, below = _grid()
    widths = [at * WIDTH for at in range(round(FARTHEST / WIDTH) + 1)]
    return widths, [
        min(1.0, EVERY * WIDTH * among * sum([here * (above - under) ** (among - 1) for here, under, above in least]))
        for at in range(len(widths))
        for least in [zip(density, below[::EVERY], below[at::EVERY], strict=False)]
    ]


@cache
def _grid() -> tuple[Sequence[float], Sequence[float]]:
    """The normal density at the places of a sum, and the normal distribution function at all places a width apart, up
    to the greatest width beyond the last of them."""
    steps = round(FARTHEST / WIDTH)
    density = [_NORMAL.pdf(at * WIDTH) for at in range(-steps, steps + 1, EVERY)]
    return density, [_NORMAL.cdf(at * WIDTH) for at in range(-steps, 2 * steps + 1)]
