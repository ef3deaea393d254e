"""What all parts of a record have in common: their keys, their strictness, and the kinds of value that they share."""

from collections.abc import Callable
from decimal import ROUND_HALF_EVEN, Context, Decimal
from functools import lru_cache
from math import isfinite
from typing import Annotated, Any, Self

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from specrules.document.safe_text import safe
from specrules.quantity import Unit
from specrules.validation.base import spaced
from specrules.vocabulary import IMPORTANCES, SIDES, SOURCE_KINDS, Why


class RecordPart(BaseModel):
    """A mapping of the record, whose keys are the names here with blanks. It is built when it is first used."""

    model_config = ConfigDict(
        frozen=True,
        from_attributes=True,
        extra="forbid",
        allow_inf_nan=False,
        alias_generator=spaced,
        validate_by_alias=True,
        validate_by_name=True,
        hide_input_in_errors=True,
        defer_build=True,
    )

    @classmethod
    def of(cls, thing: object) -> Self:
        """The record of a thing whose attributes are named as the fields here."""
        return cls.model_validate(thing, by_alias=False, by_name=True)


_safe = lru_cache(maxsize=4096)(safe)  # most of a record's texts stand in it often
_SHORT = Context(prec=12, rounding=ROUND_HALF_EVEN, Emin=-9999, Emax=9999)


def harmless(text: Any) -> Any:
    """A text with nothing in it that steers who reads it, in place of a text; the symbol in place of a unit."""
    if isinstance(text, Unit):
        text = text.symbol
    return _safe(text) if isinstance(text, str) else text


def number(value: Any) -> Any:
    """A JSON number in place of a decimal, rounded to 12 digits; no NaN, no infinity, never -0.0.

    None where nothing is known, and where the number is too large for the numbers that readers of JSON have.
    """
    if not isinstance(value, Decimal):
        return value
    made = float(_SHORT.plus(value))
    return (made or 0.0) if isfinite(made) else None


def label(text: Any) -> Any:
    """A label of a numbered axis as a number."""
    counts = isinstance(text, str) and text.isascii() and text.isdecimal() and not text.startswith("0")
    return int(text) if counts else text


def _or_none(given: Any) -> Any:
    return given or None


class Checked:
    """Says of a kind of value how it is checked; pydantic would work the same out anew for each of the many fields."""

    def __init__(self, schema: CoreSchema) -> None:
        self.schema = schema

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """As pydantic asks for it."""
        return self.schema


def _made(make: Callable[[Any], Any], schema: CoreSchema) -> CoreSchema:
    return core_schema.no_info_before_validator_function(make, schema)


def one_of(*words: str) -> Checked:
    """Says of a text that it is one of these words."""
    return Checked(core_schema.literal_schema(list(words)))


_TEXT = _made(harmless, core_schema.str_schema())
_LABEL = _made(label, core_schema.union_schema([core_schema.int_schema(), _TEXT]))
_STATION = core_schema.dict_schema(_TEXT, _LABEL)
_AMOUNT = _made(number, core_schema.nullable_schema(core_schema.float_schema(allow_inf_nan=False)))

SafeText = Annotated[str, Checked(_TEXT)]
"""A text in which nothing steers who reads it; before it is seen to be a text, for a lone surrogate makes it none."""
SomeText = Annotated[str | None, Checked(_made(_or_none, core_schema.nullable_schema(_TEXT)))]
"""Null where there is no text."""
Amount = Annotated[float | None, Checked(_AMOUNT)]
"""Null where the number is not known."""
Label = Annotated[int | str, Checked(_LABEL)]
StationRecord = Annotated[dict[str, int | str], Checked(_STATION)]
Pair = Annotated[tuple[float | None, float | None], Checked(core_schema.tuple_schema([_AMOUNT, _AMOUNT]))]
Importance = Annotated[str, one_of(*IMPORTANCES)]
Side = Annotated[str, one_of(*SIDES)]
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
    text: SomeText = Field(description="words of a pack or a sheet")
    said: SafeText = Field(description="all of this for a reader")


class SourceRecord(RecordPart):
    """Where the limits come from; what is not known is left out."""

    kind: Annotated[str, one_of(*SOURCE_KINDS)] = Field(description="how far it may be trusted")
    note: SomeText = Field(default=None, description="what to know about it")
    document: SomeText = Field(default=None, description="title of the published document")
    edition: SomeText = Field(default=None, description="its edition or year")
    page: SomeText = Field(default=None, description="its page")
    clause: SomeText = Field(default=None, description="its clause, table or figure")


class SuspectRecord(RecordPart):
    """A reading that looks like a slip of the hand."""

    name: SafeText = Field(description="what was measured")
    station: StationRecord | None = Field(
        description="the station by axis; null only in a record that was of version 1, which did not always know it"
    )
    position: StationRecord | None = Field(description="the place on the part, by axis; null for the whole station")
    labels: tuple[Label, ...] = Field(description="the labels of station and position, in order")
    kind: SafeText = Field(description="which slip it looks like")
    reason: ReasonRecord = Field(description="what is odd about it")
    text: SafeText = Field(description="the reading as written")
    would_be: Amount = Field(description="the reading with the slip undone, where that can be known")
    unit: SafeText = Field(description=UNIT)
    neighbours: tuple[SafeText, ...] = Field(description="the readings that it was held against, as written")
    line: Line | None = Field(description="its line in the sheet")
    confirmed: SomeText = Field(default=None, description="by whom it was read again and found right")
    as_stated: SomeText = Field(default=None, description="the fact, measurand or rule that bears it out")
