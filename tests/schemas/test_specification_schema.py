"""The schema of the sheets of some packs knows their names: it takes a filled sheet and refuses a slip in any name."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from specrules.schemas import schema_for
from specrules.sheet import read_sheet, settle
from specrules.sheet.new_sheet import NewSheet, start
from tests.lanes import first_alone
from tests.pack.small_packs import BASE as BASE_PACK
from tests.pack.small_packs import resolved as small
from tests.pack.small_packs import upper
from tests.schemas.as_editors import DEMO, loaded, wrong
from tests.shipped import SHIPPED, resolved

GENERAL = """\
specrules: build-sheet/1
packs: [general]
unit: in
facts:
  cylinders: 8
  mains: 5
  throws: [[1, 5], [2, 6], [3, 7], [4, 8]]
  banks: {left: [1, 3, 5, 7], right: [2, 4, 6, 8]}
  work: refresh
  induction: boosted
  skirt_coated: no
  stroke: 3.480
gauges:
  mic 2-3: {class: outside micrometer, zero: {standard: 2.0000, reads: 2.0001}}
readings:
  main_journal:
    gauge: mic 2-3
    taken: 2026-10-02
    1: {front: {a: 2.4990, b: 2.4990}, rear: {a: 2.4989, b: 2.4990}}
    2: [2.4991, 2.4991, open, 2.4990]
    3-5: 2.4990
  main_bearing_bore:
    - {gauge: mic 2-3, taken: 2026-09-26, at: {3: [2.5015, 2.5016]}}
    - {taken: 2026-09-30, because: shells changed, after: align_hone, at: {3: {front and rear: 2.5012}}}
  ring_end_gap: {unit: thou, 1: {top: 18, second: 20..21}, others: {top: 19}}
  chamber_volume: {1: {repeats: [64.1, 64.3, 64.2]}}
  deck_height: {left: {front: 9.0252, rear: 9.025}, right: [9.026, 9.0261]}
  crank_end_float: 0.0055
