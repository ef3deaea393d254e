"""One reading, what it can be held against, and what stands for it when it looks like a slip.

Stations vote, not readings: four readings of one part are one vote among those of the others. A whole station is never
doubted for what it reads, only for what fits there: a part may be machined by just one turn of a gauge.
"""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from functools import cached_property
from typing import NamedTuple

from specrules.document import Place
from specrules.pack import GaugeSlip, Measurand
from specrules.quantity import CONTEXT, LENGTH, Unit, show
from specrules.sheet.sheet_parts import FactValue, Reading
from specrules.vocabulary import Reason

SIGNIFICANT = 100
"""A factor of ten, or two digits exchanged, says something only of figures of three digits and more."""

NOTHING = Decimal(0)


class Suspect(NamedTuple):
    """A reading, or a stated fact, that looks like a slip. `would_be` (base units) is what it is with the slip undone,
    None where that cannot be known; `neighbours` are the texts it was held against; `reason` is one of SUSPECT_KINDS;
    `at` and `positions` are the axes of its station and position; without a position it is all that was read there.
    """

    name: str
    station: tuple[str, ...]
    position: tuple[str, ...] | None
    place: Place
    text: str
    would_be: Decimal | None
    unit: Unit
    neighbours: tuple[str, ...]
    reason: Reason
    at: tuple[str, ...]
    positions: tuple[str, ...] = ()
    confirmed: str = ""  # by whom it was read again and found right
    as_stated: str = ""  # the fact, the measurand or the rule with limits of the sheet's own that bears it out

    @property
    def bars(self) -> bool:
        """Whether nothing can be proven by it until it is read again."""
        return not (self.confirmed or self.as_stated)


class Family:
    """A reading of one number, and its neighbours: at the same station where two of them can outvote it, else one of
    each station of its kind. Values in base units. `steps` are those that its gauge is easily misread by, `new`
    what states its size when new, where the part is a worn one."""

    def __init__(
        self,
        reading: Reading,
        value: Decimal,
        neighbours: tuple[Reading, ...],
        measurand: Measurand,
        steps: tuple[GaugeSlip, ...],
        new: FactValue | None,
    ) -> None:
        self.reading = reading
        self.value = value
        self.neighbours = neighbours
        self.values = [other.value for other in neighbours if other.value is not None]
        self.measurand = measurand
        self.steps = steps
        self.new = new

    @cached_property
    def apart(self) -> Decimal:
        """How far the reading lies outside its neighbours; nothing where it lies among them."""
        if not self.values:
            return NOTHING
        return max(min(self.values) - self.value, self.value - max(self.values), NOTHING)

    @cached_property
    def middle(self) -> Decimal:
        """What the neighbours read in the middle."""
        return middle_of(self.values)

    @property
    def is_length(self) -> bool:
        return self.measurand.unit.dimension == LENGTH

    @cached_property
    def fine(self) -> bool:
        """The reading and its neighbours are figures of three digits and more."""
        return all(
            other.value is not None and abs(other.value) >= SIGNIFICANT * other.place_value
            for other in (self.reading, *self.neighbours)
        )

    def close(self, width: Decimal) -> bool:
        """There are neighbours enough, and they lie within `width` of one another."""
        return len(self.values) > 1 and max(self.values) - min(self.values) <= width

    @property
    def same_part(self) -> bool:
        """Whether there are other places on the same part among its neighbours: those come first."""
        return bool(self.neighbours) and self.neighbours[0].station == self.reading.station

    def among(self, value: Decimal) -> bool:
        """Whether a value lies among its neighbours, or within twice of them."""
        return bool(self.values) and min(self.values) / 2 <= value <= max(self.values) * 2

    def shown(self, value: Decimal) -> str:
        """A value in the unit of the reading, to its places."""
        unit = self.reading.unit
        place = CONTEXT.divide(self.reading.place_value, unit.difference_to_base(Decimal(1)))
        return show(value, unit, max(-place.adjusted(), 0))

    def suspect(
        self, reason: Reason, would_be: Decimal | None = None, against: Iterable[Reading | FactValue] = ()
    ) -> Suspect:
        """This reading as a suspect one."""
        return suspect_reading(self.reading, self.measurand, reason, would_be, against)


def suspect_reading(
    reading: Reading,
    measurand: Measurand,
    reason: Reason,
    would_be: Decimal | None = None,
    against: Iterable[Reading | FactValue] = (),
) -> Suspect:
    """A reading as a suspect one."""
    return Suspect(
        reading.name,
        reading.station,
        reading.position,
        reading.place,
        reading.text,
        would_be,
        reading.unit,
        tuple(other.text for other in against),
        reason,
        measurand.at,
        measurand.positions,
        reading.confirmed,
    )


def middle_reading(readings: Sequence[Reading]) -> Reading:
    """The one of some readings of one number that has the value in the middle; of two the lower."""
    return sorted(readings, key=lambda each: each.value or NOTHING)[(len(readings) - 1) // 2]


def middle_of(values: Sequence[Decimal]) -> Decimal:
    """The value in the middle; of two the lower."""
    return sorted(values)[(len(values) - 1) // 2]
