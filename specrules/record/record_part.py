"""What all parts of a record have in common: their keys, their strictness, and the kinds of value that they share."""

from functools import lru_cache
from typing import Annotated, Any, NamedTuple

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from specrules.document.safe import safe
from specrules.validation.base import spaced
from specrules.vocabulary import IMPORTANCES, SIDES, SOURCE_KINDS, Why


class RecordPart(BaseModel):
    """A mapping of the record, whose keys are the names here with blanks. It is built when it is first used."""

    model_config = ConfigDict(
        frozen=True,
        strict=True,
        extra="forbid",
        allow_inf_nan=False,
        alias_generator=spaced,
        validate_by_alias=True,
        validate_by_name=True,
        hide_input_in_errors=True,
        defer_build=True,
    )


class OneOf(NamedTuple):
    """Says of a text that it is one of these words."""

    words: tuple[str, ...]

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """As pydantic asks for it."""
        return core_schema.literal_schema(list(self.words))


_safe = lru_cache(maxsize=4096)(safe)  # most of a record's texts stand in it often


def _harmless(text: Any) -> Any:
    return _safe(text) if isinstance(text, str) else text


SafeText = Annotated[str, BeforeValidator(_harmless)]
"""A text in which nothing steers who reads it; before it is seen to be a text, for a lone surrogate makes it none."""
Label = int | SafeText
StationRecord = dict[SafeText, Label]
Pair = tuple[float | None, float | None]
Importance = Annotated[str, OneOf(IMPORTANCES)]
Side = Annotated[str, OneOf(SIDES)]
Line = Annotated[int, Field(ge=1)]
Sha256 = Annotated[str, Field(pattern="^[0-9a-f]{64}$")]

AT = "the station, by axis"
UNIT = "the unit of its numbers"
BEYOND = "how far beyond the limit, at the least"
GROUP = "the heading that it prints under"
HOLD = "the hold point that waits for it"
IF_WHOLE = "; null where the record is not whole"
WHOLE = "; null also where the record is not whole"


class ReasonRecord(RecordPart):
    """Why something is what it is: a code for programs, a sentence for readers."""

    code: Why | None = Field(description="which reason it is; null in a record that was of version 1")
    names: tuple[SafeText, ...] = Field(description="what it is about: a fact, a measurand, a way, a pack …")
    labels: tuple[SafeText, ...] = Field(description="the station, or what each of the names is there")
    text: SafeText | None = Field(description="words of a pack or a sheet")
    said: SafeText = Field(description="all of this for a reader")


class SourceRecord(RecordPart):
    """Where the limits come from; what is not known is left out."""

    kind: Annotated[str, OneOf(SOURCE_KINDS)] = Field(description="how far it may be trusted")
    note: SafeText | None = Field(default=None, description="what to know about it")
    document: SafeText | None = Field(default=None, description="title of the published document")
    edition: SafeText | None = Field(default=None, description="its edition or year")
    page: SafeText | None = Field(default=None, description="its page")
    clause: SafeText | None = Field(default=None, description="its clause, table or figure")


class SuspectRecord(RecordPart):
    """A reading that looks like a slip of the hand."""

    name: SafeText = Field(description="what was measured")
    station: StationRecord | None = Field(
        description="the station by axis; null only in a record that was of version 1, which did not always know it"
    )
    position: StationRecord | None = Field(description="the place on the part, by axis; null for the whole station")
    labels: tuple[Label, ...] = Field(description="the labels of station and position, in order")
    kind: SafeText = Field(description="which slip it looks like")
    said: SafeText = Field(description="what is odd about it")
    text: SafeText = Field(description="the reading as written")
    would_be: float | None = Field(description="the reading with the slip undone, where that can be known")
    unit: SafeText = Field(description=UNIT)
    neighbours: tuple[SafeText, ...] = Field(description="the readings that it was held against, as written")
    line: Line | None = Field(description="its line in the sheet")