limits:
  piston_clearance: {least: 0.0035 in, most: 0.0045 in, source: the maker's sheet}
work done:
  - {operation: align_hone, on: 2026-09-28, at: {main: 3}}
signed:
  rotates_freely: {by: ab, on: 2026-10-05}
  rings_squared: [{at: {cylinder: [1, 2]}, by: ab, on: 2026-10-02}]
concessions:
  - {rule: rod_side_clearance, at: {throw: 3}, reason: guided rods, by: ab}
"""

SLIPS = {
    "pack": ("packs: [general]", "packs: [generel]"),
    "fact": ("  stroke: 3.480", "  strok: 3.480"),
    "choice": ("induction: boosted", "induction: blown"),
    "yes or no": ("skirt_coated: no", "skirt_coated: maybe"),
    "count": ("mains: 5", "mains: five"),
    "count of none": ("mains: 5", "mains: 0"),
    "quantity by station": ("stroke: 3.480", "stroke: {front: 3.480}"),
    "groups as a number": ("[[1, 5], [2, 6], [3, 7], [4, 8]]", "4"),
    "gauge class": ("class: outside micrometer", "class: outside mic"),
    "measurand": ("  main_journal:", "  main_jounal:"),
    "position": ("1: {front:", "1: {frnt:"),
    "axis of another": ("1: {top: 18", "1: {front: 18"),
    "figure where stations belong": ("crank_end_float: 0.0055", "crank_end_float: {1: 0.0055}"),
    "key of a set": ("because: shells changed", "reason: shells changed"),
    "operation before readings": ("after: align_hone", "after: align_bore"),
    "rule with limits": ("  piston_clearance:", "  pistonclearance:"),
    "operation": ("operation: align_hone", "operation: align_bore"),
    "sign-off": ("  rotates_freely:", "  rotates_freeley:"),
    "axis of a sign-off": ("{at: {cylinder: [1, 2]}", "{at: {main: [1, 2]}"),
    "rule conceded": ("rule: rod_side_clearance", "rule: rod_clearance"),
    "axis of a concession": ("at: {throw: 3}", "at: {thrw: 3}"),
}


@cache
def schema(*packs: str) -> dict[str, Any]:
    return schema_for(resolved(*packs))


def faults(text: str) -> list[str]:
    """What the program itself finds wrong."""
    raw, found = read_sheet(text, "e.sheet.yaml")
    if raw is not None and set(raw.packs) <= {"general"}:
        found += settle(raw, resolved("general"))[1]
    elif raw is not None:
        return ["another pack"]
    return [fault.sentence() for fault in found]


def test_a_filled_sheet_is_taken() -> None:
    assert faults(GENERAL) == []
    assert wrong(schema("general"), GENERAL) == []


@pytest.mark.second_lane
@pytest.mark.parametrize(("old", "new"), SLIPS.values(), ids=SLIPS)
def test_a_slip_in_a_name_is_refused_as_the_program_refuses_it(old: str, new: str) -> None:
    text = GENERAL.replace(old, new, 1)
    assert text != GENERAL
    assert faults(text) != []
    assert wrong(schema("general"), text) != []


@pytest.mark.second_lane
@pytest.mark.parametrize("name", first_alone(*SHIPPED))
def test_a_new_sheet_is_taken_as_it_stands(name: str) -> None:
    for facts in ({}, {"cylinders": "8", "mains": "5", "throws": "[[1, 5], [2, 6], [3, 7], [4, 8]]"}):
        assert wrong(schema(name), start(resolved(name), facts, NewSheet("A new one", [name], "in"))) == []


@pytest.mark.second_lane
def test_the_demo_is_taken_on_its_own_packs() -> None:
    for path in DEMO:
        text = path.read_text(encoding="utf-8")
        assert wrong(schema(*loaded(text)["packs"]), text) == []


def test_what_a_pack_implies_is_the_only_choice() -> None:
    spec = resolved("towing")
    implied = {name: word for name, word in spec.sets.items() if spec.facts[name].choices}
    assert implied
    for name, word in implied.items():
        other = next(choice for choice in spec.facts[name].choices if choice != word)
        head = "specrules: build-sheet/1\npacks: [towing]\nfacts:\n"
        assert wrong(schema("towing"), f"{head}  {name}: {word}\n") == []
        assert wrong(schema("towing"), f"{head}  {name}: {other}\n") != []


def test_names_are_explained_in_the_words_of_the_packs() -> None:
    spec = resolved("general")
    sections = schema("general")["properties"]
    for name, measurand in spec.measurands.items():
        said = sections["readings"]["properties"][name]["description"]
        assert measurand.title in said
        assert f"({measurand.unit.symbol})" in said
        assert measurand.how.rstrip(".") in said
    for name, check in spec.sign_offs.items():
        assert check.question.rstrip(".") in sections["signed"]["properties"][name]["description"]
    for name, chain in spec.rules.items():
        assert chain.governing[-1].title in sections["limits"]["properties"][name]["description"]
    for name, fact in spec.facts.items():
        assert fact.title in sections["facts"]["properties"][name]["description"]


def test_a_measurand_is_told_with_where_and_how_often_it_is_read() -> None:
    read = schema_for(small(BASE_PACK))["properties"]["readings"]["properties"]
    described = {name: section["description"] for name, section in read.items()}
    assert described == {
        "hole": "hole (in); at each place; at each plane there; usually 1.5 to 4.5 in",
        "shaft": "Shaft size (in); at each place; at each plane there; 2 times; usually 1.181 to 4.724 in",
        "stand": "stand (in)",
    }


def test_a_choice_is_offered_as_whatever_yaml_takes_it_for() -> None:
    """YAML 1.1 reads yes and no as booleans (YAML 1.1 bool type); 1.2 reads them as texts."""
    coated = schema("general")["properties"]["facts"]["properties"]["skirt_coated"]["enum"]
    assert {"yes", "no", "open"} <= {word for word in coated if isinstance(word, str)}
    assert any(word is True for word in coated)
    assert any(word is False for word in coated)
    assert None in coated


FACTS = BASE_PACK.replace(
    "  maker: {kind: text}\n",
    "  maker: {kind: text}\n"
    "  valves: {kind: choice, choices: [2, 4], at: [place]}\n"
    "  bore: {kind: quantity, unit: in, title: Size of the bore}\n",
)
IMPLIED = upper("over", "").replace("builds on: [base]", "builds on: [base], sets: {material: iron}")
OF_FACTS: dict[str, tuple[str, list[str], list[str]]] = {
    # what an editor shows, what it takes, what it refuses
    "places": ("Number of places", ["1", "12", '"3"', "open", ""], ["0", "-1", "2.5", "many", "[1]"]),
    "classes": ("classes", ["[[1, 2], [3]]", "{a: [1], b: [2, 3]}", "open", ""], ["4", "a", "[1, 2]", "{a: 1}"]),
    "material": ("material; iron, by the packs", ["iron", "open", ""], ["aluminium", "steel"]),
    "work": ("work; new if left empty", ["new", "refresh", "open", ""], ["old", "yes"]),
    "coated": ("coated; no if left empty", ["yes", "no", "open", ""], ["maybe", "1"]),
    "card_shaft": (
        "card shaft; in in; may differ by place",
        ["2.5", "2.5 in", "{1: 2.5, others: 2.4 in}", ""],
        ["{front: 2.5}", "{value: [2.5]}"],
    ),
    "grip": ("grip; 0.5 if left empty", ["0.4", "{value: 0.4, confirmed: ab}", "open"], ["{1: 0.4}", "[0.4]", "true"]),
    "maker": ("maker", ["a text", "12", "true", ""], ["[a]", "{value: a}", "{1: a}"]),
    "valves": (
        "valves; may differ by place",
        ["2", '"4"', "{1: 2, others: 4}", "open"],
        ["3", "{1: 3}", "{front: 2}"],
    ),
    "bore": (
        "Size of the bore; in in",
        ["2.5", "{value: 2.5 in, because: honed}"],
        ["{1: 2.5}", "{valu: 2.5}", "{value: 2.5, gauge: dial}"],
    ),
}


@pytest.mark.second_lane
@pytest.mark.parametrize("fact", OF_FACTS)
def test_what_is_told_taken_and_refused_of_each_kind_of_fact(fact: str) -> None:
    described, good, bad = OF_FACTS[fact]
    made = schema_for(small(FACTS, IMPLIED))
    assert made["properties"]["facts"]["properties"][fact]["description"] == described
    sheet = "specrules: build-sheet/1\npacks: [over]\nunit: in\nfacts: {{{}: {}}}\n"
    assert [each for each in good if wrong(made, sheet.format(fact, each))] == []
    assert [each for each in bad if not wrong(made, sheet.format(fact, each))] == []
