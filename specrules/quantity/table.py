"""The closed table of units with exact factors. NIST SP 811 (2008), appendix B, where not metric."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from decimal import Decimal
from fractions import Fraction

from . import dimension as d
from .dimension import Dimension
from .refusal import Refusal
from .units import Table, Unclear, Unit

_INCH = Fraction("25.4")  # mm, exactly
_FOOT = 12 * _INCH
_POUND = Fraction("453.59237")  # g, exactly (avoirdupois)
_GRAVITY = Fraction("9806.65")  # mm/s2, exactly (standard acceleration of free fall)
_NEWTON = Fraction(10**6)  # g mm/s2
_LBF = _POUND * _GRAVITY
_KGF = 1000 * _GRAVITY
_HALF_TURN_IN_RADIANS = Fraction("3.14159265358979323846264338327950288419716939937510582097494")
_RADIAN = 180 / _HALF_TURN_IN_RADIANS
_FAHRENHEIT = Fraction(5, 9)

# symbol, factor, further names whose case matters, further names in any case
_Row = tuple[str, Fraction | int | str, str, str]
_ROWS: dict[Dimension, tuple[_Row, ...]] = {
    d.NUMBER: (
        ("%", Fraction(1, 100), "", "percent"),
        ("mm/mm", 1, "", "in/in, inch/inch"),
        ("mm/m", Fraction(1, 1000), "thou/in, um/mm", ""),
        ("um/m", Fraction(1, 10**6), "", ""),
        ("in/ft", Fraction(1, 12), "", "inch/foot"),
    ),
    d.LENGTH: (
        ("mm", 1, "", "millimetre, millimetres, millimeter, millimeters"),
        ("um", Fraction(1, 1000), "", "micron, microns, micrometre, micrometres"),
        ("cm", 10, "", "centimetre, centimetres, centimeter, centimeters"),
        ("m", 1000, "", "metre, metres, meter, meters"),
        ("in", _INCH, "\", ''", "in, ins, inch, inches"),
        ("thou", _INCH / 1000, "", "thou, thous, thousandth of an inch, thousandths of an inch"),
        ("tenths", _INCH / 10**4, "", ""),
        ("uin", _INCH / 10**6, "", "microinch, microinches"),
        ("ft", _FOOT, "", "ft, foot, feet"),
    ),
    d.AREA: (
        ("mm^2", 1, "sq mm", ""),
        ("cm^2", 100, "sq cm", ""),
        ("m^2", 10**6, "sq m", ""),
        ("in^2", _INCH**2, "", "in2, sq in"),
    ),
    d.VOLUME: (
        ("cc", 1000, "cm3, ml, mL, cu cm", "cc, ccs, millilitre, millilitres, milliliter, milliliters"),
        ("mm^3", 1, "cu mm", ""),
        ("L", 10**6, "l", "litre, litres, liter, liters"),
        ("m^3", 10**9, "cu m", ""),
        ("in^3", _INCH**3, "", "in3, cu in, ci, cid, cubic inch, cubic inches"),
    ),
    d.MASS: (
        ("g", 1, "gs", "gram, grams, gramme, grammes"),
        ("mg", Fraction(1, 1000), "", ""),
        ("kg", 1000, "", "kilo, kilos, kilogram, kilograms"),
        ("oz", _POUND / 16, "", "oz, ounce, ounces"),
        ("lb", _POUND, "lbm", ""),
    ),
    d.TIME: (
        ("s", 1, "", "sec, second, seconds"),
        ("ms", Fraction(1, 1000), "", ""),
        ("min", 60, "", "minute, minutes"),
        ("h", 3600, "", "hr, hour, hours"),
    ),
    d.ANGLE: (
        ("deg", 1, "", "deg, degs, degree, degrees"),
        ("rad", _RADIAN, "", "radian, radians"),
        ("rev", 360, "", "revolution, revolutions, turn, turns"),
    ),
    d.TEMPERATURE_DIFFERENCE: (
        ("K", 1, "C difference, degC difference, deg C difference", "kelvin, celsius difference"),
        ("degF_difference", _FAHRENHEIT, "F difference, deg F difference", "fahrenheit difference"),
    ),
    d.PER_TEMPERATURE: (
        ("1/K", 1, "/K, 1/C, /C, 1/degC, /degC, 1/deg C, /deg C, mm/mm/K, mm/mm/C, mm/mm K", ""),
        ("um/m/K", Fraction(1, 10**6), "um/m K, um/m/C, um/m C, um/m/degC, um/m degC, ppm/K, ppm/C", ""),
        ("1/degF", 1 / _FAHRENHEIT, "/degF, 1/F, /F, 1/deg F, /deg F, in/in/F, in/in F, in/in/degF", ""),
    ),
    d.SPEED: (
        ("m/s", 1000, "m/sec", ""),
        ("mm/s", 1, "", ""),
        ("ft/min", _FOOT / 60, "", "ft/min, fpm"),
        ("ft/s", _FOOT, "", "ft/s, ft/sec, fps"),
    ),
    d.ACCELERATION: (
        ("m/s^2", 1000, "m/s/s", ""),
        ("ft/s^2", _FOOT, "", "ft/s2, ft/s/s"),
    ),
    d.FORCE: (
        ("N", _NEWTON, "", "newton, newtons"),
        ("kN", 1000 * _NEWTON, "", ""),
        ("lbf", _LBF, "", "lbf"),
        ("kgf", _KGF, "kp", ""),
    ),
    d.TORQUE: (
        ("N m", 1000 * _NEWTON, "Nm", "newton metre, newton metres"),
        (
            "lbf ft",
            _LBF * _FOOT,
            "",
            "ft lbf, ft lb, lb ft, ft lbs, lbs ft, foot pound, foot pounds, pound feet",
        ),
        ("lbf in", _LBF * _INCH, "", "in lbf, in lb, lb in, in lbs, lbs in, inch pound, inch pounds"),
        ("kgf m", _KGF * 1000, "m kgf, kp m", ""),
        ("kgf cm", _KGF * 10, "cm kgf", ""),
    ),
    d.PRESSURE: (
        ("Pa", 1, "N/m2", "pascal, pascals"),
        ("kPa", 1000, "", ""),
        ("MPa", 10**6, "N/mm2", ""),
        ("GPa", 10**9, "kN/mm2", ""),
        ("bar", 10**5, "", "bar, bars"),
        ("psi", _LBF / _INCH**2, "", "psi, lbf/in2, lb/in2, lbf/sq in, lb/sq in"),
        ("kgf/cm^2", _KGF / 100, "", ""),
    ),
    d.VISCOSITY: (
        ("Pa s", 1, "N s/m2", "pascal second, pascal seconds"),
        ("mPa s", Fraction(1, 1000), "", ""),
        ("cP", Fraction(1, 1000), "", "centipoise"),
        ("reyn", _LBF / _INCH**2, "lbf s/in2", "reyns"),
    ),
    d.STIFFNESS: (
        ("N/mm", _NEWTON, "kN/m", ""),
        ("N/m", _NEWTON / 1000, "", ""),
        ("lbf/in", _LBF / _INCH, "", "lbf/in, lb/in, lbs/in, lbf/inch, lb/inch, lbs/inch, pounds/inch"),
        ("kgf/mm", _KGF, "", ""),
    ),
    d.POWER: (
        ("kW", 10**12, "", ""),
        ("W", 10**9, "", "watt, watts"),
        ("hp", 550 * _FOOT * _LBF, "", "hp, horsepower"),
    ),
    d.ROTATION: (
        ("rpm", 6, "1/min, r/min, rev/min", "rpm"),
        ("deg/s", 1, "", ""),
        ("rad/s", _RADIAN, "", ""),
    ),
    d.DENSITY: (
        ("g/cc", Fraction(1, 1000), "g/cm3, g/ml, kg/L", ""),
        ("kg/m^3", Fraction(1, 10**6), "", ""),
        ("lb/in^3", _POUND / _INCH**3, "", "lb/in3, lbm/in3, lb/cu in"),
    ),
    d.UNBALANCE: (
        ("g mm", 1, "", ""),
        ("g cm", 10, "", ""),
        ("oz in", _POUND / 16 * _INCH, "", "oz in, in oz"),
    ),
    d.FLOW: (
        ("L/min", Fraction(10**6, 60), "l/min", ""),
        ("cc/s", 1000, "", ""),
        ("ft^3/min", _FOOT**3 / 60, "", "ft3/min, cu ft/min, cfm"),
    ),
}
_POINTS = (  # Celsius = Fahrenheit * 5/9 - 160/9
    (Unit("C", d.TEMPERATURE, Fraction(1), in_inches="F"), "degC, deg C, degree C, degrees C", "celsius"),
    (
        Unit("F", d.TEMPERATURE, _FAHRENHEIT, -32 * _FAHRENHEIT, in_millimetres="C"),
        "degF, deg F, degree F, degrees F",
        "fahrenheit",
    ),
)


def _named(pairs: str) -> dict[str, str]:
    return dict(tuple(map(str.strip, pair.split(" = ", 1))) for pair in pairs.split(","))  # type: ignore[misc]


# What each unit of one system is in a sheet of the other. A length is in the sheet's own unit; what stands in neither
# (grams, cc, degrees, rpm) both systems use on the bench.
_IN_MILLIMETRES = _named("""
    in = mm, thou = mm, tenths = mm, uin = um, ft = m, in^2 = mm^2, in^3 = cc, oz = g, lb = kg,
    degF_difference = K, 1/degF = 1/K, ft/min = m/s, ft/s = m/s, ft/s^2 = m/s^2, lbf = N, lbf ft = N m, lbf in = N m,
    psi = bar, reyn = mPa s, lbf/in = N/mm, hp = kW, lb/in^3 = g/cc, oz in = g cm, ft^3/min = L/min
