"""Limits that look like slips: beyond every usual size, an undersize that grew, ten times a sister's, no width."""

from __future__ import annotations

import pytest

from specrules.output.proof import remark_text
from specrules.proving import ProofRemark
from tests.proving.small_proofs import proved

HEAD = """\
specrules: tolerance-pack/1
pack: {name: small, version: "1.0", title: A small practice, unit: in}
axes: {end: {names: [front, rear]}}
facts: {size: {kind: choice, choices: [standard, undersize_010, oversize_020]}}
measurands:
  gap: {at: end, unit: in, usual: 0.003..0.120 in}
  shaft: {unit: in, usual: 1..3 in}
  hole: {unit: in}
rules:
"""
RULE = """\
  {name}:
    title: {name}
{more}    formula: {formula}
    unit: in
    limits: {limits}
    importance: major
    source: {{kind: house}}
    worked: [{{given: {{facts: {{size: standard}}}}, expect: {{verdict: not measured}}}}]
"""


def rule(limits: str, formula: str = "shaft", name: str = "fit", more: str = "") -> str:
    return RULE.format(name=name, formula=formula, limits=limits, more=more)


def about(*rules: str) -> list[ProofRemark]:
    """What was found of the figures themselves."""
    proof = proved(HEAD + "".join(rules))
    assert not proof.faults, [fault.sentence() for fault in proof.faults]
    return [remark for remark in proof.remarks if remark.kind in ("slip", "question")]


@pytest.mark.parametrize(
    ("limits", "formula", "kind", "said", "write"),
    [
        (
            "{most: 0.19 in}",
            "largest(gap)",
            "slip",
            "the most of 0.19 in lies above every usual gap (0.003 to 0.12 in), so nothing is ever over it",
            "0.019 in, where a point has slipped, or else a wider usual",
        ),
        (
            "{least: 0.250 in}",
            "smallest(gap, end)",
            "slip",
            "the least of 0.250 in lies above every usual gap (0.003 to 0.12 in), so everything is under it",
            "0.0250 in, where a point has slipped, or else a wider usual",
        ),
        (
            "{most: 0.0010 in}",
            "gap[front]",
            "slip",
            "the most of 0.0010 in lies below every usual gap (0.003 to 0.12 in), so everything is over it",
            "0.010 in, where a point has slipped, or else a wider usual",
        ),
        (
            "{least: 0.0010 in}",
            "gap[front]",
            "question",
            "the least of 0.0010 in lies below every usual gap (0.003 to 0.12 in), so nothing is ever under it",
            "0.010 in, where a point has slipped, or else a wider usual",
        ),
        (
            "{most: 20 in}",
            "shaft",
            "slip",
            "the most of 20 in lies above every usual shaft (1 to 3 in), so nothing is ever over it",
            "2.0 in, where a point has slipped, or else a wider usual",
        ),
        (
            "{most: 5.0 in}",
            "shaft",
            "question",
            "the most of 5.0 in lies above every usual shaft (1 to 3 in), so nothing is ever over it",
            "a wider usual, if it is right",
        ),
    ],
)
def test_a_limit_outside_the_usual_sizes(limits: str, formula: str, kind: str, said: str, write: str) -> None:
    (found,) = about(rule(limits, formula))
    assert (found.kind, found.said, found.write) == (kind, said, write)
    assert found.wrong is (kind == "slip")


@pytest.mark.parametrize(
    ("limits", "formula"),
    [
        ("{least: 1.0 in, most: 3.0 in}", "shaft"),  # on the ends
        ("{least: 0 in, most: 0.05 in}", "gap[front]"),
        ("{least: 0.0001 in, most: 0.05 in}", "gap[front]"),  # a least that asks for nothing, and no slip of a point
        ("{most: 20 in}", "hole"),  # nothing says what is usual
        ("{most: 0.0010 in}", "abs(shaft - hole)"),  # a difference has no usual size
        ("{most: 0.0010 in}", "shaft - hole"),
        ("{most: 10 * shaft}", "shaft"),  # no plain figure
    ],
)
def test_limits_of_which_nothing_is_said(limits: str, formula: str) -> None:
    assert about(rule(limits, formula)) == []


