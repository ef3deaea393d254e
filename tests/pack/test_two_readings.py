"""The quick reading of a file's shape and the thorough one, which tells what is wrong, must never disagree."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from specrules.document import Fields, Items, Node, Text, read
from specrules.document.text import fields_at, items_at
from specrules.pack.entry import Entry, taken
from specrules.pack.leaves import NOTHING
from specrules.pack.model import pack_file
from specrules.pack.thorough import model_of, wrong
from specrules.sheet.model import SheetFile
from tests.pack.small_packs import BASE

DEMO = Path(__file__).parents[2] / "specrules" / "demo" / "carousel.sheet.yaml"
SOUND: dict[str, tuple[type[Entry], str]] = {
    "pack": (pack_file(), BASE),
    "sheet": (SheetFile, DEMO.read_text(encoding="utf-8")),
}
WORDS = st.sampled_from(["", "yes", "none", "a", "not a name", "limits", "name", "reason", "2.4990", "base", "0", "é"])


def tree_of(text: str) -> Fields:
    """The tree of a file that has no fault."""
    tree, faults = read(text, "a.yaml")
    assert tree is not None
    assert not faults
    return tree


def without_empty(node: Node) -> Node:
    """A form's empty cells are taken out before its shape is looked at."""
    if isinstance(node, Fields):
        made = fields_at(node.place)
        made.update({key: without_empty(value) for key, value in node.items() if value != ""})
        return made
    return node


def agreed(entry: type[Entry], tree: Node) -> bool:
    """Whether both take the tree, or neither does; and what both take, they take for the same."""
    quick, told = taken(entry, tree), wrong(entry, tree)
    if quick is None or told:
        return quick is None and bool(told)
    return same(quick, model_of(entry).model_validate(tree))  # type: ignore[arg-type]  # a class can be hashed


def same(quick: Any, thorough: Any) -> bool:
    if isinstance(quick, Entry):
        return all(same(value, getattr(thorough, name)) for name, value in quick.items())
    if isinstance(quick, dict):
        return list(quick) == list(thorough) and all(same(each, thorough[key]) for key, each in quick.items())
    if isinstance(quick, tuple):
        return len(quick) == len(thorough) and all(map(same, quick, thorough))
    return bool(quick == thorough)


def nodes(node: Node, path: tuple[int | str, ...] = ()) -> Iterator[tuple[int | str, ...]]:
    """The path to every node of a tree."""
    yield path
    if isinstance(node, Fields):
        for key, value in node.items():
            yield from nodes(value, (*path, key))
    elif isinstance(node, Items):
        for number, item in enumerate(node):
            yield from nodes(item, (*path, number))


def put(tree: Node, path: tuple[int | str, ...], new: Node | None, key: str | None) -> Node:
    """The tree with another node at a path, under another key there, or with nothing there."""
    if not path:
        return tree if new is None else new
    step, rest = path[0], path[1:]
    if isinstance(tree, Items):
        listed = items_at(tree.place)
        for number, item in enumerate(tree):
            if number != step:
                listed.append(item)
            elif rest or new is not None:
                listed.append(put(item, rest, new, key))
        return listed
    assert isinstance(tree, Fields)
    made = fields_at(tree.place)
    for name, value in tree.items():
        if name != step:
            made[name] = value
        elif rest:
            made[name] = put(value, rest, new, key)
        elif new is not None:
            made[name if key is None else Text(key)] = new
    return made


def filled(kind: type[Fields] | type[Items], inner: Any) -> Node:
    if kind is Items:
        listed = items_at(NOTHING.place)
        listed.extend(inner)
        return listed
    made = fields_at(NOTHING.place)
    made.update({Text(key): value for key, value in inner.items()})
    return made


TREES = st.recursive(
    WORDS.map(Text),
    lambda inner: (
        st.lists(inner, max_size=3).map(lambda some: filled(Items, some))
        | st.dictionaries(WORDS, inner, max_size=3).map(lambda some: filled(Fields, some))
    ),
    max_leaves=6,
)


@pytest.mark.parametrize("kind", SOUND)
def test_both_take_a_sound_file(kind: str) -> None:
    entry, text = SOUND[kind]
    tree = without_empty(tree_of(text))
    assert taken(entry, tree) is not None
    assert agreed(entry, tree)


@pytest.mark.parametrize("kind", SOUND)
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_both_say_the_same_of_a_broken_file(kind: str, data: st.DataObject) -> None:
    """Hazard: a quick way in that lets pass what the thorough one would have refused."""
    entry, text = SOUND[kind]
    tree: Node = without_empty(tree_of(text))
    for _ in range(data.draw(st.integers(1, 3))):
        path = data.draw(st.sampled_from(list(nodes(tree))))
        tree = put(tree, path, data.draw(st.none() | TREES), data.draw(st.none() | WORDS))
    assert agreed(entry, tree)


@settings(max_examples=150, deadline=None)
@given(tree=TREES)
def test_both_say_the_same_of_anything(tree: Node) -> None:
    assert agreed(pack_file(), tree)
    assert agreed(SheetFile, tree)
