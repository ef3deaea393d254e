"""The least oil film of a full, steadily loaded bearing, by numerical solutions that machine design books print.

The table is from memory: A Solution for the Finite Journal Bearing and its Application to Analysis and Design, ASLE
Transactions 1, 1958. It has no length between a quarter and a half of the diameter, where bearings of engines are, and
no place between eccentricities of 0.9 and 0.97: the columns of 0.4 and a third and the places of 0.95 are of our own
solution of Reynolds' equation (`tests/reference/reynolds_solver.py`), which comes within 1.3 % of the table up to 0.9
and within 3.5 % at 0.97. Between them runs a smooth, monotone curve over the logarithm of the characteristic number.

Against that solution the film comes out too thick, which is the unsafe side, by at most 0.006 of the radial clearance
and 2.5 % of itself for lengths of a quarter to a half of the diameter, 0.016 and 3.5 % up to the whole of it, 0.025 and
9 % beyond. A bearing of an engine is loaded anew at every angle: take this to compare two builds.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from decimal import Decimal
from functools import cache
from itertools import pairwise

from specrules.quantity import CONTEXT, FORCE, LENGTH, NUMBER, ROTATION, VISCOSITY
from specrules.trade.sloped import Sloped, function, logarithm, nothing_less, refuse

_ECCENTRIC = ("0.97", "0.95", "0.9", "0.8", "0.6", "0.4", "0.2", "0.1")
_TABLE = {  # diameter by length -> the characteristic number at each eccentricity ratio; an endless one stops at 0.9
    # 2.5, 3 and all at 0.95 are of our own solution, rounded
    Decimal(0): ("0.0115", "0.0210", "0.0389", "0.0626", "0.123", "0.240"),
    Decimal(1): ("0.00474", "0.00845", "0.0188", "0.0446", "0.121", "0.264", "0.631", "1.33"),
    Decimal(2): ("0.00609", "0.0119", "0.0313", "0.0923", "0.319", "0.779", "2.03", "4.31"),
    Decimal("2.5"): ("0.00708", "0.0142", "0.0396", "0.1247", "0.4631", "1.173", "3.074", "6.56"),
    Decimal(3): ("0.00807", "0.0167", "0.0494", "0.1642", "0.6373", "1.644", "4.346", "9.288"),
    Decimal(4): ("0.0101", "0.0230", "0.0736", "0.261", "1.07", "2.83", "7.57", "16.2"),
}
_LEAST = Decimal("0.0115")  # below it the table of the endless bearing says nothing

Knots = Sequence[Sloped]


def _between(along: Sloped, at: Knots, worth: Knots, last: Sloped | None = None) -> Sloped:
    """A smooth curve through knots that rise or fall throughout, which does so too. `last`: its slope at the end.

    Inner slopes are weighted harmonic means of the chords: A Method for Constructing Local
    Monotone Piecewise Cubic Interpolants, SIAM Journal on Scientific and Statistical Computing 5, 1984.
    """
    widths = [b - a for a, b in pairwise(at)]
    chords = [(b - a) / width for (a, b), width in zip(pairwise(worth), widths, strict=True)]
    inner = []
    for (wide, next_wide), (chord, next_chord) in zip(pairwise(widths), pairwise(chords), strict=True):
        one, other = next_wide * 2 + wide, next_wide + wide * 2
        inner.append((one + other) / (one / chord + other / next_chord))
    slopes = [chords[0], *inner, last or chords[-1]]
    right = min(bisect_right([knot.value for knot in at], along.value), len(widths))
    left = right - 1
    t = (along - at[left]) / widths[left]
    rise = t**2 * (3 - t * 2)
    bend = t * (1 - t) ** 2 * slopes[left] + t**2 * (t - 1) * slopes[right]
    return worth[left] + rise * (worth[right] - worth[left]) + bend * widths[left]


@cache
def _knots(which: Decimal) -> tuple[Knots, Knots]:
    """The table of one length: logarithms of the characteristic number, and film ratios."""
    numbers = _TABLE[which]
    films = [1 - Sloped(Decimal(ratio)) for ratio in _ECCENTRIC[-len(numbers) :]]
    return [Sloped(Decimal(number).ln(CONTEXT)) for number in numbers], films


def _film(number: Sloped, which: Decimal) -> Sloped:
    """Least film by radial clearance at one of the table's lengths. Lightly loaded, it nears 1 by 1 / number."""
    at, worth = _knots(which)
    greatest = Decimal(_TABLE[which][-1])
    if number > greatest:
        return 1 - (1 - worth[-1]) * greatest / number
    return _between(logarithm(number), at, worth, last=1 - worth[-1])


def _film_ratio(number: Sloped, diameter_by_length: Sloped) -> Sloped:
    """Least film by radial clearance, between the lengths by the same kind of curve over diameter by length.

    The authors' own cubic between them (Mechanical Engineering Design, 9th edition, equation 12-16) agrees for long
    bearings, but between a half and a quarter of the diameter a longer bearing would run on a thinner film by it.
    """
    refuse(diameter_by_length > 4, "the table is for lengths of a quarter of the diameter or more")
    refuse(number < _LEAST, "it is loaded more heavily than the table goes")
    return _between(diameter_by_length, [Sloped(which) for which in _TABLE], [_film(number, which) for which in _TABLE])


def _number(
    journal: Sloped, clearance: Sloped, length: Sloped, load: Sloped, viscosity: Sloped, rotation: Sloped
) -> Sloped:
    nothing_less(journal=journal, clearance=clearance, length=length, load=load, viscosity=viscosity, speed=rotation)
    return (journal / clearance) ** 2 * viscosity * (rotation / 360) * length * journal / load


@function(LENGTH, LENGTH, LENGTH, FORCE, VISCOSITY, ROTATION, gives=NUMBER)
def sommerfeld_of(
    journal: Sloped, clearance: Sloped, length: Sloped, load: Sloped, viscosity: Sloped, rotation: Sloped
) -> Sloped:
    """The bearing characteristic number (r/c)^2 mu N / P, with N in turns a second. The clearance is on the diameter.

    Source: Mechanical Engineering Design, 9th edition, equation 12-7, from memory.
    """
    return _number(journal, clearance, length, load, viscosity, rotation)


@function(LENGTH, LENGTH, LENGTH, FORCE, VISCOSITY, ROTATION, gives=LENGTH)
def oil_film_at(
    journal: Sloped, clearance: Sloped, length: Sloped, load: Sloped, viscosity: Sloped, rotation: Sloped
) -> Sloped:
    """The least film, by a table that is from memory and own figures between; see the head of this file. The clearance
    is on the diameter.

    Characteristic numbers from 0.0115 up, lengths from a quarter of the diameter up. For bearings of engines, a quarter
    to a half as long as wide, it may be too thick by 2.5 %, which is the unsafe side.

    Source: A Solution for the Finite Journal Bearing, ASLE Transactions 1, 1958, its table from memory.
    """
    number = _number(journal, clearance, length, load, viscosity, rotation)
    return _film_ratio(number, journal / length) * clearance / 2
