"""The tree of a parsed formula. Nodes are plain tuples with the offset they were written at; they hold no objects."""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from specrules.quantity import Dimension


class Number(NamedTuple):
    """A number, or a quantity once its unit is taken in. `value` is in base units."""

    value: Decimal
    unit: str  # the unit's symbol, "" for a bare number
    dimension: Dimension | None  # None for a written 0, which is of any
    at: int


class Name(NamedTuple):
    """A name, with the labels picked on it: ("", label) where the axis is to be found, (axis, label) where said."""

    name: str
    picks: tuple[tuple[str, str], ...]
    at: int


class Negative(NamedTuple):
    """Minus something."""

    of: Node
    at: int


class Binary(NamedTuple):
    """Two operands and one of + - * /."""

    sign: str
    left: Node
    right: Node
    at: int


class Power(NamedTuple):
    """A power with a written exponent: a whole number or a half of one."""

    of: Node
    exponent: Decimal
    at: int


class Call(NamedTuple):
    """A function of the registry applied to its arguments."""

    function: str
    arguments: tuple[Node, ...]
    at: int


class Reduce(NamedTuple):
    """A reducer over an axis, or ("") over all that are left."""

    how: str
    of: Node
    axis: str
    at: int


class Choose(NamedTuple):
    """`then if condition else otherwise`."""

    then: Node
    condition: Node
    otherwise: Node
    at: int


class Compare(NamedTuple):
    """Two sides and one of == != < <= > >=."""

    sign: str
    left: Node
    right: Node
    at: int


class Logic(NamedTuple):
    """`and` or `or` of two conditions."""

    word: str
    left: Node
    right: Node
    at: int


class Not(NamedTuple):
    """The contrary of a condition."""

    of: Node
    at: int


Node = Number | Name | Negative | Binary | Power | Call | Reduce | Choose | Compare | Logic | Not
