"""Finding a unit by its written name: a closed table, many spellings, nothing guessed."""

from fractions import Fraction

import pytest

from specrules.quantity import (
    FORCE,
    LENGTH,
    MASS,
    NUMBER,
    STIFFNESS,
    TORQUE,
    UNITS,
    Dimension,
    Refusal,
    Unit,
    find_unit,
)
from specrules.quantity.table import _POINTS, _ROWS, _UNCLEAR, TABLE  # the table itself is under test here
from specrules.quantity.units import normal
from specrules.vocabulary import Code


def unit_of(text: str, dimension: Dimension | None = None) -> Unit:
    found = find_unit(text, dimension=dimension)
    assert isinstance(found, Unit), f"{text!r}: {found}"
    return found


INCH = unit_of("in")


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: unit.symbol)
def test_every_symbol_is_read_back(unit: Unit) -> None:
    assert find_unit(unit.symbol, dimension=unit.dimension, beside=INCH) is unit


def test_no_name_is_claimed_twice() -> None:
    """Neither among the exact names, nor by one in any case that is also the exact name of another unit."""
    rows = [(symbol, strict, any_case) for row in _ROWS.values() for symbol, _, strict, any_case in row]
    rows += [(unit.symbol, strict, any_case) for unit, strict, any_case in _POINTS]
    rows += [(f"unclear {names}", "", names) for names in _UNCLEAR]
    claims: dict[str, str] = {}
    for symbol, strict, any_case in rows:
        own = [] if symbol.startswith("unclear") else [symbol]
        for name in {normal(each) for each in own + strict.split(",") + any_case.split(",") if each.strip()}:
            settled_by_what_is_expected = name in ("lb", "tenths")
            assert settled_by_what_is_expected or claims.setdefault(name, symbol) == symbol, name
    for symbol, _, any_case in rows:
        for name in (normal(each).lower() for each in any_case.split(",") if each.strip()):
            assert claims.get(name, symbol) == symbol, name


def test_names_are_given_as_they_are_looked_up() -> None:
    rows = [row[2:] for group in _ROWS.values() for row in group] + [row[1:] for row in _POINTS]
    names = [name.strip() for row in rows for each in row for name in each.split(",")]
    assert len(names) > 200
    assert [name for name in names if normal(name) != name] == []


def test_the_names_that_are_told_are_further_ones() -> None:
    """None is a symbol, which is told beside them."""
    told = [name for name, _ in TABLE.names()]
    assert {"inch", "cid"} <= set(told)
    assert {normal(unit.symbol) for unit in UNITS}.isdisjoint(told)


@pytest.mark.parametrize(
    ("names", "symbol"),
    [
        ("lbf/in|lb/in|lbf / in|lb per inch|LBF/IN", "lbf/in"),
        ("in^2|in2|in\u00b2|sq in|SQ IN", "in^2"),
        ("mm^2|mm2|mm\u00b2", "mm^2"),
        ("in^3|in3|in\u00b3|cu in|cu. in|ci|cid|cubic inches", "in^3"),
        ("cc|CC|ml|mL|cm3|cm^3|cm\u00b3", "cc"),
        ("N m|Nm|N-m|N\u00b7m|N*m|N\u22c5m", "N m"),
        ("lbf ft|ft-lb|lb-ft|ft lb|FT-LB|foot-pounds|lbf-ft|ft-lbf|ft\u00b7lbf", "lbf ft"),
        ("lbf in|in-lb|lb-in|in. lb|inch pounds", "lbf in"),
        ("kgf m|kgf-m", "kgf m"),
        ("psi|PSI|lbf/in^2|lbf/in2|lb/in\u00b2", "psi"),
        ("um|\u00b5m|\u03bcm|micron|microns", "um"),
        ("in|IN|In.|inch|inches|\"|\u201d|\u2033|''|\u2019\u2019", "in"),
        ("F|degF|deg F|\u00b0F|\u00b0 F|degrees F|Fahrenheit", "F"),
        ("C|degC|\u00b0C|\u00baC|celsius", "C"),
        ("K|degC_difference|degC difference|C difference|\u00b0C difference|kelvin", "K"),
        ("degF_difference|F difference|\u00b0F difference", "degF_difference"),
        ("1/K|/K|1/degC|1/\u00b0C|per degC|per \u00b0C", "1/K"),
        ("1/F|1/degF|per degF|in/in/F", "1/degF"),
        ("deg|\u00b0|degrees", "deg"),
        ("rpm|RPM|rev/min|1/min", "rpm"),
        ("%|percent", "%"),
        ("mm/mm|in/in|inch per inch", "mm/mm"),
        ("m/s|m per s", "m/s"),
        ("ft/min|fpm", "ft/min"),
        ("L|l|litres|liters", "L"),
    ],
)
def test_many_spellings(names: str, symbol: str) -> None:
    assert {unit_of(name).symbol for name in names.split("|")} == {symbol}


