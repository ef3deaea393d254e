"""The shape of a build sheet's file: which keys it may have, what each holds. A specification gives it meaning."""

from typing import Annotated

from pydantic import Field

from specrules.document import Fields, Text
from specrules.document.text import NOWHERE, fields_at
from specrules.pack.gauge_entries import GaugeFigures
from specrules.pack.line_entries import SHORT_LINES, LineEntry
from specrules.pack.work_budget import BUDGET
from specrules.validation import FileModel
from specrules.validation.texts import (
    NOTHING,
    ONE_OF_THEM,
    Free,
    Labels,
    Name,
    Names,
    Prose,
    Proses,
    Written,
    YesNo,
    one_of,
)

HEADER = "build-sheet/1"
REGISTER_HEADER = "gauges/1"

_DAY = "year first, as 2026-10-02"
_AT = "the stations it is about, by axis; left out: all of them"
At = dict[Name, Labels]


def _none() -> Fields:
    return fields_at(NOWHERE)


class BuildEntry(FileModel):
    """What is being built, for whom, by whom."""

    title: Prose = Field(NOTHING, description="what is being built, for a reader")
    job: Prose = Field(NOTHING, description="the shop's number for the job")
    serial: Prose = Field(NOTHING, description="the number stamped on it")
    customer: Prose = Field(NOTHING, description="for whom")
    builder: Prose = Field(NOTHING, description="by whom")
    date: Written = Field(NOTHING, description=f"the day, {_DAY}")


class ZeroEntry(FileModel):
    """A gauge tried on a standard."""

    standard: Written = Field(NOTHING, description="the size of the standard, such as 2.0000 in")
    reads: Written = Field(NOTHING, description="what the gauge reads on it")


class ClassedGauge(FileModel):
    """A gauge of some class."""

    gauge_class: Prose = Field(NOTHING, alias="class", description="its kind, as the packs name it")


class GaugeEntry(GaugeFigures, ClassedGauge):  # in this order its class is its first key
    """A gauge that readings of this sheet were taken with."""

    zero: ZeroEntry | None = Field(None, description="what it read on a standard; the difference is taken off")
    set_with: Prose = Field(NOTHING, description="the gauge that it was set with, whose error it then shares")
    checked: Written = Field(NOTHING, description=f"the day it was last checked, {_DAY}")
    serial: Prose = Field(NOTHING, description="the number stamped on it")
    certificate: Prose = Field(NOTHING, description="the certificate that its figures are from")
    due: Written = Field(NOTHING, description=f"the day until which its certificate holds, {_DAY}")


class WorkEntry(FileModel):
    """Work that was done on the parts."""

    operation: Name = Field(description="the operation, as the packs name it")
    on: Written = Field(NOTHING, description=f"the day, {_DAY}")
    at: At = Field(default_factory=dict, description=_AT)
    restated: Names = Field((), description="facts that this work changed and that are stated here as they are since")


class SignatureEntry(FileModel):
    """A sign-off, answered."""

    by: Prose = Field(description="who answers for it")
    on: Written = Field(NOTHING, description=f"the day, {_DAY}")
    answer: YesNo = Field(NOTHING, description="yes where it is left out")
    at: At = Field(default_factory=dict, description=_AT)
    after: Names = Field((), description="operations of the same day that it was given after")
    pictures: Proses = Field((), description="files that show it, in the folder of this sheet or below it")


class ConcessionEntry(FileModel):
    """Written permission to use a part that is out of spec."""

    rule: Name = Field(description="the rule that the part does not meet")
    at: At = Field(default_factory=dict, description=_AT)
    reason: Prose = Field(description="why it may be used all the same")
    by: Prose = Field(description="who permits it")
    on: Written = Field(NOTHING, description=f"the day, {_DAY}")


class OwnLine(LineEntry):
    """One line of the maker's own limits."""

    name: Prose = Field(NOTHING, description="a name for the line, if it needs one")


_Limits = Annotated[tuple[OwnLine, ...] | None, SHORT_LINES]
_Signatures = Annotated[tuple[SignatureEntry, ...], ONE_OF_THEM]
_Works = Annotated[tuple[WorkEntry, ...], ONE_OF_THEM]
_Concessions = Annotated[tuple[ConcessionEntry, ...], ONE_OF_THEM]


class SheetFile(FileModel):
    """A build sheet: one build's facts, readings and signatures."""

    specrules: Annotated[Text, one_of(HEADER)] = Field(description="what this file is")
    build: BuildEntry | None = Field(None, description="what is being built")
    packs: Proses = Field((), max_length=BUDGET.packs, description="tolerance packs; each brings in what it builds on")
    unit: Prose = Field(NOTHING, description="of bare lengths, in or mm; all else is in its system of units")
    decision: Prose = Field(NOTHING, description="the decision rule that is asked for")
    scope: Proses = Field((), description="the groups that this job covers; left out: all of them")
    until: Name = Field(NOTHING, description="the hold point that this job goes up to; left out: the last")
    part_temperature: Written = Field(NOTHING, description="the temperature of the parts, where a set does not say it")
    gauge_temperature: Written = Field(NOTHING, description="and of the gauges; where left out, that of the parts")
    facts: Free = Field(default_factory=_none, description="what is stated, not measured")
    parts: Free = Field(default_factory=_none, description="which parts are new, reused or machined")
    gauges_from: Prose = Field(NOTHING, description="the shop's register, NAME.gauges.yaml, beside this or above it")
    gauges: dict[Prose, GaugeEntry] = Field(default_factory=dict, description="the gauges used, by a name of your own")
    readings: Free = Field(default_factory=_none, description="what was measured")
    limits: dict[Name, _Limits] = Field(default_factory=dict, description="the part maker's own limits, by rule")
    work_done: _Works = Field((), description="work that makes earlier readings stale")
    signed: dict[Name, _Signatures] = Field(default_factory=dict, description="sign-offs given, by name")
    concessions: _Concessions = Field((), description="permissions to use parts that are out of spec")


class RegisterFile(FileModel):
    """A shop's register of gauges: each written once, for all sheets that say gauges from."""

    specrules: Annotated[Text, one_of(REGISTER_HEADER)] = Field(description="what this file is")
    gauges: dict[Prose, GaugeEntry] = Field(description="the shop's gauges, by the names that sheets call them by")
