"""The shape of an import map: where the readings of a shop's table stand, and what its headings and labels mean."""

from __future__ import annotations

import re
from typing import Annotated, NamedTuple

from pydantic import Field

from specrules.document import Text, shown
from specrules.quantity import Refusal, Unit, find_unit
from specrules.validation import FileModel
from specrules.validation.texts import (
    NOTHING,
    ONE_OF_THEM,
    Entered,
    Label,
    Leaf,
    Name,
    Prose,
    Proses,
    filled_text,
    keyed,
    one_of,
    refused,
)
from specrules.vocabulary import Code

HEADER = "import-map/1"
BY_ROW, BY_COLUMN, BY_BLOCK = "a row a station", "a column a station", "a block a part"
LAYOUTS = (BY_ROW, BY_COLUMN, BY_BLOCK)
DELIMITERS = {"comma": ",", "semicolon": ";", "tab": "\t", "bar": "|"}
ENCODINGS = ("utf-8", "utf-16", "cp1252", "cp1250", "cp850", "cp437", "iso-8859-1", "iso-8859-15", "mac-roman")
MOST_HEADING_LINES = 3
MOST_REPEATS = 20

_SPAN = re.compile(r"([A-Za-z]{1,3}|[1-9][0-9]{0,6})(?:(\.\.)([A-Za-z]{1,3}|[1-9][0-9]{0,6})?)?")


class Span(NamedTuple):
    """Rows or columns from the first to the last, counted from 1; `last` None: to the end."""

    first: int = 1
    last: int | None = None


ALL = Span()


def column_number(name: str) -> int:
    """A column by its letters, A for 1, or by its number."""
    if name.isdigit():
        return int(name)
    number = 0
    for letter in name.upper():
        number = number * 26 + ord(letter) - ord("A") + 1
    return number


def column_letters(number: int) -> str:
    """The letters of a column, counted from 1."""
    letters = ""
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def _span(node: object) -> Span:
    text = filled_text(node)
    found = _SPAN.fullmatch(text)
    if found is None:
        raise refused(Code.NOT_A_RANGE, f"{shown(text)} is no run of rows or columns", "3..20, 3.. or A..F")
    first = column_number(found[1])
    last = column_number(found[3]) if found[3] else None if found[2] else first
    if last is not None and last < first:
        raise refused(Code.WRONG_RANGE, f"{shown(text)} runs from the larger to the smaller")
    return Span(first, last)


def _number_to(most: int) -> Leaf:
    """A whole number from 1 to this."""

    def number(node: object) -> int:
        text = filled_text(node)
        if not (text.isdecimal() and text.isascii() and 1 <= int(text[:3]) <= most):
            raise refused(Code.NOT_WHOLE, f"{shown(text)} is no number from 1 to {most}")
        return int(text)

    return Leaf(number, {"type": "integer"})


def _unit(node: object) -> Unit:
    text = filled_text(node)
    found = find_unit(text)
    if isinstance(found, Refusal):
        raise refused(found.code, f"{shown(text)} {found.said}", found.write)
    return found


OneUnit = Annotated[Unit, Leaf(_unit, {"type": "string"})]
_Run = Annotated[Span, Leaf(_span, {"type": ["string", "integer"]})]


class MappedReading(FileModel):
    """What stands under one heading: which measurand, where on the part, in which unit."""

    measurand: Name = Field(description="as the packs name it")
    at: dict[Name, Label] = Field({}, description="labels that the heading says, by axis, as {plane: front}")
    unit: OneUnit | None = Field(None, description="of figures that do not say theirs, such as in or mm")
    repeat: Annotated[int, _number_to(MOST_REPEATS)] = Field(
        0, description="which of several readings of the same place it is: 1, 2 ..., each under a heading of its own"
    )


class Block(FileModel):
    """How each block says of which part it is."""

    titles: Name = Field(description="the axis whose label the title of each block is, such as main")
    across: Name | None = Field(None, description="the axis whose labels stand beside the title, above the figures")


class ImportMap(FileModel):
    """Where the readings of a table stand, and what its headings and labels mean."""

    specrules: Annotated[Text, one_of(HEADER)] = Field(description="what this file is")
    layout: Annotated[Text, one_of(*LAYOUTS)] = Field(description="how the readings lie")
    worksheet: Prose = Field(NOTHING, description="of a spreadsheet: the one that holds the readings")
    rows: _Run = Field(ALL, description="the rows that are looked at, as 3..20 or 3.., counted from 1")
    columns: _Run = Field(ALL, description="the columns that are looked at, as A..F or 1..6")
    heading_lines: Annotated[int, _number_to(MOST_HEADING_LINES)] = Field(
        1, description="how many rows, or columns where a column is a station, hold the headings"
    )
    decimal: Annotated[Text, one_of("point", "comma")] = Field(Text("point"), description="as the figures have it")
    delimiter: Annotated[Text, one_of(*DELIMITERS)] = Field(Text("comma"), description="between the cells of a line")
    encoding: Annotated[Text, one_of(*ENCODINGS)] = Field(Text("utf-8"), description="of a file of plain text")
    unit: Annotated[tuple[OneUnit, ...], ONE_OF_THEM] = Field(
        (), description="of figures whose heading and cell say none: one for each kind of quantity, as [mm, g]"
    )
    stations: dict[Entered, Name] = Field({}, description="headings of labels: the axis that the labels are of")
    block: Block | None = Field(None, description="of blocks: the axis of their titles, and of what stands beside")
    readings: Annotated[dict[Entered, Annotated[MappedReading, keyed("measurand")]], Field(min_length=1)] = Field(
        description="headings of figures: a measurand, or {measurand: ..., at: {...}, unit: ...}"
    )
    labels: dict[Name, dict[Entered, Label]] = Field(
        {}, description="labels that the table writes in its own way, by axis, as {main: {Front: 1}}"
    )
    left_out: Proses = Field((), description="headings, labels and titles that are passed over")
