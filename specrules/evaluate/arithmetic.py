"""Arithmetic on values: decimals with slopes where all is known, the widest range that is sure where it is not."""

from __future__ import annotations

import functools
import math
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from operator import attrgetter
from typing import Protocol

from specrules.evaluate.value import NotEvaluable, Point, Slopes, Value, exactly, made_point, made_value
from specrules.formula.functions import Function
from specrules.quantity import is_zero
from specrules.vocabulary import Why

_whole = attrgetter("whole")
_shared = attrgetter("shared")
_UNIT = Decimal(1)
_ONE = exactly(_UNIT)


class Errors(Protocol):
    """What is known of the inputs' errors: the environment provides it."""

    def __call__(self, number: int) -> float:
        """The standard uncertainty of an input."""

    def selected(self, best: Point, among: Sequence[Point], greatest: bool) -> Point:
        """The extreme of some points, with whatever picking it from among its like moves it by."""


class StatedErrors:
    """Errors that are known for some inputs and nothing for the rest; picking an extreme moves nothing."""

    def __init__(self, us: Mapping[int, float] | None = None) -> None:
        self.us = us or {}

    def __call__(self, number: int) -> float:
        return self.us.get(number, 0.0)

    def selected(self, best: Point, among: Sequence[Point], greatest: bool) -> Point:  # noqa: ARG002 - the protocol's
        return best


def combined_u(slopes: Slopes, u: Errors) -> float:
    """The standard uncertainty of a value whose inputs are independent."""
    return math.sqrt(sum([(slope * u(number)) ** 2 for number, slope in slopes.items()]))


def _linear(value: Decimal, a: Slopes, by_a: float, b: Slopes, by_b: float) -> Point:
    """A value that moves `by_a` times as its first operand does and `by_b` times as its second."""
    slopes = dict(a) if by_a == 1.0 else {number: by_a * slope for number, slope in a.items()}
    for number, slope in b.items():
        slopes[number] = slopes.get(number, 0.0) + by_b * slope
    return made_point((value, slopes))


def _scaled(value: Decimal, of: Point, by: float) -> Point:
    return made_point((value, {number: by * slope for number, slope in of.slopes.items()}))


def add(left: Value, right: Value) -> Value:
    """The sum."""
    return _paired(left, right, left.low, right.low, left.high, right.high, _sum)


def total(values: Sequence[Value]) -> Value:
    """The sum of several, added up in their order."""
    points = [value.low for value in values if value.low is not None and value.low is value.high]
    if len(points) < len(values):
        return functools.reduce(add, values)
    value, slopes = points[0].value, dict(points[0].slopes)
    for point in points[1:]:
        value += point.value
        for number, slope in point.slopes.items():
            slopes[number] = slopes.get(number, 0.0) + slope
    point = made_point((value, slopes))
    return made_value((point, point, all(map(_whole, values)), frozenset().union(*map(_shared, values))))


def subtract(left: Value, right: Value) -> Value:
    """The difference; least where the subtrahend is greatest."""
    return _paired(left, right, left.low, right.high, left.high, right.low, _difference)


def _sum(a: Point, b: Point) -> Point:
    return _linear(a.value + b.value, a.slopes, 1.0, b.slopes, 1.0)


def _difference(a: Point, b: Point) -> Point:
    return _linear(a.value - b.value, a.slopes, 1.0, b.slopes, -1.0)


def _product(a: Point, b: Point) -> Point:
    return _linear(a.value * b.value, a.slopes, float(b.value), b.slopes, float(a.value))


def _quotient(a: Point, b: Point) -> Point:
    value = a.value / b.value
    return _linear(value, a.slopes, 1 / float(b.value), b.slopes, -float(value / b.value))


def _paired(
    left: Value,
    right: Value,
    a: Point | None,
    b: Point | None,
    c: Point | None,
    d: Point | None,
    how: Callable[[Point, Point], Point],
) -> Value:
    """The value whose low end joins a and b, and whose high end joins c and d."""
    low = None if a is None or b is None else how(a, b)
    exact = a is not None and a is c and b is not None and b is d
    high = low if exact else None if c is None or d is None else how(c, d)
    return made_value((low, high, left.whole and right.whole, left.shared | right.shared))


