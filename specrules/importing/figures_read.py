"""The figure of one cell of a table: as it is written, in a unit that somebody said."""

from __future__ import annotations

import re
from typing import NamedTuple

from specrules.document import Fault
from specrules.importing.heading_units import SaidUnits
from specrules.importing.map_reading import Target
from specrules.importing.table_cells import TableCell
from specrules.pack import Measurand
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
    found = _read(cell, target.measurand, said, comma) if cell.refusal is None else cell.refusal
    return cell.refused(found, target.measurand.name) if isinstance(found, Refusal) else found


def _read(cell: TableCell, measurand: Measurand, said: SaidUnits, comma: bool) -> FigureRead | Refusal | None:
    dimension, text = measurand.unit.dimension, cell.text
    if comma and not cell.number:
        if _POINT.search(text):
            return Refusal(Code.AMBIGUOUS, "has a point, where the map says that figures have a decimal comma")
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
            return refusal
        if said.own is not None and read.unit != said.own:
            return Refusal(Code.CONTRADICTION, f"names {read.unit.symbol}, and its heading says {said.own.symbol}")
        return FigureRead(text, None, read)
    if unit is None:
        lacking = "has no unit, and neither its heading nor the map says one"
        return Refusal(Code.UNIT_MISSING, lacking, "unit: in the map, or --unit")
    read = read_written(text, unit=unit, dimension=dimension)
    if isinstance(read, Open):
        return None
    return read if isinstance(read, Refusal) else FigureRead(text, unit, read)
