"""Means and scatters of readings, exact: sums of squares about the mean in fractions, rounded only at the root."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction
from statistics import mean
from typing import NamedTuple

from specrules.quantity import CONTEXT


class Scatter(NamedTuple):
    """A sum of squares about a mean, and its degrees of freedom (GUM 4.2.2, C.2.31)."""

    squares: Fraction
    freedom: int

    @property
    def variance(self) -> Fraction:
        """The mean square: the estimate of a variance. Needs at least one degree of freedom."""
        return self.squares / self.freedom

    @property
    def deviation(self) -> Decimal:
        """The experimental standard deviation."""
        return root(self.variance)


def scatter(values: Sequence[Fraction]) -> Scatter:
    """How values lie about their mean: two passes, so that large values with small differences lose nothing."""
    middle = mean(values)
    return Scatter(sum(((value - middle) ** 2 for value in values), Fraction(0)), len(values) - 1)


def pooled(scatters: Iterable[Scatter]) -> Scatter:
    """One scatter from several of the same kind, each about its own mean (a pooled estimate, GUM 4.2.4)."""
    known = tuple(scatters)
    return Scatter(sum((each.squares for each in known), Fraction(0)), sum(each.freedom for each in known))


def root(value: Fraction) -> Decimal:
    """The square root of a fraction that is not negative, to 50 digits."""
    return CONTEXT.sqrt(CONTEXT.divide(Decimal(value.numerator), Decimal(value.denominator)))
