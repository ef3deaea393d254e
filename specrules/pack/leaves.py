"""What the models of pack and sheet files are made of: written texts that keep their place, and short forms."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Annotated, Any, NamedTuple

from specrules.document import Fields, Items, Node, Text
from specrules.document.text import items_at
from specrules.pack.entry import Take, Unfit

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic.json_schema import JsonSchemaValue
    from pydantic_core import CoreSchema

NOTHING = Text("")
"""What a key that was left out holds."""

_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")


class Leaf(NamedTuple):
    """Takes one written text, not empty: any, a name that formulas can use, or one of some words.

    `schema` is what an editor is told; it sees the values as YAML does, so a number is offered as one.
    """

    words: tuple[str, ...] = ()
    name: bool = False
    schema: tuple[str, ...] = ("string",)

    def wrong(self, node: object) -> tuple[str, Mapping[str, object]] | None:
        """What is wrong with a node, as `checking` puts it into words."""
        if not isinstance(node, Text):
            return "not_text", {}
        if not node:
            return "empty", {}
        if self.words and node not in self.words:
            return "not_a_word", {"text": str(node), "words": self.words}
        if self.name and not _NAME.fullmatch(node):
            return "not_a_name", {"text": str(node)}
        return None

    def take_with(self, _take: Take) -> Take:
        """Takes what is right; see `entry`."""

        def take(node: object) -> object:
            if self.wrong(node):
                raise Unfit
            return node

        return take

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        from pydantic_core import PydanticCustomError, core_schema

        def take(node: object) -> object:
            if (wrong := self.wrong(node)) is not None:
                what, context = wrong
                raise PydanticCustomError(what, what, dict(context))
            return node

        return core_schema.no_info_plain_validator_function(take)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        if self.words:
            yes_no: tuple[object, ...] = (True, False) if self.words == YES_NO else ()
            return {"enum": [*self.words, *yes_no]}
        found: JsonSchemaValue = {"type": self.schema[0] if len(self.schema) == 1 else list(self.schema)}
        return {**found, "pattern": f"^{_NAME.pattern}$"} if self.name else found


class Short(NamedTuple):
    """Lets a shorter form stand for the whole one: `widen` makes the whole of it before it is checked."""

    widen: Callable[[Any], object]
    schema: Callable[[JsonSchemaValue], JsonSchemaValue]

    def take_with(self, take: Take) -> Take:
        """Takes either form; see `entry`."""
        return lambda node: take(self.widen(node))

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        from pydantic_core import core_schema

        return core_schema.no_info_before_validator_function(self.widen, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        whole = handler(schema)
        whole = next((way for way in whole.get("anyOf", ()) if way.get("type") != "null"), whole)
        return {"anyOf": [self.schema(whole), whole]}


def kind_of(node: object) -> str:
    """What a node is, in words for a message."""
    return "a mapping" if isinstance(node, dict) else "a list" if isinstance(node, list) else "a text"


def listed(node: Node) -> Node:
    """A thing alone is a list of it."""
    return node if isinstance(node, Items) else items_at_place(node)


def items_at_place(node: Node) -> Items:
    """A list of this one thing, standing where it stands."""
    made = items_at(node.place)
    made.append(node)
    return made


YES_NO = ("yes", "no")

Prose = Annotated[Text, Leaf(schema=("string", "number"))]
Name = Annotated[Text, Leaf(name=True)]
Label = Annotated[Text, Leaf(schema=("string", "integer"))]
Written = Annotated[Text, Leaf(schema=("string", "number"))]
Stated = Annotated[Text, Leaf(schema=("string", "number", "boolean"))]
Condition = Annotated[Text, Leaf(schema=("string", "boolean"))]
YesNo = Annotated[Text, Leaf(words=YES_NO)]
Names = Annotated[tuple[Name, ...], Short(listed, lambda _: {"type": "string"})]
Labels = Annotated[tuple[Label, ...], Short(listed, lambda _: {"type": ["string", "integer"]})]
Proses = Annotated[tuple[Prose, ...], Short(listed, lambda _: {"type": "string"})]


class _Tree(NamedTuple):
    """A mapping that is taken as it stands."""

    def take_with(self, take: Take) -> Take:
        """Nothing of it is looked at; see `entry`."""
        return take

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        from pydantic_core import core_schema

        return core_schema.is_instance_schema(Fields)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {"type": "object"}


Free = Annotated[Fields, _Tree()]
"""A mapping whose names come from elsewhere."""
