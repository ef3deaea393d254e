"""Rules of yes and no: what fits, what is wrong, what is not known, and what a screen says of each."""

from __future__ import annotations

import pytest

from specrules.inspection import Options, Report
from specrules.inspection.digits import measured
from specrules.output.telling import limits_of, verdict_text
from specrules.pack.pack_reading import read_pack
from specrules.proving import prove
from specrules.vocabulary import Verdict
from tests.inspecting import finding, inspected, words
from tests.pack.small_packs import faults_of
from tests.pack.small_tables import PACK

RULES = """\
  shell:
    title: Shell that the stamps ask for
    each: main
    formula: colour == crossed_shell(block_stamp, crank_stamp)
    importance: {wrong: critical}
    because: {wrong: The clearance is that of another shell.}
    remedy: {wrong: fit the shell that the stamps ask for}
    source: {kind: house}
    worked:
      - given: {facts: {block_stamp: A, crank_stamp: 1, colour: {1: blue}}}
        expect: {at: {main: 1}, verdict: in spec}
      - given: {facts: {block_stamp: A, crank_stamp: 1, colour: {1: black}}}
        expect: {at: {main: 1}, verdict: out of spec, side: wrong}
  named:
    title: Grade stamped is the grade measured
    formula: casting == grade_name(shaft)
    importance: major
    source: {kind: house}
    worked:
      - given: {facts: {casting: small}, readings: {shaft: 2}}
        expect: {verdict: in spec}
"""
WHOLE = PACK + RULES


def judged(body: str, decision: str = "guarded") -> Report:
    head = "specrules: build-sheet/1\npacks: [tables]\nunit: mm\n"
    return inspected(head + body, {"tables": WHOLE}, Options(decision=decision))


def shell(facts: str) -> tuple[Verdict, str, tuple[str, ...]]:
    found = finding(judged(f"facts: {{mains: 1, {facts}}}"), "shell", main="1")
    return found.verdict, found.side, words(found.rests_on.missing)


@pytest.mark.parametrize(
    ("facts", "verdict", "side"),
    [
        ("block_stamp: A, crank_stamp: 1, colour: {1: blue}", Verdict.IN_SPEC, ""),
        ("block_stamp: B, crank_stamp: 1, colour: {1: black}", Verdict.IN_SPEC, ""),
        ("block_stamp: B, crank_stamp: 1, colour: {1: blue}", Verdict.OUT, "wrong"),
        ("block_stamp: A, crank_stamp: 2, colour: {1: brown}", Verdict.OUT, "wrong"),
        ("crank_stamp: 1, colour: {1: brown}", Verdict.OUT, "wrong"),  # whatever the block says
    ],
)
def test_what_two_stamps_ask_for_is_fitted_or_not(facts: str, verdict: Verdict, side: str) -> None:
    assert shell(facts)[:2] == (verdict, side)


def test_a_stamp_that_nobody_states_is_asked_for() -> None:
    assert shell("crank_stamp: 1, colour: {1: blue}") == (Verdict.NOT_MEASURED, "", ("state block_stamp",))
    assert shell("block_stamp: A, crank_stamp: 1") == (Verdict.NOT_MEASURED, "", ("state colour",))


def test_a_stamp_without_a_row_is_no_figure() -> None:
    found = shell("block_stamp: A, crank_stamp: 7, colour: {1: blue}")
    assert found == (Verdict.NO_FIGURE, "", ("the table crossed has no figure for crank 7",))


@pytest.mark.parametrize(
    ("shaft", "casting", "verdict"),
    [
        ("5.90 ±0.01", "small", Verdict.IN_SPEC),
        ("5.90 ±0.01", "middle", Verdict.OUT),
        ("5.995 ±0.01", "small", Verdict.NOT_MEASURED),
        ("5.995 ±0.01", "middle", Verdict.NOT_MEASURED),
        ("2.99 ±0.05", "small", Verdict.IN_SPEC),  # two rows of one name
    ],
)
def test_a_label_looked_up_by_a_measured_size(shaft: str, casting: str, verdict: Verdict) -> None:
    found = finding(judged(f"facts: {{casting: {casting}}}\nreadings: {{shaft: {shaft}}}"), "named")
    assert found.verdict is verdict
    if verdict is Verdict.NOT_MEASURED:
        assert words(found.rests_on.missing) == ("what is looked up in the table grade surely enough to tell its row",)


def test_a_text_that_nobody_states_is_asked_for() -> None:
    found = finding(judged("readings: {shaft: 2}"), "named")
    assert (found.verdict, words(found.rests_on.missing)) == (Verdict.NOT_MEASURED, ("state casting",))


def test_proving_asks_for_an_example_that_fits_and_one_that_is_wrong() -> None:
    pack, faults = read_pack([("tables.pack.yaml", WHOLE.encode())])
    assert pack is not None, faults
    proof = prove([pack], "tables")
    assert proof.sound
    asked = {(each.subject, each.said) for each in proof.remarks if each.subject in ("shell", "named")}
    left_out = "no example leaves something out"
    assert asked == {("named", "no example is wrong"), ("named", left_out), ("shell", left_out)}


def test_a_screen_says_yes_and_no_and_no_amounts() -> None:
    found = finding(judged("facts: {mains: 1, block_stamp: A, crank_stamp: 1, colour: {1: black}}"), "shell", main="1")
    assert (measured(found), limits_of(found), verdict_text(found)) == ("no", "has to be so", "WRONG")
    assert [step.do for step in found.steps] == ["fit the shell that the stamps ask for"]


@pytest.mark.parametrize(
    ("good", "bad", "said"),
    [
        ("{wrong: critical}", "{}", "shell: has no importance; write critical, major or minor."),
        ("wrong: fit the", "high: fit the", 'shell remedy: "high" is no side of this rule; write wrong or otherwise.'),
        ("casting == grade_name(shaft)", "shaft", "named: has no limits; write limits: and lines of them, or"),
        ("casting == grade_name(shaft)", "shaft > 1 mm", "compares shaft, which is measured"),
        ("casting == grade_name(shaft)", "castin == grade_name(shaft)", "castin"),
    ],
)
def test_a_rule_without_limits_has_to_be_a_condition(good: str, bad: str, said: str) -> None:
    found = faults_of(WHOLE.replace(good, bad))
    assert [said in fault.sentence() for fault in found] == [True]
