"""Axes of kinds: of each kind there are as many labels as a fact says, and a group axis has the kinds.

A formula names kinds alone. What is picked of one lies along the axis within that kind, whatever the count is.

An axis of kinds is a counted axis and the group axis of its kinds, `NAME_kind`, behind it. What is picked of a kind
lies along a part of the axis, `NAME[kind]`; it is never one value, however many there are, so that a pack cannot be
right for one count alone. Where it is not known whether a kind exists, all that lies on its axis waits. A kind of which
nobody says anything counts as one, which has no reading, so that no mean or spread comes out as if there were none.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from specrules.formula.scope import Axis

_NUMBERED = re.compile(r"(.+)_([1-9][0-9]{0,3})")


def kind_axis(axis: str) -> str:
    """The name of the axis that groups the labels of an axis by their kinds."""
    return f"{axis}_kind"


def labels_of(kind: str, count: int) -> tuple[str, ...]:
    """The labels of one kind: its name where there is one, numbered where there are more."""
    return (kind,) if count == 1 else tuple([f"{kind}_{number}" for number in range(1, count + 1)])


def kind_of(label: str, kinds: Iterable[str]) -> tuple[str, int]:
    """The kind that a label is of and its number there, 0 for the kind itself; no kind where it is of none of these."""
    known = tuple(kinds)
    if label in known:
        return label, 0
    numbered = _NUMBERED.fullmatch(label)
    return (numbered[1], int(numbered[2])) if numbered and numbered[1] in known else ("", 0)


def within(axis: str, kind: str) -> str:
    """The part of an axis that is of one kind: what operators lie along where a kind is picked."""
    return f"{axis}[{kind}]"


def whole(axis: str) -> str:
    """The axis that something lies along, wholly or within a kind."""
    return axis.partition("[")[0]


def picked_kind(axis: str) -> str:
    """The kind within which something lies along an axis; "" where it lies along all of it."""
    return axis.partition("[")[2].removesuffix("]")


def counts_of_kinds(axes: Iterable[Axis]) -> frozenset[str]:
    """The facts that count kinds alone: of a kind there may be none."""
    every = list(axes)
    return frozenset(fact for axis in every for fact in axis.kinds) - {axis.count for axis in every}
