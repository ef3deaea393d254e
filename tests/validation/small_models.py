"""A small model of a file with every kind of thing that models hold, and trees for it."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from specrules.document import Fields, Text, read
from specrules.validation import FileModel
from specrules.validation.texts import (
    NOTHING,
    ONE_OF_THEM,
    Day,
    Entered,
    Free,
    Leaf,
    Name,
    Names,
    Prose,
    YesNo,
    filled_text,
    keyed,
    one_of,
    refused,
)
from specrules.vocabulary import Code

FILE = "a.yaml"

GOOD = """\
title: Small
kind: round
parts:
  first: {size: 2, wet: yes, made on: 2026-10-02}
  second: 3
notes: [{text: one}, {text: two, by: me}]
needs: first
cells: {a: ['', x]}
free: {any: [thing]}
"""


def _no_semicolon(node: object) -> Text:
    text = filled_text(node)
    if ";" in text:
        raise refused(Code.NOT_A_CHOICE, "has a semicolon", text.replace(";", "."), text.index(";"))
    return text


class Part(FileModel):
    """A part."""

    size: Annotated[Text, Leaf(_no_semicolon, {"type": "string"})] = Field(description="how large it is")
    wet: YesNo = Field(NOTHING, description="whether it is wet")
    made_on: Day = Field(None, description="the day it was made")


class Note(FileModel):
    """A note."""

    text: Prose = Field(description="what it says")
    by: Prose = Field(NOTHING, description="who says it")


class Small(FileModel):
    """The whole of a file."""

    title: Prose = Field(description="what it is")
    kind: Annotated[Text, one_of("round", "square")] = Field(description="its kind")
    parts: dict[Name, Annotated[Part, keyed("size")]] = Field(default_factory=dict, description="its parts, by name")
    notes: Annotated[tuple[Note, ...], ONE_OF_THEM] = Field((), description="what to know")
    needs: Names = Field((), description="parts that it needs")
    cells: dict[Entered, Annotated[tuple[Entered, ...], Field(min_length=1)]] = Field(
        default_factory=dict, description="texts, empty ones too"
    )
    free: Free | None = Field(None, description="anything")


def tree_of(text: str) -> Fields:
    """The tree of a text that is sound YAML."""
    tree, faults = read(text, FILE)
    assert tree is not None
    assert faults == ()
    return tree
