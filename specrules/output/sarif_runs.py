"""Sheets as runs of the Static Analysis Results Interchange Format, SARIF 2.1.0 (OASIS Standard), for annotations.

A run a sheet, of a category of its own. `kind` says how far something is decided (clause 3.27.9), `level` how grave a
failure is (3.27.10), "none" for all else. What is well, and what does not concern a place, is a result only where all
are asked for: there are readers that show every result as an alert, whatever its kind.

A sentence for each finding, `said` in its record, is all that it says in words of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from hashlib import sha256
from pathlib import PurePath
from typing import Any
from urllib.parse import quote

from pydantic_core import to_json

from specrules.output.checked_items import beside, pointed_at
from specrules.output.recorded_limits import in_full
from specrules.output.verdicts import TELLING
from specrules.output.words import place
from specrules.record import FaultRecord, FindingRecord, InputRecord, Record, SignOffRecord
from specrules.vocabulary import Code

Object = dict[str, Any]

SIGN_OFF_KINDS = {
    "signed": "pass",
    "missing": "open",
    "answered no": "fail",
    "stale": "review",
    "not applicable": "notApplicable",
}
LEVELS = {"critical": "error", "major": "warning", "minor": "note"}
QUIET = ("pass", "notApplicable")
MOST_RELATED = 40
"""Readings that a result points at besides the first."""


def run(record: Record, every: bool = False) -> str:
    """The run of one sheet as JSON. every: what is well is a result too."""
    return to_json(_run(record, every)).decode()


def _run(record: Record, every: bool) -> Object:
    rules = _Rules()
    results = [
        *(_of_fault(fault, rules) for fault in record.faults if not beside(fault)),
        *(_of_finding(finding, record, rules, every) for finding in record.findings),
        *(_of_sign_off(each, record, rules, every) for each in record.sign_offs),
    ]
    sheet = record.sheet
    files = [(sheet.file, sheet.sha256), *((each.file, each.sha256) for each in sheet.files)]
    told = {
        "verdict": record.verdict,
        "title": sheet.title,
        "job": sheet.job,
        "decision": record.decision,
        "until": record.until,
        "seal": record.seal,
        "counts": {verdict.value: number for verdict, number in record.counts.items()},
        "checks judged": record.evidence.judged,
        "checks that apply": record.evidence.apply,
    }
    return {
        "tool": {
            "driver": {"name": "specrules", "version": record.tool.version, "rules": rules.described},
            "extensions": [{"name": f"pack {pack.name}", "version": pack.version} for pack in record.packs],
        },
        "automationDetails": {"id": f"specrules/{uri_of(sheet.file) or 'sheet'}/"},
        "columnKind": "unicodeCodePoints",
        "invocations": [
            {
                "executionSuccessful": record.verdict != "not inspected",
                "toolExecutionNotifications": [
                    {"level": "warning", "message": {"text": each.sentence}} for each in record.faults if beside(each)
                ],
            }
        ],
        "artifacts": [
            {"location": _artifact(file), **({"hashes": {"sha-256": digest}} if digest else {})}
            for file, digest in files
        ],
        "results": [each for each in results if each is not None],
        "properties": _known(told),
    }


class _Rules:
    """The rules of a run, each once, whether or not it has a result."""

    def __init__(self) -> None:
        self.described: list[Object] = []
        self._numbers: dict[str, int] = {}

    def number(
        self,
        rule: str,
        title: str,
        level: str,
        help_: Iterable[str | None] = (),
        of: FindingRecord | SignOffRecord | None = None,
    ) -> int:
        """Its place among them; it is described where it was not yet. `of`: what has its group and importance."""
        if rule not in self._numbers:
            self._numbers[rule] = len(self.described)
            said = {"id": rule, "shortDescription": {"text": title or rule}, "defaultConfiguration": {"level": level}}
            helps = " ".join(filter(None, help_))
            more = _known({"group": of.group, "importance": of.importance, "hold_point": of.hold_point}) if of else {}
            self.described.append(said | ({"help": {"text": helps}} if helps else {}) | {"properties": more})
        return self._numbers[rule]


def _of_finding(of: FindingRecord, record: Record, rules: _Rules, every: bool) -> Object | None:
    level = LEVELS[of.importance]
    number = rules.number(of.rule, of.title, level, (of.caution, of.does_not_test), of)
    kind = "fail" if of.holds else TELLING[of.verdict].kind
    if kind in QUIET and not every:
        return None
    inputs = pointed_at(of)
    at = place(of.station)
    first, rest = inputs[:1], inputs[1 : MOST_RELATED + 1]
    because = [of.because, of.remedy] if kind == "fail" else []
    text = f"{of.title}{f', {at}' if at else ''}: {in_full(of)}"
    station = "/".join((of.rule, *(f"{axis}={label}" for axis, label in of.station.items())))
    told = {
        "verdict": of.verdict.value,
        "would be": of.would_be and of.would_be.value,
        "holds the job": of.holds,
        "waited for": of.open,
        "value": of.value,
        "U": of.U,
        "unit": of.unit,
    }
    made: Object = {
        **_result(of.rule, number, kind, level, " ".join(filter(None, (text, *because)))),
        "locations": [
            {
                **(_read_at(first[0], record) if first else _physical(record.sheet.file)),
                "logicalLocations": [{"name": at or of.title, "fullyQualifiedName": station}],
            }
        ],
        "partialFingerprints": {"ruleAndStation/v1": sha256(station.encode()).hexdigest()},
        "properties": _known(told),
    }
    if rest:
        made["relatedLocations"] = [{**_read_at(each, record), "message": {"text": _read(each)}} for each in rest]
    if of.conceded:
        reasons = {each.reason for each in record.concessions if each.rule == of.rule}
        made["suppressions"] = [
            {"kind": "inSource", "status": "accepted", "justification": " ".join(sorted(reasons)) or "conceded"}
        ]
    return made


def _of_sign_off(of: SignOffRecord, record: Record, rules: _Rules, every: bool) -> Object | None:
    level, rule = LEVELS[of.importance], f"sign-off/{of.name}"
    number = rules.number(rule, of.question, level, (of.because, of.caution), of)
    kind = SIGN_OFF_KINDS[of.state]
    if kind in QUIET and not every:
        return None
    at = ", ".join(map(place, of.missing_at))
    return {
        **_result(rule, number, kind, level, f"{of.question} {of.state}{f' at {at}' if at else ''}."),
        "locations": [_physical(record.sheet.file)],
        "partialFingerprints": {"ruleAndStation/v1": sha256(rule.encode()).hexdigest()},
        "properties": _known({"state": of.state, "by": of.by, "on": of.on, "waited for": of.open}),
    }


def _of_fault(fault: FaultRecord, rules: _Rules) -> Object:
    code = fault.code or Code.PROGRAM_FAILED
    rule = f"fault/{code.value}"
    number = rules.number(rule, code.meaning, "error")
    return {
        **_result(rule, number, "fail", "error", fault.sentence),
        "locations": [_physical(fault.file, fault.line, fault.column)],
    }


def _result(rule: str, number: int, kind: str, level: str, text: str) -> Object:
    return {
        "ruleId": rule,
        "ruleIndex": number,
        "kind": kind,
        "level": level if kind == "fail" else "none",
        "message": {"text": text},
    }


def _read_at(of: InputRecord, record: Record) -> Object:
    return _physical(of.file or record.sheet.file, of.line, of.column)


def _read(of: InputRecord) -> str:
    return f"{' '.join(filter(None, (of.name, place(of.station), place(of.position))))} = {of.text}"


def _physical(file: str | None, line: int | None = None, column: int | None = None) -> Object:
    """A place in a file; where no line is known the whole file."""
    region = {"startLine": line} | ({"startColumn": column} if column else {}) if line else None
    return {"physicalLocation": {"artifactLocation": _artifact(file)} | ({"region": region} if region else {})}


def _artifact(file: str | None) -> Object:
    uri = uri_of(file)
    return {"uri": uri} if uri else {"description": {"text": "the standard input"}}


def uri_of(file: str | None) -> str:
    """A path as a reference (RFC 3986), relative where the path is; "" for what is no file."""
    if not file or file == "-":
        return ""
    path = PurePath(file)
    if path.is_absolute():
        return f"file:///{quote(path.as_posix().lstrip('/'), safe='/:~')}"
    return quote(path.as_posix(), safe="/~")


def _known(told: Mapping[str, Any]) -> Object:
    return {name: said for name, said in told.items() if said is not None}
