"""The slips of the hand that a reading can betray, the most particular first. Thresholds err on the quiet side.

A pack has no table of stamped sizes: an undersize is a limit line whose name says by how much (`0.25 undersize`) and
whose `when` is on a fact of choice. To lie above the line `standard` or `base` by just that amount is a slip; by half
of it is right, since each wall grows by half.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from decimal import Decimal
from typing import NamedTuple

from specrules.pack import GaugeSlip, Measurand
from specrules.quantity import CONTEXT, LENGTH, Bracket, Exact, Unit, fixed, read_written
from specrules.sheet.family import Family, Suspect, suspect_reading
from specrules.sheet.sheet_parts import Reading
from specrules.vocabulary import Reason, Why, WrittenAs

INCH = Decimal("25.4")
FEW_TENTHS = INCH * 3 / 10_000
"""How far from a whole step, in mm: a few tenths of a thou, by which neighbours differ anyway."""

OF_A_STEP = 100
"""Or this part of the step, if that is more: what is misread by large steps reads coarsely."""

NEAR = 8
"""Neighbours speak for a step when they lie within this part of it from one another."""

FAR_APART = INCH * 3 / 1000
"""In mm: neighbours that speak for exchanged digits of a length lie nearer to one another, and the reading farther."""

BESIDE = 6
"""Undone, the reading lies among its neighbours or within this part of that beside them."""

WORN_APART = INCH * 12 / 1000
"""In mm: so far may a bad part differ from the good ones, and by chance it looks as if digits were exchanged."""

NEW_BAND = INCH * 2 / 1000
"""What a new part may differ from its stated size with what gauges err, in mm: two thou. Common practice, no source."""

ALIKE = Decimal("0.02")
"""Neighbours speak for a factor when they lie within this part of their size."""


MICROMETRE = Decimal("0.001")
"""In mm. What is written to less was read off no gauge of a workshop but an inch one."""

FINER = 10
"""A figure written to a place so many times finer than its gauge shows was not read off that gauge."""


class Factor(NamedTuple):
    """How many times too large, or too small, a reading would be."""

    times: Decimal
    too_large: bool

    def undone(self, value: Decimal) -> Decimal:
        """What a figure would be without this."""
        return (CONTEXT.divide if self.too_large else CONTEXT.multiply)(value, self.times)

    def reason(self, against: str, undone: str, written_as: WrittenAs | None = None) -> Reason:
        """What is odd about the figure: what it was held against, what it would be, and what it seems written as."""
        written_as = written_as or _WRITTEN_AS.get(self)
        labels = (str(self.times), "large" if self.too_large else "small", undone)
        if written_as is not None:
            return Reason(Why.UNIT_SLIP, (against, written_as), labels)
        return Reason(Why.DECIMAL_SLIP, (against,), labels)


_TEN, _HUNDRED, _THOUSAND = Decimal(10), Decimal(100), Decimal(1000)
Factors = tuple[tuple[Decimal, ...], ...]
LENGTHS: Factors = ((_TEN, INCH), (_HUNDRED, _THOUSAND))
OTHERS: Factors = ((_TEN,), (_HUNDRED,))
"""Factors by which lengths, and other figures, are written wrongly: the likely ones first."""

_WRITTEN_AS = {
    Factor(INCH, True): WrittenAs.MILLIMETRES,
    Factor(INCH, False): WrittenAs.INCHES,
    Factor(_THOUSAND, True): WrittenAs.THOU,
    Factor(_THOUSAND, False): WrittenAs.SIZE,
}


def negative(family: Family) -> Suspect | None:
    """Below nothing, where the packs say that this never is."""
    if family.value < 0 and family.measurand.may_be_negative is None:
        return family.suspect(Reason(Why.IMPOSSIBLE_NEGATIVE))
    return None


def step_off(family: Family) -> Suspect | None:
    """One step that its gauge is easily misread by, such as a turn of a thimble, away from neighbours that agree."""
    if not family.is_length or not family.apart:
        return None
    for name, by, unit in family.steps:
        within = max(FEW_TENTHS, by / OF_A_STEP)
        if family.apart < by / 2 or unit.of_inches != family.reading.unit.of_inches:
            continue
        if not family.close(by / NEAR) or family.middle < 2 * by:
            continue
        off = CONTEXT.subtract(family.value, family.middle)
        would_be = CONTEXT.subtract(family.value, by.copy_sign(off))
        if min(family.values) - within <= would_be <= max(family.values) + within:
            side, unit_shown = "above" if off > 0 else "below", family.reading.unit.symbol
            labels = (family.shown(abs(off)), unit_shown, side, family.shown(would_be))
            return family.suspect(Reason(Why.GAUGE_STEP, (name,), labels), would_be, family.neighbours)
    return None


def slipped(family: Family) -> Suspect | None:
    """A factor of ten, or of one unit for another, away from the usual sizes or from its neighbours."""
    usual = family.measurand.usual
    odd = outside(family.value, usual)
    if odd:
        found = _explanations(family, lambda value: is_usual(value, usual) and family.among(value))
        if not found and far_outside(family.value, usual):  # else it may be just a little more than usual
            found = _explanations(family, lambda value: is_usual(value, usual))
    elif family.apart < abs(family.value) / 2:  # no factor is as small as that
        return None
    else:
        found = _explanations(family, lambda value: _fits_neighbours(family, value))
    if len(found) > 1:  # several slips would explain it; the neighbours can tell which it was
        found = [factor for factor in found if _fits_neighbours(family, factor.undone(family.value))]
    if len(found) != 1:
        return None
    would_be, place = (found[0].undone(each) for each in (family.value, family.reading.place_value))
    reason = found[0].reason("usual sizes" if odd else "neighbours", plain(would_be, family.reading.unit, place))
    return family.suspect(reason, would_be, () if odd else family.neighbours)


def _explanations(family: Family, belongs: Callable[[Decimal], bool]) -> list[Factor]:
    return explanations(family.value, belongs, LENGTHS if family.is_length else OTHERS)


def explanations(value: Decimal, belongs: Callable[[Decimal], bool], factors: Factors) -> list[Factor]:
    """Factors that would bring a figure where it belongs: the likely ones, or else the less likely ones."""
    for times in factors:
        tried = [Factor(each, too_large) for each in times for too_large in (True, False)]
        if found := [factor for factor in tried if belongs(factor.undone(value))]:
            return found
    return []


def far_outside(value: Decimal, usual: Bracket | None) -> bool:
    """Whether a figure is twice the greatest of the usual ones or more, or half the least or less."""
    if usual is None or usual.low is None or usual.high is None:
        return False
    return value <= min(usual.low / 2, usual.low * 2) or value >= max(usual.high * 2, usual.high / 2)


def is_usual(value: Decimal, usual: Bracket | None) -> bool:
    """Whether a figure is something, and among the usual ones."""
    return value != 0 and not outside(value, usual)


def _fits_neighbours(family: Family, value: Decimal) -> bool:
    if not family.fine or len(family.values) < 2:
        return False
    width = abs(family.middle) * ALIKE
    return family.close(width) and abs(value - family.middle) <= width


def outside(value: Decimal, usual: Bracket | None) -> bool:
    """Whether a figure is none of the usual ones."""
    if usual is None:
        return False
    return (usual.low is not None and value < usual.low) or (usual.high is not None and value > usual.high)


def plain(value: Decimal, unit: Unit, place: Decimal) -> str:
    """A value to the place that the figure was written to, of that size with the slip undone; without an exponent."""
    last = unit.difference_from_base(place.copy_abs())
    rounded = Decimal(fixed(unit.from_base(value), max(-last.adjusted(), 0)))
    return f"{rounded.normalize():f} {unit.symbol}".rstrip()


def exchanged(family: Family) -> Suspect | None:
    """Two digits side by side exchanged: as written it is far from its neighbours, undone it is one of them."""
    reading = family.reading
    if not family.apart or not family.fine or reading.repeats > 1:
        return None
    width = FAR_APART if family.is_length else abs(family.middle) * ALIKE
    far = max(width, WORN_APART) if family.is_length and not family.same_part else width
    if family.apart < far or not family.close(width):
        return None
    for a, b, off in exchanges(reading):
        if min(family.values) - width / BESIDE <= family.value + off <= max(family.values) + width / BESIDE:
            would_be = CONTEXT.add(family.value, off)
            reason = Reason(Why.DIGITS_EXCHANGED, (), (a, b, family.shown(would_be)))
            return family.suspect(reason, would_be, family.neighbours)
    return None


def exchanges(reading: Reading) -> Iterator[tuple[str, str, Decimal]]:
    """Each two digits side by side in a reading, and how much more it says with them exchanged, in base units."""
    for at in range(len(reading.text) - 1):
        a, b = reading.text[at], reading.text[at + 1]
        if a.isdigit() and b.isdigit() and a != b:
            off = _step(reading.text, reading.text[:at] + b + a + reading.text[at + 2 :], reading.unit)
            if off is not None:
                yield a, b, off


def _step(text: str, other: str, unit: Unit) -> Decimal | None:
    """How much more the other text says, in base units."""
    read, instead = (read_written(each, unit=unit, dimension=unit.dimension) for each in (text, other))
    if isinstance(read, Exact) and isinstance(instead, Exact):
        return CONTEXT.subtract(instead.value, read.value)
    return None


def grown(family: Family) -> Suspect | None:
    """A worn part that is larger than it was new, or a worn hole that is smaller."""
    wears, stated = family.measurand.new, family.new
    if wears is None or stated is None or not isinstance(stated.value, Decimal):
        return None
    beyond = family.value - stated.value
    if (-beyond if wears.grows else beyond) <= NEW_BAND:
        return None
    code = Why.SMALLER_THAN_NEW if wears.grows else Why.LARGER_THAN_NEW
    return family.suspect(Reason(code, (stated.name,), (stated.text,)), against=(stated,))


def unusual(family: Family) -> Suspect | None:
    """Outside the sizes that the packs call usual, for no one reason that can be told."""
    usual = family.measurand.usual
    if usual is None or not outside(family.value, usual):
        return None
    ways = _explanations(family, lambda value: is_usual(value, usual))
    reading = family.reading
    undone = [plain(way.undone(family.value), reading.unit, way.undone(reading.place_value)) for way in ways]
    return family.suspect(not_usual(usual, family.measurand.unit, undone))


def only_unusual(reason: Reason) -> bool:
    """Whether a figure lies outside the usual ones, and no slip that is known would explain it."""
    return reason.code is Why.UNUSUAL and not reason.labels[3:]


USUAL_DIGITS = 4
"""So many digits of a usual size are told."""


def not_usual(usual: Bracket, shown_in: Unit, undone: list[str]) -> Reason:
    """The reason for a figure outside the usual ones, with what it may have been."""
    ends = ("" if end is None else few_digits(shown_in.from_base(end)) for end in (usual.low, usual.high))
    return Reason(Why.UNUSUAL, (), (*ends, shown_in.symbol, *undone))


def few_digits(size: Decimal) -> str:
    """A size that is only told, and judges nothing: in the other system it may have no end."""
    return f"{Decimal(f'{size:.{USUAL_DIGITS}g}').normalize():f}"


def too_fine(reading: Reading, resolution: Decimal | None) -> bool:
    """Whether a reading is written much finer than its gauge shows, in whatever unit that was."""
    return resolution is not None and reading.place_value * FINER < resolution


def in_inches(reading: Reading, measurand: Measurand, resolution: Decimal | None) -> Suspect | None:
    """Inches among millimetres, where so small a figure is usual too: written finer than a micrometre, which its gauge
    does not show, it would be usual in inches."""
    if measurand.unit.dimension != LENGTH or reading.unit.of_inches or not reading.value:
        return None
    way = Factor(INCH, False)
    would_be = way.undone(reading.value)
    if reading.place_value >= MICROMETRE or outside(would_be, measurand.usual) or not too_fine(reading, resolution):
        return None
    shown = plain(would_be, reading.unit, way.undone(reading.place_value))
    return suspect_reading(reading, measurand, way.reason("places", shown), would_be)


SLIPS = (negative, step_off, slipped, exchanged, grown, unusual)


def beyond_suspicion(sizes: Sequence[Decimal], measurand: Measurand, steps: Iterable[GaugeSlip]) -> bool:
    """Whether what was read is all of usual size and nearer together than any slip would leave it, so that no reading
    need be looked at by itself. So it is with most readings of most sheets; worn parts may still have grown."""
    least, most = min(sizes), max(sizes)
    if outside(least, measurand.usual) or outside(most, measurand.usual):
        return False
    if measurand.unit.dimension != LENGTH:
        return most - least < least * ALIKE
    return most - least < min(FAR_APART, least / 2, *(step.by / 2 for step in steps))
