"""A specification as plain text and back: every part by its declared type, each part that is used twice written once.

Nothing is taken on trust: what a text holds has to be of the type that its place declares, down to each number.
Functions are live objects and stay outside; the reader hands in those that formulas may call.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from decimal import Decimal, InvalidOperation
from enum import Enum
from fractions import Fraction
from functools import cache, partial
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from specrules.formula import Function
from specrules.pack import Stack

LIVE = "functions"
"""The one field, of a scope, that holds live objects."""


_PLAIN = (str, int, bool)
"""What JSON holds as it is."""


class Unreadable(ValueError):
    """A text that is no specification as this program writes them."""


Decode = Callable[[Any], Any]


def encode(specification: Stack) -> str:
    """The text of a specification."""
    writer = _Writer()
    writer.reference(specification)
    return json.dumps({"classes": writer.classes, "parts": writer.parts}, ensure_ascii=False, separators=(",", ":"))


def decode(text: str | bytes, functions: Mapping[str, Function]) -> Stack:
    """The specification of a text, whose formulas may call these functions. Raises Unreadable."""
    try:
        written = json.loads(text)
        classes = [_classes()[name] for name in written["classes"]]
        reader = _Reader(functions)
        for number, *values in written["parts"]:
            reader.take(classes[number], values)
        found = reader.parts[-1]
    except (ValueError, KeyError, IndexError, TypeError, InvalidOperation, RecursionError) as error:
        raise Unreadable(str(error)) from error
    if not isinstance(found, Stack):
        raise Unreadable("it ends in another part")
    return found


class _Writer:
    """Parts in the order in which they can be read: what a part is made of comes before it."""

    def __init__(self) -> None:
        self.classes: list[str] = []
        self.parts: list[list[object]] = []
        self._numbers: dict[int, int] = {}
        self._equal: dict[object, int] = {}

    def reference(self, part: Any) -> int:
        known = self._numbers.get(id(part))
        if known is not None:
            return known
        kind = type(part)
        if kind.__name__ not in self.classes:
            self.classes.append(kind.__name__)
        row = [self.classes.index(kind.__name__), *[self.value(getattr(part, name)) for name in _names(kind)]]  # type: ignore[arg-type]  # a class can be hashed
        same = json.dumps(row)
        number = self._equal.get(same)
        if number is None:
            number = self._equal[same] = len(self.parts)
            self.parts.append(row)
        self._numbers[id(part)] = number
        return number

    def value(self, value: Any) -> object:
        if value is None or isinstance(value, bool | int):
            return value
        if isinstance(value, Enum):
            return value.name
        if isinstance(value, str):
            return str(value)
        if isinstance(value, Decimal | Fraction):
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
        self._takers: dict[type, Sequence[Decode]] = {}

    def take(self, kind: type, values: Sequence[object]) -> None:
        takers = self._takers.get(kind)
        if takers is None:
            takers = self._takers[kind] = [self._decoder(declared) for declared in _declared(kind)]
        made: list[Any] = []
        for take, value in zip(takers, values, strict=True):
            if take in _PLAIN:
                if type(value) is not take:
                    raise Unreadable(f"{type(value).__name__} stands where {take} is needed")
                made.append(value)
            else:
                made.append(take(value))
        if LIVE in kind.__annotations__:
            made.append(self._functions)
        self.parts.append(kind(*made))

    def _decoder(self, declared: Any) -> Decode:
        origin, inner = get_origin(declared), get_args(declared)
        if origin in (Union, UnionType):
            return self._one_of(inner)
        if origin is tuple:
            return self._tuple(inner)
        if origin is frozenset:
            return lambda value: frozenset(_all(inner[0], value))
        if origin is not None and issubclass(origin, Mapping):
            if inner[1] in _PLAIN:
                return lambda value: _is(value, dict) if _all(inner[1], list(value.values())) else value
            of = self._decoder(inner[1])
            return lambda value: {key: of(one) for key, one in _is(value, dict).items()}
        if declared in _PLAIN:
            plain: Decode = declared
            return plain
        if declared is Decimal or declared is Fraction:
            return lambda value: declared(_is(value, str))
        if issubclass(declared, Enum):
            return lambda value: declared[value]
        return self._part((declared,))

    def _one_of(self, inner: tuple[Any, ...]) -> Decode:
        kinds = tuple(kind for kind in inner if kind is not NoneType)
        some = self._part(kinds)
        if len(kinds) == 1:
            some = partial(_is, kind=kinds[0]) if kinds[0] in _PLAIN else self._decoder(kinds[0])
        if NoneType not in inner:
            return some
        return lambda value: None if value is None else some(value)

    def _tuple(self, inner: tuple[Any, ...]) -> Decode:
        if inner[-1] is Ellipsis:
            if inner[0] in _PLAIN:
                return lambda value: tuple(_all(inner[0], value))
            each = self._decoder(inner[0])
            return lambda value: tuple([each(one) for one in _is(value, list)])
        all_of = [partial(_is, kind=kind) if kind in _PLAIN else self._decoder(kind) for kind in inner]
        return lambda value: tuple([take(one) for take, one in zip(all_of, _is(value, list), strict=True)])

    def _part(self, kinds: tuple[type, ...]) -> Decode:
        parts = self.parts

        def take(value: object) -> Any:
            part = parts[_is(value, int)]
            if type(part) not in kinds:
                raise Unreadable(f"{type(part).__name__} stands where {kinds[0].__name__} is needed")
            return part

        return take


def _all(kind: type, value: Any) -> list[Any]:
    """A list whose items are all of one plain type."""
    listed: list[Any] = _is(value, list)
    for one in listed:
        if type(one) is not kind:
            raise Unreadable(f"{type(one).__name__} stands where {kind.__name__} is needed")
    return listed


def _is(value: Any, kind: type) -> Any:
    if type(value) is not kind:
        raise Unreadable(f"{type(value).__name__} stands where {kind.__name__} is needed")
    return value


@cache
def _names(kind: type) -> tuple[str, ...]:
    """The fields of a part that are written."""
    names = [field.name for field in fields(kind) if field.init] if is_dataclass(kind) else list(kind._fields)  # type: ignore[attr-defined]  # a named tuple
    return tuple(name for name in names if name != LIVE)


@cache
def _declared(kind: type) -> tuple[Any, ...]:
    """The declared types of these fields."""
    hints = get_type_hints(kind)
    return tuple(hints[name] for name in _names(kind))


@cache
def _classes() -> Mapping[str, type]:
    """Every class of part that a specification may hold, by name."""
    found: dict[str, type] = {}
    waiting: list[Any] = [Stack]
    while waiting:
        declared = waiting.pop()
        if get_origin(declared) is not None or isinstance(declared, UnionType):
            waiting += get_args(declared)
        elif (
            isinstance(declared, type)
            and declared.__name__ not in found
            and (is_dataclass(declared) or hasattr(declared, "_fields"))
        ):
            found[declared.__name__] = declared
            waiting += _declared(declared)
    return found
