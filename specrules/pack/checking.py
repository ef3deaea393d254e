"""One run of a model over a placed tree: what pydantic finds becomes faults, each at its place, in our own words."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

from specrules.document import Fault, Fields, Items, Node, Place, Text, shown
from specrules.document.place import Kind
from specrules.pack.entry import SomeEntry, taken
from specrules.pack.leaves import YES_NO, kind_of
from specrules.quantity import nearest

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails

_NAMELESS = ("pack", "hold points", "build")  # sections whose keys mean nothing without the section's name

_SECTION = 2  # keys down to a section of what is amended, or to a thing in a section
_AMENDING = ("reason", "retire")

MOST_FAULTS = 100
"""Nobody reads more at once, and a hostile file could have a million."""

_YES_NO_MEANT = {"true": "yes", "y": "yes", "on": "yes", "false": "no", "n": "no", "off": "no"} | {w: w for w in YES_NO}


def checked(
    entry: type[SomeEntry],
    tree: Node,
    kind: Kind = "pack",
    within: tuple[str, ...] = (),
    unamendable: Collection[str] = (),
) -> tuple[SomeEntry | None, tuple[Fault, ...]]:
    """The tree as that entry, or every fault of its shape. Never raises for any tree.

    `within` says which part of a file the tree is, as its keys from the top; `unamendable` are keys that nothing
    under `amend` may have, though they are keys of the thing itself.
    """
    made = taken(entry, tree)
    if made is not None:
        return made, ()
    from specrules.pack.thorough import wrong  # pydantic: loaded for the files that are at fault

    found = wrong(entry, tree)
    faults = [_fault(each, tree, kind, within, unamendable) for each in found[:MOST_FAULTS]]
    mistyped = {(*each["loc"][:-1], fault.write) for each, fault in zip(found, faults, strict=False) if fault.write}
    told = (
        f for each, f in zip(found, faults, strict=False) if each["type"] != "missing" or each["loc"] not in mistyped
    )
    return None, tuple(dict.fromkeys(told))


class Spot(NamedTuple):
    """A node that a path leads to: the nearest one that exists, its key where it has one, and names on the way."""

    node: Node
    key: Text | None
    words: tuple[str, ...]

    @property
    def place(self) -> Place:
        """Where a reader looks for it: at its key."""
        return self.key.place if self.key is not None else self.node.place


def spot(tree: Node, path: tuple[int | str, ...]) -> Spot:
    """Follow a path as far as it goes; steps that are not in the tree are no part of what was written."""
    node, key, words = tree, None, []
    for step in path:
        if isinstance(node, Fields) and step in node:
            key = next(each for each in node if each == step)
            node = node[key]
            words.append(str(key))
        elif isinstance(node, Items) and isinstance(step, int) and step < len(node):
            node, key = node[step], None
            name = node.get(Text("name")) if isinstance(node, Fields) else None
            words.append(str(name) if isinstance(name, Text) else str(step + 1))
    return Spot(node, key, tuple(words))


def subject(words: tuple[str, ...]) -> str:
    """What a fault is about: the thing's own name and where in it, without the section that holds it."""
    inside = words[1:] if words[:1] == ("amend",) and len(words) > 1 else words
    return " ".join(inside[1:] if len(inside) > 1 and inside[0] not in _NAMELESS else inside)


def _fault(error: ErrorDetails, tree: Node, kind: Kind, within: tuple[str, ...], unamendable: Collection[str]) -> Fault:
    path, context, what = error["loc"], error.get("ctx", {}), error["type"]
    at = spot(tree, path)
    words = within + at.words
    if what == "extra_forbidden":
        key = str(path[-1])
        if path[0] == "amend" and key in unamendable:
            return Fault(at.place, subject(words[:-1]), f"{shown(key)} cannot be amended", "", kind)
        keys = context["keys"]
        section = context["section"]
        write = f"it under {section}" if section else nearest(key, keys)
        if path[0] == "amend" and len(path) == _SECTION:
            write = write or f"{key} under the section that it is of, such as rules"
        elif path[0] != "amend" and len(path) > _SECTION and key in _AMENDING:
            write = f"{path[1]} under amend, {path[0]}, if it changes what another pack has"
        return Fault(
            at.place, subject(words[:-1]), f"{shown(key)} is no key here", write or f"one of {', '.join(keys)}", kind
        )
    if what == "missing":
        about = f" ({context['about']})" if context.get("about") else ""
        return Fault(at.place, subject(words), f"has no {shown(str(path[-1]))}{about}", "", kind)
    if path[-1:] == ("[key]",):
        return Fault(at.place, subject(words[:-1]), *_said(what, context, at.key or at.node), kind)
    return Fault(at.node.place, subject(words), *_said(what, context, at.node), kind)


def _said(error: str, context: Mapping[str, Any], node: Node) -> tuple[str, str]:
    """What is wrong with a value, and what to write."""
    match error:
        case "empty":
            return "has no value", "a value, or leave the key out"
        case "not_a_word":
            return not_a_word(context["text"], context["words"])
        case "not_a_name":
            said = f"{shown(context['text'])} cannot be a name: letters, digits and _, not a digit first"
            return said, nearest_name(context["text"])
        case "not_text":
            return f"has {_found(node)} where a text belongs", ""
        case "not_mapping":
            return f"has {_found(node)} where a mapping belongs", f"keys such as {', '.join(context['keys'][:4])}"
        case "dict_type" | "is_instance_of":
            return f"has {_found(node)} where a mapping belongs", ""
        case "tuple_type":
            return f"has {_found(node)} where a list belongs", ""
    return f"has {_found(node)}, which does not belong here", ""


def not_a_word(text: str, words: tuple[str, ...]) -> tuple[str, str]:
    """What is said of a text that is none of some words, and which of them may be meant."""
    if words == YES_NO:
        return f"{shown(text)} is neither yes nor no", _YES_NO_MEANT.get(text.lower(), "")
    if len(words) == 1:
        return f"{shown(text)} is not {words[0]}", words[0]
    return f"{shown(text)} is none of {', '.join(words)}", nearest(text, words) or ""


def _found(node: Node) -> str:
    if isinstance(node, Text):
        return shown(node) if node else "nothing"
    return kind_of(node)


def nearest_name(text: str) -> str:
    """A name that can stand in a formula, made of a text that cannot."""
    made = "_".join("".join(c if c.isascii() and c.isalnum() else " " for c in text).split())
    return f"_{made}" if made[:1].isdigit() else made
