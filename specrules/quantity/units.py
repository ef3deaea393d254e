"""What a unit is, and how its written name is found: closed, by exact name, nothing guessed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from copy import copy
from dataclasses import dataclass, field
from decimal import ROUND_HALF_EVEN, Context, Decimal
from fractions import Fraction
from typing import NamedTuple

from specrules.vocabulary import Code

from .dimension import Dimension
from .letters import fold
from .nearest_name import LONGEST, all_nearest
from .number import CONTEXT
from .refusal import Refusal

# five digits fewer than a base value has: they may be the rounding of a factor
_BACK = Context(prec=45, rounding=ROUND_HALF_EVEN, Emin=-999, Emax=999)


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: base = number * factor + offset, with base units mm, g, s, deg and degree Celsius.

    `exact` is false where the factor is itself no ratio (a radian). Conversions carry 50 digits. `in_inches` and
    `in_millimetres` are the symbols of the units that stand for it in a sheet of the other system, "" for itself."""

    symbol: str
    dimension: Dimension
    factor: Fraction
    offset: Fraction = Fraction(0)
    exact: bool = True
    in_inches: str = ""
    in_millimetres: str = ""
    _times: Decimal = field(init=False, repr=False, compare=False)
    _plus: Decimal = field(init=False, repr=False, compare=False)
    _over: Decimal = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        common = self.factor.denominator * self.offset.denominator
        over = 1 if 10**30 % common == 0 else common  # a factor that a decimal holds needs no division
        parts = {"_times": self.factor, "_plus": self.offset, "_over": Fraction(1)}
        for name, part in parts.items():
            ratio = CONTEXT.divide(Decimal(part.numerator * over), Decimal(part.denominator))
            object.__setattr__(self, name, ratio)

    def __hash__(self) -> int:
        """By the symbol: the hash of a ratio takes longer than all else that is done with a unit."""
        return hash(self.symbol)

    @property
    def of_inches(self) -> bool:
        """Whether it belongs to the system of inches and pounds, and is something else among millimetres."""
        return bool(self.in_millimetres)

    def to_base(self, number: Decimal) -> Decimal:
        """A number in this unit, in base units."""
        return CONTEXT.divide(CONTEXT.fma(number, self._times, self._plus), self._over)

    def from_base(self, value: Decimal) -> Decimal:
        """A value in base units, in this unit, to 45 digits: the number that went in comes out."""
        return _BACK.divide(CONTEXT.fma(value, self._over, self._plus.copy_negate()), self._times)

    def difference_from_base(self, value: Decimal) -> Decimal:
        """A difference in base units, in this unit: the factor without the offset."""
        return _BACK.divide(CONTEXT.multiply(value, self._over), self._times)

    def difference_to_base(self, number: Decimal) -> Decimal:
        """A difference of so many of this unit, in base units: the factor without the offset."""
        return CONTEXT.divide(CONTEXT.multiply(number, self._times), self._over)


class Unclear(NamedTuple):
    """A unit name that means different things to different people.

    `meanings` are (how many of the unit, its name); the expected dimension may leave one of them.
    `among_inches` is what it means where the sheet is in inches, empty when that does not settle it."""

    said: str
    meanings: tuple[tuple[Decimal, str], ...]
    among_inches: str = ""


def normal(name: str) -> str:
    """One spelling for the many of a unit: 'N·m', 'N-m' and 'N m' are one, so are 'in^3' and 'in³'."""
    text = fold(name).replace("°", " deg ").replace("^", "").replace("²", "2").replace("³", "3")
    text = re.sub(r"\s*(?:/|\bper\b)\s*", "/", text)
    text = re.sub(r"(?<=\w)\s*[-*·⋅_]\s*(?=\w)", " ", text)
    return " ".join(re.sub(r"\.(?=\s|$)", "", text).split())


class Table:
    """Units by their names: those whose case matters, those in any case, and the unclear ones.

    Names are given as `normal` leaves them; a unit's symbol need not be."""

    def __init__(self, rows: tuple[tuple[Unit, str, str], ...], unclear: dict[str, Unclear]) -> None:
        self.units = tuple(unit for unit, _, _ in rows)
        self._strict = {normal(unit.symbol): unit for unit, _, _ in rows}
        self._strict |= {name: unit for unit, names, _ in rows for name in _split(names)}
        self._any_case = {name.lower(): unit for unit, _, names in rows for name in _split(names)}
        self._unclear = {name: meant for names, meant in unclear.items() for name in _split(names)}

    def with_units(self, more: Iterable[tuple[Unit, Iterable[str]]]) -> Table:
        """This table and some units more, with their further names; the case of each matters. A name that is taken
        already raises ValueError: nothing silently wins."""
        table = copy(self)
        table._strict = dict(self._strict)
        for unit, names in more:
            for name in dict.fromkeys(map(normal, (unit.symbol, *names))):
                if table.knows(name):
                    raise ValueError(f"{name} is a unit already")
                table._strict[name] = unit
            table.units = (*table.units, unit)
        return table

    def names(self) -> Iterator[tuple[str, Unit]]:
        """Every name besides the symbols, as `normal` leaves it, and its unit; those in any case in lower case."""
        symbols = {normal(unit.symbol) for unit in self.units}
        for name, unit in (*self._strict.items(), *self._any_case.items()):
            if name not in symbols:
                yield name, unit

    def knows(self, name: str) -> bool:
        """Whether a name, in whatever case, is that of a unit, clear or not."""
        return self.lookup(name, None, None) is not None

    def lookup(self, name: str, dimension: Dimension | None, beside: Unit | None) -> Unit | Unclear | None:
        """The unit of that name; unclear where neither the expected dimension nor the unit beside settles."""
        key = name if name in self._strict else normal(name)
        unclear = self._unclear.get(key.lower())
        if unclear is None:
            return self._strict.get(key) or self._any_case.get(key.lower())
        if unclear.among_inches and beside is not None and beside.of_inches:
            return self._strict[unclear.among_inches]
        meant = [self._strict[each] for _, each in unclear.meanings]
        fitting = [unit for unit in meant if unit.dimension == dimension]
        return fitting[0] if len(fitting) == 1 else unclear

    def suggest(self, name: str, dimension: Dimension | None) -> str:
        """The symbol of the one unit whose name is nearest to a mistyped one, empty where there is none."""
        known = {
            each: unit.symbol
            for names in (self._strict, self._any_case)
            for each, unit in names.items()
            if dimension in (None, unit.dimension)
        }
        symbols = {known[each] for each in all_nearest(normal(name), known)}
        return symbols.pop() if len(symbols) == 1 else ""

    def find(self, name: str, dimension: Dimension | None, beside: Unit | None) -> Unit | Refusal:
        """The unit of that name, or why there is none."""
        if len(name) > LONGEST:
            return Refusal(Code.TOO_LONG, f"is longer than {LONGEST} characters, so no unit")
        match self.lookup(name, dimension, beside):
            case Unit() as unit:
                return unit
            case Unclear() as unclear:
                return Refusal(Code.AMBIGUOUS_UNIT, unclear.said, " or ".join(unit for _, unit in unclear.meanings))
            case None:
                return Refusal(Code.UNKNOWN_UNIT, "is no known unit", self.suggest(name, dimension))


def _split(names: str) -> list[str]:
    return [name.strip() for name in names.split(",") if name.strip()]
