"""Readings as they were settled, for the next state of the same sheet: as it was written, so it comes out again."""

from __future__ import annotations

from itertools import count
from typing import NamedTuple

from specrules.document import Fault, Fields, Items, Node, Text
from specrules.pack import Measurand
from specrules.sheet.sets import Known, settle_sets
from specrules.sheet.sheet_parts import Reading


class Settled(NamedTuple):
    """What came of one measurand as it was written. `first`: the number of its first statement; `after`: that of the
    first one behind it."""

    node: Node
    first: int
    after: int
    governing: tuple[Reading, ...]
    replaced: tuple[Reading, ...]
    faults: tuple[Fault, ...]

    def numbered(self, first: int) -> Settled:
        """The same where its statements begin with another number."""
        by = first - self.first
        if not by:
            return self
        governing, replaced = (
            tuple([each._replace(statement=each.statement + by) for each in some])
            for some in (self.governing, self.replaced)
        )
        return self._replace(first=first, after=self.after + by, governing=governing, replaced=replaced)


class SettledReadings:
    """Settles the readings of measurands, and remembers them as long as all that is known besides stays the same."""

    def __init__(self) -> None:
        self._known: Known | None = None
        self._settled: dict[str, Settled] = {}

    def of(self, node: Node, measurand: Measurand, known: Known, first: int) -> Settled:
        """The readings of a measurand, of which the first statement has this number."""
        if self._known is not known:
            if self._known != known:
                self._settled.clear()
            self._known = known
        before = self._settled.get(measurand.name)
        if before is not None and same_as_written(before.node, node):
            made = before.numbered(first)
        else:
            numbers = count(first)
            made = Settled(node, first, 0, *settle_sets(node, measurand, known, numbers))
            made = made._replace(after=next(numbers))
        self._settled[measurand.name] = made
        return made


def same_as_written(one: Node, other: Node) -> bool:
    """Whether two nodes are the same text at the same place, all through."""
    if one.place != other.place:
        return False
    match one, other:
        case Text(), Text():
            return one == other and one.quoted == other.quoted
        case Fields(), Fields():
            below = ((*one, *one.values()), (*other, *other.values()))
        case Items(), Items():
            below = (tuple(one), tuple(other))
        case _:
            return False
    return len(below[0]) == len(below[1]) and all(map(same_as_written, *below))
