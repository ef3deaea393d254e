"""What is left of a specification for one thing: absent is absent everywhere, unknown is asked for."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.pack import Described, Present, Specification, present
from specrules.proving import prove
from specrules.vocabulary import Code, Verdict
from tests.inspecting import inspected, run
from tests.pack.small_packs import faults_of, read_text, resolved, upper
from tests.pack.small_pump import PUMP

HEAD = "specrules: build-sheet/1\npacks: [pump]\nunit: mm\n"
PACKS = {"pump": PUMP}


def left(numbers: dict[str, int] | None = None, **words: str) -> Present:
    return present(resolved(PUMP), Described(words, {name: Decimal(each) for name, each in (numbers or {}).items()}))


def names(spec: Specification) -> dict[str, list[str]]:
    sections = ("axes", "facts", "measurands", "figures", "sign_offs", "rules", "parts")
    return {section: list(getattr(spec, section)) for section in sections}


def test_nothing_absent_is_the_specification_itself() -> None:
    spec = resolved(PUMP)
    assert names(present(spec, Described({"seal": "face", "fluid": "acid"})).spec) == names(spec) | {
        "measurands": ["wear_ring", "spare_ring", "face_wear", "spring_height", "liner"],
        "sign_offs": ["gland_even", "faces_clean", "turns", "acid_proof"],
    }


def test_what_cannot_be_read_without_something_absent_is_absent_too() -> None:
    found = left(seal="packing", fluid="water")
    assert names(found.spec) == {
        "axes": ["stage"],
        "facts": ["drive", "stages", "seal", "fluid", "hot"],
        "measurands": ["wear_ring", "spare_ring", "packing_gap"],
        "figures": ["seal_play"],
        "sign_offs": ["gland_even", "turns"],  # the faces' one is needed by nothing; one that nothing needs stays
        "rules": ["ring_gap", "seal_fit", "cool"],
        "parts": ["seal_parts"],
    }
    assert found.names == {
        "springs": "seal",
        "spring": "seal",
        "face_wear": "seal",
        "spring_height": "seal",
        "liner": "fluid",
        "face_share": "seal",
    }
    assert found.rules == {"half_wear": "seal", "springs_even": "seal", "lining": "fluid"}
    assert found.sign_offs == {"faces_clean": "", "acid_proof": ""}
    assert [way.name for way in found.spec.figures["seal_play"].ways] == ["packing"]
    assert found.spec.operations["lapped"].makes_stale == ("wear_ring",)
    assert found.spec.parts["seal_parts"].measurands == ("packing_gap",)
    lines = found.spec.rules["ring_gap"].governing[0].lines
    assert [line.name for line in lines] == ["base", "packed", "not packed"]


def test_where_something_is_absent_each_figure_holds_for_what_it_did() -> None:
    shaft = PUMP.replace("least: 0.2 mm, most: 0.5 mm}", "least: 0.2 mm, most: 0.5 mm, holds for: {drive: shaft}}")
    pack = shaft.replace("limits: {most: 0.6 mm}", "limits: {most: 0.6 mm, holds for: {fluid: water}}", 1)
    found = present(resolved(pack), Described({"seal": "packing"}, {}))
    assert "springs" in found.names
    lines = (found.spec.rules[rule].governing[0].lines[0] for rule in ("ring_gap", "seal_fit"))
    assert [line.holds["most"].keys[0].name for line in lines] == ["drive", "fluid"]


def test_a_comparison_about_an_absent_fact_is_false_either_way() -> None:
    """A canned pump has no seal: neither `seal == packing` nor `not seal == packing` is true of it."""
    found = left(drive="canned", fluid="water")
    assert "seal" not in found.spec.facts
    assert [line.name for line in found.spec.rules["ring_gap"].governing[0].lines] == ["base"]
    assert list(found.spec.rules) == ["ring_gap", "cool"]
    assert found.names["springs"] == "drive"  # what decides in the end, and not the fact that is absent itself


def test_what_nobody_states_is_asked_for_and_what_hangs_on_it_is_not_measured() -> None:
    found = inspected(HEAD + "facts: {stages: 1}\nreadings: {wear_ring: {1: 0.3}, packing_gap: 0.4}", PACKS)
    verdicts = {each.rule: each.verdict for each in found.findings}
    assert verdicts["seal_fit"] is Verdict.NOT_MEASURED
    asked = {reason.names for each in found.findings if each.rule == "seal_fit" for reason in each.rests_on.missing}
    assert asked == {("seal",)}


@pytest.mark.parametrize(
    ("body", "said"),
    [
        (
            "facts: {seal: packing}\nreadings: {face_wear: 0.3}",
            'engine.sheet.yaml, line 5, readings: "face_wear" is about what is not there, since seal is'
            " packing; write nothing there, or another seal under facts.",
        ),
        (
            "facts: {drive: canned, seal: face}",
            'engine.sheet.yaml, line 4, facts: "seal" is about what is not there, since drive is canned;'
            " write nothing there, or another drive under facts.",
        ),
        (
            "facts: {seal: packing}\nlimits: {half_wear: {most: 0.5}}",
            'engine.sheet.yaml, line 5, limits: "half_wear" is about what is not there, since seal is'
            " packing; write nothing there, or another seal under facts.",
        ),
        (
            "facts: {seal: packing}\nparts: {faces: new}",
            'engine.sheet.yaml, line 5, parts: "faces" is about what is not there, since seal is packing;'
            " write nothing there, or another seal under facts.",
        ),
        (
            "facts: {seal: packing}\nconcessions: [{rule: half_wear, reason: old, by: me}]",
            'engine.sheet.yaml, line 5, concessions: "half_wear" is about what is not there, since seal is'
            " packing; write nothing there, or another seal under facts.",
        ),
    ],
    ids=["reading", "fact", "limits", "part", "concession"],
)
def test_to_write_about_what_is_absent_is_a_fault_that_names_the_fact(body: str, said: str) -> None:
    assert run(HEAD + body, PACKS).faults == (said,)


def test_an_empty_cell_and_a_sign_off_that_is_not_needed_are_none() -> None:
    body = "facts: {seal: packing}\nreadings: {face_wear: open}\nsigned: {faces_clean: {by: me}}"
    found = inspected(HEAD + body, PACKS)
    assert {state.name for state in found.sign_offs} == {"gland_even", "turns", "acid_proof"}


def test_absent_counts_nowhere_so_that_a_whole_sheet_is_clear() -> None:
    body = """\
