"""The kinds of written text that models are made of, each with its place kept, and short forms of longer things."""

import re
from collections.abc import Callable
from typing import Annotated, Any, NamedTuple

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from specrules.document import Fields, Items, Node, Text
from specrules.document.text import fields_at, items_at

NOTHING = Text("")
"""What a key that was left out holds."""

YES_NO = ("yes", "no")

_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")


class Leaf(NamedTuple):
    """A node is taken as it stands, where `validate` lets it pass.

    `schema` is what an editor is told; it sees the values as YAML does, so a number is offered as one.
    """

    validate: Callable[[Any], Any]
    schema: JsonSchemaValue

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.validate)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return dict(self.schema)


class Short(NamedTuple):
    """A shorter form may stand for the whole one: `widen` makes the whole of it before it is validated."""

    widen: Callable[[Any], Any]
    schema: Callable[[JsonSchemaValue], JsonSchemaValue]

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_before_validator_function(self.widen, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        whole = handler(schema)
        whole = next((way for way in whole.get("anyOf", ()) if way.get("type") != "null"), whole)
        return {"anyOf": [self.schema(whole), whole]}


def any_text(node: object) -> object:
    """Any text. Raises PydanticCustomError, as the others do."""
    if not isinstance(node, Text):
        raise PydanticCustomError("not_text", "no text")
    return node


def filled_text(node: object) -> object:
    """A text that is not empty."""
    if not any_text(node):
        raise PydanticCustomError("empty", "an empty text")
    return node


def plain_name(node: Any) -> object:
    """A text that formulas can use as a name."""
    if not _NAME.fullmatch(filled_text(node)):  # type: ignore[call-overload]  # a text, or it has raised
        raise PydanticCustomError("not_a_name", "no name", {"text": str(node)})
    return node


def one_of(*words: str) -> Leaf:
    """One of some words."""

    def validate(node: Any) -> object:
        if filled_text(node) not in words:
            raise PydanticCustomError("not_a_word", "another word", {"text": str(node), "words": words})
        return node

    return Leaf(validate, {"enum": [*words, *((True, False) if words == YES_NO else ())]})


def listed(node: Node) -> Node:
    """A thing alone is a list of it."""
    return node if isinstance(node, Items) else items_at_place(node)


def items_at_place(node: Node) -> Items:
    """A list of this one thing, standing where it stands."""
    made = items_at(node.place)
    made.append(node)
    return made


def keyed(key: str) -> Short:
    """A text alone stands for a mapping with that text at `key`."""

    def widen(node: Node) -> Node:
        if not isinstance(node, Text) or not node:
            return node
        made = fields_at(node.place)
        made[Text(key, node.place)] = node
        return made

    return Short(widen, lambda _: {"type": "string"})


def _tree(node: object) -> object:
    if not isinstance(node, Fields):
        raise PydanticCustomError("dict_type", "no mapping")
    return node


ONE_OF_THEM = Short(listed, lambda whole: whole["items"])
"""One thing alone, where several may be listed."""

Prose = Annotated[Text, Leaf(filled_text, {"type": ["string", "number"]})]
Name = Annotated[Text, Leaf(plain_name, {"type": "string", "pattern": f"^{_NAME.pattern}$"})]
Label = Annotated[Text, Leaf(filled_text, {"type": ["string", "integer"]})]
Written = Annotated[Text, Leaf(filled_text, {"type": ["string", "number"]})]
Stated = Annotated[Text, Leaf(filled_text, {"type": ["string", "number", "boolean"]})]
Condition = Annotated[Text, Leaf(filled_text, {"type": ["string", "boolean"]})]
Whole = Annotated[Text, Leaf(filled_text, {"type": "integer"})]
YesNo = Annotated[Text, one_of(*YES_NO)]
Names = Annotated[tuple[Name, ...], Short(listed, lambda _: {"type": "string"})]
Labels = Annotated[tuple[Label, ...], Short(listed, lambda _: {"type": ["string", "integer"]})]
Proses = Annotated[tuple[Prose, ...], Short(listed, lambda _: {"type": "string"})]
Free = Annotated[Fields, Leaf(_tree, {"type": "object"})]
"""A mapping whose names come from elsewhere."""
