"""What every model of a file has in common: its keys, and the place where it was written."""

from collections.abc import Iterable, Iterator
from types import UnionType
from typing import Annotated, Any, Self, TypeVar, Union, get_args, get_origin

from pydantic import BaseModel, ConfigDict, ModelWrapValidatorHandler, PrivateAttr, model_validator
from pydantic.fields import FieldInfo

from specrules.document import Place


def spaced(name: str) -> str:
    """The key that a field's name stands for."""
    return name.replace("_", " ")


class FileModel(BaseModel):
    """One mapping of a file: a placed tree is validated to it, and its texts keep their places.

    It is built when it first validates, since a run needs few of all the models.
    """

    model_config = ConfigDict(
        frozen=True, extra="forbid", alias_generator=spaced, hide_input_in_errors=True, defer_build=True
    )

    _place: Place = PrivateAttr()

    @property
    def place(self) -> Place:
        """Where it was written."""
        return self._place

    @model_validator(mode="wrap")
    @classmethod
    def _placed(cls, node: Any, validate: ModelWrapValidatorHandler[Self]) -> Self:
        made = validate(node)
        made._place = node.place
        return made


SomeModel = TypeVar("SomeModel", bound=FileModel)


def key_of(name: str, field: FieldInfo) -> str:
    """The key that a field is written under."""
    return field.alias or spaced(name)


def fields_of(model: type[FileModel]) -> Iterator[tuple[str, FieldInfo]]:
    """Each key that may be written in such a mapping, and its field."""
    return ((key_of(name, field), field) for name, field in model.model_fields.items())


def keys_of(model: type[FileModel]) -> tuple[str, ...]:
    """The keys that may be written in such a mapping."""
    return tuple(key for key, _ in fields_of(model))


def section_with(model: type[FileModel], key: str) -> str:
    """The section of such a mapping that has the key, in itself or in each of its things; "" where none has."""
    for section, field in fields_of(model):
        inner = map(_model, (field.annotation, *get_args(field.annotation)))
        if any(each is not None and key in keys_of(each) for each in inner):
            return section
    return ""


def model_at(model: type[FileModel], path: Iterable[int | str]) -> type[FileModel] | None:
    """The model of the mapping that a path leads to; None where it leads to no mapping with a model."""
    kind: Any = model
    for step in path:
        inner, here = get_args(kind), _model(kind)
        if here is not None:
            kind = next((field.annotation for key, field in fields_of(here) if key == step), None)
        elif get_origin(kind) is tuple and isinstance(step, int):
            kind = inner[0]
        else:
            kind = inner[1] if get_origin(kind) is dict else None
        kind = _bare(kind)
    return _model(kind)


def _model(kind: Any) -> type[FileModel] | None:
    return kind if isinstance(kind, type) and issubclass(kind, FileModel) else None


def _bare(kind: Any) -> Any:
    """A kind without what pydantic is told about it, and without None."""
    while get_origin(kind) in (Annotated, Union, UnionType):
        kind = next(each for each in get_args(kind) if each is not type(None))
    return kind
