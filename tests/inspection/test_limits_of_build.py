"""Limits whether anything was measured or not: what they are, and what they hang on where they are not known."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from specrules.inspection import Examination
from specrules.inspection.limits_of_build import LimitsInForce, limits_in_force
from tests.inspecting import settled
from tests.inspection.small_build import BASE, over

Rows = list[tuple[tuple[str, ...], dict[str, str], tuple[str, ...], tuple[str, ...]]]
ALL = "mains: 2, cylinders: 2, throws: [[1, 2]], block: iron, boosted: no"


def in_force(
    rule: str, facts: str = ALL, body: str = "", packs: Mapping[str, str] | None = None
) -> list[LimitsInForce]:
    named = ", ".join(packs or ("base",))
    sheet = f"specrules: build-sheet/1\npacks: [{named}]\nunit: in\nfacts: {{{facts}}}\n{body}"
    read, spec, faults = settled(sheet, {"base": BASE, **(packs or {})})
    assert read is not None, faults
    assert spec is not None
    return list(limits_in_force(Examination(read, spec), {rule}))


def rows(found: list[LimitsInForce]) -> Rows:
    """Each with its stations' labels, its limits, what is open, and what it hangs on."""
    return [
        (
            tuple(" ".join(station.values()) for station in each.stations),
            {part: f"{number.normalize():f}" for part, number in each.parts.items()},
            each.open,
            tuple(" ".join((reason.code.name, *reason.names, *reason.labels)) for reason in each.hangs_on),
        )
        for each in found
    ]


FIT = {"least": "0.001", "aim": "0.002", "most": "0.003", "wear most": "0.004"}
SOFT = {"least": "0.0008", "aim": "0.0015", "most": "0.0025", "wear most": "0.004"}
FLOAT = {"least": "0.002", "most": "0.008"}


@pytest.mark.parametrize(
    ("rule", "facts", "body", "told"),
    [
        ("fit", ALL, "", [(("1", "2"), FIT, (), ())]),
        ("fit", ALL.replace("iron", "aluminium"), "", [(("1", "2"), SOFT, (), ())]),
        ("fit", "mains: 1", "", [(("1",), {"wear most": "0.004"}, ("least", "aim", "most"), ("STATE_FACT block",))]),
        ("fit", "block: iron", "", [((), {}, (), ("STATE_FACT mains",))]),
        ("float", "boosted: no", "", [(("",), FLOAT, (), ())]),
        ("float", "boosted: yes", "", [(("",), {"least": "0.003", "most": "0.009"}, (), ())]),
        ("float", "", "", [(("",), {}, ("least", "most"), ("STATE_FACT boosted",))]),
        ("stand", "", "", [(("",), {"most": "0.01"}, (), ())]),
        ("stand", "coated: yes", "", []),
        ("worn_gap", "", "", [(("",), {"least": "0.01", "wear least": "0.008"}, (), ())]),
        ("fast", "", "", [(("",), {}, (), ())]),
        (
            "fit",
            ALL,
            "limits: {fit: [{when: main == 2, least: 0.0005 in, most: 0.0015 in}]}",
            [(("1",), FIT, (), ()), (("2",), {"least": "0.0005", "most": "0.0015"}, (), ())],
        ),
    ],
    ids=str,
)
def test_limits_are_told_before_anything_is_measured(rule: str, facts: str, body: str, told: Rows) -> None:
    assert rows(in_force(rule, facts, body)) == told


def test_limits_that_hang_on_a_reading_say_which_and_are_known_once_it_is_read() -> None:
    packs = {"house": over("house", "[{name: base, least: 0.0005 * size, most: 0.002 * size}]")}
    rest = {"aim": "0.002", "wear most": "0.004"}
    unread = rows(in_force("fit", ALL, "", packs))
    assert unread == [(("1", "2"), rest, ("least", "most"), ("READ shaft 1",))]
    read = rows(in_force("fit", ALL, "readings: {shaft: {1: 2.0000, 2: 2.2000}}", packs))
    assert [(where, parts["least"], parts["most"], hangs) for where, parts, _, hangs in read] == [
        (("1",), "0.001", "0.004", ()),
        (("2",), "0.0011", "0.0044", ()),
    ]


def test_a_fact_that_changes_no_limit_is_not_asked_for() -> None:
    packs = {"house": over("house", "[{name: aluminium, shift: 0 in}]")}
    assert rows(in_force("fit", "mains: 1", "", packs))[0][2:] == ((), ())


@pytest.mark.second_lane
def test_what_the_maker_has_to_say_is_told() -> None:
    packs = {"house": over("house", "[{name: base, from the maker: yes}]")}
    assert rows(in_force("fit", ALL, "", packs)) == [(("1", "2"), {}, (), ("ASK_THE_MAKER",))]


@pytest.mark.second_lane
def test_a_figure_that_does_not_hold_is_none_and_says_for_what_it_would() -> None:
    packs = {"house": over("house", "[{name: base, holds for: {size: 1..2 in}}]")}
    found = rows(in_force("fit", ALL, "readings: {shaft: {others: 3.0000}}", packs))
    assert [(where, parts) for where, parts, _, _ in found] == [(("1", "2"), {})]
    assert found[0][3][0].startswith("HOLDS_FOR_OTHER_SIZES house size 3 1 2 in")


def test_where_it_is_not_known_whether_a_rule_applies_its_limits_stand_and_the_fact_is_asked_for() -> None:
    packs = {"house": over("house", "[{name: base, most: 0.020 in}]", rule="stand")}
    house = packs["house"].replace("      limits:", "      applies when: boosted == yes\n      limits:")
    assert rows(in_force("stand", "", "", {"house": house})) == [(("",), {"most": "0.02"}, (), ("STATE_FACT boosted",))]


@pytest.mark.second_lane
def test_packs_of_an_equal_say_have_each_its_own() -> None:
    packs = {
        name: over(name, f"[{{name: base, most: {most} in}}]") for name, most in (("a", "0.0031"), ("b", "0.0032"))
    }
    found = in_force("fit", ALL, "", packs)
    assert [(each.rule.pack, f"{each.parts['most']:f}") for each in found] == [("a", "0.0031"), ("b", "0.0032")]