def negate(of: Value) -> Value:
    """Minus the value."""
    low = None if of.high is None else _scaled(-of.high.value, of.high, -1.0)
    high = low if of.exact else None if of.low is None else _scaled(-of.low.value, of.low, -1.0)
    return Value(low, high, of.whole, of.shared)


def multiply(left: Value, right: Value, u: Errors) -> Value:
    """The product. Of two ranges, the extreme of the four products of their ends; of equal ones the less certain."""
    return _corners(left, right, _product, u)


def divide(left: Value, right: Value, u: Errors) -> Value:
    """The quotient; of a range across zero, anything. Raises NotEvaluable where one number cannot be told from zero."""
    if right.low is None or right.high is None:
        return _nothing_said(left, right)
    if _like_zero(right.low, u) or (right.low is not right.high and _like_zero(right.high, u)):
        if right.low is right.high:
            raise NotEvaluable(Why.DIVIDES_BY_ZERO)
        return _nothing_said(left, right)
    if right.low.value < 0 < right.high.value:
        return _nothing_said(left, right)
    return _corners(left, right, _quotient, u)


def _like_zero(point: Point, u: Errors) -> bool:
    return is_zero(point.value) or abs(float(point.value)) <= 2 * combined_u(point.slopes, u)


def _nothing_said(left: Value, right: Value) -> Value:
    return Value(None, None, left.whole and right.whole, left.shared | right.shared)


def _corners(left: Value, right: Value, how: Callable[[Point, Point], Point], u: Errors) -> Value:
    whole, shared = left.whole and right.whole, left.shared | right.shared
    if left.low is None or left.high is None or right.low is None or right.high is None:
        return _half_known(left, right, how, whole, shared)
    if left.low is left.high and right.low is right.high:
        point = how(left.low, right.low)
        return made_value((point, point, whole, shared))
    corners = [how(a, b) for a in (left.low, left.high) for b in (right.low, right.high)]
    return Value(_best(corners, u, False), _best(corners, u, True), whole, shared)


def _half_known(
    left: Value, right: Value, how: Callable[[Point, Point], Point], whole: bool, shared: frozenset[int]
) -> Value:
    """A side is open. Where the other operand is one positive or negative number the known side still stands."""
    for one, other, swapped in ((left, right, False), (right, left, True)):
        if (
            other.low is None
            or other.low is not other.high
            or is_zero(other.low.value)
            or (swapped and how is _quotient)
        ):
            continue
        factor = other.low
        ends = [
            None if end is None else how(factor, end) if swapped else how(end, factor) for end in (one.low, one.high)
        ]
        low, high = ends if factor.value > 0 else (ends[1], ends[0])
        return Value(low, high, whole, shared)
    return Value(None, None, whole, shared)


def power(of: Value, exponent: Decimal, u: Errors) -> Value:
    """A power with a written exponent. Raises NotEvaluable for the root of a negative value and for zero inverted."""
    if exponent < 0:
        return divide(_ONE, power(of, -exponent, u), u)
    if of.exact and of.low is not None:
        point = _power(of.low, exponent)
        return Value(point, point, of.whole, of.shared)
    if (of.low is None or of.low.value <= 0) and exponent % 2 != 1:  # it falls before it rises, or has no root
        return Value(None, None, of.whole, of.shared)
    low, high = (None if end is None else _power(end, exponent) for end in (of.low, of.high))
    return Value(low, high, of.whole, of.shared)


