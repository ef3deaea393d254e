"""A checked tree to plain functions that evaluate a quantity at a station.

An expression without free axes evaluates to a value; one with free axes to a table of values keyed by their labels. The
names have been checked; what is found wrong here is an axis where none can be.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any, NamedTuple

from specrules.formula.ask import condition
from specrules.formula.axes import Axes, Key, join, keys, labels_at, place, projector, without
from specrules.formula.bounds import add, apply, divide, extreme, hull, multiply, negate, power, subtract
from specrules.formula.formula import Bench, Station
from specrules.formula.functions import CONSTANTS, Function
from specrules.formula.labels import picked
from specrules.formula.reduce import reduce
from specrules.formula.scope import Scope
from specrules.formula.tokens import Refused
from specrules.formula.tree import Binary, Call, Choose, Name, Negative, Node, Number, Power, Reduce
from specrules.formula.value import UNKNOWN, Value, exactly

Cell = Value | None
Table = dict[Key, Cell]
EXCHANGED = {"largest": "smallest", "smallest": "largest"}
"""What turns the tightest pair into the loosest: the other end of what the readings allow."""


class Compiled(NamedTuple):
    """axes (): `run` gives one cell. Otherwise `table` gives one for every key on the axes."""

    axes: Axes
    run: Callable[[Bench, Station], Cell]
    table: Callable[[Bench, Station], Table]


class Compiler:
    """Compiles the expressions of one formula, for stations of `each`. Raises Refused at an axis that cannot be."""

    def __init__(self, scope: Scope, each: Axes) -> None:
        self.scope = scope
        self.each = each

    def quantity(self, node: Node) -> Compiled:
        return _QUANTITIES[type(node)](self, node)

    def number(self, node: Number) -> Compiled:
        return _constant(node.value)

    def name(self, node: Name) -> Compiled:
        known = self.scope.names.get(node.name)
        if known is None:
            return _constant(CONSTANTS[node.name])
        picks = picked(node, known, self.scope) if node.picks else {}
        finders, free = place(known, picks, self.each, self.scope)
        name = node.name
        if not free:
            labels = labels_at(finders)
            return _scalar(lambda bench, station: bench.look(name, labels(bench, station)))

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

    def negative(self, node: Negative) -> Compiled:
        return self.elementwise((node.of,), lambda _bench, cells: negate(cells[0]))

    def binary(self, node: Binary) -> Compiled:
        return self.elementwise((node.left, node.right), _ARITHMETIC[node.sign])

    def power(self, node: Power) -> Compiled:
        exponent = node.exponent
        return self.elementwise((node.of,), lambda bench, cells: power(cells[0], exponent, bench.u))

    def call(self, node: Call) -> Compiled:
        return self.elementwise(node.arguments, _function(node.function, self.scope))

    def elementwise(self, nodes: tuple[Node, ...], how: Callable[[Bench, list[Value]], Value]) -> Compiled:
        operands = [self.quantity(node) for node in nodes]
        axes: Axes = ()
        for operand in operands:
            axes = join(axes, operand.axes, self.scope)
        if not axes:
            runs = [operand.run for operand in operands]

            def run(bench: Bench, station: Station) -> Cell:
                cells = [operand(bench, station) for operand in runs]
                return None if None in cells else how(bench, cells)  # type: ignore[arg-type]  # none is None

            return _scalar(run)
        projectors = [projector(axes, operand.axes, self.scope) for operand in operands]

        def table(bench: Bench, station: Station) -> Table:
            tables = [operand.table(bench, station) for operand in operands]
            result: Table = {}
            for key in keys(bench, axes, station):
                cells = [
                    cells.get(project(bench, key), UNKNOWN) for cells, project in zip(tables, projectors, strict=True)
                ]
                result[key] = None if None in cells else how(bench, cells)  # type: ignore[arg-type]  # none is None
            return result

        return _tabled(axes, table)

    def reduced(self, node: Reduce) -> Compiled:
        of, how = self.quantity(node.of), node.how
        if not of.axes and not node.axis and how in ("spread", "count"):
            raise Refused(f"takes the {how} of one value", "", node.at)
        left = without(of.axes, node.axis, node.at)
        exchanged = EXCHANGED.get(how, how)
        if not left:

            def run(bench: Bench, station: Station) -> Cell:
                cells = list(of.table(bench, station).values())
                return reduce(exchanged if bench.exchanged else how, cells, bench.u)

            return _scalar(run)
        where = [of.axes.index(axis) for axis in left]

        def table(bench: Bench, station: Station) -> Table:
            rows: dict[Key, list[Cell]] = {key: [] for key in keys(bench, left, station)}
            for key, cell in of.table(bench, station).items():
                rows[tuple([key[i] for i in where])].append(cell)
            said = exchanged if bench.exchanged else how
            return {key: reduce(said, cells, bench.u) for key, cells in rows.items()}

        return _tabled(left, table)

    def chosen(self, node: Choose) -> Compiled:
        asks = condition(node.condition, self)
        then, otherwise = self.quantity(node.then), self.quantity(node.otherwise)
        if then.axes != otherwise.axes:
            raise Refused("has two sides of an 'if' that lie along different axes", "a reducer on each side", node.at)

        def run(bench: Bench, station: Station) -> Cell:
            answer = asks(bench, station)
            if answer is not None:
                return (then if answer else otherwise).run(bench, station)
            return _either(then.run(bench, station), otherwise.run(bench, station))

        def table(bench: Bench, station: Station) -> Table:
            answer = asks(bench, station)
            if answer is not None:
                return (then if answer else otherwise).table(bench, station)
            other = otherwise.table(bench, station)
            return {key: _either(cell, other[key]) for key, cell in then.table(bench, station).items()}

        return _tabled(then.axes, table) if then.axes else _scalar(run)


_QUANTITIES: Mapping[type, Callable[[Compiler, Any], Compiled]] = {
    Number: Compiler.number,
    Name: Compiler.name,
    Negative: Compiler.negative,
    Binary: Compiler.binary,
    Power: Compiler.power,
    Call: Compiler.call,
    Reduce: Compiler.reduced,
    Choose: Compiler.chosen,
}


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


_ARITHMETIC: Mapping[str, Callable[[Bench, list[Value]], Value]] = {
    "+": lambda _bench, cells: add(cells[0], cells[1]),
    "-": lambda _bench, cells: subtract(cells[0], cells[1]),
    "*": lambda _bench, cells: multiply(cells[0], cells[1]),
    "/": lambda bench, cells: divide(cells[0], cells[1], bench.u),
}
