"""The crank and what it moves: a piston's place, speed and acceleration, what it sweeps, and what balances it.

Angles are crank degrees after the piston's highest place, as a positive stop finds it. With an offset pin that is not
where the crank stands upright. The pin's offset is positive to the major thrust side. The stroke is twice the throw.
"""

from typing import NamedTuple

from specrules.formula import PI
from specrules.quantity import ACCELERATION, ANGLE, LENGTH, MASS, NUMBER, ROTATION, SPEED, VOLUME
from specrules.trade.sloped import DEGREE, Sloped, cosine, function, nothing_less, refuse, root, sine


class _Crank(NamedTuple):
    """A crank, rod and pin at one angle: throw, how far the crankpin is out and up, and the rod's lean and height."""

    throw: Sloped
    out: Sloped
    up: Sloped
    lean: Sloped
    height: Sloped
    top: Sloped


def _crank(angle: Sloped, stroke: Sloped, rod_length: Sloped, pin_offset: Sloped) -> _Crank:
    nothing_less(stroke=stroke, rod_length=rod_length)
    throw = stroke / 2
    longest = rod_length + throw
    refuse(rod_length <= throw + abs(pin_offset.value), "the rod is too short to turn over")
    sine_at_top = -pin_offset / longest
    cosine_at_top = root(1 - sine_at_top**2)
    out = throw * (sine_at_top * cosine(angle) + cosine_at_top * sine(angle))
    up = throw * (cosine_at_top * cosine(angle) - sine_at_top * sine(angle))
    lean = out + pin_offset
    return _Crank(throw, out, up, lean, root(rod_length**2 - lean**2), longest * cosine_at_top)


@function(ANGLE, LENGTH, LENGTH, LENGTH, gives=LENGTH, exact=False)
def piston_travel_at(angle: Sloped, stroke: Sloped, rod_length: Sloped, pin_offset: Sloped) -> Sloped:
    """How far the piston is below its highest place.

    Source: Internal Combustion Engine Fundamentals, 1988, equation 2.5, from memory; with the pin's offset by
    the same triangle.
    """
    at = _crank(angle, stroke, rod_length, pin_offset)
    return at.top - at.up - at.height


@function(ANGLE, LENGTH, LENGTH, LENGTH, ROTATION, gives=SPEED, exact=False)
def piston_speed_at(angle: Sloped, stroke: Sloped, rod_length: Sloped, pin_offset: Sloped, rotation: Sloped) -> Sloped:
    """How fast the piston goes, downwards positive.

    Source: Internal Combustion Engine Fundamentals, 1988, equation 2.11, which is this without an offset.
    """
    at = _crank(angle, stroke, rod_length, pin_offset)
    return (at.out + at.lean * at.up / at.height) * rotation * DEGREE


@function(ANGLE, LENGTH, LENGTH, LENGTH, ROTATION, gives=ACCELERATION, exact=False)
def piston_acceleration_at(
    angle: Sloped, stroke: Sloped, rod_length: Sloped, pin_offset: Sloped, rotation: Sloped
) -> Sloped:
    """How fast the piston's speed grows, downwards positive.

    Source: the derivative of the speed, at an even turning speed.
    """
    at = _crank(angle, stroke, rod_length, pin_offset)
    along = at.lean * at.up / at.height
    swing = (at.up**2 - at.lean * at.out + along**2) / at.height
    return (at.up + swing) * (rotation * DEGREE) ** 2


@function(LENGTH, ROTATION, gives=SPEED)
def mean_speed_of_piston(stroke: Sloped, rotation: Sloped) -> Sloped:
    """Two strokes a turn.

    Source: Internal Combustion Engine Fundamentals, 1988, equation 2.9, from memory.
    """
    return stroke * 2 * rotation / 360


@function(ANGLE, LENGTH, LENGTH, LENGTH, LENGTH, gives=VOLUME, exact=False)
def swept_after(closing: Sloped, bore: Sloped, stroke: Sloped, rod_length: Sloped, pin_offset: Sloped) -> Sloped:
    """What is left to sweep once the intake has closed, `closing` after half a turn from the piston's highest place.

    Only the closing at the seat says when the cylinder is shut; a closing at a checking lift reads falsely high.

    Source: the piston's place by exact geometry, times the cylinder's area.
    """
    nothing_less(bore=bore)
    refuse(closing < -180 or closing > 180, "the intake closes within half a turn of 180 deg")
    at = _crank(closing + 180, stroke, rod_length, pin_offset)
    return bore**2 * (PI / 4) * (at.top - at.up - at.height)


@function(MASS, MASS, MASS, NUMBER, NUMBER, gives=MASS)
def bobweight_of(reciprocating: Sloped, rotating: Sloped, oil: Sloped, rods: Sloped, share: Sloped) -> Sloped:
    """What is hung on a crankpin to balance it: the weights of one cylinder, times the rods on the pin, and oil once.

    `share` of the reciprocating weight is carried: a half where two rods of a 90-degree V share a pin. Shells count
    once for each rod, in `rotating`.

    Source: common practice; the share of other layouts is the crank maker's to say.
    """
    refuse(min(reciprocating.value, rotating.value, oil.value) < 0, "a weight is less than nothing")
    refuse(rods < 1, "there is no rod on the pin")
    refuse(share < 0 or share > 1, "the share is from 0 to 1")
    return rods * (rotating + share * reciprocating) + oil