facts: {stages: 2, drive: canned, fluid: water}
readings: {wear_ring: {1: 0.3, 2: 0.3}}
signed: {turns: {by: me}}
"""
    found = inspected(HEAD + body, PACKS)
    assert found.verdict == "clear"
    assert {each.rule for each in found.findings} == {"ring_gap", "cool"}
    assert found.evidence.apply == 2
    assert found.counts[Verdict.NOT_APPLICABLE] == 0


def test_facts_and_axes_that_exist_by_themselves_are_at_fault() -> None:
    pack = PUMP.replace("[shaft, canned], assumed: shaft", "[shaft, canned], applies when: seal == face")
    (fault,) = faults_of(pack)
    assert fault.code is Code.CIRCULAR
    assert fault.said == "is asked for by itself: drive by seal by drive"


def test_a_condition_of_existence_is_over_facts_of_the_whole_thing() -> None:
    pack = PUMP.replace("liner: {unit: mm, applies when: fluid == acid}", "liner: {unit: mm, applies when: stage == 1}")
    assert [fault.code for fault in faults_of(pack)] == [Code.NOT_ONE_VALUE]


def test_a_group_stands_or_falls_as_a_whole() -> None:
    pack = PUMP.replace("group: Pump\n", "group: Pump\napplies when: fluid == acid\n")
    spec = resolved(pack)
    assert names(present(spec, Described({"fluid": "water"})).spec) == {
        "axes": ["stage", "spring"],
        "facts": ["drive", "stages", "seal", "springs", "fluid", "hot"],
        "measurands": [],
        "figures": [],
        "sign_offs": [],
        "rules": [],
        "parts": [],
    }


def test_what_an_amendment_alone_switches_off_stands_and_is_told() -> None:
    """Else a pack could take a check away with nothing in the ledger."""
    above = upper("above", "  rules:\n    cool: {reason: why, applies when: fluid == acid}\n", on="pump")
    body = "facts: {stages: 1, fluid: water, drive: canned}\nreadings: {wear_ring: {1: 0.3}}"
    found = inspected(HEAD.replace("pump]", "above]") + body, {**PACKS, "above": above})
    assert [each.verdict for each in found.findings if each.rule == "cool"] == [Verdict.NOT_APPLICABLE]
    assert [(each.name, each.part) for each in found.ledger] == [("cool", "applies when")]


def test_the_pump_is_proven() -> None:
    proof = prove([read_text(PUMP, "pump.pack.yaml")], "pump")
    assert [each for each in proof.remarks if each.kind in ("example", "wrong")] == []


@pytest.mark.parametrize(
    ("facts", "there"),
    [("{fluid: water}", False), ("{fluid: acid}", True), ("{}", True)],  # where nobody says it may be there
)
def test_a_part_exists_by_a_condition_of_its_own(facts: str, there: bool) -> None:
    """What is measured on it may be there all the same, since it is measured on another part too."""
    text = PUMP.replace("parts:\n", "parts:\n  lined_ring: {measurands: wear_ring, applies when: fluid == acid}\n")
    sheet = f"{HEAD}facts: {facts}\nparts: {{lined_ring: new}}\n"
    found, faults = run(sheet, {"pump": text})
    assert (found is not None) is there, faults
    said = (
        '5, parts: "lined_ring" is about what is not there, since fluid is water; write nothing there, or another fluid'
    )
    assert all(said in fault for fault in faults)
