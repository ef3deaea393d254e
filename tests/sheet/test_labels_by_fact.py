"""Axes of which a fact says which labels there are: what reads another one is absent."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.proving import prove
from tests.inspecting import inspected, settled
from tests.pack.small_packs import faults_of, read_text

LIFT = """\
specrules: tolerance-pack/1
group: Lift
pack: {name: lift, version: "1", title: A lift, unit: mm}
axes:
  rope: {labels: ropes}
facts:
  ropes: {kind: labels, of: [main, spare, guide], assumed: [main, guide]}
measurands:
  rope_size: {at: [rope], unit: mm}
rules:
  rope_worn:
    title: Size of the rope
    each: rope
    formula: rope_size
    limits:
      - {name: base, least: 9 mm, most: 11 mm}
      - {name: spare, when: rope == spare, least: 8 mm}
    importance: minor
    source: {kind: house}
    worked: [{given: {readings: {rope_size: {main: 10}}}, expect: {at: {rope: main}, verdict: in spec}}]
  spare_against_main:
    title: The spare rope against the main one
    formula: rope_size[main] - rope_size[spare]
    limits: {least: -1 mm, most: 1 mm}
    may be negative: yes
    importance: minor
    source: {kind: house}
    worked:
      - given: {facts: {ropes: [main, spare]}, readings: {rope_size: {main: 10, spare: 10}}}
        expect: {verdict: in spec}
      - {given: {readings: {rope_size: {main: 10}}}, expect: {verdict: not applicable}}
"""
HEAD = "specrules: build-sheet/1\npacks: [lift]\nunit: mm\n"
PACKS = {"lift": LIFT}


@pytest.mark.parametrize(
    ("stated", "labels"),
    [
        ("", ("main", "guide")),
        ("facts: {ropes: }", ("main", "guide")),
        ("facts: {ropes: [guide, spare]}", ("spare", "guide")),
        ("facts: {ropes: 'spare, main'}", ("main", "spare")),
        ("facts: {ropes: spare}", ("spare",)),
    ],
)
def test_the_labels_that_there_are_in_their_declared_order(stated: str, labels: tuple[str, ...]) -> None:
    sheet, _, said = settled(HEAD + stated, PACKS)
    assert sheet is not None, said
    assert sheet.labels == {"rope": labels}


def test_where_nobody_says_and_nothing_is_assumed_all_of_them_are_there() -> None:
    asked = LIFT.replace(", assumed: [main, guide]", "")
    sheet, _, _ = settled(HEAD, {"lift": asked})
    assert sheet is not None
    assert sheet.labels == {"rope": ("main", "spare", "guide")}


@pytest.mark.parametrize(
    ("facts", "rules"),
    [
        ("", {"rope_worn"}),
        ("facts: {ropes: [main, spare]}\n", {"rope_worn", "spare_against_main"}),
        ("facts: {ropes: [spare]}\n", {"rope_worn"}),
    ],
)
def test_what_reads_a_label_that_is_not_there_is_absent(facts: str, rules: set[str]) -> None:
    report = inspected(f"{HEAD}{facts}", PACKS)
    assert {finding.rule for finding in report.findings} == rules


def test_the_pack_proves() -> None:
    proof = prove([read_text(LIFT, "lift.pack.yaml")], "lift")
    assert proof.faults == ()
    assert [each for each in proof.remarks if each.kind in ("example", "wrong")] == []


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("facts: {ropes: [main, spar]}", '4, ropes: "spar" is none of main, spare, guide; write spare.'),
        ("facts: {ropes: [main, main]}", "4, ropes: names a label twice."),
        (
            "facts: {ropes: {main: 1}}",
            "4, ropes: says which labels there are in a list; write [main, spare, guide], or fewer.",
        ),
        (
            "facts: {ropes: []}",
            "4, ropes: says which labels there are in a list; write [main, spare, guide], or fewer.",
        ),
        (
            "readings: {rope_size: {spare: 10}}",
            '4, rope_size: "spare" is no rope; there are main and guide, since ropes is taken to be main, guide; write '
            "ropes: [..., spare] under facts, if there is one.",
        ),
        (
            "facts: {ropes: [main]}\nlimits: {spare_against_main: {most: 2}}",
            '5, limits: "spare_against_main" is about what is not there, since ropes is main; write nothing there, or '
            "another ropes under facts.",
        ),
        (
            "limits: {spare_against_main: {most: 2}}",
            '4, limits: "spare_against_main" is about what is not there, since ropes is taken to be main, guide; write '
            "nothing there, or another ropes under facts.",
        ),
    ],
)
def test_what_is_said_of_labels_that_cannot_be(written: str, said: str) -> None:
    assert settled(HEAD + written, PACKS)[2] == (f"engine.sheet.yaml, line {said}",)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("of: [main, spare, guide], ", "", "says which labels there are, and not of which"),
        ("kind: labels", "kind: text", "lists labels, and is no such fact"),
        ("assumed: [main, guide]", "assumed: [main, gide]", '"gide" is none of main, spare, guide'),
        ("labels: ropes", "labels: rops", '"rops" is no fact of kind labels'),
        ("rope == spare", "rope == third", "\"rope == third\" has 'third', which is none of main, spare, guide"),
    ],
)
def test_what_a_pack_cannot_say(old: str, new: str, said: str) -> None:
    assert said in [fault.said for fault in faults_of(LIFT.replace(old, new))]


@given(st.permutations(["main", "spare", "guide"]), st.integers(1, 3))
def test_no_order_matters(order: list[str], count: int) -> None:
    some = order[:count]
    sheet, _, said = settled(f"{HEAD}facts: {{ropes: [{', '.join(some)}]}}", PACKS)
    assert sheet is not None, said
    assert sheet.labels["rope"] == tuple(label for label in ("main", "spare", "guide") if label in some)
    rules = {each.rule for each in inspected(f"{HEAD}facts: {{ropes: [{', '.join(some)}]}}", PACKS).findings}
    assert ("spare_against_main" in rules) is ({"main", "spare"} <= set(some))
