"""The figure of one cell of a table: as it is written, in a unit that somebody said."""

from __future__ import annotations

import re
from typing import NamedTuple

from specrules.document import Fault
from specrules.importing.heading_units import SaidUnits
from specrules.importing.map_reading import Target
from specrules.importing.table_cells import TableCell
from specrules.quantity import NO_UNIT, Dimension, Open, Refusal, Unit, Written, read_written
from specrules.vocabulary import Code

_UNCERTAINTY = re.compile(r"\s*(±|\+/?-)")
_POINT = re.compile(r"(?<!\.)\.(?!\.)")


class FigureRead(NamedTuple):
    """What a cell states: its text with a point, the unit of that text where it names none itself, what it is."""

    text: str
    bare_in: Unit | None
    read: Written

    def written_in(self, unit: Unit | None, dimension: Dimension) -> str | None:
        """The text as it stands where bare figures are of a unit; None where it would not say the same there."""
        symbol = f" {self.bare_in.symbol}".rstrip() if self.bare_in is not None else ""
        for text in (self.text, f"{self.text}{symbol}", _UNCERTAINTY.sub(rf"{symbol} \1", self.text)):
            if read_written(text, unit=unit, dimension=dimension) == self.read:
                return text
        return None


def figure_of(cell: TableCell, target: Target, said: SaidUnits, comma: bool) -> FigureRead | Fault | None:
    """The figure of a cell; None where nothing was measured; a fault where it is not surely a figure, or of no unit."""
    measurand = target.measurand
    dimension = measurand.unit.dimension
    if cell.refusal is not None:
        return cell.refused(cell.refusal, measurand.name)
    text = cell.text
    if comma and not cell.number:
        if _POINT.search(text):
            refusal = Refusal(Code.AMBIGUOUS, "has a point, where the map says that figures have a decimal comma")
            return cell.refused(refusal, measurand.name)
        text = text.replace(",", ".")
    read = read_written(text, unit=None, dimension=dimension)
    if isinstance(read, Open):
        return None
    unit = said.own or said.usual
    bare = isinstance(read, Refusal) and read.code == Code.UNIT_MISSING
    if not isinstance(read, Refusal) and read.unit == NO_UNIT:
        bare = measurand.unit != NO_UNIT
    if not bare:
        if isinstance(read, Refusal):
            again = read_written(text, unit=unit, dimension=dimension)  # what it suggests may be a bare number
            refusal = again if isinstance(again, Refusal) else read
            if refusal.code == Code.COMMA_IN_NUMBER:
                write = ", or ".join(filter(None, (refusal.write, "decimal: comma in the map")))
                refusal = refusal._replace(write=write)
            return cell.refused(refusal, measurand.name)
        if said.own is not None and read.unit != said.own:
            refusal = Refusal(Code.CONTRADICTION, f"names {read.unit.symbol}, and its heading says {said.own.symbol}")
            return cell.refused(refusal, measurand.name)
        return FigureRead(text, None, read)
    if unit is None:
        refusal = Refusal(Code.UNIT_MISSING, "has no unit, and neither its heading nor the map says one")
        return cell.refused(refusal._replace(write="unit: in the map, or --unit"), measurand.name)
    read = read_written(text, unit=unit, dimension=dimension)
    if isinstance(read, Refusal):
        return cell.refused(read, measurand.name)
    return FigureRead(text, unit, read) if not isinstance(read, Open) else None
