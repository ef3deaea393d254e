"""The labels of every axis for one build: names, numbers up to a count, groups of another axis's labels."""

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from specrules.document import Fault, Fields, Items, Node, Text, shown
from specrules.formula import Axis
from specrules.formula.axis_kinds import kind_axis, labels_of, within
from specrules.pack import Specification
from specrules.pack.said_facts import words_in
from specrules.sheet.faults import fault, listed
from specrules.sheet.grid import Grid
from specrules.sheet.key_labels import ABSENT, NO_KINDS, KindOfLabels, Kinds, kinds_in, numbers_in, picked
from specrules.sheet.label_origins import Origin, origins, there_are
from specrules.sheet.sheet_parts import FactValue
from specrules.vocabulary import Code

WHOLE_GROUP = "all"
"""The label of the one group that stands where groups are not stated."""

Facts = Mapping[str, tuple[FactValue, ...]]


class AxisLabels(NamedTuple):
    """Axis -> labels; group axis -> member -> group; counts that were assumed. `unstated`: axes without labels, with
    the fact that must state their groups; `by_default`: axes of one group, likewise. `lettered`: axes of letters.
    `told`: what says which labels an axis has. `kinds`: axes of kinds, each kind with its labels."""

    labels: Mapping[str, tuple[str, ...]]
    groups: Mapping[str, Mapping[str, str]]
    assumed: Mapping[str, str]
    unstated: Mapping[str, str]
    by_default: Mapping[str, str]
    lettered: frozenset[str]
    told: Mapping[str, Origin]
    kinds: Mapping[str, Kinds]

    def picked(self, key: str, axis: str) -> tuple[str, ...]:
        """The labels of an axis that a key speaks of; none where it speaks of others."""
        return picked(key, self.labels[axis], self.kinds.get(axis, NO_KINDS))

    def grid(self, name: str, at: tuple[str, ...]) -> Grid:
        """The grid of what is stated at some stations, or once for all."""
        return Grid(
            name,
            at,
            (),
            self.labels,
            one_for_all=True,
            by_default=self.by_default,
            lettered=self.lettered,
            told=self.told,
            kinds=self.kinds,
        )


def named_kinds(node: Node, axis: Axis) -> Iterator[tuple[str, int]]:
    """The labels of kinds that keys name, at any depth: each kind with a label's number."""
    if isinstance(node, Fields):
        yield from (found for key in node for found in kinds_in(key, axis))
    for below in node.values() if isinstance(node, Fields) else node if isinstance(node, Items) else ():
        yield from named_kinds(below, axis)


def named_numbers(
    node: Node, numbered: Sequence[str], letters: bool = False, level: int = 0
) -> Iterator[tuple[str, int]]:
    """The numbers that nested keys name, each with its axis: nested numbers belong to the axes in their order."""
    if isinstance(node, Fields):
        found = [number for key in node for number in numbers_in(key, letters)]
        yield from ((numbered[min(level, len(numbered) - 1)], number) for number in found)
    for below in node.values() if isinstance(node, Fields) else node if isinstance(node, Items) else ():
        yield from named_numbers(below, numbered, letters, level + bool(isinstance(node, Fields) and found))


def counted_by_names(spec: Specification, facts: Facts) -> frozenset[str]:
    """The axes that have as many labels, or as many of a kind, as somebody names: no fact says how many."""
    return frozenset(
        axis.name
        for axis in spec.axes.values()
        if (axis.count and _count(axis.count, facts) is None)
        or any(fact in spec.facts and _count(fact, facts) is None for fact in axis.count_of.values())
    )


def lay_out(spec: Specification, facts: Facts, named: Mapping[str, int]) -> tuple[AxisLabels, tuple[Fault, ...]]:
    """The layout of a build. `facts` are its counts and groups, `named` the largest number named on each axis that is
    counted by names, and of each kind."""
    faults: list[Fault] = []
    labels = {axis.name: _named(axis, facts) for axis in spec.axes.values() if axis.fixed and not axis.of}
    groups: dict[str, Mapping[str, str]] = {}
    assumed: dict[str, str] = {}
    unstated: dict[str, str] = {}
    by_default: dict[str, str] = {}
    kinds: dict[str, Kinds] = {}
    for axis in spec.axes.values():
        if axis.count:
            labels[axis.name] = _counted(axis, spec, facts, named, assumed)
        elif axis.kinds:
            some = kinds[axis.name] = _kinds(axis, spec, facts, named, assumed)
            labels[axis.name] = tuple(label for kind in some.values() for label in kind.labels)
            labels[kind_axis(axis.name)] = tuple(kind for kind in some if some[kind].labels)
            groups[kind_axis(axis.name)] = {label: kind for kind in some for label in some[kind].labels}
    told = origins(spec, facts, assumed)
    waiting = [axis for axis in spec.axes.values() if axis.name not in labels]
    while ready := [axis for axis in waiting if axis.of in labels]:
        for axis in ready:
            found = _grouped(axis, labels, told, facts, faults)
            if found is None:
                unstated[axis.name] = axis.groups
            elif axis.default == "one" and _stated(axis, facts) is None:
                by_default[axis.name] = axis.groups
            labels[axis.name], groups[axis.name] = found or ((), {})
        waiting = [axis for axis in waiting if axis.name not in labels]
    lettered = frozenset(axis.name for axis in spec.axes.values() if axis.letters)
    return AxisLabels(labels, groups, assumed, unstated, by_default, lettered, told, kinds), tuple(faults)