@pytest.mark.parametrize(
    ("line", "kind"),
    [
        ("{name: 0.010 undersize, when: size == undersize_010, most: 2.0100 in}", "slip"),
        ("{name: 10 thou undersize, when: size == undersize_010, most: 2.0100 in}", "slip"),
        ("{name: 0.254 mm undersize, when: size == undersize_010, most: 2.0100 in}", "slip"),
        ("{name: the next, when: size == undersize_010, shift: 0.010 in}", "question"),  # by how much it does not say
        ("{name: 0.020 oversize, when: size == oversize_020, most: 1.9800 in}", "slip"),
        ("{name: 0.010 undersize, when: size == undersize_010, most: 1.9900 in}", ""),
        ("{name: 0.010 undersize, when: size == undersize_010, most: 2.0050 in}", ""),  # its partner's half, as a wall
        ("{name: 0.020 oversize, when: size == oversize_020, most: 2.0200 in}", ""),
        ("{name: 0.020 oversize, when: size == oversize_020, shift: 0.0200 in}", ""),
    ],
)
def test_an_allowance_the_wrong_way(line: str, kind: str) -> None:
    found = about(rule(f"[{{name: standard, most: 2.0000 in}}, {line}]"))
    assert [remark.kind for remark in found] == ([kind] if kind else [])


def test_an_oversize_that_shrank_is_said_with_what_it_would_be() -> None:
    line = "{name: 0.020 oversize, when: size == oversize_020, least: 1.9790 in, most: 1.9800 in}"
    (found,) = about(rule(f"[{{name: standard, least: 1.9990 in, most: 2.0000 in}}, {line}]"))
    assert remark_text(found) == (
        "small.pack.yaml, line 14, fit: the line 0.020 oversize lies below the line standard by 0.0200 in, and "
        "0.020 oversize is larger; write least: 2.0190 in, most: 2.0200 in."
    )


def test_only_sisters_are_held_against_each_other() -> None:
    """Names that differ in one word, the same line and side, and ten times to the last place."""
    ten = [rule("{most: 0.05 in}", "hole", "left_fit"), rule("{most: 0.005 in}", "hole", "right_fit")]
    (found,) = about(*ten)
    assert remark_text(found) == (
        "small.pack.yaml, line 14, left_fit: the most of 0.05 in is ten times that of right_fit, 0.005 in; "
        "write 0.005 in, if a nought was lost."
    )
    assert about(ten[0], rule("{most: 0.005 in}", "hole", "right_float")) == []
    assert about(ten[0], rule("{least: 0.005 in}", "hole", "right_fit")) == []
    assert about(ten[0], rule("{most: 0.0051 in}", "hole", "right_fit")) == []
    assert about(ten[0], rule("[{name: other, most: 0.005 in}]", "hole", "right_fit")) == []


def test_a_band_of_no_width_is_asked_about() -> None:
    (found,) = about(rule("{least: 4.0065 in, most: 4.0065 in}", "hole"))
    assert (found.kind, found.said) == ("question", "the least and the most are both 4.0065 in, a band of no width")


UPPER = """\
specrules: tolerance-pack/1
pack: {{name: upper, version: "1", title: Upper, builds on: [small], unit: in}}
amend: {{rules: {{fit: {{reason: so, limits: [{{name: {line}, most: 2.5 in}}]}}}}}}
"""


@pytest.mark.parametrize(("line", "asked"), [("bass", 1), ("base", 0), ("wide", 0)])
def test_a_line_named_nearly_as_one_below_is_asked_about(line: str, asked: int) -> None:
    """An amendment of a line that is not there is a line more, which counts last."""
    proof = proved(HEAD + rule("{most: 2.0 in}"), UPPER.format(line=line), name="upper")
    assert not proof.faults, [fault.sentence() for fault in proof.faults]
    said = [remark_text(remark) for remark in proof.remarks if remark.kind == "question"]
    sentence = (
        "upper.pack.yaml, line 3, fit: the line bass is a line of its own beside base, and stands last; "
        "write base, if that is the one to amend."
    )
    assert said == [sentence] * asked
