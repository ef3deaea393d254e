"""How numbers are held, compared with nothing and shown: 50-digit decimals, rounded only on paper."""

from __future__ import annotations

from decimal import (
    ROUND_HALF_EVEN,
    ROUND_HALF_UP,
    Context,
    Decimal,
    DivisionByZero,
    InvalidOperation,
    Overflow,
)
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .units import Unit

_TRAPS = [InvalidOperation, Overflow, DivisionByZero]
CONTEXT = Context(prec=50, rounding=ROUND_HALF_EVEN, Emin=-999, Emax=999, traps=_TRAPS)
_PAPER = Context(prec=2200, rounding=ROUND_HALF_UP, Emin=-3000, Emax=3000, traps=_TRAPS)
_NOTHING = Decimal("1e-30")
_NEARLY_NOTHING = Decimal("1e-10")


def is_zero(margin: Decimal, inexact_scale: Decimal | None = None) -> bool:
    """Whether a margin in base units is nothing: the only tolerance anywhere.

    Division by 3 or 7 is not exact in decimals, so up to 1e-30 of a base unit counts as nothing. Where sin,
    cos and the like took part, `inexact_scale` is the size of what was compared, and 1e-10 of it is nothing.
    """
    allowed = _NOTHING
    if inexact_scale is not None:
        allowed = max(allowed, CONTEXT.multiply(_NEARLY_NOTHING, inexact_scale.copy_abs()))
    return margin.copy_abs() <= allowed


def show(value: Decimal, unit: Unit, places: int) -> str:
    """A value in base units as text in `unit`: so many places, halves away from zero, never '-0.000'."""
    return fixed(unit.from_base(value), places)


def fixed(number: Decimal, places: int) -> str:
    """A number in so many places, halves away from zero, never '-0.000'."""
    rounded = _PAPER.quantize(number, Decimal((0, (1,), -places)))
    return format(rounded or rounded.copy_abs(), "f")


def places_to_agree(first: Decimal, second: Decimal, places: int) -> int:
    """The fewest places, at least `places`, at which two different numbers of one unit do not print alike.

    Two that count as equal (`is_zero` of their difference) need no more."""
    if is_zero(CONTEXT.subtract(first, second)):
        return places
    while fixed(first, places) == fixed(second, places):
        places += 1
    return places
