"""The limits in force in a build, whether anything was measured or not: what they are, and what they hang on.

They are read in all worlds: a part that is the same in all of them is known, and only where one differs is it told what
to state or to read.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from decimal import Decimal
from typing import NamedTuple

from specrules.evaluate import holds
from specrules.evaluate.worlds import THIS_WORLD, Unstated, World
from specrules.formula import Station
from specrules.inspection.examination import Examination
from specrules.inspection.limits import exact
from specrules.pack import Rule
from specrules.vocabulary import LIMIT_PARTS, Reason, Why


class LimitsInForce(NamedTuple):
    """The limits of a rule at the stations where they are the same: by part (least, aim, most, wear least, wear most),
    in the rule's unit.

    `open`: parts that its lines set there and of which nobody knows yet what they are; `hangs_on`: what has to be read,
    stated or asked of the maker before they are known, or before it is known whether the rule applies there. A rule
    that has no limit there has neither. No stations: nobody has said how many there are.
    """

    rule: Rule
    stations: tuple[Station, ...]
    parts: Mapping[str, Decimal]
    open: tuple[str, ...] = ()
    hangs_on: tuple[Reason, ...] = ()


class _Outcome(NamedTuple):
    """What a rule's limits come to in one world, in base units. `open`: parts that are no one number; `lacks`: why no
    reading and no fact would make them one; `wanted`: what has to be read or stated."""

    applies: bool | None
    parts: Mapping[str, Decimal]
    open: tuple[str, ...]
    lacks: tuple[Reason, ...]
    wanted: tuple[Reason, ...]


def limits_in_force(examination: Examination, rules: Container[str]) -> Iterator[LimitsInForce]:
    """The limits of some rules, in the order of the work: of each the stations that have the same ones together. Where
    several packs govern a rule each has its own; where a rule applies nowhere it is left out."""
    for name in (name for name in examination.spec.rules if name in rules):
        for rule in examination.spec.rules[name].governing:
            same: dict[tuple[object, ...], LimitsInForce] = {}
            for found in _of_rule(rule, examination):
                key = (tuple(found.parts.items()), found.open, tuple(map(_anywhere, found.hangs_on)))
                before = same.get(key, found._replace(stations=()))
                same[key] = before._replace(stations=(*before.stations, *found.stations))
            yield from same.values()


def _of_rule(rule: Rule, examination: Examination) -> Iterator[LimitsInForce]:
    """A rule's limits at each of its stations; what has to be stated where nobody knows how many there are."""
    spec, labels = examination.spec, examination.sheet.labels
    if unknown := next((axis for axis in rule.each if not labels.get(axis)), ""):
        axis = spec.axes[unknown]
        fact = axis.shaped_by or spec.axes[axis.of].shaped_by
        yield LimitsInForce(rule, (), {}, (), (Reason(Why.STATE_FACT, (fact,)),))
    for station in examination.stations(rule.each):
        if (found := _at(rule, station, examination)) is not None:
            yield found


def _anywhere(reason: Reason) -> Reason:
    """What is the same of a reason at all stations."""
    return reason._replace(labels=()) if reason.code is Why.READ else reason


def _at(rule: Rule, station: Station, examination: Examination) -> LimitsInForce | None:
    """The limits at one station, in all worlds that what nobody stated allows; None where the rule does not apply."""
    tried = [*_worlds(rule, station, THIS_WORLD, examination)]
    there = [each for each in tried if each.applies is not False]
    if not there:
        return None
    differ = {part for part in LIMIT_PARTS if len({each.parts.get(part) for each in there}) > 1}
    opened = tuple(part for part in LIMIT_PARTS if part in differ or any(part in each.open for each in there))
    wanted: tuple[Reason, ...] = ()
    if opened or len(there) < len(tried) or any(each.applies is None for each in there):
        wanted = tuple(dict.fromkeys(reason for each in tried for reason in each.wanted))
    lacks = tuple(dict.fromkeys(reason for each in there for reason in each.lacks))
    known = {part: rule.unit.from_base(number) for part, number in there[0].parts.items() if part not in opened}
    return LimitsInForce(rule, (station,), known, opened, wanted or lacks)


def _worlds(rule: Rule, station: Station, world: World, examination: Examination) -> Iterator[_Outcome]:
    """What the limits come to in each world in a world; where there would be too many, what is open in this one."""
    found, question = _in_world(rule, station, world, examination)
    parts = world.split(question, examination.spec) if question is not None else ()
    if not parts:
        yield found
    for part in parts:
        for each in _worlds(rule, station, part, examination):
            yield each._replace(wanted=(*found.wanted, *each.wanted))


def _in_world(rule: Rule, station: Station, world: World, examination: Examination) -> tuple[_Outcome, Unstated | None]:
    """What the limits come to in one world, and the next question that it leaves open."""
    judge, facts = examination.judge_in(world), examination.spec.facts
    environment = judge.environment
    applies, asked = environment.aside(lambda: holds(rule.applies_when, environment, station))
    held, _ = environment.aside(lambda: judge.held(rule, station))
    resolved, trace = held.resolved, held.trace
    stood = resolved.sets if resolved.lacks is None else {}
    set_there = {part: value for part in LIMIT_PARTS if (value := stood.get(part)) is not None}
    parts = {part: number for part, value in set_there.items() if (number := exact(value)) is not None}
    unknown = [part for part in set_there if part not in parts]
    lacks = [reason for reasons in resolved.silent.values() for reason in reasons]
    lacks += [] if resolved.lacks is None else [resolved.lacks]
    question = next(iter((*asked.questions, *trace.questions)), None)
    wanted = [Reason(Why.STATE_FACT, (fact,)) for fact in (question.facts if question is not None else ())]
    for name, labels in (*asked.missing, *trace.missing):
        wanted.append(Reason(Why.STATE_FACT, (name,)) if name in facts else Reason(Why.READ, (name,), labels))
    return _Outcome(applies, parts, (*unknown, *resolved.silent), tuple(lacks), tuple(wanted)), question
