"""The slope that a function of others states, held against how it really moves, at the very point where it is used.

A slope that is too small makes a value surer than it is. At a kink any slope between those of its two sides is right;
where the function is flat, as between the steps of a table, any is: none makes the value too sure there.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import Decimal

STEP = Decimal("1e-5")
"""How far it is moved to either side, as a share of the argument (of one base unit where that is zero)."""
TOLERANCE = 0.05
"""How much a stated slope may be off, as a share of the slope: U is then off by as much at most."""
NOISE = 1e-6
"""What may be lost to binary arithmetic: this share of the value over the argument."""


def moves_by(value: Callable[..., Decimal | None], at: Sequence[Decimal], number: int, stated: float) -> float | None:
    """How the function moves with the argument of that number, where its stated slope is wrong; None where it is not.

    `value` gives None outside its domain; where it has a value on neither side nothing can be said.
    """
    here, scale = value(*at), float(abs(at[number])) or 1.0
    step = Decimal(scale) * STEP
    slopes: list[float] = []
    for by in (step, -step):
        there = value(*at[:number], at[number] + by, *at[number + 1 :])
        if here is not None and there is not None:
            slopes.append(float((there - here) / by))
    if here is None or not any(slopes):
        return None
    room = TOLERANCE * max(map(abs, slopes)) + NOISE * abs(float(here)) / scale
    if min(slopes) - room <= stated <= max(slopes) + room:
        return None
    return max(slopes, key=abs)
