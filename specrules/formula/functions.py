"""The functions that formulas may call: a registry of frozen entries, to which others may be added.

A function's value is computed in decimals, its partial derivatives in floats. `exact` says whether the value is right
to the last of 50 digits; sines and the like come from binary arithmetic and are not. Angles are in degrees.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType

from specrules.quantity import ANGLE, NUMBER, Dimension, is_zero

REDUCERS = frozenset({"largest", "smallest", "mean", "spread", "step", "sum", "count"})

LIMIT_NAMES = ("least", "aim", "most")
"""The limits so far, which limit lines may name."""
LANGUAGE = frozenset({"if", "else", "and", "or", "not", "min", "max", "pi", *REDUCERS, *LIMIT_NAMES})
"""Words that the language keeps for itself."""

PI = Decimal("3.14159265358979323846264338327950288419716939937511")
CONSTANTS: Mapping[str, Decimal] = MappingProxyType({"pi": PI})

Dimensions = Callable[[Sequence[Dimension]], Dimension | str]
"""From the arguments' dimensions to the result's, or to what the arguments ought to be."""


@dataclass(frozen=True, slots=True)
class Function:
    """One function. `value` takes and gives base units; `partials` has one derivative for each argument.

    `value` may raise ValueError or an ArithmeticError outside its domain: a fault of the finding, never of the program.
    """

    name: str
    arity: int
    dimensions: Dimensions
    value: Callable[..., Decimal]
    partials: tuple[Callable[..., float], ...]
    exact: bool = True
    source: str = ""


def takes(*wanted: Dimension, gives: Dimension) -> Dimensions:
    """Dimensions for a function that takes just these and gives that."""

    def check(given: Sequence[Dimension]) -> Dimension | str:
        if tuple(given) == wanted:
            return gives
        return " and ".join(dimension.words() for dimension in wanted)

    return check


def _radians(degrees: Decimal) -> float:
    return math.radians(float(degrees))


_PER_DEGREE = math.radians(1)
_NOTHING = Decimal(0)
_HALF_TURN = Decimal(180)


def _root(given: Sequence[Dimension]) -> Dimension | str:
    return given[0].root() or "a number, an area or another square"


def _same(given: Sequence[Dimension]) -> Dimension | str:
    return "a temperature difference" if given[0].point else given[0]


def _share(x: Decimal) -> float:
    """A sine or a cosine."""
    if abs(x) > 1:
        raise ValueError("no sine and no cosine is beyond 1")
    return float(x)


def _no_right_angle(x: Decimal) -> Decimal:
    """An angle that has a tangent; binary arithmetic would give one of some 1e16 to any."""
    if is_zero(abs(x % _HALF_TURN) - _HALF_TURN / 2, _HALF_TURN):
        raise ValueError("no right angle has a tangent")
    return x


def _of_angle(name: str, value: Callable[[float], float], slope: Callable[[float], float]) -> Function:
    """A function of an angle, from one in radians and its derivative."""
    return Function(
        name,
        1,
        takes(ANGLE, gives=NUMBER),
        lambda x: Decimal(value(_radians(x))),
        (lambda x: slope(_radians(x)) * _PER_DEGREE,),
        exact=False,
    )


def _to_angle(name: str, value: Callable[[Decimal], float], slope: Callable[[float], float]) -> Function:
    """A function that gives an angle, from one that gives radians and its derivative."""
    return Function(
        name,
        1,
        takes(NUMBER, gives=ANGLE),
        lambda x: Decimal(math.degrees(value(x))),
        (lambda x: math.degrees(slope(float(x))),),
        exact=False,
    )


_BUILT_IN = (
    Function("abs", 1, _same, abs, (lambda x: -1.0 if x < 0 else 1.0,)),
    Function("sqrt", 1, _root, lambda x: _NOTHING if is_zero(x) else x.sqrt(), (lambda x: 0.5 / math.sqrt(x),)),
    _of_angle("sin", math.sin, math.cos),
    _of_angle("cos", math.cos, lambda x: -math.sin(x)),
    Function(
        "tan",
        1,
        takes(ANGLE, gives=NUMBER),
        lambda x: Decimal(math.tan(_radians(_no_right_angle(x)))),
        (lambda x: _PER_DEGREE / math.cos(_radians(x)) ** 2,),
        exact=False,
    ),
    _to_angle("asin", lambda x: math.asin(_share(x)), lambda x: 1 / math.sqrt(1 - x**2)),
    _to_angle("acos", lambda x: math.acos(_share(x)), lambda x: -1 / math.sqrt(1 - x**2)),
    _to_angle("atan", math.atan, lambda x: 1 / (1 + x**2)),
    Function("exp", 1, takes(NUMBER, gives=NUMBER), lambda x: x.exp(), (math.exp,)),
    Function("ln", 1, takes(NUMBER, gives=NUMBER), lambda x: x.ln(), (lambda x: 1 / float(x),)),
)

FUNCTIONS: Mapping[str, Function] = MappingProxyType({function.name: function for function in _BUILT_IN})
"""What every formula may call, besides `min` and `max` of any number of arguments, which belong to the language."""


def with_functions(more: Sequence[Function]) -> Mapping[str, Function]:
    """The built-in functions and these. A name already taken raises ValueError: nothing silently wins."""
    known = dict(FUNCTIONS)
    for function in more:
        if function.name in known or function.name in REDUCERS or function.name in ("min", "max"):
            raise ValueError(f"{function.name} is a function of the language already")
        known[function.name] = function
    return MappingProxyType(known)
