"""The slips of the hand that a reading can betray, the most particular first. Thresholds err on the quiet side."""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from specrules.quantity import CONTEXT, Bracket, Exact, Unit, read_written
from specrules.sheet.family import Family, Suspect

INCH = Decimal("25.4")
INCH_TURN = INCH / 40
"""One turn of the thimble of an inch micrometer, in mm: 40 threads an inch. Common practice, no source."""

METRIC_TURN = Decimal("0.5")
"""The same of a metric micrometer, in mm. Common practice, no source."""

WITHIN_A_TURN = INCH * 3 / 10_000
"""How far from a whole turn, in mm: a few tenths of a thou, by which neighbours differ anyway."""

NEAR = Decimal("0.125")
"""Neighbours speak for a turn when they lie within this part of it from one another."""

ALIKE = Decimal("0.02")
"""Neighbours speak for a factor when they lie within this part of their size."""


class Factor(NamedTuple):
    """How many times too large, or too small, a reading would be."""

    times: Decimal
    too_large: bool

    def undone(self, value: Decimal) -> Decimal:
        return (CONTEXT.divide if self.too_large else CONTEXT.multiply)(value, self.times)


_TEN, _HUNDRED, _THOUSAND = Decimal(10), Decimal(100), Decimal(1000)
_WHY = {
    Factor(INCH, True): ", as millimetres among inches are",
    Factor(INCH, False): ", as inches among millimetres are",
    Factor(_THOUSAND, True): ", as thou or um without their unit are",
    Factor(_THOUSAND, False): ", as a size is beside which thou or um was put by mistake",
}


def negative(family: Family) -> Suspect | None:
    """Below nothing, where the packs say that this never is."""
    if family.value < 0 and family.measurand.may_be_negative is None:
        said = "is negative, which this never is; if it was read from some zero, add what that zero measured"
        return family.suspect("impossible negative", None, said)
    return None


def thimble_turn(family: Family) -> Suspect | None:
    """One turn of a thimble away from neighbours that agree with one another."""
    turn = INCH_TURN if _inches(family.reading.unit) else METRIC_TURN
    if family.apart < turn - WITHIN_A_TURN or not family.is_length:
        return None
    if not family.close(turn * NEAR) or family.middle < 2 * turn:
        return None
    off = CONTEXT.subtract(family.value, family.middle)
    would_be = CONTEXT.subtract(family.value, turn.copy_sign(off))
    if not min(family.values) - WITHIN_A_TURN <= would_be <= max(family.values) + WITHIN_A_TURN:
        return None
    side = "above" if off > 0 else "below"
    said = (
        f"stands {family.shown(abs(off))} {family.reading.unit.symbol} {side} its neighbours, one turn of a thimble;"
        f" with the turn undone it would be {family.shown(would_be)}"
    )
    return family.suspect("thimble turn", would_be, said, family.neighbours)


def _inches(unit: Unit) -> bool:
    """Whether a unit of length is an inch or a part of one: 25.4 is 127 fifths."""
    return unit.factor.numerator % 127 == 0


def slipped(family: Family) -> Suspect | None:
    """A factor of ten, or of one unit for another, away from the usual sizes or from its neighbours."""
    odd = _outside(family.value, family.measurand.usual)
    if not odd and family.apart < abs(family.value) / 2:  # no factor is as small as that
        return None
    found = _explanations(family, odd)
    if len(found) > 1:  # several slips would explain it; the neighbours can tell which it was
        found = [factor for factor in found if _fits_neighbours(family, factor.undone(family.value))]
    if len(found) != 1:
        return None
    factor, would_be = found[0], found[0].undone(family.value)
    size, against = "large" if factor.too_large else "small", "the usual sizes" if odd else "its neighbours"
    undone = f"with that undone it would be {_plain(would_be, family.reading.unit)}"
    said = f"is {factor.times} times too {size} for {against}{_WHY.get(factor, '')}; {undone}"
    kind = "unit slip" if factor in _WHY else "decimal slip"
    return family.suspect(kind, would_be, said, () if odd else family.neighbours)


def _explanations(family: Family, odd: bool) -> list[Factor]:
    """Factors that would bring the reading where it belongs: the likely ones, or else the less likely ones.

    A reading that is `odd`, outside the usual sizes, is held against those; any other against its neighbours."""
    likely, less = ((_TEN, INCH), (_HUNDRED, _THOUSAND)) if family.is_length else ((_TEN,), (_HUNDRED,))
    for sizes in (likely, less):
        factors = [Factor(times, too_large) for times in sizes for too_large in (True, False)]
        belongs = _usual if odd else _fits_neighbours
        if found := [factor for factor in factors if belongs(family, factor.undone(family.value))]:
            return found
    return []


def _usual(family: Family, value: Decimal) -> bool:
    return value != 0 and not _outside(value, family.measurand.usual)


def _fits_neighbours(family: Family, value: Decimal) -> bool:
    if not family.fine or len(family.values) < 2:
        return False
    width = abs(family.middle) * ALIKE
    return family.close(width) and abs(value - family.middle) <= width


def _outside(value: Decimal, usual: Bracket | None) -> bool:
    if usual is None:
        return False
    return (usual.low is not None and value < usual.low) or (usual.high is not None and value > usual.high)


def _plain(value: Decimal, unit: Unit) -> str:
    """A value to six figures, without an exponent."""
    number = unit.from_base(value)
    rounded = round(number, max(5 - number.adjusted(), 0)).normalize()
    return f"{rounded:f} {unit.symbol}"


def exchanged(family: Family) -> Suspect | None:
    """Two digits side by side exchanged: as written it is far from its neighbours, undone it is one of them."""
    reading = family.reading
    if not family.apart or not family.fine or reading.repeats > 1:
        return None
    width = INCH_TURN * NEAR if family.is_length else abs(family.middle) * ALIKE
    if family.apart < width or not family.close(width):
        return None
    for at in range(len(reading.text) - 1):
        a, b = reading.text[at], reading.text[at + 1]
        if a.isdigit() and b.isdigit() and a != b:
            off = _step(reading.text, reading.text[:at] + b + a + reading.text[at + 2 :], reading.unit)
            if off is not None and min(family.values) <= family.value + off <= max(family.values):
                would_be = CONTEXT.add(family.value, off)
                said = f"is far from its neighbours; with {a} and {b} exchanged it would be {family.shown(would_be)}"
                return family.suspect("digits exchanged", would_be, said, family.neighbours)
    return None


def _step(text: str, other: str, unit: Unit) -> Decimal | None:
    """How much more the other text says, in base units."""
    read, instead = (read_written(each, unit=unit, dimension=unit.dimension) for each in (text, other))
    if isinstance(read, Exact) and isinstance(instead, Exact):
        return CONTEXT.subtract(instead.value, read.value)
    return None


def unusual(family: Family) -> Suspect | None:
    """Outside the sizes that the packs call usual, for no one reason that can be told."""
    usual, unit = family.measurand.usual, family.measurand.unit
    if usual is None or not _outside(family.value, usual):
        return None
    sizes = "..".join("" if end is None else f"{unit.from_base(end).normalize():f}" for end in (usual.low, usual.high))
    said = f"is outside the usual sizes, {sizes} {unit.symbol}"
    if ways := [_plain(factor.undone(family.value), family.reading.unit) for factor in _explanations(family, True)]:
        said += f"; with a slip undone it would be {' or '.join(ways)}"
    return family.suspect("outside the usual sizes", None, said)


SLIPS = (negative, thimble_turn, slipped, exchanged, unusual)
