"""Limits and values that stand in tables, judged: rows that are there, keys not known, keys without a row."""

from __future__ import annotations

import pytest

from specrules.inspection import Options, Report
from specrules.vocabulary import DECISION_RULES, Verdict
from tests.inspecting import finding, inspected, words
from tests.pack.small_tables import PACK


def judged(body: str, decision: str = "simple") -> Report:
    head = "specrules: build-sheet/1\npacks: [tables]\nunit: mm\n"
    return inspected(head + body, {"tables": PACK}, Options(decision=decision))


@pytest.mark.parametrize(
    ("colour", "clearance", "verdict", "side"),
    [
        ("blue", "0.096", Verdict.IN_SPEC, ""),
        ("blue", "0.100", Verdict.IN_SPEC, ""),
        ("blue", "0.0959", Verdict.OUT, "least"),
        ("black", "0.0999", Verdict.OUT, "least"),
        ("black", "0.1041", Verdict.OUT, "most"),
    ],
)
def test_a_limit_is_that_of_its_row(colour: str, clearance: str, verdict: Verdict, side: str) -> None:
    body = f"facts: {{colour: {{1: {colour}}}}}\nreadings: {{clearance: {{1: {clearance}}}}}"
    found = finding(judged(body), "fit", main="1")
    assert (found.verdict, found.side) == (verdict, side and {"least": "low", "most": "high"}[side])


def test_a_limit_without_a_figure_in_its_row_is_no_figure() -> None:
    found = finding(judged("facts: {colour: {1: brown}}\nreadings: {clearance: {1: 0.1}}"), "fit", main="1")
    assert found.verdict is Verdict.NO_FIGURE
    assert words(found.rests_on.missing) == (
        "limits that can be worked out: the table wall has no figure for colour brown",
    )


def test_a_value_without_a_row_is_no_figure_and_names_its_key() -> None:
    report = judged("readings: {shaft: 12}")
    found = finding(report, "drawn")
    assert found.verdict is Verdict.NO_FIGURE
    assert words(found.rests_on.missing) == ("the table grade has no figure for nominal 12 mm",)
    assert finding(report, "stretched").verdict is Verdict.IN_SPEC


def test_a_key_that_nobody_read_is_only_not_measured() -> None:
    assert finding(judged("readings: {clearance: {1: 0.1}}"), "drawn").verdict is Verdict.NOT_MEASURED


@pytest.mark.parametrize(("clearance", "verdict"), [("0.0959", Verdict.OUT), ("0.0985", Verdict.NOT_MEASURED)])
def test_of_a_colour_that_nobody_states_every_row_is_tried(clearance: str, verdict: Verdict) -> None:
    """Below the least of every row it is out whatever the colour; no other value is the same by all of them."""
    pack_without_brown = PACK.replace(", brown]", "]")
    head = "specrules: build-sheet/1\npacks: [tables]\nunit: mm\n"
    report = inspected(head + f"readings: {{clearance: {{1: {clearance}}}}}", {"tables": pack_without_brown})
    assert finding(report, "fit", main="1").verdict is verdict


@pytest.mark.parametrize("decision", DECISION_RULES)
def test_a_size_across_an_edge_is_both_rows_by_every_decision_rule(decision: str) -> None:
    """Over 3 to 6 it is 8 um, over 6 to 10 it is 9 um; the most is 8."""
    assert finding(judged("readings: {shaft: 5.9..6.1}", decision), "drawn").verdict is Verdict.NOT_MEASURED
    assert finding(judged("readings: {shaft: 5.9..5.99}", decision), "drawn").verdict is Verdict.IN_SPEC
    assert finding(judged("readings: {shaft: 6.2..6.5}", decision), "drawn").verdict is Verdict.OUT


def test_a_size_whose_uncertainty_reaches_over_an_edge() -> None:
    assert finding(judged("readings: {shaft: 5.995 ±0.010}", "guarded"), "drawn").verdict is Verdict.NOT_MEASURED
    assert finding(judged("readings: {shaft: 5.995 ±0.004}", "guarded"), "drawn").verdict is Verdict.IN_SPEC
    assert finding(judged("readings: {shaft: 5.995 ±0.010}", "simple"), "drawn").verdict is Verdict.IN_SPEC
