"""The pictures that a sheet names: files in its folder or below it, and what each of them shows.

Settling knows names and what each shows, and holds each name to lead nowhere but down; a name that can be none is a
fault of the sheet.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from specrules.document import Fault, Fields, Node, Place, Text, shown
from specrules.document.safe_text import safe
from specrules.pack import Specification
from specrules.sheet.faults import fault
from specrules.sheet.sheet_parts import Depicted, Picture, Reading, Signature
from specrules.vocabulary import Code

MOST = 300
"""Pictures of one sheet."""
LONGEST = 200
"""Characters of a picture's name with its folders."""
_SUCH = "a name such as photos/main-3.jpg"


def names_of_pictures(said: Node | Sequence[Text] | None, subject: str, faults: list[Fault]) -> tuple[Text, ...]:
    """The files that are named, one or a list of them, each once; a name that can be none is a fault."""
    names: dict[str, Text] = {}
    for name in (said,) if isinstance(said, Text | Fields) else said or ():
        if not isinstance(name, Text):
            faults.append(fault(name.place, subject, Code.WRONG_SHAPE, "a picture is named in one text", _SUCH))
        elif name in names:
            told = f"{shown(name)} stands here already, on line {names[name].place.line}; keep one of the two"
            faults.append(fault(name.place, subject, Code.DEFINED_TWICE, told))
        elif name and (wrong := _no_name(name)):
            faults.append(fault(name.place, subject, *wrong))
        elif name:
            names[name] = name
    return tuple(names.values())


def _no_name(name: Text) -> tuple[Code, str, str] | None:
    """What is wrong with the name of a picture, whatever lies there: only what is in the sheet's folder, or below it,
    is ever looked for."""
    parts = name.split("/")
    if len(name) > LONGEST:
        return Code.TOO_LONG, f"a picture's name has at most {LONGEST} characters", ""
    if safe(name) != name:
        return Code.UNWANTED_CHARACTER, f"{shown(name)} has a character that nobody sees", _SUCH
    if "\\" in name or ":" in name:
        meant = name.replace("\\", "/")
        whole = ":" in name or _no_name(Text(meant)) is not None
        return Code.NOT_A_NAME, f"{shown(name)} is no picture in the folder of this sheet", _SUCH if whole else meant
    if ".." in parts or name.startswith("/"):
        return Code.NOT_A_NAME, f"{shown(name)} leads out of the folder of this sheet", _SUCH
    if "." in parts or "" in parts:
        meant = "/".join(part for part in parts if part not in ("", "."))
        return Code.NOT_A_NAME, f"{shown(name)} says a folder that is none", meant or _SUCH
    return None


def settle_pictures(
    readings: Iterable[Reading],
    history: Iterable[Reading],
    signed: Mapping[str, Sequence[Signature]],
    spec: Specification,
    faults: list[Fault],
) -> tuple[Picture, ...]:
    """Every picture of a sheet with all that it shows, in the order in which they are first named."""
    mentions: dict[Place, tuple[Text, list[tuple[Reading, bool]]]] = {}
    for replaced, those in ((False, readings), (True, history)):
        for reading in those:
            for name in reading.pictures:
                mentions.setdefault(name.place, (name, []))[1].append((reading, replaced))
    shows = [(name, _read(of, spec)) for name, of in mentions.values()]
    shows += [(name, _signed(each)) for given in signed.values() for each in given for name in each.pictures]
    found: dict[str, list[tuple[Text, Depicted]]] = {}
    for name, what in sorted(shows, key=lambda show: show[0].place):
        found.setdefault(name, []).append((name, what))
    if len(found) > MOST:
        first = [*found.values()][MOST][0][0]
        faults.append(fault(first.place, "pictures", Code.TOO_MANY, f"a sheet has at most {MOST} pictures"))
    return tuple(Picture(name, tuple(what for _, what in of), of[0][0].place) for name, of in found.items())


def _read(of: Sequence[tuple[Reading, bool]], spec: Specification) -> Depicted:
    """What a mention shows: one reading with its position, or the stations of several; of those that still stand, where
    any does."""
    standing = [each for each, replaced in of if not replaced] or [each for each, _ in of]
    reading = standing[0]
    measurand = spec.measurands[reading.name]
    at: dict[str, dict[str, None]] = {}
    for each in standing:
        labels: Iterator[tuple[str, str]] = zip(measurand.at, each.station, strict=True)
        for axis, label in labels:
            at.setdefault(axis, {})[label] = None
    if len(standing) == 1:
        at |= {axis: {label: None} for axis, label in zip(measurand.positions, reading.position or (), strict=False)}
    labelled = {axis: tuple(labels) for axis, labels in at.items()}
    return Depicted("readings", reading.name, labelled, all(replaced for _, replaced in of))


def _signed(signature: Signature) -> Depicted:
    return Depicted("signed", signature.name, signature.at)
