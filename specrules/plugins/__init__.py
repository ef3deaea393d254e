"""What others may add: packs, functions, units, kinds of gauge, forms of output. A plugin at fault is set aside."""

from specrules.formula import Function, takes
from specrules.plugins.hookspecs import GROUP, hookimpl
from specrules.plugins.installed_plugins import Found, installed
from specrules.plugins.manager import beside, plug
from specrules.plugins.offers import Around, Embedded, Form, Gauge, Plugged, Record
from specrules.quantity import (
    ANGLE,
    AREA,
    FORCE,
    LENGTH,
    MASS,
    NUMBER,
    PRESSURE,
    ROTATION,
    SPEED,
    STIFFNESS,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TIME,
    TORQUE,
    VOLUME,
    Dimension,
    Unit,
)

__all__ = [
    "ANGLE",
    "AREA",
    "FORCE",
    "GROUP",
    "LENGTH",
    "MASS",
    "NUMBER",
    "PRESSURE",
    "ROTATION",
    "SPEED",
    "STIFFNESS",
    "TEMPERATURE",
    "TEMPERATURE_DIFFERENCE",
    "TIME",
    "TORQUE",
    "VOLUME",
    "Around",
    "Dimension",
    "Embedded",
    "Form",
    "Found",
    "Function",
    "Gauge",
    "Plugged",
    "Record",
    "Unit",
    "beside",
    "hookimpl",
    "installed",
    "plug",
    "takes",
]
