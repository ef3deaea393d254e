"""From a finding to its record: every number in the finding's unit, and all that it stands on."""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Context, Decimal
from functools import lru_cache
from math import isfinite
from typing import Any

from specrules.formula import Station
from specrules.inspection import (
    Beside,
    Finding,
    Input,
    Limits,
    Report,
    RestsOn,
    StepOutcome,
    Whole,
    WholeFinding,
    statement,
)
from specrules.output.reasons import said, slip_name
from specrules.output.words import sentence
from specrules.pack import Source
from specrules.record import (
    BesideRecord,
    BudgetLineRecord,
    FindingRecord,
    InputRecord,
    Label,
    LimitsRecord,
    MarginsRecord,
    OtherWayRecord,
    Pair,
    ReasonRecord,
    RestsOnRecord,
    SourceRecord,
    StationRecord,
    StepRecord,
    SuspectRecord,
    UnableRecord,
)
from specrules.sheet import Suspect
from specrules.vocabulary import Reason

_SHORT = Context(prec=12, rounding=ROUND_HALF_EVEN, Emin=-9999, Emax=9999)


def number(value: Decimal | None) -> float | None:
    """A JSON number, rounded to 12 digits; no NaN, no infinity, never -0.0.

    None where nothing is known, and where the number is too large for the numbers that readers of JSON have.
    """
    made = None if value is None else float(_SHORT.plus(value))
    return (made or 0.0) if made is not None and isfinite(made) else None


def label(text: str) -> Label:
    """A label of a numbered axis as a number."""
    return int(text) if text.isascii() and text.isdecimal() and not text.startswith("0") else text


def station(where: Station) -> StationRecord:
    """A station, or a position there, by axis."""
    return {axis: label(text) for axis, text in where.items()}


def line(counted: int) -> int | None:
    """A line or a column, counted from 1; None where there is none."""
    return counted if counted > 0 else None


class Recorder:
    """Makes the records of a report's findings; what many findings share is made once."""

    def __init__(self, report: Report, whole: Whole | None) -> None:
        self.file = report.file
        self.held = {_key(finding) for finding in report.held}
        self.whole = whole
        self._limits: dict[int, tuple[Limits, LimitsRecord]] = {}  # by identity, which the Limits kept here stays

    def finding(self, finding: Finding) -> FindingRecord:
        """The record of a finding."""
        details = None if self.whole is None else self.whole(finding)
        return FindingRecord(
            rule=finding.rule,
            title=finding.title,
            group=finding.group or None,
            pack=finding.pack,
            station=station(finding.station),
            verdict=finding.verdict,
            would_be=finding.would_be,
            side=finding.side or None,
            statement=statement(finding) or None,
            value=number(finding.value),
            between=_between(finding),
            range=None if details is None or details.range is None else _pair(*details.range),
            unit=finding.unit.symbol,
            U=number(finding.U),
            limits=self.limits(finding.limits),
            beyond=number(finding.beyond),
            beyond_at_most=number(finding.beyond_at_most),
            margins=None if details is None else _margins(details),
            conformance=None if details is None or details.conformance is None else round(details.conformance, 6),
            conformance_approximate=not finding.conformance_normal,
            budget=None if details is None else _budget(details),
            gauge_cannot_decide=None if details is None else _unable(details),
            way=finding.way or None,
            other_ways=tuple(
                [
                    OtherWayRecord(way=each.way, value=number(each.value), U=number(each.U), agrees=each.agrees)
                    for each in finding.other_ways
                ]
            ),
            formula=finding.formula,
            worked=None if details is None else details.worked or None,
            inputs=None if details is None else tuple(map(self.input, details.inputs)),
            rests_on=self.rests_on(finding.rests_on),
            beside=None if details is None else tuple(map(self.beside, details.beside)),
            importance=finding.importance,
            hold_point=finding.hold_point or None,
            holds=_key(finding) in self.held,
            conceded=finding.conceded,
            because=finding.because or None,
            remedy=None if details is None else _remedy(details),
            steps=None if details is None else tuple(map(_step, details.steps)),
            caution=finding.caution or None,
            does_not_test=finding.does_not_test or None,
            notes=_reasons(finding.notes),
            source=_source(finding.source),
        )

    def limits(self, limits: Limits) -> LimitsRecord:
        """The record of limits; findings that have the same limits have the same record of them."""
        if id(limits) not in self._limits:
            made = LimitsRecord(
                least=number(limits.least),
                aim=number(limits.aim),
                most=number(limits.most),
                wear_least=number(limits.wear_least),
                wear_most=number(limits.wear_most),
                worn=limits.worn,
                from_sheet=limits.from_sheet,
            )
            self._limits[id(limits)] = limits, made
        return self._limits[id(limits)][1]

    def input(self, each: Input) -> InputRecord:
        """The record of an input: with its ends where it is no single number, with its file where not the sheet's."""
        known = each.low is not None and each.low == each.high
        more: dict[str, Any] = {} if known else {"low": number(each.low), "high": number(each.high)}
        if each.place.file != self.file:
            more["file"] = each.place.file
        return InputRecord(
            name=each.name,
            station=station(each.station),
            position=station(each.position),
            value=number(each.value) if known else None,
            unit=each.unit.symbol,
            U=number(each.U),
            gauge=each.gauge or None,
            text=each.text,
            line=line(each.place.line),
            **more,
        )

    def rests_on(self, rests_on: RestsOn) -> RestsOnRecord:
        """The record of what a verdict rests on."""
        return RestsOnRecord(
            readings=f"{rests_on.found} of {rests_on.asked}",
            gauges=rests_on.gauges,
            assumed=_reasons(rests_on.assumed),
            needed_rules=rests_on.needed_rules,
            unsigned=rests_on.unsigned,
            stale=_reasons(rests_on.stale),
            suspect=tuple(map(suspect_record, rests_on.suspect)),
            missing=_reasons(rests_on.missing),
            one_statement_for_many=rests_on.group_statement,
        )

    def beside(self, beside: Beside) -> BesideRecord:
        """The record of what a pack would have said by itself."""
        return BesideRecord(
            pack=beside.pack,
            verdict=beside.verdict,
            side=beside.side or None,
            beyond=number(beside.beyond),
            limits=self.limits(beside.limits),
        )


