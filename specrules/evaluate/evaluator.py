"""Operator trees to values: what a formula comes to at a station, in an environment of readings and facts.

An operator without free axes evaluates to a cell, one with free axes to a list of cells in the order of the keys on its
axes. A cell of None is a position without a reading at a station that has others. Conditions are three-valued: None
where a fact that matters has not been stated, or where what is compared has no value.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from operator import eq, ge, gt, le, lt, ne
from typing import Any, Protocol

from specrules.evaluate.arithmetic import Errors, add, apply, divide, extreme, hull, multiply, negate, power, subtract
from specrules.evaluate.layout import Labels, Layout, Places
from specrules.evaluate.lookup import label_at, number_at
from specrules.evaluate.reduction import reduce
from specrules.evaluate.value import UNKNOWN, NotEvaluable, Point, Value, exactly
from specrules.formula import operators as op
from specrules.formula.formula import Formula
from specrules.formula.functions import Function
from specrules.formula.operators import Station
from specrules.formula.tables import TableColumn
from specrules.quantity import is_zero
from specrules.vocabulary import Why

Cell = Value | None
LARGEST = 300
"""So many digits before the point a value may have: floats hold its slopes up to 308."""
EXCHANGED = {"largest": "smallest", "smallest": "largest"}
"""What turns the tightest pair into the loosest: the other end of what the readings allow."""


class Environment(Protocol):
    """What formulas are evaluated in; nothing here knows where numbers come from."""

    @property
    def layout(self) -> Layout:
        """The stations there are."""

    @property
    def functions(self) -> Mapping[str, Function]:
        """The functions that formulas may call, by name."""

    @property
    def columns(self) -> Mapping[str, TableColumn]:
        """The columns of tables, by the function that looks them up."""

    @property
    def exchanged(self) -> bool:
        """Largest and smallest change places: for the range that stands beside a judged value."""

    @property
    def u(self) -> Errors:
        """The standard uncertainties of the error sources: of equal readings the less certain is the extreme one."""

    def look(self, name: str, labels: Labels) -> Cell:
        """The value of a measurand, fact, figure or limit so far at a place."""

    def row(self, name: str, places: Places) -> Sequence[Cell]:
        """`look` at several places at once, so that one way to a figure can serve them all."""

    def choice(self, name: str, labels: Labels) -> str | None:
        """What a fact of a choice, or of yes and no, says; `None` where nobody stated it."""

    def undecided(self, comparison: op.Comparison, station: Station) -> bool | None:
        """What is supposed of a comparison that nothing stated decides; `None` where nothing is."""


def evaluate(formula: Formula, environment: Environment, station: Station) -> Cell:
    """What a formula of a quantity comes to at a station, base units. Raises NotEvaluable where it has no value."""
    try:
        value: Cell = evaluate_operator(formula.operators, environment, station)
    except ArithmeticError as error:
        raise NotEvaluable(Why.TOO_LARGE) from error
    if value is not None and not (_bounded(value.low) and (value.low is value.high or _bounded(value.high))):
        raise NotEvaluable(Why.TOO_LARGE)
    return value


def holds(formula: Formula | None, environment: Environment, station: Station) -> bool | None:
    """Whether a condition holds at a station: true where there is none, `None` where that is not known."""
    if formula is None:
        return True
    try:
        return is_true(formula, environment, station)
    except NotEvaluable:
        return None


def is_true(formula: Formula, environment: Environment, station: Station) -> bool | None:
    """The same of a condition that there is. Raises NotEvaluable where it looks up what a table does not have."""
    found: bool | None = evaluate_operator(formula.operators, environment, station)
    return found


def label(formula: Formula, environment: Environment, station: Station) -> str | None:
    """The label that a formula of a choice comes to at a station; `None` where that is not known."""
    found: str | None = evaluate_operator(formula.operators, environment, station)
    return found


def _bounded(end: Point | None) -> bool:
    """Whether floats can hold an end of a value, and its slopes are numbers."""
    return end is None or (end.value.adjusted() < LARGEST and math.isfinite(sum(end.slopes.values())))


def evaluate_operator(operator: op.Operator, environment: Environment, station: Station) -> Any:
    """What an operator comes to: a cell or a list of cells, a truth, a label."""
    return _OPERATORS[type(operator)](operator, environment, station)


def _constant(constant: op.Constant, _environment: Environment, _station: Station) -> Cell:
    return exactly(constant.value)


def _slot(slot: op.Slot, environment: Environment, station: Station) -> Any:
    name, finders, axes = slot
    layout = environment.layout
    if axes:
        return environment.row(name, layout.places(finders, axes, station))
    return environment.look(name, tuple([layout.label(finder, station) for finder in finders]))


def _elementwise(node: op.Elementwise, environment: Environment, station: Station) -> Any:
    operation, operands, axes, _ = node
    work = _OPERATIONS.get(operation, apply_function)
    if not axes:
        cells = [evaluate_operator(operand, environment, station) for operand in operands]
        return None if None in cells else work(node, environment, cells)
    count = len(environment.layout.keys(axes, station))
    columns = [_spread(operand, axes, count, environment, station) for operand in operands]
    return [None if None in cells else work(node, environment, cells) for cells in zip(*columns, strict=True)]


def _spread(
    operand: op.Quantity, axes: op.Axes, count: int, environment: Environment, station: Station
) -> Sequence[Cell]:
    """An operand's cells, one for each key on the axes of the whole."""
    found = evaluate_operator(operand, environment, station)
    if not operand.axes:
        return [found] * count
    if operand.axes == axes:
        cells: Sequence[Cell] = found
        return cells
    index = environment.layout.projection(axes, operand.axes, station)
    return [UNKNOWN if number is None else found[number] for number in index]


