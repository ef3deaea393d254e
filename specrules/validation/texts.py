"""The kinds of written text that models are made of, each with its place kept, and short forms of longer things."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any, NamedTuple

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from specrules.document import Fields, Items, Node, Text, shown
from specrules.document.days import day_of
from specrules.document.text import fields_at, items_at
from specrules.vocabulary import Code

NOTHING = Text("")
"""What a key that was left out holds."""

YES_NO = ("yes", "no")

_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")


@dataclass(frozen=True, eq=False)
class Leaf:
    """A node is what `validate` makes of it, mostly the node itself. `informed`: it asks for ValidationInfo too.

    `schema` is what an editor is told; it sees the values as YAML does, so a number is offered as one.
    """

    validate: Callable[..., Any]
    schema: JsonSchemaValue
    informed: bool = False

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        if self.informed:
            return core_schema.with_info_plain_validator_function(self.validate)
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


def refused(code: Code, said: str, write: str = "", at: int = 0) -> PydanticCustomError:
    """What a validator raises of a text that it does not take: what is wrong, what to write, and at which character."""
    return PydanticCustomError(
        "refused", "a text that is not taken", {"code": code, "said": said, "write": write, "at": at}
    )


def any_text(node: object) -> Text:
    """Any text. Raises PydanticCustomError, as the others do."""
    if isinstance(node, Text):
        return node
    raise PydanticCustomError("not_text", "no text")


def filled_text(node: object) -> Text:
    """A text that is not empty."""
    if isinstance(node, Text):
        if node:
            return node
        raise PydanticCustomError("empty", "an empty text")
    raise PydanticCustomError("not_text", "no text")


def one_word(node: object) -> Text:
    """A text of one word, without a comma, that is not empty: formulas name it."""
    text = filled_text(node)
    parts = [part for part in re.split(r"[\s,;]+", text) if part]
    if len(parts) > 1:
        write = f"{', '.join(parts)}, or {'_'.join(parts)}"
        raise refused(Code.NOT_A_NAME, f"{shown(text)} is {len(parts)} words, and a label is one", write)
    return text


def words_text(node: object) -> Text:
    """A text that is not empty, or a list of such, as one text: top, oil."""
    if isinstance(node, Items) and len(node):
        return Text(", ".join(map(filled_text, node)), node.place)
    return filled_text(node)


def plain_name(node: object) -> Text:
    """A text that formulas can use as a name."""
    text = filled_text(node)
    if not _NAME.fullmatch(text):
        raise PydanticCustomError("not_a_name", "no name", {"text": str(text)})
    return text


def _day(node: object) -> date | None:
    """A day; None where nothing is written yet."""
    found = day_of(text) if (text := any_text(node)) else None
    if isinstance(found, tuple):
        raise refused(*found)
    return found


def one_of(*words: str) -> Leaf:
    """One of some words."""

    def validate(node: object) -> Text:
        text = filled_text(node)
        if text not in words:
            raise PydanticCustomError("not_a_word", "another word", {"text": str(text), "words": words})
        return text

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

Entered = Annotated[Text, Leaf(any_text, {"type": ["string", "number"]})]
"""Any text, an empty one too."""

Day = Annotated[date | None, Leaf(_day, {"type": ["string", "null"]})]
Prose = Annotated[Text, Leaf(filled_text, {"type": ["string", "number"]})]
Name = Annotated[Text, Leaf(plain_name, {"type": "string", "pattern": f"^{_NAME.pattern}$"})]
Word = Annotated[Text, Leaf(one_word, {"type": ["string", "integer"]})]
Label = Annotated[Text, Leaf(filled_text, {"type": ["string", "integer"]})]
Written = Annotated[Text, Leaf(filled_text, {"type": ["string", "number"]})]
Stated = Annotated[Text, Leaf(filled_text, {"type": ["string", "number", "boolean"]})]
StatedWords = Annotated[
    Text,
    Leaf(
        words_text,
        {
            "anyOf": [
                {"type": ["string", "number", "boolean"]},
                {"type": "array", "items": {"type": ["string", "integer"]}},
            ]
        },
    ),
]
"""What may be stated, or a list of labels."""

Condition = Annotated[Text, Leaf(filled_text, {"type": ["string", "boolean"]})]
Whole = Annotated[Text, Leaf(filled_text, {"type": "integer"})]
YesNo = Annotated[Text, one_of(*YES_NO)]
Names = Annotated[tuple[Name, ...], Short(listed, lambda _: {"type": "string"})]
Words = Annotated[tuple[Word, ...], Short(listed, lambda _: {"type": ["string", "integer"]})]
"""Labels as a pack declares them, which formulas name."""
Labels = Annotated[tuple[Label, ...], Short(listed, lambda _: {"type": ["string", "integer"]})]
Proses = Annotated[tuple[Prose, ...], Short(listed, lambda _: {"type": "string"})]
Free = Annotated[Fields, Leaf(_tree, {"type": "object"})]
"""A mapping whose names come from elsewhere."""
