"""What comes of one rule at its stations, as far as it can be kept for the next state of the same sheet."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import NamedTuple

from specrules.inspection.report import Finding
from specrules.sheet import Reading, Suspect


class RuleOutcome(NamedTuple):
    """What came of one rule: its findings before others are weighed in, and the numbers of the readings behind each."""

    findings: tuple[Finding, ...]
    read: tuple[Collection[int], ...]

    @property
    def suspects(self) -> frozenset[Suspect]:
        """The figures that look like a slip on which any of them rests, each with its line."""
        return frozenset([suspect for each in self.findings for suspect in each.rests_on.suspect])

    def numbered(self, numbers: Sequence[int]) -> RuleOutcome:
        """The same among readings that have other numbers: the new one for each old one."""
        return self._replace(read=tuple([[numbers[each] for each in some] for some in self.read]))


def renumbered(before: Sequence[Reading], now: Sequence[Reading]) -> Sequence[int]:
    """The new number for each old one, of readings of names of which there are as many as before; of others any."""
    first = {reading.name: number for number, reading in reversed([*enumerate(now)])}
    at: dict[str, int] = {}
    numbers = []
    for reading in before:
        at[reading.name] = at.get(reading.name, first.get(reading.name, 0) - 1) + 1
        numbers.append(at[reading.name])
    return numbers
