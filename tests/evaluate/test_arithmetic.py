"""Arithmetic on values: exact decimals with slopes, ranges that hold the truth, and what has no value."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.evaluate import Point, StatedErrors, Value, exactly
from specrules.evaluate.arithmetic import combined_u, hull, negate
from tests.evaluate.small_environment import SmallBench, bench, evaluate, number, read, trouble, worth


def on(u: float = 0.001, **written: str) -> SmallBench:
    return bench(dict(written), u=u)


SLOPES = [
    ("x + y", 1, 1),
    ("x - y", 1, -1),
    ("x * y", 3, 2),
    ("x / y", 1 / 3, -2 / 9),
    ("-x", -1, None),
    ("x^2", 4, None),
    ("x^3", 12, None),
    ("x^1", 1, None),
    ("x^-1", -0.25, None),
    ("x^-2", -0.25, None),
    ("(x * y)^0.5", 0.5 * 3 / 6**0.5, 0.5 * 2 / 6**0.5),
    ("(x * y)^1.5", 1.5 * 3 * 6**0.5, 1.5 * 2 * 6**0.5),
    ("(x * y)^-0.5", -0.5 * 3 / 6**1.5, -0.5 * 2 / 6**1.5),
    ("sqrt(x * y)", 0.5 * 3 / 6**0.5, 0.5 * 2 / 6**0.5),
    ("abs(x - y)", -1, 1),
    ("x - x", 0, None),
    ("x * x", 4, None),
    ("2 * x", 2, None),
    ("min(x, y)", 1, None),
    ("max(x, y)", None, 1),
]


@pytest.mark.parametrize(("text", "by_x", "by_y"), SLOPES)
def test_slopes(text: str, by_x: float | None, by_y: float | None) -> None:
    value = evaluate(read(text), on(x="2 mm", y="3 mm"))
    assert value is not None
    assert value.low is not None
    assert value.low is value.high
    wanted = {input_: slope for input_, slope in ((0, by_x), (1, by_y)) if slope is not None}
    assert value.low.slopes == pytest.approx(wanted, rel=1e-14)


def test_a_shared_reading_cancels_in_a_difference() -> None:
    value = evaluate(read("(x + y) - (x - y)"), on(x="2 mm", y="3 mm"))
    assert value is not None
    assert value.low is not None
    assert value.low.slopes == {0: 0.0, 1: 2.0}
    assert combined_u(value.low.slopes, StatedErrors({1: 0.5})) == 1.0


RANGES = [
    # text, x, y, low, high (mm or their powers; None: open)
    ("x + y", "1..2 mm", "3 mm", 4, 5),
    ("x - y", "1..2 mm", "3..5 mm", -4, -1),
    ("x - x", "1..2 mm", "0 mm", -1, 1),
    ("-x", "1..2 mm", "0 mm", -2, -1),
    ("-x", "under 2 mm", "0 mm", -2, None),
    ("x + y", "under 2 mm", "3 mm", None, 5),
    ("x * y", "-2..3 mm", "4 mm", -8, 12),
    ("x * y", "-2..3 mm", "-4..5 mm", -12, 15),
    ("x * y", "-3..2 mm", "-4..5 mm", -15, 12),
    ("x * y", "1..2 mm", "-4..5 mm", -8, 10),
    ("x * y", "-2..-1 mm", "-4..5 mm", -10, 8),
    ("x * y", "0..2 mm", "1..3 mm", 0, 6),
    ("x * y", "over 2 mm", "3 mm", 6, None),
    ("x * y", "over 2 mm", "-3 mm", None, -6),
    ("y * x", "over 2 mm", "-3 mm", None, -6),
    ("x * y", "over 2 mm", "1..2 mm", None, None),
    ("x * y", "over 2 mm", "0 mm", None, None),
    ("x / y", "1..2 mm", "4..5 mm", 0.2, 0.5),
    ("x / y", "1..2 mm", "-5..-4 mm", -0.5, -0.2),
    ("x / y", "over 2 mm", "4 mm", 0.5, None),
    ("y / x", "over 2 mm", "4 mm", None, None),
    ("y / x", "-1..2 mm", "4 mm", None, None),
    ("y / x", "0..2 mm", "4 mm", None, None),
    ("y / x", "-2..0 mm", "4 mm", None, None),
    ("x^2", "1..2 mm", "0 mm", 1, 4),
    ("x^3", "-1..2 mm", "0 mm", -1, 8),
    ("x^3", "under 2 mm", "0 mm", None, 8),
    ("x^2", "-1..2 mm", "0 mm", None, None),
    ("x^2", "over 2 mm", "0 mm", 4, None),
    ("x^-1", "1..2 mm", "0 mm", 0.5, 1),
    ("x^-1", "-1..2 mm", "0 mm", None, None),
    ("(x * y)^0.5", "1..4 mm", "1 mm", 1, 2),
    ("(x * y)^0.5", "-1..4 mm", "1 mm", None, None),
    ("abs(x)", "1..4 mm", "1 mm", None, None),
    ("max(x, y)", "1..4 mm", "2 mm", 2, 4),
    ("min(x, y)", "1..4 mm", "2 mm", 1, 2),
    ("max(x, y)", "under 4 mm", "2 mm", 2, 4),
    ("max(x, y)", "over 1 mm", "2 mm", 2, None),
    ("min(x, y)", "under 4 mm", "2 mm", None, 2),
    ("min(x, y)", "over 1 mm", "2 mm", 1, 2),
    ("min(x, y)", "over 1 mm", "under 2 mm", None, 2),
    ("max(x, y)", "under 1 mm", "under 2 mm", None, 2),
]


@pytest.mark.parametrize(("text", "x", "y", "low", "high"), RANGES)
def test_ranges(text: str, x: str, y: str, low: float | None, high: float | None) -> None:
    value = evaluate(read(text), on(u=0.0, x=x, y=y))
    assert value is not None
    assert value.whole
    assert [None if end is None else float(end.value) for end in value[:2]] == [low, high]


def test_what_a_range_lacks_is_remembered() -> None:
    for text in ("x + y", "x * y", "x / y", "y / x", "max(x, y)", "-x", "x^2", "abs(x)", "x - x"):
        value = evaluate(read(text), on(y="2 mm"))
        assert value is not None
        assert not value.whole, text


TROUBLES = [
    ("x / y", "2 mm", "0 mm", "it divides by something that cannot be told from zero"),
    ("x / y", "2 mm", "0.002 mm", "it divides by something that cannot be told from zero"),
    ("x / (y - y)", "2 mm", "3 mm", "it divides by something that cannot be told from zero"),
    ("x^-1", "0 mm", "0 mm", "it divides by something that cannot be told from zero"),
    ("(x * y)^0.5", "-2 mm", "2 mm", "it takes the root of a negative value"),
    ("(x * y)^0.5", "0 mm", "2 mm", "it takes the root of zero, which has no slope"),
    ("sqrt(x * y)", "-2 mm", "2 mm", "sqrt has no value there"),
    ("sqrt(x * y)", "0 mm", "2 mm", "sqrt has no value there"),
    ("asin(x / y)", "2 mm", "1 mm", "asin has no value there: no sine and no cosine is beyond 1"),
    ("acos(x / y)", "-2 mm", "1 mm", "acos has no value there: no sine and no cosine is beyond 1"),
    ("ln(x / y)", "-2 mm", "1 mm", "ln has no value there"),
    ("ln((x - x) / y)", "2 mm", "1 mm", "ln has no value there"),
    ("ln(0)", "2 mm", "1 mm", "ln has no finite value there"),
    ("exp(100000 * x / y)", "2 mm", "1 mm", "exp has no value there"),
    ("((n * 99999999999999999999)^9)^9", "2 mm", "1 mm", "it is too large a number"),
    ("(n * 99999999999999999999)^9 * (n * 99999999999999999999)^9", "2 mm", "1 mm", "it is too large a number"),
    ("1000000 * exp(700 * x / y)", "1 mm", "1 mm", "it is too large a number"),
]


@pytest.mark.parametrize(("text", "x", "y", "said"), TROUBLES)
def test_what_has_no_value(text: str, x: str, y: str, said: str) -> None:
    assert trouble(text, on(x=x, y=y, n="2")) == said


def test_a_divisor_three_u_from_zero_divides() -> None:
    assert worth("x / y", on(x="2 mm", y="0.004 mm")) == 500
    assert trouble("x / y", on(u=0.0021, x="2 mm", y="0.004 mm"))


def test_roots_of_nothing_where_nothing_is_uncertain() -> None:
    assert worth("sqrt(stroke * stroke)", bench(facts={"stroke": "0 in"})) == 0
    assert worth("(stroke * stroke)^0.5", bench(facts={"stroke": "0 in"})) == 0


def test_the_noise_of_the_last_digit_is_no_negative_value() -> None:
    noise = "(stroke / 3 * 3 - stroke) * stroke"
    facts = bench(facts={"stroke": "1 mm"})
    assert worth(noise, facts) < 0
    assert worth(f"sqrt({noise})", facts) == 0
    assert worth(f"({noise})^0.5", facts) == 0


def test_of_equal_values_the_less_certain_is_the_extreme_one() -> None:
    for text in ("max(x, y, z)", "min(x, y, z)", "max(z, y, x)"):
        tied = bench()
        for name, u in (("x", 0.001), ("y", 0.003), ("z", 0.002)):
            tied.measure(name, (), "2.5 in", u)
        value = evaluate(read(text), tied)
        assert value is not None
        assert value.low is not None
        assert value.low.slopes == {1: 1.0}, text


def test_of_equal_values_as_certain_the_first_is_the_extreme_one() -> None:
    for text, first in (("max(x, y, z)", 0), ("min(z, x, y)", 2)):
        value = evaluate(read(text), on(x="1 in", y="25.4 mm", z="1 in"))
        assert value is not None
        assert value.low is not None
        assert value.low.slopes == {first: 1.0}


def test_values_that_differ_by_the_noise_of_a_division_are_equal() -> None:
    value = evaluate(read("max(x, (y + y + y) / 7 * 7 / 3)"), on(x="1 mm", y="1 mm"))
    assert value is not None
    assert value.low is not None
    assert value.low.slopes == {0: 1.0}


def test_hull_of_two_sides() -> None:
    one, other = exactly(Decimal(1), {0: 1.0}, frozenset({7})), Value(None, Point(Decimal(3), {}), True)
    both = hull(one, other, StatedErrors())
    assert both == Value(None, Point(Decimal(3), {}), False, frozenset({7}))
    assert hull(one, exactly(Decimal(2)), StatedErrors()).low == one.low
    assert hull(one, exactly(Decimal(0)), StatedErrors()).high == one.high


def test_of_two_sides_that_end_alike_the_less_certain_counts() -> None:
    sure, unsure = exactly(Decimal(1), {0: 1.0}), exactly(Decimal(1), {1: -1.0})
    for pair in ((sure, unsure), (unsure, sure)):
        both = hull(*pair, StatedErrors({0: 0.1, 1: 0.2}))
        assert both.low is both.high is unsure.low


CORNERS_ALIKE = [
    # text, x, y, which end is that of two products or quotients alike, how it moves with x at the most
    ("x * y", "0..2 mm", "1..3 mm", "low", 3),
    ("y * x", "0..2 mm", "1..3 mm", "low", 3),
    ("x * y", "0..2 mm", "-1..3 mm", None, None),
    ("x * y", "0..2 mm", "-3..-1 mm", "high", -3),
    ("x * y", "-2..0 mm", "1..3 mm", "high", 3),
    ("x * y", "-2..0 mm", "-3..-1 mm", "low", -3),
    ("x / y", "0..2 mm", "1..4 mm", "low", 1),
    ("x / y", "0..2 mm", "-4..-1 mm", "high", -1),
    ("x / y", "-2..0 mm", "-4..-1 mm", "low", -1),
]


@pytest.mark.parametrize(("text", "x", "y", "end", "by_x"), CORNERS_ALIKE)
def test_of_corners_of_two_ranges_that_are_alike_the_less_certain_counts(
    text: str, x: str, y: str, end: str | None, by_x: float | None
) -> None:
    value = evaluate(read(text), on(x=x, y=y))
    assert value is not None
    ends = {"low": value.low, "high": value.high}
    alike = {name: point.slopes[0] for name, point in ends.items() if point is not None and point.value == 0}
    assert alike == ({} if end is None else {end: by_x})


def test_a_negated_exact_value_is_exact() -> None:
    assert negate(exactly(Decimal(2), {0: 3.0})) == exactly(Decimal(-2), {0: -3.0})
    assert negate(exactly(Decimal(2))).exact


def test_shared_statements_are_carried_through() -> None:
    told = bench()
    told.measure("x", (), "2 mm", shared=[4])
    told.measure("y", (), "3 mm", shared=[5])
    for text in ("x + y", "x * y", "x / y", "max(x, y)", "abs(x) + y", "x^2 / y", "-x - y"):
        value = evaluate(read(text), told)
        assert value is not None
        assert value.shared == {4, 5}, text


LIMITS = [
    # value, limit: on the limit exactly, in mixed units
    ("x - y - 0.0025 in", {"x": "2.5025 in", "y": "2.5000 in"}),
    ("x - y - 0.0635 mm", {"x": "2.5025 in", "y": "63.5 mm"}),
    ("x - y - 0.025 mm", {"x": "10.025 mm", "y": "10.000 mm"}),
    ("x - 3 thou", {"x": "0.0762 mm"}),
    ("x * 0.0007 - 0.0014 in", {"x": "2 in"}),
]


@pytest.mark.parametrize(("text", "written"), LIMITS)
def test_on_a_limit_the_margin_is_nothing_at_all(text: str, written: dict[str, str]) -> None:
    assert number(read(text), bench(dict(written))) == 0
