"""The reducers: what a row of values along an axis comes to, and what is still sure where some are missing.

A cell of `None` is a position without a reading at a station that has others: the extremes and the mean go by the
rest. A spread, sum or count does not: a place that nobody measured, or that shares one written figure with another, may
hold anything.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from itertools import pairwise

from specrules.evaluate.arithmetic import Errors, divide, extreme, extremes, subtract, total
from specrules.evaluate.value import UNKNOWN, ZERO, Value, exactly


def reduce(how: str, cells: Sequence[Value | None], u: Errors) -> Value | None:
    """The reduced value; None where no cell holds anything."""
    present = [cell for cell in cells if cell is not None]
    if not present:
        return UNKNOWN if not cells else None
    if how == "largest" or how == "smallest":
        return extreme(present, u, how == "largest")
    if how == "mean":
        return _mean(present, u)
    complete = len(present) == len(cells) and _told_apart(present)
    if how == "spread":
        return _spread(present, u, complete)
    if how == "step":
        return _step(cells, u)
    if not complete or not all(value.whole for value in present):
        return UNKNOWN
    return total(present) if how == "sum" else exactly(Decimal(len(present)))


def _step(cells: Sequence[Value | None], u: Errors) -> Value:
    """The largest difference between two that follow one another; at least that of those that are known."""
    pairs = [pair for one, other in pairwise(cells) if (pair := _apart(one, other)) is not None]
    known = [difference for pair in pairs for difference in pair]
    complete = len(pairs) == len(cells) - 1 and all(difference.whole for difference in known)
    step = extreme(known, u, greatest=True) if known else Value(ZERO, ZERO)
    low = ZERO if step.low is None or step.low.value < 0 else step.low
    if not complete:
        return Value(low, None, whole=False, shared=step.shared)
    return step if low is step.low else step._replace(low=low)


def _apart(one: Value | None, other: Value | None) -> tuple[Value, Value] | None:
    """The difference of two, both ways; None where one of them is missing, or one statement is behind both."""
    if one is None or other is None or not one.shared.isdisjoint(other.shared):
        return None
    return subtract(one, other), subtract(other, one)


def _told_apart(values: Sequence[Value]) -> bool:
    """No two of them stand on one statement."""
    seen: set[int] = set()
    for value in values:
        if not seen.isdisjoint(value.shared):
            return False
        seen |= value.shared
    return True


def _mean(values: Sequence[Value], u: Errors) -> Value:
    if not all(value.whole for value in values):
        return UNKNOWN
    return values[0] if len(values) == 1 else divide(total(values), exactly(Decimal(len(values))), u)


def _spread(values: Sequence[Value], u: Errors, complete: bool) -> Value:
    spread = subtract(*extremes(values, u))
    if complete and spread.whole:
        if spread.low is None or spread.low.value < 0:
            return spread._replace(low=ZERO)
        return spread
    known = [value for value in values if value.exact]
    if len(known) > 1:
        low = subtract(*extremes(known, u)).low
    else:
        low = ZERO
    return Value(low, None, whole=False, shared=spread.shared)
