"""Reads a written number: a figure, a bracket or nothing measured; all else is refused, with a suggestion."""

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from specrules.vocabulary import Code

from .columns import Column, disagreement
from .dimension import Dimension
from .figure import FIGURE, MOST_DIGITS, PLAIN, plain_figure, read_figure
from .letters import fold
from .meant import Sense, unit_meant
from .number import CONTEXT
from .number_slips import known_slip, larger_first, tidy
from .refusal import Refusal
from .units import Unit

LONGEST = 60
_TRIES = 3  # a suggestion may itself be a slip, so many times over


class Exact(NamedTuple):
    """One number. `number` is as written, in `unit`, places kept; the rest is in base units: `value`,
    `place_value` (the size of the last written place; of one part for a fraction), `U` (stated, k = 2)."""

    value: Decimal
    unit: Unit
    number: Decimal
    place_value: Decimal
    U: Decimal | None = None


class Bracket(NamedTuple):
    """The true size lies between `low` and `high` (base units); None is an open side."""

    low: Decimal | None
    high: Decimal | None
    unit: Unit
    place_value: Decimal


@dataclass(frozen=True, slots=True)
class Open:
    """Not measured: left empty, or written open."""


Written = Exact | Bracket | Open

_UNIT = r"""(?:1/)?[a-zA-Z°"'%/][^()±<>+]*?"""
_READING = re.compile(
    rf"""(?:(?P<side>(?i:under|over)|[<>]=?)\s*)?
    (?P<low>[+-]?{FIGURE})\s*(?P<low_unit>{_UNIT})??
    (?:\s*\.\.(?!\.)\s*(?P<high>[+-]?{FIGURE})\s*(?P<high_unit>{_UNIT})?
      |\s*(?:±|\+/-|\+-)\s*(?P<U>{FIGURE})\s*(?P<U_unit>{_UNIT})?)?
    \s*(?:\((?P<again>[^()]+)\))?""",
    re.VERBOSE,
)


def read_written(text: str, *, unit: Unit | None, dimension: Dimension | None) -> Written | Refusal:
    """The number that a text states, or why it states none; for any text, in bounded time, never raising.

    `unit` is what a bare number means (None: a bare number has no dimension); `dimension` is what is expected
    (None: anything). What a refusal suggests would itself be read in the same place."""
    bare = unit if unit is not None and dimension in (None, unit.dimension) else None
    if bare is not None and len(text) <= MOST_DIGITS and PLAIN.fullmatch(text):
        number, place = plain_figure(text)
        return Exact(bare.to_base(number), bare, number, bare.difference_to_base(place))
    sense = Sense(bare, dimension, unit)
    read = _read(text, sense)
    if not isinstance(read, Refusal):
        return read
    before = len(text) - len(text.lstrip())
    return Refusal(read.code, read.said, _mended(read.write, sense, _TRIES), min(read.at + before, len(text)))


def _mended(write: str, sense: Sense, tries: int) -> str:
    """Those of the suggested texts that read; one that is itself a slip gives way to its own suggestion."""
    good: list[str] = []
    for each in filter(None, map(tidy, write.split(" or "))):
        read = _read(each, sense)
        if not isinstance(read, Refusal):
            good.append(each)
        elif tries:
            good.append(_mended(read.write, sense, tries - 1))
    return " or ".join(dict.fromkeys(filter(None, good)))


def _read(text: str, sense: Sense) -> Written | Refusal:
    if len(text) > LONGEST:
        return Refusal(Code.TOO_LONG, f"is longer than {LONGEST} characters")
    folded = fold(text)
    if folded.lower() in ("", "open"):
        return Open()
    match = _READING.fullmatch(folded)
    if match is None:
        return known_slip(folded) or Refusal(Code.NOT_A_NUMBER, "is no written number")
    read = _bracket(match, sense) if match["side"] or match["high"] else _exact(match, sense)
    return _said_twice(read, match, sense) if match["again"] and not isinstance(read, Refusal) else read