@pytest.mark.parametrize(
    ("name", "write"),
    [
        ("mmm", ""),  # mm, mm^2 and mm^3 are as near
        ("MM", "mm"),
        ("mPa", "MPa"),  # offered, never taken: a millipascal is no megapascal
        ("Mm", "mm"),
        ("nm", "N m"),
        ("KN", "kN"),
        ("KG", "kg"),
        ("inchs", "in"),
        ("ft-lbss", "lbf ft"),
        ("pct", ""),
        ("ftlb", "lbf ft"),
        ("kin", ""),  # no free prefixes
        ("mm*in", ""),
        ("mm=3", "mm^3"),
        ("9**9**9", ""),
        ("", ""),
        ("-", ""),
    ],
)
def test_unknown_units(name: str, write: str) -> None:
    found = find_unit(name)
    assert isinstance(found, Refusal)
    assert (found.said, found.write) == ("is no known unit", write)


def test_a_name_without_end_is_refused_unread() -> None:
    found = find_unit("m" * 10**7)
    assert isinstance(found, Refusal)
    assert found.said == "is longer than 60 characters, so no unit"


@pytest.mark.parametrize(
    ("name", "said", "write"),
    [
        ("mil", "may be thou or mm", "thou or mm"),
        ("tenths", "may be tenths of a thou or of a millimetre", "in or mm"),
        ("hundredths", "may be hundredths of a millimetre or of an inch", "mm or in"),
        ("thousandths", "may be thousandths of an inch or of a millimetre", "thou or um"),
        ("lb", "may be a force or a mass", "lbf or lbm"),
        ("pounds", "may be a force or a mass", "lbf or lbm"),
    ],
)
def test_unclear_units(name: str, said: str, write: str) -> None:
    found = find_unit(name)
    assert isinstance(found, Refusal)
    assert (found.said, found.write) == (said, write)


def test_pounds_are_what_is_expected() -> None:
    assert unit_of("lb", FORCE) is unit_of("lbf")
    assert unit_of("lbs", MASS) is unit_of("lbm")
    assert find_unit("lb", dimension=LENGTH) == Refusal(Code.AMBIGUOUS_UNIT, "may be a force or a mass", "lbf or lbm")


def test_among_inches() -> None:
    millimetre = unit_of("mm")
    for name, symbol in (("mil", "thou"), ("tenths", "tenths"), ("thousandths", "thou")):
        found = find_unit(name, beside=INCH)
        assert isinstance(found, Unit)
        assert found.symbol == symbol
        unclear = find_unit(name, beside=millimetre, dimension=LENGTH)
        assert isinstance(unclear, Refusal)
        assert unclear.said.startswith("may be ")
    assert find_unit("hundredths", beside=INCH) == Refusal(
        Code.AMBIGUOUS_UNIT, "may be hundredths of a millimetre or of an inch", "mm or in"
    )


def test_the_nearest_is_sought_among_what_is_expected() -> None:
    found = find_unit("mmm", dimension=LENGTH)
    assert isinstance(found, Refusal)
    assert found.write == "mm"
    found = find_unit("NM", dimension=TORQUE)
    assert isinstance(found, Refusal)
    assert found.write == "N m"
    found = find_unit("NM", dimension=STIFFNESS)
    assert isinstance(found, Refusal)
    assert found.write == ""


def test_ratios_are_numbers() -> None:
    for name, factor in (
        ("in/in", 1),
        ("mm/m", Fraction(1, 1000)),
        ("in/ft", Fraction(1, 12)),
        ("%", Fraction(1, 100)),
    ):
        assert (unit_of(name).dimension, unit_of(name).factor) == (NUMBER, factor)


@pytest.mark.parametrize("name", ["mm", "Furlong", "MIL", "inches"])
def test_no_unit_that_is_added_takes_the_name_of_another(name: str) -> None:
    """Clear or not, in whatever case, or one of those that are added with it: nothing silently wins."""
    furlong = Unit("furlong", LENGTH, Fraction(201168))
    added = TABLE.with_units([(furlong, ("Furlong",))])
    assert added.lookup("furlong", None, None) == furlong
    assert TABLE.lookup("furlong", None, None) is None
    with pytest.raises(ValueError, match=f"{name} is a unit already"):
        added.with_units([(Unit("span", LENGTH, Fraction(229)), (name,))])
