"""What the models of pack and sheet files are made of: written texts that keep their place, and short forms."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Annotated, Any, NamedTuple, Self

from pydantic import (
    BaseModel,
    ConfigDict,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    ModelWrapValidatorHandler,
    PrivateAttr,
    ValidationError,
    model_validator,
)
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, InitErrorDetails, PydanticCustomError, core_schema

from specrules.document import Fields, Items, Node, Place, Text
from specrules.document.text import items_at

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

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.take)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        if self.words:
            yes_no: tuple[object, ...] = (True, False) if self.words == YES_NO else ()
            return {"enum": [*self.words, *yes_no]}
        found: JsonSchemaValue = {"type": self.schema[0] if len(self.schema) == 1 else list(self.schema)}
        return {**found, "pattern": f"^{_NAME.pattern}$"} if self.name else found

    def take(self, node: object) -> Text:
        """The text itself, or a refusal that `checking` puts into words."""
        if not isinstance(node, Text):
            raise PydanticCustomError("not_text", "not_text")
        if not node:
            raise PydanticCustomError("empty", "empty")
        if self.words and node not in self.words:
            raise PydanticCustomError("not_a_word", "not_a_word", {"text": str(node), "words": self.words})
        if self.name and not _NAME.fullmatch(node):
            raise PydanticCustomError("not_a_name", "not_a_name", {"text": str(node)})
        return node


class Short(NamedTuple):
    """Lets a shorter form stand for the whole one: `widen` makes the whole of it before it is checked."""

    widen: Callable[[Any], object]
    schema: Callable[[JsonSchemaValue], JsonSchemaValue]

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
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


class Entry(BaseModel):
    """One mapping of a file. Its keys are the field names with spaces; `place` is where it was written."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        alias_generator=lambda name: name.replace("_", " "),
        hide_input_in_errors=True,
        arbitrary_types_allowed=True,
        defer_build=True,  # most runs need a few of the models only
    )
    _place: Place = PrivateAttr()

    @property
    def place(self) -> Place:
        """Where the mapping was written."""
        return self._place

    @classmethod
    def keys(cls) -> tuple[str, ...]:
        """The keys that may be written here."""
        return tuple(field.alias or name for name, field in cls.model_fields.items())

    @model_validator(mode="wrap")
    @classmethod
    def _placed(cls, node: object, take: ModelWrapValidatorHandler[Self]) -> Self:
        if not isinstance(node, Fields):
            raise PydanticCustomError("not_mapping", "not_mapping", {"keys": cls.keys()})
        try:
            made = take(node)
        except ValidationError as error:
            raise ValidationError.from_exception_data(cls.__name__, list(cls._told(error))) from None
        made._place = node.place
        return made

    @classmethod
    def _told(cls, error: ValidationError) -> Iterator[InitErrorDetails]:
        """The errors again, those about this mapping's own keys with what its keys are."""
        for each in error.errors(include_url=False, include_input=False):
            context = dict(each.get("ctx", {}))
            if len(each["loc"]) == 1 and each["type"] == "extra_forbidden":
                context["keys"] = cls.keys()
            elif len(each["loc"]) == 1 and each["type"] == "missing":
                context["about"] = next(
                    (f.description or "" for n, f in cls.model_fields.items() if (f.alias or n) == each["loc"][0]), ""
                )
            yield InitErrorDetails(type=PydanticCustomError(each["type"], "told", context), loc=each["loc"], input=None)
