"""From the uncertainty of inputs to the expanded uncertainty (k = 2) of a value: GUM (JCGM 100:2008), clause 5.1."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import NamedTuple

from specrules.formula import Point
from specrules.sheet import Reading

_ZERO = Decimal(0)
_THIRD = Decimal(1) / Decimal(3)


class Part(NamedTuple):
    """What is known of one input's error, in base units: a stated U (k = 2), and the half-width of a bracket."""

    U: Decimal
    half: Decimal

    @property
    def u(self) -> float:
        """The standard uncertainty; a bracket counts as rectangular (JCGM 100:2008, clause 4.3.7)."""
        return float((self.U * self.U / 4 + self.half * self.half * _THIRD).sqrt())


NOTHING = Part(_ZERO, _ZERO)


def part_of(reading: Reading) -> Part:
    """The error of a reading. A two-sided bracket is a value in its middle that may be off by half its width."""
    half = _ZERO
    if reading.low is not None and reading.high is not None and reading.low != reading.high:
        half = (reading.high - reading.low) / 2
    return Part(reading.U or _ZERO, half)


def half_width(point: Point, parts: Sequence[Part]) -> Decimal:
    """How far the brackets that a point stands on may move it, either way."""
    return sum((abs(Decimal(slope)) * parts[number].half for number, slope in point.slopes.items()), _ZERO)


def expanded(point: Point | None, parts: Sequence[Part], simple: bool) -> Decimal:
    """U (k = 2) of a point. Under simple acceptance gauges count for nothing, and a bracket keeps its whole width.

    U is never wider than the sum of the brackets' half-widths and 2u of the rest: a value cannot lie outside the
    bracket that holds it.
    """
    if point is None:
        return _ZERO
    normal = halves = rectangular = _ZERO
    for number, slope in point.slopes.items():
        part = parts[number]
        if part is NOTHING or not slope:
            continue
        by = abs(Decimal(slope))
        if part.half:
            half = by * part.half
            halves += half
            rectangular += half * half
        if part.U and not simple:
            own = by * part.U
            normal += own * own
    if simple or not rectangular:
        return halves + normal.sqrt() if normal else halves
    return min((normal + 4 * rectangular * _THIRD).sqrt(), halves + normal.sqrt())
