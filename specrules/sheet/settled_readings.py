"""Readings as they were settled, for the next state of the same sheet: as it was written, so it comes out again."""

from itertools import count, repeat
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

    def moved(self, node: Node, first: int) -> "Settled":
        """The same where it stands on other lines, its statements begin with another number, or both."""
        by, down = first - self.first, node.place.line - self.node.place.line
        if not (by or down):
            return self
        governing, replaced = (
            tuple([each._replace(statement=each.statement + by, place=each.place.moved(down)) for each in some])
            for some in (self.governing, self.replaced)
        )
        return Settled(node, first, self.after + by, governing, replaced, self.faults)

    @property
    def tied(self) -> bool:
        """Whether it tells of lines otherwise than by where its readings stand."""
        return bool(self.faults) or any(each.pictures for each in (*self.governing, *self.replaced))


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
        if before is not None and same_as_written(before.node, node, not before.tied):
            made = before.moved(node, first)
        else:
            numbers = count(first)
            made = Settled(node, first, 0, *settle_sets(node, measurand, known, numbers))
            made = made._replace(after=next(numbers))
        self._settled[measurand.name] = made
        return made


def same_as_written(one: Node, other: Node, anywhere: bool = False) -> bool:
    """Whether two nodes are the same text at the same place, all through; `anywhere`: or all of it so many lines up or
    down."""
    return _same(one, other, other.place.line - one.place.line if anywhere else 0)


def _same(one: Node, other: Node, down: int) -> bool:
    if one.place.moved(down) != other.place:
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
    return len(below[0]) == len(below[1]) and all(map(_same, *below, repeat(down)))
