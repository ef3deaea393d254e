"""Tolerance classes of ISO 286 as people write them, 50 H7 or 50 H7/k6: a nominal size, and how far from it a size may
be.

Classes are exact names; figures are those of the printed tables, since the formulas behind them do not give these.

They stand here and not with the functions of the trade: a class is a way to write a size.
"""

import re
from bisect import bisect_left
from collections.abc import Sequence
from decimal import Decimal
from typing import NamedTuple

from specrules.quantity.iso_286_tables import GRADES, HOLES, SHAFTS, steps_and_figures
from specrules.quantity.refusal import Refusal
from specrules.vocabulary import Code

LARGEST = Decimal(500)
"""The largest nominal size of the tables, mm."""
CLASS = r"[A-Za-z]{1,2}(?:01|0|1[0-8]|[1-9])"
_NOMINAL = r"[0-9]{1,3}(?:\.[0-9]{1,6})?"
WRITTEN_CLASS = f"({_NOMINAL})(?: ?mm)? ?({CLASS})(?: ?/ ?({CLASS}))?"
"""How a size with its class is written: its nominal size, and one class or two."""
_WRITTEN = re.compile(WRITTEN_CLASS)
_CLASS = re.compile(r"([A-Za-z]{1,2})([0-9]{1,2})")
_ONE = Decimal(1)
_SPECIAL = {("M", "6", Decimal(250)): Decimal(-9), ("M", "6", Decimal(280)): Decimal(-9)}
"""Upper deviations by letter, grade and the end below that the rule does not give (ISO 286-1, note to its table)."""


class Deviations(NamedTuple):
    """How far from the nominal size the limits lie, um."""

    lower: Decimal
    upper: Decimal


class WrittenClass(NamedTuple):
    """What is written: least and most in mm, of a size or, where there are two classes, of hole less shaft."""

    least: Decimal
    most: Decimal
    fit: bool


def looks_like_class(text: str) -> bool:
    """Whether a text is written as a size with its class."""
    return _WRITTEN.fullmatch(text) is not None


def read_class(text: str) -> WrittenClass | Refusal:
    """A nominal size in mm with one class, or with that of a hole and that of a shaft."""
    written = _WRITTEN.fullmatch(text)
    if written is None:
        said = "is no nominal size in mm with its class"
        return Refusal(Code.NOT_A_NUMBER, said, "50 H7, or of a hole and its shaft 50 H7/k6")
    nominal, one, other = Decimal(written[1]), written[2], written[3]
    found = [(name, deviations(name, nominal)) for name in (one, other) if name]
    for name, limits in found:
        if limits is None:
            known = f"{nominal} mm, the tables end at {LARGEST}" if nominal > LARGEST else f"{nominal} mm"
            return Refusal(Code.NOT_A_CHOICE, f"has {name}, which ISO 286 does not have for {known}")
    if other and not (one[0].isupper() and other[0].islower()):
        said = "is not a hole, in capitals, and then a shaft, in small letters"
        return Refusal(Code.NOT_A_CHOICE, said, f"{written[1]} H7/k6")
    (_, first), *rest = found
    assert first is not None
    if not rest:
        return WrittenClass(nominal + first.lower / 1000, nominal + first.upper / 1000, fit=False)
    second = rest[0][1]
    assert second is not None
    return WrittenClass((first.lower - second.upper) / 1000, (first.upper - second.lower) / 1000, fit=True)


def deviations(name: str, nominal: Decimal) -> Deviations | None:
    """The deviations of a class, such as H7, at a nominal size in mm; None where there are none."""
    known = _CLASS.fullmatch(name)
    width = None if known is None else _at(GRADES, known[2], nominal)
    if known is None or width is None or not 0 < nominal <= LARGEST or not _used(known[1], known[2], nominal):
        return None
    letter, grade = known[1], known[2]
    if letter in ("js", "JS"):
        return Deviations(-width / 2, width / 2)
    found = _at(HOLES if letter.isupper() else SHAFTS, _column(letter, grade), nominal)
    if found is None:
        return None
    if letter.isupper():
        found = _SPECIAL.get((letter, grade, _end_below(HOLES, nominal)), found + _delta(letter, grade, nominal))
    from_zero = letter[0].upper() < "I"  # the deviation nearer to the nominal size is told, and of the rest the other
    if from_zero is letter.isupper():
        return Deviations(found, found + width)
    return Deviations(found - width, found)


def steps_of(name: str) -> Sequence[Decimal]:
    """The ends between which the deviations of a class do not change, mm."""
    finer = steps_and_figures(HOLES if name[0].isupper() else SHAFTS)[0]
    return tuple(sorted({*finer, *steps_and_figures(GRADES)[0], _ONE}))


def _at(text: str, name: str, nominal: Decimal) -> Decimal | None:
    ends, figures = steps_and_figures(text)
    at = bisect_left(ends, nominal) - 1
    row = figures.get(name)
    return None if row is None or not 0 <= at < len(row) else row[at]


def _end_below(text: str, nominal: Decimal) -> Decimal:
    ends = steps_and_figures(text)[0]
    return ends[bisect_left(ends, nominal) - 1]


def _used(letter: str, grade: str, nominal: Decimal) -> bool:
    """Whether the standard has a class up to 1 mm."""
    if nominal > _ONE:
        return True
    coarse = len(grade) == 2 and grade != "01" and int(grade) >= 14
    return not (coarse or letter.lower() in ("a", "b") or (letter == "N" and int(grade) > 8))


def _column(letter: str, grade: str) -> str:
    """The line of its table that holds the deviation of a letter, in a grade."""
    number = int(grade)
    if letter == "j":
        return "j5_j6" if number in (5, 6) else f"j{number}"
    if letter == "k":
        return "k_4_7" if 4 <= number <= 7 else "k_other"
    if letter == "J":
        return f"J{number}"
    if letter in ("K", "M", "N"):
        return f"{letter}_{'le8' if number <= 8 else 'gt8'}"
    return letter


def _delta(letter: str, grade: str, nominal: Decimal) -> Decimal:
    """What a hole of the finer grades lies further out than the shaft of its letter."""
    finest = 8 if letter in ("K", "M", "N") else 7
    if letter[0] < "K" or not 3 <= int(grade) <= finest:
        return Decimal(0)
    return _at(HOLES, f"d{grade}", nominal) or Decimal(0)
