"""One finding as the JSON record has it: every number in the finding's unit, and all that it stands on."""

from __future__ import annotations

from decimal import Decimal

from specrules.inspection import (
    Beside,
    Input,
    Limits,
    RestsOn,
    SideMargin,
    StepOutcome,
    WholeFinding,
    statement,
)
from specrules.output.reasons import said
from specrules.output.record_parts import Axes, Json, line, number, station, suspect
from specrules.output.words import sentence
from specrules.pack import Source


def finding_record(finding: WholeFinding, axes: Axes, file: str, holds: bool) -> Json:
    """A finding. file: the sheet's, so that an input from elsewhere says where; holds: whether it stops the job."""
    unit = finding.unit
    return {
        "rule": finding.rule,
        "title": finding.title,
        "group": finding.group or None,
        "pack": finding.pack,
        "station": station(finding.station),
        "verdict": str(finding.verdict),
        "would be": None if finding.would_be is None else str(finding.would_be),
        "side": finding.side or None,
        "statement": statement(finding) or None,
        "value": number(finding.value),
        "between": _between(finding),
        "range": [number(end) for end in finding.range] if finding.range else None,
        "unit": unit.symbol,
        "U": number(finding.U),
        "limits": _limits(finding.limits),
        "beyond": number(finding.beyond),
        "beyond at most": number(finding.beyond_at_most),
        "margins": {margin.side: _margin(margin) for margin in finding.margins},
        "conformance": None if finding.conformance is None else round(finding.conformance, 6),
        "conformance approximate": not finding.conformance_normal,
        "budget": [{"cause": said(row.cause), "u": number(Decimal(f"{row.u:.12g}"))} for row in finding.budget],
        "gauge cannot decide": _unable(finding),
        "way": finding.way or None,
        "other ways": [
            {"way": o.way, "value": number(o.value), "U": number(o.U), "agrees": o.agrees} for o in finding.other_ways
        ],
        "formula": finding.formula,
        "worked": finding.worked or None,
        "inputs": [_input(each, file) for each in finding.inputs],
        "rests on": _rests_on(finding.rests_on, axes),
        "beside": [_beside(each) for each in finding.beside],
        "importance": finding.importance,
        "hold point": finding.hold_point or None,
        "holds": holds,
        "conceded": finding.conceded,
        "because": finding.because or None,
        "remedy": _remedy(finding),
        "steps": [_step(each) for each in finding.steps],
        "caution": finding.caution or None,
        "does not test": finding.does_not_test or None,
        "notes": list(map(said, finding.notes)),
        "source": _source(finding.source),
    }


def _remedy(finding: WholeFinding) -> str | None:
    """What to do, in words: one of the steps, or else what stands for when none is enough."""
    steps = "; or ".join(step.do.rstrip(".; ") for step in finding.steps)
    return " ".join(sentence(text) for text in (steps, finding.otherwise) if text) or None


def _unable(finding: WholeFinding) -> Json | None:
    unable = finding.unable
    if unable is None:
        return None
    return {"measurand": unable.measurand, "gauge": unable.gauge or None, "could": list(unable.could)}


def _between(finding: WholeFinding) -> list[float | None] | None:
    """What is sure of a value that is no single number."""
    if finding.value is not None or (finding.low is None and finding.high is None):
        return None
    return [number(finding.low), number(finding.high)]


def _limits(limits: Limits) -> Json:
    return {
        "least": number(limits.least),
        "aim": number(limits.aim),
        "most": number(limits.most),
        "wear least": number(limits.wear_least),
        "wear most": number(limits.wear_most),
        "worn": list(limits.worn),
        "from sheet": limits.from_sheet,
    }


def _margin(margin: SideMargin) -> list[float | None]:
    return [number(margin.value), number(margin.U)]


def _input(each: Input, file: str) -> Json:
    unit = each.unit
    made: Json = {"name": each.name, "station": station(each.station), "position": station(each.position)}
    if each.low is not None and each.low == each.high:
        made["value"] = number(each.value)
    else:
        made |= {"value": None, "low": number(each.low), "high": number(each.high)}
    made |= {
        "unit": unit.symbol,
        "U": number(each.U),
        "gauge": each.gauge or None,
        "text": each.text,
        "line": line(each.place.line),
    }
    return made if each.place.file == file else {**made, "file": each.place.file}


def _rests_on(rests_on: RestsOn, axes: Axes) -> Json:
    return {
        "readings": f"{rests_on.found} of {rests_on.asked}",
        "gauges": list(rests_on.gauges),
        "assumed": list(map(said, rests_on.assumed)),
        "needed rules": list(rests_on.needed_rules),
        "unsigned": list(rests_on.unsigned),
        "stale": list(map(said, rests_on.stale)),
        "suspect": [suspect(each, axes) for each in rests_on.suspect],
        "missing": list(map(said, rests_on.missing)),
        "one statement for many": rests_on.group_statement,
    }


def _beside(beside: Beside) -> Json:
    return {
        "pack": beside.pack,
        "verdict": str(beside.verdict),
        "side": beside.side or None,
        "beyond": number(beside.beyond),
        "limits": _limits(beside.limits),
    }


def _step(step: StepOutcome) -> Json:
    return {
        "do": step.do,
        "value": number(step.value),
        "verdict": None if step.verdict is None else str(step.verdict),
        "side": step.side or None,
        "beyond": number(step.beyond),
    }


def _source(source: Source) -> Json:
    """The source with what is known of it."""
    parts = ("note", "document", "edition", "page", "clause")
    return {"kind": source.kind, **{part: text for part in parts if (text := getattr(source, part))}}
