"""The program's own forms of output, offered through the hook that plugins of others use.

Each imports what it is made with when it is asked for: a run pays only for the form that it wants.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import TYPE_CHECKING, Any

from specrules.output.marks import FINDINGS, PAGE, READINGS, RECORD, REPORT, RUNS, SUITES
from specrules.output.page_frame import RECORDS_STYLE, frame
from specrules.output.table_columns import FINDINGS_HEADING, READINGS_HEADING
from specrules.plugins import Around, Form, hookimpl

if TYPE_CHECKING:
    from specrules.record import Record


def _made_by(where: str) -> Callable[..., Any]:
    """What makes a form: the module of output and the name under which it is found, once it is called."""
    module, name = where.split(":")
    return lambda *given: getattr(import_module(f"specrules.output.{module}"), name)(*given)


def _of_each(where: str, *more: bool) -> Callable[..., Any]:
    """The same of each record, and its pictures where they are shown; whether it is one of several changes nothing."""
    make = _made_by(where)
    return lambda record, _several, *pictures: make(record, *pictures, *more)


def _record(record: Record, several: bool) -> str:
    from specrules.record import record_line, record_text

    return record_line(record) if several else record_text(record)


_BEFORE, _AFTER = frame(PAGE, "Inspection", "Inspection", RECORDS_STYLE)
_PAGES = Around(f"{_BEFORE}<main>", "\n", f"</main>{_AFTER}")
_SUITES = Around(f'{SUITES} inspection/1">\n', after="</testsuites>\n")
_RUNS = Around(f'{RUNS} inspection/1"}},\n "runs": [\n', ",\n", "\n ]\n}\n")


@hookimpl
def forms() -> tuple[Form, ...]:
    """A screen and a page for people, a record for machines, tables, and what continuous integration reads."""
    return (
        Form("console", _made_by("console:screen"), REPORT, of="report", full=_made_by("full_screen:whole_screen")),
        Form("json", _record, RECORD, of="record"),
        Form(
            "page", _of_each("records_page:record_page"), PAGE, of="record", around=_PAGES, pictures=True, whole=False
        ),
        Form(
            "csv",
            _of_each("csv_tables:findings_table"),
            FINDINGS,
            of="record",
            around=Around(FINDINGS_HEADING),
            whole=False,
        ),
        Form(
            "readings_csv",
            _of_each("csv_tables:readings_table"),
            READINGS,
            of="record",
            around=Around(READINGS_HEADING),
            whole=False,
        ),
        Form("spreadsheet", _made_by("workbook:workbook_of"), binary=True),
        Form("parquet", _made_by("parquet_tables:findings_file"), binary=True),
        Form("readings_parquet", _made_by("parquet_tables:readings_file"), binary=True),
        Form("junit", _of_each("junit_suites:suite"), SUITES, of="record", around=_SUITES),
        Form(
            "sarif", _of_each("sarif_runs:run"), RUNS, of="record", full=_of_each("sarif_runs:run", True), around=_RUNS
        ),
    )
