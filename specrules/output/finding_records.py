"""From a finding to its record, as what the record's model reads: it takes all that has the same name as it is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from functools import lru_cache
from typing import Any

from specrules.inspection import Earlier, Finding, Input, RestsOn, WholeFinding, statement
from specrules.inspection.digits import places_of
from specrules.output.reasons import said, slip_name
from specrules.output.telling import done, in_words
from specrules.output.words import sentence
from specrules.pack import Source
from specrules.record import FindingRecord, InputRecord, ReasonRecord, RestsOnRecord, SourceRecord, SuspectRecord
from specrules.record.finding_record import GaugeFigureRecord
from specrules.record.record_part import RecordPart
from specrules.sheet import Suspect
from specrules.vocabulary import Reason

Parts = dict[str, Any]
"""The parts of a record by the names of its fields."""

_LIKE_IT = [name for name in FindingRecord.model_fields if hasattr(Finding, name)]
_DETAILS = [name for name in FindingRecord.model_fields if hasattr(WholeFinding, name) and not hasattr(Finding, name)]
_ON_DEMAND = dict.fromkeys((*_DETAILS, "conformance_approximate", "remedy"))
_SOMETIMES = ("state", "taken", "earlier")
_INPUT = [name for name in InputRecord.model_fields if hasattr(Input, name) and name not in _SOMETIMES]
_RESTS_ON = [name for name in RestsOnRecord.model_fields if hasattr(RestsOn, name) and name != "measured"]
_SUSPECT = [name for name in SuspectRecord.model_fields if hasattr(Suspect, name)]


def finding_parts(
    finding: Finding, details: WholeFinding | None, holds: bool, open_: bool, inputs: InputRecords
) -> Parts:
    """The parts of a finding's record.

    details: the finding whole, None for a record that is not; holds: whether it stops the job; open_: whether it is
    not settled and waited for; inputs: the records of what the sheet has.
    """
    return {
        **_named(finding, _LIKE_IT),
        "said": in_words(finding),
        "places": places_of(finding),
        "statement": statement(finding) or None,
        "between": None if finding.value is not None or finding.low is finding.high is None else _ends(finding),
        "rests_on": _rests_on(finding.rests_on, brief=details is None),
        "holds": holds,
        "open": open_,
        "notes": reason_records(finding.notes),
        "source": _source(finding.source),
        **(_ON_DEMAND if details is None else _details(details, inputs)),
    }


def suspect_parts(suspect: Suspect) -> Parts:
    """The parts of a suspect's record."""
    position = suspect.position
    return {
        **_named(suspect, _SUSPECT),
        "kind": slip_name(suspect.reason),
        "reason": _reason(suspect.reason),
        "station": dict(zip(suspect.at, suspect.station, strict=False)),
        "position": None if position is None else dict(zip(suspect.positions, position, strict=False)),
        "labels": (*suspect.station, *(position or ())),
        "would_be": None if suspect.would_be is None else suspect.unit.from_base(suspect.would_be),
        "line": suspect.place.line or None,
    }


def named_alike(thing: object, model: type[RecordPart], **others: object) -> Parts:
    """The fields of a record as a thing has them, under the same names, but for these others of them."""
    return _named(thing, [name for name in model.model_fields if name not in others]) | others


def _named(thing: object, names: list[str]) -> Parts:
    return {name: getattr(thing, name) for name in names}


def _ends(finding: Finding) -> tuple[Any, Any]:
    return finding.low, finding.high


def _details(finding: WholeFinding, inputs: InputRecords) -> Parts:
    """What is worked out on demand."""
    conformance = finding.conformance
    return {
        **_named(finding, _DETAILS),
        "margins": {margin.side: (margin.value, margin.U) for margin in finding.margins},
        "conformance": None if conformance is None else round(conformance.probability, 6),
        "conformance_approximate": None if conformance is None else conformance.approximate,
        "budget": [{"cause": _reason(row.cause), "u": float(f"{row.u:.12g}")} for row in finding.budget],
        "alternatives": [
            {"how": _reason(each.how), "U": float(f"{each.U:.12g}"), "verdict": each.verdict}
            for each in finding.alternatives
        ],
        "gauge_figures": [
            _gauge_figure(each.gauge, each.figure, each.value, each.unit.symbol, each.source)
            for each in finding.gauge_figures
        ],
        "inputs": list(map(inputs.of, finding.inputs)),
        "remedy": _remedy(finding),
    }