def _power(of: Point, exponent: Decimal) -> Point:
    """A power above nothing, of a whole number or a half."""
    x, twice = of.value, int(exponent * 2)
    if twice % 2 == 0:
        by = exponent * x ** (twice // 2 - 1) if twice > 2 else _UNIT
        return _scaled(x ** (twice // 2), of, float(by))
    if x < 0 and not is_zero(x):
        raise NotEvaluable(Why.ROOT_OF_NEGATIVE)
    if twice == 1 and of.slopes and is_zero(x):
        raise NotEvaluable(Why.ROOT_OF_ZERO)
    root = max(x, Decimal(0)).sqrt()
    return _scaled(root**twice, of, float(exponent * root ** (twice - 2)) if of.slopes else 0.0)


def extreme(values: Sequence[Value], u: Errors, greatest: bool) -> Value:
    """The greatest or least value. Of equal ones the less certain, then the first: slopes are never averaged."""
    whole = all(map(_whole, values))
    shared = frozenset().union(*map(_shared, values))
    points = [value.low for value in values if value.low is not None and value.low is value.high]
    if len(points) == len(values):
        point = _outermost(points, u, greatest)
        return made_value((point, point, whole, shared))
    lows = [value.low for value in values if value.low is not None]
    highs = [value.high for value in values if value.high is not None]
    if greatest:
        highs = highs if len(highs) == len(values) else []
    else:
        lows = lows if len(lows) == len(values) else []
    low, high = (_best(ends, u, greatest) if ends else None for ends in (lows, highs))
    if low is not None and low is high:  # one value, however open the others are
        point = u.selected(low, lows if greatest else highs, greatest)
        return made_value((point, point, whole, shared))
    low, high = (
        None if best is None else u.selected(best, ends, greatest) for best, ends in ((low, lows), (high, highs))
    )
    return Value(low, high, whole, shared)


def extremes(values: Sequence[Value], u: Errors) -> tuple[Value, Value]:
    """The greatest and the least value. Of equal ones two different, since nothing is no surer than any difference."""
    greatest, least = extreme(values, u, True), extreme(values, u, False)
    points = [value.low for value in values if value.low is not None and value.low is value.high]
    if len(points) == len(values) > 1 and all(is_zero(point.value - points[0].value) for point in points):
        points.sort(key=lambda point: -combined_u(point.slopes, u))
        ends = u.selected(points[0], points, True), u.selected(points[1], points, False)
        greatest, least = (Value(end, end, greatest.whole, greatest.shared) for end in ends)
    return greatest, least


def _outermost(points: Sequence[Point], u: Errors, greatest: bool) -> Point:
    return u.selected(_best(points, u, greatest), points, greatest)


def _best(points: Sequence[Point], u: Errors, greatest: bool) -> Point:
    best = points[0]
    for point in points[1:]:
        ahead = point.value - best.value
        if is_zero(ahead):
            if combined_u(point.slopes, u) > combined_u(best.slopes, u):
                best = point
        elif (ahead > 0) is greatest:
            best = point
    return best


def hull(one: Value, other: Value, u: Errors) -> Value:
    """What is sure when either may hold: from the lower low to the higher high, of equal ones the less certain."""
    low = None if one.low is None or other.low is None else _best((one.low, other.low), u, False)
    high = None if one.high is None or other.high is None else _best((one.high, other.high), u, True)
    return Value(low, high, whole=False, shared=one.shared | other.shared)


def apply(function: Function, arguments: Sequence[Value]) -> Value:
    """A function of the registry. Of ranges nothing is said: a function need not be monotone."""
    whole = all(map(_whole, arguments))
    shared = frozenset().union(*map(_shared, arguments))
    points = [argument.low for argument in arguments if argument.exact and argument.low is not None]
    if len(points) < len(arguments):
        return Value(None, None, whole, shared)
    values = [point.value for point in points]
    try:
        value = function.value(*values)
        slopes: dict[int, float] = {}
        for partial, point in zip(function.partials, points, strict=True):
            if point.slopes:
                by = partial(*values)
                for number, slope in point.slopes.items():
                    slopes[number] = slopes.get(number, 0.0) + by * slope
    except ValueError as error:
        raise NotEvaluable(Why.OUTSIDE_DOMAIN, function.name, text=str(error)) from error
    except ArithmeticError as error:
        raise NotEvaluable(Why.OUTSIDE_DOMAIN, function.name) from error
    if not value.is_finite() or not all(map(math.isfinite, slopes.values())):
        raise NotEvaluable(Why.NOT_FINITE, function.name)
    point = made_point((value, slopes))
    return made_value((point, point, whole, shared))
