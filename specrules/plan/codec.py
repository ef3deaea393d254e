"""A specification as plain text and back: every part by its declared shape, each part that is used twice written once.

Nothing is taken on trust: what a text holds has to be of the shape that its place declares, down to each number, and
only parts of specifications can be made. Functions are live objects and stay outside; the reader hands in those that
formulas may call.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import fields, is_dataclass
from decimal import Decimal, InvalidOperation
from enum import Enum
from fractions import Fraction
from functools import cache, partial
from itertools import chain, islice
from types import ModuleType, NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from specrules import formula, pack, quantity, vocabulary
from specrules.document import Text, place
from specrules.formula import Function, operators
from specrules.pack import Specification

LIVE = "functions"
"""The one field, of a scope, that holds live objects."""
Shape = Any
"""What may stand in a field, as JSON: str, int or bool by their names; decimal, fraction; or a list of a word and what
it is about: choice (of an enumeration), part (of one of some classes), maybe, each, set, all (a tuple of just these),
by name (a mapping)."""

Column = Sequence[Any]
"""The values of one field, of many parts."""
Take = Callable[[Column], Column]
_PLAIN: Mapping[Any, type] = {"str": str, "int": int, "bool": bool}
"""What JSON holds as it is."""
_AS_IT_IS = frozenset({NoneType, bool, int, str, Text})
"""What JSON writes as it is."""


class Unreadable(ValueError):
    """A text that is no specification as this program writes them."""


def encode(specification: Specification) -> str:
    """The text of a specification."""
    writer = _Writer()
    writer.reference(specification)
    made = {"shapes": writer.shapes, "parts": writer.columns()}
    return json.dumps(made, ensure_ascii=False, separators=(",", ":"))


def decode(text: str | bytes, functions: Mapping[str, Function]) -> Specification:
    """The specification of a text, whose formulas may call these functions. Raises Unreadable."""
    try:
        written = json.loads(text)
        reader = _Reader(functions)
        takers = [reader.takers(name, shapes) for name, shapes in written["shapes"].items()]
        for number, numbers, *columns in written["parts"]:
            kind, of_fields = takers[number]
            reader.take(kind, of_fields, numbers, columns)
        *_, found = reader.parts.values()
    except (ValueError, KeyError, IndexError, TypeError, AttributeError, InvalidOperation, RecursionError) as error:
        raise Unreadable(str(error)) from error
    if not isinstance(found, Specification):
        raise Unreadable("it ends in another part")
    return found


class _Writer:
    """Parts by their height, so that what a part is made of comes before it. Those of one class and height stand
    together: a column of their numbers, and one for each field."""

    def __init__(self) -> None:
        self.shapes: dict[str, Sequence[Shape]] = {}
        self._rows: list[tuple[int, int, list[object]]] = []  # of each part its height, its class and its fields
        self._below = 0  # the greatest height so far among parts that the one at hand is made of
        self._classes: dict[type, int] = {}
        self._numbers: dict[int, int] = {}
        self._equal: dict[str, int] = {}

    def columns(self) -> list[list[object]]:
        together: dict[tuple[int, int], list[int]] = {}
        for number, (height, kind, _) in enumerate(self._rows):
            together.setdefault((height, kind), []).append(number)
        return [
            [kind, numbers, *zip(*[self._rows[number][2] for number in numbers], strict=True)]
            for (_, kind), numbers in sorted(together.items())
        ]

    def reference(self, part: Any) -> int:
        number = self._numbers.get(id(part))
        if number is None:
            number = self._numbers[id(part)] = self._written(part)
        self._below = max(self._below, self._rows[number][0])
        return number

    def _written(self, part: Any) -> int:
        kind: Any = type(part)
        if kind not in self._classes:
            self._classes[kind] = len(self._classes)
            self.shapes[kind.__name__] = _shapes(kind)
        beside, self._below = self._below, 0
        row = self.values([getattr(part, name) for name in _names(kind)])
        height, self._below = self._below + 1, beside
        number = self._equal.setdefault(repr((kind, row)), len(self._rows))
        if number == len(self._rows):
            self._rows.append((height, self._classes[kind], row))
        return number

    def values(self, values: Iterable[Any]) -> list[object]:
        return [each if type(each) in _AS_IT_IS else self.value(each) for each in values]

    def value(self, value: Any) -> object:
        kind = type(value)
        if kind is Decimal or kind is Fraction:
            return str(value)
        if kind is tuple or issubclass(kind, list):
            return self.values(value)
        if issubclass(kind, Enum):
            return value.name
        if issubclass(kind, Mapping):
            return dict(zip(map(str, value), self.values(value.values()), strict=True))
        return sorted(value) if kind is frozenset else self.reference(value)


class _Reader:
    def __init__(self, functions: Mapping[str, Function]) -> None:
        self.parts: dict[int, Any] = {}
        self._functions = functions

    def takers(self, name: str, shapes: Sequence[Shape]) -> tuple[type, Sequence[Take]]:
        """A class of part, and for each of its fields what takes it."""
        kind = _classes()[name]
        if len(shapes) != len(_names(kind)):
            raise Unreadable(f"{name} has other fields")
        return kind, [self._taker(shape) for shape in shapes]

    def take(self, kind: type, takers: Sequence[Take], numbers: Column, columns: Sequence[Column]) -> None:
        """Make parts of one class."""
        made = [take(column) for take, column in zip(takers, columns, strict=True)]
        if LIVE in kind.__annotations__:
            made.append([self._functions] * len(numbers))
        if {*map(len, made)} != {len(numbers)}:
            raise Unreadable(f"there are columns of {kind.__name__} that are not of one length")
        self.parts.update(zip(numbers, map(kind, *made), strict=True))

    def _taker(self, shape: Shape) -> Take:
        if isinstance(shape, str):
            if shape in _PLAIN:
                return partial(_all, _PLAIN[shape])
            number = {"decimal": Decimal, "fraction": Fraction}[shape]
            return lambda column: [number(value) for value in _all(str, column)]
        word, *about = shape
        if word == "part":
            return self._part({_classes()[name] for name in about})
        if word == "choice":
            choices = _classes()[about[0]].__members__  # type: ignore[attr-defined]  # an enumeration
            return lambda column: [choices[value] for value in _all(str, column)]
        if word == "all":
            each_of = [self._taker(each) for each in about]
            return lambda column: _side_by_side(each_of, _all(list, column))
        take = self._taker(about[0])
        if word == "maybe":
            return lambda column: _where_there(take, column)
        if word == "each":
            return lambda column: [*map(tuple, _all_below(take, _all(list, column)))]
        if word == "set":
            return lambda column: [*map(frozenset, _all_below(take, _all(list, column)))]
        if word == "by name":
            return lambda column: [
                *map(dict, map(zip, column, _all_below(take, [each.values() for each in _all(dict, column)])))
            ]
        raise Unreadable(f"{word} is no shape")

    def _part(self, kinds: set[type]) -> Take:
        def take(column: Column) -> Column:
            found = [self.parts[number] for number in _all(int, column)]
            if other := {*map(type, found)} - kinds:
                raise Unreadable(f"{other} where {kinds} is needed")
            return found

        return take


def _all(kind: type, column: Column) -> Column:
    """The values of a column, which have to be of just this type."""
    if other := {*map(type, column)} - {kind}:
        raise Unreadable(f"{other} where {kind} is needed")
    return column


def _where_there(take: Take, column: Column) -> Column:
    taken = iter(take([value for value in column if value is not None]))
    return [None if value is None else next(taken) for value in column]


def _all_below(take: Take, column: Sequence[Collection[Any]]) -> Iterator[Iterator[Any]]:
    """What the values in some collections come to, taken together as one column: those of each, to be had in turn."""
    taken = iter(take([*chain.from_iterable(column)]))
    return (islice(taken, number) for number in map(len, column))


def _side_by_side(takers: Sequence[Take], column: Column) -> Column:
    """Lists that are all of one length, with a kind for each place."""
    places = zip(*column, strict=True) if column else ((),) * len(takers)
    taken = [take(place) for take, place in zip(takers, places, strict=True)]
    return [*zip(*taken, strict=True)]


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
