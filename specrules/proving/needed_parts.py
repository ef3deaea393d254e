"""What of a specification one rule and its worked examples need."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from specrules.document import Fields
from specrules.pack import Rule, RuleChain, Specification
from specrules.pack.in_units import with_parts
from specrules.pack.work_budget import Thing, formulas_of
from specrules.proving.names import figures_of, keys_of

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
    lain_along = [axis for each in judged for axis in each.each]
    lain_along += [axis for each in judged for key in keys_of(each) for axis in key.along]
    lain_along += [axis for figure in figures.values() for axis in figure.each]
    lain_along += [axis for sign_off in sign_offs.values() for axis in sign_off.at]
    lain_along += [axis for part in parts.values() for axis in part.at]
    named = _with_all_behind((*read, *lain_along, *_standing_facts(spec)), spec)
    return with_parts(
        least,
        axes={name: axis for name, axis in spec.axes.items() if name in named},
        facts={name: fact for name, fact in spec.facts.items() if name in named},
        measurands=measurands,
        parts=parts,
    )


def _standing_facts(spec: Specification) -> Iterator[str]:
    """The facts that anything may stand on, whatever is judged."""
    yield from (*spec.sets, *spec.examples_assume, *spec.figures_hold_by)
    for formula in (*spec.exists_when.get("groups", {}).values(), spec.wear_when, spec.gauges_expand):
        yield from formula.names if formula is not None else ()


def _with_all_behind(names: Iterable[str], spec: Specification) -> set[str]:
    """Names of facts, measurands and axes with those that each stands on, in turn: what it lies along, what shapes an
    axis or groups it, what it reads and what its existence hangs on."""
    found, waiting = set[str](), [*names]
    shaping: dict[str, list[str]] = {name: [] for name in spec.axes}
    for axis in spec.axes.values():
        for name in filter(None, (axis.of, axis.count, axis.labels, axis.groups, *axis.kinds)):
            shaping[axis.name].append(name)
            shaping.setdefault(name, []).append(axis.name)
    while waiting:
        name = waiting.pop()
        if name in found:
            continue
        found.add(name)
        conditions = (section.get(name) for section in spec.exists_when.values())
        waiting += (other for each in conditions if each is not None for other in each.names)
        fact, measurand = spec.facts.get(name), spec.measurands.get(name)
        waiting += fact.at if fact is not None else ()
        if measurand is not None:
            waiting += (*measurand.axes, *(other for each in formulas_of(measurand) for other in each.names))
            waiting += () if measurand.new is None else (measurand.new.fact,)
        waiting += shaping.get(name, ())
    return found
