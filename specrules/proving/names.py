"""What a rule stands on, through every figure in between: names, conditions, and the labels that these speak of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TypeGuard, get_args

from specrules.document import Text
from specrules.formula import Formula, Kind
from specrules.formula.formula_reading import syntax_of
from specrules.formula.operators import Equality, Literal, StationLabel, all_operators
from specrules.formula.syntax import Choose, Node
from specrules.pack import Figure, HoldsFor, LimitLine, Rule, Specification, Way

NODES: tuple[type, ...] = get_args(Node)


def of_lines(lines: Iterable[LimitLine]) -> Iterator[Formula]:
    """Every formula of some limit lines."""
    for line in lines:
        yield from line.sets.values()
        yield from (formula for formula in (line.when, line.shift) if formula is not None)


def keys_of(rule: Rule) -> Iterator[HoldsFor]:
    """Each thing that figures of a rule hold for."""
    yield from (key for line in rule.lines for validity in line.validities() for key in validity.keys)


def of_figure(figure: Figure) -> Iterator[Formula]:
    """Every formula of a figure."""
    for way in figure.ways:
        yield way.formula
        if way.when is not None:
            yield way.when


def most_trusted(figure: Figure) -> Iterator[Way]:
    """The first way that is there whatever the facts are, and those before it."""
    for way in figure.ways:
        yield way
        if way.when is None:
            return


def figures_of(rule: Rule, spec: Specification) -> tuple[str, ...]:
    """The figures that a rule stands on, in the specification's order."""
    steps = [step.moves for some in rule.remedy.values() for step in some if step.moves is not None]
    lines = [each for line in rule.lines for each in line.formulas()]
    formulas = [rule.formula, *lines, *steps, *rule.importance.values()]
    formulas += [formula for formula in (rule.applies_when, rule.may_be_negative) if formula is not None]
    waiting = [name for formula in formulas for name in formula.names]
    found: set[str] = set()
    while waiting:
        name = waiting.pop()
        if name in spec.figures and name not in found:
            found.add(name)
            waiting += (name for formula in of_figure(spec.figures[name]) for name in formula.names)
    return tuple(name for name in spec.figures if name in found)


def behind(formulas: Iterable[Formula], spec: Specification) -> tuple[Formula, ...]:
    """These formulas and those of the figures in them, each figure by its most trusted way."""
    found: dict[int, Formula] = {}
    waiting = list(formulas)
    while waiting:
        formula = waiting.pop(0)
        if id(formula) in found:
            continue
        found[id(formula)] = formula
        for name in sorted(formula.names & spec.figures.keys()):
            for way in most_trusted(spec.figures[name]):
                waiting += [way.formula] if way.when is None else [way.formula, way.when]
    return tuple(found.values())


def nodes(node: Node) -> Iterator[Node]:
    """A node and all below it."""
    yield node
    for each in below(node):
        yield from nodes(each)


def below(node: Node) -> Iterator[Node]:
    """The nodes right below one."""
    for part in node:
        for each in (part,) if _is_node(part) or not isinstance(part, tuple) else part:
            if _is_node(each):
                yield each


def _is_node(part: object) -> TypeGuard[Node]:
    return isinstance(part, NODES)


def choosing(formula: Formula) -> Iterator[tuple[Node, str]]:
    """The conditions inside a formula, after each `if` of it, with their texts."""
    if formula.kind is Kind.CONDITION:
        return
    for node in nodes(syntax_of(formula)):
        if isinstance(node, Choose):
            start = min(each.at for each in nodes(node.condition))
            yield node.condition, formula.text[start : formula.text.find("else", start)].strip(" ()")


def labels_in(formulas: Iterable[Formula], axis: str) -> tuple[str, ...]:
    """The labels of an axis that conditions name."""
    found: dict[str, None] = {}
    for formula in formulas:
        for each in all_operators(formula.operators):
            if isinstance(each, Equality):
                for one, other in ((each.left, each.right), (each.right, each.left)):
                    if isinstance(one, StationLabel) and one.axis == axis and isinstance(other, Literal):
                        found[other.label] = None
    return tuple(found)


def text_of(formula: Formula) -> Text:
    """A formula's text with the place that it was written at."""
    return formula.text if isinstance(formula.text, Text) else Text(formula.text)
