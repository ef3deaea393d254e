"""A written figure to a corrected one: unit, repeats averaged, zero error of the gauge taken off."""

from __future__ import annotations

from decimal import Decimal
from functools import reduce
from typing import NamedTuple

from specrules.document import Fault, Text, shown
from specrules.quantity import (
    CONTEXT,
    LENGTH,
    NUMBER,
    Bracket,
    Dimension,
    Exact,
    Refusal,
    Unit,
    Written,
    read_written,
)
from specrules.sheet.faults import fault, refused
from specrules.sheet.grid import Statement, is_open
from specrules.vocabulary import Code


class Measured(NamedTuple):
    """A figure in base units; see `Reading` for what stands open where it is a bracket."""

    value: Decimal | None
    low: Decimal | None
    high: Decimal | None
    U: Decimal | None
    place_value: Decimal
    unit: Unit
    repeats: int = 1
    squares: Decimal = Decimal(0)  # about the mean of the repeats, summed

    def less(self, error: Decimal) -> Measured:
        """The figure with this much taken off: what a gauge reads too much."""
        if not error:
            return self
        value, low, high = (None if v is None else CONTEXT.subtract(v, error) for v in self[:3])
        return self._replace(value=value, low=low, high=high)


UNITLESS = Refusal(
    Code.UNIT_UNSAID,
    "has no unit, and the sheet states none for lengths",
    "unit: in, or unit: mm, on a line of its own",
)


def read_figure(text: str, bare: Unit | None, dimension: Dimension) -> Written | Refusal:
    """A written figure of that dimension; `bare` is the unit of a bare number, None where the sheet states none."""
    written = read_written(text, unit=bare, dimension=dimension)
    if isinstance(written, Refusal) and bare is None and dimension == LENGTH:
        plain = read_written(text, unit=None, dimension=None)
        if isinstance(plain, (Exact, Bracket)) and plain.unit.dimension == NUMBER:
            return UNITLESS
    return written


def measured(statement: Statement, bare: Unit | None, dimension: Dimension, faults: list[Fault]) -> Measured | None:
    """What a statement says. `bare`: the unit of a bare number. None where nothing was measured, or it is at fault."""
    found = [_one(text, bare, dimension, statement, faults) for text in statement.texts if not is_open(text)]
    figures = [figure for figure in found if figure is not None]
    if not figures or len(figures) < len(found):
        return None
    return _mean(figures) if statement.repeated else figures[0]


def _one(
    text: Text, bare: Unit | None, dimension: Dimension, statement: Statement, faults: list[Fault]
) -> Measured | None:
    written = read_figure(text, bare, dimension)
    if isinstance(written, Exact):
        return Measured(written.value, written.value, written.value, written.U, written.place_value, written.unit)
    if isinstance(written, Bracket) and not statement.repeated:
        low, high = written.low, written.high
        value = None if low is None or high is None else CONTEXT.divide(CONTEXT.add(low, high), Decimal(2))
        return Measured(value, low, high, None, written.place_value, written.unit)
    if isinstance(written, Bracket):
        said = f"{shown(text)} is a range, and repeats are averaged"
        faults.append(fault(text.place, statement.subject, Code.NOT_ONE_FIGURE, said))
    elif isinstance(written, Refusal):
        faults.append(refused(text, written, statement.subject))
    return None


def _mean(figures: list[Measured]) -> Measured:
    """The mean of repeats. A stated U is of one reading: the largest is kept, since what they share doesn't average."""
    total = reduce(CONTEXT.add, (figure.value for figure in figures if figure.value is not None))
    mean = CONTEXT.divide(total, Decimal(len(figures)))
    stated = [figure.U for figure in figures if figure.U is not None]
    coarsest = max(figure.place_value for figure in figures)
    apart = (CONTEXT.subtract(figure.value, mean) for figure in figures if figure.value is not None)
    squares = reduce(CONTEXT.add, (CONTEXT.multiply(each, each) for each in apart))
    return Measured(mean, mean, mean, max(stated, default=None), coarsest, figures[0].unit, len(figures), squares)