def _reduction(node: op.Reduction, environment: Environment, station: Station) -> Any:
    reducer, of, kept, axes = node
    if environment.exchanged:
        reducer = EXCHANGED.get(reducer, reducer)
    found = evaluate_operator(of, environment, station)
    cells = found if of.axes else [found]
    if not axes:
        return reduce(reducer, cells, environment.u)
    layout = environment.layout
    rows: dict[Labels, list[Cell]] = {key: [] for key in layout.keys(axes, station)}
    for key, cell in zip(layout.keys(of.axes, station), cells, strict=True):
        rows[tuple([key[i] for i in kept])].append(cell)
    return [reduce(reducer, row, environment.u) for row in rows.values()]


def _lookup(node: op.Lookup, environment: Environment, station: Station) -> Any:
    column, axes = environment.columns[node.column], node.axes
    if not axes:
        keys = [evaluate_operator(key, environment, station) for key in node.keys]
        return None if _unread(node.keys, keys) else number_at(column, keys, environment.u)
    count = len(environment.layout.keys(axes, station))
    rows = [
        _spread(key, axes, count, environment, station)
        if isinstance(key, op.Quantity)
        else [evaluate_operator(key, environment, station)] * count
        for key in node.keys
    ]
    return [
        None if _unread(node.keys, keys) else number_at(column, keys, environment.u) for keys in zip(*rows, strict=True)
    ]


def _unread(keys: Sequence[op.Operator], found: Sequence[Any]) -> bool:
    """Whether a size is a position without a reading."""
    return any(each is None and isinstance(key, op.Quantity) for key, each in zip(keys, found, strict=True))


def _label_lookup(node: op.LabelLookup, environment: Environment, station: Station) -> str | None:
    keys = [evaluate_operator(key, environment, station) for key in node.keys]
    return label_at(environment.columns[node.column], keys, environment.u)


def _conditional(node: op.Conditional, environment: Environment, station: Station) -> Any:
    asked, then, otherwise, axes = node
    answer = evaluate_operator(asked, environment, station)
    if answer is not None:
        return evaluate_operator(then if answer else otherwise, environment, station)
    one, other = evaluate_operator(then, environment, station), evaluate_operator(otherwise, environment, station)
    u = environment.u
    return [_either(*pair, u) for pair in zip(one, other, strict=True)] if axes else _either(one, other, u)


def _either(one: Cell, other: Cell, u: Errors) -> Cell:
    return UNKNOWN if one is None or other is None else hull(one, other, u)


def _fact_label(node: op.FactLabel, environment: Environment, station: Station) -> str | None:
    layout = environment.layout
    return environment.choice(node.name, tuple([layout.label(finder, station) for finder in node.finders]))


def _station_label(node: op.StationLabel, environment: Environment, station: Station) -> str | None:
    return environment.layout.label(node.finder, station)


def _literal(node: op.Literal, _environment: Environment, _station: Station) -> str:
    return node.label


