"""The tables of the reference of the pack language, in Markdown: its keys by the schema, its functions, its units and
the kinds of fault.

`packs/README.md` holds each between two marks; `python -m tests.packs.test_language_reference` writes them anew.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from specrules.formula import Function
from specrules.quantity import UNITS, Dimension, Table
from specrules.vocabulary import Code

Schema = Mapping[str, Any]

_MADE = re.compile(r"(<!-- made: (.+?) -->\n).*?(<!-- end of made -->)", re.DOTALL)
_LIST = "list: "
_OR = ", or "
_BY_WORDS = {unit.dimension.words(): unit.dimension for unit in UNITS}
_UNKNOWN = Dimension(length=7)
"""A dimension that nothing has, so that a function refuses it and says what it takes."""


class Key(NamedTuple):
    """One key of a mapping: what may stand there, whether it has to, and what it is for."""

    name: str
    holds: str
    required: bool
    about: str


def keys_of(schema: Schema, *path: str) -> tuple[Key, ...]:
    """The keys of the mapping that a path of keys leads to. Names of things, lists and short forms are passed over.

    Raises KeyError for a path that the schema does not have.
    """
    node = _mapping(schema, schema)
    for step in path:
        node = _mapping(schema, node["properties"][step])
    required = node.get("required", ())
    return tuple(
        Key(name, _holds(schema, each), name in required, each.get("description", ""))
        for name, each in node["properties"].items()
    )


def key_table(found: Iterable[Key]) -> str:
    """Keys as a table."""
    rows = ((f"`{key.name}`", key.holds, "yes" if key.required else "", key.about) for key in found)
    return _table(("key", "holds", "needed", "what for"), rows)


def function_table(functions: Iterable[Function]) -> str:
    """Functions as a table: what each is given, what it gives, and where it comes from."""
    rows = (
        (f"`{each.name}({', '.join(_arguments(each))})`", ", ".join(takes), gives, _about(each))
        for each in functions
        for takes, gives in [_dimensions(each)]
    )
    found = [*rows]
    columns = 4 if any(about for *_, about in found) else 3
    return _table(("function", "takes", "gives", "what it is; its source")[:columns], [row[:columns] for row in found])


def unit_table(units: Table) -> str:
    """Units as a table, by what they measure, each with its further names."""
    further: dict[str, list[str]] = {unit.symbol: [] for unit in units.units}
    for name, unit in units.names():
        further[unit.symbol].append(name)
    rows = (
        (
            unit.dimension.words(),
            f"`{unit.symbol}`",
            f"`{other}`" if (other := unit.in_inches or unit.in_millimetres) else "",
            ", ".join(f"`{name}`" for name in further[unit.symbol]),
        )
        for unit in units.units
    )
    return _table(("of", "unit", "in a sheet of the other system", "also written"), rows)


def code_table(codes: Iterable[Code]) -> str:
    """Kinds of fault as a table."""
    return _table(("code", "what is wrong"), ((f"`{code}`", code.meaning) for code in codes))


def with_tables(text: str, tables: Mapping[str, str]) -> str:
    """A document with what stands between its marks made anew. Raises KeyError for a mark that has no table."""
    return _MADE.sub(lambda found: f"{found[1]}{tables[found[2]]}\n{found[3]}", text)


def marks(text: str) -> tuple[str, ...]:
    """The names of the tables that a document has marks for."""
    return tuple(found[2] for found in _MADE.finditer(text))


def _table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    lines = (head, ["---"] * len(head), *rows)
    return "\n".join(f"| {' | '.join(cell.replace('|', chr(92) + '|') for cell in line)} |" for line in lines)


def _resolved(schema: Schema, node: Schema) -> Schema:
    return schema["$defs"][node["$ref"].rpartition("/")[2]] if "$ref" in node else node


def _inner(node: Schema) -> Iterator[Schema]:
    """The other forms of a node, the things of a list, and what stands under names."""
    yield from reversed(node.get("anyOf", ()))  # the whole form stands after the short ones
    yield from node.get("patternProperties", {}).values()
    yield from (node[key] for key in ("items", "additionalProperties") if isinstance(node.get(key), Mapping))


def _mapping(schema: Schema, node: Schema) -> Schema:
    """The mapping with keys of its own that a node is, holds, or allows besides a short form."""
    node = _resolved(schema, node)
    if "properties" in node:
        return node
    return next(filter(None, (_mapping(schema, each) for each in _inner(node))), {})


def _holds(schema: Schema, node: Schema) -> str:
    """What may stand there, in words: its short forms, then the whole one."""
    *short, whole = _forms(schema, node)
    if short and (one := whole.removeprefix(_LIST)) != whole:
        short, whole = [each for each in short if each not in ("text", *one.split(_OR))], f"{one}{_OR}a list"
    return _OR.join((*short, whole))


def _forms(schema: Schema, node: Schema) -> list[str]:
    node = _resolved(schema, node)
    if "anyOf" in node:
        return [form for each in node["anyOf"] for form in _forms(schema, each)]
    return [_form(schema, node)]


def _form(schema: Schema, node: Schema) -> str:
    """What one form of a node is."""
    if "const" in node:
        return f"`{node['const']}`"
    if "enum" in node:
        return ", ".join(f"`{word}`" for word in node["enum"] if isinstance(word, str))
    if "properties" in node:
        return "mapping"
    if "items" in node:
        return f"{_LIST}{_holds(schema, node['items'])}"
    for held in _inner(node):
        return f"by name: {_holds(schema, held)}"
    if "integer" in node.get("type", ()):
        return "whole number"
    if node.get("type") == "object":
        return "piece of a sheet"
    return "name" if "pattern" in node else "text"


def _arguments(function: Function) -> list[str]:
    """What a function calls its arguments, where that can be known."""
    named = [each.name for each in inspect.signature(function.value).parameters.values()]
    return named if len(named) == function.arity else ["x"] * function.arity


def _dimensions(function: Function) -> tuple[list[str], str]:
    """What a function takes and gives, by asking it. What depends on the arguments is said in its own words."""
    said = function.dimensions([_UNKNOWN] * function.arity)
    if not isinstance(said, str):
        return ["any"] * function.arity, "the same"
    takes = said.split(" and ")
    wanted = [known for word in takes if (known := _BY_WORDS.get(word)) is not None]
    gives = function.dimensions(wanted) if len(wanted) == len(takes) == function.arity else said
    return takes, "by what it takes" if isinstance(gives, str) else gives.words()


def _about(function: Function) -> str:
    """The first paragraph of what a function says of itself, and its source; nothing where it names no source."""
    if not function.source:
        return ""
    told = (inspect.getdoc(function.value) or "").partition("Source:")[0].split("\n\n")[0]
    return " ".join((*told.split(), f"Source: {function.source}"))
