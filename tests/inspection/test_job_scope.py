"""The scope of a job: other headings are neither asked for nor counted; what was measured is judged in any case."""

from __future__ import annotations

import pytest

from specrules.inspection import Options, Report
from specrules.output.closing_lines import closing, in_a_line
from specrules.output.ledger_lines import told
from specrules.output.report_record import record_of
from specrules.output.terminal import text_of
from specrules.record import record_data
from specrules.vocabulary import Relaxed, Verdict
from tests.inspecting import inspected, run
from tests.pack.small_pump import PUMP

MOTOR = """\
specrules: tolerance-pack/1
group: Motor
pack: {name: motor, version: "1", title: Its motor, builds on: [pump], unit: mm}
measurands:
  air_gap: {unit: mm}
sign-offs:
  earthed: {question: Is it earthed?, source: {kind: house}}
  dry: {question: Is it dry?, hold point: closed, source: {kind: house}}
rules:
  air:
    title: Air gap
    formula: air_gap
    limits: {least: 0.5 mm, most: 0.8 mm}
    importance: minor
    hold point: closed
    needs: [dry, ring_gap]
    source: {kind: house}
    worked: [{given: {readings: {air_gap: 0.6}}, expect: {verdict: in spec}}]
"""
PACKS = {"pump": PUMP, "motor": MOTOR}
HEAD = "specrules: build-sheet/1\npacks: [motor]\nunit: mm\nfacts: {stages: 1, drive: canned, fluid: acid}\n"


def scoped(body: str, options: Options | None = None) -> Report:
    return inspected(HEAD + body, PACKS, options)


def rules(found: Report) -> list[str]:
    return [finding.rule for finding in found]


def test_what_is_outside_the_scope_is_not_asked_for() -> None:
    whole, part = scoped("readings: {wear_ring: {1: 0.3}}"), scoped("scope: Pump\nreadings: {wear_ring: {1: 0.3}}")
    assert rules(whole) == ["ring_gap", "cool", "lining", "air"]
    assert rules(part) == ["ring_gap", "cool", "lining"]
    assert [state.name for state in part.sign_offs] == ["turns", "acid_proof"]
    assert part.counts[Verdict.NOT_MEASURED] == 1


def test_what_rules_in_scope_need_is_asked_for_wherever_it_lives() -> None:
    """The air gap needs the gap of the wear ring, which stands under another heading."""
    found = scoped("scope: [Motor]")
    assert rules(found) == ["ring_gap", "air"]
    assert [state.name for state in found.sign_offs] == ["earthed", "dry"]


def test_what_was_measured_is_judged_in_any_case() -> None:
    found = scoped("scope: Motor\nreadings: {liner: 1.5, wear_ring: {1: 0.3}, air_gap: 0.6}")
    assert {finding.rule: finding.verdict for finding in found}["lining"] is Verdict.OUT
    assert "lining" not in {finding.rule for finding in found.open}
    assert found.counts[Verdict.OUT] == 1


def test_the_closing_lines_and_the_ledger_name_the_scope() -> None:
    body = "scope: [Motor]\nreadings: {wear_ring: {1: 0.3}, air_gap: 0.6}\nsigned: {earthed: {by: me}, dry: {by: me}}"
    found = scoped(body)
    assert found.verdict == "clear"
    lines = text_of(list(closing(found)))
    assert (
        "\nGo on with Motor alone: nothing holds the job and nothing is open up to the hold\npoint started.\n" in lines
    )
    assert "\nOnly Motor: nothing else was asked for.\n" in lines
    (entry,) = found.ledger
    assert entry.code is Relaxed.LEFT_OUT
    assert told(entry) == "Scope: only Motor asked for and counted, by this sheet, engine.sheet.yaml, line 5."


def test_the_sheets_hold_point_stands_until_the_command_says_another() -> None:
    body = "until: closed\nreadings: {wear_ring: {1: 0.3}}"
    assert scoped(body).until == "closed"
    assert scoped(body, Options(until="started")).until == "started"
    assert {finding.hold_point for finding in scoped(body).open} == {"closed"}


@pytest.mark.parametrize(
    ("body", "asked", "sheet", "until"),
    [
        ("", Options(), {"scope": [], "until": None}, "started"),
        ("scope: [Motor, Pump]\nuntil: closed", Options(), {"scope": ["Motor", "Pump"], "until": "closed"}, "closed"),
        ("until: closed", Options(until="started"), {"scope": [], "until": "closed"}, "started"),
    ],
)
def test_a_record_tells_what_the_sheet_asks_for_and_what_was_asked(
    body: str, asked: Options, sheet: dict[str, object], until: str
) -> None:
    made = record_data(record_of(scoped(body, asked), None, "1.0"))
    assert {key: made["sheet"][key] for key in sheet} == sheet
    assert made["until"] == until


def test_one_sheet_of_several_tells_its_scope() -> None:
    assert in_a_line(scoped("scope: [Motor]")) == "not yet: 2 not measured; only Motor"
    assert in_a_line(scoped("")) == "not yet: 4 not measured"


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ("scope: [Moter]", 'engine.sheet.yaml, line 5, scope: "Moter" is no group of these packs; write Motor.'),
        ("until: close", 'engine.sheet.yaml, line 5, until: "close" is no hold point; write closed.'),
    ],
)
def test_a_group_or_hold_point_that_there_is_not_is_a_fault(body: str, said: str) -> None:
    assert run(HEAD + body, PACKS).faults == (said,)
