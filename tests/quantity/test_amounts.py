"""Amounts for readers of both systems of units: as they are written, or as somebody there can set them."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.quantity import UNITS, Refusal, Unit, find_unit
from specrules.quantity.amounts import ToldAmount, in_sheet, near, read_amount, settable, used_among


def unit(symbol: str) -> Unit:
    found = find_unit(symbol)
    assert isinstance(found, Unit)
    return found


INCH, MM = unit("in"), unit("mm")

TOLD = [
    # given once: few digits and within a fortieth, never 0.0127
    ("0.0005 in", "0.0005 in", "0.013 mm"),
    ("0.001 in", "0.001 in", "0.025 mm"),
    ("0.0015 in", "0.0015 in", "0.038 mm"),
    ("0.003 in", "0.003 in", "0.075 mm"),
    ("0.010 in", "0.010 in", "0.25 mm"),
    ("0.060 in", "0.060 in", "1.5 mm"),
    ("-0.001 in", "-0.001 in", "-0.025 mm"),
    ("0.01 mm", "0.0004 in", "0.01 mm"),
    ("0.25 mm", "0.01 in", "0.25 mm"),
    ("100 lbf", "100 lbf", "450 N"),
    ("40 N", "9 lbf", "40 N"),
    ("25 lbf ft", "25 lbf ft", "34 N m"),
    ("300 lbf", "300 lbf", "1330 N"),
    ("5.5 in", "5.5 in", "140 mm"),
    ("5.1 in", "5.1 in", "130 mm"),
    ("0 in", "0 in", "0 mm"),
    # what both systems use stays
    ("5 cc", "5 cc", "5 cc"),
    ("2 g", "2 g", "2 g"),
    ("4 deg", "4 deg", "4 deg"),
    # a temperature is no step
    ("150 C", "300 F", "150 C"),
    ("68 F", "68 F", "20 C"),
    # a limit goes to its safe side
    ("at most 0.0005 in", "at most 0.0005 in", "at most 0.012 mm"),
    ("at least 0.060 in", "at least 0.060 in", "at least 1.6 mm"),
    # a range is as fine as it is written
    ("0.0005..0.0026 in", "0.0005 to 0.0026 in", "0.013 to 0.066 mm"),
    ("0.0012 to 0.0043 in", "0.0012 to 0.0043 in", "0.030 to 0.11 mm"),
    ("2.7..4.6 in", "2.7 to 4.6 in", "69 to 117 mm"),
    ("5.4..5.6 in", "5.4 to 5.6 in", "137 to 142 mm"),
    # given for both
    ("0.0005 in | 0.01 mm", "0.0005 in", "0.01 mm"),
    ("0.010 in|0.25 mm", "0.010 in", "0.25 mm"),
    ("at least 0.060 in | 1.5 mm", "at least 0.060 in", "at least 1.5 mm"),
    ("0.001..0.002 in | 0.02..0.05 mm", "0.001 to 0.002 in", "0.02 to 0.05 mm"),
]


@pytest.mark.parametrize(("text", "among_inches", "among_millimetres"), TOLD, ids=[row[0] for row in TOLD])
def test_an_amount_is_told_in_the_units_of_its_reader(text: str, among_inches: str, among_millimetres: str) -> None:
    amount = read_amount(text)
    assert isinstance(amount, ToldAmount)
    assert (amount.told(INCH), amount.told(MM)) == (among_inches, among_millimetres)
    assert amount.told(None) == amount.given.text()


@pytest.mark.parametrize(
    ("text", "said", "write"),
    [
        ("17", "is no quantity, a number with its unit", "0.0015 in"),
        ("a thou", "is no quantity, a number with its unit", "0.0015 in"),
        (f"{'9' * 70} in", "is no quantity, a number with its unit", "0.0015 in"),
        (f"1..1.{'0' * 80}1 in", "is no quantity, a number with its unit", "0.0015 in"),
        ("", "is no quantity, a number with its unit", "0.0015 in"),
        ("3 foo", 'has the unit "foo", which is no known unit', "3 ft"),
        ("3..2 in", "has its larger end first", "2..3 in"),
        (
            "0.01 mm | 0.0005 in",
            "gives for both systems of units, and not first inches, then metric",
            "0.0005 in | 0.01 mm",
        ),
        ("0.01 in | 0.02 in", "gives for both systems of units, and not first inches, then metric", ""),
        ("0.0005 in | 0.02 mm", "gives two amounts that are more than a quarter apart", "0.0005 in | 0.01 mm"),
        ("0.0005 in | 2 g", "gives two things for the two systems of units, and one thing is meant", ""),
        ("0.001..0.002 in | 2 mm", "gives two things for the two systems of units, and one thing is meant", ""),
        ("0.001 in | ", "is no quantity, a number with its unit", "0.0015 in"),
    ],
)
def test_what_is_no_amount(text: str, said: str, write: str) -> None:
    refused = read_amount(text)
    assert isinstance(refused, Refusal)
    assert (refused.said, refused.write) == (said, write)


@pytest.mark.parametrize("each", UNITS, ids=lambda each: each.symbol)
def test_what_stands_for_a_unit_is_of_its_kind_and_of_the_other_system(each: Unit) -> None:
    for lengths_in in (INCH, MM):
        there = in_sheet(each, lengths_in)
        assert there.dimension == each.dimension
        assert used_among(there, lengths_in)
        assert in_sheet(there, lengths_in) == there
    assert in_sheet(each, None) == each
    assert not (each.in_inches and each.in_millimetres)


@given(st.decimals("0.00001", "99999", places=5))
def test_a_step_that_can_be_set_is_near_and_round(amount: Decimal) -> None:
    """At most an eighth more or a quarter less, and no third digit."""
    step = settable(amount, MM)
    assert -Decimal("0.25") * amount <= step - amount <= amount / 8
    digits = step.normalize().as_tuple().digits
    assert len(digits) == 1 or (len(digits) == 2 and digits[1] == 5)
    assert settable(-amount, MM) == -step


@given(st.decimals("0.0001", "9", places=4), st.sampled_from(["at least", "at most"]))
def test_a_limit_in_a_text_is_never_laxer_in_the_other_system(number: Decimal, bound: str) -> None:
    amount = read_amount(f"{bound} {number} in")
    assert isinstance(amount, ToldAmount)
    told = Decimal(amount.told(MM).split()[2])
    exact = number * Decimal("25.4")
    assert told >= exact if bound == "at least" else told <= exact
    assert near(told, exact)
