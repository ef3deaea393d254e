"""What to write in place of what a formula cannot have."""

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from specrules.formula import syntax as tree
from specrules.formula.labels import is_choice, pick_axes
from specrules.formula.scope import Role, Scope

FOREIGN: Mapping[str, str] = {
    "median": "largest(...), smallest(...) or mean(...), for there is no middle one",
    "sign": "",
    "signum": "",
    "average": "mean(...)",
    "avg": "mean(...)",
    "total": "sum(...)",
    "range": "spread(...)",
    "pow": "x ^ 2",
    "power": "x ^ 2",
    "round": "",
}
"""Functions of other languages, whose nearest word here means something else; "" for what there is nothing for."""


OF_ONE: Mapping[str, str] = {
    "min": "min(a, b), or smallest(...) of the readings of one thing",
    "max": "max(a, b), or largest(...) of the readings of one thing",
}
"""What is meant by the least or the greatest of one thing alone."""


def measured_in(node: tree.Compare, scope: Scope) -> tuple[str, str]:
    """What is wrong with a comparison in a condition that reads more than facts, and what to write."""
    roles = {name: known.role for name in _names(node) if (known := scope.names.get(name)) is not None}
    rest = "; a condition reads facts and labels only"
    read = [name for name, role in roles.items() if role is Role.MEASURAND]
    figures = [name for name, role in roles.items() if role is Role.FIGURE]
    if figures and not read:
        said = f"compares the figure {figures[0]}, and figures may stand on readings{rest}"
        return said, f"the facts that {figures[0]} is of; or it in the limit, in max(...) or min(...)"
    if read:
        return f"compares {read[0]}, which is measured{rest}", "it in the limit, in max(...) or min(...)"
    return f"compares a limit so far{rest}", "it in the limit, in max(...) or min(...)"


def label_alone(node: tree.Logic, scope: Scope) -> tuple[str, str] | None:
    """Of `fact == one or other`: what is wrong, and the comparison that is meant; None where it is something else."""
    left, right = node.left, node.right
    while isinstance(left, tree.Logic):
        left = left.right
    if not (isinstance(right, tree.Name) and isinstance(left, tree.Compare) and isinstance(left.left, tree.Name)):
        return None
    fact, word = left.left.name, right.name
    if not is_choice(left.left, scope) or word in scope.names or word in scope.axes:
        return None
    meant = f"{fact} {left.sign} {word}"
    return f"has {word} alone behind {node.word}, where each side is a condition of its own", meant


class Advice(NamedTuple):
    """What is wrong with something in a formula, what to write, and at which character it stands."""

    said: str
    write: str
    at: int


def picks_of_kinds(node: Any, scope: Scope) -> Advice | None:
    """What to say of the first name of which a kind is picked and left as it is: there may be several of a kind."""
    if isinstance(node, tree.Reduce):
        along = scope.axes.get(node.axis)
        return None if along is None or along.kinds else picks_of_kinds(node.of, scope)
    if isinstance(node, tree.Name) and (known := scope.names.get(node.name)) is not None:
        for said, label in node.picks:
            if any(scope.axes[axis].kinds for axis in pick_axes(known, said, label, scope)):
                written = f"{node.name}[{', '.join(f'{axis}: {one}' if axis else one for axis, one in node.picks)}]"
                reduced = f"mean({written}), smallest({written}) or largest({written})"
                return Advice(f"has {written}, and there may be several {label}", reduced, node.at)
    parts = node if isinstance(node, tuple) else ()
    return next((found for part in parts if (found := picks_of_kinds(part, scope)) is not None), None)


def _names(node: Any) -> Iterator[str]:
    if isinstance(node, tree.Name):
        yield node.name
    for part in node if isinstance(node, tuple) else ():
        yield from _names(part)
