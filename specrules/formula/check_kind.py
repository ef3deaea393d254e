"""Checks names, kinds and dimensions of a parsed formula, all in one run. Knows no numbers and no stations."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Any

from specrules.formula import syntax as tree
from specrules.formula.axis_kinds import kind_axis
from specrules.formula.check_advice import FOREIGN, OF_ONE, label_alone, measured_in
from specrules.formula.functions import CONSTANTS, REDUCERS
from specrules.formula.labels import is_axis, is_choice, label_of, may_say, pick_refusals, sayings
from specrules.formula.scope import Kind, Role, Scope
from specrules.formula.sort import CONDITION, Sort, is_condition, with_unit
from specrules.formula.tables import KeyKind
from specrules.quantity import NUMBER, Dimension, Refusal, Unit, find_unit, nearest
from specrules.vocabulary import Code


class KindCheck:
    """One formula's check: `refusals` holds what was found, `names` every declared name that it uses."""

    def __init__(
        self, scope: Scope, each: tuple[str, ...], labels: tuple[str, ...] = (), *, measured: bool = False
    ) -> None:
        self.scope = scope
        self.each = each
        self.labels = labels  # words that the formula as a whole may come to, as an importance may
        self.measured = measured  # a label may be looked up by a measured value
        self.refusals: list[Refusal] = []
        self.names: set[str] = set()
        self.exact = True

    def refuse(self, at: int, code: Code, said: str, write: str = "") -> None:
        self.refusals.append(Refusal(code, said, write, at))

    def sort(self, node: tree.Node) -> Sort | None:
        """The sort of an expression; None where something in it has been refused already."""
        return _SORTS[type(node)](self, node)

    def quantity(self, node: tree.Node) -> Sort | None:
        found = self.sort(node)
        if found is not None and found.kind is not Kind.QUANTITY:
            self.refuse(node.at, Code.WRONG_KIND, f"has {found.kind.value} where a quantity is needed")
            return None
        return found

    def condition(self, node: tree.Node) -> None:
        found = self.sort(node)
        if found is not None and not is_condition(found):
            said = f"has {found.kind.value} where a condition is needed"
            self.refuse(node.at, Code.WRONG_KIND, said, "a comparison such as a == b")

    def number(self, node: tree.Number) -> Sort:
        return Sort(Kind.QUANTITY, node.dimension)

    def name(self, node: tree.Name) -> Sort | None:
        name, scope = node.name, self.scope
        known = scope.names.get(name)
        if known is not None:
            self.names.add(name)
            if node.picks:
                self.refusals.extend(pick_refusals(node, known, scope))
            return Sort(known.kind, known.dimension, known.choices, known.role is Role.FACT)
        if name in scope.axes:
            axis = scope.axes[name]
            if name in self.each or axis.of in self.each or (axis.kinds and kind_axis(name) in self.each):
                return Sort(Kind.CHOICE, choices=axis.names)
            self.refuse(node.at, Code.NOT_ONE_VALUE, f"asks for the label on {name}, and there is not one {name} here")
        elif name in CONSTANTS:
            return Sort(Kind.QUANTITY, NUMBER)
        elif name in self.labels:
            return Sort(Kind.CHOICE, choices=self.labels)
        elif name in scope.functions or name in scope.columns or name in REDUCERS or name in ("min", "max"):
            self.refuse(node.at, Code.FORMULA_SYNTAX, f"has {name} without its brackets", f"{name}(...)")
        elif isinstance(find_unit(name), Unit):
            write = f"1 {name} or, of a unit of several, square brackets: 1 [lbf/in]"
            self.refuse(node.at, Code.FORMULA_SYNTAX, f"has the unit {name} and no number before it", write)
        else:
            offered = nearest(name, [*scope.names, *self.labels, *CONSTANTS])
            what = "no measurand, fact or figure" + (f", nor one of {', '.join(self.labels)}" if self.labels else "")
            self.refuse(node.at, Code.UNKNOWN_NAME, f"has {name!r}, which is {what}", offered or "")
        return None

    def negative(self, node: tree.Negative) -> Sort | None:
        of = self.quantity(node.of)
        if of is not None and of.dimension is not None and of.dimension.point:
            self.refuse(node.at, Code.TEMPERATURE_ARITHMETIC, "takes a temperature from nothing", "(a - b)")
            return None
        return of

    def binary(self, node: tree.Binary) -> Sort | None:
        left, right = self.quantity(node.left), self.quantity(node.right)
        if left is None or right is None:
            return None
        certain = left.certain and right.certain
        if node.sign in "+-":
            return self.summed(node, left, right, certain)
        a, b = left.dimension, right.dimension
        if (a is not None and a.point) or (b is not None and b.point):
            verb = "multiplies" if node.sign == "*" else "divides"
            said = f"{verb} a temperature, which has no meaning; only a difference may be"
            self.refuse(node.at, Code.TEMPERATURE_ARITHMETIC, said, "(a - b)")
            return None
        if node.sign == "/" and isinstance(node.right, tree.Number) and not node.right.value:
            self.refuse(node.at, Code.DIVIDES_BY_ZERO, "divides by 0")
            return None
        if a is None or (b is None and node.sign == "*"):
            return Sort(Kind.QUANTITY, None, (), certain)  # nothing, however many times
        b = NUMBER if b is None else b
        return Sort(Kind.QUANTITY, _multiplied(node.sign, a, b), (), certain)

    def summed(self, node: tree.Binary, left: Sort, right: Sort, certain: bool) -> Sort | None:
        a, b = left.dimension, right.dimension
        if a is None or b is None:
            return Sort(Kind.QUANTITY, a if b is None else b, (), certain)
        if a == b and not a.point:
            return Sort(Kind.QUANTITY, a, (), certain)
        if a._replace(point=False) != b._replace(point=False):
            said = f"adds {a.words()} and {b.words()}" if node.sign == "+" else f"takes {b.words()} from {a.words()}"
            self.refuse(node.at, Code.WRONG_DIMENSION, said, with_unit(a if b == NUMBER else b, node.left, node.right))
            return None
        if b.point and (node.sign == "+") is a.point:
            said = "adds two temperatures" if a.point else "takes a temperature from a difference"
            self.refuse(node.at, Code.TEMPERATURE_ARITHMETIC, said, "a - b")
            return None
        return Sort(Kind.QUANTITY, a._replace(point=a.point != b.point), (), certain)

    def power(self, node: tree.Power) -> Sort | None:
        of = self.quantity(node.of)
        if of is None or of.dimension is None:
            return of
        if of.dimension.point:
            said = "takes a power of a temperature; only a difference has one"
            self.refuse(node.at, Code.TEMPERATURE_ARITHMETIC, said, "(a - b)")
            return None
        if node.exponent == node.exponent.to_integral_value():
            return of._replace(dimension=of.dimension.power(int(node.exponent)))
        root = of.dimension.root()
        if root is None:
            self.refuse(node.at, Code.WRONG_DIMENSION, f"takes the root of {of.dimension.words()}, which has no unit")
            return None
        return of._replace(dimension=root.power(int(node.exponent * 2)))

    def call(self, node: tree.Call) -> Sort | None:
        if node.function in self.scope.columns:
            return self.looked_up(node)
        function, at = node.function, node.at
        if function not in self.scope.functions and function not in ("min", "max"):
            self.no_function(node)
            return None
        found = [self.quantity(argument) for argument in node.arguments]
        sorts = [sort for sort in found if sort is not None]
        if function in ("min", "max"):
            if len(found) < 2:
                said = f"gives {function} too little to compare"
                self.refuse(at, Code.WRONG_ARGUMENTS, said, OF_ONE[function])
            elif len(sorts) == len(found):
                return self.compared_sizes(node, sorts)
            return None
        known = self.scope.functions[function]
        if len(found) != known.arity:
            said = f"gives {function} {len(found)} where it takes {known.arity}"
            self.refuse(at, Code.WRONG_ARGUMENTS, said, _call(function, known.arity))
            return None
        if len(sorts) < len(found):
            return None
        self.exact = self.exact and known.exact
        given = [sort.dimension or NUMBER for sort in sorts]
        result = known.dimensions(given)
        if isinstance(result, str):
            words = " and ".join(dimension.words() for dimension in given)
            self.refuse(at, Code.WRONG_DIMENSION, f"gives {function} {words}, and it takes {result}")
            return None
        return Sort(Kind.QUANTITY, result, (), all(sort.certain for sort in sorts))

    def no_function(self, node: tree.Call) -> None:
        """Refuse a function that there is not, and what is wrong with its arguments; any word may be one of them."""
        for argument in node.arguments:
            if label_of(argument, self.scope) is None:
                self.sort(argument)
        function = node.function
        offered = nearest(function, [*self.scope.functions, *self.scope.columns, *REDUCERS, "min", "max"])
        write = FOREIGN.get(function.casefold(), f"{offered}(...)" if offered else "")
        if function in CONSTANTS or function in self.scope.names:
            write = function
        self.refuse(node.at, Code.UNKNOWN_NAME, f"has {function}(...), which is no function", write)

    def compared_sizes(self, node: tree.Call, sorts: list[Sort]) -> Sort | None:
        first: Sort | None = sorts[0]
        for other in sorts[1:]:
            first = first and self.alike(first, other, node.at, f"gives {node.function}", *node.arguments)
        return first

    def reduced(self, node: tree.Reduce) -> Sort | None:
        of = self.quantity(node.of)
        if of is None:
            return None
        if node.how == "count":
            return Sort(Kind.QUANTITY, NUMBER, (), of.certain)
        if of.dimension is None or not of.dimension.point:
            return of
        if node.how == "sum":
            self.refuse(node.at, Code.TEMPERATURE_ARITHMETIC, "adds temperatures, which has no meaning", "mean(...)")
            return None
        return of._replace(dimension=of.dimension._replace(point=node.how not in ("spread", "step")))

    def chosen(self, node: tree.Choose) -> Sort | None:
        self.condition(node.condition)
        then, otherwise = self.sort(node.then), self.sort(node.otherwise)
        if then is None or otherwise is None:
            return None
        return self.alike(then, otherwise, node.at, "has an 'if' between", node.then, node.otherwise)

    def alike(self, left: Sort, right: Sort, at: int, how: str, *nodes: tree.Node) -> Sort | None:
        certain = left.certain and right.certain
        if is_condition(left) and is_condition(right):
            return left if left == right else CONDITION
        if left.kind is not right.kind:
            self.refuse(at, Code.WRONG_KIND, f"{how} {left.kind.value} and {right.kind.value}")
            return None
        a, b = left.dimension, right.dimension
        if left.kind is not Kind.QUANTITY:
            choices = tuple(dict.fromkeys(left.choices + right.choices))
            return Sort(left.kind, a, choices, certain)
        if a is not None and b is not None and a != b:
            said = f"{how} {a.words()} and {b.words()}"
            self.refuse(at, Code.WRONG_DIMENSION, said, with_unit(a if b == NUMBER else b, *nodes))
            return None
        return Sort(left.kind, b if a is None else a, (), certain)

    def compare(self, node: tree.Compare) -> Sort | None:
        if is_choice(node.left, self.scope) or is_choice(node.right, self.scope):
            return self.compare_choices(node)
        left = self.sort(node.left)
        if left is not None and left.kind is Kind.TEXT:
            said = "compares a text, and only numbers and choices can be"
            self.refuse(node.left.at, Code.WRONG_KIND, said, "a fact of choices")
            return None
        if left is None and label_of(node.right, self.scope):
            return None  # a misspelt fact beside its label: one fault, not two
        right = self.sort(node.right)
        if left is None or right is None:
            return None
        if self.alike(left, right, node.at, "compares", node.left, node.right) is None:
            return None
        if left.kind is not Kind.QUANTITY:
            said = f"compares {left.kind.value} with another"
            self.refuse(node.at, Code.WRONG_KIND, said, "and, or, not between conditions")
            return None
        if not (left.certain and right.certain):
            self.refuse(node.at, Code.CONDITION_ON_MEASURED, *measured_in(node, self.scope))
            return None
        return CONDITION

    def compare_choices(self, node: tree.Compare) -> Sort | None:
        if node.sign not in ("==", "!="):
            self.refuse(node.at, Code.WRONG_KIND, f"orders choices with {node.sign}", "== or !=")
            return None
        before = len(self.refusals)
        left, right = list(self.words(node.left)), list(self.words(node.right))
        mine, theirs = ([each for each in side if label_of(each, self.scope) is None] for side in (left, right))
        for written, choices in ((left, theirs), (right, mine)):
            for word in written if choices else ():
                self.label_of_one(word, choices)
        sides = [[sayings(each, self.scope) for each in side] for side in (mine, theirs)]
        if len(mine) == len(left) and len(theirs) == len(right) and all(map(all, sides)):
            one, other = ({label for labels in side for label in labels} for side in sides)
            if one.isdisjoint(other):
                never = f"{', '.join(sorted(one))} and {', '.join(sorted(other))}"
                self.refuse(node.at, Code.UNKNOWN_LABEL, f"compares what can never be the same: {never}")
        if not self.measured and any(not self.certain(each) for each in (*mine, *theirs)):
            said = "compares what is looked up by a measured value; a condition reads facts and labels only"
            self.refuse(node.at, Code.CONDITION_ON_MEASURED, said, "a rule of its own")
        return CONDITION if len(self.refusals) == before else None

    def label_of_one(self, word: tree.Node, choices: Sequence[Any]) -> None:
        """Refuse a label that none of some choices can be, or that is rather a name for a text."""
        label = label_of(word, self.scope)
        if label is None:
            return
        if not any(may_say(each, label, self.scope) for each in choices):
            self.no_such_label(label, choices[0], word.at)
        elif not any(sayings(each, self.scope) or is_axis(each, self.scope) for each in choices):
            offered = nearest(label, self.scope.names)
            if offered:
                said = f"has {label!r}, which may be a word or a name misspelt"
                self.refuse(word.at, Code.UNKNOWN_NAME, said, offered)

    def words(self, node: tree.Node) -> Iterator[Any]:
        """The labels and choices that one side of a comparison may come to, as names, numbers and looked-up labels."""
        if isinstance(node, tree.Choose):
            self.condition(node.condition)
            yield from self.words(node.then)
            yield from self.words(node.otherwise)
        elif label_of(node, self.scope) is not None:
            yield node
        else:
            found = self.sort(node)
            if found is not None and found.kind is not Kind.CHOICE:
                self.refuse(node.at, Code.WRONG_KIND, f"has {found.kind.value} where a choice or its label is needed")
            elif found is not None:
                yield node

    def certain(self, node: tree.Node) -> bool:
        """Whether a choice stands on facts and labels alone; nothing is said of it."""
        sort = KindCheck(self.scope, self.each, measured=True).sort(node)
        return sort is None or sort.certain

    def looked_up(self, node: tree.Call) -> Sort | None:
        """A table by its keys; each word that a key may be has its row."""
        looked, before = self.scope.columns[node.function], len(self.refusals)
        keys = looked.table.keys
        if len(node.arguments) != len(keys):
            said = f"gives {node.function} {len(node.arguments)} where it takes {len(keys)}"
            write = f"{node.function}({', '.join(key.name for key in keys)})"
            self.refuse(node.at, Code.WRONG_ARGUMENTS, said, write)
            return None
        given: list[tuple[str, ...] | None] = []
        certain = True
        for key, argument in zip(keys, node.arguments, strict=True):
            if key.kind is KeyKind.CHOICE:
                words = list(self.words(argument))
                given.append(self.said_by(words))
                certain = certain and all(map(self.certain, words))
                continue
            given.append(None)
            sort, wanted = self.quantity(argument), key.unit.dimension if key.unit else NUMBER
            if sort is not None and sort.dimension not in (None, wanted):
                said = f"looks up {node.function} by {sort.dimension.words()}, and {key.name} is {wanted.words()}"
                self.refuse(argument.at, Code.WRONG_DIMENSION, said)
            certain = certain and (sort is None or sort.certain)
            if key.stated and sort is not None and not sort.certain:
                said = f"looks up {node.function} by a measured size, which lies on the edge of a band or beside it"
                self.refuse(argument.at, Code.CONDITION_ON_MEASURED, said, "a fact that states the nominal size")
        lacking = next(looked.table.lacking(given), None) if len(self.refusals) == before else None
        if lacking is not None:
            key, word = lacking
            said = f"may ask for {key.name} {word}, and the table {looked.table.name} has no row for it"
            self.refuse(node.at, Code.UNKNOWN_LABEL, said, f"a row for {word}")
        if len(self.refusals) > before:
            return None
        if looked.column.unit is None:
            return Sort(Kind.CHOICE, choices=looked.column.labels, certain=certain)
        return Sort(Kind.QUANTITY, looked.column.unit.dimension, (), certain)

    def said_by(self, words: Sequence[Any]) -> tuple[str, ...] | None:
        """Every word that one of these may be; None where they are not fixed."""
        labels = [label_of(word, self.scope) for word in words]
        fixed = [(label,) if label else sayings(word, self.scope) for word, label in zip(words, labels, strict=True)]
        return tuple(dict.fromkeys(word for each in fixed for word in each)) if all(fixed) else None

    def no_such_label(self, label: str, name: Any, at: int) -> None:
        known = sayings(name, self.scope)
        if known:
            said = f"has {label!r}, which is none of {', '.join(known)}"
            self.refuse(at, Code.UNKNOWN_LABEL, said, nearest(label, known) or "")
        else:
            axis = self.scope.axes.get(getattr(name, "name", ""))
            are = "a, b, c" if axis is not None and axis.letters else "whole numbers"
            self.refuse(at, Code.UNKNOWN_LABEL, f"has {label!r}, and the labels of {name.name} are {are}", "")

    def logic(self, node: tree.Logic) -> Sort:
        self.condition(node.left)
        if (alone := label_alone(node, self.scope)) is not None:
            self.refuse(node.right.at, Code.WRONG_KIND, *alone)
        else:
            self.condition(node.right)
        return CONDITION

    def contrary(self, node: tree.Not) -> Sort:
        self.condition(node.of)
        return CONDITION


_SORTS: Mapping[type, Callable[[KindCheck, Any], Sort | None]] = {
    tree.Number: KindCheck.number,
    tree.Name: KindCheck.name,
    tree.Negative: KindCheck.negative,
    tree.Binary: KindCheck.binary,
    tree.Power: KindCheck.power,
    tree.Call: KindCheck.call,
    tree.Reduce: KindCheck.reduced,
    tree.Choose: KindCheck.chosen,
    tree.Compare: KindCheck.compare,
    tree.Logic: KindCheck.logic,
    tree.Not: KindCheck.contrary,
}


@lru_cache(maxsize=256)
def _multiplied(sign: str, a: Dimension, b: Dimension) -> Dimension:
    return a.times(b) if sign == "*" else a.over(b)


def _call(function: str, arity: int) -> str:
    return f"{function}({', '.join('abcdefgh'[:arity])})"
