"""A new house pack: it reads and proves as it stands, and with every line of it taken into use."""

from __future__ import annotations

import re

import pytest

from specrules.output.proof import remark_text
from specrules.pack.new_pack import WIDTH, start_pack
from specrules.pack.pack_reading import read_pack
from specrules.plugins import plug
from specrules.proving import Proof, prove
from tests import shipped
from tests.lanes import first_alone
from tests.pack.small_packs import BASE, read_text, resolved


def started(on: str, title: str = "Ours") -> str:
    """The text of a house pack on one that ships."""
    return start_pack(shipped.resolved(on), "house", title, [on], "packs/house.pack.yaml")


def used(text: str) -> str:
    """The text with the # taken away from every line that begins with one alone."""
    return re.sub(r"^#(?!#)", "", text, flags=re.MULTILINE)


def proof(text: str, on: str) -> Proof:
    house, faults = read_pack([("house.pack.yaml", text.encode())])
    assert house is not None, [fault.sentence() for fault in faults]
    return prove([*shipped.packs(on), house], "house", plug().functions)


@pytest.mark.second_lane
@pytest.mark.parametrize("on", first_alone("street", "general", "towing", "racing"))
def test_a_new_pack_proves_and_changes_nothing(on: str) -> None:
    made = proof(started(on), on)
    assert made.sound
    assert made.counts["rules"] == 0


@pytest.mark.second_lane
@pytest.mark.parametrize("on", first_alone("street", "general", "towing", "racing"))
def test_with_every_line_taken_into_use_it_proves_without_a_word(on: str) -> None:
    made = proof(used(started(on)), on)
    assert [fault.sentence() for fault in made.faults] == []
    assert [remark_text(remark) for remark in made.remarks] == []
    assert made.counts["rules"] == 2
    assert made.counts["expectations"] == 9


def test_every_rule_that_can_be_amended_is_listed() -> None:
    rules = shipped.resolved("general").rules
    text = started("general")
    assert rules
    assert [name for name in rules if not re.search(rf"^##     {name} ", text, re.MULTILINE)] == []


@pytest.mark.parametrize("title", ["A: B", 'it\'s "so"', "# 1", "- x", "yes", "ü", "a\\b", "tab\there"])
def test_any_title_reads_back(title: str) -> None:
    assert read_text(started("street", title)).head.title == title


def test_what_is_told_fits_a_narrow_window() -> None:
    told = [row for row in started("street").split("\n") if row.startswith("## ") and not row.startswith("##     ")]
    assert told
    assert [row for row in told if len(row) > WIDTH] == []


def test_without_a_plain_rule_to_amend_the_rest_is_there() -> None:
    text = start_pack(resolved(BASE), "house", "Ours", ["base"], "house.pack.yaml")
    assert "#amend:" not in text
    assert "#measurands:" in text
    house, faults = read_pack([("house.pack.yaml", used(text).encode())])
    assert house is not None, [fault.sentence() for fault in faults]
    made = prove([read_text(BASE), house], "house")
    assert made.faults == ()
    assert made.counts["rules"] == 1


def test_a_pack_in_millimetres_gives_its_example_in_them() -> None:
    metric = BASE.replace("  unit: in\n  wear", "  unit: mm\n  wear")
    text = used(start_pack(resolved(metric), "house", "Ours", ["base"], "house.pack.yaml"))
    assert "least: 0.25 mm, most: 0.50 mm" in text
    house, faults = read_pack([("house.pack.yaml", text.encode())])
    assert house is not None, [fault.sentence() for fault in faults]
    made = prove([read_text(metric), house], "house")
    assert [remark_text(remark) for remark in made.remarks if remark.subject.startswith("own_gap")] == []


def test_a_name_that_is_taken_is_not_used_for_the_new_rule() -> None:
    own = BASE.replace("  stand: {", "  own_gap: {unit: in}\n  stand: {")
    assert "#  own_gap_2:" in start_pack(resolved(own), "house", "Ours", ["base"], "house.pack.yaml")
