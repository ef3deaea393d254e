"""Sheets that grow: what is bounded is a fault that says so, and what is not takes time as it grows."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from specrules.document import Fault
from specrules.sheet import read_sheet, settle
from specrules.sheet.gauges import MOST_LINKS
from tests.sheet.small_shop import shop
from tests.timing import times_as_long

HEAD = "specrules: build-sheet/1\nunit: in\n"


def faults(body: str) -> tuple[Fault, ...]:
    """What is wrong with a sheet's shape, and with its words."""
    raw, wrong = read_sheet(HEAD + body, "a.yaml")
    return wrong if raw is None else (*wrong, *settle(raw, shop("small"))[1])


def row(number: int, circle: bool = False) -> str:
    """Gauges of which each is set with the one before it."""
    first = f"{{set with: g{number - 1}}}" if circle else "{zero: {standard: 1, reads: 1.001}}"
    return f"gauges:\n  g0: {first}\n" + "".join(f"  g{n}: {{set with: g{n - 1}}}\n" for n in range(1, number))


def test_a_row_of_gauges_is_bounded() -> None:
    assert faults(row(MOST_LINKS + 1)) == ()
    assert [each.sentence() for each in faults(row(1600))] == [
        "a.yaml, line 21, gauges g17: this gauge is set with one that is set with another, and so on: more than 16 in a"
        " row; write the first of them."
    ]


def test_gauges_in_a_circle_and_one_that_is_set_with_them() -> None:
    body = row(3, circle=True) + "  other: {set with: g1}\n"
    assert [each.subject for each in faults(body)] == ["gauges g0", "gauges g1", "gauges g2"]


def test_past_the_hundredth_nothing_is_offered() -> None:
    told = faults("facts:\n" + "".join(f"  cylinders{n:03}: 5\n" for n in range(150)))
    assert len(told) == 150
    assert [bool(each.write) for each in told] == [True] * 100 + [False] * 50


def test_what_is_not_told_is_counted() -> None:
    strange = "".join(f"rubbish_{n}: 1\n" for n in range(150))
    *told, last = faults(strange)
    assert len(told) == 100
    assert last.sentence() == "a.yaml, line 103: here and below are 50 faults more."
    *told, last = faults(f"gauges:\n{''.join(f'  g{n}: {{rubbish: 1}}' + chr(10) for n in range(101))}")
    assert len(told) == 100
    assert last.sentence() == "a.yaml, line 104: here and below is 1 fault more."


def test_more_packs_than_are_used_together_are_a_fault_of_the_list() -> None:
    (fault,) = faults(f"packs: [{', '.join(f'p{n}' for n in range(8000))}]\n")
    assert (
        fault.sentence() == "a.yaml, line 3, packs: has 8000 entries, more than the 100 allowed; write fewer of them."
    )


GROWING: dict[str, tuple[Callable[[int], str], int]] = {
    "gauges in a row": (row, 400),
    "gauges in a circle": (lambda n: row(n, circle=True), 400),
    "keys that are no labels": (lambda n: f"readings: {{main_bore: {{{_listed(n, 'k{}: 2.5')}}}}}\n", 4000),
    "names that are no facts": (lambda n: "facts:\n" + "".join(f"  maines_{k}: 5\n" for k in range(n)), 1000),
    "keys that are no sections": (lambda n: "".join(f"rubbish_{k}: 1\n" for k in range(n)), 1000),
    "a wide list": (lambda n: f"readings: {{main_bore: [{_listed(n, '2.5')}]}}\n", 4000),
    "a wide list at fault": (lambda n: f"readings: {{main_bore: [{_listed(n, '2.5')}, *a]}}\n", 2000),
    "deep lists at fault": (
        lambda n: f"readings: {{main_bore: [{_listed(n, '[' * 40 + '2.5' + ']' * 40)}, *a]}}\n",
        50,
    ),
    "braces without colons": (lambda n: f"readings: {{main_bore: {{{_listed(n, 'k{}')}}}}}\n", 1000),
}


def _listed(number: int, each: str) -> str:
    return ", ".join(each.format(n) for n in range(number))


@pytest.mark.second_lane
@pytest.mark.parametrize("case", GROWING)
def test_four_times_as_much_takes_no_more_than_its_share(case: str) -> None:
    """Twice what is linear, which is half of what grows with the square."""
    make, number = GROWING[case]
    small, large = make(number), make(4 * number)
    assert times_as_long(lambda: faults(large), lambda: faults(small)) < 8
