"""Which unit a matched text means, where the unit of the sheet and the expected dimension have a say."""

import re
from decimal import Decimal
from fractions import Fraction
from typing import NamedTuple

from specrules.vocabulary import Code

from .dimension import NUMBER, Dimension
from .figure import read_figure
from .number import CONTEXT
from .number_slips import known_slip
from .refusal import Refusal
from .table import UNITS, units_in_use
from .units import Unclear, Unit

NO_UNIT = Unit("", NUMBER, Fraction(1))
YES_NO_UNIT = Unit("yes/no", NUMBER, Fraction(1))  # of what is 1 where it holds and 0 where it does not


class Sense(NamedTuple):
    """What a text is read for: the unit of a bare number, the dimension expected, the unit used around it."""

    bare: Unit | None
    dimension: Dimension | None
    beside: Unit | None


def unit_meant(match: re.Match[str], group: str, sense: Sense) -> Unit | Refusal:
    """The unit that the named group of a reading states, or the bare one where it states none."""
    name, dimension = match[group], sense.dimension
    if not name:
        return _bare(sense)
    expected = sense.bare.dimension if dimension is None and sense.bare else dimension
    found = units_in_use().lookup(name, expected, sense.beside)
    if isinstance(found, Unclear):
        said = f"says {name}, which {found.said}"
        return Refusal(Code.AMBIGUOUS_UNIT, said, _meanings(match, found), match.start(group))
    if found is None:
        return known_slip(match.string) or _unknown(match, group, sense)
    if dimension in (None, found.dimension):
        return found
    alike = (unit for unit in UNITS if unit.dimension == dimension and unit.factor == found.factor)
    fitting = next(alike, None) if found.dimension.point else None
    said = f"is in {found.symbol}, which is {found.dimension.words()}, not {dimension.words()}"
    return Refusal(
        Code.WRONG_UNIT, said, _with_unit(match, group, fitting.symbol) if fitting else "", match.start(group)
    )


def _bare(sense: Sense) -> Unit | Refusal:
    if sense.bare is not None:
        return sense.bare
    if sense.dimension in (None, NUMBER):
        return NO_UNIT
    return Refusal(Code.UNIT_MISSING, f"has no unit, where {sense.dimension.words()} is expected")


def _unknown(match: re.Match[str], group: str, sense: Sense) -> Refusal:
    name = match[group].strip()
    if near := units_in_use().suggest(name, sense.dimension):
        said = f"has the unknown unit {name}"
        return Refusal(Code.UNKNOWN_UNIT, said, _with_unit(match, group, near), match.start(group))
    said = f"has {name} after the number, which is no unit; a note belongs in a comment"
    first, *note = name.split()
    if note and isinstance(units_in_use().lookup(first, sense.dimension, sense.beside), Unit):
        write = _with_unit(match, group, first)
    elif name.isalpha():
        write = _with_unit(match, group, sense.bare.symbol if sense.bare else "")
    else:
        write = ""
    return Refusal(Code.UNKNOWN_UNIT, said, write, match.start(group))


def _with_unit(match: re.Match[str], group: str, symbol: str) -> str:
    """The text of a reading with another unit in it."""
    start, end = match.span(group)
    return f"{match.string[:start].rstrip()} {symbol}{match.string[end:]}".strip()


def _meanings(match: re.Match[str], unclear: Unclear) -> str:
    """The reading in each of the ways in which its unit may be meant."""
    figures = [read_figure(match[end]) for end in ("low", "high") if match[end]]
    numbers = [figure.number for figure in figures if not isinstance(figure, Refusal)]
    if match["U"] or match["again"]:
        return ""

    def said(scale: Decimal, symbol: str) -> str:
        size = "..".join(f"{CONTEXT.multiply(number, scale):f}" for number in numbers)
        return f"{match['side'] or ''} {size} {symbol}".strip()

    return " or ".join(said(scale, symbol) for scale, symbol in unclear.meanings)
