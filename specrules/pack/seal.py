"""The seal of a specification: one digest of all that is judged by, whatever the files say it in and in which order.

Every field of every part goes in, but for those listed here; a new one goes in by itself.

Functions go in by name; what they do is the program's version, and the plugins'.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields, is_dataclass
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from functools import cache
from hashlib import sha256
from json import JSONEncoder
from types import NoneType
from typing import Any

from specrules.document import Text
from specrules.formula import Axis, Formula, Scope
from specrules.pack.capability import Capability
from specrules.pack.holding_parts import HoldsFor, Validity
from specrules.pack.specification import (
    Fact,
    Figure,
    GaugeClass,
    HouseMargin,
    LimitLine,
    Measurand,
    Operation,
    PackTable,
    Rule,
    RuleChain,
    SignOff,
    Specification,
    Step,
    Way,
)
from specrules.quantity import Unit

WORDS = ("title", "group", "because", "caution", "note", "source")
"""For a reader; no verdict hangs on them."""

LEFT_OUT: Mapping[type, tuple[str, ...]] = {
    Specification: (
        "packs",
        "scope",
        "unit",
        "groups",
        "figures_hold_by",
        "examples_assume",
        "lessons",
        "exercises",
        "ledger",
        "seal",
        "axes_amended",
        "labels_borne",
        "sold",  # what there is to buy, for remedies
        "lengths_in",
        "written",
    ),
    Axis: ("lies",),
    Fact: (*WORDS, "question", "why"),
    Measurand: (*WORDS, "how"),
    GaugeClass: (*WORDS, "sources", "by_size_sources"),
    Figure: WORDS,
    Way: (),
    SignOff: WORDS,
    LimitLine: (*WORDS, "pack", "written"),
    PackTable: (*WORDS, "pack"),
    HoldsFor: ("unit",),
    Validity: ("pack", "title"),
    Step: ("do",),
    HouseMargin: ("pack", "text"),
    Rule: (*WORDS, "pack", "remedy", "otherwise", "does_not_test", "worked", "reasons"),
    RuleChain: ("versions",),
    Operation: WORDS,
    Formula: ("text",),
    Scope: ("functions",),
    Capability: (),
    Unit: ("in_inches", "in_millimetres"),
}
"""What does not go in: words, worked examples, names of packs, and what the rest is made from."""


_quoted = JSONEncoder().encode


def seal_of(specification: Specification) -> str:
    """The digest (SHA-256, in hexadecimal digits) of all that a specification is judged by."""
    return sha256(f"seal/1\n{_text(specification, {})}".encode()).hexdigest()


def _text(value: Any, known: dict[int, str]) -> str:
    """A part as JSON with its kind before its fields; mappings go in by key, whatever the order. `known`: by identity
    the texts of parts so far, for most stand in many others."""
    write = _WRITTEN.get(type(value))
    if write is not None:
        return write(value)
    text = known.get(id(value))
    if text is None:
        text = known[id(value)] = _anew(value, known)
    return text


def _anew(value: Any, known: dict[int, str]) -> str:
    if isinstance(value, Enum):
        return _quoted(value.name)
    if isinstance(value, Mapping):
        return f"{{{','.join(f'{_quoted(key)}:{_text(value[key], known)}' for key in sorted(value))}}}"
    if isinstance(value, frozenset):
        return _list(map(_quoted, sorted(value)))
    if type(value) is tuple or isinstance(value, list):
        return _list([_text(each, known) for each in value])
    if isinstance(value, RuleChain):  # packs of equal say are in no order
        governing = sorted([_text(each, known) for each in value.governing])
        return _list([_quoted(value.name), _list(map(_quoted, governing))])
    kind: Any = type(value)
    return _list([_quoted(kind.__name__), *[_text(getattr(value, name), known) for name in _fields(kind)]])


def _list(texts: Iterable[str]) -> str:
    return f"[{','.join(texts)}]"


def _decimal(value: Decimal) -> str:
    text = format(value, "f")
    return _quoted((text.rstrip("0").rstrip(".") if "." in text else text) or "0")


_WRITTEN: Mapping[type, Callable[[Any], str]] = {
    NoneType: lambda _: "null",
    bool: lambda value: "true" if value else "false",
    int: str,
    str: _quoted,
    Text: _quoted,
    Decimal: _decimal,
    Fraction: lambda value: _quoted(str(value)),
}


@cache
def _fields(kind: Any) -> tuple[str, ...]:
    """The fields of a part that go in."""
    names = [each.name for each in fields(kind) if each.init] if is_dataclass(kind) else list(kind._fields)
    left_out = LEFT_OUT.get(kind, ())
    return tuple(name for name in names if name not in left_out and name != "place")
