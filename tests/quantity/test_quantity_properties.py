"""What holds for every number and every text."""

import re
from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from specrules.quantity import (
    LENGTH,
    MASS,
    NUMBER,
    TEMPERATURE,
    UNITS,
    Bracket,
    Dimension,
    Exact,
    Open,
    Refusal,
    Unit,
    find_unit,
    fixed,
    read_written,
    show,
)
from tests.timing import times_as_long

SYMBOLS = {unit.symbol: unit for unit in UNITS}
IN, MM = SYMBOLS["in"], SYMBOLS["mm"]
EXACT_UNITS = [unit for unit in UNITS if unit.exact and not unit.offset]
NUMBERS = st.tuples(st.integers(-(10**12), 10**12), st.integers(0, 8)).map(
    lambda pair: Decimal(pair[0]).scaleb(-pair[1])
)
SIGNS = ("0", "1", "2", "9", ".", "..", "...", ",", "-", "+", "±", "+/-", "/", "1/2", "½", "(", ")", "<", ">=", "~")
MARKS = ("_", "x", "@", "O", "l", "[", "]", "'", '"', "%", "−", "–", "µ", "°", " ", " ", " ")
WORDS = ("under", "over", "or", "to", "and", "half", "a", "two", "goes", "doesn't", "about", "max", "tight", "open")
NAMES = ("mm", "in", "thou", "tenths", "mil", "lb", "um", "F", "C", "K", "ft-lb", "hundredths", "e-3", "inf")
BENCH_TEXT = st.lists(st.sampled_from(SIGNS + MARKS + WORDS + NAMES), max_size=14).map("".join)
ANY_TEXT = st.one_of(st.text(max_size=70), BENCH_TEXT)
CONTEXTS = st.tuples(
    st.sampled_from([None, IN, MM, SYMBOLS["tenths"], SYMBOLS["C"], SYMBOLS["g"]]),
    st.sampled_from([None, NUMBER, LENGTH, MASS, TEMPERATURE]),
)


@given(NUMBERS, st.sampled_from(EXACT_UNITS))
def test_conversion_there_and_back_is_exact(number: Decimal, unit: Unit) -> None:
    assert unit.from_base(unit.to_base(number)) == number


@given(NUMBERS, st.sampled_from(UNITS))
def test_conversion_is_right_to_49_digits(number: Decimal, unit: Unit) -> None:
    """Against fractions, which do not round: the base value is the nearest 50-digit decimal."""
    wanted = Fraction(number) * unit.factor + unit.offset
    assert abs(Fraction(unit.to_base(number)) - wanted) <= abs(wanted) / 10**49 + Fraction(1, 10**48) * bool(
        unit.offset
    )
    assert abs(Fraction(unit.difference_to_base(number)) - Fraction(number) * unit.factor) <= abs(
        Fraction(number) * unit.factor / 10**49
    )


@given(NUMBERS, NUMBERS, st.sampled_from(UNITS))
def test_a_difference_is_that_of_two_values_whatever_the_zero_point(one: Decimal, other: Decimal, unit: Unit) -> None:
    assert unit.difference_from_base(unit.difference_to_base(one)) == one
    apart = Fraction(one) - Fraction(other)
    assert abs(Fraction(unit.difference_from_base(one - other)) * unit.factor - apart) <= abs(apart) / 10**43
    on_the_scale = Fraction(unit.from_base(one)) - Fraction(unit.from_base(other))
    assert abs(on_the_scale * unit.factor - apart) <= (abs(Fraction(one)) + abs(Fraction(other)) + 500) / 10**43


@given(NUMBERS, st.integers(0, 10))
def test_a_number_is_fixed_to_the_nearest_and_has_so_many_places(number: Decimal, places: int) -> None:
    text = fixed(number, places)
    assert len(text.partition(".")[2]) == places
    assert abs(Fraction(text) - Fraction(number)) <= Fraction(1, 2 * 10**places)
    assert fixed(-number, places).removeprefix("-") == text.removeprefix("-")  # halves away from zero on both sides
    assert not text.startswith("-") or Fraction(text) < 0
    assert fixed(Decimal(text), places) == text
    assert show(number, MM, places) == text


@given(NUMBERS, st.sampled_from(UNITS))
def test_what_is_shown_is_read_back(number: Decimal, unit: Unit) -> None:
    """Holds for temperatures and radians too, whose factors are not whole decimals."""
    places = -min(int(number.as_tuple().exponent), 0)
    text = show(unit.to_base(number), unit, places)
    assert text == format(number or number.copy_abs(), "f")
    for written in (text, f"{text} {unit.symbol}"):
        read = read_written(
            written, unit=IN if unit.dimension == LENGTH and written != text else unit, dimension=unit.dimension
        )
        assert isinstance(read, Exact), (written, read)
        assert read.number == number
        assert show(read.value, unit, places) == text


