"""Compact examples: values judged as they stand, in place of what the rule's formula would come to."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import count
from typing import NamedTuple

from specrules.document import Fields, Node, Place, Text
from specrules.document.text import fields_at
from specrules.formula import Declared, Formula, Role, read_formula
from specrules.pack import Measurand, Rule, RuleChain, Specification, Worked
from specrules.pack.in_units import with_parts

NAME = "tried_value"
READINGS = Text("readings")


class TriedValues(NamedTuple):
    """A rule that judges what is read for it, the specification that has it, and each value of a compact example as a
    whole example of it."""

    rule: Rule
    spec: Specification
    worked: tuple[Worked, ...]


def tried(rule: Rule, worked: Worked, spec: Specification) -> TriedValues:
    """Each value of a compact example by itself. The rule judges a measurand of its own, which nothing else reads."""
    name = next(each for number in count() if (each := NAME + "_" * number) not in spec.scope.names)
    dimension = rule.formula.dimension
    scope = spec.scope.with_names(Declared(name, Role.MEASURAND, rule.each, dimension))
    formula = read_formula(Text(name, rule.place), scope, each=rule.each, dimension=dimension)
    assert isinstance(formula, Formula)
    judging = rule._replace(formula=formula)
    trying = with_parts(
        spec,
        scope=scope,
        measurands={**spec.measurands, name: _measurand(name, rule)},
        rules={**spec.rules, rule.name: RuleChain(rule.name, (judging,), (judging,))},
    )
    values: list[Worked] = []
    for expected in worked.expect:
        station = {axis: expected.at.get(axis) or _first(spec, axis) for axis in rule.each}
        given = _with_reading(worked.given, name, expected.value, station)
        expect = (expected._replace(at=station, value=_NOTHING),)
        values.append(worked._replace(given=given, expect=expect, place=expected.place))
    return TriedValues(judging, trying, tuple(values))


_NOTHING = Text()


def _measurand(name: str, rule: Rule) -> Measurand:
    return Measurand(
        name=name,
        title=rule.title,
        group=rule.group,
        at=rule.each,
        positions=(),
        unit=rule.unit,
        repeats=1,
        usual=None,
        gauge_classes=(),
        how="",
        may_be_negative=rule.may_be_negative,
        expands=None,
        place=rule.place,
    )


def _first(spec: Specification, axis: str) -> str:
    return spec.axes[axis].first


def _with_reading(given: Fields, name: str, value: Text, station: Mapping[str, str]) -> Fields:
    """The fragment with one reading more."""
    node: Node = value
    for label in reversed([*station.values()]):
        node = _one(label, node, value.place)
    made, readings = fields_at(given.place), fields_at(value.place)
    made.update(given)
    there = given.get(READINGS)
    readings.update(there if isinstance(there, Fields) else {})
    readings[Text(name, value.place)] = node
    made[READINGS] = readings
    return made


def _one(key: str, node: Node, place: Place) -> Fields:
    made = fields_at(place)
    made[Text(key, place)] = node
    return made
