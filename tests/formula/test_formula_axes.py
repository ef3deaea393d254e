"""Where names lie and how operands meet: bound axes, free axes, groups seen from both sides, picked labels."""

from __future__ import annotations

import pytest

from specrules.evaluate import Value
from specrules.formula.lowering import join
from specrules.quantity import Refusal
from specrules.vocabulary import Code
from tests.evaluate.small_environment import SCOPE, SmallBench, base, bench, evaluate, number, read, refused

PINS = {"crankpin": {"1": "2.100 in", "2": "2.099 in"}}
RODS = {"rod_bore": {"1": "2.225 in", "2": "2.226 in", "3": "2.227 in", "4": "2.228 in"}}
SHAFT = {
    "housing": {f"{main} {plane}": "2.503 in" for main in "123" for plane in ("front", "rear")},
    "journal": {
        f"{main} {plane} {clock}": f"2.50{main}{int(clock == 'b')} in"
        for main in "123"
        for plane in ("front", "rear")
        for clock in "ab"
    },
}


@pytest.fixture
def engine() -> SmallBench:
    return bench({**PINS, **RODS, **SHAFT, "runout": "0.001 in"})


def test_a_rule_for_each_station_sees_its_own_cells(engine: SmallBench) -> None:
    clearance = read("smallest(housing) - largest(journal)", ("main",))
    assert number(clearance, engine, main="1") == base("2.503 in") - base("2.5011 in")
    assert number(clearance, engine, main="3") == base("2.503 in") - base("2.5031 in")


def test_join() -> None:
    assert join((), ("main",), SCOPE) == ("main",)
    assert join(("main",), (), SCOPE) == ("main",)
    assert join(("main", "plane"), ("plane", "clock"), SCOPE) == ("main", "plane", "clock")
    assert join(("throw",), ("cylinder",), SCOPE) == ("cylinder",)
    assert join(("cylinder", "depth"), ("throw",), SCOPE) == ("cylinder", "depth")
    assert join(("throw",), ("bank",), SCOPE) == ("throw", "bank")


def test_keys_go_through_the_last_axis_fastest(engine: SmallBench) -> None:
    layout = engine.layout
    assert layout.keys(("plane", "clock"), {}) == (("front", "a"), ("front", "b"), ("rear", "a"), ("rear", "b"))
    assert layout.keys((), {}) == ((),)
    assert layout.keys(("cylinder",), {"throw": "2"}) == (("2",), ("4",))


def test_a_projection_finds_each_operand_s_key(engine: SmallBench) -> None:
    layout, wide = engine.layout, ("cylinder", "depth")
    keys = layout.keys(wide, {})
    assert keys[6:8] == (("3", "top"), ("3", "middle"))
    assert layout.projection(wide, ("depth",), {})[6:8] == [0, 1]
    assert layout.projection(wide, ("depth", "cylinder"), {})[6:8] == [2, 6]
    assert layout.projection(wide, ("throw",), {})[6:8] == [0, 0]
    assert layout.projection(wide, ("throw",), {})[3:5] == [1, 1]


def test_a_member_sees_its_group(engine: SmallBench) -> None:
    clearance = read("rod_bore - crankpin", ("cylinder",))
    assert [number(clearance, engine, cylinder=c) for c in "1234"] == [
        base("0.125 in"),
        base("0.127 in"),
        base("0.127 in"),
        base("0.129 in"),
    ]


def test_a_group_reduces_its_members(engine: SmallBench) -> None:
    tightest = read("smallest(rod_bore) - crankpin", ("throw",))
    assert [number(tightest, engine, throw=t) for t in "12"] == [base("0.125 in"), base("0.127 in")]
    pairwise = read("largest(rod_bore - crankpin)", ("throw",))
    assert [number(pairwise, engine, throw=t) for t in "12"] == [base("0.127 in"), base("0.129 in")]
    assert number(read("count(rod_bore)", ("throw",)), engine, throw="2") == 2


def test_members_and_groups_both_unbound_meet_member_by_member(engine: SmallBench) -> None:
    assert number(read("smallest(rod_bore - crankpin)"), engine) == base("0.125 in")
    assert number(read("largest(crankpin - rod_bore)"), engine) == base("-0.125 in")
    assert number(read("spread(rod_bore - crankpin, cylinder)"), engine) == base("0.004 in")


