"""What continuous integration is told of a sheet: each check, sign-off and fault, and what comes of it for the job.

Such a run ends green or red, as the command ends with status 0 or another. What stops the job FAILS; what the hold
point asked for waits for, and nobody can decide yet, is UNDECIDED, which is never green; what else is not good holds
nothing up and is SET_ASIDE. So all are GOOD or SET_ASIDE where the status is 0, and some FAILS where it is 1.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum
from typing import NamedTuple

from specrules.output.recorded_limits import in_full
from specrules.output.verdicts import TELLING
from specrules.output.words import many, place
from specrules.record import FaultRecord, FindingRecord, InputRecord, Record, SignOffRecord
from specrules.vocabulary import INSIDE


class JobOutcome(Enum):
    """What comes of one check for the job."""

    GOOD = "good"
    FAILS = "stops the job"
    UNDECIDED = "waited for, and not decided"
    SET_ASIDE = "not good, and holds nothing up"


class Item(NamedTuple):
    """One check at one station. `of`: the rule, sign-off or "sheet"; `state`: its verdict; `told`: in sentences."""

    of: str
    title: str
    outcome: JobOutcome
    state: str
    told: tuple[str, ...] = ()


def items(record: Record) -> Iterator[Item]:
    """All that is asked of a sheet, in the order of its record."""
    faults = [fault for fault in record.faults if not beside(fault)]
    yield from (Item("sheet", "can be judged", JobOutcome.UNDECIDED, "at fault", (fault.sentence,)) for fault in faults)
    yield from (_of_finding(finding, record.sheet.file or "") for finding in record.findings)
    yield from map(_of_sign_off, record.sign_offs)
    if not faults:
        yield _enough(record)


def beside(fault: FaultRecord) -> bool:
    """Whether a fault changes no verdict: that of a plugin that was set aside, or of a picture."""
    return fault.kind in ("plugin", "picture")


def pointed_at(finding: FindingRecord) -> list[InputRecord]:
    """The readings and facts behind a finding, those in doubt first."""
    doubted = {(each.name, each.text) for each in finding.rests_on.suspect}
    return sorted(finding.inputs or (), key=lambda each: (each.name, each.text) not in doubted)


def _of_finding(finding: FindingRecord, file: str) -> Item:
    at = place(finding.station)
    title = f"{finding.title}, {at}" if at else finding.title
    read = [f"Line {each.line} of {each.file or file}." for each in pointed_at(finding)[:1] if each.line]
    told = tuple(filter(None, (in_full(finding), finding.because, finding.remedy, finding.caution, *read)))
    if finding.holds:
        outcome = JobOutcome.FAILS
    elif finding.verdict in INSIDE:
        outcome, told = JobOutcome.GOOD, told[:1] if TELLING[finding.verdict].gauge else ()
    else:
        outcome = JobOutcome.UNDECIDED if finding.open else JobOutcome.SET_ASIDE
    return Item(finding.rule, title, outcome, finding.verdict.value, told)


def _of_sign_off(of: SignOffRecord) -> Item:
    outcome = JobOutcome.SET_ASIDE
    if of.state == "signed":
        return Item(of.name, of.question, JobOutcome.GOOD, of.state)
    if of.open:
        outcome = JobOutcome.FAILS if of.state == "answered no" else JobOutcome.UNDECIDED
    at = ", ".join(map(place, of.missing_at))
    told = f"{of.question} {of.state}{f' at {at}' if at else ''}."
    return Item(of.name, of.question, outcome, of.state, tuple(filter(None, (told, of.because))))


def _enough(record: Record) -> Item:
    """Nothing judged is no go, however much of it is good."""
    judged, asked = record.evidence.judged, max(1, record.at_least or 0)
    told = f"{many(judged, 'check')} of {record.evidence.apply} judged, and at least {asked} asked for."
    enough = judged >= asked
    if enough:
        return Item("sheet", "enough is judged", JobOutcome.GOOD, "enough")
    return Item("sheet", "enough is judged", JobOutcome.UNDECIDED, "too little judged", (told,))
