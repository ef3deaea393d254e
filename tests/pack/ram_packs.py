"""A small pack whose figures say for what they hold, of the trade of hydraulic rams; its figures are invented."""

from __future__ import annotations

HEAD = """\
specrules: tolerance-pack/1
pack:
  name: rams
  version: "1"
  title: Ram practice
  unit: mm
  wear when: state == used
  figures hold by: [medium, action]
"""

BODY = """\
axes:
  ram: {count: rams}
facts:
  rams: {kind: count}
  medium: {kind: choice, choices: [oil, water, air]}
  action: {kind: choice, choices: [single, double]}
  tube: {kind: choice, choices: [drawn, honed]}
  state: {kind: choice, choices: [new, used], assumed: new}
  lined: {kind: yes/no, assumed: no}
  tube_stated: {kind: quantity, unit: mm, at: ram}
measurands:
  tube: {at: ram, unit: mm}
  rod: {at: ram, unit: mm}
  stop_gap: {unit: mm}
figures:
  tube_size: {each: ram, unit: mm, ways: {measured: tube, stated: tube_stated}}
rules:
  gap:
    title: Gap of rod and tube
    each: ram
    formula: tube - rod
    unit: mm
    words: tight/loose
    importance: major
    holds for: {medium: oil, action: [single, double], tube_size: 20..100 mm}
    limits:
      - {name: base, least: 0.04 mm, aim: 0.08 mm, most: 0.12 mm, wear most: 0.20 mm}
      - {name: honed, when: tube_kind == honed, holds for: {tube_size: 30..60 mm}, shift: -0.01 mm}
      - {name: floor, least: "max(least, 0.035 mm)", holds for: {medium: any, tube_size: any}}
    source: {kind: house}
    worked:
      - given: {facts: {medium: oil, action: single, tube_kind: drawn}, readings: {tube: {1: 50.08}, rod: {1: 50.00}}}
        expect: {at: {ram: 1}, value: 0.08 mm, verdict: in spec}
  stop:
    title: Gap at the stop
    formula: stop_gap
    importance: minor
    limits:
      - {name: base, holds for: {medium: oil, action: any, tube_size: 20..100 mm}, least: 1 mm}
      - {name: top, holds for: {medium: any, action: any, tube_size: any}, most: 3 mm}
    source: {kind: house}
    worked:
      - given: {facts: {medium: oil, action: single}, readings: {stop_gap: 2, tube: {1: 50}}}
        expect: {value: 2 mm, verdict: in spec}
""".replace("  tube: {kind: choice", "  tube_kind: {kind: choice")

RAMS = HEAD + BODY


def house(amend: str, holds: str = "", on: str = "rams", name: str = "house", group: str = "") -> str:
    """A pack that amends the rule `gap`: `amend` is what stands under it; `holds` what its heading holds for."""
    said = f", holds for: {holds}" if holds else ""
    heading = f"group: Rams\nholds for: {group}\n" if group else ""
    return f"""\
specrules: tolerance-pack/1
{heading}pack: {{name: {name}, version: "1", title: {name.title()} practice, builds on: [{on}]{said}}}
amend:
  rules:
    gap:
      reason: Because {name} says so.
{amend}"""
