"""A report is plain data: it can be kept, copied, compared and sent to another process, and holds nothing else."""

from __future__ import annotations

import copy
import pickle
from collections.abc import Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from dataclasses import fields, is_dataclass, replace
from datetime import date
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from functools import cache
from multiprocessing import get_context
from types import NoneType
from typing import Any

import pytest

from specrules.cli.demo_command import SHEET as DEMO
from specrules.document import Place
from specrules.document.text import Text
from specrules.inspection import (
    About,
    ConcessionUse,
    Examination,
    Extent,
    FigureValue,
    Finding,
    Limits,
    Options,
    OtherWay,
    Report,
    RestsOn,
    SignOffState,
    WholeFinding,
    WorkDone,
    inspect,
    statement,
)
from specrules.pack import PackHead, Relaxation, Source
from specrules.quantity import Dimension, Unit
from specrules.sheet import Suspect
from specrules.vocabulary import Reason, Verdict
from tests.inspecting import settled
from tests.output.small_screen import PACKS, SCREENS, build, read

OF_A_REPORT = (
    *(About, ConcessionUse, Extent, FigureValue, Finding, Limits, Options, OtherWay, Report, RestsOn, SignOffState),
    *(Dimension, PackHead, Place, Reason, Relaxation, Source, Suspect, WorkDone),
)
"""The records that a report is made of."""
PLAIN = (str, int, float, bool, Decimal, Fraction, date, NoneType)
ON_DEMAND = (
    "range",
    "worked",
    "inputs",
    "margins",
    "conformance",
    "budget",
    "alternatives",
    "steps",
    "otherwise",
    "beside",
)

COUNTED = """\
facts: {material: iron}
gauges: {clock: {class: dial, zero: {standard: 1.0000, reads: 1.0010}}}
readings:
  hole: {gauge: clock, 1: [1.5020, 1.5020], 2: [1.5020, 1.5020], 3: [1.5020, 1.5020]}
"""
"""It does not say how many places there are, and its gauge reads ten times its permissible error too much."""


@cache
def examined(name: str) -> Examination:
    """The demo under a decision rule, the sheet of a screen, or the one above."""
    if name.startswith("demo, "):
        text, packs, options = DEMO.read_text(encoding="utf-8"), {}, Options(decision=name.removeprefix("demo, "))
    elif name == "counted":
        text, packs, options = build(COUNTED), dict(PACKS), Options()
    else:
        asked, options, body, _ = read(next(path for path in SCREENS if path.stem == name))
        text, packs = build(body, asked), dict(PACKS)
    sheet, spec, faults = settled(text, packs)
    assert sheet is not None, faults
    assert spec is not None
    return Examination(sheet, spec, options)


SHEETS = ("counted", "demo, guarded", "demo, simple", "demo, conformance-95", *(path.stem for path in SCREENS))
"""Between them they have all that a report may hold."""
each_sheet = pytest.mark.parametrize("name", SHEETS)


def alien(thing: Any, where: str = "report") -> Iterator[str]:
    """What no report should hold, each with where it is."""
    kind = type(thing)
    if kind in PLAIN or isinstance(thing, Enum):
        return
    if kind is Text:  # a text that knows where it was written
        yield from (*alien(thing.place, f"{where} place"), *alien(thing.span, f"{where} span"))
    elif kind is Unit:
        yield from (one for name in ("symbol", "dimension", "factor", "offset") for one in alien(getattr(thing, name)))
    elif isinstance(thing, Mapping):
        for key, value in thing.items():
            yield from (*alien(key, f"{where} key"), *alien(value, f"{where}[{key}]"))
    elif kind in OF_A_REPORT and not hasattr(thing, "__dict__"):
        for name in [each.name for each in fields(kind)] if is_dataclass(kind) else kind._fields:
            yield from alien(getattr(thing, name), f"{where}.{name}")
    elif kind is tuple:
        for number, value in enumerate(thing):
            yield from alien(value, f"{where}[{number}]")
    else:
        yield f"{where}: {kind.__name__}"


@pytest.mark.second_lane
@each_sheet
def test_a_report_holds_plain_data_alone(name: str) -> None:
    """No judge, no environment, no binding, no formula."""
    assert list(alien(examined(name).report)) == []


