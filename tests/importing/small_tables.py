"""Tables of a small shop, as text and as spreadsheets, and short ways to read them by a map."""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from datetime import date, time
from functools import cache

from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from specrules.document import Fault, Text
from specrules.effects.spreadsheet import read_spreadsheet
from specrules.importing.map_reading import Fitted, fitted, read_map
from specrules.importing.placing import Placing, place
from specrules.importing.table_cells import CellTable, text_table
from specrules.quantity import Unit, find_unit
from specrules.sheet import Sheet
from tests.sheet.small_shop import sheet_of, shop

Value = str | float | int | bool | date | time | None

FACTS = "facts: {mains: 3, cylinders: 2, throws: [[1], [2]]}\n"


@cache
def small_sheet(unit: str = "in") -> Sheet:
    """A sheet of three mains and two cylinders, nothing measured yet."""
    return sheet_of(FACTS, unit=unit)


def mapped(text: str) -> str:
    """A whole map: its header, then these lines."""
    return f"specrules: import-map/1\n{text}"


def known(text: str, units: Sequence[str] = ()) -> Fitted:
    """A map without a fault, held against the small sheet."""
    model, faults = read_map(mapped(text), "m.yaml")
    assert model is not None, [fault.sentence() for fault in faults]
    asked = [unit for unit in map(find_unit, units) if isinstance(unit, Unit)]
    found, faults = fitted(model, shop(), small_sheet(), tuple(asked))
    assert found is not None, [fault.sentence() for fault in faults]
    return found


def of_lines(*lines: str, between: str = ",") -> CellTable:
    """A table of plain text, its cells between commas."""
    return text_table([(number, line.split(between)) for number, line in enumerate(lines, 1)], "t.csv")


def book(
    rows: Sequence[Sequence[Value]], change: Callable[[Worksheet], None] = lambda _: None, name: str = "T"
) -> bytes:
    """A spreadsheet of one worksheet with these rows, then changed."""
    made = Workbook()
    sheet = made.active
    assert isinstance(sheet, Worksheet)
    sheet.title = name
    for row in rows:
        sheet.append(list(row))
    change(sheet)
    saved = io.BytesIO()
    made.save(saved)
    return saved.getvalue()


def of_book(source: bytes, name: str | None = "") -> CellTable:
    """The table of a spreadsheet that can be read."""
    found = read_spreadsheet(source, "t.xlsx", None if name is None else Text(name))
    assert not isinstance(found, Fault), found.sentence()
    return found[0]


def placing(table: CellTable, text: str, units: Sequence[str] = ()) -> Placing:
    """What comes of a table by a map; rows and columns of the map are cut out."""
    fits = known(text, units)
    return place(table.part(fits.map.rows, fits.map.columns), fits, small_sheet())


def readings(found: Placing) -> dict[str, str]:
    """What was read where: 'main_journal 3 front a' -> '2.4990 in'."""
    return {
        " ".join((each.spot[0], *each.spot[1], *each.spot[2])): " ".join(
            [each.figure.text, *([each.figure.bare_in.symbol] if each.figure.bare_in is not None else [])]
        )
        for each in found.placed
    }


def refusals(found: Placing) -> list[str]:
    """What was refused, as a reader sees it, without the table's file."""
    return [each.sentence().removeprefix("t.csv, ").removeprefix("t.xlsx, ") for each in found.faults]
