"""Counted labels that are letters: a, b, c, as many as a fact says."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.formula import Axis
from specrules.proving import prove
from tests.inspecting import finding, inspected, settled
from tests.pack.small_packs import faults_of, read_text, resolved

PRESS = """\
specrules: tolerance-pack/1
group: Press
pack: {name: press, version: "1", title: A press, unit: mm}
axes:
  platen: {count: platens}
  pillar: {count: pillars, letters: yes}
facts:
  platens: {kind: count}
  pillars: {kind: count}
measurands:
  pillar_size: {at: [platen, pillar], unit: mm}
rules:
  pillar_play:
    title: Play of the pillar
    each: [platen, pillar]
    formula: pillar_size
    limits:
      - {name: base, least: 0.1 mm, most: 0.3 mm}
      - {name: at the door, when: pillar == b, most: 0.4 mm}
    importance: minor
    source: {kind: house}
    worked:
      - given: {readings: {pillar_size: {1: {a: 0.2, b: 0.35}}}}
        expect:
          - {at: {platen: 1, pillar: a}, verdict: in spec}
          - {at: {platen: 1, pillar: b}, verdict: in spec}
  first_pillar:
    title: Size of the first pillar
    each: platen
    formula: pillar_size[a]
    limits: {least: 0.15 mm}
    importance: minor
    source: {kind: house}
    worked: [{given: {readings: {pillar_size: {1: {a: 0.2}}}}, expect: {at: {platen: 1}, verdict: in spec}}]
"""
HEAD = "specrules: build-sheet/1\npacks: [press]\nunit: mm\n"
PACKS = {"press": PRESS}


def test_labels_are_letters_as_many_as_are_stated() -> None:
    sheet, _, said = settled(
        f"{HEAD}facts: {{platens: 2, pillars: 3}}\nreadings: {{pillar_size: {{1: {{a: 0.2}}}}}}", PACKS
    )
    assert sheet is not None, said
    assert sheet.labels == {"platen": ("1", "2"), "pillar": ("a", "b", "c")}


def test_a_count_that_nobody_states_is_taken_from_the_letters_that_are_named() -> None:
    sheet, _, _ = settled(f"{HEAD}readings: {{pillar_size: {{1: {{a-d: 0.2}}, 2: {{b: 0.2}}}}}}", PACKS)
    assert sheet is not None
    assert sheet.labels == {"platen": ("1", "2"), "pillar": ("a", "b", "c", "d")}
    assert sheet.assumed == {"platens": "2", "pillars": "4"}


def test_a_list_runs_along_letters_that_are_known() -> None:
    sheet, _, said = settled(f"{HEAD}facts: {{pillars: 2}}\nreadings: {{pillar_size: {{1: [0.2, 0.3]}}}}", PACKS)
    assert sheet is not None, said
    assert [reading.station for reading in sheet.readings] == [("1", "a"), ("1", "b")]


def test_letters_are_labels_in_formulas_and_the_pack_proves() -> None:
    proof = prove([read_text(PRESS, "press.pack.yaml")], "press")
    assert proof.faults == ()
    assert [each for each in proof.remarks if each.kind in ("example", "wrong")] == []
    report = inspected(f"{HEAD}readings: {{pillar_size: {{1: {{a: 0.12, b: 0.35, c: 0.35}}}}}}", PACKS)
    verdicts = {
        (rule, *at.values()): str(finding(report, rule, **at).verdict)
        for rule, at in (
            ("pillar_play", {"platen": "1", "pillar": "b"}),
            ("pillar_play", {"platen": "1", "pillar": "c"}),
            ("first_pillar", {"platen": "1"}),
        )
    }
    assert verdicts == {
        ("pillar_play", "1", "b"): "in spec",
        ("pillar_play", "1", "c"): "out of spec",
        ("first_pillar", "1"): "out of spec",
    }


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("facts: {pillars: 27}", '4, pillars: "27" is no whole number from 1 to 26.'),
        (
            "readings: {pillar_size: {1: {a: 0.2, 3: 0.2}}}",
            '4, pillar_size 1: "3" is no pillar; there is a, since pillars is not stated and no reading names more.',
        ),
        (
            "facts: {pillars: 2}\nreadings: {pillar_size: {1: {c: 0.2}}}",
            '5, pillar_size 1: "c" is no pillar; there are a and b, since pillars is 2; write pillars: 3 under facts, '
            "if there are so many.",
        ),
        (
            "readings: {pillar_size: {1: [0.2, 0.2]}}",
            "4, pillar_size 1: a list does not say which pillar each figure is of; write them by name, a: and the "
            "figure.",
        ),
        (
            "readings: {pillar_size: {1: 0.2}}",
            "4, pillar_size 1: no pillar is named, and how many there are is not stated; write a: 0.2.",
        ),
    ],
)
def test_what_is_said_of_labels_that_cannot_be(written: str, said: str) -> None:
    assert settled(HEAD + written, PACKS)[2] == (f"engine.sheet.yaml, line {said}",)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("count: pillars, letters: yes", "names: [a, b], letters: yes", "letters labels, and counts none"),
        (
            "pillar_size[a]",
            "pillar_size[A]",
            '"pillar_size[A]" has pillar_size[A], and no axis of pillar_size has that label',
        ),
        ("pillar == b", "pillar == bb", "\"pillar == bb\" has 'bb', and the labels of pillar are a, b, c"),
    ],
)
def test_what_a_pack_cannot_say_of_letters(old: str, new: str, said: str) -> None:
    assert [fault.said for fault in faults_of(PRESS.replace(old, new))] == [said]


def test_to_say_that_nothing_is_lettered_is_to_say_nothing() -> None:
    assert resolved(PRESS.replace("count: platens", "count: platens, letters: no")).axes["platen"] == Axis(
        "platen", count="platens"
    )


@given(st.integers(1, 26), st.booleans())
def test_the_labels_of_the_first_numbers_are_its_own_and_all_different(count: int, letters: bool) -> None:
    axis = Axis("pillar", count="pillars", letters=letters)
    labels = [axis.numbered(number) for number in range(1, count + 1)]
    assert len(set(labels)) == count
    assert all(map(axis.may_have, labels))
    assert labels[0] == axis.first