def test_a_member_of_no_group_is_unknown() -> None:
    engine = bench(PINS | RODS)
    del engine.groups["throw"]["4"]
    value = evaluate(read("largest(rod_bore - crankpin)"), engine)
    assert value is not None
    assert not value.whole
    assert value.high is None
    assert value.low is not None
    assert value.low.value == base("0.127 in")
    assert evaluate(read("rod_bore - crankpin", ("cylinder",)), engine, cylinder="4") == Value(None, None, False)


def test_a_picked_label_wins_over_each(engine: SmallBench) -> None:
    beside = read("rod_bore - rod_bore[2]", ("cylinder",))
    assert number(beside, engine, cylinder="4") == base("0.002 in")
    assert number(read("crankpin[2]", ("cylinder",)), engine, cylinder="1") == base("2.099 in")
    assert number(read("journal[3, rear, b]"), engine) == base("2.5031 in")
    assert number(read("journal[clock: b, main: 3, plane: rear]"), engine) == base("2.5031 in")
    assert number(read("largest(journal[clock: a])", ("main",)), engine, main="2") == base("2.502 in")
    assert number(read("spread(journal[2])", ("main",)), engine, main="1") == base("0.0001 in")


def test_a_reducer_takes_one_axis_or_all_that_are_left(engine: SmallBench) -> None:
    assert number(read("largest(spread(journal, main))"), engine) == base("0.002 in")
    assert number(read("largest(spread(journal, clock), plane)", ("main",)), engine, main="2") == base("0.0001 in")
    assert number(read("spread(journal)"), engine) == base("0.0021 in")
    along_the_shaft = read("spread(journal - housing[1, front], main)", ("plane", "clock"))
    assert number(along_the_shaft, engine, plane="rear", clock="a") == base("0.002 in")
    assert number(read("largest(runout)"), engine) == base("0.001 in")
    assert number(read("largest(journal + runout) - runout"), engine) == base("2.5031 in")


def test_operands_on_different_axes_spread_over_both(engine: SmallBench) -> None:
    assert number(read("count(housing - crankpin)"), engine) == 3 * 2 * 2
    assert number(read("count(rod_bore * crankpin * housing)"), engine) == 4 * 3 * 2


AXIS_FAULTS = [
    ("journal", "lies along main, plane, clock, and one value is needed", 0),
    ("largest(journal, plane)", "lies along main, clock, and one value is needed", 0),
    ("housing - largest(journal)", "lies along main, plane, and one value is needed", 8),
    ("journal[1, front]", "lies along clock, and one value is needed", 0),
]


@pytest.mark.parametrize(("text", "said", "at"), AXIS_FAULTS)
def test_axes_left_over(text: str, said: str, at: int) -> None:
    write = "smallest(...) or largest(...) around it, or a label in brackets"
    assert refused(text) == (Refusal(Code.NOT_ONE_VALUE, said, write, at),)


@pytest.mark.parametrize(
    ("text", "code", "said", "write", "at"),
    [
        (
            "largest(journal, plan)",
            Code.WRONG_AXIS,
            "reduces along plan, and what it reduces lies along main, plane, clock",
            "plane",
            0,
        ),
        (
            "largest(rod_bore, throw)",
            Code.WRONG_AXIS,
            "reduces along throw, and what it reduces lies along cylinder",
            "cylinder",
            0,
        ),
        (
            "largest(journal, q)",
            Code.WRONG_AXIS,
            "reduces along q, and what it reduces lies along main, plane, clock",
            "main or plane or clock",
            0,
        ),
        (
            "x + largest(runout, plane)",
            Code.WRONG_AXIS,
            "reduces along plane, and what it reduces is one value here",
            "",
            4,
        ),
        ("spread(runout)", Code.WRONG_AXIS, "takes the spread of one value", "", 0),
        ("2 * count(stroke)", Code.WRONG_AXIS, "takes the count of one value", "", 4),
        (
            "largest(housing if coated else runout)",
            Code.WRONG_AXIS,
            "has two sides of an 'if' that lie along different axes",
            "a reducer on each side",
            16,
        ),
        (
            "1 if chamber > 1 cc else 2",
            Code.NOT_ONE_VALUE,
            "compares what differs along cylinder",
            "a label in brackets",
            13,
        ),
        ("1 if alloy == cast else 2", Code.NOT_ONE_VALUE, "has alloy, which differs along cylinder", "alloy[label]", 5),
    ],
)
def test_axes_that_cannot_be(text: str, code: Code, said: str, write: str, at: int) -> None:
    assert refused(text) == (Refusal(code, said, write, at),)
