"""Tables as formulas see them: typed keys, columns, and rows that are found by a search. Plain data, base units."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from enum import Enum
from types import MappingProxyType
from typing import NamedTuple

from specrules.quantity import Unit


class KeyKind(Enum):
    """How a key finds its row."""

    CHOICE = "choice"  # a word
    WHOLE = "whole"  # a whole number
    BAND = "band"  # a size over one edge, up to and with the other
    LINEAR = "linear"  # a size, in a straight line between two rows


class TableKey(NamedTuple):
    """One key. `unit` is that of a band and of a linear key; a whole number has none. `stated`: it may not stand on
    what is measured, since such sizes lie on the edges of the bands."""

    name: str
    kind: KeyKind
    unit: Unit | None = None
    stated: bool = False


class PrintedColumn(NamedTuple):
    """One column: of numbers in a unit, or (None) of labels. `order`: rising or falling with the key, "" for none."""

    name: str
    unit: Unit | None
    labels: tuple[str, ...] = ()
    order: str = ""


class Rows(NamedTuple):
    """The rows by one key. Of a choice `words` says which row each is; else `first` and `last` are the ends of each,
    in their order: of a band over `first`, up to and with `last`; else both the number.

    A row holds what `below` has by the next key or, of the last key, its cells, column by column. None and "" are cells
    without a figure.
    """

    words: Mapping[str, int] = MappingProxyType({})
    first: tuple[Decimal, ...] = ()
    last: tuple[Decimal, ...] = ()
    below: "tuple[Rows, ...]" = ()
    numbers: tuple[tuple[Decimal | None, ...], ...] = ()
    labels: tuple[tuple[str, ...], ...] = ()

    def within(self, low: Decimal, high: Decimal, kind: KeyKind) -> range | None:
        """The rows, by number, that a size between two numbers may lie in; None where it may lie in none of them.

        Of a linear key those on both sides of it are in.
        """
        first, last = self.first, self.last
        if kind is KeyKind.LINEAR:
            start, end = bisect_right(first, low) - 1, bisect_left(first, high)
            return range(start, end + 1) if start >= 0 and end < len(first) else None
        start, end = bisect_left(last, low), bisect_left(last, high)
        if kind is KeyKind.WHOLE:  # of a range the whole numbers in it
            end = bisect_right(last, high) - 1
            whole = start <= end and last[end] - first[start] == end - start
            return range(start, end + 1) if whole and first[start] < low + 1 and last[end] > high - 1 else None
        if end == len(last) or first[start] >= low or any(last[at] < first[at + 1] for at in range(start, end)):
            return None
        return range(start, end + 1)


class LookupTable(NamedTuple):
    """Figures by one key or two."""

    name: str
    keys: tuple[TableKey, ...]
    columns: tuple[PrintedColumn, ...]
    rows: Rows

    def lacking(self, given: Sequence[Sequence[str] | None]) -> Iterator[tuple[TableKey, str]]:
        """The keys for which there is no row, of the words that each key may be; None: it is no choice."""
        return _lacking(self.keys, self.rows, given)


class TableColumn(NamedTuple):
    """What a function of a table looks up: a column, and its place among those of its kind, numbers or labels."""

    table: LookupTable
    column: PrintedColumn
    place: int


def _lacking(
    keys: Sequence[TableKey], rows: Rows, given: Sequence[Sequence[str] | None]
) -> Iterator[tuple[TableKey, str]]:
    if not keys:
        return
    words, number = given[0], len(rows.below)
    below = range(number)
    if keys[0].kind is KeyKind.CHOICE and words is not None:
        yield from ((keys[0], word) for word in words if word not in rows.words)
        below = [rows.words[word] for word in words if word in rows.words]  # type: ignore[assignment]  # numbers too
    for each in below if number else ():
        yield from _lacking(keys[1:], rows.below[each], given[1:])


NO_TABLES: Mapping[str, TableColumn] = MappingProxyType({})
