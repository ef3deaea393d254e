"""A pack whose limits hang on facts of every kind, and short ways to inspect with some of them unstated."""

from __future__ import annotations

from specrules.inspection import Report
from tests.inspecting import inspected

PACK = """\
specrules: tolerance-pack/1
group: Seats
pack: {{name: seats, version: "1", title: Limits that hang on a number, unit: mm}}
facts:
  seat: {{kind: quantity, unit: mm}}
  rise: {{kind: quantity, unit: mm}}
  ratio: {{kind: number}}
  bolts: {{kind: count}}
  metal: {{kind: choice, choices: [iron, steel]}}
  lined: {{kind: yes/no}}
measurands:
  gap: {{unit: mm}}
rules:
{rules}
"""
RULE = """\
  {name}:
    title: Gap
    formula: {formula}
    unit: mm
    limits: [{lines}]
{more}    importance: minor
    source: {{kind: house}}
    worked: [{{given: {{readings: {{gap: open}}}}, expect: {{verdict: not measured}}}}]
"""
WIDE = "{name: base, most: 1 mm}"


def rule_text(lines: str, name: str = "gap", formula: str = "gap", more: str = "") -> str:
    """A rule with these limit lines."""
    return RULE.format(name=name, formula=formula, lines=lines, more=more)


def seats(lines: str, gap: str, facts: str = "") -> Report:
    """The inspection of a gap against these limit lines."""
    return judged(rule_text(lines), gap, facts)


def judged(rules: str, gap: str, facts: str) -> Report:
    """The inspection of a gap by these rules."""
    sheet = f"specrules: build-sheet/1\npacks: [seats]\nunit: mm\nfacts: {{{facts}}}\nreadings: {{gap: {gap}}}\n"
    return inspected(sheet, {"seats": PACK.format(rules=rules)})


def when(condition: str, limit: str = "0.03", name: str = "close") -> str:
    """A line that makes the limit closer on a condition."""
    return f'{{name: {name}, when: "{condition}", most: {limit} mm}}'
