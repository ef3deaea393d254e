"""The functions: their values where geometry or a table knows them, their slopes, and how others are added."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest

from specrules.evaluate import NotEvaluable
from specrules.formula import FUNCTIONS, PI, REDUCERS, Formula, Function, Scope, takes, with_functions
from specrules.formula.formula_reading import read_formula
from specrules.output.reasons import said
from specrules.quantity import LENGTH, NUMBER
from tests.evaluate.small_environment import SCOPE, bench, evaluate, number, read, worth

KNOWN = [
    ("sin(30 deg)", 0.5),
    ("cos(60 deg)", 0.5),
    ("tan(45 deg)", 1.0),
    ("sin(1 rad)", math.sin(1)),
    ("asin(0.5) / (1 deg)", 30.0),
    ("acos(0.5) / (1 deg)", 60.0),
    ("acos(-1) / (1 deg)", 180.0),
    ("atan(1) / (1 deg)", 45.0),
    ("exp(1)", math.e),
    ("ln(2)", math.log(2)),
    ("abs(-3)", 3.0),
    ("abs(3)", 3.0),
    ("sqrt(2)", math.sqrt(2)),
]


@pytest.mark.parametrize(("text", "wanted"), KNOWN)
def test_values(text: str, wanted: float) -> None:
    assert float(worth(text)) == pytest.approx(wanted, rel=1e-15, abs=1e-15)


@pytest.mark.parametrize("text", ["tan(90 deg)", "tan(-90 deg)", "tan(270 deg)", "tan(acos(0))", "tan(asin(1))"])
def test_a_right_angle_has_no_tangent(text: str) -> None:
    """Binary arithmetic, which has no right angle, gives one of some 1e16."""
    with pytest.raises(NotEvaluable) as raised:
        worth(text)
    assert said(raised.value.reason) == "tan has no value there: no right angle has a tangent"


def test_near_a_right_angle_there_is_a_tangent() -> None:
    """tan(90 deg - x) is 1 / tan(x), and tan(x) is x in radians for so small an x."""
    assert float(worth("tan(89.999 deg)")) == pytest.approx(1 / math.radians(0.001), rel=1e-9)


def test_pi_to_fifty_digits() -> None:
    # ISO 80000-2:2019, item 2-15.1, names the constant; its digits are those of OEIS A000796.
    assert str(PI) == "3.14159265358979323846264338327950288419716939937511"


def test_a_root_is_right_to_the_last_digit() -> None:
    # OEIS A002193
    assert abs(worth("sqrt(2)") - Decimal("1.41421356237309504880168872420969807856967187537694")) < Decimal("1e-48")


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
def test_partials_agree_with_differences(name: str) -> None:
    function = FUNCTIONS[name]
    assert function.arity == len(function.partials)
    at = Decimal("0.37")
    step = Decimal("1e-6")
    difference = (function.value(at + step) - function.value(at - step)) / (2 * step)
    assert function.partials[0](at) == pytest.approx(float(difference), rel=1e-6)


def test_the_slope_of_a_size_without_its_sign() -> None:
    value = evaluate(read("abs(x)"), bench({"x": "-2 mm"}))
    assert value is not None
    assert value.low is not None
    assert value.low.slopes == {0: -1.0}


def test_the_registry_cannot_be_changed() -> None:
    with pytest.raises(TypeError):
        FUNCTIONS["abs"] = FUNCTIONS["sqrt"]  # type: ignore[index]


MEAN_OF_TWO = Function(
    "middle",
    2,
    takes(LENGTH, LENGTH, gives=LENGTH),
    lambda a, b: (a + b) / 2,
    (lambda _a, _b: 0.5, lambda _a, _b: 0.5),
)


def test_a_function_of_another_is_called_with_its_slopes() -> None:
    functions = with_functions([MEAN_OF_TWO])
    formula = read_formula("middle(x, x) + middle(x, 3 mm)", Scope(SCOPE.axes, SCOPE.names, functions=functions))
    assert isinstance(formula, Formula)
    on = bench({"x": "2 mm"})
    on.functions = functions
    assert number(formula, on) == Decimal("4.5")
    value = evaluate(formula, on)
    assert value is not None
    assert value.low is not None
    assert value.low.slopes == {0: 1.5}
    assert FUNCTIONS.keys() < functions.keys()


@pytest.mark.parametrize("name", ["sqrt", "min", "max", *sorted(REDUCERS)])
def test_a_name_that_is_taken_is_not_given_twice(name: str) -> None:
    with pytest.raises(ValueError, match=name):
        with_functions([Function(name, 1, takes(NUMBER, gives=NUMBER), abs, (float,))])


def test_two_functions_of_one_name_are_refused() -> None:
    with pytest.raises(ValueError, match="middle"):
        with_functions([MEAN_OF_TWO, MEAN_OF_TWO])
