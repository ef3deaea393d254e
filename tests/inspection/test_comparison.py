"""Two inspections of one sheet held against each other: the limits that differ, in whose favour, and the verdicts."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.inspection import Options, inspect
from specrules.inspection.comparison import ReportComparison, between, wider
from specrules.vocabulary import Reason, Verdict, Why
from tests.inspecting import settled
from tests.output.small_screen import GOOD, PACKS, build, upper

MORE = {
    **PACKS,
    "near": upper("near", "    fit: {reason: Closer., limits: [{name: base, least: 0.0015 in, aim: 0.0022 in}]}\n"),
    "soft": upper("soft", "    slot: {reason: So., limits: [{name: soft, shift: 0.0060 in}]}\n"),
    "own": upper("own", "    tilt: {reason: None of ours., limits: [{name: base, from the maker: yes}]}\n"),
    "apart": upper("apart", "    tilt: {reason: Left out., applies when: material == iron}\n"),
}


def compared(one: str, other: str, body: str) -> ReportComparison:
    """A sheet of these sections judged by each of two packs."""
    inspections = []
    for pack in (one, other):
        sheet, resolved, faults = settled(build(body, pack), MORE)
        assert sheet is not None, faults
        assert resolved is not None
        inspections.append(inspect(sheet, resolved, Options()))
    return between(*inspections)


def test_parts_that_differ_are_told_with_whose_is_wider_and_by_how_much() -> None:
    found = compared("base", "near", GOOD)
    (difference,) = found.differences
    assert (difference.rule, [*map(dict, difference.stations)]) == ("fit", [{"place": "1"}, {"place": "2"}])
    assert [(each.part, *each.sizes, each.wider, each.by) for each in difference.how.parts] == [
        ("least", Decimal("0.0010"), Decimal("0.0015"), 0, Decimal("0.0005")),
        ("aim", Decimal("0.0020"), Decimal("0.0022"), None, Decimal("0.0002")),
    ]
    assert difference.how.verdicts is None
    assert (found.alone, found.alike) == (((), ()), 5 - len(found.untold))


def test_the_other_way_round_the_same_is_said_of_the_other() -> None:
    one, other = (compared(*pair, GOOD).differences[0].how.parts[0] for pair in (("base", "near"), ("near", "base")))
    assert one.sizes == other.sizes[::-1]
    assert (one.wider, other.wider) == (0, 1)
    assert one.by == other.by


def test_verdicts_that_differ_stand_beside_the_limits() -> None:
    (difference,) = compared("base", "wide", "readings: {tilt: 0.0050}\n").differences
    assert difference.how.verdicts == (Verdict.OUT, Verdict.IN_SPEC)
    assert [(each.part, each.wider) for each in difference.how.parts] == [("most", 1)]


def test_stations_and_facts_are_those_of_the_sheet() -> None:
    body = "facts: {places: 1, material: aluminium}\nreadings: {slot: {1: {left: 0.0180, right: 0.0180}}}\n"
    (difference,) = compared("base", "soft", body).differences
    assert [(each.part, each.by) for each in difference.how.parts] == [
        ("least", Decimal("0.0010")),
        ("most", Decimal("0.0010")),
    ]
    iron = compared("base", "soft", body.replace("aluminium", "iron"))
    assert iron.differences == ()


def test_a_limit_that_only_the_maker_gives_is_no_wider_one() -> None:
    (difference,) = compared("base", "own", "readings: {tilt: 0.0010}\n").differences
    assert difference.how.parts == ()
    assert difference.how.verdicts == (Verdict.IN_SPEC, Verdict.NO_FIGURE)
    assert difference.how.lacks == ((), (Reason(Why.ASK_THE_MAKER),))


def test_a_rule_that_does_not_apply_in_one_differs_by_its_verdict_alone() -> None:
    body = "facts: {places: 1, material: aluminium}\nreadings: {tilt: 0.0010}\n"
    (difference,) = compared("base", "apart", body).differences
    assert difference.how.parts == ()
    assert difference.how.verdicts == (Verdict.IN_SPEC, Verdict.NOT_APPLICABLE)


def test_the_makers_own_limits_in_the_sheet_leave_nothing_to_differ() -> None:
    limits = "limits: {tilt: [{most: 0.0045 in, source: card}]}\n"
    assert compared("base", "wide", "readings: {tilt: 0.0050}\n" + limits).differences == ()


def test_a_rule_without_limits_yet_does_not_count_as_alike() -> None:
    found = compared("base", "wide", GOOD)
    assert found.untold == ("plug",)
    assert len({each.rule for each in found.differences}) + len(found.untold) + found.alike == 6


@pytest.mark.parametrize(
    ("part", "one", "other", "wanted"),
    [
        ("least", 1, 2, 0),
        ("least", 2, 1, 1),
        ("most", 1, 2, 1),
        ("wear most", 2, 1, 0),
        ("wear least", 2, 1, 1),
        ("most", None, 1, 0),
        ("least", 1, None, 1),
        ("aim", 1, 2, None),
    ],
)
def test_which_of_two_limits_lets_more_pass(part: str, one: int | None, other: int | None, wanted: int | None) -> None:
    sizes = [None if size is None else Decimal(size) for size in (one, other)]
    assert wider(part, *sizes) == wanted
