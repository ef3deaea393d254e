"""Worked examples: each is inspected by itself, and what does not come out is said with what it came from."""

import pytest

from specrules.output.proof import remark_text
from specrules.pack.pack_reading import read_pack
from specrules.proving import prove
from tests.proving.small_proofs import PACK, UPPER, changed, proved, sentences

UNSIGNED = """\
      - given: {{facts: {{material: iron}}, readings: {{hole: {{1: 2.0040}}, shaft: {{1: 2.0000}}}}}}
        unsigned: [{name}]
        expect: {{at: {{place: 1}}, verdict: {verdict}}}
"""


def test_a_pack_whose_examples_show_everything_is_proven_without_a_word() -> None:
    proof = proved()
    assert proof.sound
    assert sentences(proof) == []
    assert proof.counts == {"rules": 1, "examples": 4, "expectations": 14, "settings": 2}


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        (
            "value: 0.0040 in",
            "value: 0.0041 in",
            "line 40, fit, example 2: 0.0041 in is expected at place 1, and what came out is 0.0040 in "
            "(from hole 2.0040 - shaft 2.0000; held to least 0.0020, most 0.0060).",
        ),
        (
            "side: tight, beyond: 0.0001 in",
            "side: loose, beyond: 0.0002 in",
            "line 42, fit, example 2: beyond by 0.0002 in, loose is expected at place 3, and what came out is beyond "
            "by 0.0001 in, tight (from hole 2.0019 - shaft 2.0000; held to least 0.0020, most 0.0060).",
        ),
        (
            "verdict: not measured",
            "verdict: in spec",
            "line 35, fit, example 1: in spec is expected at place 1, and what came out is not measured "
            "(for want of: shaft 1).",
        ),
        (
            "hole: {1: 2.0040}}}",
            "holl: {1: 2.0040}}}",
            'line 34, fit, example 1: readings: "holl" is no measurand of these packs; write hole.',
        ),
        (
            "value: 0.0040 in",
            "value: 0.0040 g",
            'line 40, fit, example 2: "0.0040 g" is in g, which is mass, not length.',
        ),
        (
            "{at: {place: 5}, value",
            "{at: {place: 6}, value",
            "line 44, fit, example 2: the rule is not judged at place 6; write a station that its given part has.",
        ),
        (
            "{at: {place: 5}, value",
            "{value",
            "line 44, fit, example 2: the rule is judged at 5 stations; write at: {place: LABEL}.",
        ),
    ],
)
def test_what_does_not_come_out(old: str, new: str, sentence: str) -> None:
    proof = proved(changed(old, new))
    assert not proof.sound
    assert sentences(proof) == [f"small.pack.yaml, {sentence}"]


@pytest.mark.parametrize("figure", ["0.004 in", "0.00 in", "4.0 thou", "0.102 mm", "0.1016 mm", ".0040"])
def test_a_figure_is_held_at_the_places_that_it_is_written_with(figure: str) -> None:
    assert sentences(proved(changed("value: 0.0040 in", f"value: {figure}"))) == []


@pytest.mark.parametrize(("figure", "came"), [("0.1017 mm", "0.1016 mm"), ("0.00399 in", "0.00400 in")])
def test_a_figure_with_more_places_has_to_be_right_in_all_of_them(figure: str, came: str) -> None:
    (found,) = sentences(proved(changed("value: 0.0040 in", f"value: {figure}")))
    assert f"{figure} is expected at place 1, and what came out is {came} (" in found


def test_sign_offs_count_as_given_but_for_those_that_the_example_names() -> None:
    assert sentences(proved(PACK + UNSIGNED.format(name="clean", verdict="not proven"))) == []
    assert sentences(proved(PACK + UNSIGNED.format(name="clean", verdict="in spec"))) == [
        "small.pack.yaml, line 63, fit, example 5: in spec is expected at place 1, and what came out is not proven "
        "(from hole 2.0040 - shaft 2.0000; held to least 0.0020, most 0.0060; unsigned: clean)."
    ]
    assert sentences(proved(PACK + UNSIGNED.format(name="claen", verdict="in spec"))) == [
        'small.pack.yaml, line 61, fit, example 5: "claen" is no sign-off; write clean.'
    ]


def test_an_upper_packs_examples_are_worked_in_its_own_specification_and_unit_and_the_lower_ones_are_not() -> None:
    """It sets the material, its bare lengths are in mm, and what it does not touch is the lower pack's to show."""
    limits = "      limits: [{name: base, most: 0.0028 * size}]\n"
    worked = "".join(
        f"        - given: {{readings: {{hole: {{1: {hole}}}, shaft: {{1: 50.000}}}}}}\n          expect: {said}\n"
        for hole, said in (
            ("50.1527", "{value: 0.1527, verdict: in spec}"),
            ("50.1528", "{value: 0.1528, verdict: out of spec, side: loose, beyond: 0.0001}"),
            ("50.1000", "{value: 0.1, verdict: in spec}"),
        )
    )
    proof = proved(PACK, f"{UPPER}{limits}      worked:\n{worked}", name="upper")
    assert proof.counts["examples"] == 3
    assert sentences(proof) == []
    assert sentences(proved(PACK, UPPER + limits, name="upper")) == [
        "upper.pack.yaml, line 5, fit: its limits are amended, and no example works them; "
        "write worked: and an example on each side."
    ]


def test_a_rule_that_another_one_needs_is_judged_in_its_examples_too() -> None:
    other = """\
  straight:
    title: Straightness
    each: place
    formula: hole
    unit: in
    limits: {most: 2.0050 in}
    importance: minor
    source: {kind: house}
    worked:
      - given: {readings: {hole: {1: 2.0051}}}
        expect: {at: {place: 1}, verdict: out of spec}
"""
    text = changed("    needs: [clean]", "    needs: [clean, straight]", PACK + other)
    found = [remark_text(remark) for remark in proved(text).remarks if remark.kind == "example"]
    assert len(found) == 4, found  # good values of a hole over 2.0050: 2.0060, 2.0065, 2.0079 and 2.0080
    assert all("what came out is not proven" in each for each in found)
    assert sum("worn within limit is expected" in each for each in found) == 2
    assert all("unsigned: straight" in each for each in found)


def test_what_cannot_be_resolved_is_told_as_it_is() -> None:
    proof = proved(changed("formula: hole - shaft", "formula: hole - shaff"))
    assert not proof.sound
    assert [fault.sentence() for fault in proof.faults] == [
        "small.pack.yaml, line 24, fit formula: \"hole - shaff\" has 'shaff', which is no measurand, fact or figure; "
        "write shaft."
    ]


def test_the_same_packs_give_the_same_proof() -> None:
    text = changed("value: 0.0040 in", "value: 0.0041 in")
    assert proved(text) == proved(text)


def test_a_pack_that_is_not_there_is_a_fault() -> None:
    pack, _ = read_pack([("small.pack.yaml", PACK.encode())])
    assert pack is not None
    assert [fault.said for fault in prove((pack,), "smal").faults] == ['"smal" is no pack that was found']
