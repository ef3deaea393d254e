"""One size written twice, in two units, that does not agree with itself: by how much, and what was likely meant."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal, InvalidOperation
from typing import NamedTuple

from .number import CONTEXT
from .units import Unit


class Column(NamedTuple):
    """One of the two figures: `number` as written, in `unit`; `rounded`: half of what its last place is worth."""

    number: Decimal
    unit: Unit
    rounded: Decimal

    @property
    def value(self) -> Decimal:
        """In base units."""
        return self.unit.to_base(self.number)

    def slipped(self, places: int) -> Column:
        """The same digits with the point moved: one place to the right is ten times as much."""
        rounded = CONTEXT.scaleb(self.rounded, places)
        return Column(CONTEXT.scaleb(self.number, places), self.unit, rounded)

    def saying(self, value: Decimal) -> Column:
        """Another size, with as many places as this one was written with."""
        number = CONTEXT.quantize(self.unit.from_base(value), self.number)
        return self._replace(number=number)

    def __str__(self) -> str:
        return f"{self.number:f} {self.unit.symbol}".rstrip()


def disagreement(first: Column, second: Column) -> tuple[str, str]:
    """What is said of two columns of one row that differ, and the rows that may be meant: a point that has slipped in
    one of them where that mends it, else each of the two in turn taken for the right one."""
    try:
        apart = CONTEXT.subtract(first.value, second.value).copy_abs()
        size = CONTEXT.divide(apart, first.unit.difference_to_base(Decimal(1)))
        rows = list(_slipped(first, second)) or [
            (first, second.saying(first.value)),
            (first.saying(second.value), second),
        ]
        said = f"says its size twice, and the two differ by {_shown(size, first.number)} {first.unit.symbol}".rstrip()
    except InvalidOperation:  # more digits than anything measured has
        return "says its size twice, and the two do not agree", ""
    likely = [row for row in rows if row != (first, second) and row[0].number and row[1].number]
    return said, " or ".join(f"{one} ({other})" for one, other in likely)


def _shown(size: Decimal, like: Decimal) -> str:
    """A difference with as many places as a number has, or the few more at which it isn't nothing."""
    exponent = like.as_tuple().exponent
    places = max(0, -exponent) if isinstance(exponent, int) else 0
    while not (shown := CONTEXT.quantize(size, Decimal((0, (1,), -places)))):
        places += 1
    return f"{shown:f}"


def _slipped(first: Column, second: Column) -> Iterator[tuple[Column, Column]]:
    for places in (-1, 1):
        for row in ((first.slipped(places), second), (first, second.slipped(places))):
            if _agree(*row):
                yield row


def _agree(one: Column, other: Column) -> bool:
    return CONTEXT.subtract(one.value, other.value).copy_abs() <= CONTEXT.add(one.rounded, other.rounded)
