"""Compact examples: values judged as they stand, in place of what the rule's formula would come to.

They judge by a measurand of their own that nothing else reads. Where a value comes from only a whole example shows, and
each rule and way has to have one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import count
from typing import NamedTuple

from specrules.document import Fields, Node, Place, Text
from specrules.document.text import fields_at
from specrules.formula import Declared, Formula, Role, read_formula
from specrules.pack import Measurand, Rule, RuleChain, Specification, Worked
from specrules.pack.in_units import with_parts
from specrules.proving.needed_parts import needed_for

NAME = "tried_value"
READINGS = Text("readings")


class Trying(NamedTuple):
    """A rule that judges what is read for it, a measurand of its own that nothing else reads; the specification that
    has both, and what the rule needs of it."""

    rule: Rule
    spec: Specification
    alone: Specification
    name: str

    @staticmethod
    def of(rule: Rule, spec: Specification) -> Trying:
        """One rule, tried."""
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
        return Trying(judging, trying, needed_for(judging, trying), name)

    def values(self, worked: Worked) -> Iterator[Worked]:
        """Each value of a compact example by itself, as a whole example."""
        for expected in worked.expect:
            station = {axis: expected.at.get(axis) or _first(self.spec, axis) for axis in self.rule.each}
            given = _with_reading(worked.given, self.name, expected.value, station)
            expect = (expected._replace(at=station, value=_NOTHING),)
            yield worked._replace(given=given, expect=expect, place=expected.place)


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
