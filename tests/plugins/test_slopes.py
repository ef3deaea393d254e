"""A stated slope against how a function moves: wrong ones are found, kinks, flat pieces and edges let pass."""

from __future__ import annotations

import math
from collections.abc import Callable
from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from specrules.plugins.slopes import moves_by

ONE = Decimal(1)


def sine(x: Decimal) -> Decimal:
    return Decimal(math.sin(math.radians(x)))


def inside(x: Decimal) -> Decimal | None:
    return x**2 if x <= 3 else None


CASES: dict[str, tuple[Callable[[Decimal], Decimal | None], str, float, float | None]] = {
    "right": (lambda x: x**2, "3", 6.0, None),
    "nothing": (lambda x: x**2, "3", 0.0, 6.0),
    "the other way": (lambda x: x**2, "3", -6.0, 6.0),
    "a little off": (lambda x: x**2, "3", 6.25, None),
    "too much off": (lambda x: x**2, "3", 6.4, 6.0),
    "too little": (lambda x: x**2, "3", 5.6, 6.0),
    "radians for degrees": (sine, "30", math.cos(math.radians(30)), 0.01511),
    "through binary arithmetic": (sine, "30", math.cos(math.radians(30)) * math.pi / 180, None),
    "at nothing": (lambda x: 3 * x, "0", 3.0, None),
    "at nothing, wrong": (lambda x: 3 * x, "0", 0.0, 3.0),
    "a kink": (abs, "0", 0.3, None),
    "beyond a kink": (abs, "0", 1.2, 1.0),
    "a step of a table, told as flat": (lambda x: x // ONE, "2.5", 0.0, None),
    "a step of a table, told as it rises": (lambda x: x // ONE, "2.5", 1.0, None),
    "on the edge of a step": (lambda x: x // ONE, "2", 0.0, None),
    "on the edge of its domain": (inside, "3", 6.0, None),
    "on the edge of its domain, wrong": (inside, "3", 0.0, 6.0),
    "outside its domain": (inside, "4", 0.0, None),
    "one point alone": (lambda x: x if x == 2 else None, "2", 0.0, None),
    "large, in base units": (lambda x: x / 10**9, "2e9", 0.0, 1e-9),
}


@pytest.mark.parametrize("case", CASES)
def test_a_stated_slope(case: str) -> None:
    value, at, stated, really = CASES[case]
    found = moves_by(value, (Decimal(at),), 0, stated)
    assert found == (really if really is None else pytest.approx(really, rel=1e-3))


def test_each_argument_by_itself() -> None:
    def product(x: Decimal, y: Decimal) -> Decimal:
        return x * y

    at = (Decimal(2), Decimal(5))
    assert moves_by(product, at, 0, 5.0) is moves_by(product, at, 1, 2.0) is None
    assert moves_by(product, at, 0, 2.0) == pytest.approx(5)
    assert moves_by(product, at, 1, 5.0) == pytest.approx(2)


@given(st.lists(st.integers(-9, 9), min_size=2, max_size=5), st.integers(1, 500), st.floats(-2, 3))
def test_right_slopes_of_polynomials_stand_and_wrong_ones_do_not(factors: list[int], at: int, off: float) -> None:
    x = Decimal(at) / 10
    slope = float(sum(power * factor * x ** (power - 1) for power, factor in enumerate(factors) if power))
    size = float(sum(abs(factor) * x**power for power, factor in enumerate(factors)))
    assume(abs(slope) > 1e-3 * size / float(x))

    def value(x: Decimal) -> Decimal:
        return sum((factor * x**power for power, factor in enumerate(factors)), Decimal(0))

    assert moves_by(value, (x,), 0, slope) is None
    if not 0.9 < off < 1.1:
        assert moves_by(value, (x,), 0, slope * off) == pytest.approx(slope, rel=0.05)
