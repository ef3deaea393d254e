"""Numbers with units: what people write on the bench, read exactly or refused with a suggestion."""

from .dimension import (
    ACCELERATION,
    ANGLE,
    AREA,
    DENSITY,
    FLOW,
    FORCE,
    LENGTH,
    MASS,
    NUMBER,
    PER_TEMPERATURE,
    POWER,
    PRESSURE,
    ROTATION,
    SPEED,
    STIFFNESS,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TIME,
    TORQUE,
    UNBALANCE,
    VOLUME,
    Dimension,
)
from .meant import NO_UNIT
from .nearest import nearest
from .number import CONTEXT, is_zero, places_to_agree, show
from .refusal import Refusal
from .table import UNITS, find_unit
from .units import Unit
from .written import Bracket, Exact, Open, Written, read_written

__all__ = [
    "ACCELERATION",
    "ANGLE",
    "AREA",
    "CONTEXT",
    "DENSITY",
    "FLOW",
    "FORCE",
    "LENGTH",
    "MASS",
    "NO_UNIT",
    "NUMBER",
    "PER_TEMPERATURE",
    "POWER",
    "PRESSURE",
    "ROTATION",
    "SPEED",
    "STIFFNESS",
    "TEMPERATURE",
    "TEMPERATURE_DIFFERENCE",
    "TIME",
    "TORQUE",
    "UNBALANCE",
    "UNITS",
    "VOLUME",
    "Bracket",
    "Dimension",
    "Exact",
    "Open",
    "Refusal",
    "Unit",
    "Written",
    "find_unit",
    "is_zero",
    "nearest",
    "places_to_agree",
    "read_written",
    "show",
]
