"""Limits that are one plain figure, as tables print them: what they come to, and the same with the point moved."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import NamedTuple

from specrules.document import Place
from specrules.evaluate import NotEvaluable, evaluate
from specrules.formula.formula_reading import syntax_of
from specrules.formula.syntax import Number
from specrules.inspection.limits import exact
from specrules.pack import LimitLine, Rule, Specification
from specrules.proving.names import text_of
from specrules.proving.sizes import Setting, Trial
from specrules.quantity import CONTEXT, Refusal, Unit, find_unit, show

SHIFT = "shift"
_NOWHERE = Setting({}, {}, frozenset())
_PLACES = 6
_DECIMALS = re.compile(r"-?\d*\.(\d+)")


class PlainLimit(NamedTuple):
    """A limit, or a shift, that needs no reading and no fact. `value` in base units; it is written in `unit`."""

    rule: Rule
    line: LimitLine
    part: str
    value: Decimal
    text: str
    place: Place
    unit: Unit
    places: int

    def __str__(self) -> str:
        return f"{show(self.value, self.unit, self.places)} {self.unit.symbol}".rstrip()

    def with_(self, value: Decimal) -> str:
        """Another value, written as this one is."""
        return str(self._replace(value=value))

    def slid(self, step: Decimal) -> PlainLimit:
        """As much more as a step, or less."""
        return self._replace(value=CONTEXT.add(self.value, step))

    def slipped(self, places: int) -> PlainLimit:
        """The same digits with the point moved; one place to the right is ten times as much."""
        return self._replace(value=CONTEXT.scaleb(self.value, places), places=max(0, self.places - places))


def figures(rule: Rule, spec: Specification) -> Iterator[PlainLimit]:
    """Every plain figure among the limit lines of a rule, in order."""
    for line in rule.lines:
        for part, formula in {**line.sets, **({} if line.shift is None else {SHIFT: line.shift})}.items():
            if formula.names:
                continue
            try:
                value = exact(evaluate(formula, Trial(spec, {}, _NOWHERE), dict.fromkeys(rule.each, "1")))
            except NotEvaluable:
                continue
            if value is not None:
                text = text_of(formula)
                tree = syntax_of(formula)
                symbol = tree.unit if isinstance(tree, Number) else ""
                decimals = _DECIMALS.match(text)
                places = len(decimals[1]) if decimals else 0
                yield PlainLimit(rule, line, part, value, text, text.place, _unit(symbol, rule), places)


def plain_limits_of(rule: Rule, spec: Specification) -> Mapping[str, PlainLimit]:
    """The plain figures by part: of parts that one line sets, where no line shifts them."""
    if any(line.shift is not None for line in rule.lines):
        return {}
    found = list(figures(rule, spec))
    return {one.part: one for one in found if sum(one.part in line.sets for line in rule.lines) == 1}


def plain(value: Decimal, unit: Unit) -> str:
    """A number in a unit, with no more places than it needs."""
    text = show(value, unit, _PLACES)
    return text.rstrip("0").rstrip(".")


def _unit(symbol: str, rule: Rule) -> Unit:
    """The unit that a figure is written in; of a sum of figures that which the rule is shown in."""
    found = find_unit(symbol, dimension=rule.formula.dimension) if symbol else rule.unit
    return rule.unit if isinstance(found, Refusal) else found
