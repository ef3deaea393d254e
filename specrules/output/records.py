"""From a report to its record, which lists every rule, so that checked and fine can be told from never checked."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from specrules.document import Fault
from specrules.formula import Station
from specrules.inspection import ConcessionUse, Examination, FigureValue, Loosened, Report, SignOffState, Whole
from specrules.output.finding_records import Recorder, line, number, station, suspect_record
from specrules.output.reasons import said
from specrules.pack import PackHead
from specrules.record import (
    HEADER,
    NOT_INSPECTED,
    ConcessionRecord,
    FaultRecord,
    FigureRecord,
    LoosenedRecord,
    PackRecord,
    Record,
    SheetRecord,
    SignOffRecord,
    StationRecord,
    ToolRecord,
)
from specrules.vocabulary import Verdict


def record_of(report: Report, whole: Whole | None, tool_version: str, faults: Sequence[Fault] = ()) -> Record:
    """The record of a report. whole: finds what is worked out on demand; without it the record is not whole.

    faults: what went wrong beside it, such as a plugin set aside.
    """
    recorder = Recorder(report, whole)
    return Record(
        specrules=HEADER,
        tool=ToolRecord(version=tool_version),
        sheet=SheetRecord(
            title=report.title or None,
            file=report.file or None,
            sha256=report.sha256 or None,
            **report.build,
        ),
        packs=tuple(map(_pack, report.packs)),
        decision=report.decision,
        until=report.until or None,
        held_by=report.options.held_by,
        sure=report.options.sure,
        whole=whole is not None,
        verdict=report.verdict,
        counts={verdict: report.counts.get(verdict, 0) for verdict in Verdict},
        findings=tuple(map(recorder.finding, report.findings)),
        figures=tuple(map(_figure, report.figures)),
        sign_offs=tuple(map(_sign_off, report.sign_offs)),
        suspects=tuple(map(suspect_record, report.suspects)),
        loosened=tuple(map(_loosened, report.loosened)),
        concessions=tuple(map(_concession, report.concessions)),
        assumed=dict(report.assumed),
        remarks=tuple(map(said, report.remarks)),
        faults=tuple(map(_fault, faults)),
    )


def record_of_faults(faults: Sequence[Fault], tool_version: str, file: str, sha256: str = "") -> Record:
    """The record of a sheet that could not be inspected: its faults, and nothing said of anything else."""
    return Record(
        specrules=HEADER,
        tool=ToolRecord(version=tool_version),
        sheet=SheetRecord(title=None, file=file or None, sha256=sha256 or None),
        packs=(),
        decision=None,
        until=None,
        held_by=None,
        sure=None,
        whole=True,
        verdict=NOT_INSPECTED,
        counts=dict.fromkeys(Verdict, 0),
        findings=(),
        figures=(),
        sign_offs=(),
        suspects=(),
        loosened=(),
        concessions=(),
        assumed={},
        remarks=(),
        faults=tuple(map(_fault, faults)),
    )


def record_for(file: str, examined: Examination | None, faults: Sequence[Fault], tool_version: str) -> Record:
    """The whole record of a sheet that was judged, or of the faults that kept it from being so."""
    if examined is None:
        return record_of_faults(faults, tool_version, file)
    return record_of(examined.report, examined.whole, tool_version, faults)


def _pack(pack: PackHead) -> PackRecord:
    return PackRecord(
        name=pack.name,
        version=pack.version,
        title=pack.title,
        caution=pack.caution or None,
        builds_on=pack.builds_on,
        sets=dict(pack.sets),
        sha256=pack.sha256,
    )


def _figure(figure: FigureValue) -> FigureRecord:
    return FigureRecord(
        name=figure.name,
        title=figure.title,
        group=figure.group or None,
        station=station(figure.station),
        value=number(figure.value),
        unit=figure.unit.symbol,
        U=number(figure.U),
        way=figure.way or None,
    )


def _sign_off(check: SignOffState) -> SignOffRecord:
    return SignOffRecord(
        name=check.name,
        question=check.question,
        group=check.group or None,
        hold_point=check.hold_point or None,
        importance=check.importance,
        state=check.state,
        by=check.by or None,
        on=check.on or None,
        missing_at=_stations(check.missing_at),
        because=check.because or None,
        caution=check.caution or None,
    )


def _loosened(limit: Loosened) -> LoosenedRecord:
    return LoosenedRecord(
        rule=limit.rule,
        pack=limit.pack,
        side=limit.side,
        stations=_stations(limit.stations),
        reason=limit.reason or None,
    )


def _concession(use: ConcessionUse) -> ConcessionRecord:
    return ConcessionRecord(
        rule=use.rule, reason=use.reason, by=use.by, used_at=_stations(use.used_at), line=line(use.place.line)
    )


def _fault(wrong: Fault) -> FaultRecord:
    return FaultRecord(
        kind=wrong.kind,
        file=wrong.place.file or None,
        line=line(wrong.place.line),
        column=line(wrong.place.column),
        subject=wrong.subject or None,
        said=wrong.said,
        write=wrong.write or None,
        sentence=wrong.sentence(),
    )


def _stations(stations: Iterable[Station]) -> tuple[StationRecord, ...]:
    return tuple(map(station, stations))
