"""The shape of a tolerance pack's file: which keys it may have, what each holds. Meaning is checked elsewhere."""

from collections.abc import Mapping
from functools import cache
from types import GenericAlias
from typing import Annotated, Any, get_args

from pydantic import Field, create_model

from specrules.document import Text, shown
from specrules.pack.entries import (
    EXISTS,
    AxisEntry,
    FactEntry,
    FigureEntry,
    GaugeClassEntry,
    HeadEntry,
    MeasurandEntry,
    OperationEntry,
    PartEntry,
    SignOffEntry,
)
from specrules.pack.lesson_entries import ExerciseEntry, LessonEntry
from specrules.pack.line_entries import HOLDS_FOR, Holds
from specrules.pack.rule_entries import MarginEntry, RuleEntry
from specrules.pack.table_entries import SoldEntry, TableEntry
from specrules.validation import FileModel
from specrules.validation.base import fields_of, key_of, keys_of
from specrules.validation.checking import Path, Said
from specrules.validation.texts import NOTHING, Name, Prose, YesNo, one_of
from specrules.vocabulary import Code

HEADER = "tolerance-pack/1"

_THING = 2  # keys down to a thing of a section, or to a section of what is amended


class FileEntry(FileModel):
    """What every file of a pack has, besides its sections."""

    specrules: Annotated[Text, one_of(HEADER)] = Field(description="what this file is")
    group: Prose = Field(NOTHING, description="the heading that this file's rules print under")
    applies_when: Prose = Field(NOTHING, description=f"of all that prints under that heading: {EXISTS}")
    holds_for: Holds = Field(default_factory=dict, description=HOLDS_FOR)
    pack: HeadEntry | None = Field(None, description="what the pack says of itself, in one file of it")
    hold_points: tuple[Name, ...] = Field((), description="hold points, in order")
    margins: tuple[MarginEntry, ...] = Field((), description="rules of packs below that it holds further in")


class OwnSections(FileEntry):
    """What a file of a pack defines: named things, by section."""

    axes: dict[Name, AxisEntry] = Field(default_factory=dict, description="its axes, by name")
    facts: dict[Name, FactEntry] = Field(default_factory=dict, description="its facts, by name")
    tables: dict[Name, TableEntry] = Field(default_factory=dict, description="its tables, by name")
    gauge_classes: dict[Prose, GaugeClassEntry] = Field(default_factory=dict, description="its gauge classes, by name")
    measurands: dict[Name, MeasurandEntry] = Field(default_factory=dict, description="its measurands, by name")
    parts: dict[Name, PartEntry] = Field(default_factory=dict, description="its parts, by name")
    figures: dict[Name, FigureEntry] = Field(default_factory=dict, description="its figures, by name")
    sign_offs: dict[Name, SignOffEntry] = Field(
        default_factory=dict, alias="sign-offs", description="its sign-offs, by name"
    )
    rules: dict[Name, RuleEntry] = Field(default_factory=dict, description="its rules, by name")
    sold: dict[Name, SoldEntry] = Field(default_factory=dict, description="what is sold in sizes, by name")
    operations: dict[Name, OperationEntry] = Field(default_factory=dict, description="its operations, by name")
    lessons: dict[Name, LessonEntry] = Field(default_factory=dict, description="its lessons, by name")
    exercises: dict[Name, ExerciseEntry] = Field(default_factory=dict, description="its exercises, by name")


SECTIONS: Mapping[str, type[FileModel]] = {
    key: get_args(field.annotation)[1] for key, field in fields_of(OwnSections) if key not in keys_of(FileEntry)
}
"""Each section that holds named things, and what one of them is."""


class Reasoned(FileModel):
    """What every amendment has."""

    reason: Prose = Field(description="why this pack differs")


class Amendment(Reasoned):
    """An amendment of what may be dropped too."""

    retire: YesNo = Field(NOTHING, description="yes: the thing is dropped")


FIXED = ("each", "formula", "unit", "keys", "columns", "file")
"""What no amendment may touch: it would be another thing under the same name."""

ADDED_TO = ("names", "kinds", "lies")
"""Of an axis: it may have more labels, and what lies on it stays."""


def amended(model: type[FileModel]) -> type[FileModel]:
    """The model of an amendment to such a thing: any part of it, and the reason."""
    parts: dict[str, Any] = {}
    for name, field in model.model_fields.items():
        if name not in FIXED and (model is not AxisEntry or name in ADDED_TO):
            told = Field(alias=key_of(name, field), description=field.description)
            default = NOTHING if field.is_required() else field.get_default(call_default_factory=True)
            parts[name] = (Annotated[(field.annotation, *field.metadata, told)], default)
    base = Reasoned if model is AxisEntry else Amendment
    return create_model(f"Amended{model.__name__}", __base__=base, __doc__=model.__doc__, **parts)


@cache
def pack_file() -> type[OwnSections]:
    """The model of a whole file, amendments in it. It is large, and made only where a file is validated."""
    for section in SECTIONS.values():
        section.model_rebuild()  # first: each is also asked for by itself, and the whole takes over what is built
    changes: dict[str, Any] = {}
    for name, field in OwnSections.model_fields.items():
        key = key_of(name, field)
        if key in SECTIONS:
            names, model = get_args(field.annotation)
            told: Any = Field(default_factory=dict, alias=key, description=f"changes to {key}, by name")
            changes[name] = (GenericAlias(dict, (names, amended(model))), told)
    about = "What a pack changes in the packs that it builds on."
    amends = create_model("Amends", __base__=FileModel, __doc__=about, **changes)
    amend = Field(None, description="changes to what it builds on, each with a reason")
    about = "A tolerance pack, or one file of a pack that is a folder."
    whole: dict[str, Any] = {"amend": (amends | None, amend)}
    return create_model("PackFile", __base__=OwnSections, __doc__=about, **whole)


def misplaced(path: Path, write: str | None) -> Said | None:
    """What to say of an unknown key that an amendment may not have, or that only an amendment has."""
    key = str(path[-1])
    said = f"{shown(key)} is no key here"
    if path[0] == "amend" and key in FIXED:
        return Code.WRONG_AMENDMENT, f"{shown(key)} cannot be amended", ""
    if path[:2] == ("amend", "axes") and (key == "retire" or key in keys_of(AxisEntry)):
        said = f"{shown(key)} cannot be amended; an axis may have more labels"
        return Code.WRONG_AMENDMENT, said, "names or kinds, or an axis of its own"
    if path[0] == "amend" and len(path) == _THING and write is None:
        return Code.UNKNOWN_KEY, said, f"{key} under the section that it is of, such as rules"
    if path[0] != "amend" and len(path) > _THING and key in Amendment.model_fields:
        return Code.UNKNOWN_KEY, said, f"{path[1]} under amend, {path[0]}, if it changes what another pack has"
    return None
