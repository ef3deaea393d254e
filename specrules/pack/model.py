"""The shape of a tolerance pack's file: which keys it may have, what each holds. Meaning is checked elsewhere."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import Annotated, Any

from pydantic import Field, create_model
from pydantic.fields import FieldInfo

from specrules.document import Text
from specrules.pack.entries import (
    AxisEntry,
    FactEntry,
    FigureEntry,
    GaugeClassEntry,
    HeadEntry,
    MeasurandEntry,
    OperationEntry,
    SignOffEntry,
)
from specrules.pack.leaves import NOTHING, Entry, Leaf, Name, Prose, YesNo
from specrules.pack.lesson_entries import ExerciseEntry, LessonEntry
from specrules.pack.rule_entries import RuleEntry

HEADER = "tolerance-pack/1"


class Amendment(Entry):
    """What every amendment has."""

    reason: Prose = Field(description="why this pack differs")
    retire: YesNo = Field(NOTHING, description="yes: the thing is dropped")


FIXED = ("each", "formula", "unit")
"""What no amendment may touch: it would be another thing under the same name."""


@cache
def amended(entry: type[Entry]) -> type[Entry]:
    """The model of an amendment to such an entry: any part of it, and the reason."""
    fields: dict[str, Any] = {}
    for name, info in entry.model_fields.items():
        if name not in FIXED:
            default = NOTHING if info.is_required() else info.default
            fields[name] = (info.annotation, FieldInfo.merge_field_infos(info, default=default))
    made: type[Entry] = create_model(f"Amended{entry.__name__}", __base__=Amendment, __doc__=entry.__doc__, **fields)
    return made


SECTIONS: dict[str, type[Entry]] = {
    "axes": AxisEntry,
    "facts": FactEntry,
    "gauge classes": GaugeClassEntry,
    "measurands": MeasurandEntry,
    "figures": FigureEntry,
    "sign-offs": SignOffEntry,
    "rules": RuleEntry,
    "operations": OperationEntry,
    "lessons": LessonEntry,
    "exercises": ExerciseEntry,
}
"""Each section that holds named things, and what one of them is."""


def _sections(about: str, entries: Mapping[str, type[Entry]]) -> dict[str, Any]:
    """A field for each section: its things by name."""
    made: dict[str, Any] = {}
    for key, entry in entries.items():
        name: Any = Prose if key == "gauge classes" else Name
        held: Any = dict.__class_getitem__((name, entry))
        made[re.sub("[ -]", "_", key)] = (held, Field({}, alias=key, description=f"{about} {key}, by name"))
    return made


class FileEntry(Entry):
    """What every file of a pack has, besides its sections."""

    specrules: Annotated[Text, Leaf(words=(HEADER,))] = Field(description="what this file is")
    group: Prose = Field(NOTHING, description="the heading that this file's rules print under")
    pack: HeadEntry | None = Field(None, description="what the pack says of itself, in one file of it")
    hold_points: tuple[Name, ...] = Field((), description="hold points, in order")


@cache
def pack_file() -> type[FileEntry]:
    """The model of a file. It is large, and made only where a file is read and not merely loaded."""
    amendable = {key: amended(entry) for key, entry in SECTIONS.items() if key != "axes"}
    amends: Any = create_model(
        "Amends",
        __base__=Entry,
        __doc__="What a pack changes in the packs that it builds on.",
        **_sections("changes to", amendable),
    )
    return create_model(
        "PackFile",
        __base__=FileEntry,
        __doc__="A tolerance pack, or one file of a pack that is a folder.",
        **_sections("its", SECTIONS),
        amend=(amends | None, Field(None, description="changes to what it builds on, each with a reason")),
    )
