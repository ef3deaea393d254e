"""The axes of a specification, each checked; behind one of kinds the axis that groups its labels by them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from specrules.document import Text, shown
from specrules.formula import Axis
from specrules.formula.axis_kinds import kind_of
from specrules.pack.compiling import Compiler
from specrules.pack.entries import AxisEntry, FactEntry
from specrules.vocabulary import READING_KEYS, Code

MOST_AXES = 100
"""A formula asks each of them for its groups; no real thing has so many."""


def compiled_axes(
    entries: Mapping[str, AxisEntry],
    keys: Mapping[str, Text],
    facts: Mapping[str, FactEntry],
    taken: Mapping[str, Text],
    compiler: Compiler,
) -> dict[str, Axis]:
    """All axes; none where there are too many. `keys` are their names as they were first written, `taken` those of
    everything that has one."""
    axes = {name: _axis(keys[name], entry, facts, entries, compiler) for name, entry in entries.items()}
    if len(axes) > MOST_AXES:
        said = f"these are more than {MOST_AXES} axes"
        compiler.fault(keys[[*axes][MOST_AXES]], "axes", Code.TOO_MANY, said)
        return {}
    return _with_kinds(axes, taken, compiler)


def _axis(
    key: Text, entry: AxisEntry, facts: Mapping[str, FactEntry], axes: Mapping[str, object], compiler: Compiler
) -> Axis:
    """One axis, and what is wrong with it."""
    ways = ("count", "names", "labels", "kinds", "groups")
    given = [word for word in ways if getattr(entry, word)]
    if len(given) != 1:
        none = f"none of {', '.join(ways)}"
        said = f"has {' and '.join(given) or none} where one of them says what its labels are"
        compiler.fault(key, key, Code.KEYS_DISAGREE, said)
    counting = [(fact, "count") for fact in (entry.count, *entry.kinds.values())]
    for fact, kind in (*counting, (entry.labels, "labels"), (entry.groups, "groups")):
        if fact and (fact not in facts or facts[fact].kind != kind):
            offered = compiler.nearest(fact, (name for name, each in facts.items() if each.kind == kind))
            compiler.fault(fact, key, Code.UNKNOWN_NAME, f"{shown(fact)} is no fact of kind {kind}", offered)
    if entry.groups and not entry.of:
        compiler.fault(entry.groups, key, Code.KEYS_DISAGREE, "groups labels of no axis", "of: and that axis")
    if (entry.of or entry.default) and not entry.groups:
        said = "says what is grouped, and groups nothing"
        compiler.fault(entry.of or entry.default, key, Code.KEYS_DISAGREE, said, "groups: and a fact")
    if entry.letters == "yes" and not entry.count:
        compiler.fault(entry.letters, key, Code.KEYS_DISAGREE, "letters labels, and counts none", "count: and a fact")
    if entry.of:
        if entry.of == key:
            compiler.fault(entry.of, key, Code.CIRCULAR, "groups its own labels")
        compiler.known((entry.of,), axes, "axis", key)
    names = facts[entry.labels].of if entry.labels in facts else (*entry.names, *entry.kinds)
    for label in twice(names):
        compiler.fault(label, key, Code.DEFINED_TWICE, f"{shown(label)} stands twice among its labels")
    for label in names:
        if label in READING_KEYS:
            said = f"{shown(label)} is no label, for in a sheet it is a word of one reading"
            compiler.fault(label, key, Code.NOT_A_NAME, said)
    for kind in entry.kinds:
        if (like := kind_of(kind, (other for other in entry.kinds if other != kind))[0]) != "":
            said = f"{shown(kind)} is how one of several {like} is called"
            compiler.fault(kind, key, Code.NOT_A_NAME, said, "another name")
    made = Axis(key, tuple(names), entry.count, entry.groups, entry.of, entry.default, entry.lies)
    kinds = tuple(str(fact) for fact in entry.kinds.values())
    return replace(made, letters=entry.letters == "yes", labels=entry.labels, kinds=kinds)


def _with_kinds(axes: Mapping[str, Axis], taken: Mapping[str, Text], compiler: Compiler) -> dict[str, Axis]:
    """The axes, and behind each one of kinds the axis that groups its labels by them."""
    made: dict[str, Axis] = {}
    for name, one in axes.items():
        made[name] = one
        if one.kinds:
            kinds = one.of_kinds()
            made[kinds.name] = kinds
            if kinds.name in taken:
                said = f"is the name of the kinds of {name}"
                compiler.fault(taken[kinds.name], kinds.name, Code.NAME_TAKEN, said, "another name")
    return made


def twice(names: Iterable[Text]) -> list[Text]:
    """Every one that stands for the second time or more."""
    seen: set[str] = set()
    return [name for name in names if name in seen or seen.add(name)]  # type: ignore[func-returns-value]
