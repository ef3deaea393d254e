"""Merging on the placed tree, so that every value keeps the file and the line that it came from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from specrules.document import Fields, Items, Node, Text
from specrules.document.text import fields_at, items_at
from specrules.pack.entries import WAY
from specrules.pack.line_entries import lines_of

Path = tuple[str, ...]

WHOLE = frozenset({"source", "holds for"})
"""Mappings that are replaced and never merged: half of one source, or validity, and half of another is none."""

EACH_WHOLE = frozenset({"sources"})
"""Mappings of such ones."""

NOT_PARTS = frozenset({"reason", "retire", "worked"})
"""Keys of an amendment that belong to its own pack, not to the thing that it amends."""


def without(tree: Fields, keys: Iterable[str]) -> Fields:
    """The mapping less some keys."""
    left_out = frozenset(keys)
    made = fields_at(tree.place)
    made.update((key, node) for key, node in tree.items() if key not in left_out)
    return made


def long_form(tree: Fields) -> Fields:
    """A thing with its short forms written out, so that its parts meet those of an amendment."""
    made = fields_at(tree.place)
    for key, node in tree.items():
        if key == "limits":
            made[key] = lines_of(node) or node
        elif key == "ways" and isinstance(node, Fields):
            ways = made[key] = fields_at(node.place)
            ways.update((name, WAY.widen(way)) for name, way in node.items())
        else:
            made[key] = node
    return made


def merged(below: Node, above: Node) -> Node:
    """Mappings merge by key, lists of named things by name, all else replaces; what `retire: yes` names is dropped."""
    if isinstance(below, Fields) and isinstance(above, Fields):
        made = fields_at(above.place)
        keys = {key: key for key in above}
        for key, node in below.items():
            again = above.get(key)
            if again is not None and key not in WHOLE:
                again = _each_whole(node, again) if key in EACH_WHOLE else merged(node, again)
            made[keys.pop(key, key)] = node if again is None else again
        made.update((key, above[key]) for key in keys)
        return made
    if isinstance(below, Items) and isinstance(above, Items) and (names := _named(below)) and (more := _named(above)):
        listed = items_at(above.place)
        for name, node in names.items():
            again = more.pop(name, None)
            if again is None or not retires(again):
                listed.append(node if again is None else merged(node, again))
        listed.extend(more.values())
        return listed
    return above


def retires(node: Node) -> bool:
    """Whether an amendment drops what it names."""
    return isinstance(node, Fields) and node.get(Text("retire")) == "yes"


def _each_whole(below: Node, above: Node) -> Node:
    """What either has, the thing above where both have it."""
    if not (isinstance(below, Fields) and isinstance(above, Fields)):
        return above
    made = without(below, above)
    made.update(above)
    return made


def _named(items: Items) -> dict[str, Node] | None:
    """A list's things by their names; None where one has no name, or two have the same."""
    found: dict[str, Node] = {}
    for item in items:
        name = item.get(Text("name")) if isinstance(item, Fields) else None
        if isinstance(name, Text):
            found[name] = item
    return found if len(found) == len(items) else None


def leaves(tree: Node, path: Path = ()) -> Iterator[tuple[Path, Node]]:
    """Everything that a merge would set one by one: the path to each part, and the part."""
    if isinstance(tree, Fields) and WHOLE.isdisjoint(path[-1:]) and EACH_WHOLE.isdisjoint(path[-2:-1]):
        for key, node in tree.items():
            yield from leaves(node, (*path, str(key)))
    elif isinstance(tree, Items) and (names := _named(tree)):
        for name, node in names.items():
            yield from leaves(node, (*path, name))
    else:
        yield path, tree


def overlap(one: Path, other: Path) -> bool:
    """Whether one of two parts holds the other, or is it."""
    shorter = min(len(one), len(other))
    return one[:shorter] == other[:shorter]
