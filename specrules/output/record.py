"""The JSON record of an inspection, `inspection-record/1`: everything that came of it, for programs and for keeping.

It lists every rule, so that checked and fine can be told from never checked. The same inspection gives the same bytes.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from specrules.document import Fault
from specrules.formula import Station
from specrules.inspection import ConcessionUse, Examination, FigureValue, Loosened, Report, SignOffState, Whole
from specrules.output.record_finding import finding_record
from specrules.output.record_parts import Json, axes_of, clean, fault, line, number, station, suspect
from specrules.pack import PackHead
from specrules.vocabulary import Verdict

HEADER = "inspection-record/1"
NOT_INSPECTED = "not inspected"
"""The verdict of a file that could not be read, or whose packs are at fault."""


def record(inspection: Report, whole: Whole, tool_version: str, faults: Sequence[Fault] = ()) -> Json:
    """A report as JSON data, each finding whole. faults: what went wrong beside it, such as a plugin set aside."""
    findings = [whole(finding) for finding in inspection.findings]
    axes = axes_of(findings)
    held = {(finding.rule, *finding.station.items()) for finding in inspection.held}
    made = {
        **_head(tool_version, {"title": inspection.title, **inspection.build}, inspection.file, inspection.sha256),
        "packs": [_pack(pack) for pack in inspection.packs],
        "decision": inspection.decision,
        "until": inspection.until or None,
        "held by": inspection.options.held_by,
        "sure": inspection.options.sure,
        "verdict": inspection.verdict,
        "counts": {str(verdict): inspection.counts.get(verdict, 0) for verdict in Verdict},
        "findings": [
            finding_record(each, axes, inspection.file, (each.rule, *each.station.items()) in held) for each in findings
        ],
        "figures": [_figure(each) for each in inspection.figures],
        "sign-offs": [_sign_off(each) for each in inspection.sign_offs],
        "suspects": [suspect(each, axes) for each in inspection.suspects],
        "loosened": [_loosened(each) for each in inspection.loosened],
        "concessions": [_concession(each) for each in inspection.concessions],
        "assumed": dict(inspection.assumed),
        "remarks": list(inspection.remarks),
        "faults": [fault(each) for each in faults],
    }
    cleaned: Json = clean(made)
    return cleaned


def record_of_faults(faults: Sequence[Fault], tool_version: str, file: str, sha256: str = "") -> Json:
    """The record of a sheet that could not be inspected: its faults, and nothing said of anything else."""
    lists = ("findings", "figures", "sign-offs", "suspects", "loosened", "concessions")
    made = {
        **_head(tool_version, {"title": ""}, file, sha256),
        "packs": [],
        "decision": None,
        "until": None,
        "held by": None,
        "sure": None,
        "verdict": NOT_INSPECTED,
        "counts": {str(verdict): 0 for verdict in Verdict},
        **{key: [] for key in lists},
        "assumed": {},
        "remarks": [],
        "faults": [fault(each) for each in faults],
    }
    cleaned: Json = clean(made)
    return cleaned


def text(record: Mapping[str, Any]) -> str:
    """A record as text to be written in UTF-8: one finding a line, so that two records can be held side by side."""
    return "{\n" + ",\n".join(f" {_json(key)}: {_body(value)}" for key, value in record.items()) + "\n}\n"


def record_for(file: str, examined: Examination | None, faults: Sequence[Fault], tool_version: str) -> Json:
    """The record of a sheet that was judged, or of the faults that kept it from being so."""
    if examined is None:
        return record_of_faults(faults, tool_version, file)
    return record(examined.report, examined.whole, tool_version, faults)


def row(record: Mapping[str, Any]) -> str:
    """A record as one of several: in one line, that can be read and let go before the next."""
    return _json(record) + "\n"


def _body(value: object) -> str:
    if isinstance(value, list) and value:
        return "[\n" + ",\n".join(f"  {_json(item)}" for item in value) + "\n ]"
    return _json(value)


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _head(tool_version: str, build: Mapping[str, str], file: str, sha256: str) -> Json:
    sheet = {"title": build["title"] or None, **{key: said for key, said in build.items() if key != "title"}}
    return {
        "specrules": HEADER,
        "tool": {"version": tool_version},
        "sheet": {**sheet, "file": file or None, "sha256": sha256 or None},
    }


def _pack(pack: PackHead) -> Json:
    return {
        "name": pack.name,
        "version": pack.version,
        "title": pack.title,
        "caution": pack.caution or None,
        "builds on": list(pack.builds_on),
        "sets": dict(pack.sets),
        "sha256": pack.sha256,
    }


def _figure(figure: FigureValue) -> Json:
    return {
        "name": figure.name,
        "title": figure.title,
        "group": figure.group or None,
        "station": station(figure.station),
        "value": number(figure.value),
        "unit": figure.unit.symbol,
        "U": number(figure.U),
        "way": figure.way or None,
    }


def _sign_off(check: SignOffState) -> Json:
    return {
        "name": check.name,
        "question": check.question,
        "group": check.group or None,
        "hold point": check.hold_point or None,
        "importance": check.importance,
        "state": check.state,
        "by": check.by or None,
        "on": check.on or None,
        "missing at": _stations(check.missing_at),
        "because": check.because or None,
        "caution": check.caution or None,
    }


def _loosened(limit: Loosened) -> Json:
    return {
        "rule": limit.rule,
        "pack": limit.pack,
        "side": limit.side,
        "stations": _stations(limit.stations),
        "reason": limit.reason or None,
    }


def _concession(use: ConcessionUse) -> Json:
    return {
        "rule": use.rule,
        "reason": use.reason,
        "by": use.by,
        "used at": _stations(use.used_at),
        "line": line(use.place.line),
    }


def _stations(stations: Iterable[Station]) -> list[dict[str, int | str]]:
    return [station(each) for each in stations]
