"""The packs that ship are proven whole: every limit in order, every worked example right, nothing left unexercised."""

from __future__ import annotations

import re
from functools import cache

import pytest

from specrules.effects.pack_files import PackFiles, shipped_folder
from specrules.output.proof import remark_text
from specrules.pack.pack_reading import read_pack
from specrules.plugins import plug
from specrules.proving import Proof, prove
from tests.lanes import first_alone
from tests.shipped import RULED, packs

TAUGHT = "teaching"
"""A pack of lessons and exercises, without rules of its own."""

ACCEPTED = {
    ("general", "piston_clearance", "small sizes"): (
        "a cast piston in an aluminium block takes half a thou off both limits, and under 2.6 in of bore the floor "
        "of 0.0008 in passes what is left of the most: general practice has no figure for so small an aluminium block"
    ),
    ("towing", "piston_clearance", "small sizes"): (
        "the same floor and the same shift, with the half thou that towing adds: under 1.6 in of bore"
    ),
}
"""What is found and stands, with its reason. Anything else found fails, and so does an entry that is found no more."""


@cache
def proof(name: str) -> Proof:
    return prove(packs(name), name, plug().functions)


@pytest.mark.second_lane
@pytest.mark.parametrize("name", first_alone(*RULED))
def test_a_shipped_pack_is_proven(name: str) -> None:
    proven = proof(name)
    assert not proven.faults, [fault.sentence() for fault in proven.faults]
    assert proven.sound, [remark_text(remark) for remark in proven.remarks if remark.wrong]
    assert proven.counts["examples"] >= proven.counts["rules"] > 0


@pytest.mark.second_lane
def test_the_pack_of_lessons_is_proven() -> None:
    proven = proof(TAUGHT)
    assert not proven.faults, [fault.sentence() for fault in proven.faults]
    assert [remark_text(remark) for remark in proven.remarks] == []
    assert proven.counts["exercises"] >= 6
    assert proven.counts["mistakes"] > proven.counts["questions"] > proven.counts["exercises"]


@pytest.mark.second_lane
@pytest.mark.parametrize("name", first_alone(*RULED))
def test_nothing_is_left_unexercised_but_what_has_its_reason(name: str) -> None:
    found = {(name, remark.subject, remark.kind): remark_text(remark) for remark in proof(name).remarks}
    assert found.keys() == {key for key in ACCEPTED if key[0] == name}, found


def test_every_shipped_pack_is_proven_here() -> None:
    assert set(PackFiles().names()) == {*RULED, TAUGHT}


@pytest.mark.second_lane
def test_no_limit_of_a_shipped_pack_can_be_put_wrong_unnoticed() -> None:
    """Each least, most and shift of the towing pack made an eighth larger, one at a time."""
    text = (shipped_folder() / "towing.pack.yaml").read_text(encoding="utf-8")
    (general,) = packs("general")
    figures = list(re.finditer(r"(?:least|most|shift): [^,}\n]*?(\d+\.\d+)(?= )", text))
    assert len(figures) > 10
    clean = {remark.said for remark in proof("towing").remarks}
    for figure in figures:
        wrong = f"{text[: figure.start(1)]}{float(figure[1]) * 1.125:.7f}{text[figure.end(1) :]}"
        pack, faults = read_pack([("towing.pack.yaml", wrong.encode())])
        assert pack is not None, faults
        proven = prove((general, pack), "towing", plug().functions)
        assert not proven.sound or {remark.said for remark in proven.remarks} - clean, figure[0]
