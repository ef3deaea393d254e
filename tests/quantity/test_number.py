"""The one tolerance, and how values are put on paper."""

from decimal import Decimal

import pytest

from specrules.quantity import LENGTH, TEMPERATURE, Unit, find_unit, fixed, is_zero, places_to_agree, show


def unit_of(symbol: str) -> Unit:
    found = find_unit(symbol)
    assert isinstance(found, Unit)
    return found


IN, MM, F = unit_of("in"), unit_of("mm"), unit_of("F")


@pytest.mark.parametrize(
    ("margin", "zero"),
    [("0", True), ("1e-30", True), ("-1e-30", True), ("1.0001e-30", False), ("-2e-30", False), ("1e-29", False)],
)
def test_a_margin_up_to_1e_30_is_nothing(margin: str, zero: bool) -> None:
    assert is_zero(Decimal(margin)) is zero


@pytest.mark.parametrize(
    ("margin", "scale", "zero"),
    [
        ("1e-10", "1", True),
        ("1.01e-10", "1", False),
        ("1e-10", "-1", True),  # a scale is a size
        ("5e-9", "100", True),
        ("1e-30", "0", True),  # never less than the exact tolerance
        ("2e-30", "0", False),
    ],
)
def test_inexact_formulas_snap_in_proportion_to_what_was_compared(margin: str, scale: str, zero: bool) -> None:
    assert is_zero(Decimal(margin), Decimal(scale)) is zero


@pytest.mark.parametrize(
    ("value", "unit", "places", "text"),
    [
        ("2.00005", MM, 4, "2.0001"),  # halves go up; binary formatting gives 2.0000
        ("0.00125", MM, 4, "0.0013"),
        ("-0.00125", MM, 4, "-0.0013"),
        ("-0.0004", MM, 3, "0.000"),  # never '-0.000'
        ("0", MM, 3, "0.000"),
        ("-0", MM, 0, "0"),
        ("0.0635", IN, 4, "0.0025"),
        ("62.23", IN, 4, "2.4500"),
        ("1e25", MM, 2, "10000000000000000000000000.00"),  # no exponent, more digits than the context has
        ("1e60", MM, 1, "1" + "0" * 60 + ".0"),
        ("1e-40", MM, 3, "0.000"),
        ("20", F, 1, "68.0"),
    ],
)
def test_show(value: str, unit: Unit, places: int, text: str) -> None:
    assert show(Decimal(value), unit, places) == text


def test_show_does_not_follow_the_context_of_the_thread() -> None:
    from decimal import Inexact, localcontext

    with localcontext() as context:
        context.prec = 3
        context.traps[Inexact] = True
        assert show(Decimal("-62.23001"), IN, 4) == "-2.4500"
        assert not is_zero(Decimal("-1.00000000000000001"), Decimal("1.23456"))


@pytest.mark.parametrize(
    ("first", "second", "places", "needed"),
    [
        ("0.05004", "0.05", 2, 5),  # "0.05 exceeds 0.05" becomes "0.05004 exceeds 0.05000"
        ("0.05", "0.06", 2, 2),
        ("0.05", "0.06", 4, 4),  # never fewer than asked for
        ("0.05", "0.05", 2, 2),
        ("0.0501", "0.0501000000000000000000000000000001", 2, 2),  # equal within 1e-30
        ("1", "1.0001", 3, 4),
        ("0.0544", "0.0546", 2, 3),  # 0.054 and 0.055
    ],
)
def test_places_to_agree(first: str, second: str, places: int, needed: int) -> None:
    one, other = Decimal(first), Decimal(second)
    assert places_to_agree(one, other, places) == needed
    assert places_to_agree(other, one, places) == needed


def test_units_of_the_tests_are_what_they_seem() -> None:
    assert (IN.dimension, MM.dimension, F.dimension) == (LENGTH, LENGTH, TEMPERATURE)


@pytest.mark.parametrize(
    ("number", "places", "text"),
    [
        ("0.0005", 3, "0.001"),  # halves away from zero, whichever digit is before
        ("0.0015", 3, "0.002"),
        ("0.0025", 3, "0.003"),
        ("-0.0005", 3, "-0.001"),
        ("-0.0004999", 3, "0.000"),  # never '-0.000'
        ("-0", 2, "0.00"),
        ("2.4500", 4, "2.4500"),
        ("2.45", 6, "2.450000"),
        ("1E+3", 0, "1000"),  # no exponent
        ("50", 0, "50"),
        ("0." + "123" * 19 + "5", 57, "0." + "123" * 18 + "124"),  # more digits than the context has
        ("1e60", 1, "1" + "0" * 60 + ".0"),
    ],
)
def test_a_number_in_so_many_places(number: str, places: int, text: str) -> None:
    assert fixed(Decimal(number), places) == text


@pytest.mark.parametrize(
    ("base", "symbol", "difference", "on_the_scale"),
    [
        ("10", "F", "18", "50"),  # 10 degC apart is 18 degF apart; 10 degC is 50 degF
        ("10", "degF_difference", "18", "18"),
        ("10", "C", "10", "10"),
        ("10", "K", "10", "10"),
        ("0", "F", "0", "32"),
        ("-5", "F", "-9", "23"),
        ("0.0254", "in", "0.001", "0.001"),
        ("0.0254", "mm", "0.0254", "0.0254"),
    ],
)
def test_a_difference_has_no_zero_point(base: str, symbol: str, difference: str, on_the_scale: str) -> None:
    """NIST SP 811 (2008), appendix B.8: t/degC = (t/degF - 32)/1.8, so 10 degC apart is 18 degF apart."""
    unit = unit_of(symbol)
    assert unit.difference_from_base(Decimal(base)) == Decimal(difference)
    assert unit.difference_to_base(Decimal(difference)) == Decimal(base)
    assert unit.from_base(Decimal(base)) == Decimal(on_the_scale)