@given(NUMBERS, NUMBERS)
def test_equal_sizes_in_two_units_are_equal(inches: Decimal, other: Decimal) -> None:
    one = read_written(f"{inches:f}", unit=IN, dimension=LENGTH)
    same = read_written(f"{inches * 1000:f}", unit=SYMBOLS["thou"], dimension=LENGTH)
    assert isinstance(one, Exact)
    assert isinstance(same, Exact)
    assert one.value == same.value
    difference = read_written(f"{other:f}", unit=IN, dimension=LENGTH)
    assert isinstance(difference, Exact)
    assert (one.value == difference.value) is (inches == other)


@given(st.integers(0, 99), st.integers(1, 31), st.sampled_from([32, 64]), st.sampled_from([" ", "-"]))
def test_mixed_numbers_add(whole: int, top: int, bottom: int, joint: str) -> None:
    text = f"{whole}{joint}{top}/{bottom} in" if whole else f"{top}/{bottom} in"
    read = read_written(text, unit=MM, dimension=LENGTH)
    assert isinstance(read, Exact)
    assert Fraction(read.value) == (whole + Fraction(top, bottom)) * Fraction("25.4")


@given(NUMBERS, NUMBERS)
def test_brackets_are_in_order_or_refused(low: Decimal, high: Decimal) -> None:
    read = read_written(f"{low:f}..{high:f}", unit=MM, dimension=LENGTH)
    if low < high:
        assert isinstance(read, Bracket)
        assert (read.low, read.high) == (low, high)
    else:
        assert isinstance(read, Refusal)
        assert ("ends that are one size" if low == high else "from the larger to the smaller") in read.said


@given(ANY_TEXT, CONTEXTS)
@example("1e99", (MM, LENGTH))
@example("9" * 30 + "-" + "9" * 29, (MM, LENGTH))
@example("9" * 30 + " +0.1/-0.1", (MM, LENGTH))
@example("half" + "\u00bd" * 56, (MM, LENGTH))
@example("1.(1.(1.(1.", (MM, LENGTH))
@example("1 " * 30, (IN, LENGTH))
@example("0.0 or " * 8, (IN, LENGTH))
def test_any_text_is_written_or_refused_and_every_suggestion_reads(
    text: str, context: tuple[Unit | None, Dimension | None]
) -> None:
    unit, dimension = context
    read = read_written(text, unit=unit, dimension=dimension)
    assert isinstance(read, Exact | Bracket | Open | Refusal)
    if isinstance(read, Refusal):
        assert read.said
        assert 0 <= read.at <= len(text)
        for suggestion in filter(None, read.write.split(" or ")):
            assert not isinstance(read_written(suggestion, unit=unit, dimension=dimension), Refusal), read


@given(ANY_TEXT)
def test_a_number_is_read_from_ascii_digits_only(text: str) -> None:
    read = read_written(text, unit=MM, dimension=LENGTH)
    if isinstance(read, Exact | Bracket):
        digits = [each for each in text if each.isdecimal()]
        assert all(each in "0123456789" for each in digits)
        assert digits or re.search(
            "[¼½¾⅛⅜⅝⅞]|half|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve", text
        )


@given(ANY_TEXT)
def test_any_name_is_a_unit_or_refused(text: str) -> None:
    assert isinstance(find_unit(text), Unit | Refusal)


@pytest.mark.second_lane
@pytest.mark.parametrize(
    "hostile", ["(" * 60, "9" * 60, "1 " * 30, "a" * 60, "1in" * 20, "1.." * 20, "-+" * 30, "1 or " * 12]
)
def test_hostile_text_takes_little_time(hostile: str) -> None:
    """Two that are short enough to be read take about as long as a sheet of plain ones; from there on it grows evenly:
    of four times the text what grows with its square would take sixteen times as long."""
    short, long, longer = (
        [(hostile * each)[:each] for each in sizes] for sizes in ((59, 60), (5 * 10**5,), (2 * 10**6,))
    )
    assert times_as_long(lambda: read_all(short), lambda: read_all(PLAIN)) < 4
    assert times_as_long(lambda: read_all(longer), lambda: read_all(long)) < 8


def test_four_hundred_plain_readings_are_quick() -> None:
    """Some sixteen times what Python itself takes for their numbers; three times that is a lost fast path."""
    assert times_as_long(lambda: read_all(PLAIN), lambda: [Decimal(text) for text in PLAIN]) < 50


PLAIN = [f"2.{4000 + number}" for number in range(400)]


def read_all(texts: Iterable[str]) -> None:
    for text in texts:
        read_written(text, unit=IN, dimension=LENGTH)
