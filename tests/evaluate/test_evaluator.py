"""Conditions and choices at a station: three-valued, over facts and labels; and what an `if` comes to."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.evaluate import Value, label
from specrules.formula import Kind
from specrules.quantity import LENGTH, Refusal
from specrules.vocabulary import Code
from tests.evaluate.small_environment import SmallBench, answer, base, bench, evaluate, number, read, refused


@pytest.fixture
def engine() -> SmallBench:
    """Breathing is not stated."""
    return bench(
        {"x": "2 mm", "y": "5 mm"},
        {
            "use": "towing",
            "coated": "yes",
            "stroke": "4 in",
            "ratio": "0",
            "mains": "5",
            "alloy 1": "cast",
            "alloy 3": "forged",
        },
    )


CONDITIONS = [
    ("use == towing", True),
    ("use == street", False),
    ("use != street", True),
    ("towing == use", True),
    ("use == use", True),
    ("breathing == boosted", None),
    ("breathing != boosted", None),
    ("not use == towing", False),
    ("not breathing == boosted", None),
    ("coated", True),
    ("not coated", False),
    ("coated == yes", True),
    ("coated == no", False),
    ("stroke == 101.6 mm", True),
    ("stroke > 101.6 mm", False),
    ("stroke >= 101.6 mm", True),
    ("stroke < 4.0001 in", True),
    ("stroke <= 3.9999 in", False),
    ("stroke != 4 in", False),
    ("stroke / 3 * 3 == 4 in", True),
    ("stroke / 3 * 3 < 4 in", False),
    ("mains == 5", True),
    ("ratio == 0", True),
    ("1 / ratio > 2", None),
    ("1 / ratio > 2 or coated", True),
    ("((99999999999999999999 * mains)^9)^9 > 0", None),
    ("chamber[1] > 1 cc", None),
    ("alloy[1] == cast", True),
    ("alloy[3] == cast", False),
    ("alloy[2] == cast", None),
    ("breathing == boosted and use == street", False),
    ("use == street and breathing == boosted", False),
    ("breathing == boosted and use == towing", None),
    ("use == towing and breathing == boosted", None),
    ("breathing == boosted or use == towing", True),
    ("use == towing or breathing == boosted", True),
    ("breathing == boosted or use == street", None),
    ("use == street or breathing == boosted", None),
    ("use == towing and coated", True),
    ("use == street or not coated", False),
    ("(coated if use == towing else use == street)", True),
    ("(coated if use == street else use == street)", False),
    ("(coated if breathing == boosted else use == towing)", True),
    ("(coated if breathing == boosted else use == street)", None),
    ("(use if coated else breathing) == towing", True),
    ("(towing if coated else street) == use", True),
    ("(1 if breathing == boosted else 3) > 2", None),
    ("(3 if breathing == boosted else 1) > 2", None),
    ("(3 if breathing == boosted else 4) > 2", True),
    ("(3 if breathing == boosted else 4) > 5", False),
    ("(breathing if use == street else use) == towing", True),
]


@pytest.mark.parametrize(("text", "wanted"), CONDITIONS)
def test_conditions(engine: SmallBench, text: str, wanted: bool | None) -> None:
    assert answer(text, engine) is wanted


@pytest.mark.parametrize(
    ("text", "station", "wanted"),
    [
        ("cylinder == 3", {"cylinder": "3"}, True),
        ("cylinder == 3", {"cylinder": "1"}, False),
        ("cylinder != 3", {"cylinder": "1"}, True),
        ("throw == 1", {"cylinder": "3"}, True),
        ("throw == 2", {"cylinder": "3"}, False),
        ("bank == all", {"cylinder": "3"}, True),
        ("alloy == forged", {"cylinder": "3"}, True),
        ("alloy == forged", {"cylinder": "2"}, None),
        ("alloy[1] == cast", {"cylinder": "2"}, True),
    ],
)
def test_labels_of_the_station(engine: SmallBench, text: str, station: dict[str, str], wanted: bool | None) -> None:
    assert answer(text, engine, ("cylinder",), **station) is wanted


def test_labels_on_two_axes(engine: SmallBench) -> None:
    text = "ring == top and cylinder == 2"
    assert answer(text, engine, ("cylinder", "ring"), cylinder="2", ring="top") is True
    assert answer(text, engine, ("cylinder", "ring"), cylinder="2", ring="oil") is False


CHOSEN = [
    ("x if coated else y", 2, 2, True),
    ("x if not coated else y", 5, 5, True),
    ("x if breathing == boosted else y", 2, 5, False),
    ("y if breathing == boosted else x", 2, 5, False),
    ("y if breathing == boosted else 7 mm if coated else x", 5, 7, False),
    ("x if breathing == boosted else z", None, None, False),
    ("x if 1 / ratio > 2 else y", 2, 5, False),
    ("z if use == street else x", 2, 2, True),
]


@pytest.mark.parametrize(("text", "low", "high", "whole"), CHOSEN)
def test_an_if(engine: SmallBench, text: str, low: float | None, high: float | None, whole: bool) -> None:
    value = evaluate(read(text), engine)
    assert value is not None
    assert [None if end is None else float(end.value) for end in value[:2]] == [low, high]
    assert value.whole is whole


def test_the_side_that_does_not_hold_is_not_worked_out(engine: SmallBench) -> None:
    assert number(read("1 / ratio if use == street else mains"), engine) == 5


def test_an_if_between_two_rows_chooses_a_row() -> None:
    cells = {"housing": {"1 front": "2 in", "1 rear": "2.001 in"}}
    text = "spread(housing if breathing == boosted else 2 * housing)"
    one = bench(cells, {"breathing": "boosted"}, mains=1)
    assert number(read(text), one) == base("0.001 in")
    other = bench(cells, {"breathing": "natural"}, mains=1)
    assert number(read(text), other) == base("0.002 in")
    unstated = evaluate(read(text), bench(cells, mains=1))
    assert unstated is not None
    assert not unstated.whole


def test_an_if_over_a_position_left_out_is_unknown() -> None:
    engine = bench({"x": "", "y": "1 mm"})
    assert evaluate(read("x"), engine) is None
    assert evaluate(read("x + y"), engine) is None
    assert evaluate(read("x if breathing == boosted else y"), engine) == Value(None, None, False)


def test_a_choice_between_choices_not_stated_is_settled_where_both_say_the_same(engine: SmallBench) -> None:
    levels = ("critical", "minor")
    unsure = read("critical if breathing == boosted else minor", kind=Kind.CHOICE, choices=levels)
    assert label(unsure, engine, {}) is None
    text = "critical if breathing == boosted else (critical if coated else minor)"
    same = read(text, kind=Kind.CHOICE, choices=levels)
    assert label(same, engine, {}) == "critical"


def test_limits_so_far_are_quantities() -> None:
    limit = read("max(least, 0.0008 in)", dimension=LENGTH)
    engine = bench()
    engine.measure("least", (), "0.0010 in")
    assert number(limit, engine) == base("0.0010 in")


def test_a_bare_word_is_no_condition() -> None:
    assert refused("boosted", kind=Kind.CONDITION) == (
        Refusal(Code.UNKNOWN_NAME, "has 'boosted', which is no measurand, fact or figure", "", 0),
    )


def test_a_formula_without_readings_has_no_slopes() -> None:
    value = evaluate(read("2 * pi * stroke"), bench(facts={"stroke": "1 mm"}))
    assert value is not None
    assert value.low is not None
    assert value.low.slopes == {}
    assert abs(value.low.value - Decimal("6.28318530717958647692528676655900576839433879875021")) < Decimal("1e-48")
