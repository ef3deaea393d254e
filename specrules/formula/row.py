"""A row of readings that were measured alike, in plain decimals, and what the reducers make of it."""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from decimal import Decimal
from functools import lru_cache
from itertools import combinations, product
from typing import NamedTuple

Plain = tuple[Decimal, float]
"""A value, and no less than how far the readings' own errors, each by its standard uncertainty, move it."""

Reduced = tuple[Decimal, float, Hashable]
"""The same of a row that was reduced, with how many rivals each pick had: values that it cannot be told from."""


class NotPlain(Exception):
    """What only the evaluation in full can answer. Raised and caught inside one inspection; never leaves it."""


class ReadingKind(NamedTuple):
    """What makes readings equally sure. `number` tells kinds apart; `u` is the standard uncertainty of a reading's own
    part, `near` how far apart two may lie that cannot be told apart."""

    number: int
    u: float
    near: Decimal


class Row:
    """Readings of one kind along axes of these sizes, the last axis fastest."""

    __slots__ = ("_known", "kind", "number", "sizes", "values")

    def __init__(self, values: Sequence[Decimal], sizes: tuple[int, ...], kind: ReadingKind) -> None:
        self.values = values
        self.sizes = sizes
        self.kind = kind
        self.number = kind.number
        self._known: dict[By, Reduced] = {}

    def reduced(self, by: By) -> Reduced:
        """The row reduced to one value. Raises NotPlain where a pick hangs by a hair."""
        known = self._known.get(by)
        if known is None:
            how, of_lines, along = by
            if of_lines:
                known = self._of_lines(how, of_lines, along)
            else:
                _, u, near = self.kind
                value, rivals = REDUCERS[how](self.values, near)
                known = value, u * _reach(how, len(self.values)), rivals
            self._known[by] = known
        return known

    def _of_lines(self, how: str, of_lines: str, along: int) -> Reduced:
        _, u, near = self.kind
        lines = list(self._lines(along))
        inner = [REDUCERS[of_lines](line, near) for line in lines]
        values, length = [value for value, _ in inner], len(lines[0])
        if any(0 < abs(value - other) <= _HAIR for value, other in combinations(values, 2)):
            raise NotPlain
        own = math.sqrt(sum([(slope * u) ** 2 for slope in _slopes(of_lines, length)]))
        value, rivals = REDUCERS[how](values, within_2u(own))
        of_picked = tuple([inner[at][1] for at in _picks(how, values)])
        return value, u * _reach(how, len(lines)) * _reach(of_lines, length), (rivals, of_picked)

    def _lines(self, along: int) -> Iterator[Sequence[Decimal]]:
        """The lines of readings along one axis, in the order of the other axes."""
        step = math.prod(self.sizes[along + 1 :])
        block = step * self.sizes[along]
        for start, offset in product(range(0, len(self.values), block), range(step)):
            yield self.values[start + offset : start + block : step]


By = tuple[str, str, int]
"""A reducer; and, unless "", another that comes first and reduces the row along one axis, by that axis's number."""

Reducer = Callable[[Sequence[Decimal], Decimal], tuple[Decimal, Hashable]]
"""From values that are equally sure, and how near they may be and not be told apart, to one value and its rivals."""


def within_2u(u: float) -> Decimal:
    """The most that two values may be apart which, as a float, is 2u or less."""
    near = 2 * u
    return (Decimal(near) + Decimal(math.nextafter(near, math.inf))) / 2


def _largest(values: Sequence[Decimal], near: Decimal) -> tuple[Decimal, Hashable]:
    best = max(values)
    return best, sum(map((best - near).__le__, values))


def _smallest(values: Sequence[Decimal], near: Decimal) -> tuple[Decimal, Hashable]:
    best = min(values)
    return best, sum(map((best + near).__ge__, values))


def _spread(values: Sequence[Decimal], near: Decimal) -> tuple[Decimal, Hashable]:
    if len(values) == 1:
        raise NotPlain
    (most, beside_most), (least, beside_least) = _largest(values, near), _smallest(values, near)
    return most - least, (beside_most, beside_least)


def _sum(values: Sequence[Decimal], _near: Decimal) -> tuple[Decimal, Hashable]:
    return sum(values, start=_NOTHING), ()


def _mean(values: Sequence[Decimal], _near: Decimal) -> tuple[Decimal, Hashable]:
    return values[0] if len(values) == 1 else sum(values, start=_NOTHING) / len(values), ()


REDUCERS: Mapping[str, Reducer] = {
    "largest": _largest,
    "smallest": _smallest,
    "spread": _spread,
    "sum": _sum,
    "mean": _mean,
}
"""Those that only pick and add. Of equal values they pick the first."""
PICKERS = frozenset({"largest", "smallest", "spread"})
_NOTHING = Decimal(0)
_HAIR = Decimal("1e-29")
"""Base units: what is apart by no more may count as equal (see `is_zero`), and another may then be picked. Readings as
they were written are apart by their last place or not at all; what was divided on the way may come as near."""


def _slopes(how: str, number: int) -> tuple[float, ...]:
    """How fast what is reduced moves with each of the values that it moves with at all."""
    match how:
        case "spread":
            return 1.0, -1.0
        case "sum":
            return (1.0,) * number
        case "mean":
            return (1.0 / number,) * number
    return (1.0,)


@lru_cache(maxsize=1000)
def _reach(how: str, number: int) -> float:
    """How far the errors of so many values, one unit each, can move what is reduced."""
    return sum(map(abs, _slopes(how, number)))


def _picks(how: str, values: Sequence[Decimal]) -> Sequence[int]:
    """Which of the values what is reduced moves with: of equal ones the first, a spread of equal ones with two."""
    match how:
        case "largest":
            return (values.index(max(values)),)
        case "smallest":
            return (values.index(min(values)),)
        case "spread":
            most, least = values.index(max(values)), values.index(min(values))
            return (0, 1) if most == least else (most, least)
    return range(len(values))
