"""The placed tree: texts, mappings and lists that know where they were written."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeAlias

from specrules.document.place import Place

NOWHERE = Place("", 0, 0)


class Text(str):
    """One key or value as it was written; equal to, and hashed as, the plain string.

    `quoted` is true for anything but bare text. `span` holds offsets of the written form, quotes included,
    in the source's characters (where a byte order mark is a character); (0, 0) when they are not known.
    """

    __slots__ = ("place", "quoted", "span")
    place: Place
    quoted: bool
    span: tuple[int, int]

    def __new__(
        cls, text: str = "", place: Place = NOWHERE, quoted: bool = False, span: tuple[int, int] = (0, 0)
    ) -> Text:
        made = str.__new__(cls, text)
        made.place = place
        made.quoted = quoted
        made.span = span
        return made


class Fields(dict[Text, "Node"]):
    """A mapping in the order in which it was written."""

    __slots__ = ("place",)
    place: Place


class Items(list["Node"]):
    """A list in the order in which it was written."""

    __slots__ = ("place",)
    place: Place


Node: TypeAlias = Text | Fields | Items


def fields_at(place: Place) -> Fields:
    """An empty mapping that stands at `place`."""
    made = Fields()
    made.place = place
    return made


def items_at(place: Place) -> Items:
    """An empty list that stands at `place`."""
    made = Items()
    made.place = place
    return made


def texts_in(node: Node) -> Iterator[Text]:
    """Every key and value in a node, in the order in which they were written."""
    if isinstance(node, Text):
        yield node
        return
    for each in node:
        yield from texts_in(each)
        if isinstance(node, Fields) and isinstance(each, Text):
            yield from texts_in(node[each])


def placed(node: Node, at: int) -> Place:
    """The place of the character `at` of a text that stands on one line as it is; else where the node starts."""
    if not isinstance(node, Text):
        return node.place
    start, end = node.span
    as_it_is = end - start == len(node) + 2 * node.quoted and "\n" not in node
    return node.place._replace(column=node.place.column + at + node.quoted) if as_it_is else node.place
