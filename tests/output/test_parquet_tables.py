"""Parquet files: every row there, each column of its kind whatever stands in it, as a reader of them gets it."""

from __future__ import annotations

import io
import sys
from datetime import date
from typing import Any

import pytest

from specrules.document import Fault
from specrules.document.safe_text import safe
from specrules.output.csv_tables import finding_rows, reading_rows
from specrules.output.parquet_tables import COUNTS, DAYS, NUMBERS, YES_NO, findings_file, readings_file
from specrules.output.table_columns import FINDING_COLUMNS, READING_COLUMNS
from specrules.record import Record, record_data
from tests.lanes import first_alone
from tests.output.hostile_records import HOSTILE, dressed, faulty, plain_data

PLAIN = Record.model_validate(plain_data())
FORMS = {
    "parquet": (findings_file, FINDING_COLUMNS, finding_rows),
    "readings": (readings_file, READING_COLUMNS, reading_rows),
}


def kind(column: str) -> str:
    kinds = {"double": NUMBERS, "int64": COUNTS, "bool": YES_NO, "date32[day]": DAYS}
    return next((name for name, columns in kinds.items() if column in columns), "string")


def read(form: str, *records: Record) -> list[dict[str, Any]]:
    """The rows of a file, whose columns are of their kinds however little stands in them."""
    parquet = pytest.importorskip("pyarrow.parquet", reason="the extra parquet is not installed")
    make, columns, _ = FORMS[form]
    made = make([record_data(each) for each in records])
    assert isinstance(made, bytes)
    table = parquet.read_table(io.BytesIO(made))
    assert {field.name: str(field.type) for field in table.schema} == {column: kind(column) for column in columns}
    rows: list[dict[str, Any]] = table.to_pylist()
    return rows


@pytest.mark.parametrize("form", FORMS)
def test_a_file_has_the_rows_of_its_table(form: str) -> None:
    bad = faulty("b")
    _, columns, rows_of = FORMS[form]
    wanted: list[dict[str, Any]] = [
        dict(zip(columns, row, strict=True)) for record in (PLAIN, bad) for row in rows_of(record)
    ]
    for row in wanted:
        row.update({column: date.fromisoformat(str(row[column])) for column in DAYS if row.get(column)})
    assert read(form, PLAIN, bad) == wanted
    assert any(row["value"] is not None for row in wanted)


@pytest.mark.parametrize("form", FORMS)
def test_where_nothing_stands_the_columns_are_of_their_kinds(form: str) -> None:
    assert len(read(form, faulty("b"))) == 1


@pytest.mark.parametrize("text", first_alone(*HOSTILE.values()))
def test_whatever_a_text_holds_it_is_shown(text: str) -> None:
    rows = read("parquet", dressed(text), faulty(text))
    texts = [cell for row in rows for cell in row.values() if isinstance(cell, str)]
    assert safe(text) in texts
    assert all(safe(said) == said for said in texts)


@pytest.mark.parametrize(("form", "instead"), [("parquet", "--form csv"), ("readings", "--form readings_csv")])
def test_what_cannot_be_written_is_a_fault(form: str, instead: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pyarrow", None)
    lacking = FORMS[form][0]([plain_data()])
    assert isinstance(lacking, Fault)
    assert lacking.write == instead
    assert "pyarrow, which is not installed; pip install 'specrules[parquet]'" in lacking.sentence()
