"""A checked tree to plain functions: one that evaluates a quantity at a station, one that answers a condition.

An expression without free axes evaluates to a value; one with free axes to a table of values keyed by their labels. The
names have been checked; what is found wrong here is an axis where none can be.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import NamedTuple, TypeVar

from specrules.formula.axes import Axes, Key, join, keys, place, projector, without
from specrules.formula.bounds import add, apply, divide, extreme, hull, multiply, negate, power, subtract
from specrules.formula.check_kind import CONSTANTS, label_of, may_have
from specrules.formula.formula import Answer, Bench, Station
from specrules.formula.functions import Function
from specrules.formula.reduce import reduce
from specrules.formula.scope import Declared, Kind, Role, Scope
from specrules.formula.tokens import Refused
from specrules.formula.tree import (
    Binary,
    Call,
    Choose,
    Compare,
    Logic,
    Name,
    Negative,
    Node,
    Not,
    Number,
    Power,
    Reduce,
)
from specrules.formula.value import UNKNOWN, Value, exactly
from specrules.quantity import is_zero

T = TypeVar("T")
Cell = Value | None
Table = dict[Key, Cell]
EXCHANGED = {"largest": "smallest", "smallest": "largest"}
"""What turns the tightest pair into the loosest: the other end of what the readings allow."""


class Compiled(NamedTuple):
    """axes () : `run` gives one cell; else a table over the axes."""

    axes: Axes
    run: Callable[[Bench, Station], Cell]
    table: Callable[[Bench, Station], Table]


class Compiler:
    """Compiles the expressions of one formula, for stations of `each`. Raises Refused at an axis that cannot be."""

    def __init__(self, scope: Scope, each: Axes) -> None:
        self.scope = scope
        self.each = each

    def quantity(self, node: Node) -> Compiled:
        match node:
            case Number(value):
                return _constant(value)
            case Name():
                return self.name(node)
            case Negative(of):
                return self.elementwise((of,), lambda _bench, cells: negate(cells[0]))
            case Binary(sign, left, right):
                return self.elementwise((left, right), _ARITHMETIC[sign])
            case Power(of, exponent):
                return self.elementwise((of,), lambda _bench, cells: power(cells[0], exponent))
            case Call(function, arguments):
                return self.elementwise(arguments, _function(function, self.scope))
            case Reduce():
                return self.reduced(node)
            case Choose():
                return self.chosen(node)
        raise AssertionError(node)  # pragma: no cover - the kinds have been checked

    def name(self, node: Name) -> Compiled:
        if node.name in CONSTANTS and node.name not in self.scope.names:
            return _constant(CONSTANTS[node.name])
        known = self.scope.names[node.name]
        finders, free = place(known, self.picks(node, known), self.each, self.scope)
        name = node.name
        if not free:
            fixed = [finder for finder in finders if finder is not None]

            def run(bench: Bench, station: Station) -> Cell:
                return bench.look(name, tuple([finder(bench, station) for finder in fixed]))

            return _scalar(run)

        def table(bench: Bench, station: Station) -> Table:
            wanted = keys(bench, free, station)
            if len(free) == len(finders):
                return dict(zip(wanted, bench.row(name, wanted), strict=True))
            places: list[Key] = []
            for key in wanted:
                rest = iter(key)
                places.append(tuple([next(rest) if finder is None else finder(bench, station) for finder in finders]))
            return dict(zip(wanted, bench.row(name, places), strict=True))

        return _tabled(free, table)

    def picks(self, node: Name, known: Declared) -> dict[str, str]:
        return {
            said or next(axis for axis in known.axes if may_have(self.scope.axes[axis], label)): label
            for said, label in node.picks
        }

    def elementwise(self, nodes: tuple[Node, ...], how: Callable[[Bench, list[Value]], Value]) -> Compiled:
        operands = [self.quantity(node) for node in nodes]
        axes: Axes = ()
        for operand in operands:
            axes = join(axes, operand.axes, self.scope)
        if not axes:
            runs = [operand.run for operand in operands]

            def run(bench: Bench, station: Station) -> Cell:
                cells = [run(bench, station) for run in runs]
                return None if None in cells else how(bench, cells)  # type: ignore[arg-type]  # none is None

            return _scalar(run)
        projectors = [projector(axes, operand.axes, self.scope) for operand in operands]

        def table(bench: Bench, station: Station) -> Table:
            tables = [operand.table(bench, station) for operand in operands]
            result: Table = {}
            for key in keys(bench, axes, station):
                cells = [cells[project(bench, key)] for cells, project in zip(tables, projectors, strict=True)]
                result[key] = None if None in cells else how(bench, cells)  # type: ignore[arg-type]  # none is None
            return result

        return _tabled(axes, table)

    def reduced(self, node: Reduce) -> Compiled:
        of = self.quantity(node.of)
        if not of.axes and not node.axis and node.how in ("spread", "count"):
            raise Refused(f"takes the {node.how} of one value", "", node.at)
        left = without(of.axes, node.axis, node.at)
        how = node.how
        if not left:

            def run(bench: Bench, station: Station) -> Cell:
                said = EXCHANGED.get(how, how) if bench.exchanged else how
                return reduce(said, list(of.table(bench, station).values()), bench.u)

            return _scalar(run)
        where = [of.axes.index(axis) for axis in left]

        def table(bench: Bench, station: Station) -> Table:
            rows: dict[Key, list[Cell]] = {}
            for key, cell in of.table(bench, station).items():
                rows.setdefault(tuple([key[i] for i in where]), []).append(cell)
            said = EXCHANGED.get(how, how) if bench.exchanged else how
            return {key: reduce(said, cells, bench.u) for key, cells in rows.items()}

        return _tabled(left, table)

    def chosen(self, node: Choose) -> Compiled:
        asks = self.condition(node.condition)
        then, otherwise = self.quantity(node.then), self.quantity(node.otherwise)
        axes = join(then.axes, otherwise.axes, self.scope)
        if axes != then.axes or axes != otherwise.axes:
            raise Refused("has two sides of an 'if' that lie along different axes", "a reducer on each side", node.at)

        def table(bench: Bench, station: Station) -> Table:
            answer = asks(bench, station)
            if answer is not None:
                return (then if answer else otherwise).table(bench, station)
            other = otherwise.table(bench, station)
            return {key: _either(cell, other[key]) for key, cell in then.table(bench, station).items()}

        if axes:
            return _tabled(axes, table)
        return _scalar(lambda bench, station: table(bench, station)[()])

    def condition(self, node: Node) -> Callable[[Bench, Station], bool | None]:
        """Three-valued: None where a fact that matters has not been stated."""
        match node:
            case Compare():
                return self.compared(node)
            case Not(of):
                asks = self.condition(of)
                return lambda bench, station: None if (answer := asks(bench, station)) is None else not answer
            case Logic(word, left, right):
                return _logic(self.condition(left), self.condition(right), decisive=word == "or")
            case Choose(then, condition, otherwise):
                return _choose(self.condition(condition), self.condition(then), self.condition(otherwise))
        choice = self.choice(node)

        def yes(bench: Bench, station: Station) -> bool | None:
            said = choice(bench, station)
            return None if said is None else said == "yes"

        return yes

    def choice(self, node: Node) -> Callable[[Bench, Station], str | None]:
        """What a choice comes to: a fact's label, the station's label on an axis, or a label as written."""
        if isinstance(node, Choose):
            return _choose(self.condition(node.condition), self.choice(node.then), self.choice(node.otherwise))
        if isinstance(node, Name) and node.name in self.scope.names:
            known, name = self.scope.names[node.name], node.name
            finders, free = place(known, self.picks(node, known), self.each, self.scope)
            if free:
                raise Refused(f"has {name}, which differs along {', '.join(free)}", f"{name}[label]", node.at)
            fixed = [finder for finder in finders if finder is not None]
            return lambda bench, station: bench.choice(name, tuple([finder(bench, station) for finder in fixed]))
        if isinstance(node, Name) and node.name in self.scope.axes:
            (finder,), _ = place(Declared(node.name, Role.FACT, (node.name,)), {}, self.each, self.scope)
            assert finder is not None  # the kind check has seen that the axis is bound
            return finder
        label = label_of(node, self.scope)
        return lambda _bench, _station: label

    def compared(self, node: Compare) -> Callable[[Bench, Station], bool | None]:
        if self.chooses(node.left) or self.chooses(node.right):
            left, right, equal = self.choice(node.left), self.choice(node.right), node.sign == "=="

            def same(bench: Bench, station: Station) -> bool | None:
                one, other = left(bench, station), right(bench, station)
                return None if one is None or other is None else (one == other) is equal

            return same
        difference = self.quantity(Binary("-", node.left, node.right, node.at))
        if difference.axes:
            raise Refused(
                f"compares something that lies along {', '.join(difference.axes)}",
                "a label in brackets",
                node.at,
            )
        holds = _COMPARISONS[node.sign]

        def ordered(bench: Bench, station: Station) -> bool | None:
            value = difference.run(bench, station)
            if value is None or value.low is None or not value.exact:
                return None
            return holds(Decimal(0) if is_zero(value.low.value) else value.low.value)

        return ordered

    def chooses(self, node: Node) -> bool:
        """Whether one side of a comparison is a choice: a fact of choices, or the station's label on an axis."""
        if not isinstance(node, Name):
            return False
        known = self.scope.names.get(node.name)
        return known.kind is Kind.CHOICE if known is not None else node.name in self.scope.axes


