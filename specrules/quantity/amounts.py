"""Quantities that a text names, for readers of both systems of units: as they are written, or put into the other one.

A limit or a reading is converted exactly, and elsewhere. What is to be set is told in steps that can be set: 0.0005 in
is 0.01 mm on a micrometer. What words only mention is told in few digits, and closely: 0.013 mm, and 0.0127 nowhere.
"""

import re
from decimal import ROUND_CEILING, ROUND_DOWN, ROUND_FLOOR, ROUND_HALF_UP, Context, Decimal
from typing import NamedTuple

from specrules.vocabulary import Code

from .dimension import LENGTH
from .number import CONTEXT
from .refusal import Refusal
from .table import find_unit
from .units import Unit

BOTH_SYSTEMS = "|"
"""Between what is said for readers of inches and what is said for those of millimetres."""
NEAR = Decimal("0.25")
"""How far apart two figures for one amount may be, of the larger."""
CLOSE = Decimal("0.025")
"""How far from what it is a figure in words may be told, of it: 0.0127 as 0.013."""
MORE = Decimal("1.125")
"""So many times the amount a step may be at the most; one that would be more is the next one less."""
_BOUNDS = {"at least": ROUND_CEILING, "at most": ROUND_FLOOR}
_FIGURE = r"[+-]?\d{0,12}(?:\.\d{1,12}|(?<=\d))"  # no text names a longer one
_ONE = re.compile(
    rf"""(?P<bound>at\ least|at\ most)?\s*(?P<low>{_FIGURE})\s*(?:(?:\.\.|to)\s*(?P<high>{_FIGURE})\s*)?
    (?P<unit>[A-Za-z%°"'][\w\ ^/%°-]*)""",
    re.VERBOSE,
)
_WIDE = Context(prec=60)


class Said(NamedTuple):
    """One figure, or a range, as it is written. `bound`: at least, at most, or "" where it is no limit."""

    bound: str
    low: str
    high: str
    unit: Unit

    def values(self) -> tuple[Decimal, ...]:
        """Its ends, base units."""
        return tuple(self.unit.to_base(Decimal(each)) for each in (self.low, self.high) if each)

    def text(self) -> str:
        """It as a reader finds it in a sentence."""
        ends = f"{self.low} to {self.high}" if self.high else self.low
        return f"{self.bound} {ends} {self.unit.symbol}".strip()


class ToldAmount(NamedTuple):
    """A quantity of a text; `metric` is its figure among millimetres, None where it is given once."""

    given: Said
    metric: Said | None = None

    def told(self, lengths_in: Unit | None) -> str:
        """What it is in a sheet whose lengths are in that unit; None: as it is given first."""
        if lengths_in is None:
            return self.given.text()
        said = self.metric if self.metric is not None and not lengths_in.of_inches else self.given
        unit = in_sheet(said.unit, lengths_in)
        if used_among(said.unit, lengths_in):
            return said.text()
        return _converted(said, unit).text()


def in_sheet(unit: Unit, lengths_in: Unit | None) -> Unit:
    """What a unit of a pack is in a sheet whose lengths are in `lengths_in`: that one for lengths, for all else the
    unit that stands for it in the sheet's system. None, a sheet that states no unit: the pack's own."""
    if lengths_in is None or unit.dimension == LENGTH:
        return lengths_in or unit
    name = unit.in_inches if lengths_in.of_inches else unit.in_millimetres
    found = find_unit(name, dimension=unit.dimension) if name else unit
    return found if isinstance(found, Unit) else unit


def used_among(unit: Unit, lengths_in: Unit) -> bool:
    """Whether a unit is one that a sheet of that unit of lengths uses."""
    return not (unit.in_inches if lengths_in.of_inches else unit.in_millimetres)


