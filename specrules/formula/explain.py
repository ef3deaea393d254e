"""A formula worked with numbers, as a person would write it: "smallest bearing 2.5005 - largest shaft 2.4989"."""

from __future__ import annotations

from collections.abc import Callable

from specrules.formula.compile import Compiler
from specrules.formula.formula import Bench, Formula, Station
from specrules.formula.tree import Binary, Call, Choose, Name, Negative, Node, Number, Power, Reduce
from specrules.formula.value import NotEvaluable, Value

Show = Callable[[Value], str]
"""Prints a value with its unit's digits."""
Title = Callable[[str], str]
"""What a name is called in words."""


def explain(formula: Formula, bench: Bench, station: Station, show: Show, title: Title) -> str:
    """The formula with every name and reducer replaced by its words and its value at this station."""
    compiler = Compiler(formula.scope, formula.each)

    def value(node: Node) -> str:
        try:
            cell = compiler.quantity(node).run(bench, station)
        except NotEvaluable:
            return "?"
        return "not measured" if cell is None else show(cell)

    def worked(node: Node, inside: bool = False) -> str:
        match node:
            case Number():
                return formula.text[node.at :].split(" ")[0] if not node.unit else value(node)
            case Name(name, picks):
                label = "".join(f" {label}" for _, label in picks)
                return f"{title(name)}{label} {value(node)}"
            case Reduce(how):
                return f"{how} {named(node.of)} {value(node)}"
            case Negative(of):
                return f"-{worked(of, True)}"
            case Power(of, exponent):
                return f"{worked(of, True)}^{exponent}"
            case Binary(sign, left, right):
                text = f"{worked(left, sign in '*/')} {sign} {worked(right, sign != '+')}"
                return f"({text})" if inside else text
            case Call(function, arguments):
                return f"{function}({', '.join(worked(argument) for argument in arguments)})"
            case Choose(then, condition, otherwise):
                answer = compiler.condition(condition)(bench, station)
                return worked(otherwise if answer is False else then, inside)
        return formula.text

    def named(node: Node) -> str:
        """What is reduced, in words alone: its values are many."""
        match node:
            case Name(name, picks):
                return title(name) + "".join(f" {label}" for _, label in picks)
            case Reduce(how, of):
                return f"{how} {named(of)}"
        return "of all"

    return worked(formula.tree)