def _equality(node: op.Equality, environment: Environment, station: Station) -> bool | None:
    one, other = evaluate_operator(node.left, environment, station), evaluate_operator(node.right, environment, station)
    return None if one is None or other is None else (one == other) is node.equal


def _comparison(node: op.Comparison, environment: Environment, station: Station) -> bool | None:
    try:
        value: Cell = evaluate_operator(node.quantity, environment, station)
    except (NotEvaluable, ArithmeticError):
        value = None
    answer = None if value is None else decided(node, _end(value.low), _end(value.high))
    return environment.undecided(node, station) if answer is None else answer


def _end(point: Point | None) -> Decimal | None:
    return None if point is None else point.value


def decided(node: op.Comparison, low: Decimal | None, high: Decimal | None) -> bool | None:
    """What a comparison comes to for a quantity from `low` to `high` (None: open); None where it depends on which."""
    first = -1 if low is None else _side(low - node.threshold)
    last = 1 if high is None else _side(high - node.threshold)
    answers = {_SIGNS[node.sign](side, 0) for side in range(first, last + 1)}
    return answers.pop() if len(answers) == 1 else None


def _side(difference: Decimal) -> int:
    """Below (-1), at (0) or above (1) the threshold."""
    return 0 if is_zero(difference) else -1 if difference < 0 else 1


def _junction(node: op.Junction, environment: Environment, station: Station) -> bool | None:
    """A decisive side settles it whatever the other is: true for `or`, false for `and`."""
    decisive = node.word == "or"
    one: bool | None = evaluate_operator(node.left, environment, station)
    if one is decisive:
        return one
    other: bool | None = evaluate_operator(node.right, environment, station)
    if other is decisive:
        return other
    return None if one is None or other is None else not decisive


def _negation(node: op.Negation, environment: Environment, station: Station) -> bool | None:
    answer = evaluate_operator(node.of, environment, station)
    return None if answer is None else not answer


def _affirmation(node: op.Affirmation, environment: Environment, station: Station) -> bool | None:
    said = evaluate_operator(node.of, environment, station)
    return None if said is None else said == "yes"


def _one_of_two(
    node: op.ConditionalLabel | op.ConditionalCondition, environment: Environment, station: Station
) -> bool | str | None:
    answer = evaluate_operator(node.condition, environment, station)
    if answer is not None:
        found: bool | str | None = evaluate_operator(node.then if answer else node.otherwise, environment, station)
        return found
    one, other = (
        evaluate_operator(node.then, environment, station),
        evaluate_operator(node.otherwise, environment, station),
    )
    return one if one == other else None


_OPERATORS: Mapping[type, Callable[[Any, Environment, Station], Any]] = {
    op.Constant: _constant,
    op.Slot: _slot,
    op.Elementwise: _elementwise,
    op.Reduction: _reduction,
    op.Lookup: _lookup,
    op.LabelLookup: _label_lookup,
    op.Conditional: _conditional,
    op.FactLabel: _fact_label,
    op.StationLabel: _station_label,
    op.Literal: _literal,
    op.ConditionalLabel: _one_of_two,
    op.Equality: _equality,
    op.Comparison: _comparison,
    op.Junction: _junction,
    op.Negation: _negation,
    op.Affirmation: _affirmation,
    op.ConditionalCondition: _one_of_two,
}

_SIGNS: Mapping[str, Callable[[Any, Any], bool]] = {"==": eq, "!=": ne, "<": lt, "<=": le, ">": gt, ">=": ge}


def apply_function(node: op.Elementwise, environment: Environment, cells: Sequence[Value]) -> Value:
    """A function of the registry, by its name."""
    return apply(environment.functions[node.operation], cells)


_OPERATIONS: Mapping[str, Callable[[op.Elementwise, Environment, Sequence[Value]], Value]] = {
    "+": lambda _node, _environment, cells: add(cells[0], cells[1]),
    "-": lambda _node, _environment, cells: subtract(cells[0], cells[1]),
    "*": lambda _node, environment, cells: multiply(cells[0], cells[1], environment.u),
    "/": lambda _node, environment, cells: divide(cells[0], cells[1], environment.u),
    "negate": lambda _node, _environment, cells: negate(cells[0]),
    "power": lambda node, environment, cells: power(cells[0], node.exponent or Decimal(0), environment.u),
    "min": lambda _node, environment, cells: extreme(cells, environment.u, greatest=False),
    "max": lambda _node, environment, cells: extreme(cells, environment.u, greatest=True),
}
