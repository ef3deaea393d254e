"""The program's own forms of output, offered through the hook that plugins of others use.

Each imports what it is made with when it is asked for: a run pays only for the form that it wants.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from specrules.output.marks import RECORD, REPORT
from specrules.plugins import Form, hookimpl

if TYPE_CHECKING:
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


@hookimpl
def forms() -> tuple[Form, ...]:
    """A screen for people, and a record for machines."""
    return Form("console", _screen, REPORT, of="report", full=_full), Form("json", _record, RECORD, of="record")
