"""One written figure without its unit: 2.4990, .0025, 2 1/2, 2-1/2, half a, two."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import NamedTuple

from specrules.vocabulary import Code

from .number import CONTEXT
from .refusal import Refusal

MOST_DIGITS = 20

_COUNTS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_WORDS = {"half": "1/2"} | {word: str(count) for count, word in enumerate(_COUNTS, 1)}
_DIGITS = r"(?:(?:0|[1-9][0-9]*)?\.[0-9]+|0|[1-9][0-9]*)(?![0-9])"
_FRACTION = r"(?:[1-9][0-9]*(?:\s+|-))?[1-9][0-9]?/[1-9][0-9]{0,2}(?![0-9])"
FIGURE = rf"(?:{_FRACTION}|{_DIGITS}|(?i:half(?:\s+an?)?|{'|'.join(_COUNTS)})\b)"
PLAIN = re.compile(rf"[+-]?{_DIGITS}")
_PLACES = tuple(Decimal((0, (1,), -places)) for places in range(MOST_DIGITS + 1))


class WrittenFigure(NamedTuple):
    """A figure in its own unit, places kept, and the size of its last place (of one part for a fraction)."""

    number: Decimal
    place: Decimal


def plain_figure(text: str) -> WrittenFigure:
    """The figure of a text that PLAIN matches and that is no longer than MOST_DIGITS."""
    point = text.find(".")
    return WrittenFigure(Decimal(text), _PLACES[len(text) - point - 1 if point >= 0 else 0])


def read_figure(text: str) -> WrittenFigure | Refusal:
    """The figure of a text that FIGURE matches, with or without a sign before it."""
    body = text.lstrip("+-")
    if len(re.sub(r"\D", "", body).lstrip("0")) > MOST_DIGITS:
        return Refusal(Code.TOO_LONG, f"has more than {MOST_DIGITS} digits")
    body = _WORDS.get(body.lower().split()[0], body)
    figure = _fraction(body) if "/" in body else _decimal(body)
    if figure is None:
        return Refusal(Code.MISWRITTEN_NUMBER, "has a fraction that is not below one")
    return figure._replace(number=figure.number.copy_negate()) if text.startswith("-") else figure


def _decimal(body: str) -> WrittenFigure:
    return WrittenFigure(Decimal(body), Decimal((0, (1,), -len(body.partition(".")[2]))))


def _fraction(body: str) -> WrittenFigure | None:
    *whole, ratio = re.split(r"[\s-]+", body)
    top, bottom = (Decimal(part) for part in ratio.split("/"))
    if top >= bottom:
        return None
    number = CONTEXT.divide(top, bottom)
    mixed = CONTEXT.add(Decimal(whole[0]), number) if whole else number
    return WrittenFigure(mixed, CONTEXT.divide(Decimal(1), bottom))
