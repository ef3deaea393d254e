"""What changed from one record to the next, in words and figures, for the screen and for the page alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import NamedTuple

from specrules.inspection.digits import never_nothing, own_places, span
from specrules.output.words import many, name, places
from specrules.quantity import NO_UNIT, fixed
from specrules.record.record_comparison import (
    ChangedFinding,
    ChangedLimit,
    ChangedReading,
    OnlyThere,
    RecordComparison,
)

OF_U = (
    "U of a change is that of both values as if they had nothing in common. What the same gauge errs alike in both "
    "cancels, so the true one is no larger."
)
NO_NUMBERS = "one of them no single number"
_MOST_PLACES = 7


def other_verdicts(found: RecordComparison) -> list[ChangedFinding]:
    """The findings of another verdict."""
    return [each for each in found.findings if each.verdicts[0] is not each.verdicts[1]]


def moved_beyond(found: RecordComparison) -> list[ChangedFinding]:
    """Those of the same verdict whose value moved by more than its U, or where no U is known."""
    return [each for each in _same_verdict(found) if each.moved and each.beyond_U is not False]


def moved_within(found: RecordComparison) -> list[ChangedFinding]:
    """Those of the same verdict whose value moved by no more than its U."""
    return [each for each in _same_verdict(found) if each.moved and each.beyond_U is False]


def _same_verdict(found: RecordComparison) -> Iterator[ChangedFinding]:
    return (each for each in found.findings if each.verdicts[0] is each.verdicts[1])


class ValuesTold(NamedTuple):
    """Two values and by how much the second is another, with U of that where it is known. Without the unit."""

    was: str
    now: str
    moved: str


def values_told(of: ChangedFinding) -> ValuesTold:
    """Both values of a finding, to the places that their U leaves; a range for one that is no single number, "" where
    nothing is known."""
    ends = [_ends(of, number) for number in (0, 1)]
    digits = min(max((own_places(end) for pair in ends for end in pair if end is not None), default=0), _MOST_PLACES)
    U = None if not of.U else Decimal(repr(of.U))
    if U is not None:
        digits = min(digits, max(0, 1 - U.adjusted()))
    was, now = (span([pair], NO_UNIT, digits) for pair in ends)
    if of.moved is None:
        return ValuesTold(was, now, "")
    moved = Decimal(repr(of.moved))
    by = f"{'+' if moved > 0 else ''}{never_nothing(moved, digits)}"
    return ValuesTold(was, now, by if U is None else f"{by} ±{never_nothing(U, digits)}")


def _ends(of: ChangedFinding, number: int) -> tuple[Decimal | None, Decimal | None]:
    value = of.values[number]
    low, high = (value, value) if value is not None else of.between[number] or (None, None)
    return (None if low is None else Decimal(repr(low)), None if high is None else Decimal(repr(high)))


def verdict_told(of: ChangedFinding, number: int) -> str:
    """The first or the second verdict of a finding, with the side beyond."""
    verdict, side = of.verdicts[number], of.sides[number]
    return f"{verdict} ({side})" if side else verdict.value


def limit_told(of: ChangedLimit) -> tuple[str, str]:
    """What a limit was and what it is, to the same places."""
    sizes = [None if size is None else Decimal(repr(size)) for size in (of.old, of.new)]
    digits = min(max([own_places(size) for size in sizes if size is not None]), _MOST_PLACES)
    was, now = ("none" if size is None else fixed(size, digits) for size in sizes)
    return was, now


def read_again(readings: Sequence[ChangedReading]) -> Iterator[tuple[str, str, list[ChangedReading]]]:
    """What was measured again, with its unit and its readings."""
    by_name: dict[tuple[str, str], list[ChangedReading]] = {}
    for each in readings:
        by_name.setdefault((each.name, each.unit), []).append(each)
    yield from ((what, unit, these) for (what, unit), these in by_name.items())


def amounts_told(readings: Sequence[ChangedReading], unit: str) -> str:
    """From which to which amount some readings moved; "" where none is a number."""
    amounts = [Decimal(repr(each.moved)) for each in readings if each.moved is not None]
    if not amounts:
        return ""
    digits = min(max(map(own_places, amounts)), _MOST_PLACES)
    low, high = fixed(min(amounts), digits), fixed(max(amounts), digits)
    return (f"by {low} {unit}" if low == high else f"by {low} to {high} {unit}").rstrip()


def there_told(of: OnlyThere) -> str:
    """What only one record has, and where."""
    at = places(of.stations)
    return f"{name(of.name)} ({at})" if at else name(of.name)


def summary(found: RecordComparison) -> Iterator[str]:
    """How much was compared and how much of it changed, and what that does not tell."""
    counts = found.counts
    moved = f"{counts.moved} moved by more than U, {counts.within_U} by no more, {counts.without_U} with no U known"
    changes = f"{many(counts.verdicts, 'verdict')} changed, {moved}, {many(counts.limits, 'check')} of other limits"
    yield (
        f"{many(counts.findings, 'check')} and {many(counts.readings, 'reading')} compared: {changes}, "
        f"{counts.read_again} read again."
    )
    if found.old.seal is None or found.old.seal != found.new.seal:
        yield "They are not judged by the same specification."
    if found.old.decision != found.new.decision:
        yield f"The decision rule is another: {found.old.decision}, now {found.new.decision}."
