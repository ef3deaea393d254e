"""What a gauge can do, in numbers: its smallest step, its permissible error and how well it repeats."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import NamedTuple

from specrules.document import Text
from specrules.quantity import NUMBER, Dimension, Exact, Refusal, read_written
from specrules.vocabulary import Code

NOTHING = Decimal(0)


class Amount(NamedTuple):
    """An amount in base units, a share of what is read (0.02 for 2 percent), or both added."""

    absolute: Decimal = NOTHING
    share: Decimal = NOTHING

    def at(self, size: Decimal) -> Decimal:
        """The amount for a reading of that size, base units."""
        return self.absolute + self.share * abs(size)


class Capability(NamedTuple):
    """Resolution; maximum permissible error (JCGM 200:2012, 4.26); repeatability as one standard deviation.

    None where nobody says: what is not said is taken from the gauge's class, and what a class does not say is nothing.
    """

    resolution: Amount | None = None
    mpe: Amount | None = None
    repeatability: Amount | None = None

    def over(self, other: Capability) -> Capability:
        """This, and where this says nothing, the other."""
        return self._replace(
            resolution=self.resolution or other.resolution,
            mpe=self.mpe or other.mpe,
            repeatability=self.repeatability or other.repeatability,
        )


Refuse = Callable[[Text, Refusal, str], None]
"""Takes a text, what is wrong with it, and which of the three it is."""


def read_capability(resolution: Text, mpe: Text, repeatability: Text, refuse: Refuse) -> Capability:
    """The three texts as numbers; what is wrong with one goes to `refuse`. All must be of one dimension."""
    kinds: dict[Dimension, str] = {}

    def amount(text: Text, which: str, halves: bool) -> Amount | None:
        if not text:
            return None
        absolute, share = NOTHING, NOTHING
        for part in text.split(" and "):
            found = read_written(part, unit=None, dimension=None)
            if isinstance(found, Refusal):
                refuse(text, found, which)
                return None
            if not isinstance(found, Exact) or found.value < 0 or found.U is not None:
                said = "is no amount"
                write = "0.0001 in, 2 percent, or 0.0001 in and 2 percent"
                refuse(text, Refusal(Code.NOT_A_NUMBER, said, write), which)
                return None
            if found.unit.dimension == NUMBER and found.unit.symbol and not halves:
                share += found.value
                continue
            if found.unit.dimension == NUMBER and not found.unit.symbol and found.value:
                said = "has no unit"
                refuse(text, Refusal(Code.UNIT_MISSING, said, f"{text} in, {text} mm or {text} percent"), which)
                return None
            if found.value:
                kinds.setdefault(found.unit.dimension, which)
            absolute += found.value
        if len(kinds) > 1:
            first, second = (dimension.words() for dimension in list(kinds)[:2])
            refuse(text, Refusal(Code.WRONG_UNIT, f"is {second}, and the others are {first}", ""), which)
        return Amount(absolute, share)

    return Capability(
        amount(resolution, "resolution", True), amount(mpe, "mpe", False), amount(repeatability, "repeatability", False)
    )
