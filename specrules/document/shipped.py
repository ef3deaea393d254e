"""A placed tree as plain lists and numbers, for packs that ship in a form that loads faster than YAML."""

from __future__ import annotations

from typing import Any

from specrules.document.place import Place
from specrules.document.text import Fields, Items, Node, Text


def encode(tree: Fields) -> dict[str, Any]:
    """The tree as JSON can hold it, in the order of the file.

    `texts` are all keys and values, `at` is line and column of each by turns, the column negative if quoted.
    `shape` goes from node to node: 0 is a text; n and -n, followed by line and column, are a mapping of n - 1
    entries and a list of n - 1 items. Spans are left out: a shipped tree is not edited.
    """
    texts: list[str] = []
    at: list[int] = []
    shape: list[int] = []

    def add_text(text: Text) -> None:
        texts.append(str(text))
        at.extend((text.place.line, -text.place.column if text.quoted else text.place.column))

    def add(node: Node) -> None:
        if isinstance(node, Text):
            shape.append(0)
            add_text(node)
        elif isinstance(node, Fields):
            shape.extend((len(node) + 1, node.place.line, node.place.column))
            for key, value in node.items():
                add_text(key)
                add(value)
        else:
            shape.extend((-len(node) - 1, node.place.line, node.place.column))
            for item in node:
                add(item)

    add(tree)
    return {"file": tree.place.file, "texts": texts, "at": at, "shape": shape}


def decode(encoded: dict[str, Any]) -> Fields:
    """The tree that `encode` was given, in about 1 microsecond a node; what comes in is trusted."""
    file = encoded["file"]
    texts = iter(_texts(file, encoded["texts"], encoded["at"]))
    shape = iter(encoded["shape"])

    def fields(size: int) -> Fields:
        made = Fields()
        made.place = Place(file, next(shape), next(shape))
        for _ in range(size):
            key = next(texts)
            kind = next(shape)
            made[key] = next(texts) if kind == 0 else fields(kind - 1) if kind > 0 else items(-kind - 1)
        return made

    def items(size: int) -> Items:
        made = Items()
        made.place = Place(file, next(shape), next(shape))
        for _ in range(size):
            kind = next(shape)
            made.append(next(texts) if kind == 0 else fields(kind - 1) if kind > 0 else items(-kind - 1))
        return made

    return fields(next(shape) - 1)


def _texts(file: str, texts: list[str], at: list[int]) -> list[Text]:
    # The constructors' work written out: this loop is most of what loading the shipped packs costs.
    made: list[Text] = []
    new_text, new_place, nowhere = str.__new__, tuple.__new__, (0, 0)
    for text, line, column in zip(texts, at[::2], at[1::2], strict=True):
        each = new_text(Text, text)
        each.quoted = column < 0
        each.place = new_place(Place, (file, line, abs(column)))
        each.span = nowhere
        made.append(each)
    return made
