"""What a gauge can do, read from texts: amounts, ranges of size, sets of blades."""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

import pytest

from specrules.document import Text
from specrules.pack import Amount, Capability, Characteristics, read_capability
from specrules.quantity import Unit, find_unit

INCH = Decimal("25.4")


class Range(NamedTuple):
    """A range of sizes as it is written."""

    over: Text
    to: Text
    mpe: Text = Text("")
    resolution: Text = Text("")
    repeatability: Text = Text("")


class Written(NamedTuple):
    """What is written of a gauge."""

    resolution: Text
    mpe: Text
    repeatability: Text
    by_size: tuple[Range, ...]
    reads: Text
    steps: tuple[Text, ...]


def read(
    resolution: str = "",
    mpe: str = "",
    repeatability: str = "",
    by_size: tuple[tuple[str, ...], ...] = (),
    steps: tuple[str, ...] = (),
) -> tuple[Capability, list[str]]:
    said: list[str] = []
    ranges = tuple(Range(*map(Text, each)) for each in by_size)
    written = Written(
        Text(resolution), Text(mpe), Text(repeatability), ranges, Text("goes" if steps else ""), tuple(map(Text, steps))
    )
    capability = read_capability(
        written, lambda text, refusal, which: said.append(f"{which} {text} {refusal.said}; {refusal.write}")
    )
    return capability, said


def unit(name: str) -> Unit:
    found = find_unit(name)
    assert isinstance(found, Unit)
    return found


@pytest.mark.parametrize(
    ("mpe", "amount"),
    [
        ("0.0001 in", Amount(Decimal("0.0001") * INCH)),
        ("2 percent", Amount(Decimal(0), Decimal("0.02"))),
        ("0.002 mm and 0.1 percent", Amount(Decimal("0.002"), Decimal("0.001"))),
        ("0 in", Amount()),
    ],
)
def test_an_error_is_an_amount_a_share_or_both(mpe: str, amount: Amount) -> None:
    assert read(mpe=mpe) == (Capability(Characteristics(mpe=amount)), [])


def test_a_share_grows_with_what_is_read() -> None:
    assert Amount(Decimal("0.002"), Decimal("0.001")).at(Decimal(-50)) == Decimal("0.052")


@pytest.mark.parametrize(
    ("texts", "said"),
    [
        (("about 0.1 mm",), "resolution"),
        (("", "0.0001"), "mpe 0.0001 has no unit; 0.0001 in, 0.0001 mm or 0.0001 percent"),
        (("", "0.1..0.2 mm"), "mpe 0.1..0.2 mm is no amount; 0.0001 in, 2 percent, or 0.0001 in and 2 percent"),
        (("", "-0.1 mm"), "mpe -0.1 mm is no amount; 0.0001 in, 2 percent, or 0.0001 in and 2 percent"),
        (("0.1 mm", "0.1 g"), "mpe 0.1 g is mass, and the others are length; "),
    ],
)
def test_what_is_no_amount_is_refused(texts: tuple[str, ...], said: str) -> None:
    resolution, mpe = (*texts, "")[:2]
    _, found = read(resolution, mpe)
    assert found
    assert found[0].startswith(said)


def test_a_gauge_says_what_its_class_does_not() -> None:
    own, _ = read(mpe="0.00005 in")
    kind, _ = read("0.0001 in", "0.0001 in", "0.00005 in")
    figures = Characteristics(kind.figures.resolution, own.figures.mpe, kind.figures.repeatability)
    assert own.over(kind) == Capability(figures, marked=unit("in"))


# --- by size ----------------------------------------------------------------------------------------------------

MICROMETER = (("0 mm", "50 mm", "0.004 mm"), ("50 mm", "100 mm", "0.005 mm"))


