"""The shape of a tolerance pack's file: which keys it may have, what each holds. Meaning is checked elsewhere."""

import re
from collections.abc import Mapping
from functools import cache
from typing import Annotated

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
from specrules.pack.entry import Entry, Part, entry_of, part
from specrules.pack.leaves import NOTHING, Leaf, Name, Prose, YesNo
from specrules.pack.lesson_entries import ExerciseEntry, LessonEntry
from specrules.pack.rule_entries import RuleEntry

HEADER = "tolerance-pack/1"


class Amendment(Entry):
    """What every amendment has."""

    reason: Prose = part(description="why this pack differs")
    retire: YesNo = part(NOTHING, description="yes: the thing is dropped")


FIXED = ("each", "formula", "unit")
"""What no amendment may touch: it would be another thing under the same name."""


@cache
def amended(entry: type[Entry]) -> type[Entry]:
    """An amendment to such an entry: any part of it, and the reason."""
    parts = {
        name: each._replace(default=NOTHING) if each.required else each
        for name, each in entry.parts.items()
        if name not in FIXED
    }
    return entry_of(f"Amended{entry.__name__}", Amendment, entry.__doc__, parts)


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


def _sections(about: str, entries: Mapping[str, type[Entry]]) -> dict[str, Part]:
    """A part for each section: its things by name."""
    made: dict[str, Part] = {}
    for key, entry in entries.items():
        held = dict.__class_getitem__((Prose if key == "gauge classes" else Name, entry))
        made[re.sub("[ -]", "_", key)] = Part(key, held, {}, f"{about} {key}, by name")
    return made


class FileEntry(Entry):
    """What every file of a pack has, besides its sections."""

    specrules: Annotated[Text, Leaf(words=(HEADER,))] = part(description="what this file is")
    group: Prose = part(NOTHING, description="the heading that this file's rules print under")
    pack: HeadEntry | None = part(None, description="what the pack says of itself, in one file of it")
    hold_points: tuple[Name, ...] = part((), description="hold points, in order")


@cache
def pack_file() -> type[FileEntry]:
    """The whole of a file. It is large, and made only where a file is read and not merely loaded."""
    amendable = {key: amended(entry) for key, entry in SECTIONS.items() if key != "axes"}  # type: ignore[arg-type]  # a class can be hashed
    about = "What a pack changes in the packs that it builds on."
    amends = entry_of("Amends", Entry, about, _sections("changes to", amendable))
    amend = Part("amend", amends | None, None, "changes to what it builds on, each with a reason")
    about = "A tolerance pack, or one file of a pack that is a folder."
    return entry_of("PackFile", FileEntry, about, {**_sections("its", SECTIONS), "amend": amend})
