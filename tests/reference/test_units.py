"""Unit factors against NIST SP 811 (2008 edition), appendix B.8 and B.9, and against pint as a second witness."""

from decimal import Decimal
from fractions import Fraction

import pint
import pytest

from specrules.quantity import TEMPERATURE, UNITS, Unit, find_unit

# Exact definitions, in the base units mm, g, s, deg (N = 1e6 g mm/s2, W = 1e9 g mm2/s3, Pa = 1 g/(mm s2)).
# Inch, pound and standard gravity are the exact definitions of SP 811 appendix B.6 and B.8 (from memory); what
# follows from them is worked here, apart from the table of the program.
INCH, POUND, GRAVITY = Fraction("25.4"), Fraction("453.59237"), Fraction("9806.65")
N = Fraction(10**6)
EXACT = {
    "in": INCH,
    "thou": Fraction("0.0254"),  # SP 811: mil, 2.54 E-05 m
    "tenths": Fraction("0.00254"),
    "uin": Fraction("0.0000254"),
    "ft": Fraction("304.8"),
    "in^2": Fraction("645.16"),
    "in^3": Fraction("16387.064"),
    "oz": Fraction("28.349523125"),
    "lb": POUND,
    "lbf": Fraction("4.4482216152605") * N,
    "kgf": Fraction("9.80665") * N,
    "lbf ft": Fraction("1.3558179483314004") * N * 1000,
    "kgf m": Fraction("9.80665") * N * 1000,
    "lbf/in": Fraction("4.4482216152605") * N / INCH,
    "psi": Fraction("4.4482216152605") * N / INCH**2,
    "kgf/cm^2": Fraction("98066.5"),
    "bar": Fraction(100_000),
    "ft/min": Fraction("5.08"),  # 0.00508 m/s
    "hp": Fraction(550) * Fraction("304.8") * POUND * GRAVITY,
    "rpm": Fraction(6),  # 360 deg in 60 s
    "L": Fraction(10**6),
    "cc": Fraction(1000),
}
# as printed in SP 811, appendix B.8, to seven figures, in SI units
PRINTED = {
    "in": ("2.54E-02", Fraction(1000)),
    "thou": ("2.54E-05", Fraction(1000)),
    "in^3": ("1.638706E-05", Fraction(10**9)),
    "lb": ("4.535924E-01", Fraction(1000)),
    "oz": ("2.834952E-02", Fraction(1000)),
    "lbf": ("4.448222", N),
    "lbf ft": ("1.355818", N * 1000),
    "lbf in": ("1.129848E-01", N * 1000),
    "psi": ("6.894757E+03", Fraction(1)),
    "lbf/in": ("1.751268E+02", N / 1000),
    "kgf m": ("9.80665", N * 1000),
    "kgf/cm^2": ("9.80665E+04", Fraction(1)),
    "ft/min": ("5.08E-03", Fraction(1000)),
    "hp": ("7.456999E+02", N * 1000),
}
BY_SYMBOL = {unit.symbol: unit for unit in UNITS}


@pytest.mark.parametrize(("symbol", "factor"), EXACT.items())
def test_exact_factors(symbol: str, factor: Fraction) -> None:
    assert BY_SYMBOL[symbol].factor == factor
    assert BY_SYMBOL[symbol].exact


@pytest.mark.parametrize(("symbol", "printed"), PRINTED.items())
def test_factors_as_printed_in_sp_811(symbol: str, printed: tuple[str, Fraction]) -> None:
    text, si = printed
    figure = Decimal(text)
    half_of_last_place = Fraction(Decimal((0, (5,), int(figure.as_tuple().exponent) - 1)))
    assert abs(BY_SYMBOL[symbol].factor / si - Fraction(figure)) <= half_of_last_place


def test_the_worked_figures_of_the_ratios() -> None:
    """SP 811 prints seven figures; these are the same ratios to sixteen."""
    assert float(BY_SYMBOL["psi"].factor) == pytest.approx(6894.757293168361, rel=1e-15)
    assert float(BY_SYMBOL["lbf/in"].factor / 1000) == pytest.approx(175.12683524647638, rel=1e-15)
    assert float(BY_SYMBOL["hp"].factor / 10**9) == pytest.approx(745.69987158227022, rel=1e-15)
    assert BY_SYMBOL["lbf in"].factor == BY_SYMBOL["lbf ft"].factor / 12