def _exact(match: re.Match[str], sense: Sense) -> Exact | Refusal:
    if match["U_unit"] and not match["low_unit"] and unit_meant(match, "U_unit", sense) != sense.bare:
        name = match["U_unit"]
        first = dict.fromkeys((name, sense.bare.symbol if sense.bare else name))
        write = " or ".join(f"{match['low']} {each} ±{match['U']} {name}" for each in first)
        return Refusal(Code.AMBIGUOUS_UNIT, "names its unit only after the ±", write)
    exact = _one(match, "low", "low_unit", sense)
    if isinstance(exact, Refusal) or not match["U"]:
        return exact
    of = exact.unit.dimension
    stated = _one(match, "U", "U_unit", Sense(exact.unit, of, sense.beside))
    if isinstance(stated, Refusal) and of.point:  # 20 C ±5 K: how far off a point is, is a difference
        of_difference = _one(match, "U", "U_unit", Sense(None, of._replace(point=False), sense.beside))
        stated = stated if isinstance(of_difference, Refusal) else of_difference
    if isinstance(stated, Refusal):
        return stated
    if not stated.number:
        return Refusal(Code.WRONG_UNCERTAINTY, "states an uncertainty of 0, which no gauge has")
    return exact._replace(U=stated.unit.difference_to_base(stated.number))


def _bracket(match: re.Match[str], sense: Sense) -> Bracket | Refusal:
    low_unit, high_unit = ("low_unit", "high_unit") if match["low_unit"] else ("high_unit", "high_unit")
    if not match["high_unit"]:
        high_unit = low_unit = "low_unit"
    low = _one(match, "low", low_unit, sense)
    if isinstance(low, Refusal):
        return low
    if match["side"]:
        if match["high"] or match["U"]:
            return Refusal(Code.WRONG_RANGE, "says one side, but more than one number")
        below = match["side"].lower() in ("under", "<", "<=")
        low_end, high_end = (None, low.value) if below else (low.value, None)
        return Bracket(low_end, high_end, low.unit, low.place_value)
    high = _one(match, "high", high_unit, sense)
    if isinstance(high, Refusal):
        return high
    if low.value == high.value:
        said = "has two ends that are one size"
        return Refusal(Code.WRONG_RANGE, said, f"{match['low']} {match[low_unit] or ''}".strip())
    if low.value > high.value:
        tail = f" {match[high_unit] or ''}" if low.unit == high.unit else " ?"
        return Refusal(*larger_first(f"{low.number:f}", f"{high.number:f}", tail))
    return Bracket(low.value, high.value, low.unit, max(low.place_value, high.place_value))


def _one(match: re.Match[str], size: str, name: str, sense: Sense) -> Exact | Refusal:
    """One figure of the match with its unit."""
    figure, unit = read_figure(match[size]), unit_meant(match, name, sense)
    if isinstance(figure, Refusal):
        return figure
    if isinstance(unit, Refusal):
        return unit
    return Exact(unit.to_base(figure.number), unit, figure.number, unit.difference_to_base(figure.place))


def _said_twice(first: Exact | Bracket, match: re.Match[str], sense: Sense) -> Exact | Bracket | Refusal:
    """The first of two statements of one size, where the second agrees within half of their last places."""
    start = match.start("again")
    second = _read(match["again"], Sense(None, first.unit.dimension, sense.beside))
    if isinstance(second, Refusal):
        before, after = match.string[:start], match.string[match.end("again") :]
        write = " or ".join(f"{before}{each}{after}" for each in second.write.split(" or ") if each)
        return Refusal(Code.SIZE_TWICE, f"says its size twice, and the second {second.said}", write, start + second.at)
    if type(first) is not type(second) or isinstance(second, Open):
        return Refusal(Code.SIZE_TWICE, "says its size twice, but not in the same way", at=start)
    parts = ((first, match.string[:start]), (second, match["again"]))
    # a decimal is rounded to its last place, a fraction is not
    rounded = [
        Decimal(0) if re.search(r"[0-9]/[0-9]", text) else CONTEXT.divide(each.place_value, Decimal(2))
        for each, text in parts
    ]
    allowed = CONTEXT.add(*rounded)
    if all(_agree(*ends, allowed) for ends in zip(_ends(first), _ends(second), strict=True)):
        return first
    if isinstance(first, Exact) and isinstance(second, Exact) and first.U is None is second.U:
        columns = (Column(each.number, each.unit, half) for each, half in zip((first, second), rounded, strict=True))
        return Refusal(Code.SIZE_TWICE, *disagreement(*columns), start)
    return Refusal(Code.SIZE_TWICE, "says its size twice, and the two do not agree", at=start)


def _ends(read: Exact | Bracket) -> tuple[Decimal | None, ...]:
    return (read.value,) if isinstance(read, Exact) else (read.low, read.high)


def _agree(one: Decimal | None, other: Decimal | None, allowed: Decimal) -> bool:
    if one is None or other is None:
        return one is other
    return CONTEXT.subtract(one, other).copy_abs() <= allowed
