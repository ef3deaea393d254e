"""A specification as plain text and back: every part by its declared shape, each part that is used twice written once.

Nothing is taken on trust: what a text holds has to be of the shape that its place declares, down to each number, and
only parts of specifications can be made. Functions are live objects and stay outside; the reader hands in those that
formulas may call.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import fields, is_dataclass
from decimal import Decimal, InvalidOperation
from enum import Enum
from fractions import Fraction
from functools import cache
from types import ModuleType, NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from specrules import formula, pack, quantity, vocabulary
from specrules.document import place
from specrules.formula import Function, operators
from specrules.pack import Specification

LIVE = "functions"
"""The one field, of a scope, that holds live objects."""
Shape = Any
"""What may stand in a field, as JSON: str, int or bool by their names; decimal, fraction; or a list of a word and what
it is about: choice (of an enumeration), part (of one of some classes), maybe, each, set, all (a tuple of just these),
by name (a mapping)."""

Take = Callable[[Any], Any]
_PLAIN: Mapping[Any, type] = {"str": str, "int": int, "bool": bool}
"""What JSON holds as it is."""


class Unreadable(ValueError):
    """A text that is no specification as this program writes them."""


def encode(specification: Specification) -> str:
    """The text of a specification."""
    writer = _Writer()
    writer.reference(specification)
    made = {"shapes": writer.shapes, "parts": writer.parts}
    return json.dumps(made, ensure_ascii=False, separators=(",", ":"))


def decode(text: str | bytes, functions: Mapping[str, Function]) -> Specification:
    """The specification of a text, whose formulas may call these functions. Raises Unreadable."""
    try:
        written = json.loads(text)
        reader = _Reader(functions)
        takers = [reader.takers(name, shapes) for name, shapes in written["shapes"].items()]
        for number, *values in written["parts"]:
            kind, of_fields = takers[number]
            reader.take(kind, of_fields, values)
        found = reader.parts[-1]
    except (ValueError, KeyError, IndexError, TypeError, AttributeError, InvalidOperation, RecursionError) as error:
        raise Unreadable(str(error)) from error
    if not isinstance(found, Specification):
        raise Unreadable("it ends in another part")
    return found


class _Writer:
    """Parts in the order in which they can be read: what a part is made of comes before it."""

    def __init__(self) -> None:
        self.shapes: dict[str, Sequence[Shape]] = {}
        self.parts: list[list[object]] = []
        self._classes: dict[type, int] = {}
        self._numbers: dict[int, int] = {}
        self._equal: dict[str, int] = {}

    def reference(self, part: Any) -> int:
        known = self._numbers.get(id(part))
        if known is not None:
            return known
        kind: Any = type(part)
        if kind not in self._classes:
            self._classes[kind] = len(self._classes)
            self.shapes[kind.__name__] = _shapes(kind)
        row = [self._classes[kind], *[self.value(getattr(part, name)) for name in _names(kind)]]
        number = self._equal.setdefault(json.dumps(row), len(self.parts))
        if number == len(self.parts):
            self.parts.append(row)
        self._numbers[id(part)] = number
        return number

    def value(self, value: Any) -> object:
        if value is None or isinstance(value, bool | int):
            return value
        if isinstance(value, Enum):
            return value.name
        if isinstance(value, str | Decimal | Fraction):
            return str(value)
        if isinstance(value, Mapping):
            return {str(key): self.value(each) for key, each in value.items()}
        if isinstance(value, frozenset):
            return sorted(value)
        if type(value) is tuple or isinstance(value, list):
            return [self.value(each) for each in value]
        return self.reference(value)


class _Reader:
    def __init__(self, functions: Mapping[str, Function]) -> None:
        self.parts: list[Any] = []
        self._functions = functions

    def takers(self, name: str, shapes: Sequence[Shape]) -> tuple[type, Sequence[Any]]:
        """A class of part, and for each of its fields a plain type or what takes it."""
        kind = _classes()[name]
        if len(shapes) != len(_names(kind)):
            raise Unreadable(f"{name} has other fields")
        return kind, [self._taker(shape) for shape in shapes]

    def take(self, kind: type, takers: Sequence[Any], values: Sequence[object]) -> None:
        """Make one part."""
        made: list[Any] = []
        for take, value in zip(takers, values, strict=True):
            if take is str or take is bool or take is int:
                if type(value) is not take:
                    raise Unreadable(f"{type(value).__name__} stands where {take.__name__} is needed")
                made.append(value)
            else:
                made.append(take(value))
        if LIVE in kind.__annotations__:
            made.append(self._functions)
        self.parts.append(kind(*made))

    def _taker(self, shape: Shape) -> Any:
        if isinstance(shape, str):
            if shape in _PLAIN:
                return _PLAIN[shape]
            number = {"decimal": Decimal, "fraction": Fraction}[shape]
            return lambda value: number(_is(value, str))
        word, *about = shape
        if word == "part":
            return self._part(tuple(_classes()[name] for name in about))
        if word == "choice":
            choices = _classes()[about[0]]
            return lambda value: choices[_is(value, str)]  # type: ignore[index]  # an enumeration
        if word == "all":
            all_of = [_checked(self._taker(each)) for each in about]
            return lambda value: tuple([take(one) for take, one in zip(all_of, _is(value, list), strict=True)])
        take = _checked(self._taker(about[0]))
        if word == "maybe":
            return lambda value: None if value is None else take(value)
        if word == "each":
            return lambda value: tuple([take(one) for one in _is(value, list)])
        if word == "set":
            return lambda value: frozenset([take(one) for one in _is(value, list)])
        if word == "by name":
            return lambda value: {key: take(one) for key, one in _is(value, dict).items()}
        raise Unreadable(f"{word} is no shape")

    def _part(self, kinds: tuple[type, ...]) -> Take:
        parts = self.parts

        def take(value: object) -> Any:
            if type(value) is not int or value < 0:
                raise Unreadable("something else stands where a part's number is needed")
            part = parts[value]
            if type(part) not in kinds:
                raise Unreadable(f"{type(part).__name__} stands where {kinds[0].__name__} is needed")
            return part

        return take


def _checked(take: Any) -> Take:
    """What takes a value by itself, of a plain type too."""
    return (lambda value: _is(value, take)) if take in (str, int, bool) else take


def _is(value: Any, kind: type) -> Any:
    if type(value) is not kind:
        raise Unreadable(f"{type(value).__name__} stands where {kind.__name__} is needed")
    return value


@cache
def _names(kind: type) -> tuple[str, ...]:
    """The fields of a part that are written."""
    names = [field.name for field in fields(kind) if field.init] if is_dataclass(kind) else list(kind._fields)  # type: ignore[attr-defined]  # a named tuple
    return tuple(name for name in names if name != LIVE)


def _shapes(kind: type) -> list[Shape]:
    """The shapes of these fields, by their declared types."""
    hints = get_type_hints(kind)
    return [_shape(hints[name]) for name in _names(kind)]


def _shape(declared: Any) -> Shape:
    origin, inner = get_origin(declared), get_args(declared)
    if origin in (Union, UnionType):
        kinds = [kind for kind in inner if kind is not NoneType]
        some = _shape(kinds[0]) if len(kinds) == 1 else ["part", *(kind.__name__ for kind in kinds)]
        return ["maybe", some] if NoneType in inner else some
    if origin is tuple:
        return ["each", _shape(inner[0])] if inner[-1] is Ellipsis else ["all", *map(_shape, inner)]
    if origin is frozenset:
        return ["set", _shape(inner[0])]
    if origin is not None:
        return ["by name", _shape(inner[1])]
    if declared in _PLAIN.values() or declared in (Decimal, Fraction):
        return declared.__name__.lower()
    return ["choice" if issubclass(declared, Enum) else "part", declared.__name__]


@cache
def _classes() -> Mapping[str, type]:
    """Every class of part that a specification may hold, by name."""
    return {
        kind.__name__: kind
        for module in (pack, formula, operators, quantity, place, vocabulary)
        for kind in _parts(module)
    }


def _parts(module: ModuleType) -> Iterator[type]:
    for kind in vars(module).values():
        if isinstance(kind, type) and (is_dataclass(kind) or hasattr(kind, "_fields") or issubclass(kind, Enum)):
            yield kind
