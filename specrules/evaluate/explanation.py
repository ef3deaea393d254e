"""A formula worked with numbers, as a person would write it: "smallest hole 2.5005 - largest shaft 2.4989"."""

from __future__ import annotations

from collections.abc import Callable

from specrules.evaluate.evaluator import Environment, evaluate_operator
from specrules.evaluate.value import NotEvaluable, Point, Value
from specrules.formula import Formula, KeyKind, Scope, Station
from specrules.formula.check_kind import KindCheck
from specrules.formula.formula_reading import syntax_of
from specrules.formula.lowering import Lowering
from specrules.formula.syntax import Binary, Call, Choose, Name, Negative, Node, Number, Power, Reduce
from specrules.quantity import NUMBER, UNITS, Dimension, Unit
from specrules.quantity.amounts import in_sheet, used_among

Show = Callable[[Value], str]
"""Prints a value of the formula's dimension with its unit's digits."""
ShowOther = Callable[[Value, Dimension], str]
"""Prints a value of another dimension, with its unit."""
Title = Callable[[str], str]
"""What a name is called in words."""


def plain(value: Value, dimension: Dimension, lengths_in: Unit | None = None) -> str:
    """A value to six figures, in the first unit of its dimension that a sheet of that unit of lengths uses."""
    usable = (unit for unit in UNITS if unit.dimension == dimension)
    unit = next((unit for unit in usable if lengths_in is None or used_among(unit, lengths_in)), None)
    unit = in_sheet(unit, lengths_in) if unit is not None else None
    name = "" if dimension == NUMBER else f" {unit.symbol if unit else dimension.words()}"

    def figure(end: Point) -> str:
        return f"{float(unit.from_base(end.value) if unit and name else end.value):.6g}"

    if value.low is None:
        return "not measured" if value.high is None else f"at most {figure(value.high)}{name}"
    if value.high is None:
        return f"at least {figure(value.low)}{name}"
    return figure(value.low) + ("" if value.exact else f" to {figure(value.high)}") + name


def combines(formula: Formula, scope: Scope, environment: Environment, station: Station) -> bool:
    """Whether what counts of a formula at this station adds, multiplies or reduces, and so is no plain reading."""
    lowering = Lowering(scope, formula.each)

    def combined(node: Node) -> bool:
        match node:
            case Binary() | Reduce():
                return True
            case Choose():
                return combined(_chosen(node, lowering, environment, station))
            case Negative(of) | Power(of):
                return combined(of)
            case Call(_, arguments):
                return any(map(combined, arguments))
        return False

    return combined(syntax_of(formula))


def _chosen(node: Choose, lowering: Lowering, environment: Environment, station: Station) -> Node:
    """The branch that counts; the first where the condition cannot be told."""
    refused = evaluate_operator(lowering.condition(node.condition), environment, station) is False
    return node.otherwise if refused else node.then


def explain(
    formula: Formula,
    scope: Scope,
    environment: Environment,
    station: Station,
    show: Show,
    title: Title,
    other: ShowOther = plain,
) -> str:
    """The formula with every name and reducer replaced by its words and its value at this station.

    `show` prints what has the formula's own dimension, `other` all else.
    """
    lowering = Lowering(scope, formula.each)
    check = KindCheck(scope, formula.each)

    def value(node: Node) -> str:
        try:
            cell = evaluate_operator(lowering.quantity(node), environment, station)
        except (NotEvaluable, ArithmeticError):
            return "?"
        if cell is None:
            return "not measured"
        sort = check.sort(node)
        dimension = formula.dimension if sort is None or sort.dimension is None else sort.dimension
        return show(cell) if dimension == formula.dimension else other(cell, dimension)

    def worked(node: Node, inside: str = "") -> str:
        """Its words and numbers; in brackets where the sign that it stands inside would tear it apart."""
        match node:
            case Choose():
                return worked(_chosen(node, lowering, environment, station), inside)
            case Call(function) if function in scope.columns:
                return looked_up(node)
            case Call(function, arguments):
                return f"{function}({', '.join(worked(argument) for argument in arguments)})"
        text = spelled(node)
        if inside == "^":
            torn = not text.replace(".", "").isdigit()
        else:
            torn = bool(inside) and isinstance(node, Binary) and (inside == "/" or node.sign in "+-")
        return f"({text})" if torn else text

    def looked_up(node: Call) -> str:
        """A figure of a table, with what it was looked up by."""
        keys = scope.columns[node.function].table.keys
        asked = [
            evaluate_operator(lowering.label(argument), environment, station) or "not stated"
            if key.kind is KeyKind.CHOICE
            else value(argument)
            for key, argument in zip(keys, node.arguments, strict=True)
        ]
        return f"{node.function.replace('_', ' ')} for {', '.join(asked)} {value(node)}"

    def spelled(node: Node) -> str:
        match node:
            case Number(number, unit):
                return value(node) if unit else f"{number:f}"
            case Name(name):
                return f"{_named(node, title)} {value(node)}" if name in scope.names else name
            case Reduce(how, of):
                return f"{how} {_named(of, title)} {value(node)}"
            case Negative(of):
                return f"-{worked(of, '*')}"
            case Power(of, exponent):
                return f"{worked(of, '^')}^{exponent:f}"
            case Binary(sign, left, right):
                a, b = worked(left, "*" if sign in "*/" else ""), worked(right, sign if sign != "+" else "")
                return f"{a} {sign} {b}"
        return formula.text

    return worked(syntax_of(formula))


def _named(node: Node, title: Title) -> str:
    """A name, or what is reduced, in words alone."""
    match node:
        case Name(name, picks):
            return title(name) + "".join(f" {label}" for _, label in picks)
        case Reduce(how, of):
            return f"{how} {_named(of, title)}"
    return "of all"
