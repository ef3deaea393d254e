"""From a report to its record, which lists every rule, so that checked and fine can be told from never checked."""

from __future__ import annotations

from collections.abc import Sequence

from specrules.document import Fault
from specrules.inspection import Examination, Extent, Finding, Input, Report, Whole
from specrules.output.finding_records import (
    InputRecords,
    Parts,
    finding_parts,
    named_alike,
    reason_records,
    suspect_parts,
)
from specrules.output.ledger_lines import now, told, was
from specrules.pack import Relaxation
from specrules.record import HEADER, NOT_INSPECTED, FaultRecord, Record
from specrules.record.inspection_record import AskedRecord, ConcessionRecord, RelaxationRecord, WorkRecord
from specrules.sheet.sheet_parts import Picture, PictureFile
from specrules.vocabulary import Verdict


def record_of(
    report: Report,
    whole: Whole | None,
    tool_version: str,
    faults: Sequence[Fault] = (),
    readings: Sequence[Input] | None = None,
    plugins: Sequence[str] = (),
) -> Record:
    """The record of a report. whole: finds what is worked out on demand; without it the record is not whole.

    faults: what went wrong beside it, such as a plugin set aside. readings: all of the sheet, where they are at hand.
    """
    held, opened = set(map(_key, report.held)), set(map(_key, report.open))
    lacking = {state.name for state in report.unsigned}
    asked, inputs = report.options, InputRecords(report.file)
    return Record.of(
        {
            "specrules": HEADER,
            "tool": {"version": tool_version, "plugins": plugins},
            "sheet": _sheet(report),
            "packs": report.packs,
            "seal": report.seal or None,
            "decision": report.decision,
            "until": report.until,
            "asked": named_alike(asked, AskedRecord),
            "held_by": asked.held_by,
            "sure": asked.sure,
            "at_least": asked.at_least or None,
            "whole": whole is not None,
            "verdict": report.verdict,
            "evidence": report.evidence,
            "waiting": {"facts": report.unstated, "rules": report.waiting} if report.unstated else None,
            "figures_hold_by": report.figures_hold_by,
            "counts": {verdict: report.counts.get(verdict, 0) for verdict in Verdict},
            "findings": [
                finding_parts(each, whole and whole(each), _key(each) in held, _key(each) in opened, inputs)
                for each in report.findings
            ],
            "readings": None if readings is None else list(map(inputs.of, readings)),
            "figures": report.figures,
            "sign_offs": [{**each._asdict(), "open": each.name in lacking} for each in report.sign_offs],
            "suspects": list(map(suspect_parts, report.suspects)),
            "ledger": list(map(_relaxation, report.ledger)),
            "concessions": [
                named_alike(each, ConcessionRecord, line=each.place.line or None) for each in report.concessions
            ],
            "work_done": [named_alike(each, WorkRecord, line=each.place.line or None) for each in report.work_done],
            "lies": report.lies,
            **({"pictures": list(map(_picture, report.pictures))} if report.pictures else {}),
            "assumed": report.assumed,
            "remarks": reason_records(report.remarks),
            "faults": list(map(_fault, faults)),
        }
    )


def _sheet(report: Report) -> Parts:
    known = {
        "title": report.title,
        **report.build,
        "file": report.file,
        "sha256": report.sha256 or None,
        "scope": report.scope,
        "until": report.sheet_until or None,
    }
    beside = [{"file": file, "sha256": digest} for file, digest in report.beside]
    return {**known, "files": beside} if beside else known


def record_of_faults(faults: Sequence[Fault], tool_version: str, file: str) -> Record:
    """The record of a sheet that could not be inspected: its faults, and nothing said of anything else."""
    nothing = ("packs", "findings", "figures", "sign_offs", "suspects", "ledger", "concessions", "remarks")
    return Record.of(
        {
            "specrules": HEADER,
            "tool": {"version": tool_version, "plugins": ()},
            "sheet": {"title": None, "file": file, "sha256": None},
            **dict.fromkeys(("seal", "decision", "until", "asked", "held_by", "sure", "at_least")),
            "whole": True,
            "verdict": NOT_INSPECTED,
            "evidence": Extent(0, 0, 0, 0),
            "waiting": None,
            "figures_hold_by": None,
            "counts": dict.fromkeys(Verdict, 0),
            **dict.fromkeys(nothing, ()),
            "readings": None,
            "work_done": None,
            "lies": None,
            "assumed": {},
            "faults": list(map(_fault, faults)),
        }
    )


def record_for(
    file: str,
    examined: Examination | None,
    faults: Sequence[Fault],
    tool_version: str,
    plugins: Sequence[str] = (),
    whole: bool = True,
) -> Record:
    """The record of a sheet that was judged, with every reading, or of the faults that kept it from being so. whole:
    with what is worked out on demand, which takes longer than all the rest."""
    if examined is None:
        return record_of_faults(faults, tool_version, file)
    return record_of(
        examined.report, examined.whole if whole else None, tool_version, faults, examined.readings(), plugins
    )


def _key(finding: Finding) -> tuple[object, ...]:
    return finding.rule, *finding.station.items()


def _relaxation(entry: Relaxation) -> Parts:
    asked = {"was": was(entry), "now": now(entry), "said": told(entry)}
    return named_alike(entry, RelaxationRecord, **asked, file=entry.place.file, line=entry.place.line or None)


def _picture(named: Picture) -> Parts:
    found = named.found._asdict() if named.found else dict.fromkeys(PictureFile._fields)
    shows = [each._asdict() for each in named.shows]
    return {"file": named.file, "line": named.place.line or None, "shows": shows, **found}


def _fault(wrong: Fault) -> Parts:
    at = {"file": wrong.place.file, "line": wrong.place.line or None, "column": wrong.place.column or None}
    return named_alike(wrong, FaultRecord, **at, sentence=wrong.sentence())
