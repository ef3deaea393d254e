"""A formula with its numbers in it: the words, the signs, the brackets that are needed and no others."""

from __future__ import annotations

from decimal import localcontext

import pytest

from specrules.evaluate import Value
from specrules.evaluate.explanation import combines, explain
from specrules.formula import Kind
from specrules.quantity import CONTEXT, Unit, find_unit, show
from tests.evaluate.small_environment import SCOPE, SmallBench, bench, read

INCH = find_unit("in")


def shown(value: Value) -> str:
    assert isinstance(INCH, Unit)
    end = value.low or value.high
    return "not measured" if end is None else show(end.value, INCH, 4)


def worked(text: str, on: SmallBench, each: tuple[str, ...] = (), **station: str) -> str:
    with localcontext(CONTEXT):
        return explain(read(text, each), SCOPE, on, station, shown, lambda name: name.replace("_", " "))


@pytest.fixture
def engine() -> SmallBench:
    return bench(
        {
            "x": "2 in",
            "y": "1 in",
            "rod_bore": {"1": "2.225 in", "2": "2.226 in", "3": "2.227 in"},
            "journal": {"1 front a": "2.5 in", "1 front b": "2.501 in", "1 rear a": "2.5 in", "1 rear b": ""},
        },
        {"ratio": "3", "stroke": "4 in", "coated": "yes", "chamber 1": "64 cc", "slant": "30 deg", "room": "20 C"},
    )


TEXTS = [
    ("x", "x 2.0000"),
    ("x - y", "x 2.0000 - y 1.0000"),
    ("x-0.5 in", "x 2.0000 - 0.5000"),
    ("2*x", "2 * x 2.0000"),
    ("0.00070*x", "0.00070 * x 2.0000"),
    ("x + (y - x)", "x 2.0000 + y 1.0000 - x 2.0000"),
    ("x - (y - x)", "x 2.0000 - (y 1.0000 - x 2.0000)"),
    ("x - (y + x)", "x 2.0000 - (y 1.0000 + x 2.0000)"),
    ("(x - y) - x", "x 2.0000 - y 1.0000 - x 2.0000"),
    ("x - 2 * y", "x 2.0000 - 2 * y 1.0000"),
    ("(x + y) * 2", "(x 2.0000 + y 1.0000) * 2"),
    ("2 * (x + y)", "2 * (x 2.0000 + y 1.0000)"),
    ("x * (y / x)", "x 2.0000 * y 1.0000 / x 2.0000"),
    ("x / (y / x) / x * y", "x 2.0000 / (y 1.0000 / x 2.0000) / x 2.0000 * y 1.0000"),
    ("x * x / (y * 2)", "x 2.0000 * x 2.0000 / (y 1.0000 * 2)"),
    ("-x + y", "-x 2.0000 + y 1.0000"),
    ("-(x + y)", "-(x 2.0000 + y 1.0000)"),
    ("-(2 * x)", "-2 * x 2.0000"),
    ("x^2 / y", "(x 2.0000)^2 / y 1.0000"),
    ("(x - y)^2 / x", "(x 2.0000 - y 1.0000)^2 / x 2.0000"),
    ("x * 3^2", "x 2.0000 * 3^2"),
    ("x * (-3)^2", "x 2.0000 * (-3)^2"),
    ("x * sqrt(4)", "x 2.0000 * sqrt(4)"),
    ("max(x, 0.5 * y, 1 in)", "max(x 2.0000, 0.5 * y 1.0000, 1.0000)"),
    ("x if coated else y", "x 2.0000"),
    ("2 * (x if not coated else x + y)", "2 * (x 2.0000 + y 1.0000)"),
    ("x if breathing == boosted else y", "x 2.0000"),
    ("pi * x", "pi * x 2.0000"),
    ("ratio * x", "ratio 3 * x 2.0000"),
    ("chamber[1] / stroke^2", "chamber 1 64 cc / (stroke 4.0000)^2"),
    ("x * sin(slant)", "x 2.0000 * sin(slant 30 deg)"),
    ("x * 11.5 [um/m/K] * (room - 20 C)", "x 2.0000 * 1.15e-05 1/K * (room 20 C - 20 C)"),
    ("x / z * y", "x 2.0000 / z not measured * y 1.0000"),
    ("rod_bore[2] - y", "rod bore 2 2.2260 - y 1.0000"),
    ("largest(rod_bore[2]) - y", "largest rod bore 2 2.2260 - y 1.0000"),
    ("smallest(journal[1, front]) - y", "smallest journal 1 front 2.5000 - y 1.0000"),
    ("largest(spread(journal[1], plane)) + y", "largest spread journal 1 0.0000 + y 1.0000"),
    ("largest(journal[1] - x) + y", "largest of all 0.5010 + y 1.0000"),
    ("journal[1, rear, b] + y", "journal 1 rear b not measured + y 1.0000"),
    ("1 in * (1 / (x / y - 2))", "1.0000 * 1 / (x 2.0000 / y 1.0000 - 2)"),
]


