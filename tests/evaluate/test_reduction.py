"""What a row of readings comes to, whole and in part: missing stations, missing positions, bare figures, brackets."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.evaluate import UNKNOWN, ZERO, StatedErrors, Value, exactly
from specrules.evaluate import evaluate as evaluate_formula
from specrules.evaluate.reduction import reduce
from specrules.vocabulary import Code
from tests.evaluate.small_environment import SmallBench, base, bench, evaluate, number, read, refused


def weights(*written: str | None, u: float = 0.0) -> SmallBench:
    """The weights of cylinders 1 to 4; None where a station has no reading."""
    cells = {str(i): text for i, text in enumerate(written, 1) if text is not None}
    return bench({"weight": cells}, u=u)


WHOLE = [
    ("largest(weight)", "503 g"),
    ("smallest(weight)", "500 g"),
    ("spread(weight)", "3 g"),
    ("step(weight)", "3 g"),
    ("mean(weight)", "501.5 g"),
    ("sum(weight)", "2006 g"),
    ("count(weight)", "4"),
]


@pytest.mark.parametrize(("text", "wanted"), WHOLE)
def test_a_whole_row(text: str, wanted: str) -> None:
    assert number(read(text), weights("500 g", "503 g", "501 g", "502 g")) == base(wanted)


PARTS = [
    # text, what the four weights are (None: not measured), low, high, whole
    ("largest(weight)", ["500 g", "503 g", None, None], 503, None, False),
    ("smallest(weight)", ["500 g", "503 g", None, None], None, 500, False),
    ("spread(weight)", ["500 g", "503 g", None, None], 3, None, False),
    ("spread(weight)", ["500 g", None, None, None], 0, None, False),
    ("spread(weight)", [None, None, None, None], 0, None, False),
    ("mean(weight)", ["500 g", "503 g", None, None], None, None, False),
    ("step(weight)", ["500 g", "503 g", None, None], 3, None, False),
    ("step(weight)", ["500 g", None, "503 g", "501 g"], 2, None, False),
    ("step(weight)", ["500 g", None, "503 g", None], 0, None, False),
    ("step(weight)", [None, None, None, None], 0, None, False),
    ("step(weight)", ["500 g", "502 g", "504 g", "506 g"], 2, 2, True),  # and a spread of 6
    ("step(weight)", ["500 g", "500 g", "500 g", "500 g"], 0, 0, True),
    ("step(weight)", ["500 g", "499..501 g", "500 g", "500 g"], 0, 1, True),
    ("step(weight)", ["500 g", "503..505 g", "504 g", "504 g"], 3, 5, True),
    ("step(weight)", ["500 g", "over 503 g", "504 g", "504 g"], 3, None, True),
    ("step(weight)", ["500 g", "503 g", "", ""], 3, None, False),
    ("sum(weight)", ["500 g", "503 g", None, None], None, None, False),
    ("count(weight)", ["500 g", "503 g", None, None], None, None, False),
    ("largest(weight)", [None, None, None, None], None, None, False),
    # a bracket is a whole reading that is a range
    ("largest(weight)", ["500 g", "503 g", "501..504 g", "502 g"], 503, 504, True),
    ("largest(weight)", ["500 g", "503 g", "under 501 g", "502 g"], 503, 503, True),
    ("smallest(weight)", ["500 g", "503 g", "under 501 g", "502 g"], None, 500, True),
    ("spread(weight)", ["500 g", "503 g", "498..501 g", "502 g"], 3, 5, True),
    ("spread(weight)", ["500 g", "500 g", "499..501 g", "500 g"], 0, 2, True),
    ("spread(weight)", ["500 g", "503 g", "over 501 g", "502 g"], 3, None, True),
    ("spread(weight)", ["500 g", "503 g", "under 501 g", "502 g"], 3, None, True),
    ("spread(weight)", ["500 g", "503 g", "under 501 g", None], 3, None, False),
    ("mean(weight)", ["500 g", "503 g", "501..505 g", "502 g"], 501.5, 502.5, True),
    ("sum(weight)", ["500 g", "503 g", "under 501 g", "502 g"], None, 2006, True),
    ("count(weight)", ["500 g", "503 g", "under 501 g", "502 g"], 4, 4, True),
    # a position left out at a station that has others is thin evidence, and not a hole
    ("largest(weight)", ["500 g", "503 g", "", ""], 503, 503, True),
    ("smallest(weight)", ["500 g", "503 g", "", ""], 500, 500, True),
    ("mean(weight)", ["500 g", "503 g", "", ""], 501.5, 501.5, True),
    ("mean(weight)", ["500 g", "", "", ""], 500, 500, True),
    ("spread(weight)", ["500 g", "503 g", "", ""], 3, None, False),
    ("spread(weight)", ["500 g", "", "", ""], 0, None, False),
    ("sum(weight)", ["500 g", "503 g", "", ""], None, None, False),
    ("count(weight)", ["500 g", "503 g", "", ""], None, None, False),
]


@pytest.mark.parametrize(("text", "written", "low", "high", "whole"), PARTS)
def test_a_row_in_part(
    text: str, written: list[str | None], low: float | None, high: float | None, whole: bool
) -> None:
    value = evaluate(read(text), weights(*written))
    assert value is not None
    assert [None if end is None else float(end.value) for end in value[:2]] == [low, high]
    assert value.whole is whole


@pytest.mark.parametrize("how", ["largest", "smallest", "mean", "spread", "step", "sum", "count"])
def test_a_row_of_nothing_but_left_out_positions_is_left_out(how: str) -> None:
    assert evaluate(read(f"{how}(weight)"), weights("", "", "", "")) is None
    assert evaluate(read(f"{how}(weight) * 2"), weights("", "", "", "")) is None


@pytest.mark.parametrize("how", ["largest", "smallest", "mean", "spread", "step", "sum", "count"])
def test_a_row_of_an_axis_without_labels_is_unknown(how: str) -> None:
    assert reduce(how, [], StatedErrors()) == UNKNOWN
    empty = bench(mains=0)
    assert evaluate(read(f"{how}(size)"), empty) == UNKNOWN


def test_an_inner_row_without_labels_leaves_the_outer_one_unknown() -> None:
    engine = bench({"journal": {"1 front a": "2.5 in"}})
    engine.axes["clock"] = ()
    value = evaluate(read("largest(spread(journal, clock) - 1 in)"), engine)
    assert value == UNKNOWN


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("spread(weight)", 1, None),
        ("sum(weight)", None, None),
        ("count(weight)", None, None),
        ("largest(weight)", 501, 501),
        ("smallest(weight)", 500, 500),
        ("mean(weight)", 500.25, 500.25),
    ],
)
def test_one_statement_for_several_places_tells_nothing_of_their_scatter(
    text: str, low: float | None, high: float | None
) -> None:
    told = bench()
    for cylinder in "123":
        told.measure("weight", (cylinder,), "500 g", shared=[9])
    told.measure("weight", ("4",), "501 g", shared=[10])
    value = evaluate(read(text), told)
    assert value is not None
    assert [None if end is None else float(end.value) for end in value[:2]] == [low, high]


def test_statements_made_apart_are_told_apart() -> None:
    told = bench()
    for cylinder in "1234":
        told.measure("weight", (cylinder,), f"50{cylinder} g", shared=[int(cylinder)])
    assert number(read("spread(weight)"), told) == 3


def test_a_figure_of_several_statements_meets_another_that_shares_one() -> None:
    told = bench()
    for cylinder, shared in (("1", [1, 2]), ("2", [2, 3]), ("3", [4]), ("4", [5])):
        told.measure("weight", (cylinder,), f"50{cylinder} g", shared=shared)
    value = evaluate(read("sum(weight)"), told)
    assert value is not None
    assert value.low is None


@pytest.mark.parametrize("how", ["largest", "smallest"])
def test_ties_go_to_the_less_certain_then_to_the_first(how: str) -> None:
    tied = bench()
    for cylinder, u in (("1", 0.1), ("2", 0.3), ("3", 0.3), ("4", 0.2)):
        tied.measure("weight", (cylinder,), "500 g", u)
    value = evaluate(read(f"{how}(weight)"), tied)
    assert value is not None
    assert value.low is not None
    assert value.low.slopes == {1: 1.0}


def test_a_spread_moves_with_its_two_ends_alone() -> None:
    value = evaluate(read("spread(weight)"), weights("500 g", "503 g", "501 g", "502 g"))
    assert value is not None
    assert value.low is not None
    assert value.low.slopes == {0: -1.0, 1: 1.0}


def test_the_spread_of_equal_readings_moves_with_two_of_them() -> None:
    """No reading is subtracted from itself: nothing is no surer than any other difference."""
    tied = bench()
    for cylinder, u in (("1", 0.1), ("2", 0.3), ("3", 0.3), ("4", 0.2)):
        tied.measure("weight", (cylinder,), "500 g", u)
    value = evaluate(read("spread(weight)"), tied)
    assert value is not None
    assert value.low is not None
    assert value.low.value == 0
    assert value.low.slopes == {1: 1.0, 2: -1.0}


def test_a_mean_moves_with_all() -> None:
    value = evaluate(read("mean(weight)"), weights("500 g", "503 g", "501 g", "502 g"))
    assert value is not None
    assert value.low is not None
    assert value.low.slopes == dict.fromkeys(range(4), 0.25)


def test_exchanged_shows_the_other_end() -> None:
    engine = weights("500 g", "503 g", "501 g", "502 g")
    engine.exchanged = True
    assert number(read("largest(weight)"), engine) == 500
    assert number(read("largest(weight) - mean(weight)"), engine) == Decimal("-1.5")
    assert number(read("spread(weight)"), engine) == 3
    assert number(read("smallest(largest(weight, cylinder))"), engine) == 500
    planes = {"1 front a": "2.500 in", "1 front b": "2.501 in", "1 rear a": "2.510 in", "1 rear b": "2.511 in"}
    journals = bench({"journal": planes}, mains=1)
    journals.exchanged = True
    assert number(read("largest(smallest(journal, clock))", ("main",)), journals, main="1") == base("2.501 in")


def test_a_whole_row_that_may_be_all_one_has_a_spread_from_nothing() -> None:
    spread = reduce("spread", [exactly(Decimal(1)), Value(None, exactly(Decimal(2)).high)], StatedErrors())
    assert spread is not None
    assert spread.low == ZERO
    assert spread.whole


def test_the_neighbours_of_a_group_are_those_that_it_lists_side_by_side() -> None:
    """Of cylinders 1 and 3 and of 2 and 4 no two are numbered one after the other."""
    engine = bench({"weight": {"1": "500 g", "2": "600 g", "3": "503 g", "4": "601 g"}})
    engine.axes["bank"], engine.groups["bank"] = ("a", "b"), {"1": "a", "3": "a", "2": "b", "4": "b"}
    formula = read("step(weight)", each=("bank",))
    steps = [evaluate_formula(formula, engine, {"bank": bank}) for bank in "ab"]
    assert [step.low.value for step in steps if step is not None and step.low is not None] == [3, 1]


def test_a_step_moves_with_the_two_beside_one_another() -> None:
    value = evaluate(read("step(weight)"), weights("500 g", "501 g", "504 g", "503 g"))
    assert value is not None
    assert value.low is not None
    assert value.low.slopes == {1: -1.0, 2: 1.0}


def test_two_that_one_statement_is_behind_may_be_any_step_apart() -> None:
    told = bench({})
    for label in "1234":
        told.measure("weight", (label,), "500 g", shared=(7,))
    value = evaluate(read("step(weight)"), told)
    assert value == Value(ZERO, None, whole=False)


def test_a_step_needs_one_axis() -> None:
    assert "neighbours" in refused("step(journal)", each=("main",))[0].said
    assert [each.code for each in refused("step(runout)")] == [Code.WRONG_AXIS]
