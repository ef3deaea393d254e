"""The conditions by which things of a specification exist, compiled."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from specrules.document import Text
from specrules.formula import Axis, Formula
from specrules.formula.existence import both
from specrules.pack.compiling import Compiler
from specrules.pack.figure_compiling import in_order
from specrules.pack.specification import Fact
from specrules.vocabulary import Code


class _Entry(Protocol):
    @property
    def applies_when(self) -> Text: ...


Existing = Mapping[str, Mapping[str, Formula]]


def exists_when(
    entries: Mapping[str, Mapping[str, _Entry]],
    groups: Sequence[tuple[str, Text]],
    facts: Mapping[str, Fact],
    axes: Mapping[str, Axis],
    compiler: Compiler,
) -> Existing:
    """By section and name the conditions without which there is no such thing; faults are kept by the compiler.

    `groups` has each heading with the condition of a file that prints under it. What facts and axes exist by must not
    go in a circle.
    """
    found: dict[str, dict[str, Formula]] = {}
    for section, written in entries.items():
        for name, entry in written.items():
            made = compiler.condition(entry.applies_when, f"{name} applies when")
            if made is not None:
                found.setdefault(section, {})[name] = made
    for heading, text in groups:
        made = compiler.condition(text, f"group {heading} applies when")
        if made is not None:
            known = found.setdefault("groups", {})
            known[heading] = both(known.get(heading), made) or made
    by_fact, by_axis = found.get("facts", {}), found.get("axes", {})
    reads = {name: set(by_fact[name].names) for name in by_fact}
    for fact in facts.values():
        for axis in (axes[name] for at in fact.at for name in (at, axes[at].of) if name in axes):
            asked = by_axis[axis.name].names if axis.name in by_axis else ()
            shaping = (axis.count, axis.labels, axis.groups, *axis.kinds)
            reads.setdefault(fact.name, set()).update(asked, filter(None, shaping))
    for loop in in_order(reads)[1]:
        said = f"is asked for by itself: {' by '.join(loop)}"
        compiler.fault(entries["facts"][loop[0]].applies_when or facts[loop[0]].place, loop[0], Code.CIRCULAR, said)
    return found
