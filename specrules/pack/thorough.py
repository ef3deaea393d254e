"""What is wrong with a mapping: models of pydantic, made of the same declarations as the quick reading in `entry`."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from types import UnionType
from typing import Annotated, Any, Self, Union, get_args, get_origin

from pydantic import (
    BaseModel,
    ConfigDict,
    Field,
    ModelWrapValidatorHandler,
    ValidationError,
    create_model,
    model_validator,
)
from pydantic_core import ErrorDetails, InitErrorDetails, PydanticCustomError

from specrules.document import Fields
from specrules.pack.entry import Entry, Part


class Model(BaseModel):
    """One mapping of a file; its keys are given as aliases."""

    model_config = ConfigDict(frozen=True, extra="forbid", hide_input_in_errors=True, defer_build=True)

    @classmethod
    def keys(cls) -> tuple[str, ...]:
        """The keys that may be written here."""
        return tuple(field.alias or name for name, field in cls.model_fields.items())

    @classmethod
    def section_with(cls, key: str) -> str:
        """The section below this mapping that has the key; "" where none has."""
        for name, field in cls.model_fields.items():
            for kind in (field.annotation, *get_args(field.annotation)):
                if isinstance(kind, type) and issubclass(kind, Model) and key in [*kind.keys()]:
                    return field.alias or name
        return ""

    @model_validator(mode="wrap")
    @classmethod
    def _told(cls, node: object, take: ModelWrapValidatorHandler[Self]) -> Self:
        if not isinstance(node, Fields):
            raise PydanticCustomError("not_mapping", "not_mapping", {"keys": cls.keys()})
        try:
            return take(node)
        except ValidationError as error:
            raise ValidationError.from_exception_data(cls.__name__, list(cls._again(error))) from None

    @classmethod
    def _again(cls, error: ValidationError) -> Iterator[InitErrorDetails]:
        """The errors again, those about this mapping's own keys with what its keys are."""
        for each in error.errors(include_url=False, include_input=False):
            context = dict(each.get("ctx", {}))
            if len(each["loc"]) == 1 and each["type"] == "extra_forbidden":
                context["keys"] = cls.keys()
                context["section"] = cls.section_with(str(each["loc"][0]))
            elif len(each["loc"]) == 1 and each["type"] == "missing":
                context["about"] = next(
                    (f.description or "" for n, f in cls.model_fields.items() if (f.alias or n) == each["loc"][0]), ""
                )
            yield InitErrorDetails(type=PydanticCustomError(each["type"], "told", context), loc=each["loc"], input=None)


@cache
def model_of(entry: type[Entry]) -> type[Model]:
    """The model of an entry."""
    fields: Any = {name: (_kind(part.kind), _field(part)) for name, part in entry.parts.items()}
    return create_model(entry.__name__, __base__=Model, __doc__=entry.__doc__, **fields)


def wrong(entry: type[Entry], node: object) -> list[ErrorDetails]:
    """Every error of a node that is no such entry, as pydantic has them."""
    try:
        model_of(entry).model_validate(node)  # type: ignore[arg-type]  # a class can be hashed
    except ValidationError as error:
        return error.errors(include_url=False, include_input=False)
    return []


def _field(part: Part) -> Any:
    default = ... if part.required else part.default
    return Field(default, alias=part.key, description=part.description)


def _kind(kind: Any) -> Any:
    """A declared kind with models in the place of entries."""
    origin, inner = get_origin(kind), get_args(kind)
    if origin is Annotated:
        return Annotated[(_kind(inner[0]), *inner[1:])]
    if origin in (Union, UnionType):
        return Union[tuple(map(_kind, inner))]  # noqa: UP007 - made while it runs
    if origin in (tuple, dict):
        return origin.__class_getitem__(tuple(map(_kind, inner)))
    return model_of(kind) if isinstance(kind, type) and issubclass(kind, Entry) else kind  # type: ignore[arg-type]  # a class can be hashed
