"""What of a specification one rule and its worked examples need."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from specrules.document import Fields
from specrules.pack import Measurand, Rule, RuleChain, Specification
from specrules.pack.in_units import with_parts
from specrules.pack.work_budget import Thing, formulas_of
from specrules.proving.names import figures_of

_PLAIN = ("facts", "readings", "parts", "signed")
"""Sections of a sheet that speak of names alone."""


def needed_for(rule: Rule, spec: Specification) -> Specification:
    """The specification with only what this rule and its examples need in it, so that an example costs no more than
    its own sums."""
    rules = {rule.name: RuleChain(rule.name, (rule,), (rule,))}
    waiting = [*rule.needs]
    while waiting:
        name = waiting.pop()
        if name in spec.rules and name not in rules:
            rules[name] = spec.rules[name]
            waiting += (need for version in rules[name].governing for need in version.needs)
    judged = [version for chain in rules.values() for version in chain.governing]
    figures = {name: spec.figures[name] for each in judged for name in figures_of(each, spec)}
    needs = {need for each in judged for need in each.needs}
    needs.update(need for figure in figures.values() for way in figure.ways for need in way.needs)
    sign_offs = {name: sign_off for name, sign_off in spec.sign_offs.items() if name in needs}
    least = with_parts(spec, rules=rules, figures=figures, sign_offs=sign_offs)
    given = [worked.given for worked in rule.worked]
    if any(section not in _PLAIN for each in given for section in each):
        return least  # its own limits and work may name anything
    stated = {name for each in given for section in each.values() if isinstance(section, Fields) for name in section}
    things: tuple[Thing, ...] = (*judged, *figures.values(), *sign_offs.values())
    read = {*stated, *(name for thing in things for formula in formulas_of(thing) for name in formula.names)}
    parts = {name: part for name, part in spec.parts.items() if name in stated}
    read.update(name for part in parts.values() for name in part.measurands)
    measurands = {name: each for name, each in spec.measurands.items() if name in read}
    read.update(_standing_facts(spec, measurands.values()))
    facts = {name: each for name, each in spec.facts.items() if name in read or each.assumed}
    return with_parts(least, facts=facts, measurands=measurands, parts=parts)


def _standing_facts(spec: Specification, measurands: Iterable[Measurand]) -> Iterator[str]:
    """The facts that anything may stand on, whatever is judged, and those that some measurands stand on."""
    yield from (*spec.sets, *spec.examples_assume, *spec.figures_hold_by)
    for axis in spec.axes.values():
        yield from (axis.count, axis.labels, axis.groups, axis.shaped_by, *axis.count_of.values())
    conditions = (condition for section in spec.exists_when.values() for condition in section.values())
    for formula in (*conditions, spec.wear_when, spec.gauges_expand):
        yield from formula.names if formula is not None else ()
    for measurand in measurands:
        yield from (name for formula in formulas_of(measurand) for name in formula.names)
        yield from () if measurand.new is None else (measurand.new.fact,)
