"""Functions of the engine trade, offered to formulas through the hook that plugins of others use."""

from pluggy import HookimplMarker

from specrules.formula import Function
from specrules.trade import crank, fits, oil_film, valves

FUNCTIONS: tuple[Function, ...] = tuple(
    each for room in (crank, valves, fits, oil_film) for each in vars(room).values() if isinstance(each, Function)
)


@HookimplMarker("specrules")
def functions() -> tuple[Function, ...]:
    """What formulas may call besides the functions of the language."""
    return FUNCTIONS
