"""A written figure to a corrected one: unit, repeats averaged, zero error of the gauge taken off."""

from collections.abc import Sequence
from decimal import Decimal
from functools import reduce
from typing import NamedTuple

from specrules.document import Fault, Text, shown
from specrules.pack import Capability, whole_step
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
from specrules.vocabulary import Code, Why


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
    remark: Why | None = None  # what the gauge says against the figure as it is written
    figure: Decimal | None = None  # the one figure that was written, where the gauge makes a bracket of it

    def less(self, error: Decimal) -> "Measured":
        """The figure with this much taken off: what a gauge reads too much."""
        if not error:
            return self
        value, low, high = (None if v is None else CONTEXT.subtract(v, error) for v in self[:3])
        figure = None if self.figure is None else CONTEXT.subtract(self.figure, error)
        return self._replace(value=value, low=low, high=high, figure=figure)


UNSAID = Capability()
FINEST = -6
"""Of a blade in the other system of units so many places are shown at the most."""

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


def measured(
    statement: Statement,
    bare: Unit | None,
    dimension: Dimension,
    faults: list[Fault],
    able: Capability = UNSAID,
) -> Measured | None:
    """What a statement says, by a gauge that can do so much. `bare`: the unit of a bare number. None where nothing was
    measured, or it is at fault."""
    found = [_one(text, bare, dimension, statement, faults, able) for text in statement.texts if not is_open(text)]
    figures = [figure for figure in found if figure is not None]
    if not figures or len(figures) < len(found):
        return None
    return _mean(figures) if statement.repeated else figures[0]


def _one(
    text: Text, bare: Unit | None, dimension: Dimension, statement: Statement, faults: list[Fault], able: Capability
) -> Measured | None:
    written = read_figure(text, bare, dimension)
    if isinstance(written, Exact):
        return _indicated(written, able)
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


def _indicated(written: Exact, able: Capability) -> Measured:
    """A plain figure as its gauge reads: of what goes or does not, a bracket; a stated U says all there is to say."""
    value, unit = written.value, written.unit
    plain = Measured(value, value, value, written.U, written.place_value, unit)
    if written.U is not None:
        return plain
    if not able.goes or value < 0:
        return plain._replace(remark=Why.FINER_THAN_READ) if _finer(written, able) else plain
    low, high, marked = able.gap(value, unit)
    middle = None if high is None else CONTEXT.divide(CONTEXT.add(low, high), Decimal(2))
    place = written.place_value if high is None else min(written.place_value, _last_place(high, unit))
    remark = None if marked else Why.NO_BLADE
    return plain._replace(value=middle, low=low, high=high, place_value=place, remark=remark, figure=value)


def _finer(written: Exact, able: Capability) -> bool:
    """Whether a figure lies between two steps of its gauge."""
    step, marked = able.at(written.value).resolution, able.marked
    if step is None or marked is None or not step.absolute or marked.dimension != written.unit.dimension:
        return False
    return written.number % whole_step(step.absolute, marked, written.unit) != 0


def _last_place(size: Decimal, unit: Unit) -> Decimal:
    """The size of the last place of a blade, as it is marked in this unit."""
    exponent = unit.difference_from_base(size).normalize().as_tuple().exponent
    return unit.difference_to_base(Decimal(1).scaleb(max(int(exponent), FINEST)))


def _mean(figures: list[Measured]) -> Measured:
    """The mean of repeats. A stated U is of one reading: the largest is kept, since what they share doesn't average.

    Of brackets the mean lies between the mean of the lower ends and that of the upper ones."""
    written = [figure.value if figure.figure is None else figure.figure for figure in figures]
    mean = _mean_of(written)
    apart = [CONTEXT.subtract(each, mean) for each in written if each is not None]
    stated = [figure.U for figure in figures if figure.U is not None]
    plain = Measured(
        value=mean,
        low=mean,
        high=mean,
        U=max(stated, default=None),
        place_value=max(figure.place_value for figure in figures),
        unit=figures[0].unit,
        repeats=len(figures),
        squares=reduce(CONTEXT.add, [CONTEXT.multiply(each, each) for each in apart]),
        remark=next((figure.remark for figure in figures if figure.remark is not None), None),
    )
    if all(figure.figure is None for figure in figures):
        return plain
    low, high = _mean_of([figure.low for figure in figures]), None
    if all(figure.high is not None for figure in figures):
        high = _mean_of([figure.high for figure in figures])
    middle = None if high is None else _mean_of([low, high])
    return plain._replace(value=middle, low=low, high=high, figure=mean)


def _mean_of(numbers: Sequence[Decimal | None]) -> Decimal:
    known = [number for number in numbers if number is not None]
    return CONTEXT.divide(reduce(CONTEXT.add, known), Decimal(len(known)))
