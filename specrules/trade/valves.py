"""The valve train: net lift, springs, the preload that a moved pivot gives, and the cam's place by its keys."""

from __future__ import annotations

from decimal import ROUND_HALF_DOWN

from specrules.quantity import ANGLE, FORCE, LENGTH, NUMBER, PRESSURE, STIFFNESS
from specrules.trade.sloped import Sloped, function, nothing_less, refuse


@function(LENGTH, NUMBER, LENGTH, gives=LENGTH)
def lift_at_valve(lobe_lift: Sloped, rocker_ratio: Sloped, lash: Sloped) -> Sloped:
    """How far the valve opens: the lobe's lift times the ratio, less the lash at the valve.

    Source: common practice.
    """
    nothing_less(rocker_ratio=rocker_ratio)
    refuse(lash < 0, "the lash is less than nothing")
    lift = lobe_lift * rocker_ratio - lash
    refuse(lift < 0, "the lash takes up the whole lift")
    return lift


@function(LENGTH, LENGTH, FORCE, STIFFNESS, gives=FORCE)
def spring_load_at(height: Sloped, fitted_height: Sloped, fitted_load: Sloped, rate: Sloped) -> Sloped:
    """A spring's load at a height, from its load at another and its rate, which is taken as constant.

    Source: Hooke's law.
    """
    nothing_less(height=height, rate=rate)
    load = fitted_load + rate * (fitted_height - height)
    refuse(load < 0, "the spring is loose at that height")
    return load


@function(LENGTH, LENGTH, NUMBER, PRESSURE, gives=STIFFNESS)
def spring_rate_of(wire: Sloped, mean_diameter: Sloped, active_coils: Sloped, shear_modulus: Sloped) -> Sloped:
    """The rate of a coil spring of round wire: G d^4 / (8 D^3 n). The mean diameter runs through the wire's centre.

    Source: Mechanical Engineering Design, 9th edition, equation 10-9, from memory.
    """
    nothing_less(wire=wire, active_coils=active_coils, shear_modulus=shear_modulus)
    refuse(mean_diameter <= wire, "the coil is no wider than its wire")
    return shear_modulus * wire**4 / (mean_diameter**3 * active_coils * 8)


@function(LENGTH, NUMBER, gives=LENGTH)
def plunger_moves(pivot_travel: Sloped, rocker_ratio: Sloped) -> Sloped:
    """How far a lifter's plunger moves when the rocker's pivot is moved and the valve stays shut.

    The rocker tilts about the valve's tip: the pushrod's end moves more than the pivot, (1 + 1/ratio) times.

    Source: the geometry of a lever; much printed advice leaves it out.
    """
    nothing_less(rocker_ratio=rocker_ratio)
    return pivot_travel * (1 + 1 / rocker_ratio)


@function(LENGTH, NUMBER, LENGTH, gives=ANGLE)
def pivot_turn_for(plunger_travel: Sloped, rocker_ratio: Sloped, pitch: Sloped) -> Sloped:
    """How far to turn the nut or bolt of a pivot, of that thread pitch, for a travel of the lifter's plunger.

    Source: the geometry of a lever and of a thread.
    """
    nothing_less(rocker_ratio=rocker_ratio, pitch=pitch)
    return plunger_travel / (1 + 1 / rocker_ratio) / pitch * 360


@function(ANGLE, gives=ANGLE)
def crank_degrees_of(cam_degrees: Sloped) -> Sloped:
    """Crank degrees of cam degrees: the crank turns twice while the cam turns once.

    Source: the four-stroke cycle.
    """
    return cam_degrees * 2


def _key(centreline: Sloped, wanted: Sloped, step: Sloped, furthest: Sloped) -> Sloped:
    nothing_less(step=step)
    refuse(furthest < 0, "the furthest key is from 0 upwards")
    most = int(furthest.value / step.value)
    keys = int(((centreline - wanted).value / step.value).to_integral_value(ROUND_HALF_DOWN))
    return step * max(-most, min(most, keys))


@function(ANGLE, ANGLE, ANGLE, ANGLE, gives=ANGLE)
def key_nearest(centreline: Sloped, wanted: Sloped, step: Sloped, furthest: Sloped) -> Sloped:
    """The key position that brings the cam nearest: of those every `step`, as far as `furthest` both ways.

    Crank degrees; a positive key advances the cam, which lowers its intake centreline. Of two as near, the smaller
    move. Which key it is does not move with the centreline until it jumps: judge `centreline_with_key` instead.

    Source: common practice.
    """
    return _key(centreline, wanted, step, furthest)


@function(ANGLE, ANGLE, ANGLE, ANGLE, gives=ANGLE)
def centreline_with_key(centreline: Sloped, wanted: Sloped, step: Sloped, furthest: Sloped) -> Sloped:
    """Where the intake centreline then lies, with the key position that brings it nearest to the wanted one.

    Source: common practice.
    """
    return centreline - _key(centreline, wanted, step, furthest)
