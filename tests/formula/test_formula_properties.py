"""What holds of every formula: right slopes, ranges that hold the truth, margins of exactly nothing on a limit."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from uncertainties import ufloat, umath

from specrules.evaluate import NotEvaluable, Value, combined_u
from specrules.quantity import is_zero
from tests.evaluate.small_environment import SmallBench, bench, evaluate, number, read

# --- slopes -----------------------------------------------------------------------------------------------------

RATIO = st.recursive(
    st.sampled_from(["x / (1 mm)", "y / (1 mm)", "z / (1 mm)", "2", "0.7"]),
    lambda inner: st.one_of(
        st.tuples(inner, st.sampled_from("+-*/"), inner).map(lambda t: f"({t[0]}) {t[1]} ({t[2]})"),
        st.tuples(st.sampled_from(["min", "max"]), inner, inner).map(lambda t: f"{t[0]}({t[1]}, {t[2]})"),
        st.tuples(inner, st.sampled_from(["2", "3", "-1", "-2", ".5", "1.5", "-.5"])).map(lambda t: f"({t[0]})^{t[1]}"),
        st.tuples(st.sampled_from(["abs", "sqrt", "exp", "ln"]), inner).map(lambda t: f"{t[0]}({t[1]})"),
        inner.map(lambda t: f"-({t})"),
    ),
    max_leaves=7,
)
SIZE = st.decimals("0.5", "9.5", places=3)


def nominal(of: Any) -> float:
    """The nominal value of a number of the uncertainties library, or of a plain one."""
    return float(getattr(of, "nominal_value", of))


def is_less(a: Any, b: Any) -> bool:
    """Of two sizes; where they meet with other slopes, min, max and abs have no derivative to compare.

    Floats miss by their last digits what decimals find equal.
    """
    slopes_of_a, slopes_of_b = (getattr(size, "derivatives", {}) for size in (a, b))
    if math.isclose(nominal(a), nominal(b), rel_tol=1e-9, abs_tol=1e-12) and slopes_of_a != slopes_of_b:
        raise ArithmeticError("no derivative where two sizes meet")
    return nominal(a) < nominal(b)


OF_UNCERTAIN: dict[str, Callable[..., Any]] = {
    "abs": lambda a: -a if is_less(a, 0) else a,
    "sqrt": umath.sqrt,
    "exp": umath.exp,
    "ln": umath.log,
    "min": lambda a, b: a if is_less(a, b) else b,
    "max": lambda a, b: b if is_less(a, b) else a,
}


def by_uncertainties(text: str, sizes: Mapping[str, Any]) -> Any:
    """The same formula worked by the uncertainties library, whose derivatives are its own."""
    python = text.replace(" / (1 mm)", "").replace("^", "**")
    return eval(python, {"__builtins__": {}}, {**OF_UNCERTAIN, **sizes})  # a text of this test's own


@pytest.mark.parametrize("text", ["min(2, x / (1 mm))", "max(x / (1 mm), 2)", "-(-(min(x / (1 mm), 2)))"])
def test_where_two_sizes_meet_the_less_sure_one_counts_so_that_no_u_is_hidden(text: str) -> None:
    engine = bench()
    engine.measure("x", (), "2.000 mm", 0.003)
    value = evaluate(read(text), engine)
    assert value is not None
    assert value.low is not None
    assert value.low.slopes == {0: 1.0}


@given(RATIO, SIZE, SIZE, SIZE)
def test_slopes_and_u_agree_with_the_uncertainties_library(text: str, x: Decimal, y: Decimal, z: Decimal) -> None:
    assume(len(text) < 480)
    us = {"x": 0.003, "y": 0.001, "z": 0.002}
    engine = bench()
    for name, size in (("x", x), ("y", y), ("z", z)):
        engine.measure(name, (), f"{size} mm", us[name])
    uncertain = {n: ufloat(float(size), us[n]) for n, size in (("x", x), ("y", y), ("z", z))}
    try:
        value = evaluate(read(text), engine)
        wanted = by_uncertainties(text, uncertain)
    except (NotEvaluable, ValueError, ArithmeticError, TypeError):
        assume(False)
        return
    assert value is not None
    assert value.low is not None
    assume(abs(nominal(wanted)) < 1e12)
    assert float(value.low.value) == pytest.approx(nominal(wanted), rel=1e-9, abs=1e-9)
    slopes = {name: value.low.slopes.get(number_, 0.0) for number_, name in enumerate("xyz")}
    derivatives = getattr(wanted, "derivatives", {})
    for name, slope in slopes.items():
        other = derivatives.get(uncertain[name], 0.0) if derivatives else 0.0
        assume(not math.isnan(other))  # of a power of 0 that library gives none
        assert slope == pytest.approx(other, rel=1e-7, abs=1e-9)
    assert combined_u(value.low.slopes, engine.u) == pytest.approx(getattr(wanted, "std_dev", 0.0), rel=1e-7, abs=1e-11)


@given(RATIO, SIZE, SIZE, SIZE, st.sampled_from([0, 1, 2]))
def test_slopes_agree_with_differences(text: str, x: Decimal, y: Decimal, z: Decimal, which: int) -> None:
    assume(len(text) < 480)
    formula, step = read(text), Decimal("1e-12")

    def at(moved: Decimal) -> Value:
        sizes = [x, y, z]
        sizes[which] += moved
        value = evaluate(formula, bench({name: f"{size} mm" for name, size in zip("xyz", sizes, strict=True)}))
        assert value is not None
        return value

    try:
        before, here, after = (at(moved) for moved in (-step, Decimal(0), step))
    except NotEvaluable:
        assume(False)
        return
    assert before.low is not None
    assert here.low is not None
    assert after.low is not None
    assume(before.low.slopes.keys() == here.low.slopes.keys() == after.low.slopes.keys())
    left = float((here.low.value - before.low.value) / step)
    right = float((after.low.value - here.low.value) / step)
    assume(abs(left) < 1e9 and math.isclose(left, right, rel_tol=1e-6, abs_tol=1e-6))  # no corner of min, max or abs
    assert here.low.slopes.get(which, 0.0) == pytest.approx((left + right) / 2, rel=1e-5, abs=1e-6)


# --- ranges -----------------------------------------------------------------------------------------------------

ROW = st.sampled_from(
    [
        "largest(rod_bore)",
        "smallest(rod_bore)",
        "spread(rod_bore)",
        "mean(rod_bore)",
        "largest(rod_bore - crankpin)",
        "smallest(crankpin)",
        "largest(spread(journal, clock))",
        "largest(mean(journal, plane))",
        "spread(largest(journal, main))",
        "journal[2, front, a]",
        "0.1 in",
        "x",
    ]
)
TABLE_FORMULA = st.recursive(
    ROW,
    lambda inner: st.one_of(
        st.tuples(inner, st.sampled_from("+-"), inner).map(lambda t: f"({t[0]} {t[1]} {t[2]})"),
        st.tuples(st.sampled_from(["min", "max"]), inner, inner).map(lambda t: f"{t[0]}({t[1]}, {t[2]})"),
        st.tuples(inner, inner).map(lambda t: f"({t[0]} if breathing == boosted else {t[1]})"),
        st.tuples(inner, inner, st.sampled_from(["2", "3", "0.5", "-1"])).map(
            lambda t: f"({t[0]} * ({t[1]} / (1 mm))^{t[2]})"
        ),
        st.tuples(inner, inner).map(lambda t: f"({t[0]} * {t[1]} / (1 mm))"),
        st.tuples(inner, inner).map(lambda t: f"(1 mm * {t[0]} / ({t[1]}))"),
        inner.map(lambda t: f"(-{t})"),
        inner.map(lambda t: f"(-2 * {t})"),
        inner.map(lambda t: f"abs({t})"),
    ),
    max_leaves=5,
)
PLACES = [
    ("x", ()),
    *[("rod_bore", (c,)) for c in "1234"],
    *[("crankpin", (t,)) for t in "12"],
    *[("journal", (m, p, c)) for m in "12" for p in ("front", "rear") for c in "ab"],
]
MICRONS = st.integers(-40, 60)


@st.composite
def tables(draw: st.DrawFn) -> tuple[SmallBench, SmallBench]:
    """A bench that knows all, and the same with stations taken away and readings that became brackets."""
    full, part = bench(mains=2), bench(mains=2)
    said = draw(st.sampled_from(["boosted", "natural"]))
    full.words["breathing", ()] = said
    if draw(st.booleans()):
        part.words["breathing", ()] = said
    for name, labels in PLACES:
        size = draw(MICRONS)
        full.measure(name, labels, f"{size} um")
        fate = draw(st.sampled_from(["kept", "kept", "missing", "between", "under", "over"]))
        below, above = size - draw(st.integers(0, 5)), size + draw(st.integers(0, 5))
        if fate == "missing":
            continue
        if fate == "between" and below < above:
            part.measure(name, labels, f"{below}..{above} um")
        elif fate in ("under", "over"):
            part.measure(name, labels, f"{fate} {above if fate == 'under' else below} um")
        else:
            part.measure(name, labels, f"{size} um")
    return full, part


@given(tables(), TABLE_FORMULA, st.integers(-100, 100))
def test_a_range_holds_what_the_full_data_give(binding: tuple[SmallBench, SmallBench], text: str, limit: int) -> None:
    assume(len(text) < 480)
    full, part = binding
    formula = read(text)
    try:
        truth, known = evaluate(formula, full), evaluate(formula, part)
    except NotEvaluable:
        return
    assert truth is not None
    assert known is not None
    assert truth.low is not None
    assert truth.exact
    true = truth.low.value
    assert known.low is None or known.low.value <= true or is_zero(known.low.value - true)
    assert known.high is None or true <= known.high.value or is_zero(known.high.value - true)
    at = Decimal(limit) / 1000
    if known.low is not None and known.low.value > at:
        assert true > at or is_zero(true - at)
    if known.high is not None and known.high.value < at:
        assert true < at or is_zero(true - at)


# --- exactness --------------------------------------------------------------------------------------------------

TENTHS = {"in": "0.0001", "thou": "0.1", "mm": "0.00254", "um": "2.54", "cm": "0.000254", "m": "0.00000254"}
"""What a ten-thousandth of an inch is in each unit: 25.4 mm to the inch, exactly (NIST SP 811, appendix B.8)."""


def tenths(count: int, unit: str) -> str:
    """So many ten-thousandths of an inch, written in a unit."""
    return f"{count * Decimal(TENTHS[unit]):f} {unit}"


COUNT = st.integers(1, 99_999)
UNIT = st.sampled_from(list(TENTHS))


@given(COUNT, COUNT, UNIT, UNIT, UNIT)
def test_a_difference_on_its_limit_is_exactly_nothing(a: int, b: int, one: str, other: str, limit: str) -> None:
    engine = bench({"x": tenths(a, one), "y": tenths(b, other)})
    assert number(read(f"x - y - ({tenths(a - b, limit)})"), engine) == 0


@given(st.lists(st.tuples(COUNT, UNIT), min_size=1, max_size=8), COUNT, UNIT, UNIT, st.sampled_from([-1, 0, 1]))
def test_a_mean_on_its_limit_is_nothing(
    sizes: list[tuple[int, str]], limit: int, unit: str, last: str, off: int
) -> None:
    """The last reading is such that the mean is the limit, or a ten-thousandth of an inch short or over in all."""
    count = len(sizes) + 1
    rest = count * limit - sum(size for size, _ in sizes) + off
    engine = bench(throws=[[cylinder] for cylinder in range(1, count + 1)])
    for cylinder, (size, own) in enumerate([*sizes, (rest, last)], 1):
        engine.measure("rod_bore", (str(cylinder),), tenths(size, own))
    margin = number(read(f"mean(rod_bore) - {tenths(limit, unit)}"), engine)
    assert is_zero(margin) is (off == 0)
    assert off == 0 or (margin > 0) is (off > 0)


@pytest.mark.parametrize("count", [3, 6, 7, 9, 11])
@pytest.mark.parametrize("unit", list(TENTHS))
def test_a_mean_of_threes_and_sevens_comes_back(count: int, unit: str) -> None:
    """Thirds and sevenths have no last decimal: what is left of one when it is taken back counts as nothing."""
    engine = bench(throws=[[cylinder] for cylinder in range(1, count + 1)])
    for cylinder in range(1, count + 1):
        engine.measure("rod_bore", (str(cylinder),), tenths(39_370 + cylinder * cylinder, unit))
    assert is_zero(number(read(f"mean(rod_bore) * {count} - sum(rod_bore)"), engine))
    third = "(x / 3 + x / 3 + x / 3) * 7 / 49 * 7 - x"
    assert is_zero(number(read(third), bench({"x": tenths(39_371, unit)})))
    assert not is_zero(number(read(f"{third} + 0.000000000000000001 um"), bench({"x": tenths(39_371, unit)})))


# --- ties -------------------------------------------------------------------------------------------------------


@given(
    st.lists(st.tuples(st.integers(0, 2), st.sampled_from([0.0, 0.1, 0.2])), min_size=2, max_size=6),
    st.sampled_from(["largest", "smallest"]),
)
def test_an_extreme_is_the_least_certain_then_the_first_of_equals(cells: list[tuple[int, float]], how: str) -> None:
    engine = bench(throws=[[cylinder] for cylinder in range(1, len(cells) + 1)])
    for cylinder, (size, u) in enumerate(cells, 1):
        engine.measure("weight", (str(cylinder),), f"{size} g", u)
    end = (max if how == "largest" else min)(size for size, _ in cells)
    u = max(u for size, u in cells if size == end)
    value = evaluate(read(f"{how}(weight)"), engine)
    assert value is not None
    assert value.low is not None
    assert value.low.value == end
    assert value.low.slopes == {cells.index((end, u)): 1.0}
