"""What is said to whoever writes a pack, where the first thing that comes to mind would mislead."""

import pytest

from specrules.quantity import nearest
from tests.pack.small_packs import BASE, faults_of, upper

SOFT = "when: material == aluminium, shift"


def said(old: str, new: str) -> list[str]:
    assert BASE.count(old) == 1, old
    return [fault.sentence() for fault in faults_of(BASE.replace(old, new))]


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        (
            SOFT,
            SOFT.replace("material == aluminium", "clearance > 0.002 in"),
            "compares the figure clearance, and figures may stand on readings; a condition reads facts and labels "
            "only; write the facts that clearance is of; or it in the limit, in max(...) or min(...).",
        ),
        (
            SOFT,
            SOFT.replace("material == aluminium", "largest(hole) > 2 in"),
            "compares hole, which is measured; a condition reads facts and labels only; write it in the limit, in max(",
        ),
        (
            SOFT,
            SOFT.replace("== aluminium", "== iron or aluminium"),
            "has aluminium alone behind or, where each side is a condition of its own; write material == aluminium.",
        ),
        (
            "formula: clearance\n",
            "formula: median(hole)\n",
            "write largest(...), smallest(...) or mean(...), for there",
        ),
        (
            "formula: clearance\n",
            "formula: sign(clearance)\n",
            '"sign(clearance)" has sign(...), which is no function.',
        ),
        ("formula: clearance\n", "formula: average(hole)\n", "write mean(...)."),
        ("formula: clearance\n", "formula: smalest(hole)\n", "write smallest(...)."),
        (
            "when: material == aluminium, shift",
            "when: material == aluminium shift",
            "a comma is missing before this; write - {name: soft, when: material == aluminium, shift: -0.0005 in}.",
        ),
        ("{1: 2.5025}, shaft", "{1: 2.5025 2: 2.5025}, shaft", "{hole: {1: 2.5025, 2: 2.5025}, shaft: {1: 2.5000}}"),
        (
            "{kind: common practice, note: a thou an inch}",
            "{kind: common practice, note: fit dry: never}",
            'a second colon stands outside quotes; write source: {kind: common practice, note: "fit dry: never"}.',
        ),
        (
            "rules:\n  fit:\n",
            "rules:\nfit:\n",
            'line 45: "fit:" stands to the left of the lines that it belongs to, which are 2 blanks in.',
        ),
        (
            "axes:\n  place: {count: places}\n  plane: {names",
            "axes:\nplace: {count: places}\nplane: {names",
            'line 9: "place: {count: places}" stands to the left of the lines that it belongs to, which are 2',
        ),
    ],
)
def test_what_is_said_is_what_is_wrong(old: str, new: str, sentence: str) -> None:
    assert [sentence in each for each in said(old, new)] == [True]


def test_an_amendment_of_words_is_at_fault_itself_where_it_leaves_sides_behind() -> None:
    (fault,) = faults_of(BASE, upper("top", "  rules:\n    fit: {reason: r, words: small/large}\n"))
    assert (fault.place.file, fault.place.line, fault.subject) == ("upper1.pack.yaml", 5, "fit words")
    assert fault.said == '"small/large" leaves importance and because and remedy of tight and loose without a side'
    anew = "importance: minor, because: {small: a., large: b.}, remedy: {small: c., large: d.}"
    still = faults_of(BASE, upper("top", f"  rules:\n    fit: {{reason: r, words: small/large, {anew}}}\n"))
    assert {each.place.file for each in still} == {"upper1.pack.yaml"}


@pytest.mark.parametrize(
    ("typed", "known", "meant"),
    [
        ("guide_clearance", ["rod_side_clearance", "piston_skirt"], None),
        ("rod_side_clearence", ["rod_side_clearance", "piston_skirt"], "rod_side_clearance"),
        ("rod_sied_claerance", ["rod_side_clearance"], "rod_side_clearance"),
        ("main_clearance", ["main_oil_clearance", "ring_end_gap"], "main_oil_clearance"),
    ],
)
def test_another_word_is_not_offered_for_a_slip_of_the_pen(typed: str, known: list[str], meant: str | None) -> None:
    assert nearest(typed, known) == meant


def test_what_cannot_be_amended_is_not_said_to_be() -> None:
    """Either both ways of saying it are open, or neither is offered."""
    again = faults_of(BASE, upper("top", "", more="axes:\n  plane: {names: [front, rear, middle]}\n"))
    amended = faults_of(BASE, upper("top", "  axes:\n    plane: {reason: r, names: [front, rear, middle]}\n"))
    offered = [fault.write for fault in again]
    assert offered == ["it under amend, axes"]
    assert amended == ()
    facts = faults_of(BASE, upper("top", "", more="facts: {grip: {kind: number}}\n"))
    assert [fault.write for fault in facts] == ["it under amend, facts"]
