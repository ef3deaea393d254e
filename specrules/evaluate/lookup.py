"""A table looked up: by words, by numbers that are known, and by sizes that may lie in several of its rows.

A key that may lie in several rows makes a range by every decision rule, so that none is laxer than another at an edge;
a size on a line moves with its key within one stretch, and across stretches is all that it passes. What is looked up
and is not there is no figure, never the nearest row: a table ends where its source does.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from typing import NamedTuple, TypeVar

from specrules.evaluate.arithmetic import Errors, add, combined_u, divide, multiply, subtract
from specrules.evaluate.value import UNKNOWN, NotEvaluable, Point, Value, exactly
from specrules.formula.tables import KeyKind, Rows, TableColumn, TableKey
from specrules.vocabulary import Why

MOST_ROWS = 64
"""So many rows a key may lie in; of one that is known worse nothing is said."""

Asked = Value | str | None
"""What a key is at a station: a size or a number, a word, or a fact that nobody stated."""
Cell = TypeVar("Cell")


class _Vague(Exception):
    """A key of which too little is known."""


def number_at(column: TableColumn, keys: Sequence[Asked], u: Errors) -> Value:
    """The figure of a column, base units: a range where a key may lie in several rows, whatever the decision rule.

    A size reaches as far as 2u to either side of what is known of it. Raises NotEvaluable where a key has no row.
    """
    if None in keys:
        return UNKNOWN
    sizes = [key for key in keys if isinstance(key, Value)]
    whole = all(key.whole for key in sizes)
    shared = frozenset[int]().union(*(key.shared for key in sizes))
    try:
        found = _Search(column, u).number(column.table.keys, column.table.rows, keys)
        return found._replace(whole=whole, shared=shared)
    except _Vague:
        return Value(None, None, whole, shared)


def label_at(column: TableColumn, keys: Sequence[Asked], u: Errors) -> str | None:
    """The label of a column; None where it is not known which. Raises NotEvaluable where a key has no row."""
    if None in keys:
        return None
    try:
        found = set(_Search(column, u).labels(column.table.keys, column.table.rows, keys))
    except _Vague:
        return None
    return found.pop() if len(found) == 1 else None


class _Search(NamedTuple):
    """One look at a column, key by key."""

    column: TableColumn
    u: Errors

    def number(self, keys: Sequence[TableKey], rows: Rows, asked: Sequence[Asked]) -> Value:
        def cell(at: int) -> Value:
            if keys[1:]:
                return self.number(keys[1:], rows.below[at], asked[1:])
            figure = rows.numbers[at][self.column.place]
            if figure is None:
                raise self.without(keys[0], asked[0])
            return exactly(figure)

        low, high = self.reach(asked[0])
        among = self.rows(keys[0], rows, asked[0], low, high)
        if keys[0].kind is KeyKind.LINEAR and len(among) > 1:
            assert isinstance(asked[0], Value)
            return _along(rows.first, among, asked[0], (low, high), cell, self.u)
        return _any_of([cell(at) for at in among])

    def labels(self, keys: Sequence[TableKey], rows: Rows, asked: Sequence[Asked]) -> Iterator[str]:
        low, high = self.reach(asked[0])
        for at in self.rows(keys[0], rows, asked[0], low, high):
            if keys[1:]:
                yield from self.labels(keys[1:], rows.below[at], asked[1:])
            elif label := rows.labels[at][self.column.place]:
                yield label
            else:
                raise self.without(keys[0], asked[0])

    def rows(self, key: TableKey, rows: Rows, asked: Asked, low: Decimal, high: Decimal) -> Sequence[int]:
        """The rows that a key may be of, by number."""
        if isinstance(asked, str):
            found: Sequence[int] | None = (rows.words[asked],) if asked in rows.words else None
        else:
            found = rows.within(low, high, key.kind)
        if found is None:
            raise self.without(key, asked)
        if len(found) > MOST_ROWS:
            raise _Vague
        return found

    def reach(self, asked: Asked) -> tuple[Decimal, Decimal]:
        """How far down and up a size may lie."""
        if not isinstance(asked, Value):
            return _NOTHING, _NOTHING
        if asked.low is None or asked.high is None:
            raise _Vague
        return asked.low.value - self._twice_u(asked.low), asked.high.value + self._twice_u(asked.high)

    def _twice_u(self, end: Point) -> Decimal:
        u = combined_u(end.slopes, self.u) if end.slopes else 0.0
        return Decimal(f"{2 * u:.12g}") if u else _NOTHING

    def without(self, key: TableKey, asked: Asked) -> NotEvaluable:
        """That there is no row for a key, or no figure in it."""
        if isinstance(asked, Value):
            end = asked.low or asked.high
            known = "" if end is None else f"{key.unit.from_base(end.value) if key.unit else end.value:.7g}"
            said = f"{known} {key.unit.symbol}" if key.unit else known
        else:
            said = asked or ""
        return NotEvaluable(Why.NO_ROW, self.column.table.name, key.name, text=said)


def _any_of(found: Sequence[Value]) -> Value:
    """What is sure where any of these may hold: one number where they are the same."""
    ends = [end for each in found for end in (each.low, each.high) if end is not None]
    if len(found) == 1 or len(ends) < 2 * len(found):
        return found[0] if len(found) == 1 else Value(None, None)
    low, high = min(ends, key=_by_value), max(ends, key=_by_value)
    same = low.value == high.value and not (low.slopes or high.slopes)
    return Value(low, low if same else high)


def _along(
    sizes: Sequence[Decimal],
    among: Sequence[int],
    asked: Value,
    reach: tuple[Decimal, Decimal],
    cell: Callable[[int], Value],
    u: Errors,
) -> Value:
    """In a straight line between two rows; across more of them the widest range of all that it passes."""

    def between(at: int, size: Value) -> Value:
        one, other = cell(at), cell(at + 1)
        share = divide(subtract(size, exactly(sizes[at])), exactly(sizes[at + 1] - sizes[at]), u)
        return add(one, multiply(share, subtract(other, one), u))

    if asked.exact and len(among) == 2:
        return between(among[0], asked)
    passed = [cell(at) for at in among if reach[0] <= sizes[at] <= reach[1]]
    return _any_of([between(among[0], exactly(reach[0])), *passed, between(among[-2], exactly(reach[1]))])


def _by_value(point: Point) -> Decimal:
    return point.value


_NOTHING = Decimal(0)
