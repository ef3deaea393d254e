"""What rules stand on: the rules and sign-offs that they need, the names that are read for them."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import TypeAlias

from specrules.pack.specification import Figure, Measurand, Rule, SignOff, Specification
from specrules.pack.work_budget import formulas_of

Named: TypeAlias = Measurand | Figure | SignOff | Rule


def rules_with_needs(spec: Specification, names: Iterable[str]) -> Iterator[str]:
    """These rules and all that they need, each once."""
    waiting, seen = [*names], set[str]()
    while waiting:
        name = waiting.pop()
        if name in spec.rules and name not in seen:
            seen.add(name)
            waiting += spec.rules[name].governing[-1].needs
            yield name


def needs_of_rules(spec: Specification, rules: Iterable[str]) -> Iterator[str]:
    """What rules need, and the ways of the figures behind their values."""
    for rule in (version for name in rules for version in spec.rules[name].governing):
        yield from rule.needs
        for figure in _figures(spec, rule.formula.names):
            for way in spec.figures[figure].ways:
                yield from way.needs


def sign_offs_asked(spec: Specification, rules: Iterable[str], scope: Sequence[str]) -> frozenset[str]:
    """The sign-offs that a job asks for: all of them; of some headings those that its rules need, and those under the
    headings that no rule needs."""
    if not scope:
        return frozenset(spec.sign_offs)
    needed, anywhere = {*needs_of_rules(spec, rules)}, {*needs_of_rules(spec, spec.rules)}
    alone = {name for name, each in spec.sign_offs.items() if each.group in scope and name not in anywhere}
    return frozenset(spec.sign_offs.keys() & (needed | alone))


def names_read(spec: Specification, rules: Iterable[str]) -> frozenset[str]:
    """The measurands and facts that rules are worked out from: values, limits and conditions, figures seen through."""
    governing = (version for name in rules for version in spec.rules[name].governing)
    read = {name for rule in governing for formula in formulas_of(rule) for name in formula.names}
    figures = [spec.figures[name] for name in _figures(spec, read)]
    behind = {name for figure in figures for formula in formulas_of(figure) for name in formula.names}
    return frozenset((read | behind) - spec.figures.keys())


class NamesBehind:
    """Of all that a specification says something of, the names that it may hang on: measurands, figures, sign-offs, and
    rules in whatever version a pack has of them."""

    def __init__(self, spec: Specification) -> None:
        things: list[Named] = [*spec.measurands.values(), *spec.figures.values(), *spec.sign_offs.values()]
        things += [rule for chain in spec.rules.values() for rule in (*chain.versions, *chain.governing)]
        self._behind = [(thing.name, frozenset(_named_in(thing))) for thing in things]
        self._everywhere = {n for each in (spec.wear_when, spec.gauges_expand) if each is not None for n in each.names}
        self._all = (*spec.rules, *spec.figures)

    def hanging_on(self, names: Collection[str]) -> frozenset[str]:
        """These names, and those of all that may hang on one of them."""
        found = {*names}
        while fresh := {name for name, behind in self._behind if name not in found and not behind.isdisjoint(found)}:
            found |= fresh
        return frozenset(found if self._everywhere.isdisjoint(found) else (*found, *self._all))


def _named_in(thing: Named) -> Iterator[str]:
    """What its formulas name, what it needs, and the fact that says what it measured when new."""
    for formula in formulas_of(thing):
        yield from formula.names
    match thing:
        case Rule():
            yield from thing.needs
        case Figure():
            yield from (need for way in thing.ways for need in way.needs)
        case Measurand() if thing.new is not None:
            yield thing.new.fact


def covered_by_job(spec: Specification, scope: Sequence[str], until: str) -> Specification:
    """What of a specification a job covers: what its rules up to the hold point are worked out from and need. No
    heading, or a hold point that there is not: all of them."""
    if not scope and until not in spec.hold_points:
        return spec
    reached = spec.hold_points[: spec.hold_points.index(until) + 1] if until in spec.hold_points else None
    rules = {name: chain.governing[-1] for name, chain in spec.rules.items()}
    inside = [
        name
        for name, rule in rules.items()
        if (not scope or rule.group in scope) and (reached is None or rule.hold_point in reached)
    ]
    kept = {*rules_with_needs(spec, inside)}
    read, needed, asked = names_read(spec, kept), {*needs_of_rules(spec, kept)}, sign_offs_asked(spec, kept, scope)
    return spec._replace(
        measurands={name: each for name, each in spec.measurands.items() if name in read},
        rules={name: chain for name, chain in spec.rules.items() if name in kept},
        sign_offs={
            name: each
            for name, each in spec.sign_offs.items()
            if name in asked and (reached is None or each.hold_point in reached or name in needed)
        },
    )


def read_for_value(spec: Specification, rule: str) -> tuple[str, ...]:
    """The measurands that the value of a rule is read from, by the way that is trusted most."""
    waiting, seen = [spec.rules[rule].governing[-1].formula], dict[str, None]()
    while waiting:
        for name in waiting.pop().names:
            if name in spec.figures and name not in seen:
                waiting += [way.formula for way in spec.figures[name].ways[:1]]
            seen[name] = None
    return tuple(name for name in seen if name in spec.measurands)


def _figures(spec: Specification, names: Iterable[str]) -> Iterator[str]:
    """The figures among these names, and those behind them."""
    waiting, seen = [*names], set[str]()
    while waiting:
        name = waiting.pop()
        if name in spec.figures and name not in seen:
            seen.add(name)
            waiting += [each for formula in formulas_of(spec.figures[name]) for each in formula.names]
            yield name