def _scalar(run: Callable[[Bench, Station], Cell]) -> Compiled:
    return Compiled((), run, lambda bench, station: {(): run(bench, station)})


def _tabled(axes: Axes, table: Callable[[Bench, Station], Table]) -> Compiled:
    def run(_bench: Bench, _station: Station) -> Cell:
        raise AssertionError(axes)  # pragma: no cover - free axes are refused when the formula is read

    return Compiled(axes, run, table)


def _constant(value: Decimal) -> Compiled:
    constant = exactly(value)
    return _scalar(lambda _bench, _station: constant)


def _either(one: Cell, other: Cell) -> Cell:
    return UNKNOWN if one is None or other is None else hull(one, other)


def _function(name: str, scope: Scope) -> Callable[[Bench, list[Value]], Value]:
    if name in ("min", "max"):
        greatest = name == "max"
        return lambda bench, cells: extreme(cells, bench.u, greatest)
    function: Function = scope.functions[name]
    return lambda _bench, cells: apply(function, cells)


_Ask = Callable[[Bench, Station], bool | None]


def _logic(left: _Ask, right: _Ask, decisive: bool) -> _Ask:
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
    asks: _Ask, then: Callable[[Bench, Station], T | None], otherwise: Callable[[Bench, Station], T | None]
) -> Callable[[Bench, Station], T | None]:
    def answer(bench: Bench, station: Station) -> T | None:
        said = asks(bench, station)
        if said is not None:
            return then(bench, station) if said else otherwise(bench, station)
        one, other = then(bench, station), otherwise(bench, station)
        return one if one == other else None

    return answer


_ARITHMETIC: Mapping[str, Callable[[Bench, list[Value]], Value]] = {
    "+": lambda _bench, cells: add(cells[0], cells[1]),
    "-": lambda _bench, cells: subtract(cells[0], cells[1]),
    "*": lambda _bench, cells: multiply(cells[0], cells[1]),
    "/": lambda bench, cells: divide(cells[0], cells[1], bench.u),
}

_COMPARISONS: Mapping[str, Callable[[Decimal], bool]] = {
    "==": lambda difference: difference == 0,
    "!=": lambda difference: difference != 0,
    "<": lambda difference: difference < 0,
    "<=": lambda difference: difference <= 0,
    ">": lambda difference: difference > 0,
    ">=": lambda difference: difference >= 0,
}
