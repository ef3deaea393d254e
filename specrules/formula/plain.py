"""A formula in plain decimals, for the many stations at which all of it was measured and nothing is in question.

A formula that only adds, scales and picks moves with its readings in one way, whatever they are. How sure its value is
then depends on what is noted here as its shape: how each row of readings was measured, and how many rivals each pick
had. Two stations with one shape are equally sure, so that the uncertainty of the second need not be worked out again.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping, Set
from decimal import Decimal
from itertools import combinations
from typing import Any, NamedTuple, Protocol

from specrules.formula.axes import labels_at, place
from specrules.formula.formula import Bench, Formula, Station
from specrules.formula.functions import CONSTANTS
from specrules.formula.labels import picked
from specrules.formula.row import PICKERS, REDUCERS, By, NotPlain, Plain, Row
from specrules.formula.scope import Role, Scope
from specrules.formula.tree import Binary, Call, Name, Negative, Node, Number, Reduce
from specrules.quantity import is_zero

_TOUCHING = 1e-25
"""Base units within which two operands of min and max are too near for plain decimals to tell which is picked."""


class PlainBench(Protocol):
    """What a formula is evaluated against in plain decimals. Each of these raises NotPlain where it has no answer."""

    shape: list[Hashable]
    """Everything that the uncertainty of what is evaluated depends on, noted in the order in which it was met."""

    @property
    def bench(self) -> Bench:
        """Where labels are looked up."""

    def row(self, name: str, labels: tuple[str, ...], free: tuple[str, ...]) -> Row:
        """The readings of a measurand at these labels of its first axes, along all its other axes."""

    def stated(self, name: str, labels: tuple[str, ...]) -> Decimal:
        """The number of a fact that is stated without an uncertainty."""

    def figure(self, name: str, labels: tuple[str, ...]) -> Plain:
        """The value of a figure; its own shape is noted."""

    def limit(self, name: str) -> Plain:
        """A limit as it stands so far, where another is evaluated."""


Run = Callable[[PlainBench, Station], Plain]


class Use(NamedTuple):
    """One way in which readings come into a formula: of which measurand, where on each of its axes ("at" the station's
    own label, at one that is "picked", or "along" it), and by which reducer; None for one reading by itself."""

    name: str
    where: tuple[tuple[str, str], ...]
    by: By | None

    @property
    def picks(self) -> bool:
        """Whether which of the readings it moves with hangs on what they are."""
        return self.by is not None and (self.by[0] in PICKERS or self.by[1] != "")


class Plainly(NamedTuple):
    """How to evaluate a formula in plain decimals, and what comes into it."""

    run: Run
    uses: frozenset[Use]
    figures: frozenset[str]


def plainly(formula: Formula) -> Plainly:
    """How to evaluate a formula in plain decimals. Raises NotPlain where readings do more in it than add up, be scaled
    and be picked from."""
    compiler = _Compiler(formula.scope, formula.each)
    run = compiler.run(formula.tree)
    return Plainly(run, frozenset(compiler.uses), frozenset(compiler.figures))


def told_apart(uses: Iterable[Use]) -> bool:
    """Whether no reading comes in twice at one station and once at another, so that what cancels is always the same.

    One row may be picked from in one way, and be summed up besides; single readings of one measurand have to be picked
    on one axis by labels that differ.
    """
    by_name: dict[str, set[Use]] = {}
    for use in uses:
        by_name.setdefault(use.name, set()).add(use)
    return all(_never_meet(found) for found in by_name.values())


def _never_meet(uses: Set[Use]) -> bool:
    if len({use.where for use in uses}) == 1:
        return sum(use.picks for use in uses) <= 1
    return all(
        one.by is None
        and other.by is None
        and any(a[0] == b[0] == "picked" and a != b for a, b in zip(one.where, other.where, strict=True))
        for one, other in combinations(uses, 2)
    )


class _Compiler:
    """Compiles expressions for stations of `each`. Raises NotPlain at one that does more."""

    def __init__(self, scope: Scope, each: tuple[str, ...]) -> None:
        self.scope = scope
        self.each = each
        self.uses: set[Use] = set()
        self.figures: set[str] = set()

    def run(self, node: Node) -> Run:
        how = _NODES.get(type(node))
        if how is None:
            raise NotPlain
        return how(self, node)

    def measured(self, node: Node) -> bool:
        """Whether a reading may be in it."""
        match node:
            case Name(name):
                known = self.scope.names.get(name)
                return known is not None and known.role is not Role.FACT
            case Negative(of) | Reduce(_, of):
                return self.measured(of)
            case Binary(_, left, right):
                return self.measured(left) or self.measured(right)
            case Call(_, arguments):
                return any(map(self.measured, arguments))
        return not isinstance(node, Number)

    def number(self, node: Number) -> Run:
        constant = (node.value, 0.0)
        return lambda _bench, _station: constant

    def name(self, node: Name) -> Run:
        name, known = node.name, self.scope.names.get(node.name)
        if known is None:
            constant = (CONSTANTS[name], 0.0)
            return lambda _bench, _station: constant
        if known.role is Role.LIMIT:
            return lambda bench, _station: bench.limit(name)
        labels, free, where = self.placed(node)
        if free:
            raise NotPlain
        if known.role is Role.FACT:
            return lambda bench, station: (bench.stated(name, labels(bench.bench, station)), 0.0)
        if known.role is Role.FIGURE:
            if node.picks:
                raise NotPlain
            self.figures.add(name)
            return lambda bench, station: bench.figure(name, labels(bench.bench, station))
        self.uses.add(Use(name, where, None))

        def reading(bench: PlainBench, station: Station) -> Plain:
            row = bench.row(name, labels(bench.bench, station), ())
            bench.shape.append(row.number)
            return row.values[0], row.kind.u

        return reading

    def placed(
        self, node: Name
    ) -> tuple[Callable[[Bench, Station], tuple[str, ...]], tuple[str, ...], tuple[tuple[str, str], ...]]:
        """How the labels on a name's first axes are found; its other axes, all of which are free; and where that is."""
        known = self.scope.names[node.name]
        picks = picked(node, known, self.scope) if node.picks else {}
        finders, free = place(known, picks, self.each, self.scope)
        bound = len(finders) - len(free)
        if None in finders[:bound] or any(set(self.scope.grouped_by(axis)).intersection(self.each) for axis in free):
            raise NotPlain
        where = tuple(
            [
                ("picked", picks[axis]) if axis in picks else ("along" if axis in free else "at", axis)
                for axis in known.axes
            ]
        )
        if bound == 1 and known.axes[0] in self.each and not picks:
            axis = known.axes[0]
            return lambda _bench, station: (station[axis],), free, where  # as `labels_at` has it, but in one step
        return labels_at(finders), free, where

    def negative(self, node: Negative) -> Run:
        of = self.run(node.of)

        def run(bench: PlainBench, station: Station) -> Plain:
            value, reach = of(bench, station)
            return -value, reach

        return run

    def binary(self, node: Binary) -> Run:
        left, right, minus = self.run(node.left), self.run(node.right), node.sign == "-"
        if node.sign in "*/":
            return self.scaled(node, left, right)

        def run(bench: PlainBench, station: Station) -> Plain:
            one, its_reach = left(bench, station)
            other, reach = right(bench, station)
            return one - other if minus else one + other, its_reach + reach

        return run

    def scaled(self, node: Binary, left: Run, right: Run) -> Run:
        """A product or a quotient, of which one side was measured at the most; the other belongs to the shape."""
        divides = node.sign == "/"
        if self.measured(node.right):
            if divides or self.measured(node.left):
                raise NotPlain
            left, right, by = right, left, node.left
        else:
            by = node.right
        if isinstance(by, Number) and not divides:
            return _multiplied(left, by.value)

        def run(bench: PlainBench, station: Station) -> Plain:
            value, reach = left(bench, station)
            factor, _ = right(bench, station)
            bench.shape.append(factor)
            if not divides:
                return value * factor, reach * abs(float(factor))
            if is_zero(factor):
                raise NotPlain
            return value / factor, reach / abs(float(factor))

        return run

    def call(self, node: Call) -> Run:
        """The greatest or the least of some; which one it was belongs to the shape."""
        if node.function not in ("min", "max"):
            raise NotPlain
        first, *others = [self.run(argument) for argument in node.arguments]
        numbered, greatest = tuple(enumerate(others, start=1)), node.function == "max"

        def run(bench: PlainBench, station: Station) -> Plain:
            best, at = first(bench, station), 0
            for number, other in numbered:
                rival = other(bench, station)
                ahead = float(rival[0] - best[0])
                if abs(ahead) <= 2 * (rival[1] + best[1]) + _TOUCHING:
                    raise NotPlain
                if (ahead > 0) is greatest:
                    best, at = rival, number
            bench.shape.append(at)
            return best

        return run

    def reduced(self, node: Reduce) -> Run:
        """One reducer over all of a row of readings, or over what another one makes of a row along one axis."""
        inner = node.of if isinstance(node.of, Reduce) else None
        of = inner.of if inner is not None else node.of
        if not isinstance(of, Name) or self.scope.names[of.name].role is not Role.MEASURAND:
            raise NotPlain
        name, (labels, free, where) = of.name, self.placed(of)
        left = tuple(axis for axis in free if inner is not None and axis != inner.axis)
        if inner is not None and (not inner.axis or not left):
            raise NotPlain
        if node.axis and (left or free) != (node.axis,):
            raise NotPlain
        if not REDUCERS.keys() >= {node.how, inner.how if inner else node.how}:
            raise NotPlain
        by = (node.how, inner.how if inner else "", free.index(inner.axis) if inner else 0)
        self.uses.add(Use(name, where, by))

        def run(bench: PlainBench, station: Station) -> Plain:
            row = bench.row(name, labels(bench.bench, station), free)
            value, reach, rivals = row.reduced(by)
            bench.shape += (row.number, rivals)
            return value, reach

        return run


def _multiplied(of: Run, factor: Decimal) -> Run:
    size = abs(float(factor))

    def run(bench: PlainBench, station: Station) -> Plain:
        value, reach = of(bench, station)
        return value * factor, reach * size

    return run


_NODES: Mapping[type, Callable[[_Compiler, Any], Run]] = {
    Number: _Compiler.number,
    Name: _Compiler.name,
    Negative: _Compiler.negative,
    Binary: _Compiler.binary,
    Call: _Compiler.call,
    Reduce: _Compiler.reduced,
}
