"""The tables of findings and of readings as one spreadsheet file (ECMA-376), each on a sheet of its own.

Every cell has its kind: a number is one, and a text is never a formula, whatever it begins with.

It is made of all records at once, since its format stands in no stream; whoever has many thousand sheets writes tables.
It has no mark, and is replaced only with `--replace`.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Any

from specrules.document import Fault, Place
from specrules.output.csv_tables import Cell, finding_rows, reading_rows
from specrules.output.table_columns import FINDING_COLUMNS, READING_COLUMNS
from specrules.record import Record
from specrules.vocabulary import Code

if TYPE_CHECKING:
    from openpyxl.worksheet._write_only import WriteOnlyWorksheet

LONGEST = 32_000
"""Characters of a cell; a spreadsheet holds hardly more."""
MOST_ROWS = 1_048_575
"""Rows below the heading that a sheet of a spreadsheet holds."""


def workbook_of(records: Sequence[Any]) -> bytes | Fault:
    """The file of all sheets that were asked for, given as readers of their records get them; a fault where there is
    nothing to write it with, or where there are more rows than it holds."""
    try:
        from openpyxl import Workbook
    except ImportError:
        said = "spreadsheets are written by openpyxl, which is not installed; pip install 'specrules[spreadsheet]'"
        return _fault(said, "--form csv")
    made = Workbook(write_only=True)
    kept = [Record.model_validate(each) for each in records]
    for title, columns, rows_of in (
        ("findings", FINDING_COLUMNS, finding_rows),
        ("readings", READING_COLUMNS, reading_rows),
    ):
        rows = [row for each in kept for row in rows_of(each)]
        if len(rows) > MOST_ROWS:
            return _fault(f"a spreadsheet holds {MOST_ROWS} {title}, and there are {len(rows)}", "--form csv")
        table = made.create_sheet(title)
        table.freeze_panes = "B2"
        table.append(list(columns))
        for row in rows:
            table.append(list(_cells(row, table)))
    whole = io.BytesIO()
    made.save(whole)
    return whole.getvalue()


def _cells(row: Iterable[Cell], table: WriteOnlyWorksheet) -> Iterator[Any]:
    from openpyxl.cell import WriteOnlyCell

    for content in row:
        if not isinstance(content, str):
            yield content
            continue
        text = content if len(content) <= LONGEST else f"{content[:LONGEST]} (cut)"
        made = WriteOnlyCell(table, value=text)
        made.data_type = "s"  # else a text with an equals sign before it is taken for a formula
        yield made


def _fault(said: str, write: str) -> Fault:
    return Fault(Place("--form spreadsheet", 0, 0), "", Code.PROGRAM_FAILED, said, write, "program")
