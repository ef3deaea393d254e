"""Checks names, kinds and dimensions of a parsed formula. Knows no numbers and no stations; finds every fault in one run."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import NamedTuple

from specrules.formula.functions import PI, REDUCERS
from specrules.formula.scope import Axis, Declared, Kind, Role, Scope
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
from specrules.quantity import NUMBER, Dimension, Refusal, find_unit, nearest

CONSTANTS = {"pi": PI}
YES_NO = ("yes", "no")


class Sort(NamedTuple):
    """What an expression is. dimension None: any (a written 0). certain: it stands on facts and labels alone."""

    kind: Kind
    dimension: Dimension | None = NUMBER
    choices: tuple[str, ...] = ()
    certain: bool = True


CONDITION = Sort(Kind.CONDITION)


def label_of(node: Node, scope: Scope) -> str | None:
    """The label that a bare word or a whole number may be; None where the word is a name with a meaning."""
    if isinstance(node, Name) and not node.picks and node.name not in scope.names and node.name not in scope.axes:
        return node.name
    if isinstance(node, Number) and not node.unit and node.value % 1 == 0:
        return format(node.value, "f")
    return None


def is_condition(sort: Sort) -> bool:
    """A condition, or a fact of yes and no, which is one."""
    return sort.kind is Kind.CONDITION or sort.choices == YES_NO


class KindCheck:
    """One formula's check: `refusals` holds what was found, `names` every declared name that it uses."""

    def __init__(self, scope: Scope, each: tuple[str, ...], labels: tuple[str, ...] = ()) -> None:
        self.scope = scope
        self.bound = scope.bound(each)
        self.labels = labels  # words that the formula as a whole may come to, as an importance may
        self.refusals: list[Refusal] = []
        self.names: set[str] = set()
        self.exact = True

    def refuse(self, at: int, said: str, write: str = "") -> None:
        self.refusals.append(Refusal(said, write, at))

    def sort(self, node: Node) -> Sort | None:
        """The sort of an expression; None where something in it has been refused already."""
        match node:
            case Number(value, unit):
                return Sort(Kind.QUANTITY, _dimension(unit, value))
            case Name():
                return self.name(node)
            case Negative(of, at):
                return self.quantity(of, at)
            case Binary(sign, left, right, at):
                return self.arithmetic(sign, self.quantity(left, at), self.quantity(right, at), at)
            case Power(of, exponent, at):
                return self.power(self.quantity(of, at), exponent, at)
            case Call(function, arguments, at):
                return self.call(function, [self.quantity(argument, at) for argument in arguments], at)
            case Reduce(how, of, _, at):
                reduced = self.quantity(of, at)
                return reduced and (
                    reduced._replace(dimension=NUMBER) if how == "count" else self.reduced(how, reduced)
                )
            case Choose(then, condition, otherwise, at):
                self.condition(condition, at)
                return self.alike(self.sort(then), self.sort(otherwise), at, "the two sides of the 'if' differ")
            case Compare():
                return self.compare(node)
            case Logic(_, left, right, at):
                self.condition(left, at)
                self.condition(right, at)
                return CONDITION
            case Not(of, at):
                self.condition(of, at)
                return CONDITION

    def quantity(self, node: Node, at: int) -> Sort | None:
        found = self.sort(node)
        if found is not None and found.kind is not Kind.QUANTITY:
            self.refuse(node.at, f"has {found.kind.value} where a quantity is needed")
            return None
        return found

    def condition(self, node: Node, at: int) -> None:
        found = self.sort(node)
        if found is not None and not is_condition(found):
            self.refuse(node.at, f"has {found.kind.value} where a condition is needed", "a comparison such as a == b")

    def name(self, node: Name) -> Sort | None:
        known = self.scope.names.get(node.name)
        if known is not None:
            self.names.add(node.name)
            self.check_picks(node, known)
            return Sort(known.kind, known.dimension, known.choices, known.role in (Role.FACT, Role.LIMIT))
        if node.name in self.scope.axes:
            return self.axis(node, self.scope.axes[node.name])
        if node.name in CONSTANTS:
            return Sort(Kind.QUANTITY, NUMBER)
        if node.name in self.labels:
            return Sort(Kind.CHOICE, choices=self.labels)
        offered = nearest(node.name, [*self.scope.names, *self.labels, *CONSTANTS])
        if node.name in self.scope.functions or node.name in REDUCERS or node.name in ("min", "max"):
            self.refuse(node.at, f"has {node.name} without its brackets", f"{node.name}(...)")
        else:
            what = "no measurand, fact or figure" + (f", nor one of {_listed(self.labels)}" if self.labels else "")
            self.refuse(node.at, f"has {node.name!r}, which is {what}", offered or "")
        return None

    def axis(self, node: Name, axis: Axis) -> Sort | None:
        if axis.name in self.bound:
            return Sort(Kind.CHOICE, choices=axis.names)
        self.refuse(node.at, f"asks for the label on {axis.name}, and there is not one {axis.name} here", "")
        return None

    def check_picks(self, node: Name, known: Declared) -> None:
        taken: set[str] = set()
        for said, label in node.picks:
            axes = [said] if said else [a for a in known.axes if may_have(self.scope.axes[a], label)]
            wrong = [a for a in axes if a not in known.axes or not may_have(self.scope.axes[a], label)]
            if wrong and wrong[0] not in known.axes:
                self.refuse(
                    node.at,
                    f"picks on {wrong[0]}, and {node.name} does not lie along it",
                    _listed(known.axes),
                )
            elif not axes or wrong:
                labels = [label for a in known.axes for label in self.scope.axes[a].names]
                self.refuse(
                    node.at,
                    f"has {node.name}[{label}], and no axis of {node.name} has that label",
                    nearest(label, labels) or _listed(labels),
                )
            elif len(axes) > 1:
                self.refuse(
                    node.at,
                    f"has {node.name}[{label}], a label on {_listed(axes)}",
                    f"{node.name}[{axes[0]}: {label}]",
                )
            elif axes[0] in taken:
                self.refuse(node.at, f"picks twice on {axes[0]}", f"{node.name}[{label}]")
            taken.update(axes)

    def arithmetic(self, sign: str, left: Sort | None, right: Sort | None, at: int) -> Sort | None:
        if left is None or right is None:
            return None
        certain = left.certain and right.certain
        if sign in "+-":
            return self.summed(sign, left, right, at)
        a, b = left.dimension or NUMBER, right.dimension or NUMBER
        if a.point or b.point:
            self.refuse(at, "multiplies a temperature, which has no meaning; only a difference may be", "(a - b)")
            return None
        if left.dimension is None and sign == "*" or right.dimension is None and sign == "*":
            return Sort(Kind.QUANTITY, None, certain=certain)
        return Sort(Kind.QUANTITY, a.times(b) if sign == "*" else a.over(b), certain=certain)

    def summed(self, sign: str, left: Sort, right: Sort, at: int) -> Sort | None:
        a, b = left.dimension, right.dimension
        certain = left.certain and right.certain
        if a is None or b is None:
            return Sort(Kind.QUANTITY, a if b is None else b, certain=certain)
        if a._replace(point=False) != b._replace(point=False):
            verb = "adds" if sign == "+" else "subtracts"
            self.refuse(
                at,
                f"{verb} {b.words()} and {a.words()}" if sign == "+" else f"{verb} {b.words()} from {a.words()}",
            )
            return None
        if a.point and b.point and sign == "+" or b.point and not a.point and sign == "-":
            self.refuse(
                at,
                f"{'adds two temperatures' if sign == '+' else 'takes a temperature from a difference'}",
                "a - b",
            )
            return None
        return Sort(Kind.QUANTITY, a._replace(point=a.point != b.point), certain=certain)

    def power(self, of: Sort | None, exponent: Decimal, at: int) -> Sort | None:
        if of is None or of.dimension is None:
            return of
        if exponent % 1 == 0:
            return of._replace(dimension=of.dimension.power(int(exponent)))
        root = of.dimension.root()
        if root is None:
            self.refuse(at, f"takes the root of {of.dimension.words()}, which has no unit", "")
            return None
        return of._replace(dimension=root.power(int(exponent * 2)))

    def call(self, function: str, arguments: list[Sort | None], at: int) -> Sort | None:
        if any(argument is None for argument in arguments):
            return None
        sorts = [argument for argument in arguments if argument is not None]
        certain = all(sort.certain for sort in sorts)
        if function in ("min", "max"):
            if len(sorts) < 2:
                self.refuse(at, f"gives {function} one thing alone", f"{function}(a, b)")
                return None
            first: Sort | None = sorts[0]
            for other in sorts[1:]:
                first = first and self.alike(first, other, at, f"{function} is given different things")
            return first and first._replace(certain=certain)
        known = self.scope.functions.get(function)
        if known is None:
            offered = nearest(function, [*self.scope.functions, *REDUCERS, "min", "max"])
            self.refuse(at, f"has {function}(...), which is no function", f"{offered}(...)" if offered else "")
            return None
        if len(sorts) != known.arity:
            self.refuse(at, f"gives {function} {len(sorts)} thing(s), and it takes {known.arity}")
            return None
        self.exact = self.exact and known.exact
        result = known.dimensions([sort.dimension or NUMBER for sort in sorts])
        if isinstance(result, str):
            given = " and ".join((sort.dimension or NUMBER).words() for sort in sorts)
            self.refuse(at, f"gives {function} {given}, and it takes {result}")
            return None
        return Sort(Kind.QUANTITY, result, certain=certain)

    def reduced(self, how: str, sort: Sort) -> Sort:
        if how == "spread" and sort.dimension is not None:
            return sort._replace(dimension=sort.dimension._replace(point=False))
        return sort

    def alike(self, left: Sort | None, right: Sort | None, at: int, what: str) -> Sort | None:
        if left is None or right is None:
            return None
        certain = left.certain and right.certain
        if left.kind is right.kind and left.kind is not Kind.QUANTITY:
            return left._replace(certain=certain)
        if left.kind is not right.kind:
            self.refuse(at, f"has {left.kind.value} and {right.kind.value}: {what}")
            return None
        if left.dimension is not None and right.dimension is not None and left.dimension != right.dimension:
            self.refuse(at, f"has {left.dimension.words()} and {right.dimension.words()}: {what}")
            return None
        return left._replace(dimension=left.dimension if right.dimension is None else right.dimension, certain=certain)

    def compare(self, node: Compare) -> Sort | None:
        for one, other in ((node.left, node.right), (node.right, node.left)):
            label = label_of(other, self.scope)
            if label is None or isinstance(one, Number):
                continue
            found = self.sort(one)
            if found is None:
                return None
            if found.kind is Kind.CHOICE:
                return self.compare_label(node, found, label, other.at)
            if isinstance(other, Name) and other.name not in CONSTANTS:
                self.name(other)
                return None
        left, right = self.sort(node.left), self.sort(node.right)
        if left is None or right is None:
            return None
        if self.alike(left, right, node.at, "only like things can be compared") is None:
            return None
        if not (left.certain and right.certain):
            self.refuse(node.at, "compares a measured value; a condition reads facts and labels only", "a limit line")
            return None
        if left.kind is not Kind.QUANTITY and node.sign not in ("==", "!="):
            self.refuse(node.at, f"orders choices with {node.sign}", "== or !=")
            return None
        return CONDITION

    def compare_label(self, node: Compare, sort: Sort, label: str, at: int) -> Sort | None:
        if node.sign not in ("==", "!="):
            self.refuse(node.at, f"orders choices with {node.sign}", "== or !=")
            return None
        if sort.choices and label not in sort.choices:
            self.refuse(
                at,
                f"has {label!r}, which is none of {_listed(sort.choices)}",
                nearest(label, sort.choices) or "",
            )
            return None
        return CONDITION


def may_have(axis: Axis, label: str) -> bool:
    """Whether the axis can have such a label: fixed ones are known; counted ones are numbers; groups may be named so."""
    if axis.names:
        return label in axis.names
    return label.isdigit() if axis.count else True


def _dimension(unit: str, value: Decimal) -> Dimension | None:
    if not unit:
        return None if value == 0 else NUMBER
    found = find_unit(unit)  # the table is closed: a symbol that was parsed is found again
    return NUMBER if isinstance(found, Refusal) else found.dimension


def _listed(words: Iterable[str]) -> str:
    return ", ".join(words)
