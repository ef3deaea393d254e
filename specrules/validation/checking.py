"""One run of a model over a placed tree: what pydantic finds becomes faults, each at its place, in our own words."""

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from specrules.document import MOST_FAULTS, Fault, Fields, Items, Node, Place, Text, placed, shown
from specrules.document.place import Kind
from specrules.quantity import nearest
from specrules.validation.base import FileModel, SomeModel, fields_of, keys_of, model_at, section_with
from specrules.validation.texts import YES_NO
from specrules.vocabulary import Code

_NAMELESS = ("pack", "build", "gauge")  # sections whose keys mean nothing without the section's name

_YES_NO_MEANT = {"true": "yes", "y": "yes", "on": "yes", "false": "no", "n": "no", "off": "no"} | {w: w for w in YES_NO}

_MEANT: Mapping[str, tuple[str, ...]] = {
    **dict.fromkeys(("min", "minimum", "low", "lower"), ("least",)),
    **dict.fromkeys(("max", "maximum", "high", "upper"), ("most",)),
    **dict.fromkeys(("target", "nominal", "ideal"), ("aim",)),
    **dict.fromkeys(("bool", "boolean", "flag"), ("yes/no",)),
    **dict.fromkeys(("int", "integer"), ("count",)),
    **dict.fromkeys(("float", "decimal", "ratio"), ("number",)),
    **dict.fromkeys(("length", "size", "mass", "weight", "dimension"), ("quantity",)),
    **dict.fromkeys(("str", "string", "word"), ("text",)),
    **dict.fromkeys(("enum", "option", "options", "values"), ("choice", "choices")),
    **dict.fromkeys(("description", "label"), ("title",)),
    **dict.fromkeys(("reason", "why"), ("because",)),
    **dict.fromkeys(("fix", "action"), ("remedy",)),
    **dict.fromkeys(("examples", "tests"), ("worked",)),
    **dict.fromkeys(("condition", "if"), ("when", "applies when")),
}
"""Words that other files have for what stands here under another."""

Path = tuple[int | str, ...]
Said = tuple[Code, str, str]
"""The kind of fault, what is wrong, and what to write."""

Advice = Callable[[Path, str | None], Said | None]
"""What to say of an unknown key at a path, beside the key that may be meant; None: what is said everywhere."""


def checked(
    model: type[SomeModel],
    tree: Node,
    kind: Kind = "pack",
    within: tuple[str, ...] = (),
    advise: Advice = lambda *_: None,
) -> tuple[SomeModel | None, tuple[Fault, ...]]:
    """The tree as that model, or every fault of its shape. Never raises for any tree.

    `within` says which part of a file the tree is, as its keys from the top.
    """
    try:
        return model.model_validate(tree), ()
    except ValidationError as error:
        every = error.errors(include_url=False, include_input=False)
        found, rest = every[:MOST_FAULTS], every[MOST_FAULTS:]
    faults = [_fault(each, model, tree, kind, within, advise) for each in found]
    mistyped = {(*each["loc"][:-1], fault.write) for each, fault in zip(found, faults, strict=True) if fault.write}
    told = (
        f for each, f in zip(found, faults, strict=True) if each["type"] != "missing" or each["loc"] not in mistyped
    )
    more = (and_more(len(rest), spot(tree, each["loc"]).place, kind) for each in rest[:1])
    return None, tuple(dict.fromkeys((*told, *more)))


def fits(model: type[SomeModel], tree: Node) -> bool:
    """Whether the tree is of the shape of that model."""
    try:
        model.model_validate(tree)
    except ValidationError:
        return False
    return True


def and_more(number: int, place: Place, kind: Kind) -> Fault:
    """What stands for the faults of a file that are past the number told: how many there are, from where on."""
    said = f"here and below {'is 1 fault' if number == 1 else f'are {number} faults'} more"
    return Fault(place, "", Code.TOO_MANY_FAULTS, said, "", kind)


class Spot(NamedTuple):
    """A node that a path leads to: the nearest one that exists, its key where it has one, and names on the way."""

    node: Node
    key: Text | None
    words: tuple[str, ...]

    @property
    def place(self) -> Place:
        """Where a reader looks for it: at its key."""
        return self.key.place if self.key is not None else self.node.place


def spot(tree: Node, path: Path) -> Spot:
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
    """What a fault is about: the thing's own name and where in it, without the section that holds it.

    An entry of a list is nothing without the name of the list.
    """
    inside = words[1:] if words[:1] == ("amend",) and len(words) > 1 else words
    named = len(inside) > 1 and inside[0] not in _NAMELESS and not inside[1][:1].isdigit()
    return " ".join(inside[1:] if named else inside)


