"""What proving asks of the validity of figures, where a heading names the facts that they hold by."""

from __future__ import annotations

import pytest

from specrules.proving.prover import prove
from tests.pack.ram_packs import RAMS, house
from tests.pack.small_packs import read_text

WITH_ONE = [
    # what stands in the place of the line `base` of the rule `stop`; by what it has to say that it holds
    ("least: 1 mm", ("medium", "action", "a size")),
    ("least: 0 mm", ()),
    ("least: 0 mm, aim: 2 mm", ()),
    ("holds for: {medium: oil}, least: 1 mm", ("action", "a size")),
    ("holds for: {medium: any, action: any}, least: 1 mm", ("a size",)),
    ("holds for: {medium: any, action: any, tube_size: any}, least: 1 mm", ()),
    ("holds for: {medium: any, action: any, tube_stated: 1..9 mm}, least: 1 mm", ()),
    ("least: 0.02 * smallest(tube_size)", ("medium", "action")),
    ("least: smallest(tube_size)", ()),
    ("least: 0 mm if state == new else 0.5 * smallest(tube)", ("medium", "action")),
    ("wear least: 1 mm", ("medium", "action", "a size")),
    ("shift: 0.1 mm", ("medium", "action", "a size")),
    ("from the maker: yes", ()),
]


def proven(*texts: str) -> list[str]:
    """What is wrong with the validity of the last of some packs."""
    packs = [read_text(text, f"pack{number}.yaml") for number, text in enumerate(texts)]
    return [each.said for each in prove(packs, packs[-1].name).remarks if each.kind == "validity"]


@pytest.mark.parametrize(("line", "lacking"), WITH_ONE)
def test_a_line_with_a_number_says_by_each_fact_and_a_size_what_it_holds_for(
    line: str, lacking: tuple[str, ...]
) -> None:
    base = "{name: base, holds for: {medium: oil, action: any, tube_size: 20..100 mm}, least: 1 mm}"
    text = RAMS.replace(base, f"{{name: base, {line}}}")
    assert text != RAMS
    part = line.split("}, ")[-1].split(":")[0]
    said = f"the {part} of the line base has a number, and nothing says by {' and '.join(lacking)} for what it holds"
    assert proven(text) == ([said] if lacking else [])


def test_the_whole_pack_says_enough_and_without_the_heading_nothing_is_owed() -> None:
    assert proven(RAMS) == []
    without = RAMS.replace("  figures hold by: [medium, action]\n", "")
    assert proven(without.replace("holds for: {medium: oil, action: any, tube_size: 20..100 mm}, ", "")) == []


def test_an_amendment_owes_what_it_adds_and_inherits_where_it_says_nothing() -> None:
    assert proven(RAMS, house("      limits: [{name: base, most: 0.11 mm}]\n")) == []
    assert proven(RAMS, house("      limits: [{name: base, most: 0.11 mm}]\n", "{medium: oil}")) == [
        "the most of the line base has a number, and nothing says by action and a size for what it holds"
    ]


def test_a_line_that_counts_only_where_it_does_not_hold_is_asked_about() -> None:
    text = RAMS.replace("when: tube_kind == honed, holds for: {", "when: medium == air, holds for: {")
    assert text != RAMS
    remarks = prove([read_text(text)], "rams").remarks
    assert "the line honed counts only where it does not hold, so there it leaves no figure" in [
        r.said for r in remarks
    ]


def test_limits_are_tried_at_the_edges_of_what_they_hold_for() -> None:
    """At 20 mm the least 0.002 of the size is below the most, from 60 mm on it is not: the edge at 100 shows it."""
    text = RAMS.replace("least: 0.04 mm, aim: 0.08 mm", "least: 0.0015 * tube_size, aim: 0.08 mm").replace(
        "tube: {at: ram, unit: mm}", "tube: {at: ram, unit: mm, usual: 15..75 mm}"
    )
    said = [each.said for each in prove([read_text(text)], "rams").remarks if each.kind == "small sizes"]
    assert any("the least lies above the most from a tube of 80" in each for each in said), said
