"""The record of an inspection, `inspection-record/4`: everything that came of a sheet, for programs and for keeping."""

from collections.abc import Iterator
from typing import Annotated, Any, Literal, Self, get_args

from pydantic import AfterValidator, ConfigDict, Field, model_validator
from pydantic.config import JsonDict

from specrules.document import Kind
from specrules.record.finding_record import ON_DEMAND, FigureRecord, FindingRecord, InputRecord
from specrules.record.record_part import (
    GROUP,
    HOLD,
    Importance,
    Line,
    ReasonRecord,
    RecordPart,
    SafeText,
    Sha256,
    SomeText,
    StationRecord,
    SuspectRecord,
    one_of,
)
from specrules.validation.base import spaced
from specrules.vocabulary import Code, Relaxed, Verdict

Header = Literal["inspection-record/4"]
(HEADER,) = get_args(Header)
SIGN_OFF_STATES = ("signed", "missing", "answered no", "stale", "not applicable")
NOT_BEFORE_3 = "; null in a record that was of version 1 or 2"
Count = Annotated[int, Field(ge=0)]
NOT_INSPECTED = "not inspected"
"""The verdict of a file that could not be read, or whose packs are at fault."""


def _every_verdict(counts: dict[Verdict, int]) -> dict[Verdict, int]:
    lacking = [verdict for verdict in Verdict if verdict not in counts]
    if lacking:
        raise ValueError(f"lacks the count of {', '.join(lacking)}")
    return counts


_A_NUMBER_OF_EACH: JsonDict = {
    "properties": {
        verdict.value: {"description": f"how many are {verdict}", "type": "integer", "minimum": 0}
        for verdict in Verdict
    },
    "required": [verdict.value for verdict in Verdict],
    "additionalProperties": False,
}


class ToolRecord(RecordPart):
    """What wrote the record."""

    version: SafeText = Field(description="its version")
    plugins: tuple[SafeText, ...] = Field(default=(), description="the plugins beside it, each with its version")


class AskedRecord(RecordPart):
    """What whoever asked for the inspection chose over what the sheet says."""

    add: tuple[SafeText, ...] = Field(description="the packs over those that the sheet names")
    decision: SomeText = Field(description="the decision rule; null: as the sheet says, or its packs")
    until: SomeText = Field(description="the hold point; null: as the sheet says, or else the last")


class FileRecord(RecordPart):
    """A file that was read besides a sheet and its packs."""

    file: SafeText = Field(description="its file")
    sha256: Sha256 = Field(description="the hash of its bytes")


class BuildRecord(RecordPart):
    """A build, as its sheet names it, and that sheet."""

    title: SomeText = Field(description="what is being built")
    job: SomeText = Field(default=None, description="the shop's number for the job")
    serial: SomeText = Field(default=None, description="the number stamped on it")
    customer: SomeText = Field(default=None, description="for whom")
    builder: SomeText = Field(default=None, description="by whom")
    date: SomeText = Field(default=None, description="the day, as written")
    file: SomeText = Field(description="its file")


class SheetRecord(BuildRecord):
    """The sheet, and what it says of the build."""

    sha256: Sha256 | None = Field(description="the hash of its bytes; null where they could not be read")
    scope: tuple[SafeText, ...] = Field(
        default=(), description="the headings of rules that it says the job covers; none listed: all of them"
    )
    until: SomeText = Field(default=None, description="the hold point that it asks for; null where it says none")
    files: tuple[FileRecord, ...] = Field(default=(), description="what it names: its shop's register of gauges")


class PackRecord(RecordPart):
    """A pack that was judged by."""

    name: SafeText = Field(description="its name")
    version: SafeText = Field(description="its version")
    title: SafeText = Field(description="what it is, for a reader")
    caution: SomeText = Field(description="what to know before using it")
    builds_on: tuple[SafeText, ...] = Field(description="the packs that it builds on")
    sets: dict[SafeText, SafeText] = Field(description="facts that using it implies")
    sha256: Sha256 = Field(description="the hash of its files")


class SignOffRecord(RecordPart):
    """A check that a named person answers, as the sheet has it."""

    name: SafeText = Field(description="its name in its pack")
    question: SafeText = Field(description="what is answered yes or no")
    group: SomeText = Field(description=GROUP)
    hold_point: SomeText = Field(description=HOLD)
    importance: Importance = Field(description="how grave it is")
    state: Annotated[str, one_of(*SIGN_OFF_STATES)] = Field(description="how it stands")
    open: bool | None = Field(
        default=None,
        description="whether it is lacking, stale or answered no, and the hold point asked for waits for it; null in "
        "older records",
    )
    by: SomeText = Field(description="who answered")
    on: SomeText = Field(description="when")
    missing_at: tuple[StationRecord, ...] = Field(
        description="the stations that lack it; none listed: all of them alike"
    )
    because: SomeText = Field(description="what happens otherwise")
    caution: SomeText = Field(description="what to know when answering")