@pytest.mark.parametrize(("fahrenheit", "celsius"), [("68", "20"), ("212", "100"), ("-40", "-40"), ("32", "0")])
def test_temperatures(fahrenheit: str, celsius: str) -> None:
    """SP 811, appendix B.8: t(C) = (t(F) - 32)/1.8, exactly."""
    assert BY_SYMBOL["F"].to_base(Decimal(fahrenheit)) == Decimal(celsius)
    assert BY_SYMBOL["F"].from_base(Decimal(celsius)) == Decimal(fahrenheit)


def test_a_difference_of_temperatures_is_no_temperature() -> None:
    """SP 811, appendix B.8: an interval of 1 degree F is 1/1.8 K; a rate per degree F is 1.8 times that per K."""
    assert BY_SYMBOL["degF_difference"].to_base(Decimal(18)) == 10
    assert BY_SYMBOL["F"].difference_to_base(Decimal(18)) == 10
    assert BY_SYMBOL["1/degF"].to_base(Decimal(1)) == Decimal("1.8")
    assert BY_SYMBOL["F"].dimension == TEMPERATURE != BY_SYMBOL["degF_difference"].dimension


PINT_NAMES = {
    "mm/mm": "mm/mm",
    "%": "percent",
    "thou": "thou",
    "tenths": "thou/10",
    "uin": "microinch",
    "L": "liter",
    "lb": "pound",
    "oz": "ounce",
    "K": "delta_degC",
    "degF_difference": "delta_degF",
    "1/K": "1/delta_degC",
    "um/m/K": "micrometer/meter/delta_degC",
    "1/degF": "1/delta_degF",
    "lbf": "force_pound",
    "kgf": "kilogram_force",
    "N m": "newton*meter",
    "lbf ft": "force_pound*foot",
    "lbf in": "force_pound*inch",
    "kgf m": "kilogram_force*meter",
    "kgf cm": "kilogram_force*centimeter",
    "lbf/in": "force_pound/inch",
    "kgf/mm": "kilogram_force/millimeter",
    "kgf/cm^2": "kilogram_force/centimeter**2",
    "hp": "horsepower",
    "in/ft": "inch/foot",
    "g mm": "gram*millimeter",
    "g cm": "gram*centimeter",
    "oz in": "ounce*inch",
    "lb/in^3": "pound/inch**3",
    "h": "hour",
    "min": "minute",
    "L/min": "liter/minute",
    "ft/min": "foot/minute",
    "rev": "turn",
}


@pytest.mark.parametrize(
    "unit", [unit for unit in UNITS if not unit.offset and unit.symbol != "C"], ids=lambda u: u.symbol
)
def test_every_factor_against_pint(unit: Unit) -> None:
    """pint computes in binary floating point, so the two agree to about fifteen figures, not exactly."""
    registry = PINT
    name = PINT_NAMES.get(unit.symbol, unit.symbol.replace("^", "**"))
    theirs = registry.Quantity(1, registry.parse_units(name)) if "/10" not in name else registry.Quantity(0.1, "thou")
    dimension = unit.dimension
    base = (
        registry.mm**dimension.length
        * registry.g**dimension.mass
        * registry.s**dimension.time
        * registry.deg**dimension.angle
        * registry.delta_degC**dimension.temperature
    )
    assert float(unit.factor) == pytest.approx(theirs.to(base).magnitude, rel=1e-13)


PINT: "pint.UnitRegistry[float]" = pint.UnitRegistry()


def test_why_factors_are_fractions() -> None:
    """In binary floating point 68 F is not 20 C and a cubic inch is not its definition; here both are."""
    assert PINT.Quantity(68, "degF").to("degC").magnitude == pytest.approx(20, abs=1e-9)
    fahrenheit, cubic_inch = find_unit("F"), find_unit("in^3")
    assert isinstance(fahrenheit, Unit)
    assert isinstance(cubic_inch, Unit)
    assert fahrenheit.to_base(Decimal(68)) == 20
    assert cubic_inch.to_base(Decimal(1)) == Decimal("16387.064")