def not_laid_out(name: Text, axis: Axis) -> Fault:
    """The fault for what lies on an axis of groups that nobody has stated."""
    said = f"which {axis.of} belongs to which {axis.name} is not stated"
    return fault(
        name.place, str(name), Code.GROUPS_NOT_STATED, said, f"it under facts, such as {axis.groups}: [[1, 5], [2, 6]]"
    )


def _named(axis: Axis, facts: Facts) -> tuple[str, ...]:
    """Those of its names that a fact says there are; all of them where no fact does."""
    stated = facts.get(axis.labels)
    there = words_in(stated[0].text) if stated else axis.names
    return tuple(label for label in axis.names if label in there)


def _counted(
    axis: Axis, spec: Specification, facts: Facts, named: Mapping[str, int], assumed: dict[str, str]
) -> tuple[str, ...]:
    count = _count(axis.count, facts)
    if count is None:
        groups = [other for other in spec.axes.values() if other.of == axis.name]
        members = [member for other in groups for member in _members(other, facts)]
        numbers = (number for member in members for number in numbers_in(member, axis.letters))
        count = max([named.get(axis.name, 0), *numbers])
        if count:
            assumed[axis.count] = str(count)
    return tuple(axis.numbered(number) for number in range(1, count + 1))


def _count(fact: str, facts: Facts) -> int | None:
    """How many a fact says there are."""
    stated = facts.get(fact)
    return stated[0].value if stated and isinstance(stated[0].value, int) else None


def _kinds(
    axis: Axis, spec: Specification, facts: Facts, named: Mapping[str, int], assumed: dict[str, str]
) -> dict[str, KindOfLabels]:
    """Each kind with its labels: as many as are stated or assumed, none where its fact does not apply, else as many as
    are named, and one of a kind of which nobody says anything."""
    found: dict[str, KindOfLabels] = {}
    speaks = any(within(axis.name, kind) in named for kind in axis.names)
    for kind, fact in axis.count_of.items():
        stated = facts.get(fact)
        if fact not in spec.facts:
            count, known = 0, ABSENT
        elif stated and (said := _count(fact, facts)) is not None:
            count = said
            known = f"is taken to be {count}" if stated[0].place == spec.facts[fact].place else f"is {count}"
        else:
            count, known = named.get(within(axis.name, kind), 1), "is not stated"
            if speaks:
                assumed[fact] = str(count)
        found[kind] = KindOfLabels(fact, labels_of(kind, count), known)
    return found


def _stated(axis: Axis, facts: Facts) -> tuple[tuple[str, tuple[str, ...]], ...] | None:
    found = facts.get(axis.groups)
    return found[0].value if found and isinstance(found[0].value, tuple) else None


def _members(axis: Axis, facts: Facts) -> Iterator[str]:
    for _, members in _stated(axis, facts) or ():
        yield from members


def _grouped(
    axis: Axis,
    labels: Mapping[str, tuple[str, ...]],
    told: Mapping[str, Origin],
    facts: Facts,
    faults: list[Fault],
) -> tuple[tuple[str, ...], Mapping[str, str]] | None:
    """The groups' labels and each member's group; None where they must be stated and are not."""
    of, stated = labels[axis.of], _stated(axis, facts)
    if stated is None:
        if axis.default == "each":
            return of, {label: label for label in of}
        return ((WHOLE_GROUP,), dict.fromkeys(of, WHOLE_GROUP)) if axis.default else None
    group_of: dict[str, str] = {}
    for label, members in stated:
        for member in members:
            place = member.place if isinstance(member, Text) else facts[axis.groups][0].place
            if member not in of:
                said = f"{shown(member)} is no {axis.of}; {there_are((axis.of,), labels, told)}"
                write = told[axis.of].written(member) if axis.of in told else ""
                faults.append(fault(place, axis.groups, Code.UNKNOWN_LABEL, said, write))
            elif member in group_of:
                faults.append(fault(place, axis.groups, Code.NOT_GROUPED, f"{axis.of} {member} stands in two groups"))
            group_of.setdefault(member, label)
    if left := [label for label in of if label not in group_of]:
        place = facts[axis.groups][0].place
        faults.append(fault(place, axis.groups, Code.NOT_GROUPED, f"{axis.of} {listed(left)} stands in no group"))
    return tuple(label for label, _ in stated), {label: group_of[label] for label in of if label in group_of}
