"""A formula that has been parsed, checked and compiled to an operator tree: plain data."""

from __future__ import annotations

from dataclasses import dataclass

from specrules.formula.operators import Operator
from specrules.formula.scope import Kind
from specrules.quantity import Dimension


@dataclass(frozen=True, slots=True)
class Formula:
    """A checked formula for stations of `each`. `exact`: decimals alone take part in it.

    `same_everywhere`: nothing that it reads lies along an axis, so that it comes to the same at every station.
    """

    text: str
    each: tuple[str, ...]
    kind: Kind
    dimension: Dimension
    names: frozenset[str]
    exact: bool
    same_everywhere: bool
    operators: Operator