@pytest.mark.second_lane
def test_what_is_not_plain_is_found() -> None:
    of = examined("demo, guarded")
    report = of.report
    finding, *others = report.findings
    assert list(alien(replace(report, findings=(of.whole(finding), *others)))) == ["report.findings[0]: WholeFinding"]
    odd: Any = {"judge": of.judge}
    assert list(alien(replace(report, build=odd))) == ["report.build[judge]: Judge"]


@pytest.mark.second_lane
def test_the_sheets_have_every_kind_of_part() -> None:
    """Else the walk through them would say little."""
    every = [examined(name).report for name in SHEETS]
    assert {finding.verdict for report in every for finding in report.findings} == {*Verdict}
    for part in ("suspects", "ledger", "concessions", "assumed", "remarks", "figures", "unsigned", "held", "open"):
        assert any(getattr(report, part) for report in every), part
    for part in ("assumed", "stale", "missing", "unsigned", "gauges", "suspect"):
        assert any(getattr(finding.rests_on, part) for report in every for finding in report.findings), part


@pytest.mark.second_lane
@each_sheet
def test_a_report_comes_back_from_its_bytes(name: str) -> None:
    report = examined(name).report
    for protocol in range(2, pickle.HIGHEST_PROTOCOL + 1):  # the older two cannot keep where a text was written
        again = pickle.loads(pickle.dumps(report, protocol))
        assert type(again) is Report
        assert again == report
        assert again.verdict == report.verdict
        assert all(type(each) is Finding for each in again.findings)
        assert list(alien(again)) == []


@each_sheet
def test_a_report_can_be_copied(name: str) -> None:
    report = examined(name).report
    twin = copy.deepcopy(report)
    assert twin == report
    assert copy.copy(report) == report
    assert twin.findings[0].about is not report.findings[0].about


def test_reports_of_the_same_sheet_are_equal_and_of_another_decision_are_not() -> None:
    of = examined("demo, guarded")
    assert inspect(of.sheet, of.spec, of.options) == of.report
    assert examined("demo, simple").report != of.report


def told(report: Report) -> tuple[Report, str, list[tuple[str, str, str, str]]]:
    """A report as it arrived in another process, and what is read from it there."""
    return (
        report,
        report.verdict,
        [(each.rule, str(each.verdict), statement(each), each.unit.symbol) for each in report.findings],
    )


@pytest.mark.second_lane
def test_a_report_can_be_sent_to_another_process() -> None:
    """A process that is begun anew shares nothing with this one but what it is sent."""
    reports = [examined(name).report for name in ("demo, guarded", "suspect", "conceded", "packs_disagree")]
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as other:
        for report, (again, verdict, findings) in zip(reports, other.map(told, reports), strict=True):
            assert again == report
            assert (again, verdict, findings) == told(report)


@each_sheet
def test_a_whole_finding_equals_the_finding_that_it_was_made_of(name: str) -> None:
    of = examined(name)
    for finding in of.report.findings:
        whole = of.whole(finding)
        assert type(whole) is WholeFinding
        assert type(finding) is Finding
        assert whole == finding
        assert finding == whole
        assert (whole.title, whole.unit, whole.source) == (finding.title, finding.unit, finding.source)
        assert whole != finding._replace(places=finding.places + 1)


@pytest.mark.second_lane
def test_what_a_finding_stands_on_is_told_of_one_that_came_back_too() -> None:
    of = examined("demo, guarded")
    again = pickle.loads(pickle.dumps(of.report))
    for finding, returned in zip(of.report.findings, again.findings, strict=True):
        here, there = of.whole(finding), of.whole(returned)
        assert [getattr(here, part) for part in ON_DEMAND] == [getattr(there, part) for part in ON_DEMAND]
    assert any(of.whole(finding).inputs for finding in again.findings)


@pytest.mark.second_lane
def test_asking_for_more_leaves_the_report_as_it_was() -> None:
    of = examined("demo, guarded")
    before = copy.deepcopy(of.report)
    for finding in of.report.findings:
        whole = of.whole(finding)
        assert all(hasattr(whole, part) for part in ON_DEMAND)
    assert of.report == before
    assert list(alien(of.report)) == []
