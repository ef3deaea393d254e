"""The program's own forms of output, offered through the hook that plugins of others use.

Each imports what it is made with when it is asked for: a run pays only for the form that it wants.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from specrules.output.marks import FINDINGS, PAGE, READINGS, RECORD, REPORT, RUNS, SUITES
from specrules.output.page_frame import RECORDS_STYLE, frame
from specrules.output.table_columns import FINDINGS_HEADING, READINGS_HEADING
from specrules.plugins import Around, Embedded, Form, hookimpl

if TYPE_CHECKING:
    from specrules.document import Fault
    from specrules.inspection import Report, Whole
    from specrules.output.lines import Line
    from specrules.record import Record


def _screen(report: Report, whole: Whole) -> list[Line]:
    from specrules.output.console import screen

    return screen(report, whole)


def _full(report: Report, whole: Whole) -> list[Line]:
    from specrules.output.full_screen import whole_screen

    return whole_screen(report, whole)


def _record(record: Record, several: bool) -> str:
    from specrules.record import record_line, record_text

    return record_line(record) if several else record_text(record)


def _findings(record: Record, _several: bool) -> str:
    from specrules.output.csv_tables import findings_table

    return findings_table(record)


def _readings(record: Record, _several: bool) -> str:
    from specrules.output.csv_tables import readings_table

    return readings_table(record)


def _workbook(records: Sequence[Any]) -> bytes | Fault:
    from specrules.output.workbook import workbook_of

    return workbook_of(records)


def _findings_file(records: Sequence[Any]) -> bytes | Fault:
    from specrules.output.parquet_tables import findings_file

    return findings_file(records)


def _readings_file(records: Sequence[Any]) -> bytes | Fault:
    from specrules.output.parquet_tables import readings_file

    return readings_file(records)


def _suite(record: Record, _several: bool) -> str:
    from specrules.output.junit_suites import suite

    return suite(record)


def _run(record: Record, _several: bool) -> str:
    from specrules.output.sarif_runs import run

    return run(record)


def _whole_run(record: Record, _several: bool) -> str:
    from specrules.output.sarif_runs import run

    return run(record, every=True)


def _page(record: Record, _several: bool, pictures: Mapping[str, Embedded]) -> str:
    from specrules.output.records_page import record_page

    return record_page(record, pictures)


_BEFORE, _AFTER = frame(PAGE, "Inspection", "Inspection", RECORDS_STYLE)
_PAGES = Around(f"{_BEFORE}<main>", "\n", f"</main>{_AFTER}")
_SUITES = Around(f'{SUITES} inspection/1">\n', after="</testsuites>\n")
_RUNS = Around(f'{RUNS} inspection/1"}},\n "runs": [\n', ",\n", "\n ]\n}\n")


@hookimpl
def forms() -> tuple[Form, ...]:
    """A screen and a page for people, a record for machines, tables, and what continuous integration reads."""
    return (
        Form("console", _screen, REPORT, of="report", full=_full),
        Form("json", _record, RECORD, of="record"),
        Form("page", _page, PAGE, of="record", around=_PAGES, pictures=True, whole=False),
        Form("csv", _findings, FINDINGS, of="record", around=Around(FINDINGS_HEADING), whole=False),
        Form("readings_csv", _readings, READINGS, of="record", around=Around(READINGS_HEADING), whole=False),
        Form("spreadsheet", _workbook, binary=True),
        Form("parquet", _findings_file, binary=True),
        Form("readings_parquet", _readings_file, binary=True),
        Form("junit", _suite, SUITES, of="record", around=_SUITES),
        Form("sarif", _run, RUNS, of="record", full=_whole_run, around=_RUNS),
    )
