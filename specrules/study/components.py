"""One component of variance: a sum of mean squares, its degrees of freedom, and how sure its standard deviation is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import inf, sqrt
from typing import NamedTuple

from specrules.study.chance import chi_square_at, relative_uncertainty
from specrules.study.scattering import Scatter, root

COVERAGE = 0.95
"""The coverage probability of the intervals."""

FEWEST = 1.0
"""With less than one degree of freedom an interval says nothing, so none is stated."""


class Share(NamedTuple):
    """So many times a mean square, as one term of a component."""

    times: Fraction
    of: Scatter


class Interval(NamedTuple):
    """Where the true standard deviation lies with the coverage probability."""

    low: Decimal
    high: Decimal


@dataclass(frozen=True, slots=True)
class Component:
    """An estimated standard deviation, in the study's unit.

    `variance` is never negative: where the estimate came out below zero `negative` is true and it is zero; `freedom`
    is None where it is zero. Otherwise `freedom` is that of one mean square, or Welch and Satterthwaite's (GUM G.4.1).
    `interval` holds the true standard deviation with the coverage probability; None where there is too little to say.
    """

    variance: Fraction
    freedom: float | None
    interval: Interval | None
    negative: bool = False

    @property
    def deviation(self) -> Decimal:
        """The standard deviation."""
        return root(self.variance)

    @property
    def uncertainty(self) -> Decimal | None:
        """The standard uncertainty of the standard deviation (GUM E.4.3); None where that is zero."""
        if self.freedom is None:
            return None
        return self.deviation * Decimal(relative_uncertainty(self.freedom))


def component(shares: Iterable[Share]) -> Component:
    """The component that these shares add up to; the first is the one that holds it."""
    known = _gathered(shares)
    terms = [(share.times * share.of.variance, float(share.of.freedom)) for share in known]
    total = sum((term for term, _ in terms), Fraction(0))
    if total > 0:
        freedom = effective_freedom(terms)
        return Component(total, freedom, _interval(total, freedom))
    whole = _interval(*terms[0])  # what else is in that mean square is not taken off, so this end is never too low
    return Component(Fraction(0), None, whole and Interval(Decimal(0), whole.high), negative=total < 0)


def _gathered(shares: Iterable[Share]) -> list[Share]:
    """Shares of the same mean square added up: it is in doubt once, however often it is used."""
    made: dict[int, Share] = {}
    for share in shares:
        before = made.get(id(share.of))
        made[id(share.of)] = Share(share.times + before.times, share.of) if before else share
    return list(made.values())


def _interval(variance: Fraction, freedom: float) -> Interval | None:
    """The coverage interval of the standard deviation, by chi-square."""
    if not variance or freedom < FEWEST:
        return None
    above, below = (chi_square_at(chance, freedom) for chance in ((1 + COVERAGE) / 2, (1 - COVERAGE) / 2))
    return Interval(*(root(variance) * Decimal(sqrt(freedom / value)) for value in (above, below)))


def effective_freedom(terms: Iterable[tuple[Fraction, float]]) -> float:
    """Degrees of freedom of a sum of variances, each with its own (GUM G.4.1, Welch and Satterthwaite).

    Terms may be negative, as where one mean square is taken off another; terms without end to their degrees of
    freedom (inf) add nothing to the doubt.
    """
    known = tuple(terms)
    total = float(sum((term for term, _ in known), Fraction(0)))
    doubt = sum((float(term) / total) ** 2 / freedom for term, freedom in known) if total else 0.0
    return 1 / doubt if doubt else inf
