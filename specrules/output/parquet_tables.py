"""The tables of findings and of readings as Parquet files, for data frames: every column is of one kind.

The columns are those of the CSV. Numbers are numbers, each row with its unit beside them, and days are days.

A column's kind goes by its name, so that files of other sheets go together whatever stands in them. The library is too
large for the tests' own extra: their tests are skipped where it is not there.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date
from typing import Any

from specrules.document import Fault, Place
from specrules.output.csv_tables import Cell, Row, finding_rows, reading_rows
from specrules.output.table_columns import FINDING_COLUMNS, READING_COLUMNS
from specrules.record import Record
from specrules.vocabulary import Code

NUMBERS = frozenset(
    ("value", "U", "low", "high", "least", "aim", "most", "wear_least", "wear_most", "beyond", "beyond_at_most")
)
COUNTS = frozenset(("line", "column"))
YES_NO = frozenset(("holds", "open", "conceded", "replaced"))
DAYS = frozenset(("taken",))
"""Columns of these kinds; all others have texts."""


def findings_file(records: Sequence[Any]) -> bytes | Fault:
    """The findings of all sheets that were asked for; a fault where there is nothing to write the file with."""
    return _file("parquet", FINDING_COLUMNS, finding_rows, records)


def readings_file(records: Sequence[Any]) -> bytes | Fault:
    """The same of their readings."""
    return _file("readings_parquet", READING_COLUMNS, reading_rows, records)


def _file(
    form: str, columns: Sequence[str], rows_of: Callable[[Record], Iterable[Row]], records: Sequence[Any]
) -> bytes | Fault:
    try:
        import pyarrow
        from pyarrow import parquet
    except ImportError:
        said = "Parquet files are written by pyarrow, which is not installed; pip install 'specrules[parquet]'"
        write = "--form readings_csv" if form.startswith("readings") else "--form csv"
        return Fault(Place(f"--form {form}", 0, 0), "", Code.PROGRAM_FAILED, said, write, "program")
    kinds = {
        **dict.fromkeys(columns, pyarrow.string()),
        **dict.fromkeys(NUMBERS, pyarrow.float64()),
        **dict.fromkeys(COUNTS, pyarrow.int64()),
        **dict.fromkeys(YES_NO, pyarrow.bool_()),
        **dict.fromkeys(DAYS, pyarrow.date32()),
    }
    rows = [row for each in records for row in rows_of(Record.model_validate(each))]
    cells = {column: list(_cells(column, [row[place] for row in rows])) for place, column in enumerate(columns)}
    table = pyarrow.table({column: pyarrow.array(some, kinds[column]) for column, some in cells.items()})
    whole = io.BytesIO()
    parquet.write_table(table, whole)
    return whole.getvalue()


def _cells(column: str, cells: Iterable[Cell]) -> Iterator[Cell | date]:
    for cell in cells:
        yield date.fromisoformat(cell) if column in DAYS and isinstance(cell, str) else cell
