"""Every function of the trade: its slopes against differences and another library, its domain, its dimensions."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal, localcontext

import pytest
from uncertainties import ufloat, wrap

from specrules.formula import FUNCTIONS as LANGUAGE
from specrules.formula import Function, Scope, with_functions
from specrules.formula.formula_reading import read_formula
from specrules.quantity import CONTEXT, Exact, read_written
from specrules.trade import FUNCTIONS

TRADE = {function.name: function for function in FUNCTIONS}

AT = {  # a plain case of each, away from where it jumps or ends
    "piston_travel_at": "71.3 deg; 3.48 in; 5.70 in; 0.060 in",
    "piston_speed_at": "71.3 deg; 3.48 in; 5.70 in; 0.060 in; 6200 rpm",
    "piston_acceleration_at": "163.7 deg; 3.48 in; 5.70 in; -0.060 in; 6200 rpm",
    "mean_speed_of_piston": "3.48 in; 6200 rpm",
    "swept_after": "68.5 deg; 4.030 in; 3.48 in; 5.70 in; 0.060 in",
    "bobweight_of": "994.2 g; 253.5 g; 4 g; 2; 0.5",
    "lift_at_valve": "0.320 in; 1.52; 0.020 in",
    "spring_load_at": "1.31 in; 1.80 in; 122 lbf; 348 lbf/in",
    "spring_rate_of": "4.2 mm; 27.4 mm; 4.75; 79.3 GPa",
    "plunger_moves": "0.050 in; 1.6",
    "pivot_turn_for": "0.030 in; 1.6; 0.05 in",
    "crank_degrees_of": "2.25 deg",
    "key_nearest": "110.3 deg; 106 deg; 1.9 deg; 8 deg",
    "centreline_with_key": "110.3 deg; 106 deg; 1.9 deg; 8 deg",
    "metric_stress_area": "10 mm; 1.5 mm",
    "unified_stress_area": "0.4375 in; 0.05 in",
    "bolt_stretch_at": "11000 lbf; 1.6 in; 0.1063 in^2; 30000000 psi",
    "bolt_load_at": "63 lbf ft; 0.18; 0.4375 in",
    "press_pressure": "1.6 in; 0.0009 in; 2.5 in; 0.75 in; 30000000 psi",
    "press_pressure_of_two": "1.6 in; 0.0009 in; 2.5 in; 71 GPa; 0.334; 0.75 in; 207 GPa; 0.292",
    "growth_of": "2.69 in; 11.4 um/m/K; 78 K",
    "sommerfeld_of": "2.0 in; 0.0022 in; 0.8 in; 3000 lbf; 9 mPa s; 6200 rpm",
    "oil_film_at": "2.0 in; 0.0022 in; 0.75 in; 3000 lbf; 9 mPa s; 6200 rpm",
}


@pytest.fixture(autouse=True)
def _fifty_digits() -> Iterator[None]:
    with localcontext(CONTEXT):
        yield


def case(name: str) -> list[Decimal]:
    """The arguments of a case, in base units."""
    found = [read_written(text.strip(), unit=None, dimension=None) for text in AT[name].split(";")]
    assert all(isinstance(each, Exact) for each in found), found
    return [each.value for each in found if isinstance(each, Exact)]


def test_there_is_a_case_for_every_function() -> None:
    assert AT.keys() == TRADE.keys()
    assert with_functions(FUNCTIONS).keys() == TRADE.keys() | LANGUAGE.keys()


@pytest.mark.parametrize("name", sorted(AT))
def test_slopes_agree_with_differences(name: str) -> None:
    function, at = TRADE[name], case(name)
    assert function.arity == len(function.partials) == len(at)
    for number, x in enumerate(at):
        step = abs(x) * Decimal("1e-5") or Decimal("1e-6")
        up, down = ([*at[:number], x + sign * step, *at[number + 1 :]] for sign in (1, -1))
        difference = (function.value(*up) - function.value(*down)) / (2 * step)
        scale = abs(float(function.value(*at) / x)) if x else 0
        assert function.partials[number](*at) == pytest.approx(float(difference), rel=1e-7, abs=1e-8 * scale)


@pytest.mark.parametrize("name", sorted(AT))
def test_uncertainty_agrees_with_another_library(name: str) -> None:
    """The uncertainties library, which knows nothing of these slopes, takes its own over binary numbers."""
    function, at = TRADE[name], case(name)
    us = [abs(float(x)) * 1e-6 for x in at]
    theirs = wrap(lambda *numbers: float(function.value(*map(Decimal, numbers))))(
        *(ufloat(float(x), u) for x, u in zip(at, us, strict=True))
    )
    ours = sum((partial(*at) * u) ** 2 for partial, u in zip(function.partials, us, strict=True)) ** 0.5
    assert ours == pytest.approx(theirs.std_dev, rel=1e-4)
    assert float(function.value(*at)) == pytest.approx(theirs.nominal_value, rel=1e-12)


@pytest.mark.parametrize("name", sorted(name for name, function in TRADE.items() if function.exact))
def test_what_is_called_exact_is_right_to_its_last_digits(name: str) -> None:
    """Twenty digits more change nothing before the 47th; anything that went through binary numbers would differ."""
    function, at = TRADE[name], case(name)
    value = function.value(*at)
    with localcontext(CONTEXT) as longer:
        longer.prec = 70
        reference = function.value(*at)
    assert abs(value - reference) <= abs(reference) * Decimal("1e-46")


@pytest.mark.parametrize("name", sorted(AT))
def test_dimensions_are_checked_when_the_formula_is_read(name: str) -> None:
    function = TRADE[name]
    scope = Scope({}, {}, functions=with_functions(FUNCTIONS))
    bare = ", ".join("7" * function.arity)
    refused = read_formula(f"{name}({bare})", scope)
    assert isinstance(refused, tuple)
    assert refused[0].said.startswith(f"gives {name} number")
    assert isinstance(function.source, str)
    assert function.source


REFUSED = [
    ("piston_travel_at", "the rod is too short", {2: "1.7 in"}),
    ("piston_travel_at", "the stroke is not more than zero", {1: "0 in"}),
    ("swept_after", "the intake closes within half a turn", {0: "181 deg"}),
    ("swept_after", "the bore is not more than zero", {1: "-4 in"}),
    ("bobweight_of", "the share is from 0 to 1", {4: "50"}),
    ("bobweight_of", "there is no rod", {3: "0"}),
    ("bobweight_of", "a weight is less than nothing", {1: "-1 g"}),
    ("lift_at_valve", "the lash takes up the whole lift", {0: "0.001 in"}),
    ("lift_at_valve", "the lash is less than nothing", {2: "-0.001 in"}),
    ("lift_at_valve", "the rocker ratio is not more than zero", {1: "0"}),
    ("spring_load_at", "the spring is loose", {0: "2.5 in"}),
    ("spring_rate_of", "the coil is no wider than its wire", {1: "4.2 mm"}),
    ("plunger_moves", "the rocker ratio is not more than zero", {1: "0"}),
    ("key_nearest", "the step is not more than zero", {2: "0 deg"}),
    ("centreline_with_key", "the furthest key", {3: "-2 deg"}),
    ("metric_stress_area", "the pitch is too coarse", {1: "11 mm"}),
    ("bolt_stretch_at", "the area is not more than zero", {2: "0 in^2"}),
    ("bolt_load_at", "the nut factor is not more than zero", {1: "0"}),
    ("press_pressure", "there is a clearance", {1: "-0.0001 in"}),
    ("press_pressure", "the hub is no wider", {2: "1.6 in"}),
    ("press_pressure", "the shaft has no wall", {3: "1.6 in"}),
    ("press_pressure_of_two", "Poisson's ratio", {4: "0.6"}),
    ("sommerfeld_of", "the load is not more than zero", {3: "0 lbf"}),
    ("oil_film_at", "a quarter of the diameter", {2: "0.4 in"}),
    ("oil_film_at", "loaded more heavily than the table", {3: "60000 lbf"}),
]


@pytest.mark.parametrize(("name", "wanted", "changed"), REFUSED)
def test_outside_its_domain_a_function_says_why(name: str, wanted: str, changed: dict[int, str]) -> None:
    at = case(name)
    for number, text in changed.items():
        found = read_written(text, unit=None, dimension=None)
        assert isinstance(found, Exact)
        at[number] = found.value
    with pytest.raises(ValueError, match=wanted):
        TRADE[name].value(*at)


def at_jump(function: Function, centreline: str) -> Decimal:
    found = [Decimal(text) for text in (centreline, "108", "2", "8")]
    return function.value(*found)


def test_of_two_keys_as_near_the_smaller_move_is_taken_both_ways() -> None:
    assert at_jump(TRADE["key_nearest"], "109") == at_jump(TRADE["key_nearest"], "107") == 0
    assert at_jump(TRADE["key_nearest"], "109.0001") == 2
    assert at_jump(TRADE["key_nearest"], "106.9999") == -2


def test_at_rest_on_top_the_piston_has_a_place_and_slopes() -> None:
    """Where the crank stands straight up there is nothing to divide by and no root of zero."""
    function = TRADE["piston_travel_at"]
    at = [Decimal(0), Decimal(88), Decimal(145), Decimal(0)]
    assert function.value(*at) == pytest.approx(Decimal(0), abs=Decimal("1e-40"))
    assert [partial(*at) for partial in function.partials] == pytest.approx([0, 0, 0, 0], abs=1e-12)