class InputRecords:
    """The records of the inputs of a sheet. Most stand under several findings, and each is made once."""

    def __init__(self, file: str) -> None:
        self.file = file
        self._made: dict[object, InputRecord] = {}

    def of(self, each: Input) -> InputRecord:
        """The record of an input."""
        name, station, position, value, low, high, U, unit, *rest = each
        content = (name, *station.items(), None, *position.items(), value, low, high, U, unit.symbol, *rest)
        made = self._made.get(content)
        if made is None:
            made = self._made[content] = InputRecord.of(_input(each, self.file))
        return made


def _input(each: Input, file: str) -> Parts:
    """An input: its ends stand in it where it is no single number, its file where that is not the sheet, and who
    confirmed it where somebody did."""
    made = _named(each, _INPUT)
    made["line"], made["column"] = each.place.line or None, each.place.column or None
    if each.low is not None and each.low == each.high:
        del made["low"], made["high"]
    if each.expanded is None:
        del made["gauge_error"], made["expanded"]
    if not each.confirmed:
        del made["confirmed"]
    if each.place.file != file:
        made["file"] = each.place.file
    if each.earlier:
        made["earlier"] = list(map(_before, each.earlier))
    return {**made, **_when(each)}


def _before(earlier: Earlier) -> Parts:
    one = earlier.low is not None and earlier.low == earlier.high
    size = {"value": earlier.value} if one else {"value": None, "low": earlier.low, "high": earlier.high}
    return {**size, "moved": earlier.moved, "text": earlier.text, "line": earlier.place.line or None, **_when(earlier)}


def _when(read: Input | Earlier) -> Parts:
    """In which state of the part something was read, and on which day, where that is known."""
    said = {"state": read.state, "taken": str(read.taken or "")}
    return {key: text for key, text in said.items() if text}


def _rests_on(rests_on: RestsOn, brief: bool) -> Parts:
    """brief: whether no inputs stand beside it."""
    return {
        **_named(rests_on, _RESTS_ON),
        "readings": f"{rests_on.found} of {rests_on.asked}",
        "assumed": reason_records(rests_on.assumed),
        "stale": reason_records(rests_on.stale),
        "suspect": list(map(suspect_parts, rests_on.suspect)),
        "missing": reason_records(rests_on.missing),
        "one_statement_for_many": rests_on.group_statement,
        **({"measured": rests_on.measured} if brief else {}),
    }


def _remedy(finding: WholeFinding) -> str | None:
    """What to do, in words: one of the steps, or else what stands for when none is enough."""
    steps = "; or ".join(map(done, finding.steps))
    return " ".join(sentence(text) for text in (steps, finding.otherwise) if text) or None


def reason_records(reasons: Iterable[Reason]) -> tuple[ReasonRecord, ...]:
    """Reasons as a record has them, each with its sentence."""
    return tuple(map(_reason, reasons))


@lru_cache(maxsize=4096)
def _reason(reason: Reason) -> ReasonRecord:
    return ReasonRecord.of({**reason._asdict(), "said": said(reason)})


@lru_cache(maxsize=256)
def _gauge_figure(gauge: str, figure: str, value: Decimal, unit: str, source: Source) -> GaugeFigureRecord:
    short = float(f"{value:.12g}")
    return GaugeFigureRecord(gauge=gauge, figure=figure, value=short, unit=unit, source=_source(source))


@lru_cache(maxsize=256)
def _source(source: Source) -> SourceRecord:
    """The source with what is known of it."""
    known: Mapping[str, str] = {part: text for part, text in source._asdict().items() if text}
    return SourceRecord.of(known)
