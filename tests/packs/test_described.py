"""An engine described: what its facts rule out is absent from what general practice asks."""

from __future__ import annotations

import pytest

from specrules.pack import Described, present
from specrules.sheet.new_sheet import NewSheet, start
from tests.inspecting import inspected, run
from tests.shipped import resolved

HEAD = "specrules: build-sheet/1\npacks: [general]\nunit: mm\n"
FACTS = "cylinders: 2, mains: 2, throws: [[1, 2]]"


def test_a_crank_in_rolling_bearings_has_no_plain_ones() -> None:
    found = inspected(f"{HEAD}facts: {{{FACTS}, crank_bearings: rolling}}\nreadings: {{crank_end_float: 0.15}}\n")
    assert "Plain bearings" not in {finding.group for finding in found}
    assert "Crank" in {finding.group for finding in found}
    assert "caps_torqued_dry_shells" not in {state.name for state in found.sign_offs}


def test_old_sheets_that_say_nothing_of_bearings_keep_theirs() -> None:
    found = inspected(f"{HEAD}facts: {{{FACTS}}}\n")
    assert "Plain bearings" in {finding.group for finding in found}


def test_a_shell_in_a_rolling_bearing_is_a_fault_that_names_the_fact() -> None:
    sheet = f"{HEAD}facts: {{{FACTS}, crank_bearings: rolling}}\nreadings: {{main_strip: {{1: 0.05}}}}\n"
    (fault,) = run(sheet, {}).faults
    assert '"main_strip" is about what is not there, since crank_bearings is rolling' in fault


def test_a_new_sheet_asks_for_nothing_that_is_not_there() -> None:
    facts = {"cylinders": "2", "mains": "2", "crank_bearings": "rolling", "pin_fit": "floating"}
    text = start(resolved("general"), facts, NewSheet("A twin", ["general"], "mm"))
    assert "main_strip" not in text
    assert "caps_torqued_dry_shells" not in text
    assert "main_journal:" in text
    assert "Does the crank run in plain bearings with shells, or in balls, rollers or needles?" in text


@pytest.mark.parametrize("bearings", ["plain", "rolling"])
def test_nothing_that_is_left_names_what_is_absent(bearings: str) -> None:
    here = present(resolved("general"), Described({"crank_bearings": bearings})).spec
    for figure in here.figures.values():
        for way in figure.ways:
            assert way.formula.names <= here.scope.names.keys(), figure.name
    for chain in here.rules.values():
        for rule in chain.governing:
            assert rule.formula.names <= here.scope.names.keys(), rule.name
            assert {*rule.needs} <= {*here.rules, *here.sign_offs}, rule.name
            for line in rule.lines:
                assert all(formula.names <= {*here.scope.names, "least", "most", "aim"} for formula in line.formulas())
