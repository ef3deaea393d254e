"""Conditions and choices to plain functions: what a fact says, which label a station has, which comparison holds.

Three-valued: None where a fact that matters has not been stated, or where what is compared has no value.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import TYPE_CHECKING, TypeVar

from specrules.formula.axes import Axes, labels_at, place
from specrules.formula.formula import Bench, Station
from specrules.formula.labels import is_choice, label_of, picked
from specrules.formula.scope import Declared, Role, Scope
from specrules.formula.tokens import Refused
from specrules.formula.tree import Binary, Choose, Compare, Logic, Name, Node, Not
from specrules.formula.value import NotEvaluable
from specrules.quantity import is_zero

if TYPE_CHECKING:
    from specrules.formula.compile import Compiler

T = TypeVar("T")
Ask = Callable[[Bench, Station], bool | None]
Say = Callable[[Bench, Station], str | None]


def condition(node: Node, compiler: Compiler) -> Ask:
    """Whether a condition holds at a station. Raises Refused where it asks something that differs along an axis."""
    match node:
        case Compare():
            return _compared(node, compiler)
        case Not(of):
            asks = condition(of, compiler)
            return lambda bench, station: None if (answer := asks(bench, station)) is None else not answer
        case Logic(word, left, right):
            return _logic(condition(left, compiler), condition(right, compiler), decisive=word == "or")
        case Choose(then, asked, otherwise):
            return _choose(condition(asked, compiler), condition(then, compiler), condition(otherwise, compiler))
    says = choice(node, compiler)
    return lambda bench, station: None if (said := says(bench, station)) is None else said == "yes"


def choice(node: Node, compiler: Compiler) -> Say:
    """What a choice comes to: a fact's label, the station's label on an axis, or a label as written."""
    scope, each = compiler.scope, compiler.each
    if isinstance(node, Choose):
        asks = condition(node.condition, compiler)
        return _choose(asks, choice(node.then, compiler), choice(node.otherwise, compiler))
    label = label_of(node, scope)
    if label is not None:
        return lambda _bench, _station: label
    assert isinstance(node, Name)  # the kind check has seen that it is a choice
    return _fact(node, scope, each) if node.name in scope.names else _label_on(node.name, scope, each)


def _fact(node: Name, scope: Scope, each: Axes) -> Say:
    known, name = scope.names[node.name], node.name
    finders, free = place(known, picked(node, known, scope), each, scope)
    if free:
        raise Refused(f"has {name}, which differs along {', '.join(free)}", f"{name}[label]", node.at)
    labels = labels_at(finders)
    return lambda bench, station: bench.choice(name, labels(bench, station))


def _label_on(axis: str, scope: Scope, each: Axes) -> Say:
    finders, _ = place(Declared(axis, Role.FACT, (axis,)), {}, each, scope)
    labels = labels_at(finders)  # one: the kind check has seen that the axis is bound
    return lambda bench, station: labels(bench, station)[0]


def _compared(node: Compare, compiler: Compiler) -> Ask:
    if is_choice(node.left, compiler.scope) or is_choice(node.right, compiler.scope):
        left, right, equal = choice(node.left, compiler), choice(node.right, compiler), node.sign == "=="

        def same(bench: Bench, station: Station) -> bool | None:
            one, other = left(bench, station), right(bench, station)
            return None if one is None or other is None else (one == other) is equal

        return same
    difference = compiler.quantity(Binary("-", node.left, node.right, node.at))
    if difference.axes:
        raise Refused(f"compares what differs along {', '.join(difference.axes)}", "a label in brackets", node.at)
    holds = _COMPARISONS[node.sign]

    def ordered(bench: Bench, station: Station) -> bool | None:
        try:
            value = difference.run(bench, station)
        except (NotEvaluable, ArithmeticError):
            return None
        if value is None or value.low is None or not value.exact:
            return None
        return holds(Decimal(0) if is_zero(value.low.value) else value.low.value, 0)

    return ordered


_Ask = Callable[[Bench, Station], bool | None]


def _logic(left: Ask, right: Ask, decisive: bool) -> Ask:
    """Three-valued `and` (decisive False) or `or` (decisive True): a decisive side settles it whatever the other is."""

    def answer(bench: Bench, station: Station) -> bool | None:
        one = left(bench, station)
        if one is decisive:
            return decisive
        other = right(bench, station)
        if other is decisive:
            return decisive
        return None if one is None or other is None else not decisive

    return answer


def _choose(
    asks: Ask, then: Callable[[Bench, Station], T | None], otherwise: Callable[[Bench, Station], T | None]
) -> Callable[[Bench, Station], T | None]:
    def answer(bench: Bench, station: Station) -> T | None:
        said = asks(bench, station)
        if said is not None:
            return then(bench, station) if said else otherwise(bench, station)
        one, other = then(bench, station), otherwise(bench, station)
        return one if one == other else None

    return answer


_COMPARISONS: Mapping[str, Callable[[Decimal, int], bool]] = {
    "==": operator.eq,
    "!=": operator.ne,
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
}
