"""One finding as the JSON record has it: every number in the finding's unit, and all that it stands on."""

from __future__ import annotations

from decimal import Decimal

from specrules.inspection import (
    Beside,
    Finding,
    Input,
    Limits,
    RestsOn,
    SideMargin,
    StepOutcome,
    statement,
)
from specrules.output.reasons import said
from specrules.output.record_parts import Axes, Json, difference, line, number, station, suspect
from specrules.output.words import sentence
from specrules.pack import Source
from specrules.quantity import Unit


def finding_record(finding: Finding, axes: Axes, file: str, holds: bool) -> Json:
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
        "value": number(finding.value, unit),
        "between": _between(finding),
        "range": [number(end, unit) for end in finding.range] if finding.range else None,
        "unit": unit.symbol,
        "U": difference(finding.U, unit),
        "limits": _limits(finding.limits, unit),
        "beyond": difference(finding.beyond, unit),
        "beyond at most": difference(finding.beyond_at_most, unit),
        "margins": {margin.side: _margin(margin, unit) for margin in finding.margins},
        "conformance": None if finding.conformance is None else round(finding.conformance, 6),
        "conformance approximate": not finding.conformance_normal,
        "budget": [{"cause": row.what, "u": difference(Decimal(f"{row.u:.12g}"), unit)} for row in finding.budget],
        "gauge cannot decide": _unable(finding),
        "way": finding.way or None,
        "other ways": [
            {"way": o.way, "value": number(o.value, unit), "U": difference(o.U, unit), "agrees": o.agrees}
            for o in finding.other_ways
        ],
        "formula": finding.formula,
        "worked": finding.worked or None,
        "inputs": [_input(each, file) for each in finding.inputs],
        "rests on": _rests_on(finding.rests_on, axes),
        "beside": [_beside(each, unit) for each in finding.beside],
        "importance": finding.importance,
        "hold point": finding.hold_point or None,
        "holds": holds,
        "conceded": finding.conceded,
        "because": finding.because or None,
        "remedy": _remedy(finding),
        "steps": [_step(each, unit) for each in finding.steps],
        "caution": finding.caution or None,
        "does not test": finding.does_not_test or None,
        "notes": list(map(said, finding.notes)),
        "source": _source(finding.source),
    }


def _remedy(finding: Finding) -> str | None:
    """What to do, in words: one of the steps, or else what stands for when none is enough."""
    steps = "; or ".join(step.do.rstrip(".; ") for step in finding.steps)
    return " ".join(sentence(text) for text in (steps, finding.otherwise) if text) or None


def _unable(finding: Finding) -> Json | None:
    unable = finding.unable
    if unable is None:
        return None
    return {"measurand": unable.measurand, "gauge": unable.gauge or None, "could": list(unable.could)}


def _between(finding: Finding) -> list[float | None] | None:
    """What is sure of a value that is no single number."""
    if finding.value is not None or (finding.low is None and finding.high is None):
        return None
    return [number(finding.low, finding.unit), number(finding.high, finding.unit)]


def _limits(limits: Limits, unit: Unit) -> Json:
    return {
        "least": number(limits.least, unit),
        "aim": number(limits.aim, unit),
        "most": number(limits.most, unit),
        "wear least": number(limits.wear_least, unit),
        "wear most": number(limits.wear_most, unit),
        "worn": list(limits.worn),
        "from sheet": limits.from_sheet,
    }


def _margin(margin: SideMargin, unit: Unit) -> list[float | None]:
    return [difference(margin.value, unit), difference(margin.U, unit)]


def _input(each: Input, file: str) -> Json:
    unit = each.unit
    made: Json = {"name": each.name, "station": station(each.station), "position": station(each.position)}
    if each.low is not None and each.low == each.high:
        made["value"] = number(each.value, unit)
    else:
        made |= {"value": None, "low": number(each.low, unit), "high": number(each.high, unit)}
    made |= {
        "unit": unit.symbol,
        "U": difference(each.U, unit),
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


def _beside(beside: Beside, unit: Unit) -> Json:
    return {
        "pack": beside.pack,
        "verdict": str(beside.verdict),
        "side": beside.side or None,
        "beyond": difference(beside.beyond, unit),
        "limits": _limits(beside.limits, unit),
    }


def _step(step: StepOutcome, unit: Unit) -> Json:
    return {
        "do": step.do,
        "value": number(step.value, unit),
        "verdict": None if step.verdict is None else str(step.verdict),
        "side": step.side or None,
        "beyond": difference(step.beyond, unit),
    }


def _source(source: Source) -> Json:
    """The source with what is known of it."""
    parts = ("note", "document", "edition", "page", "clause")
    return {"kind": source.kind, **{part: text for part in parts if (text := getattr(source, part))}}
