"""The facts by which figures hold: what is said of them, and which are asked for once, for all rules that wait."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from specrules.inspection.report import Finding, WantedFact
from specrules.pack import Rule, Specification
from specrules.sheet import Sheet
from specrules.vocabulary import Verdict


def facts_held_by(sheet: Sheet, spec: Specification) -> Mapping[str, str]:
    """What the sheet states, or using a pack implies, of the facts that figures hold by."""
    said: dict[str, str] = {}
    for name in spec.figures_hold_by:
        values = dict.fromkeys(str(each.value) for each in sheet.facts.get(name, ()))
        if text := ", ".join(values) or spec.sets.get(name, ""):
            said[name] = text
    return said


def facts_wanted(sheet: Sheet, spec: Specification, findings: Sequence[Finding]) -> tuple[tuple[WantedFact, ...], int]:
    """These facts, of which neither the sheet nor a pack says anything, and how many rules wait; none where none does.

    A rule waits where figures of its packs hold by one of them and the sheet states no limits of its own.
    """
    said = facts_held_by(sheet, spec)
    wanted = {name: spec.facts[name] for name in spec.figures_hold_by if name not in said}
    asking = {
        name
        for name, chain in (spec.rules.items() if wanted else ())
        if any(wanted.keys() & _held_by(rule) for rule in chain.governing)
    }
    waiting = {f.rule for f in findings if f.verdict is Verdict.NOT_MEASURED and not f.limits.from_sheet} & asking
    facts = (WantedFact(fact.name, fact.title, fact.choices) for fact in (wanted.values() if waiting else ()))
    return tuple(facts), len(waiting)


def _held_by(rule: Rule) -> set[str]:
    """The facts, figures and axes by which figures of its limits hold."""
    every = (key for line in rule.lines for validity in line.validities() for key in validity.keys)
    return {key.name for key in every if not key.any}