@pytest.mark.parametrize(
    ("size", "mpe"),
    [("0", "0.004"), ("50", "0.004"), ("-50", "0.004"), ("50.001", "0.005"), ("100", "0.005"), ("100.001", "0.02")],
)
def test_a_range_holds_over_its_beginning_and_to_its_end_and_what_holds_of_all_beyond(size: str, mpe: str) -> None:
    capability, said = read("0.001 mm", "0.02 mm", by_size=MICROMETER)
    assert said == []
    assert capability.at(Decimal(size)) == Characteristics(Amount(Decimal("0.001")), Amount(Decimal(mpe)))


def test_a_certificate_for_all_sizes_is_before_the_class_by_size_and_leaves_the_rest_of_it() -> None:
    kind, _ = read("0.001 mm", "0.02 mm", by_size=(("0 mm", "50 mm", "0.004 mm", "", "0.0005 mm"),))
    own, _ = read(mpe="0.0012 mm")
    found = own.over(kind).at(Decimal(30))
    assert (found.mpe, found.repeatability) == (Amount(Decimal("0.0012")), Amount(Decimal("0.0005")))


def test_a_certificate_by_size_is_before_all_of_the_class() -> None:
    kind, _ = read("0.001 mm", "0.02 mm", by_size=MICROMETER)
    own, _ = read(by_size=(("0 mm", "50 mm", "0.0015 mm"),))
    assert [own.over(kind).at(Decimal(size)).mpe for size in (30, 60)] == [
        Amount(Decimal("0.0015")),
        Amount(Decimal("0.02")),
    ]


@pytest.mark.parametrize(
    ("by_size", "said"),
    [
        ((("50 mm", "50 mm", "0.004 mm"),), "by size 50 mm is not above what it is over; "),
        ((("50 mm", "0 mm", "0.004 mm"),), "by size 0 mm is not above what it is over; "),
        ((("0 mm", "60 mm", "0.004 mm"), ("50 mm", "100 mm", "0.005 mm")), "by size 50 mm begins below the end"),
        ((("0 mm", "50", "0.004 mm"),), "by size to 50 is no size; 50 mm"),
        ((("-1 mm", "50 mm", "0.004 mm"),), "by size over -1 mm is no size; 50 mm"),
        ((("0 mm", "1..2 mm", "0.004 mm"),), "by size to 1..2 mm is no size; 50 mm"),
        ((("0 g", "50 g", "0.004 mm"),), "by size over 0 g is mass, and the others are length"),
        ((("0 mm", "50 mm", "much"),), "mpe much"),
    ],
)
def test_ranges_at_fault(by_size: tuple[tuple[str, ...], ...], said: str) -> None:
    _, found = read("0.001 mm", "0.02 mm", by_size=by_size)
    assert found
    assert found[0].startswith(said)


# --- blades -----------------------------------------------------------------------------------------------------

THOU = ("0.0015..0.025 in by 0.001 in",)
TWENTIETHS = ("0.05..1.00 mm by 0.05 mm",)


def sizes(steps: tuple[str, ...], name: str) -> list[Decimal]:
    capability, said = read(steps=steps)
    assert said == []
    (found,) = (each.sizes for each in capability.steps if each.unit == unit(name))
    return [unit(name).from_base(size) for size in found]


def test_a_run_has_its_ends_and_every_whole_multiple_of_the_step_between() -> None:
    found = sizes(THOU, "in")
    assert found[:4] == [Decimal("0.0015"), Decimal("0.002"), Decimal("0.003"), Decimal("0.004")]
    assert (found[-1], len(found)) == (Decimal("0.025"), 25)
    assert sizes(("0.05..0.20 mm by 0.05 mm",), "mm") == [Decimal(n) / 20 for n in (1, 2, 3, 4)]


def test_a_list_may_have_blades_and_runs_of_both_systems() -> None:
    steps = ("0.0015 in", "0.002..0.004 in by 0.001 in", "0.05 mm", "0.10 mm")
    assert sizes(steps, "in") == [Decimal(n) for n in ("0.0015", "0.002", "0.003", "0.004")]
    assert sizes(steps, "mm") == [Decimal("0.05"), Decimal("0.10")]


