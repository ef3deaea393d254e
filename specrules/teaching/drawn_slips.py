"""Slips of the pen that any figure may have: the sign, the decimal point, the unit, one digit."""

from __future__ import annotations

from decimal import Decimal

from specrules.quantity import LENGTH, Exact, show
from specrules.teaching.exercise_parts import Asked
from specrules.teaching.sound import near

INCH = Decimal("25.4")
POWERS = tuple(Decimal(10) ** power for power in (1, 2, 3, -1, -2, -3))
FEWEST = 3
"""Digits that an answer must have before one of them can be called wrong: of two, one wrong digit is anything."""

SIGN = "The size is right and the sign is not: it was subtracted the wrong way round."
POINT = "The digits are right and the decimal point is not. Count the places again, or write the unit."
UNIT = "That is the answer in inches for millimetres, or the other way about. Write the unit that is asked for."
EXCHANGED = "Two digits side by side have changed places. Copy the figures again, and subtract again."
DIGIT = "All digits but one are right. Go through the sum again, column by column, with the borrowing."


def slip(written: Exact, asked: Asked) -> str:
    """What the slip is that makes this of the right answer, "" where none that is known does."""
    right, question, value = asked.right.value, asked.question, written.value
    if right is None or not right or not value:
        return ""
    place = max(question.least, written.place_value)
    if near(-value, right, place):
        return SIGN
    texts = (show(size, question.unit, question.places) for size in (value, right))
    if written.place_value <= question.least and (digits := _digits(*texts)):
        return digits
    times = [(power, POINT) for power in POWERS]
    times += [(INCH, UNIT), (1 / INCH, UNIT)] if question.unit.dimension == LENGTH else []
    for factor, said in times:
        if near(value / factor, right, max(question.least, written.place_value / factor)):
            return said
    return ""


def _digits(written: str, right: str) -> str:
    if len(written) != len(right) or len(right.replace(".", "").lstrip("-0")) < FEWEST:
        return ""
    differing = [at for at, (one, other) in enumerate(zip(written, right, strict=True)) if one != other]
    if len(differing) == 1:
        return DIGIT
    if len(differing) == 2:
        a, b = differing
        if b - a == 1 and (written[a], written[b]) == (right[b], right[a]):
            return EXCHANGED
    return ""
