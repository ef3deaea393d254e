"""Worlds: what an unstated fact may be, so that a verdict that is the same in all of them stands.

An unstated choice may be each of its labels. A quantity that nobody stated may be anything; of a comparison with a
number it is below, at, or above that number, and no two comparisons of one quantity are answered as none could be.
"""

from collections.abc import Iterator, Mapping
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from types import MappingProxyType
from typing import NamedTuple

from specrules.evaluate import decided
from specrules.formula import Station
from specrules.formula import operators as op
from specrules.pack import Specification
from specrules.pack.work_budget import MOST_WORLDS

_HALF = Decimal("0.5")


class Range(NamedTuple):
    """Where a supposed quantity lies: at one number (`low` is `high`), or between two (None: open), ends left out."""

    low: Decimal | None = None
    high: Decimal | None = None

    @property
    def sample(self) -> Decimal:
        """A number in it."""
        if self.low is None:
            return Decimal(0) if self.high is None else self.high - 1
        return self.low + 1 if self.high is None else (self.low + self.high) * _HALF

    def split(self, at: Decimal, whole: bool) -> "Iterator[Range]":
        """Below, at and above a number inside it; of whole numbers only where there is one."""
        for part in (Range(self.low, at), Range(at, at), Range(at, self.high)):
            if not whole or part.holds_whole_number():
                yield part

    def contains(self, number: Decimal) -> bool:
        """Whether the number lies between the ends."""
        return (self.low is None or self.low < number) and (self.high is None or number < self.high)

    def holds_whole_number(self) -> bool:
        """Whether a whole number lies in it."""
        if self.low is None or self.high is None:
            return True
        if self.low == self.high:
            return self.low == self.low.to_integral_value()
        first = self.low.to_integral_value(ROUND_FLOOR) + 1
        return first <= self.high.to_integral_value(ROUND_CEILING) - 1


Compared = tuple[op.Quantity, tuple[tuple[str, str], ...]]
"""A quantity, and the station's labels that it depends on."""


class Unstated(NamedTuple):
    """What has to be known before a condition can be answered: the facts to state, and what tells the worlds apart.

    No fact to state: what is compared is a size that is worked out from readings.
    """

    facts: tuple[str, ...]
    choice: str = ""  # a fact of choices
    compared: Compared | None = None
    threshold: Decimal = Decimal(0)


class World(NamedTuple):
    """What is supposed: a label for some facts of choice, a range for some quantities; one of `of` worlds so far."""

    labels: Mapping[str, str] = MappingProxyType({})
    ranges: Mapping[Compared, Range] = MappingProxyType({})
    of: int = 1

    @property
    def facts(self) -> tuple[str, ...]:
        """The facts of which something is supposed."""
        quantities = [each for quantity, _ in self.ranges for each in op.all_operators(quantity)]
        return tuple(dict.fromkeys((*self.labels, *[each.name for each in quantities if isinstance(each, op.Slot)])))

    def answer(self, comparison: op.Comparison, compared: Compared) -> bool | None:
        """What this world says of a comparison; None where it says nothing."""
        found = self.ranges.get(compared)
        if found is None or found.contains(comparison.threshold):
            return None
        return decided(comparison, found.sample, found.sample)

    def split(self, question: Unstated, spec: Specification) -> "tuple[World, ...]":
        """The worlds that answer a question in each way that it can be answered; none where they would be too many."""
        if question.choice:
            labels = spec.facts[question.choice].choices or ("yes", "no")
            worlds = [self._replace(labels={**self.labels, question.choice: label}) for label in labels]
        else:
            assert question.compared is not None
            whole = bool(question.facts) and all(spec.facts[name].kind == "count" for name in question.facts)
            before = self.ranges.get(question.compared, Range())
            whole = whole and isinstance(question.compared[0], op.Slot)
            parts = before.split(question.threshold, whole)
            worlds = [self._replace(ranges={**self.ranges, question.compared: part}) for part in parts]
        of = self.of * len(worlds)
        return tuple(world._replace(of=of) for world in worlds) if of <= MOST_WORLDS else ()


THIS_WORLD = World()
"""The one in which nothing is supposed."""


def compared_at(comparison: op.Comparison, station: Station) -> Compared:
    """The quantity that is compared, at this station."""
    bound = op.bound_axes(comparison.quantity)
    return comparison.quantity, tuple([(axis, label) for axis, label in station.items() if axis in bound])
