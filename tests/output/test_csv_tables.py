"""Tables: every row of the same columns, numbers as numbers, and texts that no spreadsheet takes for a formula."""

from __future__ import annotations

import csv
import io
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.document.safe_text import safe
from specrules.output.csv_tables import Cell, cell, findings_table, readings_table
from specrules.output.marks import MARKS
from specrules.output.report_record import record_for
from specrules.output.table_columns import FINDING_COLUMNS, FINDINGS_HEADING, READING_COLUMNS, READINGS_HEADING
from tests.lanes import first_alone
from tests.output.hostile_records import BODY, HOSTILE, dressed, faulty
from tests.output.small_screen import build, looked

BENCH = looked(BODY)
RECORD = record_for("jobs/a.sheet.yaml", BENCH, (), "1.0.0")


def rows(heading: str, *texts: str) -> list[dict[str, str]]:
    """A file as a reader of such tables reads it, which takes off the byte order mark."""
    whole = (heading + "".join(texts)).encode("utf-8").decode("utf-8-sig")
    assert "\n" not in whole.replace("\r\n", "")
    return list(csv.DictReader(io.StringIO(whole, newline=""), strict=True))


@pytest.mark.parametrize(
    ("content", "written"),
    [
        (None, ""),
        (True, "true"),
        (0.0, "0.0"),
        (-0.00105, "-0.00105"),
        (1e-07, "0.0000001"),
        (1.5e22, "15000000000000000000000"),
        (12, "12"),
        ("in spec", "in spec"),
        ("-0.0010", "-0.0010"),
        ("+2.5", "+2.5"),
        ("-0.0010 in", "'-0.0010 in"),
        ("=1+1", "'=1+1"),
        ("@SUM(A1)", "'@SUM(A1)"),
        ("  =1", "'  =1"),
        ("\uff1d1", "'\uff1d1"),
        ("- ", "'- "),
    ],
)
def test_a_cell_holds_a_number_or_a_text_and_no_formula(content: Cell, written: str) -> None:
    assert cell(content) == written


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_number_keeps_its_value_in_plain_digits(number: float) -> None:
    assert float(cell(number)) == number
    assert set(cell(number)) <= set("-.0123456789")


def test_a_row_a_finding_with_its_numbers_and_its_unit() -> None:
    made = rows(FINDINGS_HEADING, findings_table(RECORD))
    assert len(made) == len(BENCH.report.findings)
    for row, finding in zip(made, BENCH.report.findings, strict=True):
        assert (row["rule"], row["verdict"], row["unit"]) == (finding.rule, finding.verdict, finding.unit.symbol)
        assert row["value"] == "" if finding.value is None else Decimal(row["value"]) == round(finding.value, 12)
    fit = next(row for row in made if row["rule"] == "fit" and row["station"] == "place 2")
    assert (fit["value"], fit["most"], fit["verdict"], fit["side"]) == ("0.009", "0.003", "out of spec", "loose")
    tilt = next(row for row in made if row["rule"] == "tilt")
    assert (tilt["conceded"], tilt["holds"], tilt["job"], tilt["sheet"]) == ("true", "false", "J-1", RECORD.sheet.file)


def test_a_row_a_reading_with_what_stood_there_before() -> None:
    made = rows(READINGS_HEADING, readings_table(RECORD))
    assert sum(row["replaced"] == "false" for row in made) == BENCH.report.evidence.entered
    told = [(row["written"], row["value"], row["replaced"], row["state"]) for row in made if row["name"] == "shaft"]
    assert told[:2] == [("1.4990", "1.499", "true", "as found"), ("1.5000", "1.5", "false", "as built")]
    slot = next(row for row in made if row["name"] == "slot")
    assert (slot["low"], slot["high"], slot["written"], slot["unit"]) == ("0.1", "0.2", "0.10..0.20", "in")
    tilt = next(row for row in made if row["name"] == "tilt")
    lines = build(BODY).splitlines()
    assert (lines[int(tilt["line"]) - 1][int(tilt["column"]) - 1 :], tilt["U"]) == ("0.0060 ±0.0001", "0.0001")


def test_a_sheet_at_fault_is_a_row_that_says_so() -> None:
    found, read = (
        rows(FINDINGS_HEADING, findings_table(RECORD), findings_table(faulty("b"))),
        rows(READINGS_HEADING, readings_table(faulty("b"))),
    )
    assert (found[-1]["sheet"], found[-1]["verdict"], found[-1]["rule"]) == ("b", "not inspected", "")
    assert found[-1]["fault"].startswith("b, line 3, b: b; write b.")
    assert [row["fault"] for row in read] == [found[-1]["fault"]]


@pytest.mark.parametrize("text", first_alone(*HOSTILE.values()))
def test_whatever_a_text_holds_it_is_one_cell_and_inert(text: str) -> None:
    for heading, table, columns in (
        (FINDINGS_HEADING, findings_table, FINDING_COLUMNS),
        (READINGS_HEADING, readings_table, READING_COLUMNS),
    ):
        made = rows(heading, table(dressed(text)), table(faulty(text)))
        assert all(tuple(row) == columns for row in made)
        cells = [said for row in made for said in row.values()]
        assert not any(said.lstrip().startswith(("=", "@", "\uff1d")) for said in cells)
        assert not any(said.startswith(("-", "+")) and not said[1:].replace(".", "").isdigit() for said in cells)
        assert any(said.removeprefix("'") == safe(text) for said in cells)


def test_a_later_run_knows_a_table_for_its_own() -> None:
    for heading in (FINDINGS_HEADING, READINGS_HEADING):
        assert sum(heading.startswith(mark) for mark in MARKS) == 1
