"""Compact examples: values judged as they stand, in place of what the rule's formula would come to.

They judge by a measurand of their own that nothing else reads. Where a value comes from only a whole example shows, and
each rule and way has to have one.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count
from typing import NamedTuple

from specrules.document import Fields, Node, Text
from specrules.document.text import fields_at
from specrules.formula import Axis, Declared, Formula, Role
from specrules.formula.formula_reading import read_formula
from specrules.pack import Expected, Measurand, Rule, RuleChain, Specification, Worked
from specrules.pack.in_units import with_parts
from specrules.proving.needed_parts import needed_for

NAME = "tried_value"


class Trying(NamedTuple):
    """A rule that judges what is read for it, a measurand of its own that nothing else reads; the specification that
    has both, and what the rule needs of it. Several values lie along an axis of their own, whose labels are kinds, so
    that none is held against another."""

    rule: Rule
    spec: Specification
    alone: Specification
    name: str

    @staticmethod
    def of(rule: Rule, spec: Specification, most: int = 1) -> Trying:
        """One rule, tried at so many values at once."""
        taken = spec.scope.names.keys() | spec.axes.keys()
        name = next(one for number in count() if (one := NAME + "_" * number) not in taken)
        along = Axis(name, names=tuple(f"{name}_{number}" for number in range(most)))
        axes = spec.axes if most == 1 else {**spec.axes, name: along}
        each = rule.each if most == 1 else (*rule.each, name)
        dimension = rule.formula.dimension
        scope = spec.scope._replace(axes=axes).with_names(Declared(name, Role.MEASURAND, each, dimension))
        formula = read_formula(Text(name, rule.place), scope, each=each, dimension=dimension)
        assert isinstance(formula, Formula)
        judging = rule._replace(formula=formula, each=each)
        trying = with_parts(
            spec,
            scope=scope,
            axes=axes,
            measurands={**spec.measurands, name: _measurand(name, judging)},
            rules={**spec.rules, rule.name: RuleChain(rule.name, (judging,), (judging,))},
        )
        return Trying(judging, trying, needed_for(judging, trying), name)

    def example(self, worked: Worked, values: Sequence[Expected]) -> Worked:
        """These values of a compact example, as a whole example."""
        given: Fields = worked.given
        expect: list[Expected] = []
        for number, expected in enumerate(values):
            station = {axis: expected.at.get(axis) or self.spec.axes[axis].first for axis in self.rule.each}
            if self.name in station:
                station[self.name] = self.spec.axes[self.name].names[number]
            given = _with_reading(given, ["readings", self.name, *station.values()], expected.value)
            expect.append(expected._replace(at=station, value=_NOTHING))
        return worked._replace(given=given, expect=tuple(expect), place=values[0].place)


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


def _with_reading(given: Node | None, keys: Sequence[str], value: Text) -> Fields:
    """What is given, with one reading more below these keys."""
    there = given if isinstance(given, Fields) else fields_at(value.place)
    made = fields_at(there.place)
    made.update(there)
    key = Text(keys[0], value.place)
    made[key] = _with_reading(made.get(key), keys[1:], value) if keys[1:] else value
    return made
