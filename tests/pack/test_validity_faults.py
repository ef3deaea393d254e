"""What is wrong with what a pack says its figures hold for, and with the facts that its heading names."""

from __future__ import annotations

import pytest

from tests.pack.ram_packs import RAMS
from tests.pack.small_packs import faults_of

RULE = "{medium: oil, action: [single, double], tube_size: 20..100 mm}"

WRONG = [
    (RULE, "{medium: foam}", '"foam" is none of oil, water, air'),
    (RULE, "{medium: [oil, oil]}", '"oil" stands twice; write it once.'),
    (RULE, "{medium: [oil, any]}", 'stands beside "any"; write any alone.'),
    (RULE, "{medum: oil}", '"medum" is no fact, figure or axis; write medium.'),
    (RULE, "{tube: 20..100 mm}", '"tube" is measured, and figures hold by facts, labels and figures'),
    (RULE, "{tube_size: 20 mm}", '"20 mm" is no range with two ends'),
    (RULE, "{tube_size: [20..30 mm, 40..50 mm]}", "is one of several, and sizes are one range"),
    (RULE, "{tube_size: 100..20 mm}", "100"),
    (RULE, "{tube_size: 20..100 g}", "g"),
    (RULE, "{ram: [1, 2], medium: []}", "says nothing; write any."),
    ("  figures hold by: [medium, action]", "  holds for: {ram: 1}", "names an axis in a heading"),
    ("[medium, action]", "[medium, state]", '"state" is assumed, and what figures hold by has to be stated'),
    ("[medium, action]", "[medium, rams]", '"rams" is no choice, and figures hold by choices'),
    ("[medium, action]", "[medium, nothing]", '"nothing" is no fact'),
    ("  unit: mm", "  unit: mm\n  examples assume: {medium: foam}", '"foam" is none of oil, water, air'),
    ("  unit: mm", "  unit: mm\n  examples assume: {mud: foam}", '"mud" is no fact'),
]


@pytest.mark.parametrize(("was", "now", "said"), WRONG)
def test_a_fault_is_told_at_its_line_once(was: str, now: str, said: str) -> None:
    text = RAMS.replace(was, now, 1)
    assert text != RAMS
    told = [fault.sentence() for fault in faults_of(text)]
    assert len([each for each in told if said in each]) == 1, told


def test_a_rule_without_figures_holds_for_nothing() -> None:
    before, after = RAMS.split("    limits:\n      - {name: base, holds")
    text = f"{before}    holds for: {{medium: oil}}\n    limits: none\n{after[after.index('    source') :]}"
    said = [fault.sentence() for fault in faults_of(text)]
    assert len(said) == 1
    assert "has no figures, so that none of them hold for anything" in said[0]
