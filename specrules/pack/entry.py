"""One mapping of a file as its declared parts: read by the declaration itself, in microseconds.

It knows good from bad and says no more. What is bad is told by `thorough`, whose models are made of the same
declarations; so a file without a fault never waits for them.
"""

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from inspect import get_annotations
from types import MappingProxyType, NoneType, UnionType, new_class
from typing import Annotated, Any, ClassVar, NamedTuple, Self, TypeVar, Union, get_args, get_origin

from specrules.document import Fields, Items, Place

REQUIRED: Any = object()
"""Stands for the default of a part that has none."""

Take = Callable[[Any], Any]
"""From a node to a value. Raises Unfit for a node that is no such thing."""


class Unfit(Exception):
    """A node is not what its place asks for. Never leaves the room."""


class Part(NamedTuple):
    """One key of a mapping: what it holds, what stands for it where it is left out, and what editors show."""

    key: str
    kind: Any
    default: Any
    description: str

    @property
    def required(self) -> bool:
        return self.default is REQUIRED


def part(default: Any = REQUIRED, *, description: str, key: str = "") -> Any:
    """Declares a part in the body of an Entry. key: where it is not the name with spaces."""
    return Part(key, None, default, description)


SomeEntry = TypeVar("SomeEntry", bound="Entry")


class Entry:
    """One mapping of a file. Its keys are the names of its parts with spaces; `place` is where it was written."""

    parts: ClassVar[Mapping[str, Part]] = MappingProxyType({})
    place: Place

    def __init_subclass__(cls, parts: Mapping[str, Part] = MappingProxyType({})) -> None:
        kinds = get_annotations(cls)
        written = {name: made for name, made in vars(cls).items() if isinstance(made, Part)}
        own = {name: made._replace(key=made.key or spaced(name), kind=kinds[name]) for name, made in written.items()}
        cls.parts = {**cls.parts, **own, **parts}

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"{type(self).__name__} is not to be changed")

    @classmethod
    def keys(cls) -> tuple[str, ...]:
        """The keys that may be written here."""
        return tuple(each.key for each in cls.parts.values())

    @classmethod
    def made(cls, place: Place, **parts: object) -> Self:
        """One that nobody wrote; what is not given is left out."""
        return _made(cls, {**{name: each.default for name, each in cls.parts.items()}, **parts, "place": place})

    def items(self) -> Iterator[tuple[str, Any]]:
        """The name and value of every part."""
        return ((name, getattr(self, name)) for name in self.parts)

    def changed(self, **parts: object) -> Self:
        """The same with other values for some parts."""
        return _made(type(self), {**vars(self), **parts})


def entry_of(name: str, base: type[SomeEntry], about: str | None, parts: Mapping[str, Part]) -> type[SomeEntry]:
    """An entry that no body declares."""
    return new_class(name, (base,), {"parts": parts}, lambda body: body.update(__doc__=about))


def spaced(name: str) -> str:
    """The key that a part's name stands for."""
    return name.replace("_", " ")


def taken(entry: type[SomeEntry], node: object) -> SomeEntry | None:
    """The node as that entry; None where anything in it is not as declared."""
    try:
        made: SomeEntry = _taker(entry)(node)  # type: ignore[arg-type]  # a class can be hashed
    except Unfit:
        return None
    return made


@cache
def _taker(kind: Any) -> Take:
    """What takes a node of a declared kind."""
    origin, inner = get_origin(kind), get_args(kind)
    if origin is Annotated:
        take = _taker(inner[0])
        for mark in inner[1:]:
            take = mark.take_with(take)
        return take
    if origin in (Union, UnionType):
        (some,) = (each for each in inner if each is not NoneType)
        take_some = _taker(some)
        return lambda node: None if node is None else take_some(node)
    if origin is tuple:
        take_each = _taker(inner[0])
        return lambda node: tuple([take_each(each) for each in _is(node, Items)])
    if origin is dict:
        take_key, take_value = map(_taker, inner)
        return lambda node: {take_key(key): take_value(value) for key, value in _is(node, Fields).items()}
    if issubclass(kind, Entry):
        return _entry_taker(kind)
    return lambda node: _is(node, kind)


def _entry_taker(entry: type[Entry]) -> Take:
    parts = [(name, each, _taker(each.kind)) for name, each in entry.parts.items()]
    by_key = {each.key: (name, take) for name, each, take in parts}
    defaults = {name: each.default for name, each, _ in parts if not each.required}
    required = frozenset(name for name, each, _ in parts if each.required)

    def take(node: object) -> Entry:
        tree: Fields = _is(node, Fields)
        values = {**defaults, "place": tree.place}
        for key, value in tree.items():
            known = by_key.get(key)
            if known is None:
                raise Unfit
            values[known[0]] = known[1](value)
        if not required <= values.keys():
            raise Unfit
        return _made(entry, values)

    return take


def _made(entry: type[SomeEntry], values: Mapping[str, object]) -> SomeEntry:
    made = entry.__new__(entry)
    vars(made).update(values)
    return made


def _is(node: Any, kind: type) -> Any:
    if not isinstance(node, kind):
        raise Unfit
    return node