""")
_IN_INCHES = _named("""
    mm = in, um = uin, cm = in, m = ft, mm^2 = in^2, cm^2 = in^2, m^2 = in^2, mm^3 = in^3, L = in^3,
    m^3 = in^3, kg = lb, K = degF_difference, m/s = ft/min, mm/s = ft/min, m/s^2 = ft/s^2, N = lbf, kN = lbf,
    kgf = lbf, N m = lbf ft, kgf m = lbf ft, kgf cm = lbf in, Pa = psi, kPa = psi, MPa = psi, GPa = psi, bar = psi,
    kgf/cm^2 = psi, N/mm = lbf/in, N/m = lbf/in, kgf/mm = lbf/in, kW = hp, W = hp, g mm = oz in, g cm = oz in,
    L/min = ft^3/min, cc/s = ft^3/min
""")
_ONE, _TENTH, _HUNDREDTH = Decimal(1), Decimal("0.1"), Decimal("0.01")
_UNCLEAR = {
    "mil, mils": Unclear("may be thou or mm", ((_ONE, "thou"), (_ONE, "mm")), "thou"),
    "tenth, tenths": Unclear(
        "may be tenths of a thou or of a millimetre", ((Decimal("0.0001"), "in"), (_TENTH, "mm")), "tenths"
    ),
    "thousandth, thousandths": Unclear(
        "may be thousandths of an inch or of a millimetre", ((_ONE, "thou"), (_ONE, "um")), "thou"
    ),
    "hundredth, hundredths": Unclear(
        "may be hundredths of a millimetre or of an inch", ((_HUNDREDTH, "mm"), (_HUNDREDTH, "in"))
    ),
    "lb, lbs, pound, pounds": Unclear("may be a force or a mass", ((_ONE, "lbf"), (_ONE, "lbm"))),
}
TABLE = Table(
    tuple(
        (
            Unit(
                symbol,
                dimension,
                Fraction(factor),
                exact=factor != _RADIAN,
                in_inches=_IN_INCHES.get(symbol, ""),
                in_millimetres=_IN_MILLIMETRES.get(symbol, ""),
            ),
            strict,
            any_case,
        )
        for dimension, rows in _ROWS.items()
        for symbol, factor, strict, any_case in rows
    )
    + _POINTS,
    _UNCLEAR,
)
UNITS = TABLE.units


_IN_USE: ContextVar[Table] = ContextVar("units in use", default=TABLE)


def units_in_use() -> Table:
    """The table that names are looked up in: the closed one, unless `using` stands around."""
    return _IN_USE.get()


@contextmanager
def using(table: Table) -> Iterator[None]:
    """Read written numbers with this table for a while, as a decimal context holds for a while."""
    token = _IN_USE.set(table)
    try:
        yield
    finally:
        _IN_USE.reset(token)


def find_unit(text: str, *, dimension: Dimension | None = None, beside: Unit | None = None) -> Unit | Refusal:
    """The unit that a text names, or why there is none, with the nearest one offered.

    `dimension` is what is expected (it settles whether `lb` is a force or a mass); `beside` is the unit that
    bare numbers have here (among inches `tenths` are tenths of a thou). Case matters where it must."""
    return units_in_use().find(text, dimension, beside)
