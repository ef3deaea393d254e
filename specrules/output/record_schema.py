"""The record as a whole, for its schema: what stands around the findings. No inspection needs this module."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import ConfigDict, Field
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from specrules.output.record import HEADER, NOT_INSPECTED
from specrules.output.record_model import (
    GROUP,
    HOLD,
    Figure,
    Finding,
    Importance,
    Line,
    Part,
    Sha256,
    Side,
    Slip,
    Station,
    words,
)
from specrules.validation.editors import DIALECT, ForEditors, Schema
from specrules.vocabulary import Verdict


def _one_for_each(keys: list[str]) -> Schema:
    """Every one of these keys, each with a number of things."""
    numbers = {key: {"description": f"how many are {key}", "type": "integer", "minimum": 0} for key in keys}
    return {"properties": numbers, "required": keys, "additionalProperties": False}


class Tool(Part):
    """What wrote the record."""

    version: str = Field(description="its version")


class Sheet(Part):
    """The sheet, and what it says of the build."""

    title: str | None = Field(description="what is being built")
    job: str | None = Field(None, description="the shop's number for the job")
    serial: str | None = Field(None, description="the number stamped on it")
    customer: str | None = Field(None, description="for whom")
    builder: str | None = Field(None, description="by whom")
    date: str | None = Field(None, description="the day, as written")
    file: str | None = Field(description="its file")
    sha256: Sha256 | None = Field(description="the hash of its bytes; null where they could not be read")


class Pack(Part):
    """A pack that was judged by."""

    name: str = Field(description="its name")
    version: str = Field(description="its version")
    title: str = Field(description="what it is, for a reader")
    caution: str | None = Field(description="what to know before using it")
    builds_on: list[str] = Field(description="the packs that it builds on")
    sets: dict[str, str] = Field(description="facts that using it implies")
    sha256: Sha256 = Field(description="the hash of its files")


class SignOff(Part):
    """A check that a named person answers, as the sheet has it."""

    name: str = Field(description="its name in its pack")
    question: str = Field(description="what is answered yes or no")
    group: str | None = Field(description=GROUP)
    hold_point: str | None = Field(description=HOLD)
    importance: Importance = Field(description="how grave it is")
    state: Literal["signed", "missing", "answered no", "stale", "not applicable"] = Field(description="how it stands")
    by: str | None = Field(description="who answered")
    on: str | None = Field(description="when")
    missing_at: list[Station] = Field(description="the stations that lack it; none listed: all of them alike")
    because: str | None = Field(description="what happens otherwise")
    caution: str | None = Field(description="what to know when answering")


class Loosened(Part):
    """A limit that a pack widens against what it builds on."""

    rule: str = Field(description="the rule")
    pack: str = Field(description="the pack")
    side: Side = Field(description="the limit")
    stations: list[Station] = Field(description="where")
    reason: str | None = Field(description="why, in the pack's words")


class Concession(Part):
    """Written permission to use what is out of spec."""

    rule: str = Field(description="the rule")
    reason: str = Field(description="why it may be used all the same")
    by: str = Field(description="who permits it")
    used_at: list[Station] = Field(description="where something needed it")
    line: Line | None = Field(description="its line in the sheet")


class Fault(Part):
    """Something wrong in what was given."""

    kind: Literal["sheet", "pack", "plugin", "file", "program"] = Field(description="what is at fault")
    file: str | None = Field(description="the file")
    line: Line | None = Field(description="the line, from 1; null where it is the whole file")
    column: Line | None = Field(description="the character in the line, from 1")
    subject: str | None = Field(description="what it is about")
    said: str = Field(description="what is wrong")
    write: str | None = Field(description="what to write instead, where that can be known")
    sentence: str = Field(description="all of this for a reader")


class Record(Part):
    """All that came of one sheet, every rule at every station listed; or why nothing could come of it."""

    model_config = ConfigDict(title="Inspection record")

    specrules: Annotated[str, Field(json_schema_extra={"const": HEADER})] = Field(description="what this file is")
    tool: Tool = Field(description="what wrote it")
    sheet: Sheet = Field(description="the sheet and its build")
    packs: list[Pack] = Field(description="the packs judged by, weakest first")
    decision: str | None = Field(description="the decision rule in force")
    until: str | None = Field(description="the hold point asked for")
    held_by: Importance | None = Field(description="the least importance that stops the job")
    sure: bool | None = Field(description="whether just in stops the job too")
    verdict: Annotated[str, Field(json_schema_extra=words("held", "open", "clear", NOT_INSPECTED))] = Field(
        description="held: something stops the job; open: something is not settled; clear: go on"
    )
    counts: dict[Verdict, int] = Field(
        description="how many findings have each verdict; every verdict is there",
        json_schema_extra=_one_for_each([str(verdict) for verdict in Verdict]),
    )
    findings: list[Finding] = Field(description="every rule at every station")
    figures: list[Figure] = Field(description="every figure at every station")
    sign_offs: list[SignOff] = Field(alias="sign-offs", description="every sign-off")
    suspects: list[Slip] = Field(description="readings that look like a slip by themselves")
    loosened: list[Loosened] = Field(description="limits that a pack widened")
    concessions: list[Concession] = Field(description="permissions that the sheet records")
    assumed: dict[str, str] = Field(description="counts that nobody stated, as the readings give them")
    remarks: list[str] = Field(description="what else there is to say")
    faults: list[Fault] = Field(description="what is wrong in the sheet, a pack or a plugin")


class _RecordSchema(ForEditors):
    """Null is written in a record, where a person would leave the key out."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        return GenerateJsonSchema.nullable_schema(self, schema)


def record_schema() -> Schema:
    """The JSON Schema of a record."""
    return {"$schema": DIALECT, **Record.model_json_schema(schema_generator=_RecordSchema)}
