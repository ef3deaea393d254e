"""A formula that has been parsed, checked and compiled to an operator tree: plain data."""

from __future__ import annotations

from dataclasses import dataclass

from specrules.formula.operators import NOTHING, Hanging, Operator
from specrules.formula.scope import Kind
from specrules.quantity import Dimension


@dataclass(frozen=True, slots=True)
class Formula:
    """A checked formula for stations of `each`. `exact`: decimals alone take part in it.

    `hanging`: what of a station it hangs on; where that is the same, so is what it comes to.
    """

    text: str
    each: tuple[str, ...]
    kind: Kind
    dimension: Dimension
    names: frozenset[str]
    exact: bool
    hanging: Hanging
    operators: Operator

    @property
    def same_everywhere(self) -> bool:
        """Whether it comes to the same at every station: it hangs on nothing of one."""
        return self.hanging == NOTHING