def suspect_record(suspect: Suspect) -> SuspectRecord:
    """The record of a suspect."""
    return SuspectRecord(
        name=suspect.name,
        station=station(dict(zip(suspect.at, suspect.station, strict=False))),
        position=None
        if suspect.position is None
        else station(dict(zip(suspect.positions, suspect.position, strict=False))),
        labels=tuple(map(label, (*suspect.station, *(suspect.position or ())))),
        kind=slip_name(suspect.reason),
        said=said(suspect.reason),
        text=suspect.text,
        would_be=None if suspect.would_be is None else number(suspect.unit.from_base(suspect.would_be)),
        unit=suspect.unit.symbol,
        neighbours=suspect.neighbours,
        line=line(suspect.place.line),
    )


def _key(finding: Finding) -> tuple[object, ...]:
    return finding.rule, *finding.station.items()


def _pair(first: Decimal | None, second: Decimal | None) -> Pair:
    return number(first), number(second)


def _between(finding: Finding) -> Pair | None:
    """What is sure of a value that is no single number."""
    if finding.value is not None or (finding.low is None and finding.high is None):
        return None
    return _pair(finding.low, finding.high)


def _margins(finding: WholeFinding) -> MarginsRecord:
    return MarginsRecord(**{margin.side: _pair(margin.value, margin.U) for margin in finding.margins})


def _budget(finding: WholeFinding) -> tuple[BudgetLineRecord, ...]:
    return tuple([BudgetLineRecord(cause=said(row.cause), u=float(f"{row.u:.12g}")) for row in finding.budget])


def _unable(finding: WholeFinding) -> UnableRecord | None:
    unable = finding.unable
    if unable is None:
        return None
    return UnableRecord(measurand=unable.measurand, gauge=unable.gauge or None, could=unable.could)


def _remedy(finding: WholeFinding) -> str | None:
    """What to do, in words: one of the steps, or else what stands for when none is enough."""
    steps = "; or ".join(step.do.rstrip(".; ") for step in finding.steps)
    return " ".join(sentence(text) for text in (steps, finding.otherwise) if text) or None


def _step(step: StepOutcome) -> StepRecord:
    return StepRecord(
        do=step.do,
        value=number(step.value),
        verdict=step.verdict,
        side=step.side or None,
        beyond=number(step.beyond),
    )


def _reasons(reasons: tuple[Reason, ...]) -> tuple[ReasonRecord, ...]:
    return tuple(map(_reason, reasons))


@lru_cache(maxsize=1024)
def _reason(reason: Reason) -> ReasonRecord:
    return ReasonRecord(
        code=reason.code,
        names=reason.names,
        labels=reason.labels,
        text=reason.text or None,
        said=said(reason),
    )


@lru_cache(maxsize=256)
def _source(source: Source) -> SourceRecord:
    """The source with what is known of it."""
    parts = ("note", "document", "edition", "page", "clause")
    return SourceRecord(kind=source.kind, **{part: text for part in parts if (text := getattr(source, part))})