class EvidenceRecord(RecordPart):
    """How much a verdict on the whole sheet stands on, as far as the hold point asked for."""

    judged: Count = Field(description="rules with a verdict on the part at one station or more")
    apply: Count = Field(description="rules that apply at one station or more, or may")
    readings: Count | None = Field(description="readings behind what was judged" + NOT_BEFORE_3)
    entered: Count | None = Field(description="readings that the sheet has" + NOT_BEFORE_3)


class WantedFactRecord(RecordPart):
    """A fact that figures hold by and that the sheet does not state."""

    name: SafeText = Field(description="its name in its pack")
    title: SafeText = Field(description="what it is, for a reader")
    choices: tuple[SafeText, ...] = Field(description="what may be stated")


class WaitingRecord(RecordPart):
    """What has to be stated before it is known whether the packs' figures hold."""

    facts: tuple[WantedFactRecord, ...] = Field(description="the facts")
    rules: Count = Field(description="how many rules wait for them")


class RelaxationRecord(RecordPart):
    """Something by which a pack asks less than a pack below it, or the sheet than its packs."""

    code: Relaxed = Field(description="what is asked less")
    section: SafeText = Field(description="the section of the pack or the sheet that it is of")
    name: SafeText = Field(description="its name there")
    part: SomeText = Field(description="the key or the limit that differs; null for the whole thing")
    was: SomeText = Field(description="what was asked below; null for nothing, or where the code says it")
    now: SomeText = Field(description="what is asked instead; null likewise")
    pack: SafeText = Field(description="the pack that asks less, this sheet, or whoever asked")
    below: SomeText = Field(description="the pack that asks more" + NOT_BEFORE_3)
    reason: SomeText = Field(description="why, in the pack's words")
    file: SomeText = Field(description="the file that it stands in" + NOT_BEFORE_3)
    line: Line | None = Field(description="its line")
    stations: tuple[StationRecord, ...] = Field(description="where; none listed: wherever it counts")
    said: SafeText = Field(description="all of this for a reader")


class ConcessionRecord(RecordPart):
    """Written permission to use what is out of spec."""

    rule: SafeText = Field(description="the rule")
    reason: SafeText = Field(description="why it may be used all the same")
    by: SafeText = Field(description="who permits it")
    used_at: tuple[StationRecord, ...] = Field(description="where something needed it")
    waits_at: tuple[StationRecord, ...] = Field(default=(), description="where it is needed once something is proven")
    line: Line | None = Field(description="its line in the sheet")


class WorkRecord(RecordPart):
    """Work that was done on the parts, as the sheet has it."""

    operation: SafeText = Field(description="its name in its pack")
    title: SafeText = Field(description="what it is, for a reader")
    on: SomeText = Field(description="the day")
    at: dict[SafeText, tuple[SafeText, ...]] = Field(description="the labels where it was done, by axis; none: all")
    line: Line | None = Field(description="its line in the sheet")


class DepictedRecord(RecordPart):
    """Something that a picture shows."""

    section: Annotated[str, one_of("readings", "signed")] = Field(description="whether it was read or signed")
    name: SafeText = Field(description="what was read, or the sign-off, by its name in its pack")
    at: dict[SafeText, tuple[SafeText, ...]] = Field(description="the labels that it is about, by axis; none: all")
    replaced: bool = Field(description="whether another reading has replaced it")


class PictureRecord(RecordPart):
    """A picture that the sheet names. Nothing of the picture itself is in a record."""

    file: SafeText = Field(description="its file, from the folder of the sheet")
    line: Line | None = Field(description="the line that names it first")
    shows: tuple[DepictedRecord, ...] = Field(description="what it shows")
    sha256: Sha256 | None = Field(description="the hash of its bytes; null where no picture could be taken there")
    size: Count | None = Field(description="how many bytes; null likewise")
    media: SomeText = Field(description="the kind of data, by what is in it, such as image/png; null likewise")
    wide: Count | None = Field(description="pixels across; null likewise")
    high: Count | None = Field(description="pixels from top to bottom; null likewise")


