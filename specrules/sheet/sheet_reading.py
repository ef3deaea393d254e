"""A build sheet's file to its sections: their shape is checked here, their meaning in `settling`."""

from collections.abc import Mapping
from hashlib import sha256
from types import MappingProxyType
from typing import NamedTuple

from specrules.document import MOST_FAULTS, Fault, Fields, Items, Node, Text, read
from specrules.document.text import fields_at, items_at
from specrules.sheet.faults import fault
from specrules.sheet.register import Register
from specrules.sheet.sheet_model import HEADER, SheetFile
from specrules.validation import and_more, checked, headed
from specrules.validation.base import keys_of
from specrules.vocabulary import Code

FREE = ("facts", "readings")
"""Sections whose names come from the packs; an empty value in them means `open`."""


FACTS = Text("facts")


class RawSheet(NamedTuple):
    """A sheet of the right shape, its words not yet held against any pack.

    `left_out` names sections that were not taken in because they are at fault; a sheet with any is never judged, it
    is only read on for more faults. `fragment`: a part of a sheet inside a pack, where a bare length is in its unit.
    `register`: the shop's gauges, where the sheet says gauges from.
    """

    file: str
    sha256: str
    model: SheetFile
    left_out: frozenset[str] = frozenset()
    fragment: bool = False
    register: Register | None = None

    @property
    def packs(self) -> tuple[str, ...]:
        """The packs that the sheet asks for."""
        return tuple(str(name) for name in self.model.packs)


def read_sheet(source: bytes | str, file: str) -> tuple[RawSheet | None, tuple[Fault, ...]]:
    """A sheet's file. Never raises for any input; every fault of its shape is told in one run.

    Where there are faults and a sheet, settling it tells the rest of the faults; it must not be judged.
    """
    tree, faults = read(source, file)
    if tree is None:
        return None, faults
    raw = source if isinstance(source, bytes) else source.encode("utf-8", "surrogatepass")
    sheet, wrong = read_tree(tree, file, sha256(raw).hexdigest())
    return sheet, tuple(sorted(dict.fromkeys((*faults, *wrong))))


def read_fragment(
    tree: Fields, file: str, assumed: Mapping[str, str] = MappingProxyType({})
) -> tuple[RawSheet | None, tuple[Fault, ...]]:
    """Some sections of a sheet as they stand in a pack's example, without the head of one.

    `assumed`: what its facts are where it states none.
    """
    whole = fields_at(tree.place)
    whole[Text("specrules", tree.place)] = Text(HEADER, tree.place)
    whole.update(tree)
    stated = tree.get(FACTS)
    if assumed and (stated is None or isinstance(stated, Fields)):
        facts = whole[FACTS] = fields_at(tree.place if stated is None else stated.place)
        facts.update({Text(name, tree.place): Text(said, tree.place) for name, said in assumed.items()})
        facts.update(stated or {})
    return read_tree(whole, file, "", fragment=True)


def read_tree(
    tree: Fields, file: str, digest: str, fragment: bool = False
) -> tuple[RawSheet | None, tuple[Fault, ...]]:
    """A placed tree as a sheet; sections that are at fault are left out of it."""
    filled = _filled(tree)
    if (head := _header(filled)) is not None:
        return None, (head,)
    model, _ = checked(SheetFile, filled, "sheet")
    if model is not None:
        return RawSheet(file, digest, model, fragment=fragment), ()
    faults: list[Fault] = []
    sound = fields_at(tree.place)
    past: list[Text] = []
    for key, section in filled.items():
        if len(faults) >= MOST_FAULTS and key not in keys_of(SheetFile):
            past.append(key)
            continue
        alone = fields_at(tree.place)
        alone.update({Text("specrules"): filled[Text("specrules")], key: section})
        _, wrong = checked(SheetFile, alone, "sheet")
        faults.extend(wrong)
        if not wrong:
            sound[key] = section
    faults += [and_more(len(past), key.place, "sheet") for key in past[:1]]
    model, _ = checked(SheetFile, sound, "sheet")
    left_out = frozenset(str(key) for key in filled if key not in sound)
    return (RawSheet(file, digest, model, left_out, fragment) if model else None), tuple(faults)


def _header(tree: Fields) -> Fault | None:
    """What keeps the file from being a sheet at all."""
    found = tree.get(Text("specrules"))
    if isinstance(found, Text) and found.startswith("tolerance-pack/"):
        return fault(found.place, "specrules", Code.WRONG_FILE, "this file is a tolerance pack, not a build sheet")
    return headed(tree, HEADER, "build sheet", "sheet")


def _filled(tree: Fields) -> Fields:
    """The tree without what was left empty: an empty cell of a form says nothing."""
    made = fields_at(tree.place)
    for key, value in tree.items():
        kept = value if key in FREE and isinstance(value, Fields) else _without_empty(value)
        if kept is not None:
            made[key] = kept
    return made


def _without_empty(node: Node) -> Node | None:
    if isinstance(node, Text):
        return node if node else None
    if isinstance(node, Items):
        made = items_at(node.place)
        made.extend(kept for item in node if (kept := _without_empty(item)) is not None)
        return made
    fields = fields_at(node.place)
    fields.update({key: kept for key, value in node.items() if (kept := _without_empty(value)) is not None})
    return fields if fields or not node else None
