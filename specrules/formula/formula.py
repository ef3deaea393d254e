"""A formula that has been parsed and checked, ready to be evaluated at any station."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from specrules.formula.bounds import Errors
from specrules.formula.scope import Kind, Scope
from specrules.formula.tree import Node
from specrules.formula.value import Value
from specrules.quantity import Dimension

Station = Mapping[str, str]
"""A place on some axes: axis -> label. Empty where there is one of the thing in all."""


class Bench(Protocol):
    """What a formula is evaluated against. The inspection provides it; nothing here knows where numbers come from."""

    @property
    def u(self) -> Errors:
        """The inputs' uncertainties: of two equal readings the less certain is the extreme one."""

    exchanged: bool
    """Largest and smallest change places: for the range that stands beside a judged value."""

    def labels(self, axis: str, station: Station) -> tuple[str, ...]:
        """The axis's labels that belong to this station (a group's members where the station is a group)."""

    def group(self, axis: str, label: str, groups: str) -> str:
        """The label on the axis `groups` of the group that holds `label` of `axis`."""

    def look(self, name: str, labels: tuple[str, ...]) -> Value | None:
        """The value of a measurand, fact or figure; `None` where a position alone is missing (thin evidence)."""

    def row(self, name: str, places: Sequence[tuple[str, ...]]) -> Sequence[Value | None]:
        """`look` at several places at once, so that one way to a figure can serve them all."""

    def choice(self, name: str, labels: tuple[str, ...]) -> str | None:
        """What a fact of a choice, or of yes and no, says; `None` where nobody stated it."""


_WORD = re.compile(r"\w+")

Evaluate = Callable[[Bench, Station], Value | None]
Answer = Callable[[Bench, Station], bool | str | None]


@dataclass(frozen=True, slots=True)
class Formula:
    """A checked formula. `evaluate` for quantities, `answer` for conditions and choices (None: not known)."""

    text: str
    tree: Node
    each: tuple[str, ...]
    kind: Kind
    dimension: Dimension
    names: frozenset[str]
    exact: bool
    evaluate: Evaluate = field(repr=False, compare=False)
    answer: Answer = field(repr=False, compare=False)
    scope: Scope = field(repr=False, compare=False)

    @property
    def anywhere(self) -> bool:
        """Whether it comes to the same at every station: nothing that it names lies along an axis, and it asks none."""
        names, axes = self.scope.names, self.scope.axes
        return not any(names[name].axes for name in self.names) and axes.keys().isdisjoint(_WORD.findall(self.text))
