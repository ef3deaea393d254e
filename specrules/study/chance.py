"""What chance does to a standard deviation: tails of chi-square and F, and how sure a standard deviation is.

The special functions are the usual series and continued fractions (Abramowitz and Stegun, *Handbook of Mathematical
Functions*, 6.5.29, 6.5.31 and 26.5.8); the tests hold them against printed tables.
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp, inf, lgamma, log, log1p, sqrt

_TINY = 1e-300
_CLOSE = 1e-16
_MOST_TERMS = 100_000
_PLAIN_FROM = 1000.0
"""Degrees of freedom from which 1/sqrt(2 nu) agrees with the exact form within one part in a thousand of it."""


def relative_uncertainty(freedom: float) -> float:
    """The standard uncertainty of a standard deviation, over that standard deviation, from its degrees of freedom.

    sqrt(1 - c4^2) / c4 for normal readings, which is what GUM E.4.3 tabulates; 1/sqrt(2 nu) is its form for many.
    """
    if freedom > _PLAIN_FROM:
        return 1 / sqrt(2 * freedom)
    c4 = sqrt(2 / freedom) * exp(lgamma((freedom + 1) / 2) - lgamma(freedom / 2))
    return sqrt(max(0.0, 1 - c4 * c4)) / c4


def chi_square_below(value: float, freedom: float) -> float:
    """The chance that chi-square with so many degrees of freedom (any positive number) is below `value`."""
    a, x = freedom / 2, value / 2
    if x <= 0:
        return 0.0
    front = exp(a * log(x) - x - lgamma(a))
    if x < a + 1:
        term = total = 1 / a
        for step in range(1, _MOST_TERMS):
            term *= x / (a + step)
            total += term
            if term < total * _CLOSE:
                break
        return front * total
    tail = _fraction(lambda n: (1.0 if n == 1 else -(n - 1) * (n - 1 - a), x + 2 * n - 1 - a))
    return 1 - front * tail


def chi_square_at(chance: float, freedom: float) -> float:
    """The value that chi-square is below with that chance (between 0 and 1, neither of them)."""
    low, high = 0.0, freedom + 1
    while chi_square_below(high, freedom) < chance:
        low, high = high, 2 * high
    while high - low > 1e-12 * high:
        middle = (low + high) / 2
        if not low < middle < high:
            break
        low, high = (middle, high) if chi_square_below(middle, freedom) < chance else (low, middle)
    return high


def f_above(ratio: float, over: float, under: float) -> float:
    """The chance that a ratio of two mean squares of one variance, on `over` and `under` degrees, is above `ratio`."""
    if ratio == inf:
        return 0.0
    return _beta(under / 2, over / 2, under / (under + over * ratio)) if ratio > 0 else 1.0


def _beta(a: float, b: float, x: float) -> float:
    """The regularised incomplete beta function."""
    if x <= 0 or x >= 1:
        return float(x >= 1)
    if x > (a + 1) / (a + b + 2):
        return 1 - _beta(b, a, 1 - x)
    front = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log1p(-x)) / a

    def part(n: int) -> tuple[float, float]:
        m, odd = divmod(n - 1, 2)
        if n == 1:
            return 1.0, 1.0
        if odd:
            return -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1)), 1.0
        return m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m)), 1.0

    return front * _fraction(part)


def _fraction(part: Callable[[int], tuple[float, float]]) -> float:
    """The continued fraction p1/(q1 + p2/(q2 + ...)), forwards, stopped when it stands still (Lentz's way)."""
    value, c, d = _TINY, _TINY, 0.0
    for n in range(1, _MOST_TERMS):
        p, q = part(n)
        d = 1 / (q + p * d or _TINY)
        c = q + p / c or _TINY
        change = c * d
        value *= change
        if abs(change - 1) < 10 * _CLOSE:
            break
    return value
