"""Numbers that carry their slope, so that a formula written once gives its value and every partial derivative exactly.

This is forward differentiation (Evaluating Derivatives, 2nd edition, 2008, chapter 3).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from functools import wraps

from specrules.formula import PI, Function, takes
from specrules.quantity import Dimension, is_zero

NOTHING, ONE = Decimal(0), Decimal(1)
DEGREE = PI / 180  # in radians


@dataclass(frozen=True, slots=True)
class Sloped:
    """A value in base units, and how fast it moves with the one argument that is being moved."""

    value: Decimal
    slope: Decimal = NOTHING

    def __add__(self, other: Sloped | Decimal | int) -> Sloped:
        other = _sloped(other)
        return Sloped(self.value + other.value, self.slope + other.slope)

    def __neg__(self) -> Sloped:
        return Sloped(-self.value, -self.slope)

    def __sub__(self, other: Sloped | Decimal | int) -> Sloped:
        return self + -_sloped(other)

    def __rsub__(self, other: Decimal | int) -> Sloped:
        return -self + other

    def __mul__(self, other: Sloped | Decimal | int) -> Sloped:
        other = _sloped(other)
        return Sloped(self.value * other.value, self.slope * other.value + self.value * other.slope)

    def __truediv__(self, other: Sloped | Decimal | int) -> Sloped:
        other = _sloped(other)
        value = self.value / other.value
        return Sloped(value, (self.slope - value * other.slope) / other.value)

    def __rtruediv__(self, other: Decimal | int) -> Sloped:
        return _sloped(other) / self

    def __pow__(self, exponent: int) -> Sloped:
        """A whole power, 1 or more."""
        by = self.value ** (exponent - 1) if exponent > 1 else ONE
        return Sloped(self.value**exponent, exponent * by * self.slope)

    def __lt__(self, other: Sloped | Decimal | int) -> bool:
        return self.value < _sloped(other).value

    def __le__(self, other: Sloped | Decimal | int) -> bool:
        return self.value <= _sloped(other).value

    def __gt__(self, other: Sloped | Decimal | int) -> bool:
        return self.value > _sloped(other).value

    __radd__ = __add__
    __rmul__ = __mul__


def _sloped(number: Sloped | Decimal | int) -> Sloped:
    return number if isinstance(number, Sloped) else Sloped(Decimal(number))


def root(of: Sloped) -> Sloped:
    """The square root; of zero it has no slope (an ArithmeticError where one is asked for)."""
    value = of.value.sqrt()
    return Sloped(value, of.slope / (2 * value) if of.slope else NOTHING)


def sine(degrees: Sloped) -> Sloped:
    """The sine of an angle in degrees, as good as binary arithmetic."""
    radians = math.radians(degrees.value)
    return Sloped(Decimal(math.sin(radians)), Decimal(math.cos(radians)) * DEGREE * degrees.slope)


def cosine(degrees: Sloped) -> Sloped:
    """The cosine of an angle in degrees, as good as binary arithmetic."""
    radians = math.radians(degrees.value)
    return Sloped(Decimal(math.cos(radians)), Decimal(-math.sin(radians)) * DEGREE * degrees.slope)


def logarithm(of: Sloped) -> Sloped:
    """The natural logarithm of a positive number."""
    return Sloped(of.value.ln(), of.slope / of.value)


def refuse(when: bool, said: str) -> None:
    """Outside its domain a function has no value: raises ValueError, which says so in the finding."""
    if when:
        raise ValueError(said)


def function(*wanted: Dimension, gives: Dimension, exact: bool = True) -> Callable[[Callable[..., Sloped]], Function]:
    """Make a function of formulas out of one of sloped numbers: its name, what it takes in turn, what it gives.

    `exact`: right to the last of 50 digits. The source is the last paragraph of its docstring.
    """

    def made(formula: Callable[..., Sloped]) -> Function:
        @wraps(formula)  # with its argument names and its docstring, which the reference of the language prints
        def value(*at: Decimal) -> Decimal:
            return formula(*map(Sloped, at)).value

        def moved(which: int) -> Callable[..., float]:
            def partial(*at: Decimal) -> float:
                arguments = (Sloped(x, ONE if which == number else NOTHING) for number, x in enumerate(at))
                return float(formula(*arguments).slope)

            return partial

        partials = tuple(moved(which) for which in range(len(wanted)))
        source = " ".join((formula.__doc__ or "").rpartition("Source:")[2].split())
        return Function(formula.__name__, len(wanted), takes(*wanted, gives=gives), value, partials, exact, source)

    return made


def nothing_less(**sizes: Sloped) -> None:
    """Refuse what is not more than zero, by name."""
    for name, size in sizes.items():
        refuse(size <= 0 or is_zero(size.value), f"the {name.replace('_', ' ')} is not more than zero")
