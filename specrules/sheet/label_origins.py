"""What says which labels an axis has in a build, and what to write for one that is not there.

Counts that a sheet leaves unstated are taken from its readings and said to be. Groups without a default must be stated:
pairing two things wrongly would be a verdict on nothing.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from specrules.formula import Axis
from specrules.pack import Specification
from specrules.sheet.faults import listed
from specrules.sheet.key_labels import numbers_in
from specrules.sheet.sheet_parts import FactValue


class Origin(NamedTuple):
    """The fact that says which labels an axis has, and what it is: `is 8`, `is not stated`."""

    axis: Axis
    fact: str
    how: str

    @property
    def why(self) -> str:
        """Why these are the labels."""
        return f"{self.fact} {self.how}"

    def written(self, label: str) -> str:
        """What would bring a label into being, "" where nothing in a sheet can."""
        axis = self.axis
        if axis.count:
            return self.counted(max(numbers_in(label, axis.letters), default=0))
        if axis.labels:
            if label in axis.names:
                return f"{self.fact}: [..., {label}] under facts, if there is one"
            return f"one of {', '.join(axis.names)}, which {self.fact} under facts may list"
        return f"{self.fact}: {{{label}: [...], ...}} under facts, if there is one"

    def counted(self, number: int) -> str:
        """What would bring so many labels into being, "" where it cannot be."""
        may = self.axis.count and 0 < number <= self.axis.most
        return f"{self.fact}: {number} under facts, if there are so many" if may else ""

    def may_be(self, label: str) -> bool:
        """Whether a label is one that the axis has in some other build."""
        return bool(self.axis.count or self.axis.labels) and self.axis.may_have(label)


def origins(
    spec: Specification, facts: Mapping[str, tuple[FactValue, ...]], assumed: Mapping[str, str]
) -> Mapping[str, Origin]:
    """The origin of the labels of each axis whose labels a fact says. `assumed`: counts taken from the readings."""
    return {axis.name: Origin(axis, fact, _how(axis, fact, spec, facts, assumed)) for axis, fact in _told_by(spec)}


def _told_by(spec: Specification) -> Iterator[tuple[Axis, str]]:
    for axis in spec.axes.values():
        if fact := axis.count or axis.labels or axis.groups:
            yield axis, fact


def _how(
    axis: Axis,
    fact: str,
    spec: Specification,
    facts: Mapping[str, tuple[FactValue, ...]],
    assumed: Mapping[str, str],
) -> str:
    if fact in assumed:
        return "is not stated and no reading names more"
    if fact not in facts:
        return "is not stated"
    found = facts[fact][0]
    if axis.groups:
        return "lists them"
    taken = found.place == spec.facts[fact].place
    return f"is {'taken to be ' if taken else ''}{found.value}"


def there_are(axes: Sequence[str], labels: Mapping[str, Sequence[str]], told: Mapping[str, Origin]) -> str:
    """The labels that there are, with what says so."""
    if len(axes) == 1:
        known, why = labels[axes[0]], told[axes[0]].why if axes[0] in told else ""
        there = f"there {'is' if len(known) == 1 else 'are'} {listed(known)}"
        return f"{there}, since {why}" if why else there
    each = (f"{axis} {listed(labels[axis])}" + (f" ({told[axis].why})" if axis in told else "") for axis in axes)
    return f"there are {', '.join(each)}"
