"""Numbers and labels of the record: finite, short, and those that were meant."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.quantity import Unit, find_unit
from specrules.record.record_part import label, number


def unit(name: str) -> Unit:
    found = find_unit(name)
    assert isinstance(found, Unit)
    return found


INCH = unit("in")


def test_an_inch_is_25_4_mm_and_prints_short() -> None:
    """NIST SP 811 (2008), appendix B.8: 1 in = 25.4 mm exactly."""
    assert json.dumps(number(INCH.from_base(Decimal("63.4746")))) == "2.499"
    assert json.dumps(number(INCH.from_base(Decimal("0.04064")))) == "0.0016"


def test_a_third_has_twelve_digits() -> None:
    assert number(Decimal(1) / Decimal(3)) == 0.333333333333


def test_nothing_is_never_less_than_nothing() -> None:
    """JSON would keep the sign: RFC 8259, section 6, takes -0.0."""
    assert json.dumps(number(Decimal("-0"))) == "0.0"
    assert json.dumps(number(INCH.difference_from_base(Decimal("-0.0000")))) == "0.0"


def test_what_no_reader_of_json_can_hold_is_null() -> None:
    """IEEE 754-2019, table 3.5: binary64 ends below 1.8e308; RFC 8259 knows no infinity."""
    assert number(Decimal("1e400")) is None
    assert number(Decimal("1.7e308")) == 1.7e308
    assert number(None) is None


def test_a_difference_of_temperatures_has_no_zero_point() -> None:
    """NIST SP 811 (2008), appendix B.8: t/degC = (t/degF - 32)/1.8, so 5 degC apart is 9 degF apart."""
    fahrenheit = unit("degF")
    assert number(fahrenheit.from_base(Decimal(20))) == 68.0
    assert number(fahrenheit.difference_from_base(Decimal(5))) == 9.0


@pytest.mark.parametrize(("text", "kept"), [("3", 3), ("12", 12), ("top", "top"), ("03", "03"), ("²", "²"), ("", "")])
def test_labels_that_count_are_numbers(text: str, kept: int | str) -> None:
    assert label(text) == kept


@given(st.decimals(min_value=-(10**9), max_value=10**9, allow_nan=False, allow_infinity=False, places=9))
def test_a_number_is_its_decimal_to_twelve_digits(value: Decimal) -> None:
    made = number(value)
    assert made is not None
    assert abs(Decimal(made) - value) <= abs(value) * Decimal("6e-12")
    assert len(json.dumps(made).lstrip("-").replace(".", "").split("e")[0].strip("0")) <= 12
