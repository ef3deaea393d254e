"""Findings and readings as tables of comma-separated values (RFC 4180), for spreadsheets and data frames.

One row a finding, or a reading, whatever sheet it is of: all tables of a kind have the same columns. Each row has a
unit of its own, so that it stands in a column beside the numbers. A byte order mark tells spreadsheets of UTF-8.

The station stands in words in one column, since axes are a pack's (`report.rows()` has a column an axis). So the
heading stands there before the first sheet is judged, and many sheets take no more memory than one. The first column,
the version, takes the byte order mark where a reader does not know it.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from typing import TypeAlias

from specrules.output.table_columns import FINDING_COLUMNS, READING_COLUMNS
from specrules.output.words import place
from specrules.record import FindingRecord, InputRecord, Record
from specrules.record.finding_record import EarlierRecord
from specrules.record.record_part import RecordPart

Cell: TypeAlias = str | int | float | bool | None

_STARTS_FORMULA = re.compile(r"\s*[=+\-@\uff1d\uff0b\uff0d\uff20]")
_PLAIN_NUMBER = re.compile(r"[+-]?[0-9]+(\.[0-9]*)?")


Row: TypeAlias = list[Cell]


def findings_table(record: Record) -> str:
    """The rows of one sheet's findings, without the heading; of one that was not judged a row with its faults."""
    return table_text(finding_rows(record))


def readings_table(record: Record) -> str:
    """The rows of one sheet's readings, without the heading, what was read before in the same place first."""
    return table_text(reading_rows(record))


def finding_rows(record: Record) -> Iterator[Row]:
    """A row for each finding of a sheet, by the columns of findings."""
    rows = [_finding(each) for each in record.findings] or [_not_judged(FINDING_COLUMNS, record, record.verdict)]
    return _rows(FINDING_COLUMNS, record, rows)


def reading_rows(record: Record) -> Iterator[Row]:
    """A row for each reading of a sheet, by the columns of readings."""
    rows = [row for each in record.readings or () for row in _reading(each, record)]
    return _rows(READING_COLUMNS, record, rows or [_not_judged(READING_COLUMNS, record)])


def _finding(of: FindingRecord) -> dict[str, Cell]:
    low, high = of.between or (None, None)
    limits = of.limits
    return {
        **_named_alike(of, FINDING_COLUMNS),
        "station": place(of.station),
        "verdict": str(of.verdict),
        "would_be": None if of.would_be is None else str(of.would_be),
        "low": low,
        "high": high,
        "least": limits.least,
        "aim": limits.aim,
        "most": limits.most,
        "wear_least": limits.wear_least if "least" in limits.worn else None,
        "wear_most": limits.wear_most if "most" in limits.worn else None,
        "readings": of.rests_on.readings,
        "missing": "; ".join(reason.said for reason in of.rests_on.missing),
    }


def _named_alike(of: RecordPart, columns: Sequence[str]) -> dict[str, Cell]:
    """What stands in a part of a record under the names of these columns."""
    return {name: getattr(of, name) for name in columns if name in type(of).model_fields}


def _reading(of: InputRecord, record: Record) -> Iterator[dict[str, Cell]]:
    at: dict[str, Cell] = {
        "name": of.name,
        "station": place(of.station),
        "position": place(of.position),
        "unit": of.unit,
        "file": of.file or record.sheet.file or "",
    }
    written: tuple[EarlierRecord | InputRecord, ...] = (*of.earlier, of)
    for each in written:
        replaced = each is not of
        told = {**_named_alike(each, READING_COLUMNS), "written": each.text, **at}
        yield {**told, "pictures": _pictures(of, record, replaced), "replaced": replaced}


def _pictures(of: InputRecord, record: Record, replaced: bool) -> str:
    """The pictures that show a reading, each with the digest of its file."""
    labels = {**of.station, **of.position}
    return "; ".join(
        f"{picture.file} SHA-256 {picture.sha256 or 'unknown'}"
        for picture in record.pictures
        for shows in picture.shows
        if (shows.section, shows.name, shows.replaced) == ("readings", of.name, replaced)
        and all(axis not in labels or str(labels[axis]) in of_axis for axis, of_axis in shows.at.items())
    )


def _not_judged(columns: Sequence[str], record: Record, verdict: str = "") -> dict[str, Cell]:
    """The row of a sheet of which there is nothing to list: that it was not judged, or has no row, is not left out."""
    row: dict[str, Cell] = {"fault": " ".join(fault.sentence for fault in record.faults)}
    return row | ({"verdict": verdict} if "verdict" in columns else {})


def _rows(columns: Sequence[str], record: Record, rows: Iterable[dict[str, Cell]]) -> Iterator[Row]:
    of_sheet: dict[str, Cell] = {
        "specrules": record.tool.version,
        "sheet": record.sheet.file,
        "job": record.sheet.job,
    }
    for row in rows:
        whole = of_sheet | row
        yield [whole.get(column) for column in columns]


def table_text(rows: Iterable[Iterable[Cell]]) -> str:
    """Rows as comma-separated values."""
    made = io.StringIO()
    csv.writer(made, lineterminator="\r\n").writerows(list(map(cell, row)) for row in rows)
    return made.getvalue()


def cell(content: Cell) -> str:
    """A cell's text. Numbers have all their digits and no exponent; a text that a spreadsheet would take for a formula
    has an apostrophe before it, and is shown as it is."""
    if content is None:
        return ""
    if isinstance(content, bool):
        return "true" if content else "false"
    if isinstance(content, int | float):
        return f"{Decimal(repr(content)):f}"
    return f"'{content}" if _STARTS_FORMULA.match(content) and not _PLAIN_NUMBER.fullmatch(content) else content
