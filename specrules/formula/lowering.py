"""A checked syntax tree to an operator tree: where each label is found, along which axes each operator lies.

The names have been checked; what is found wrong here is an axis where none can be.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any

from specrules.formula import operators as op
from specrules.formula.axis_kinds import kind_axis, picked_kind, whole, within
from specrules.formula.check_advice import picks_of_kinds
from specrules.formula.functions import CONSTANTS
from specrules.formula.labels import is_choice, label_of, picked
from specrules.formula.scope import Declared, Role, Scope
from specrules.formula.syntax import (
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
from specrules.formula.tables import KeyKind
from specrules.formula.tokenizer import Refused
from specrules.quantity import nearest
from specrules.vocabulary import Code

_NOTHING = Decimal(0)
_FLIPPED = {"<": ">", "<=": ">=", ">": "<", ">=": "<="}


def join(left: op.Axes, right: op.Axes, scope: Scope, at: int = 0) -> op.Axes:
    """The axes of two operands together. Where one axis groups another the finer one stands for both. Raises Refused
    where a kind meets the whole of its axis, or two kinds meet groups of it: nothing says which belongs to which."""
    if left == right or not right:
        return left
    both = left + tuple([axis for axis in right if axis not in left])
    wholes = [whole(axis) for axis in both]
    joined = tuple([axis for axis in both if scope.axes[whole(axis)].of not in wholes])
    for axis in filter(picked_kind, both):
        grouped = any(scope.axes[other].of == whole(axis) for other in wholes)
        if whole(axis) in both or (grouped and wholes.count(whole(axis)) > 1):
            said = f"puts what is {picked_kind(axis)} alone beside others of {whole(axis)}"
            raise Refused(Code.WRONG_AXIS, said, "mean(...), smallest(...) or largest(...) around what is picked", at)
    return joined


def without(axes: op.Axes, axis: str, at: int) -> op.Axes:
    """The axes left when one is taken away by a reducer; all of them where none is named. Raises Refused."""
    if not axis:
        return ()
    wholes = [whole(other) for other in axes]
    if axis not in wholes:
        lies = f"lies along {', '.join(wholes)}" if axes else "is one value here"
        offered = wholes[0] if len(axes) == 1 else nearest(axis, wholes) or " or ".join(wholes)
        raise Refused(Code.WRONG_AXIS, f"reduces along {axis}, and what it reduces {lies}", offered, at)
    return tuple([other for other in axes if whole(other) != axis])


class Lowering:
    """Lowers the expressions of one formula, for stations of `each`. Raises Refused at an axis that cannot be."""

    def __init__(self, scope: Scope, each: op.Axes) -> None:
        self.scope = scope
        self.each = each

    def quantity(self, node: Node) -> op.Quantity:
        """The operator tree of a quantity."""
        return _QUANTITIES[type(node)](self, node)

    def condition(self, node: Node) -> op.Condition:
        """The operator tree of a condition. Raises Refused where it asks something that differs along an axis."""
        match node:
            case Compare():
                return self._compared(node)
            case Not(of):
                return op.Negation(self.condition(of))
            case Logic(word, left, right):
                return op.Junction(word, self.condition(left), self.condition(right))
            case Choose(then, asked, otherwise):
                return op.ConditionalCondition(self.condition(asked), self.condition(then), self.condition(otherwise))
        return op.Affirmation(self.label(node))

    def label(self, node: Node) -> op.Label:
        """The operator tree of a choice: a fact's label, the station's label on an axis, or a label as written."""
        if isinstance(node, Choose):
            return op.ConditionalLabel(
                self.condition(node.condition), self.label(node.then), self.label(node.otherwise)
            )
        literal = label_of(node, self.scope)
        if literal is not None:
            return op.Literal(literal)
        if isinstance(node, Call):
            return op.LabelLookup(node.function, self._keys(node, free=False))
        assert isinstance(node, Name)  # the kind check has seen that it is a choice
        if node.name not in self.scope.names:
            axis = kind_axis(node.name) if self.scope.axes[node.name].kinds else node.name
            return op.StationLabel(self._finder(axis, {}))
        known = self.scope.names[node.name]
        finders, free = self._found(known, picked(node, known, self.scope))
        if free:
            if several := picks_of_kinds(node, self.scope):
                write = f"a fact at {kind_axis(whole(free[-1]))}, which each kind has one of"
                raise Refused(Code.NOT_ONE_VALUE, several.said, write, several.at)
            said = f"has {node.name}, which differs along {', '.join(free)}"
            raise Refused(Code.NOT_ONE_VALUE, said, f"{node.name}[label]", node.at)
        return op.FactLabel(node.name, finders)

    def _compared(self, node: Compare) -> op.Condition:
        if is_choice(node.left, self.scope) or is_choice(node.right, self.scope):
            return op.Equality(self.label(node.left), self.label(node.right), node.sign == "==")
        left, right, sign = node.left, node.right, node.sign
        if isinstance(left, Number):
            left, right, sign = right, left, _FLIPPED.get(sign, sign)
        threshold = right.value if isinstance(right, Number) else _NOTHING
        compared = left if isinstance(right, Number) else Binary("-", left, right, node.at)
        quantity = self.quantity(compared)
        if quantity.axes:
            if several := picks_of_kinds(compared, self.scope):
                raise Refused(Code.NOT_ONE_VALUE, *several)
            said = f"compares what differs along {', '.join(quantity.axes)}"
            raise Refused(Code.NOT_ONE_VALUE, said, "a label in brackets", node.at)
        names = [each.name for each in op.all_operators(quantity) if isinstance(each, op.Slot | op.FactLabel)]
        facts = tuple(dict.fromkeys(n for n in names if self.scope.names[n].role is Role.FACT))
        return op.Comparison(sign, quantity, threshold, facts)

    def _number(self, node: Number) -> op.Quantity:
        return op.Constant(node.value)

    def _name(self, node: Name) -> op.Quantity:
        known = self.scope.names.get(node.name)
        if known is None:
            return op.Constant(CONSTANTS[node.name])
        return op.Slot(node.name, *self._found(known, picked(node, known, self.scope) if node.picks else {}))

    def _negative(self, node: Negative) -> op.Quantity:
        return self._elementwise("negate", (node.of,))

    def _binary(self, node: Binary) -> op.Quantity:
        return self._elementwise(node.sign, (node.left, node.right))

    def _power(self, node: Power) -> op.Quantity:
        return self._elementwise("power", (node.of,), node.exponent)

    def _call(self, node: Call) -> op.Quantity:
        if node.function in self.scope.columns:
            keys = self._keys(node, free=True)
            axes: op.Axes = ()
            for key in keys:
                axes = join(axes, getattr(key, "axes", ()), self.scope, node.at)
            return op.Lookup(node.function, keys, axes)
        return self._elementwise(node.function, node.arguments)

    def _keys(self, node: Call, *, free: bool) -> tuple[op.Quantity | op.Label, ...]:
        """What a table is looked up by. Raises Refused where a key lies along an axis that is not `free`."""
        keys = self.scope.columns[node.function].table.keys
        made: list[op.Quantity | op.Label] = []
        for key, argument in zip(keys, node.arguments, strict=True):
            if key.kind is KeyKind.CHOICE:
                made.append(self.label(argument))
                continue
            quantity = self.quantity(argument)
            if quantity.axes and not free:
                if several := picks_of_kinds(argument, self.scope):
                    raise Refused(Code.NOT_ONE_VALUE, *several)
                said = f"looks up by what differs along {', '.join(quantity.axes)}"
                raise Refused(Code.NOT_ONE_VALUE, said, "smallest(...) or largest(...) around it", argument.at)
            made.append(quantity)
        return tuple(made)

    def _elementwise(self, operation: str, nodes: tuple[Node, ...], exponent: Decimal | None = None) -> op.Quantity:
        operands = tuple([self.quantity(node) for node in nodes])
        axes: op.Axes = ()
        for operand in operands:
            axes = join(axes, operand.axes, self.scope, nodes[0].at)
        return op.Elementwise(operation, operands, axes, exponent)

    def _reduced(self, node: Reduce) -> op.Quantity:
        of, how = self.quantity(node.of), node.how
        if not of.axes and not node.axis and how in ("spread", "step", "count"):
            raise Refused(Code.WRONG_AXIS, f"takes the {how} of one value", "", node.at)
        if how == "step" and not node.axis and len(of.axes) > 1:
            along = [whole(axis) for axis in of.axes]
            said = f"takes the step of what lies along {', '.join(along)}, and only labels of one axis are neighbours"
            raise Refused(Code.WRONG_AXIS, said, " or ".join(f"step(..., {axis})" for axis in along), node.at)
        left = without(of.axes, node.axis, node.at)
        return op.Reduction(how, of, tuple([of.axes.index(axis) for axis in left]), left)

    def _chosen(self, node: Choose) -> op.Quantity:
        condition = self.condition(node.condition)
        then, otherwise = self.quantity(node.then), self.quantity(node.otherwise)
        if then.axes != otherwise.axes:
            said = "has two sides of an 'if' that lie along different axes"
            raise Refused(Code.WRONG_AXIS, said, "a reducer on each side", node.at)
        return op.Conditional(condition, then, otherwise, then.axes)

    def _found(self, known: Declared, picks: Mapping[str, str]) -> tuple[tuple[op.Finder, ...], op.Axes]:
        """For each axis of a name how its label is found, and the axes that stay free."""
        finders = tuple([self._finder(axis, picks) for axis in known.axes])
        return finders, tuple([finder.axis for finder in finders if not (finder.label or finder.of)])

    def _finder(self, axis: str, picks: Mapping[str, str]) -> op.Finder:
        if axis in picks:
            label = picks[axis]
            return op.Finder(within(axis, label)) if self.scope.axes[axis].kinds else op.Finder(axis, label=label)
        of = axis if axis in self.each else self.scope.axes[axis].of
        return op.Finder(axis, of=of if of in self.each else "")


_QUANTITIES: Mapping[type, Callable[[Lowering, Any], op.Quantity]] = {
    Number: Lowering._number,
    Name: Lowering._name,
    Negative: Lowering._negative,
    Binary: Lowering._binary,
    Power: Lowering._power,
    Call: Lowering._call,
    Reduce: Lowering._reduced,
    Choose: Lowering._chosen,
}
