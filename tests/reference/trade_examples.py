"""A formula of the trade's functions, worked with written numbers alone."""

from __future__ import annotations

from specrules.formula import with_functions
from specrules.trade import FUNCTIONS
from tests.reference.formula_bench import Example

TRADE = with_functions(FUNCTIONS)


def worth(text: str, unit: str = "") -> float:
    """What a formula without names comes to, in a unit."""
    return Example({}, functions=TRADE).number(text, unit)
