"""Spreadsheets: every row there, numbers as numbers, and no text a formula, as a reader of spreadsheets gets them."""

from __future__ import annotations

import io
import sys
from typing import Any

import openpyxl
import pytest

from specrules.document import Fault
from specrules.document.safe_text import safe
from specrules.output import workbook as module
from specrules.output.csv_tables import finding_rows, reading_rows
from specrules.output.table_columns import FINDING_COLUMNS, READING_COLUMNS
from specrules.output.workbook import LONGEST, workbook_of
from specrules.record import Record, record_data
from tests.lanes import first_alone
from tests.output.hostile_records import HOSTILE, dressed, faulty, plain_data

PLAIN = Record.model_validate(plain_data())


def read(*records: Record) -> dict[str, list[tuple[Any, ...]]]:
    """The rows of each sheet of the file; that no cell is a formula."""
    made = workbook_of([record_data(each) for each in records])
    assert isinstance(made, bytes)
    found = openpyxl.load_workbook(io.BytesIO(made))
    assert {cell.data_type for sheet in found for row in sheet.iter_rows() for cell in row} <= {
        "s",
        "inlineStr",
        "n",
        "b",
    }
    return {sheet.title: list(sheet.iter_rows(values_only=True)) for sheet in found}


def test_a_file_has_the_rows_of_both_tables_with_numbers_as_numbers() -> None:
    found, bad = read(PLAIN, faulty("b")), faulty("b")
    for title, columns, rows_of in (
        ("findings", FINDING_COLUMNS, finding_rows),
        ("readings", READING_COLUMNS, reading_rows),
    ):
        heading, *rows = found[title]
        assert heading == columns
        wanted = [*rows_of(PLAIN), *rows_of(bad)]
        assert [list(row) for row in rows] == [[None if cell == "" else cell for cell in row] for row in wanted]
    value = FINDING_COLUMNS.index("value")
    assert any(isinstance(row[value], float) for row in found["findings"][1:])


@pytest.mark.parametrize("text", first_alone(*HOSTILE.values()))
def test_whatever_a_text_holds_it_is_shown_and_no_formula(text: str) -> None:
    rows = read(dressed(text), faulty(text))
    texts = [cell for sheet in rows.values() for row in sheet for cell in row if isinstance(cell, str)]
    assert safe(text) in texts
    assert all(safe(said) == said for said in texts)


@pytest.mark.second_lane
def test_a_text_too_long_for_a_cell_is_cut_and_says_so() -> None:
    rows = read(dressed("a" * (LONGEST + 1)))
    assert rows["findings"][1][1] == f"{'a' * LONGEST} (cut)"


def test_what_does_not_fit_and_what_cannot_be_written_is_a_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "MOST_ROWS", 3)
    full = workbook_of([plain_data()])
    assert isinstance(full, Fault)
    found = len(plain_data()["findings"])
    assert full.said == f"a spreadsheet holds 3 findings, and there are {found}"
    assert full.write == "--form csv"
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    lacking = workbook_of([plain_data()])
    assert isinstance(lacking, Fault)
    assert "openpyxl, which is not installed; pip install 'specrules[spreadsheet]'" in lacking.sentence()