def read_amount(text: str) -> ToldAmount | Refusal:
    """The quantity that a text states, once or for both systems: `0.0015 in`, `at most 0.0005 in`, `0.001..0.003 in`,
    `0.0005 in | 0.01 mm`. The inches come first."""
    first, both, second = text.partition(BOTH_SYSTEMS)
    given = _said(first.strip())
    if isinstance(given, Refusal) or not both:
        return given if isinstance(given, Refusal) else ToldAmount(given)
    metric = _said(second.strip())
    if isinstance(metric, Refusal):
        return metric._replace(at=len(text) - len(second.lstrip()) + metric.at)
    if given.unit.dimension != metric.unit.dimension or bool(given.high) != bool(metric.high):
        return Refusal(Code.KEYS_DISAGREE, "gives two things for the two systems of units, and one thing is meant")
    if metric.unit.of_inches or not given.unit.of_inches:
        write = f"{metric.text()} | {given.text()}" if metric.unit.of_inches and not given.unit.of_inches else ""
        return Refusal(Code.KEYS_DISAGREE, "gives for both systems of units, and not first inches, then metric", write)
    if not all(map(near, given.values(), metric.values())):
        alike = _converted(given, metric.unit)
        if not given.high:  # it may be what somebody sets
            alike = alike._replace(low=f"{_short(abs(metric.unit.from_base(given.values()[0]))):f}")
        said = "gives two amounts that are more than a quarter apart"
        return Refusal(Code.CONTRADICTION, said, f"{given.text()} | {alike._replace(bound='').text()}")
    return ToldAmount(given, metric._replace(bound=given.bound))


def near(one: Decimal, other: Decimal) -> bool:
    """Whether two amounts may stand for each other in the two systems: within a quarter of the larger."""
    larger = max(abs(one), abs(other))
    return CONTEXT.subtract(one, other).copy_abs() <= CONTEXT.multiply(NEAR, larger)


def settable(amount: Decimal, unit: Unit) -> Decimal:
    """A difference in base units as so many of a unit that somebody can set: a round number, at most an eighth more or
    a quarter less."""
    number = unit.difference_from_base(amount)
    return _short(abs(number)).copy_sign(number)


def _said(text: str) -> Said | Refusal:
    match = _ONE.fullmatch(text)
    if match is None:
        return Refusal(Code.NOT_A_NUMBER, "is no quantity, a number with its unit", "0.0015 in")
    unit = find_unit(match["unit"].strip())
    if isinstance(unit, Refusal):
        said = f'has the unit "{match["unit"].strip()}", which {unit.said}'
        return unit._replace(said=said, write=f"{match['low']} {unit.write}" if unit.write else "")
    if match["high"] and Decimal(match["low"]) >= Decimal(match["high"]):
        return Refusal(Code.WRONG_RANGE, "has its larger end first", f"{match['high']}..{match['low']} {match['unit']}")
    return Said(match["bound"] or "", match["low"], match["high"] or "", unit)


def _converted(said: Said, unit: Unit) -> Said:
    """What is given once, for readers of the other system."""
    numbers = [unit.from_base(value) for value in said.values()]
    if said.bound:
        texts = [_digits(number, 2, _BOUNDS[said.bound]) for number in numbers]
    else:
        ends = (said.low, said.high)
        written = [max(2, len(end.strip("+-0").replace(".", "").lstrip("0"))) for end in ends if end]
        texts = [_told(number, digits, unit) for number, digits in zip(numbers, written, strict=True)]
        while len(set(texts)) < len(texts) and texts[0] != "0":
            written = [digits + 1 for digits in written]
            texts = [_digits(number, digits) for number, digits in zip(numbers, written, strict=True)]
        if not said.high and not unit.dimension.point and _is_close(short := _short(abs(numbers[0])), abs(numbers[0])):
            texts = [f"{short.copy_sign(numbers[0]):f}"]
    return Said(said.bound, texts[0], texts[1] if said.high else "", unit)


def _told(number: Decimal, digits: int, unit: Unit) -> str:
    """A number in so many digits, or as many more as tell it closely; a point of a scale in so many."""
    text = _digits(number, digits)
    return text if unit.dimension.point or _is_close(Decimal(text), number) else _told(number, digits + 1, unit)


def _is_close(told: Decimal, number: Decimal) -> bool:
    return abs(told - number) <= CLOSE * abs(number)


def _short(number: Decimal) -> Decimal:
    """The nearest number of one digit, or of two whose second is 5, that is not too much more."""
    if not number:
        return Decimal(0)
    half = Decimal((0, (5,), number.adjusted() - 1))
    under = _WIDE.multiply((number / half).to_integral_value(ROUND_DOWN), half)
    over = _WIDE.add(under, half)
    best = over if over <= number * MORE and over - number < number - under else under
    return Decimal(f"{best.normalize():f}")


def _digits(number: Decimal, digits: int, rounding: str = ROUND_HALF_UP) -> str:
    """A number in so many digits that say something."""
    if not number:
        return "0"
    rounded = number.quantize(Decimal((0, (1,), number.adjusted() - digits + 1)), rounding, _WIDE)
    return f"{rounded:f}" if rounded.as_tuple().exponent <= 0 else f"{int(rounded)}"  # type: ignore[operator]
