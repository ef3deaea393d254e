"""Words and numbers that are labels: of a choice, of the station on an axis, picked in brackets after a name."""

from __future__ import annotations

from collections.abc import Iterator

from specrules.formula.functions import CONSTANTS
from specrules.formula.scope import Declared, Kind, Scope
from specrules.formula.syntax import Call, Choose, Name, Node, Number
from specrules.quantity import Refusal, nearest
from specrules.vocabulary import Code


def label_of(node: Node, scope: Scope) -> str | None:
    """The label that a bare word or a whole number may be; None where the word is a name with a meaning."""
    if isinstance(node, Name):
        known = node.picks or node.name in scope.names or node.name in scope.axes or node.name in CONSTANTS
        return None if known else node.name
    if isinstance(node, Number) and not node.unit and node.value == node.value.to_integral_value():
        return f"{node.value:f}"
    return None


def is_axis(node: Node, scope: Scope) -> bool:
    """Whether it is the station's label on an axis."""
    return isinstance(node, Name) and node.name not in scope.names and node.name in scope.axes


def is_choice(node: Node, scope: Scope) -> bool:
    """Whether it says one of some words: a fact of choices or of a text, the station's label on an axis, a label of a
    table, or an `if` of those."""
    if isinstance(node, Call):
        return node.function in scope.columns and scope.columns[node.function].column.unit is None
    if isinstance(node, Choose):
        return is_choice(node.then, scope) or is_choice(node.otherwise, scope)
    if not isinstance(node, Name):
        return False
    known = scope.names.get(node.name)
    return known.kind is Kind.CHOICE if known is not None else node.name in scope.axes


def may_say(node: Name | Call, label: str, scope: Scope) -> bool:
    """Whether a fact of choices, the label on an axis or that of a table can be this."""
    if isinstance(node, Name) and is_axis(node, scope):
        return scope.axes[node.name].may_have(label)
    known = sayings(node, scope)
    return label in known if known else True


def sayings(node: Name | Call, scope: Scope) -> tuple[str, ...]:
    """The words that a fact of choices, an axis or a table has; empty where they are numbers or not fixed."""
    if isinstance(node, Call):
        return scope.columns[node.function].column.labels
    known = scope.names.get(node.name)
    return scope.axes[node.name].names if known is None else known.choices


def pick_axes(name: Declared, said: str, label: str, scope: Scope) -> list[str]:
    """The axes of a name that a pick can be on."""
    return [axis for axis in name.axes if said in ("", axis) and scope.axes[axis].may_have(label)]


def picked(node: Name, known: Declared, scope: Scope) -> dict[str, str]:
    """Axis -> label of the picks on a name, once `pick_refusals` has found nothing."""
    return {pick_axes(known, said, label, scope)[0]: label for said, label in node.picks}


def pick_refusals(node: Name, known: Declared, scope: Scope) -> Iterator[Refusal]:
    """What is wrong with the labels picked on a name."""
    taken: set[str] = set()
    name, at = node.name, node.at
    for said, label in node.picks:
        axes = pick_axes(known, said, label, scope)
        if not known.axes:
            yield Refusal(Code.WRONG_AXIS, f"picks {label} on {name}, and there is one {name} in all", name, at)
        elif said and said not in known.axes:
            write = " or ".join(f"{name}[{axis}: {label}]" for axis in pick_axes(known, "", label, scope))
            yield Refusal(Code.WRONG_AXIS, f"picks on {said}, and {name} lies along {', '.join(known.axes)}", write, at)
        elif not axes:
            labels = [word for axis in known.axes for word in scope.axes[axis].names]
            instead = nearest(label, labels) or " or ".join(labels)
            yield Refusal(Code.UNKNOWN_LABEL, f"has {name}[{label}], and no axis of {name} has that label", instead, at)
        elif len(axes) > 1:
            write = " or ".join(f"{name}[{axis}: {label}]" for axis in axes)
            yield Refusal(Code.AMBIGUOUS, f"has {name}[{label}], a label on {' and on '.join(axes)}", write, at)
        elif axes[0] in taken:
            yield Refusal(Code.WRONG_AXIS, f"picks twice on {axes[0]}", f"{name}[{label}]", at)
        taken.update(axes)
