"""Taking values of one kind out of a placed mapping; whatever is otherwise is told at its place."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from typing import TypeVar

from specrules.document import Fault, Fields, Items, Node, Place, Text, shown
from specrules.quantity import Refusal, Unit, find_unit, nearest

_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_WHAT = {Text: "a text", Items: "a list", Fields: "a mapping"}
Kind = TypeVar("Kind", Text, Items, Fields)


class Taker:
    """Reads one file's values; what is wrong joins `faults`."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def fault(self, place: Place, subject: str, said: str, write: str = "") -> None:
        """Something is wrong at this place."""
        self.faults.append(Fault(place, subject.strip(), said, write, "file"))

    def headed(self, tree: Fields, header: str, what: str) -> bool:
        """Whether the file says of itself that it is what it should be."""
        found = tree.get(Text("specrules"))
        if found is None:
            said = f"this file does not say that it is a {what}"
            self.fault(tree.place, "", said, f"specrules: {header} on its first line")
        elif found != header:
            has = shown(found) if isinstance(found, Text) else "this"
            self.fault(found.place, "specrules", f"{has} is no {what} that is known here", header)
        return found == header

    def known(self, fields: Fields, keys: Sequence[str], subject: str = "") -> None:
        """Every key is one of these."""
        for key in fields:
            if key not in keys:
                write = nearest(key, keys) or f"one of {', '.join(keys)}"
                self.fault(key.place, subject, f"{shown(key)} is no key here", write)

    def get(self, fields: Fields, key: str, kind: type[Kind], about: str, under: str = "") -> Kind | None:
        """The value of a key that must be there, of that kind and not empty."""
        found = fields.get(Text(key))
        if found is None or found == "":
            place = fields.place if found is None else found.place
            self.fault(place, under, f'has no "{key}" ({about})')
            return None
        return self.of_kind(found, kind, f"{under}{key}")

    def of_kind(self, node: Node, kind: type[Kind], subject: str) -> Kind | None:
        """The node itself where it is of that kind and not empty."""
        if isinstance(node, kind) and node:
            return node
        has = "nothing" if not node else shown(node) if isinstance(node, Text) else _WHAT[type(node)]
        self.fault(node.place, subject, f"has {has} where {_WHAT[kind]} belongs")
        return None

    def unit(self, text: Text | None) -> Unit | None:
        """The unit of that name."""
        if text is None:
            return None
        found = find_unit(text)
        if isinstance(found, Refusal):
            self.fault(text.place, "unit", f"{shown(text)} {found.said}", found.write)
            return None
        return found

    def day(self, node: Node | None) -> date | None:
        """A day written year first; None where nothing is written."""
        text = self.of_kind(node, Text, "date") if node is not None and node != "" else None
        if text is None:
            return None
        if not _DAY.fullmatch(text):
            said = f"{shown(text)} is no date as sheets write them"
            self.fault(text.place, "date", said, "it year first: 2026-10-02")
            return None
        try:
            return date.fromisoformat(text)
        except ValueError:
            self.fault(text.place, "date", f"there is no day {shown(text)}")
        return None


def placed(text: Text, at: int) -> Place:
    """The place of the character `at` of a text that stands as it is; else where the text starts."""
    start, end = text.span
    as_it_is = end - start == len(text) + 2 * text.quoted
    return text.place._replace(column=text.place.column + at + text.quoted) if as_it_is else text.place