def _fault(
    error: ErrorDetails, model: type[FileModel], tree: Node, kind: Kind, within: tuple[str, ...], advise: Advice
) -> Fault:
    path, what = error["loc"], error["type"]
    at = spot(tree, path)
    words = within + at.words
    if what == "extra_forbidden":
        return Fault(at.place, subject(words[:-1]), *_unknown_key(path, model_at(model, path[:-1]), advise), kind)
    if what == "missing":
        holder, key = model_at(model, path[:-1]), str(path[-1])
        about = next((field.description for each, field in fields_of(holder) if each == key), "") if holder else ""
        lacks = f"has no {shown(key)}{f' ({about})' if about else ''}"
        return Fault(at.place, subject(words), Code.MISSING_KEY, lacks, "", kind)
    wrong = at.key if path[-1:] == ("[key]",) and at.key is not None else at.node
    said = _said(error, wrong, model_at(model, path) or model_at(model, (*path, 0)))
    if path[-1:] == ("[key]",):
        return Fault(at.place, subject(words[:-1]), *said, kind)
    at_character = error.get("ctx", {}).get("at", 0)
    return Fault(placed(at.node, at_character) if at_character else at.node.place, subject(words), *said, kind)


def headed(tree: Fields, header: str, what: str, kind: Kind) -> Fault | None:
    """What keeps a file from being what it should be: it does not say so of itself."""
    found = tree.get(Text("specrules"))
    if found is None:
        said = f"this file does not say that it is a {what}"
        return Fault(tree.place, "", Code.WRONG_FILE, said, f"specrules: {header} on its first line", kind)
    if found == header:
        return None
    has = shown(found) if isinstance(found, Text) else "this"
    return Fault(found.place, "specrules", Code.WRONG_FILE, f"{has} is no {what} that is known here", header, kind)


def _unknown_key(path: Path, holder: type[FileModel] | None, advise: Advice) -> Said:
    key, keys = str(path[-1]), keys_of(holder) if holder else ()
    section = section_with(holder, key) if holder else ""
    write = f"it under {section}" if section else nearest(key, keys) or _of_other_trades(key, keys)
    usual = Code.UNKNOWN_KEY, f"{shown(key)} is no key here", write or f"one of {', '.join(keys)}"
    return advise(path, write) or usual


def _of_other_trades(key: str, keys: tuple[str, ...]) -> str | None:
    return next((word for word in _MEANT.get(key.casefold(), ()) if word in keys), None)


def _said(error: ErrorDetails, node: Node, model: type[FileModel] | None) -> Said:
    """The kind of fault of a value, what is wrong, and what to write. `model`: that of what belongs there, or of an
    entry of it."""
    context: Mapping[str, Any] = error.get("ctx", {})
    match error["type"]:
        case "empty":
            return Code.NO_VALUE, "has no value", "a value, or leave the key out"
        case "not_a_word":
            return not_a_word(context["text"], context["words"])
        case "not_a_name":
            said = f"{shown(context['text'])} cannot be a name: letters, digits and _, not a digit first"
            return Code.NOT_A_NAME, said, nearest_name(context["text"])
        case "refused":
            return context["code"], context["said"], context["write"]
        case "not_text":
            return Code.WRONG_SHAPE, f"has {_found(node)} where a text belongs", ""
        case "model_type":
            keys = _some_keys(model) if model else ""
            return Code.WRONG_SHAPE, f"has {_found(node)} where a mapping belongs", keys
        case "dict_type":
            return Code.WRONG_SHAPE, f"has {_found(node)} where a mapping belongs", ""
        case "tuple_type":
            entries = f"entries with {_some_keys(model)}" if model else ""
            return Code.WRONG_SHAPE, f"has {_found(node)} where a list belongs", entries
        case "too_long":
            said = f"has {context['actual_length']} entries, more than the {context['max_length']} allowed"
            return Code.TOO_MANY, said, "fewer of them"
        case "too_short":
            return Code.NO_VALUE, f"has nothing where {_kind_of(node)} belongs", ""
    return Code.WRONG_SHAPE, f"has {_found(node)}, which does not belong here", ""


def _some_keys(model: type[FileModel]) -> str:
    return f"keys such as {', '.join(keys_of(model)[:4])}"


def not_a_word(text: str, words: tuple[str, ...]) -> Said:
    """What is said of a text that is none of some words, and which of them may be meant."""
    if words == YES_NO:
        return Code.NOT_A_CHOICE, f"{shown(text)} is neither yes nor no", _YES_NO_MEANT.get(text.lower(), "")
    if len(words) == 1:
        return Code.NOT_A_CHOICE, f"{shown(text)} is not {words[0]}", words[0]
    meant = nearest(text, words) or next((word for word in _MEANT.get(text.casefold(), ()) if word in words), "")
    return Code.NOT_A_CHOICE, f"{shown(text)} is none of {', '.join(words)}", meant


def _found(node: Node) -> str:
    if isinstance(node, Text):
        return shown(node) if node else "nothing"
    return _kind_of(node)


def _kind_of(node: Node) -> str:
    """What a node is, in words for a message."""
    return "a mapping" if isinstance(node, Fields) else "a list" if isinstance(node, Items) else "a text"


def nearest_name(text: str) -> str:
    """A name that can stand in a formula, made of a text that cannot."""
    made = "_".join("".join(c if c.isascii() and c.isalnum() else " " for c in text).split())
    return f"_{made}" if made[:1].isdigit() else made