class FaultRecord(RecordPart):
    """Something wrong in what was given."""

    kind: Kind = Field(description="what is at fault")
    code: Code | None = Field(description="the kind of fault; null in one read from version 1")
    file: SomeText = Field(description="the file")
    line: Line | None = Field(description="the line, from 1; null where it is the whole file")
    column: Line | None = Field(description="the character in the line, from 1")
    subject: SomeText = Field(description="what it is about")
    said: SafeText = Field(description="what is wrong")
    write: SomeText = Field(description="what to write instead, where that can be known")
    sentence: SafeText = Field(description="all of this for a reader")


class Record(RecordPart):
    """All that came of one sheet, every rule at every station listed; or why nothing could come of it."""

    model_config = ConfigDict(
        title="Inspection record", alias_generator=lambda name: "sign-offs" if name == "sign_offs" else spaced(name)
    )

    specrules: Header = Field(description="what this file is")
    tool: ToolRecord = Field(description="what wrote it")
    sheet: SheetRecord = Field(description="the sheet and its build")
    packs: tuple[PackRecord, ...] = Field(description="the packs judged by, weakest first")
    seal: Sha256 | None = Field(
        description="the digest of the specification in force: merged limits, conditions, figures of gauges and all "
        "else that packs have judged by, less its words, whatever files it stood in; null where nothing was judged"
        + NOT_BEFORE_3
    )
    decision: SomeText = Field(description="the decision rule in force")
    until: SomeText = Field(description="the hold point asked for, by the command or else the sheet; else the last")
    asked: AskedRecord | None = Field(
        default=None,
        description="what was chosen over what the sheet says; null where nothing was judged, or in older records",
    )
    held_by: Importance | None = Field(description="the least importance that stops the job")
    sure: bool | None = Field(description="whether just in stops the job too")
    at_least: Count | None = Field(description="how many rules had to be judged, if so many were asked for")
    whole: bool = Field(description="whether the findings have the parts that are worked out on demand")
    verdict: Annotated[str, one_of("held", "open", "clear", NOT_INSPECTED)] = Field(
        description="held: something stops the job; open: something is not settled or too little judged; clear: go on"
    )
    evidence: EvidenceRecord = Field(description="how much was judged, on how much")
    waiting: WaitingRecord | None = Field(
        default=None, description="what figures hold by and nobody stated; null where no rule waits for it"
    )
    figures_hold_by: dict[SafeText, SafeText] | None = Field(
        default=None,
        description="the facts by which figures hold, with what the sheet states of them, or a pack implies; null "
        "where nothing was judged, or the record does not know",
    )
    counts: Annotated[dict[Verdict, Annotated[int, Field(ge=0)]], AfterValidator(_every_verdict)] = Field(
        description="how many findings have each verdict; every verdict is there", json_schema_extra=_A_NUMBER_OF_EACH
    )
    findings: tuple[FindingRecord, ...] = Field(description="every rule at every station")
    readings: tuple[InputRecord, ...] | None = Field(
        default=None,
        description="every reading of the sheet that governs, judged or not; null where nothing was judged, where a "
        "record that is not whole leaves them out, or in older records",
    )
    figures: tuple[FigureRecord, ...] = Field(description="every figure at every station")
    sign_offs: tuple[SignOffRecord, ...] = Field(description="every sign-off")
    suspects: tuple[SuspectRecord, ...] = Field(description="readings that look like a slip by themselves")
    ledger: tuple[RelaxationRecord, ...] = Field(
        description="all by which a pack asks less than those below it, or the sheet than its packs; "
        "of records before version 3 the widened limits alone"
    )
    concessions: tuple[ConcessionRecord, ...] = Field(description="permissions that the sheet records")
    work_done: tuple[WorkRecord, ...] | None = Field(
        default=None, description="work that was done on the parts; null where nothing was judged, or in older records"
    )
    lies: dict[SafeText, SafeText] | None = Field(
        default=None, description="by axis how it lies on the part, for drawings; null likewise"
    )
    pictures: tuple[PictureRecord, ...] = Field(default=(), description="pictures that the sheet names")
    assumed: dict[SafeText, SafeText] = Field(description="counts that nobody stated, as the readings give them")
    remarks: tuple[ReasonRecord, ...] = Field(description="what else there is to say")
    faults: tuple[FaultRecord, ...] = Field(description="what is wrong in the sheet, a pack or a plugin")

    @model_validator(mode="after")
    def _as_whole_as_it_says(self) -> Self:
        for number, finding in enumerate(self.findings):
            if any((getattr(finding, part) is None) is self.whole for part in ON_DEMAND):
                raise ValueError(f"its findings are not as whole as it says: finding {number}")
        return self

    def __repr_args__(self) -> Iterator[tuple[str | None, Any]]:
        """What tells one record from another; the whole of one is a million characters."""
        yield from {"file": self.sheet.file, "verdict": self.verdict, "findings": len(self.findings)}.items()
