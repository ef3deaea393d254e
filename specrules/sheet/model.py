"""The shape of a build sheet's file: which keys it may have, what each holds. Meaning is settled against a stack."""

from typing import Annotated

from specrules.document import Text
from specrules.document.text import fields_at
from specrules.pack.entry import Entry, part
from specrules.pack.leaves import (
    NOTHING,
    Free,
    Labels,
    Leaf,
    Name,
    Names,
    Prose,
    Proses,
    Short,
    Written,
    YesNo,
    listed,
)
from specrules.pack.rule_entries import LineEntry, lines_of

HEADER = "build-sheet/1"

_DAY = "year first, as 2026-10-02"
_AT = "the stations it is about, by axis; left out: all of them"
At = dict[Name, Labels]
_NONE = fields_at(NOTHING.place)


class BuildEntry(Entry):
    """What is being built, for whom, by whom."""

    title: Prose = part(NOTHING, description="what is being built, for a reader")
    job: Prose = part(NOTHING, description="the shop's number for the job")
    serial: Prose = part(NOTHING, description="the number stamped on it")
    customer: Prose = part(NOTHING, description="for whom")
    builder: Prose = part(NOTHING, description="by whom")
    date: Written = part(NOTHING, description=f"the day, {_DAY}")


class ZeroEntry(Entry):
    """A gauge tried on a standard."""

    standard: Written = part(NOTHING, description="the size of the standard, such as 2.0000 in")
    reads: Written = part(NOTHING, description="what the gauge reads on it")


class GaugeEntry(Entry):
    """A gauge that readings of this sheet were taken with."""

    gauge_class: Prose = part(NOTHING, key="class", description="its kind, as the packs name it")
    resolution: Written = part(NOTHING, description="the smallest step that it shows")
    mpe: Written = part(NOTHING, description="its maximum permissible error, with its unit")
    repeatability: Written = part(NOTHING, description="one standard deviation of its readings of the same thing")
    zero: ZeroEntry | None = part(None, description="what it read on a standard; the difference is taken off")
    set_with: Prose = part(NOTHING, description="the gauge that it was set with, whose error it then shares")
    checked: Written = part(NOTHING, description=f"the day it was last checked, {_DAY}")


class WorkEntry(Entry):
    """Work that was done on the parts."""

    operation: Name = part(description="the operation, as the packs name it")
    on: Written = part(NOTHING, description=f"the day, {_DAY}")
    at: At = part({}, description=_AT)
    restated: Names = part((), description="facts that this work changed and that are stated here as they are since")


class SignatureEntry(Entry):
    """A sign-off, answered."""

    by: Prose = part(description="who answers for it")
    on: Written = part(NOTHING, description=f"the day, {_DAY}")
    answer: YesNo = part(NOTHING, description="yes where it is left out")
    at: At = part({}, description=_AT)
    after: Names = part((), description="operations of the same day that it was given after")


class ConcessionEntry(Entry):
    """Written permission to use a part that is out of spec."""

    rule: Name = part(description="the rule that the part does not meet")
    at: At = part({}, description=_AT)
    reason: Prose = part(description="why it may be used all the same")
    by: Prose = part(description="who permits it")
    on: Written = part(NOTHING, description=f"the day, {_DAY}")


class OwnLine(LineEntry):
    """One line of the maker's own limits."""

    name: Prose = part(NOTHING, description="a name for the line, if it needs one")


_Limits = Annotated[
    tuple[OwnLine, ...] | None, Short(lines_of, lambda _: {"anyOf": [{"const": "none"}, {"type": "object"}]})
]
_Signatures = Annotated[tuple[SignatureEntry, ...], Short(listed, lambda whole: whole["items"])]
_Works = Annotated[tuple[WorkEntry, ...], Short(listed, lambda whole: whole["items"])]
_Concessions = Annotated[tuple[ConcessionEntry, ...], Short(listed, lambda whole: whole["items"])]


class SheetFile(Entry):
    """A build sheet: one build's facts, readings and signatures."""

    specrules: Annotated[Text, Leaf(words=(HEADER,))] = part(description="what this file is")
    build: BuildEntry | None = part(None, description="what is being built")
    packs: Proses = part((), description="tolerance packs; each brings in what it builds on")
    unit: Prose = part(NOTHING, description="what a bare number of length means: in or mm")
    decision: Prose = part(NOTHING, description="the decision rule that is asked for")
    part_temperature: Written = part(NOTHING, description="the temperature of the parts, where a set does not say it")
    gauge_temperature: Written = part(NOTHING, description="and of the gauges; where left out, that of the parts")
    facts: Free = part(_NONE, description="what is stated, not measured")
    gauges: dict[Prose, GaugeEntry] = part({}, description="the gauges used, by a name of your own")
    readings: Free = part(_NONE, description="what was measured")
    limits: dict[Name, _Limits] = part({}, description="the part maker's own limits, by rule")
    work_done: _Works = part((), description="work that makes earlier readings stale")
    signed: dict[Name, _Signatures] = part({}, description="sign-offs given, by name")
    concessions: _Concessions = part((), description="permissions to use parts that are out of spec")
