"""Texts of a pack whose amounts stand in no braces: told by `prove`, with what to write, and no reason not to prove."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.proving.amounts_in_texts import bare_in
from specrules.quantity import Refusal
from specrules.quantity.amounts import read_amount
from tests.proving.small_proofs import PACK, proved, sentences

GIVEN_ONCE = {
    "leave 0.0015 in of it": ("0.0015 in", "{0.0015 in}"),
    "leave 0.0015in": ("0.0015 in", "{0.0015 in}"),
    "from 0.001 to 0.002 in": ("0.001 to 0.002 in", "{0.001..0.002 in}"),
    "0.001..0.002 in": ("0.001 to 0.002 in", "{0.001..0.002 in}"),
    "0.1-0.2 mm": ("0.1 to 0.2 mm", "{0.1..0.2 mm}"),
    "a slot 1/16 in wide": ("1/16 in", "{0.0625 in}"),
    "a bar of 3 in.": ("3 in", "{3 in}"),
    "at 40 N, slowly": ("40 N", "{40 N}"),
    "at 40 N slowly": ("40 N", "{40 N}"),
    "7 lbf/in": ("7 lbf/in", "{7 lbf/in}"),
    "at 20 °C": ("20 °C", "{20 °C}"),
    "two thou, or 2 thou": ("2 thou", "{2 thou}"),
    "{0.0015 in} or 0.002 in": ("0.002 in", "{0.002 in}"),
}


@pytest.mark.parametrize("text", GIVEN_ONCE)
def test_an_amount_outside_of_braces_is_told_with_the_braces_that_it_takes(text: str) -> None:
    (found,) = bare_in(text)
    assert found == GIVEN_ONCE[text]
    assert not isinstance(read_amount(found[1].strip("{}")), Refusal)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{0.0015 in}, {0.0005 in | 0.01 mm} and {at most 0.002 in}",
        "{moves} larger",
        "0.0035 of the bore",
        "2 in each set, and 4 in all",
        "5 cc, 2 deg, 6500 rpm, 3 percent, 1.5 times, 12 teeth, M8 bolts, 95 cases of 100",
        "JCGM 100:2008, 5.1.2",
        "10.9 bolts",
        "2 inert gases",
        "1/0 in, 0.2 to 0.1 mm",
    ],
)
def test_what_holds_in_both_systems_is_no_bare_amount(text: str) -> None:
    assert list(bare_in(text)) == []


def test_prove_tells_each_text_once_with_its_line_and_the_pack_proves_all_the_same() -> None:
    because = "because: {tight: It seizes below 0.001 in., loose: It knocks.}\n    caution: Measure at 68 F, 3 in deep."
    text = PACK.replace("    needs: [clean]\n", f"    needs: [clean]\n    {because}\n").replace(
        "question: Is it clean?", "question: Is it flat to 0.02 mm?"
    )
    proof = proved(text)
    told = [said for remark, said in zip(proof.remarks, sentences(proof), strict=True) if remark.kind == "text"]
    assert [said.partition("line ")[2] for said in told] == [
        "17, clean question: tells 0.02 mm in one system of units alone; write {0.02 mm}.",
        "29, fit because tight: tells 0.001 in in one system of units alone; write {0.001 in}.",
        "30, fit caution: tells 68 F in one system of units alone; write {68 F}.",
    ]
    assert proof.sound
    assert [remark.kind for remark in proved(PACK).remarks if remark.kind == "text"] == []


def test_a_pack_is_told_of_its_own_texts_alone() -> None:
    below = PACK.replace("    needs: [clean]\n", "    needs: [clean]\n    caution: Measure at 68 F.\n")
    upper = """\
specrules: tolerance-pack/1
pack: {name: upper, version: "1", title: Within 0.5 mm, builds on: [small], unit: mm}
"""
    told = [remark for remark in proved(below, upper, name="upper").remarks if remark.kind == "text"]
    assert [(remark.place.file, remark.subject, remark.write) for remark in told] == [
        ("upper.pack.yaml", "upper title", "{0.5 mm}")
    ]


def test_a_reason_that_the_ledger_tells_too_is_told_once() -> None:
    lax = """\
specrules: tolerance-pack/1
pack: {name: upper, version: "1", title: Lax, builds on: [small], unit: in}
amend:
  rules:
    fit: {reason: 0.001 in does no harm., limits: [{name: base, most: 0.009 in}]}
"""
    told = [remark for remark in proved(PACK, lax, name="upper").remarks if remark.kind == "text"]
    assert [remark.write for remark in told] == ["{0.001 in}"]


@given(st.text(st.sampled_from('0123456789.,/-– inmthou{}|°CF"ab'), max_size=30))
def test_whatever_a_text_holds_what_is_told_can_be_read(text: str) -> None:
    for _, braces in bare_in(text):
        assert not isinstance(read_amount(braces.strip("{}")), Refusal)
