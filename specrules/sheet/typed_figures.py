"""What is typed at the bench, made the figure that is written: a size's last digits, an amount over or under it."""

from __future__ import annotations

import re
from decimal import ROUND_FLOOR, Decimal

from specrules.quantity import CONTEXT, Dimension, Exact, Refusal, Unit, fixed, read_written

MOST_TAIL = 4
"""So many of the last digits of a size may be typed alone; a longer number is written whole."""

_TAIL = re.compile(rf"[0-9]{{1,{MOST_TAIL}}}", re.ASCII)
_POINT = re.compile(r"\.[0-9]{1,9}", re.ASCII)
_BESIDE = re.compile(r"(.+?)\s+(over|under)", re.ASCII)
PLAIN = re.compile(r"-?[0-9]+(?:\.[0-9]*)?|-?\.[0-9]+", re.ASCII)
"""A bare number, which stands without quotes anywhere."""
SIZE = re.compile(r"[0-9]{1,6}\.[0-9]{1,6}", re.ASCII)
"""What a size must be, in the unit of bare numbers, for its last digits to be typed alone."""


def figure(answer: str, size: str, unit: Unit | None, dimension: Dimension) -> str | Refusal:
    """The figure that an answer states, as it is to be written.

    `size`: the size that was said before, in `unit`; "" for none. Beside it, `88` is the nearest number that ends so
    (54.988 beside 54.991), `.002` the nearest with this fraction, `8 thou over` so much more. Anything else stands for
    itself, in any unit; a refusal says why it states no number.
    """
    text = " ".join(answer.split())
    if size:
        places = len(size.partition(".")[2])
        if _TAIL.fullmatch(text) and len(text) <= places:
            return _nearest(Decimal(text).scaleb(-places), Decimal(1).scaleb(len(text) - places), Decimal(size), places)
        if _POINT.fullmatch(text):
            return _nearest(Decimal(text), Decimal(1), Decimal(size), max(places, len(text) - 1))
        if (beside := _BESIDE.fullmatch(text)) and unit is not None:
            return _beside(beside[1], beside[2], Decimal(size), places, unit)
    found = read_written(text, unit=unit, dimension=dimension)
    return found if isinstance(found, Refusal) else text


def _nearest(rest: Decimal, period: Decimal, size: Decimal, places: int) -> str:
    """The number nearest to a size that is `rest` more than a whole number of periods."""
    periods = CONTEXT.divide(CONTEXT.subtract(size, rest), period).to_integral_value(ROUND_FLOOR)
    below = CONTEXT.add(CONTEXT.multiply(periods, period), rest)
    above = CONTEXT.add(below, period)
    nearer = below if CONTEXT.subtract(size, below) <= CONTEXT.subtract(above, size) and below >= 0 else above
    return fixed(nearer, places)


def _beside(amount: str, side: str, size: Decimal, places: int, unit: Unit) -> str | Refusal:
    found = read_written(amount, unit=unit, dimension=unit.dimension)
    if isinstance(found, Refusal):
        return found
    if not isinstance(found, Exact):
        return amount
    off = unit.difference_from_base(found.value)
    value = CONTEXT.add(size, off) if side == "over" else CONTEXT.subtract(size, off)
    exponent = value.normalize().as_tuple().exponent
    return fixed(value, max(places, -exponent if isinstance(exponent, int) else 0))
