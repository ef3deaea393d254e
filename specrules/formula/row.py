"""A row of readings that were measured alike, in plain decimals, and what the reducers make of it."""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from decimal import Decimal
from functools import lru_cache
from itertools import combinations, product

Plain = tuple[Decimal, float]
"""A value, and no less than how far the readings' own errors, each by its standard uncertainty, move it."""

Reduced = tuple[Decimal, float, Hashable]
"""The same of a row that was reduced, with how many rivals each pick had: values that it cannot be told from."""


class NotPlain(Exception):
    """What only the evaluation in full can answer. Raised and caught inside one inspection; never leaves it."""


class Row:
    """Readings with one standard uncertainty `u` of their own, along axes of these sizes, the last axis fastest.

    `kind` is all that their uncertainty depends on: two rows of one kind are equally sure, place by place.
    """

    __slots__ = ("_known", "kind", "sizes", "u", "values")

    def __init__(self, values: Sequence[Decimal], sizes: tuple[int, ...], kind: Hashable, u: float) -> None:
        self.values = values
        self.sizes = sizes
        self.kind = kind
        self.u = u
        self._known: dict[tuple[str, str, int], Reduced] = {}

    def reduced(self, by: tuple[str, str, int]) -> Reduced:
        """The row reduced to one value: by a reducer, over what another one (if any) makes of it along one axis.

        Raises NotPlain for a reducer that does more than pick and add, and where a pick hangs by a hair.
        """
        known = self._known.get(by)
        if known is None:
            how, within, along = by
            if within:
                known = self._of_lines(how, within, along)
            else:
                value, rivals = _reducer(how)(self.values, self.u)
                known = value, self.u if how in _PICK_ONE else self.u * _reach(how, len(self.values)), rivals
            self._known[by] = known
        return known

    def _of_lines(self, how: str, inner_how: str, along: int) -> Reduced:
        reducer, lines = _reducer(inner_how), list(self._lines(along))
        inner = [reducer(line, self.u) for line in lines]
        values, length = [value for value, _ in inner], len(lines[0])
        if any(0 < abs(value - other) <= _HAIR for value, other in combinations(values, 2)):
            raise NotPlain
        own = math.sqrt(sum([(slope * self.u) ** 2 for slope in _slopes(inner_how, length)]))
        value, rivals = _reducer(how)(values, own)
        of_picked = tuple([inner[at][1] for at in _picks(how, values)])
        return value, self.u * _reach(how, len(lines)) * _reach(inner_how, length), (rivals, of_picked)

    def _lines(self, along: int) -> Iterator[Sequence[Decimal]]:
        """The lines of readings along one axis, in the order of the other axes."""
        step = math.prod(self.sizes[along + 1 :])
        block = step * self.sizes[along]
        for start, offset in product(range(0, len(self.values), block), range(step)):
            yield self.values[start + offset : start + block : step]


Reducer = Callable[[Sequence[Decimal], float], tuple[Decimal, Hashable]]
"""From values that are equally sure, and how sure each is by itself, to one of them or to what they come to."""


def _largest(values: Sequence[Decimal], own: float) -> tuple[Decimal, Hashable]:
    best = max(values)
    return best, sum(map((best - within(own)).__le__, values))


def _smallest(values: Sequence[Decimal], own: float) -> tuple[Decimal, Hashable]:
    best = min(values)
    return best, sum(map((best + within(own)).__ge__, values))


def _spread(values: Sequence[Decimal], own: float) -> tuple[Decimal, Hashable]:
    if len(values) == 1:
        raise NotPlain
    (most, beside_most), (least, beside_least) = _largest(values, own), _smallest(values, own)
    return most - least, (beside_most, beside_least)


def _sum(values: Sequence[Decimal], _own: float) -> tuple[Decimal, Hashable]:
    return sum(values, start=_NOTHING), ()


def _mean(values: Sequence[Decimal], _own: float) -> tuple[Decimal, Hashable]:
    return values[0] if len(values) == 1 else sum(values, start=_NOTHING) / len(values), ()


_REDUCERS: Mapping[str, Reducer] = {
    "largest": _largest,
    "smallest": _smallest,
    "spread": _spread,
    "sum": _sum,
    "mean": _mean,
}
_PICK_ONE = frozenset({"largest", "smallest", "mean"})
_NOTHING = Decimal(0)
_HAIR = Decimal("1e-29")
"""Base units: what is apart by no more may count as equal (see `is_zero`), and another may then be picked."""


def _reducer(how: str) -> Reducer:
    found = _REDUCERS.get(how)
    if found is None:
        raise NotPlain
    return found


@lru_cache(maxsize=1000)
def within(u: float) -> Decimal:
    """How far apart values may be that cannot be told apart: the most that, as a float, is 2u or less."""
    near = 2 * u
    return (Decimal(near) + Decimal(math.nextafter(near, math.inf))) / 2


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


def _reach(how: str, number: int) -> float:
    return {"spread": 2.0, "sum": float(number)}.get(how, 1.0)


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