@pytest.mark.parametrize(("text", "wanted"), TEXTS)
def test_explained(engine: SmallBench, text: str, wanted: str) -> None:
    assert worked(text, engine) == wanted


def test_what_a_station_sees(engine: SmallBench) -> None:
    text = worked("rod_bore - rod_bore[1]", engine, ("cylinder",), cylinder="3")
    assert text == "rod bore 2.2270 - rod bore 1 2.2250"


def test_a_part_that_cannot_be_worked_out_is_a_question(engine: SmallBench) -> None:
    assert worked("largest(x / (y - y)) * x", engine) == "largest of all ? * x 2.0000"


@pytest.mark.parametrize(
    ("written", "wanted"),
    [("1..2 mm", "1 to 2 mm"), ("over 1 mm", "at least 1 mm"), ("under 2 mm", "at most 2 mm")],
)
def test_a_range_of_another_dimension_says_which_side_it_gives(written: str, wanted: str) -> None:
    open_side = bench({"x": written, "y": "1 mm"})
    with localcontext(CONTEXT):
        text = explain(read("x / y"), SCOPE, open_side, {}, str, str)
    assert text == f"x {wanted} / y 1 mm"


def test_nothing_of_whatever_is_shown_as_the_formula_is(engine: SmallBench) -> None:
    """Nothing times a length has no dimension of its own."""
    assert worked("x + largest(0 * rod_bore)", engine) == "x 2.0000 + largest of all 0.0000"


def test_a_condition_is_shown_as_it_is_written(engine: SmallBench) -> None:
    condition = read("coated and stroke > 3 in", kind=Kind.CONDITION)
    assert explain(condition, SCOPE, engine, {}, shown, str) == condition.text


def test_another_way_to_show_the_other_dimensions(engine: SmallBench) -> None:
    with localcontext(CONTEXT):
        text = explain(read("x / y * ratio"), SCOPE, engine, {}, lambda _: "so", str, lambda _, d: d.words())
    assert text == "x length / y length * ratio so"


@pytest.mark.parametrize(
    ("text", "more"),
    [
        ("x", False),
        ("-x", False),
        ("x^2", False),
        ("sqrt(ratio)", False),
        ("x if coated == yes else x - y", False),  # it is coated
        ("x if coated == no else x - y", True),
        ("x + y", True),
        ("2 * x", True),
        ("-(x - y)", True),
        ("(x / y)^2", True),
        ("sqrt(ratio + 1)", True),
        ("smallest(rod_bore)", True),
        ("abs(largest(rod_bore))", True),
    ],
)
def test_a_formula_combines_where_it_is_more_than_one_reading(text: str, more: bool, engine: SmallBench) -> None:
    assert combines(read(text), SCOPE, engine, {}) is more
