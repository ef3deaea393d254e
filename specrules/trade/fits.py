"""Bolts, press fits and heat: stress area, stretch, preload, Lame's pressure, growth."""

from __future__ import annotations

from decimal import Decimal

from specrules.formula import PI
from specrules.quantity import AREA, FORCE, LENGTH, NUMBER, PER_TEMPERATURE, PRESSURE, TEMPERATURE_DIFFERENCE, TORQUE
from specrules.trade.sloped import Sloped, function, nothing_less, refuse

_METRIC = Decimal("0.938194")  # half of 0.649519 and 1.226869: the mean of pitch and minor diameters, in pitches
_UNIFIED = Decimal("0.9743")


def _stress_area(diameter: Sloped, pitch: Sloped, depth: Decimal) -> Sloped:
    nothing_less(diameter=diameter, pitch=pitch)
    core = diameter - pitch * depth
    refuse(core <= 0, "the pitch is too coarse for the diameter")
    return core**2 * (PI / 4)


@function(LENGTH, LENGTH, gives=AREA)
def metric_stress_area(diameter: Sloped, pitch: Sloped) -> Sloped:
    """Stress area of an ISO metric thread, on the mean of its pitch and minor diameters.

    Source: ISO 898-1, clause 9.1.6.1, from memory; pi/4 ((d2 + d3)/2)^2.
    """
    return _stress_area(diameter, pitch, _METRIC)


@function(LENGTH, LENGTH, gives=AREA)
def unified_stress_area(diameter: Sloped, pitch: Sloped) -> Sloped:
    """Stress area of a Unified thread: pi/4 (d - 0.9743 p)^2.

    Source: Mechanical Engineering Design, 9th edition, table 8-2.
    """
    return _stress_area(diameter, pitch, _UNIFIED)


@function(FORCE, LENGTH, AREA, PRESSURE, gives=LENGTH)
def bolt_stretch_at(load: Sloped, length: Sloped, area: Sloped, modulus: Sloped) -> Sloped:
    """How much longer one section of a bolt is under a load. Add up the sections of a waisted one.

    Source: Hooke's law; Mechanical Engineering Design, 9th edition, table 8-7, is its sum over two sections.
    """
    nothing_less(length=length, area=area, modulus=modulus)
    return load * length / (area * modulus)


@function(TORQUE, NUMBER, LENGTH, gives=FORCE)
def bolt_load_at(torque: Sloped, nut_factor: Sloped, diameter: Sloped) -> Sloped:
    """What a torque pulls, by a nut factor that holds friction, lubricant and thread in one number: T / (K d).

    It is a coarse stand-in: a quarter more or less in a dry thread is common. Stretch tells better.

    Source: Mechanical Engineering Design, 9th edition, with K of table 8-15.
    """
    nothing_less(nut_factor=nut_factor, diameter=diameter)
    return torque / (nut_factor * diameter)


def _fits(size: Sloped, interference: Sloped, hub_outside: Sloped, shaft_inside: Sloped) -> None:
    nothing_less(size=size)
    refuse(interference < 0, "there is a clearance, so nothing presses")
    refuse(hub_outside <= size, "the hub is no wider than the shaft")
    refuse(shaft_inside < 0 or size <= shaft_inside, "the shaft has no wall")


@function(LENGTH, LENGTH, LENGTH, LENGTH, PRESSURE, gives=PRESSURE)
def press_pressure(
    size: Sloped, interference: Sloped, hub_outside: Sloped, shaft_inside: Sloped, modulus: Sloped
) -> Sloped:
    """The pressure of a hub on a shaft of the same stuff, from the interference on the diameter. A solid shaft has an
    inside of `0 in`. Thick rings, elastic, no taper, long enough that the ends do not matter.

    Source: Mechanical Engineering Design, 8th edition, section 3-16, from memory (Lame's rings).
    """
    _fits(size, interference, hub_outside, shaft_inside)
    nothing_less(modulus=modulus)
    outer, middle, inner = hub_outside**2, size**2, shaft_inside**2
    return modulus * interference * (outer - middle) * (middle - inner) / (size**3 * (outer - inner) * 2)


@function(LENGTH, LENGTH, LENGTH, PRESSURE, NUMBER, LENGTH, PRESSURE, NUMBER, gives=PRESSURE)
def press_pressure_of_two(
    size: Sloped,
    interference: Sloped,
    hub_outside: Sloped,
    hub_modulus: Sloped,
    hub_poisson: Sloped,
    shaft_inside: Sloped,
    shaft_modulus: Sloped,
    shaft_poisson: Sloped,
) -> Sloped:
    """The same for a hub and a shaft of two materials, each with its modulus and Poisson's ratio.

    Source: Mechanical Engineering Design, 8th edition, section 3-16, from memory (Lame's rings).
    """
    _fits(size, interference, hub_outside, shaft_inside)
    nothing_less(hub_modulus=hub_modulus, shaft_modulus=shaft_modulus)
    for ratio in (hub_poisson, shaft_poisson):
        refuse(ratio < 0 or ratio > Decimal("0.5"), "Poisson's ratio is from 0 to 0.5")
    outer, middle, inner = hub_outside**2, size**2, shaft_inside**2
    hub = ((outer + middle) / (outer - middle) + hub_poisson) / hub_modulus
    shaft = ((middle + inner) / (middle - inner) - shaft_poisson) / shaft_modulus
    return interference / (size * (hub + shaft))


@function(LENGTH, PER_TEMPERATURE, TEMPERATURE_DIFFERENCE, gives=LENGTH)
def growth_of(length: Sloped, expansion: Sloped, rise: Sloped) -> Sloped:
    """How much a length grows as its temperature rises, free to grow.

    Source: the definition of the coefficient; handbooks differ by an eighth on what it is for plain steel.
    """
    return length * expansion * rise
