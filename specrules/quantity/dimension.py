"""What kind of quantity a number is: exponents over the base units mm, g, s, deg and degree Celsius."""

from typing import NamedTuple


class Dimension(NamedTuple):
    """Exponents of the base units; `point` tells a temperature on the scale (20 C) from a difference (20 K).

    Force is g mm/s2, so a newton is 1e6. Angle counts as a base: a degree is not a bare number.
    """

    length: int = 0
    mass: int = 0
    time: int = 0
    angle: int = 0
    temperature: int = 0
    point: bool = False

    def times(self, other: "Dimension") -> "Dimension":
        """The dimension of a product. A point has no products: the caller refuses one before it asks."""
        return Dimension._make((*map(int.__add__, self[:5], other[:5]), False))

    def over(self, other: "Dimension") -> "Dimension":
        """The dimension of a quotient."""
        return self.times(other.power(-1))

    def power(self, exponent: int) -> "Dimension":
        """The dimension of a whole power."""
        return Dimension._make((*(mine * exponent for mine in self[:5]), False))

    def root(self) -> "Dimension | None":
        """The dimension of a square root, or None where an exponent is odd."""
        if any(mine % 2 for mine in self[:5]):
            return None
        return Dimension._make((*(mine // 2 for mine in self[:5]), False))

    def words(self) -> str:
        """Its name ('pressure'), or base units with exponents where there is none ('mm^4')."""
        return _WORDS.get(self) or " ".join(
            base if exponent == 1 else f"{base}^{exponent}"
            for base, exponent in zip(_BASES, self[:5], strict=True)
            if exponent
        )


_BASES = ("mm", "g", "s", "deg", "K")

NUMBER = Dimension()
LENGTH = Dimension(length=1)
AREA = LENGTH.power(2)
VOLUME = LENGTH.power(3)
MASS = Dimension(mass=1)
TIME = Dimension(time=1)
ANGLE = Dimension(angle=1)
TEMPERATURE = Dimension(temperature=1, point=True)
TEMPERATURE_DIFFERENCE = Dimension(temperature=1)
PER_TEMPERATURE = TEMPERATURE_DIFFERENCE.power(-1)
SPEED = LENGTH.over(TIME)
ACCELERATION = SPEED.over(TIME)
FORCE = MASS.times(ACCELERATION)
TORQUE = FORCE.times(LENGTH)
PRESSURE = FORCE.over(AREA)
VISCOSITY = PRESSURE.times(TIME)
STIFFNESS = FORCE.over(LENGTH)
POWER = TORQUE.over(TIME)
ROTATION = ANGLE.over(TIME)
DENSITY = MASS.over(VOLUME)
UNBALANCE = MASS.times(LENGTH)
FLOW = VOLUME.over(TIME)

_WORDS = {
    NUMBER: "number",
    LENGTH: "length",
    AREA: "area",
    VOLUME: "volume",
    MASS: "mass",
    TIME: "time",
    ANGLE: "angle",
    TEMPERATURE: "temperature",
    TEMPERATURE_DIFFERENCE: "temperature difference",
    PER_TEMPERATURE: "change per degree of temperature",
    SPEED: "speed",
    ACCELERATION: "acceleration",
    FORCE: "force",
    TORQUE: "torque",
    PRESSURE: "pressure",
    VISCOSITY: "viscosity",
    STIFFNESS: "stiffness",
    POWER: "power",
    ROTATION: "rotation",
    DENSITY: "density",
    UNBALANCE: "unbalance",
    FLOW: "flow",
}
