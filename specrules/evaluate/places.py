"""To how many places the readings behind a value were written, so that no more are shown of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal

from specrules.quantity import Unit
from specrules.sheet import Reading

UNKNOWN = 2
"""Places where no reading says how many."""
MOST = 9
_HAIR = Decimal("1.0000001")


class Digits:
    """The readings of one sheet, by the size of their last written place."""

    def __init__(self, readings: Sequence[Reading]) -> None:
        self.finest = [(each.unit.dimension, _last_place(each)) for each in readings]
        self._known: dict[tuple[Decimal, str], int] = {}

    def places(self, numbers: Iterable[int], unit: Unit) -> int:
        """Decimals in `unit` that show every place that was written of the readings of these numbers."""
        finest = self.finest
        sizes = [finest[number][1] for number in numbers if finest[number][0] == unit.dimension]
        if not sizes:
            return UNKNOWN
        key = (min(sizes), unit.symbol)
        known = self._known.get(key)
        if known is None:
            known = self._known[key] = _places(key[0], unit)
        return known


def _last_place(reading: Reading) -> Decimal:
    """The middle of a bracket takes one place more than its ends."""
    return reading.place_value if reading.low == reading.high else reading.place_value / 2


def _places(size: Decimal, unit: Unit) -> int:
    places = 0
    step = unit.to_base(Decimal(1)) - unit.to_base(Decimal(0))
    while step > size * _HAIR and places < MOST:
        step /= 10
        places += 1
    return places