@pytest.mark.parametrize(
    ("figure", "name", "low", "high", "marked"),
    [
        ("0.0015", "in", "0.0015", "0.002", True),
        ("0.010", "in", "0.010", "0.011", True),
        ("0", "in", "0", "0.0015", True),  # no blade goes
        ("0.0005", "in", "0", "0.0015", False),  # thinner than any
        ("0.0105", "in", "0.010", "0.011", False),
        ("0.024", "in", "0.024", "0.025", True),
        ("0.025", "in", "0.025", None, True),  # the last one
        ("0.028", "in", "0.028", None, False),  # a stack
        ("1000000", "in", "1000000", None, False),
        ("10", "thou", "10", "11", True),
        ("0.35", "mm", "0.35", "0.40", True),
        ("0.38", "mm", "0.35", "0.40", False),
        ("0.02", "mm", "0", "0.05", False),
    ],
)
def test_where_a_gap_lies(figure: str, name: str, low: str, high: str | None, marked: bool) -> None:
    capability, _ = read(steps=(*THOU, *TWENTIETHS))
    found = capability.gap(unit(name).to_base(Decimal(figure)), unit(name))
    ends = tuple(None if end is None else unit(name).from_base(end) for end in found[:2])
    assert ends == (Decimal(low), None if high is None else Decimal(high))
    assert found.marked is marked


def test_a_gap_in_the_other_system_is_held_against_the_only_set() -> None:
    capability, _ = read(steps=THOU)
    found = capability.gap(Decimal("0.25"), unit("mm"))
    assert found.high is not None
    assert (found.low, found.high) == (Decimal("0.2286"), Decimal("0.254"))
    assert not found.marked


def test_without_blades_the_next_one_is_a_resolution_further() -> None:
    capability, _ = read("0.05 mm", "0.01 mm")
    assert capability.gap(Decimal("0.30"), unit("mm"))[:2] == (Decimal("0.30"), Decimal("0.35"))


@pytest.mark.parametrize(
    ("steps", "said"),
    [
        (("0.002 in", "0.0015 in"), "steps 0.0015 in is thinner than the blade before it; each blade once"),
        (("0.002 in", "0.002 in"), "steps 0.002 in is in the set already; each blade once"),
        (("0.002 in", "2 thou"), "steps 2 thou is in the set already"),
        (("0.0015..0.010 in by 0.001 in", "0.010 in"), "steps 0.010 in is in the set already"),
        (("0.0015..0.025 in",), "steps 0.0015..0.025 in is no blade, and no run of blades"),
        (("0.0015..0.025 in by",), "steps 0.0015..0.025 in by"),
        (("0.0015..0.025 in by 0 in",), "steps 0.0015..0.025 in by 0 in is no run of blades"),
        (("0..0.025 in by 0.001 in",), "steps 0..0.025 in by 0.001 in is no run of blades"),
        (("0.0015..0.025 in by 0.001 g",), "steps 0.0015..0.025 in by 0.001 g"),
        (("0.0001..100 in by 0.0000001 in",), "steps 0.0001..100 in by 0.0000001 in makes more than 500 blades"),
        (("0.001..0.5 in by 0.001 in", "0.501..1 in by 0.001 in"), "steps 0.501..1 in by 0.001 in makes more than 500"),
        (("0.025..0.0015 in by 0.001 in",), "steps 0.025..0.0015 in by 0.001 in"),
        (("0.002",), "steps 0.002 is no blade"),
        (("0 in",), "steps 0 in is no blade"),
        (("-0.002 in",), "steps -0.002 in is no blade"),
        (("under 0.002 in by 0.001 in",), "steps under 0.002 in by 0.001 in is no blade"),
        (("0.002 in", "1 g"), "steps 1 g is mass, and the blades before it are length"),
        (("blades",), "steps blades"),
    ],
)
def test_sets_at_fault(steps: tuple[str, ...], said: str) -> None:
    _, found = read(steps=steps)
    assert found
    assert found[0].startswith(said)


def test_blades_are_of_what_the_gauge_reads() -> None:
    assert read("0.1 g", "0.1 g", steps=("1 mm",))[1] == ["steps 1 mm is length, and the others are mass; "]
