"""A small bench inspected, its record read back, and a validator that knows nothing of this program."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache
from typing import Any, NoReturn

from jsonschema import Draft202012Validator

from specrules.document import Fault
from specrules.inspection import Examination, Finding, Options, Report, WholeFinding
from specrules.output.report_record import record_of
from specrules.pack import Specification
from specrules.record import Record, read_record, record_data, record_text
from specrules.record.record_json_schema import record_schema
from specrules.sheet import read_sheet, settle
from tests.inspecting import whole
from tests.shipped import resolved

VALIDATOR = Draft202012Validator(record_schema())

VERDICTS = {
    "in spec",
    "worn within limit",
    "just in",
    "just out",
    "out of spec",
    "not proven",
    "not measured",
    "no figure",
    "not applicable",
}

SHEET = """\
specrules: build-sheet/1
build: {title: A bench engine, job: R-7}
packs: [street]
unit: in
facts: {mains: 5, cylinders: 8, block_material: iron, induction: natural,
  cycle: four_stroke, ignition: spark, cooling: liquid}
gauges:
  mic 2-3: {class: outside micrometer, zero: {standard: 2.0000, reads: 2.0001}}
readings:
  main_bearing_bore:
    taken: 2026-10-01
    1: [2.4525, 2.4526]
    2: [2.4524, 2.4525]
    3: [2.4505, 2.4506]
    4: [2.4525, 2.4526]
    5: [2.4525, 2.4526]
  main_journal:
    gauge: mic 2-3
    1: [2.4501, 2.4501, 2.4500, 2.4501]
    2: [2.4501, 2.4501, 2.4500, 2.4501]
    3: [2.4501, 2.4501, 2.4500, 2.4501]
    4: [2.4751, 2.4501, 2.4500, 2.4501]
    5: {front: {a: 2.4501}}
  ring_end_gap: {1: {top: 0.018..0.019, second: under 0.002}}
signed:
  caps_torqued_dry_shells: {by: ab, on: 2026-10-01}
  fasteners_lubricated_as_specified: {by: ab, on: 2026-10-01}
concessions:
  - {rule: main_oil_clearance, at: {main: 3}, reason: "thin oil, tried before", by: cd, on: 2026-10-02}
"""


def packs() -> Specification:
    return resolved("street")


@cache
def examined(decision: str = "simple") -> Examination:
    raw, faults = read_sheet(SHEET, "a.sheet.yaml")
    assert raw is not None, faults
    sheet, faults = settle(raw, packs())
    assert sheet is not None, [fault.sentence() for fault in faults]
    return Examination(sheet, packs(), Options(decision=decision, until="dry_fit"))


@cache
def inspection(decision: str = "simple") -> Report:
    """The report, each of its findings whole."""
    report = examined(decision).report
    return replace(report, findings=tuple(map(examined(decision).whole, report.findings)))


def made_of(report: Report, faults: Sequence[Fault] = (), version: str = "1.0.0") -> Record:
    """The whole record of a report of this bench."""
    return record_of(report, whole, version, faults)


def recorded(report: Report, faults: Sequence[Fault] = (), version: str = "1.0.0") -> dict[str, Any]:
    """What a reader of its JSON gets."""
    return record_data(made_of(report, faults, version))


def changed(finding: WholeFinding, **parts: Any) -> WholeFinding:
    """A whole finding with other parts."""
    return WholeFinding.of(Finding(*finding)._replace(**parts), finding.judge, finding.judged, finding.chain)


@cache
def whole_record() -> Mapping[str, Any]:
    """What a reader gets of the bench's record, to be read only."""
    return recorded(inspection())


def as_read(made: str) -> Any:
    """JSON as RFC 8259 has it: without NaN and Infinity."""

    def refuse(constant: str) -> NoReturn:
        raise AssertionError(f"{constant} is no JSON")

    return json.loads(made, parse_constant=refuse)


def wrong(made: Mapping[str, Any]) -> list[str]:
    """What is wrong in what is written of a record that has these data, which are there again when it is read."""
    record = Record.model_validate_json(json.dumps(made), by_alias=True, by_name=False)
    assert read_record(record_text(record)) == record
    return wrong_as_written(as_read(record_text(record)))


def wrong_as_written(made: object) -> list[str]:
    return [f"{each.json_path}: {each.message[:150]}" for each in VALIDATOR.iter_errors(made)]


def finding(made: Mapping[str, Any], rule: str, **station: int | str) -> dict[str, Any]:
    found: list[dict[str, Any]] = [f for f in made["findings"] if f["rule"] == rule and f["station"] == station]
    assert len(found) == 1
    return found[0]
