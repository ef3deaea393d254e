"""How people write numbers, row by row: the exact value that must be read, or the words of the refusal."""

from decimal import Decimal

import pytest

from specrules.quantity import (
    ANGLE,
    FORCE,
    LENGTH,
    MASS,
    NUMBER,
    STIFFNESS,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    TORQUE,
    VOLUME,
    Bracket,
    Dimension,
    Exact,
    Open,
    Refusal,
    Unit,
    find_unit,
    read_written,
)
from specrules.vocabulary import Code


def unit_of(symbol: str, dimension: Dimension) -> Unit:
    found = find_unit(symbol, dimension=dimension)
    assert isinstance(found, Unit)
    return found


IN, MM, THOU = (unit_of(symbol, LENGTH) for symbol in ("in", "mm", "thou"))
CONTEXT_UNITS = {
    VOLUME: unit_of("cc", VOLUME),
    MASS: unit_of("g", MASS),
    ANGLE: unit_of("deg", ANGLE),
    TORQUE: unit_of("N m", TORQUE),
    STIFFNESS: unit_of("N/mm", STIFFNESS),
    FORCE: unit_of("N", FORCE),
    TEMPERATURE: unit_of("C", TEMPERATURE),
    TEMPERATURE_DIFFERENCE: unit_of("K", TEMPERATURE_DIFFERENCE),
}


def refused(text: str, unit: Unit | None, dimension: Dimension | None) -> Refusal:
    read = read_written(text, unit=unit, dimension=dimension)
    assert isinstance(read, Refusal), f"{text!r} was read as {read}"
    return read


def value(text: str, unit: Unit | None, dimension: Dimension | None) -> Exact:
    read = read_written(text, unit=unit, dimension=dimension)
    assert isinstance(read, Exact), f"{text!r} gave {read}"
    return read


# ---- plain lengths: millimetres worked by hand from 1 in = 25.4 mm exactly (NIST SP 811, appendix B.8)

PLAIN_LENGTHS = [
    (".0025", IN, "0.0635", ".0025"),
    ("0.0025", IN, "0.0635", "0.0025"),
    ("2.4500", IN, "62.23", "2.4500"),
    ("0.0635 mm", IN, "0.0635", "0.0635"),
    ("63.5 um", IN, "0.0635", "63.5"),
    ("63.5 \u00b5m", IN, "0.0635", "63.5"),  # micro sign
    ("63.5 \u03bcm", IN, "0.0635", "63.5"),  # Greek mu
    ("2.5 thou", IN, "0.0635", "2.5"),
    ("2.5 thou", MM, "0.0635", "2.5"),
    ("5thou", IN, "0.127", "5"),
    ("18", THOU, "0.4572", "18"),
    ("25 thousandths", IN, "0.635", "25"),
    ("3 thousandths", IN, "0.0762", "3"),
    ("3 thousandths of an inch", MM, "0.0762", "3"),
    ("25 mil", IN, "0.635", "25"),
    ("25 mils", IN, "0.635", "25"),
    ("25 mils", THOU, "0.635", "25"),
    ("25 tenths", IN, "0.0635", "25"),
    ("two tenths", IN, "0.00508", "2"),
    ("Two Tenths", IN, "0.00508", "2"),
    ("2 tenths", IN, "0.00508", "2"),
    ("half a thou", IN, "0.0127", "0.5"),
    ("half a thou", MM, "0.0127", "0.5"),
    ("half a thousandth", IN, "0.0127", "0.5"),
    ("half an inch", IN, "12.7", "0.5"),
    ("2 1/2 thou", IN, "0.0635", "2.5"),
    ("2-1/2 thou", IN, "0.0635", "2.5"),
    ("1-1/8 in", IN, "28.575", "1.125"),
    ("-1-1/8 in", IN, "-28.575", "-1.125"),
    ('1/4"', IN, "6.35", "0.25"),
    ("1/2 in", IN, "12.7", "0.5"),
    ('4 1/8"', IN, "104.775", "4.125"),
    ("2\u00bd thou", IN, "0.0635", "2.5"),
    ("\u00bc in", IN, "6.35", "0.25"),
    ('4.030"', IN, "102.362", "4.030"),
    ("4.030''", IN, "102.362", "4.030"),
    ("4.030\u2019\u2019", IN, "102.362", "4.030"),
    ("4.030\u201d", IN, "102.362", "4.030"),
    ("4.030\u2033", IN, "102.362", "4.030"),
    ("4.030 in.", IN, "102.362", "4.030"),
    ("4.030 IN", MM, "102.362", "4.030"),
    ("4.030 inch", MM, "102.362", "4.030"),
    ("4.030 Inches", MM, "102.362", "4.030"),
    ("0.002in", MM, "0.0508", "0.002"),
    ("64 microns", IN, "0.064", "64"),
    ("64 micron", MM, "0.064", "64"),
    ("2 thou", MM, "0.0508", "2"),  # well formed: that it is wider than its limits is for the judge to say
    ("6 cm", MM, "60", "6"),
    ("1 ft", MM, "304.8", "1"),
    ("50.8 m", MM, "50800", "50.8"),
    ("\u22120.003", IN, "-0.0762", "-0.003"),  # true minus
    ("\u20130.003", IN, "-0.0762", "-0.003"),  # en dash
    ("+0.002", IN, "0.0508", "0.002"),
    (" 2.45\u00a0in ", IN, "62.23", "2.45"),
    ("2.45", IN, "62.23", "2.45"),
    ("0", MM, "0", "0"),
]


@pytest.mark.parametrize(("text", "unit", "millimetres", "number"), PLAIN_LENGTHS)
def test_plain_lengths(text: str, unit: Unit, millimetres: str, number: str) -> None:
    read = value(text, unit, LENGTH)
    assert read.value == Decimal(millimetres)
    assert str(read.number) == str(Decimal(number))  # the written places are kept
    assert read.U is None


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("2.4500", "0.00254"),
        ("2.45", "0.254"),
        ("2", "25.4"),
        (".5", "2.54"),
        ("0.05 mm", "0.01"),
        ("5 thou", "0.0254"),
        ('4 1/8"', "3.175"),  # of one part for a fraction
        ("two tenths", "0.00254"),
    ],
)
def test_the_size_of_the_last_place(text: str, place: str) -> None:
    assert value(text, IN, LENGTH).place_value == Decimal(place)


@pytest.mark.parametrize("text", ["", "   ", "open", "Open", " open\n"])
def test_not_measured(text: str) -> None:
    assert read_written(text, unit=IN, dimension=LENGTH) == Open()


# ---- lengths that are refused, with what is said and what is offered

APPROXIMATE = "is approximate, and never judged as exact; write what the gauge showed, and the gauge"
NOTHING_SAID = "does not say whether 0 was measured or nothing was"
TWO = "has two numbers, where one number or one bracket belongs"
LARGER_FIRST = "runs from the larger to the smaller"
TOLERANCE = "is a size with a tolerance, not a reading"
NO_SIZE = "names no size; write under and the thinnest blade that would not go"
MAY_BE = "says {}, which may be {}"
NOTE = "has {} after the number, which is no unit; a note belongs in a comment"
UNDER, OVER = (f"is one side of a size, which is written with {side}" for side in ("under", "over"))
WHOLE = "has words that change what its number means; write the size itself"
DISAGREE = "says its size twice, and the two do not agree"
DIFFER = "says its size twice, and the two differ by {}"
BAD_SIGN = "has a ± that is not written as ± or +/-"

REFUSED_LENGTHS = [
    # plain lengths
    ("25 mil", MM, Code.AMBIGUOUS_UNIT, MAY_BE.format("mil", "thou or mm"), "25 thou or 25 mm"),
    (
        "2 tenths",
        MM,
        Code.AMBIGUOUS_UNIT,
        MAY_BE.format("tenths", "tenths of a thou or of a millimetre"),
        "0.0002 in or 0.2 mm",
    ),
    (
        "two tenths",
        MM,
        Code.AMBIGUOUS_UNIT,
        MAY_BE.format("tenths", "tenths of a thou or of a millimetre"),
        "0.0002 in or 0.2 mm",
    ),
    (
        "5..6 tenths",
        MM,
        Code.AMBIGUOUS_UNIT,
        MAY_BE.format("tenths", "tenths of a thou or of a millimetre"),
        "0.0005..0.0006 in or 0.5..0.6 mm",
    ),
    (
        "under 5 tenths",
        MM,
        Code.AMBIGUOUS_UNIT,
        MAY_BE.format("tenths", "tenths of a thou or of a millimetre"),
        "under 0.0005 in or under 0.5 mm",
    ),
    ("2.1 mil ±1 mil", MM, Code.AMBIGUOUS_UNIT, MAY_BE.format("mil", "thou or mm"), ""),
    (
        "25 thousandths",
        MM,
        Code.AMBIGUOUS_UNIT,
        MAY_BE.format("thousandths", "thousandths of an inch or of a millimetre"),
        "25 thou or 25 um",
    ),
    (
        "5 hundredths",
        IN,
        Code.AMBIGUOUS_UNIT,
        MAY_BE.format("hundredths", "hundredths of a millimetre or of an inch"),
        "0.05 mm or 0.05 in",
    ),
    ('4 1 8"', IN, Code.SEVERAL_NUMBERS, "has three numbers, where one belongs", '4 1/8"'),
    ("4\n1\n8", IN, Code.SEVERAL_NUMBERS, "has three numbers, where one belongs", "4 1/8"),
    ("6 ft 9 in", IN, Code.SEVERAL_NUMBERS, "has two numbers side by side; write one, in one unit", ""),
    ("9/8 in", IN, Code.MISWRITTEN_NUMBER, "has a fraction that is not below one", ""),
    ("2-3/2 thou", IN, Code.MISWRITTEN_NUMBER, "has a fraction that is not below one", ""),
    # damaged numbers
    ("0,40", IN, Code.COMMA_IN_NUMBER, "has a comma", "0.40"),
    ("0,020", IN, Code.COMMA_IN_NUMBER, "has a comma", "0.020"),
    ("2,4990", IN, Code.COMMA_IN_NUMBER, "has a comma", "2.4990"),
    ("2,4990 ±0,0001", IN, Code.COMMA_IN_NUMBER, "has a comma", "2.4990 ±0.0001"),
    ("2,937", IN, Code.COMMA_IN_NUMBER, "has a comma", "2.937 or 2937"),
    ("1,000,000 um", MM, Code.COMMA_IN_NUMBER, "has a comma", "1000000 um"),
    ("1,000.5", MM, Code.COMMA_IN_NUMBER, "has a comma", "1000.5"),
    (
        "[49,98, 49,99]",
        MM,
        Code.COMMA_IN_NUMBER,
        "is a list with commas inside its numbers, which split each in two",
        "",
    ),
    ("[49.98, 49.99]", MM, Code.SEVERAL_NUMBERS, "has several numbers, where one belongs", ""),
    ("49.98; 49.99", MM, Code.SEVERAL_NUMBERS, "has several numbers, where one belongs", ""),
    ("2 937 in", MM, Code.MISWRITTEN_NUMBER, "has a space inside a number", "2.937 in"),
    ("0 01 to 0 066", IN, Code.MISWRITTEN_NUMBER, "has a space inside a number", "0.01..0.066"),
    ("00098", IN, Code.MISWRITTEN_NUMBER, "starts with a nought and has no point", "0.0098 or 0.00098"),
    ("010", IN, Code.MISWRITTEN_NUMBER, "starts with a nought and has no point", "0.10 or 0.010"),
    ("02.4990", IN, Code.MISWRITTEN_NUMBER, "starts with noughts", "2.4990"),
    ("O.0025", IN, Code.MISWRITTEN_NUMBER, "has the letter O in a number", "0.0025"),
    ("2.5O1", IN, Code.MISWRITTEN_NUMBER, "has the letter O in a number", "2.501"),
    ("2.4l90", IN, Code.MISWRITTEN_NUMBER, "has a letter where a 1 belongs", "2.4190"),
    ("10.000 mmm", IN, Code.UNKNOWN_UNIT, "has the unknown unit mmm", "10.000 mm"),
    ("10.000 MM", IN, Code.UNKNOWN_UNIT, "has the unknown unit MM", "10.000 mm"),
    (".000-50 thousandth", IN, Code.NOT_A_NUMBER, "is neither a number nor a range", "0.00050 in"),
    ("0.0025.", IN, Code.MISWRITTEN_NUMBER, "has a point after its last digit", "0.0025"),
    ("4.", IN, Code.MISWRITTEN_NUMBER, "has a point after its last digit", "4"),
    ("2.45.0", IN, Code.MISWRITTEN_NUMBER, "has two points", ""),
    (".0015...0020", IN, Code.MISWRITTEN_NUMBER, "has three points in a row", "0.0015..0.0020"),
    ("1_000", IN, Code.MISWRITTEN_NUMBER, "has an underscore in a number", "1000"),
    ("1e-3", IN, Code.MISWRITTEN_NUMBER, "has an exponent", "0.001"),
    ("1E-3in", MM, Code.MISWRITTEN_NUMBER, "has an exponent", "0.001in"),
    ("1e9999999", IN, Code.MISWRITTEN_NUMBER, "has an exponent", ""),
    ("- 0.003", IN, Code.MISWRITTEN_NUMBER, "has a space after its sign", "-0.003"),
    ("nan", IN, Code.NOT_A_NUMBER, "is not a number", ""),
    (".NaN", IN, Code.NOT_A_NUMBER, "is not a number", ""),
    ("-inf", IN, Code.NOT_A_NUMBER, "is not a number", ""),
    ("-", IN, Code.NO_VALUE, "is only a dash; what was not measured is left empty or open", "open"),
    ("zero", IN, Code.AMBIGUOUS, NOTHING_SAID, "0 or open"),
    ("nil", IN, Code.AMBIGUOUS, NOTHING_SAID, "0 or open"),
    ("none", IN, Code.AMBIGUOUS, NOTHING_SAID, "0 or open"),
    ("n/a", IN, Code.AMBIGUOUS, NOTHING_SAID, "0 or open"),
    ("?", IN, Code.AMBIGUOUS, NOTHING_SAID, "0 or open"),
    ("zero", None, Code.AMBIGUOUS, NOTHING_SAID, "open"),  # a 0 without a unit would not be read here
    ("\u0661.\u0662", IN, Code.MISWRITTEN_NUMBER, "has digits other than 0 to 9", "1.2"),
    ("5\u00b2", IN, Code.NOT_A_NUMBER, "is no written number", ""),
    ("2.4\u200b990", IN, Code.UNWANTED_CHARACTER, "has a character that cannot be seen", "2.4990"),
    ("12:30", IN, Code.NOT_A_NUMBER, "is no written number", ""),
    ("1" * 21, IN, Code.TOO_LONG, "has more than 20 digits", ""),
    ("1" * 61, IN, Code.TOO_LONG, "is longer than 60 characters", ""),
    # approximate words
    (".0015ish", IN, Code.APPROXIMATE, APPROXIMATE, ""),
    ("~0.0015", IN, Code.APPROXIMATE, APPROXIMATE, ""),
    ("about 0.0015", IN, Code.APPROXIMATE, APPROXIMATE, ""),
    ("right at 0.005", IN, Code.APPROXIMATE, APPROXIMATE, ""),
    ("right on .05 mm", IN, Code.APPROXIMATE, APPROXIMATE, ""),
    ("a bit under 0.002", IN, Code.RANGE_IN_WORDS, UNDER, "under 0.002"),
    ("less than .002 in", IN, Code.RANGE_IN_WORDS, UNDER, "under 0.002 in"),
    ("slightly over 0.002", IN, Code.RANGE_IN_WORDS, OVER, "over 0.002"),
    ("slightly over", IN, Code.NOT_A_NUMBER, "gives no number", ""),
    ("tight 25", IN, Code.RANGE_IN_WORDS, "says tight, but not by how much and in which unit", "under 0.0025 in"),
    ("loose 25", IN, Code.RANGE_IN_WORDS, "says loose, but not by how much and in which unit", "over 0.0025 in"),
    ("tight .0025", IN, Code.RANGE_IN_WORDS, "says tight, but not by how much and in which unit", "under 0.0025"),
    (".0034 or .0035", IN, Code.SEVERAL_NUMBERS, TWO, "0.0034..0.0035"),
    ("probably .0010 or less", IN, Code.RANGE_IN_WORDS, "is an estimate", "under 0.0010"),
    ("0.003 or more", IN, Code.RANGE_IN_WORDS, "is an estimate", "over 0.003"),
    ("could not feel any", IN, Code.NOT_A_NUMBER, NO_SIZE, ""),
    ("won't go", IN, Code.NOT_A_NUMBER, NO_SIZE, ""),
    ("undr 0.001", IN, Code.WORDS_WITH_NUMBER, "has words before the number; a note belongs in a comment", ""),
    # brackets, ranges, tolerances
    ("0.015 goes, 0.035 doesn't", IN, Code.RANGE_IN_WORDS, "is a bracket in words", "0.015..0.035"),
    ("0.4 mm goes, 0.5 mm does not", IN, Code.RANGE_IN_WORDS, "is a bracket in words", "0.4 mm..0.5 mm"),
    (".0015-.0020", IN, Code.SEVERAL_NUMBERS, TWO, "0.0015..0.0020"),
    ("54.000 ~ 54.010", MM, Code.SEVERAL_NUMBERS, TWO, "54.000..54.010"),
    ("54.000\u201354.010", MM, Code.SEVERAL_NUMBERS, TWO, "54.000..54.010"),
    ("54.000 to 54.010", MM, Code.SEVERAL_NUMBERS, TWO, "54.000..54.010"),
    ("0.10 mm - 0.25 mm", IN, Code.SEVERAL_NUMBERS, TWO, "0.10 mm..0.25 mm"),
    ("0,10-0,25 mm", IN, Code.COMMA_IN_NUMBER, "has a comma", "0.10..0.25 mm"),  # one slip inside another
    ("2-3 thou", IN, Code.SEVERAL_NUMBERS, TWO, "2..3 thou"),
    ("3 and 4 thousandths", IN, Code.SEVERAL_NUMBERS, TWO, "3..4 thousandths"),
    ("2.000 to 1.999", IN, Code.WRONG_RANGE, LARGER_FIRST, "1.999..2.000"),
    ("52.034-52.020", MM, Code.WRONG_RANGE, LARGER_FIRST, "52.020..52.034"),
    ("0.016..0.015", IN, Code.WRONG_RANGE, LARGER_FIRST, "0.015..0.016"),
    ("0.016 in..0.3 mm", MM, Code.WRONG_RANGE, LARGER_FIRST, ""),
    (
        "0.75-0.107 mm",
        IN,
        Code.WRONG_RANGE,
        f"{LARGER_FIRST}, too far for an exchange; a nought may be lost",
        "0.075..0.107 mm",
    ),
    ("64-2 mm", IN, Code.WRONG_RANGE, f"{LARGER_FIRST}, too far for an exchange; a nought may be lost", ""),
    ("0.015..0.015 in", IN, Code.WRONG_RANGE, "has two ends that are one size", "0.015 in"),
    ("2.4490 +0.0015/-0", IN, Code.NOT_A_READING, TOLERANCE, "2.4490..2.4505"),
    ("24-0.004", MM, Code.NOT_A_READING, TOLERANCE, "23.996..24"),
    ("20 -0.019 to +0.000", MM, Code.NOT_A_READING, TOLERANCE, "19.981..20.000"),
    ("+ 0.018 + 0.028", MM, Code.NOT_A_READING, "gives two deviations and no size", ""),
    ("-0.005 to +0.025", MM, Code.SEVERAL_NUMBERS, TWO, "-0.005..+0.025"),
    ("1.250 + 0.001", IN, Code.WRONG_UNCERTAINTY, BAD_SIGN, "1.250 ±0.001"),
    ("1.250 plus or 0.001", IN, Code.WRONG_UNCERTAINTY, BAD_SIGN, "1.250 ±0.001"),
    ("1.250 plus or minus 0.001", IN, Code.WRONG_UNCERTAINTY, BAD_SIGN, "1.250 ±0.001"),
    ("max 0.018-0.054", MM, Code.WRONG_RANGE, "says one limit but gives two numbers", ""),
    ("max 0.018", MM, Code.RANGE_IN_WORDS, UNDER, "under 0.018"),
    ("under 0.001..0.002", IN, Code.WRONG_RANGE, "says one side, but more than one number", ""),
    ("under 0.001 ±0.0001", IN, Code.WRONG_RANGE, "says one side, but more than one number", ""),
    ("0.10-0.25 mm (0.004-0.010 in)", IN, Code.SEVERAL_NUMBERS, TWO, "0.10..0.25 mm (0.004..0.010 in)"),
    (
        "60.02 mm (2.3530 in)",
        IN,
        Code.SIZE_TWICE,
        DIFFER.format("0.25 mm"),
        "60.02 mm (2.3630 in) or 59.77 mm (2.3530 in)",
    ),
    ("50.8 m (2.0 in)", IN, Code.SIZE_TWICE, DIFFER.format("50.7 m"), "50.8 m (2000.0 in) or 0.1 m (2.0 in)"),
    (
        "103.241 mm (4.0065 in)",
        IN,
        Code.SIZE_TWICE,
        DIFFER.format("1.476 mm"),
        "103.241 mm (4.0646 in) or 101.765 mm (4.0065 in)",
    ),
    # one place of the point mends it
    (
        "0.25 mm (0.0010 in)",
        IN,
        Code.SIZE_TWICE,
        DIFFER.format("0.22 mm"),
        "0.025 mm (0.0010 in) or 0.25 mm (0.010 in)",
    ),
    (
        "0.75 mm (0.0030 in)",
        IN,
        Code.SIZE_TWICE,
        DIFFER.format("0.67 mm"),
        "0.075 mm (0.0030 in) or 0.75 mm (0.030 in)",
    ),
    ("0 mm (0.1 in)", IN, Code.SIZE_TWICE, DIFFER.format("3 mm"), ""),
    ("1/4 in (6.37 mm)", IN, Code.SIZE_TWICE, DIFFER.format("0.001 in"), "0.25 in (6.35 mm)"),
    ("0.10..0.25 mm (0.004..0.011 in)", IN, Code.SIZE_TWICE, DISAGREE, ""),
    ("under 0.001 in (over 0.0254 mm)", IN, Code.SIZE_TWICE, DISAGREE, ""),
    ("60.02 mm (under 2.3630 in)", IN, Code.SIZE_TWICE, "says its size twice, but not in the same way", ""),
    ("60.02 mm (open)", IN, Code.SIZE_TWICE, "says its size twice, but not in the same way", ""),
    (
        "60.02 mm (2,3630 in)",
        IN,
        Code.SIZE_TWICE,
        "says its size twice, and the second has a comma",
        "60.02 mm (2.3630 in)",
    ),
    (
        "60.02 mm (2.3630)",
        IN,
        Code.SIZE_TWICE,
        "says its size twice, and the second has no unit, where length is expected",
        "",
    ),
    ("2.4990 ±0", IN, Code.WRONG_UNCERTAINTY, "states an uncertainty of 0, which no gauge has", ""),
    ("2.4990 ±1 g", IN, Code.AMBIGUOUS_UNIT, "names its unit only after the ±", ""),
    ("2.4990 in ±1 g", IN, Code.WRONG_UNIT, "is in g, which is mass, not length", ""),
    ("2.4990 ±0." + "1" * 21, IN, Code.TOO_LONG, "has more than 20 digits", ""),
    (
        "2.4990 ±2 tenths",
        IN,
        Code.AMBIGUOUS_UNIT,
        "names its unit only after the ±",
        "2.4990 tenths ±2 tenths or 2.4990 in ±2 tenths",
    ),
    (
        "70.03 ±0.01 mm",
        IN,
        Code.AMBIGUOUS_UNIT,
        "names its unit only after the ±",
        "70.03 mm ±0.01 mm or 70.03 in ±0.01 mm",
    ),
    # other things in one field
    ("1.5 x 87.2", MM, Code.SEVERAL_NUMBERS, "has two numbers, where one belongs", ""),
    ("M6x1.0", MM, Code.NOT_A_READING, "is a thread: a size and a pitch in one", "1.0 mm"),
    ("5/16-18", IN, Code.NOT_A_READING, "is a thread: a size and a pitch in one", "5/16 in or 1/18 in"),
    ("25 Oops", IN, Code.UNKNOWN_UNIT, NOTE.format("Oops"), "25 in"),
    ("2.5 mm Oops", IN, Code.UNKNOWN_UNIT, NOTE.format("mm Oops"), "2.5 mm"),
    ("2.5 Oops mm", IN, Code.UNKNOWN_UNIT, NOTE.format("Oops mm"), ""),
    ("70.03mm/2.7571in", IN, Code.UNKNOWN_UNIT, NOTE.format("mm/2.7571in"), ""),
    ("4'", IN, Code.UNKNOWN_UNIT, NOTE.format("'"), ""),
    (".010 under", IN, Code.WORDS_WITH_NUMBER, WHOLE, ""),
    ("20 marks", IN, Code.WORDS_WITH_NUMBER, WHOLE, ""),
    ("0.0025 radial", IN, Code.WORDS_WITH_NUMBER, WHOLE, ""),
    ("five of six", IN, Code.WORDS_WITH_NUMBER, WHOLE, ""),
    (".0045 per inch", IN, Code.WORDS_WITH_NUMBER, WHOLE, ""),
    ("2026-10-03", IN, Code.NOT_A_NUMBER, "is no written number", ""),
    ("64 Ra", IN, Code.UNKNOWN_UNIT, "names a kind of roughness, not a unit", "64 um or 64 uin"),
    ("60-150 RMS", IN, Code.UNKNOWN_UNIT, "names a kind of roughness, not a unit", "60..150 um or 60..150 uin"),
    ("3.8-2.0 um", IN, Code.WRONG_RANGE, LARGER_FIRST, "2.0..3.8 um"),
    ("36 cc", IN, Code.WRONG_UNIT, "is in cc, which is volume, not length", ""),
    ("0.0025", None, Code.UNIT_MISSING, "has no unit, where length is expected", ""),
    ("0.1..0." + "1" * 21, IN, Code.TOO_LONG, "has more than 20 digits", ""),
    ("0.1..0.2 g", IN, Code.WRONG_UNIT, "is in g, which is mass, not length", ""),
    ("0.1 in..0.2 g", IN, Code.WRONG_UNIT, "is in g, which is mass, not length", ""),
]


@pytest.mark.parametrize(("text", "unit", "code", "said", "write"), REFUSED_LENGTHS)
def test_refused_lengths(text: str, unit: Unit | None, code: Code, said: str, write: str) -> None:
    refusal = refused(text, unit, LENGTH)
    assert (refusal.code, refusal.said, refusal.write) == (code, said, write)


@pytest.mark.parametrize(
    ("text", "at"), [("2,4990", 1), ("  2,4990", 3), ("10.000 mmm", 7), ("7OoF", 1), ("2 937 in", 1), ("2.45.0", 4)]
)
def test_the_place_of_the_trouble(text: str, at: int) -> None:
    assert refused(text, IN, LENGTH).at == at


# ---- brackets and stated uncertainty


@pytest.mark.parametrize(
    ("text", "unit", "low", "high"),
    [
        ("under 0.001", IN, None, "0.0254"),
        ("< 0.001", IN, None, "0.0254"),
        ("<=0.001", IN, None, "0.0254"),
        ("over 71.40", MM, "71.40", None),
        (">= 71.40", MM, "71.40", None),
        ("> 71.40 mm", IN, "71.40", None),
        ("0.015..0.035", IN, "0.381", "0.889"),
        ("20..21", THOU, "0.508", "0.5334"),
        ("20 .. 21 thou", MM, "0.508", "0.5334"),
        ("0.015 in..0.035", MM, "0.381", "0.889"),
        ("0.015 in..0.035 in", MM, "0.381", "0.889"),
        ("0.015 in..0.9 mm", MM, "0.381", "0.9"),
        ("-0.001..0.001", MM, "-0.001", "0.001"),
        (".1...2 mm", MM, None, None),
        ("0.10..0.25 mm (0.004..0.010 in)", IN, "0.10", "0.25"),
        ("under 0.001 in (under 0.025 mm)", IN, None, "0.0254"),
    ],
)
def test_brackets(text: str, unit: Unit, low: str | None, high: str | None) -> None:
    read = read_written(text, unit=unit, dimension=LENGTH)
    if low is None and high is None:  # three points: 0.1 to 0.2, or 0.1 to 2
        assert isinstance(read, Refusal)
        assert read.write == "0.1..0.2 mm or 0.1..2 mm"
        return
    assert isinstance(read, Bracket), read
    assert read.low == (None if low is None else Decimal(low))
    assert read.high == (None if high is None else Decimal(high))


def test_the_place_of_a_bracket_is_the_coarser_of_its_ends() -> None:
    read = read_written("0.015..0.02", unit=MM, dimension=LENGTH)
    assert isinstance(read, Bracket)
    assert read.place_value == Decimal("0.01")


@pytest.mark.parametrize(
    ("text", "unit", "millimetres", "uncertainty"),
    [
        ("2.4990 ±0.0001", IN, "63.4746", "0.00254"),
        ("2.4990 +/-0.0001", IN, "63.4746", "0.00254"),
        ("2.4990 +- 0.0001", IN, "63.4746", "0.00254"),
        ("1.250 ±0.001", IN, "31.75", "0.0254"),
        ("2.4990 in ±0.0001", MM, "63.4746", "0.00254"),
        ("2.4990 ±0.0001 in", IN, "63.4746", "0.00254"),
        ("2.4990 in ±2 um", MM, "63.4746", "0.002"),
        ("2.4990 in ±1 tenth (63.475 mm)", IN, "63.4746", "0.00254"),
    ],
)
def test_stated_uncertainty(text: str, unit: Unit, millimetres: str, uncertainty: str) -> None:
    read = value(text, unit, LENGTH)
    assert (read.value, read.U) == (Decimal(millimetres), Decimal(uncertainty))


def test_the_uncertainty_of_a_temperature_is_a_difference() -> None:
    read = value("68 F ±9 F", CONTEXT_UNITS[TEMPERATURE], TEMPERATURE)
    assert (read.value, read.U) == (Decimal(20), Decimal(5))


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("70.03 mm (2.7571 in)", "70.03"),
        ("60.02 mm (2.3630 in)", "60.02"),
        ("2.7571 (70.03 mm)", "70.03034"),  # the first statement is the value
        ("1/4 in (6.35 mm)", "6.35"),
        ("0.018 mm (0.0007 in)", "0.018"),
    ],
)
def test_a_size_said_twice(text: str, millimetres: str) -> None:
    assert value(text, IN, LENGTH).value == Decimal(millimetres)


@pytest.mark.parametrize(
    ("second", "agrees"),
    [("2.7573", True), ("2.7574", False), ("2.7569", True), ("2.7568", False)],
)
def test_twice_agrees_within_half_of_both_last_places(second: str, agrees: bool) -> None:
    """70.03 mm is 2.75709 in; half of 0.01 mm and half of 0.0001 in are together 0.00025 in."""
    read = read_written(f"70.03 mm ({second} in)", unit=IN, dimension=LENGTH)
    assert isinstance(read, Exact) is agrees


def test_a_fraction_said_twice_is_not_rounded_to_its_parts() -> None:
    assert refused("1/4 in (6.37 mm)", IN, LENGTH).said == DIFFER.format("0.001 in")


# ---- other quantities, in base units g, mm3, g mm2/s2, deg, degrees Celsius


@pytest.mark.parametrize(
    ("text", "dimension", "base"),
    [
        ("3gs", MASS, "3"),
        ("500 g", MASS, "500"),
        ("5 lb", MASS, "2267.96185"),
        ("24.4 ml", VOLUME, "24400"),
        ("36 cc", VOLUME, "36000"),
        ("36 CC", VOLUME, "36000"),
        ("36 cm3", VOLUME, "36000"),
        ("36 cm\u00b3", VOLUME, "36000"),
        ("36", VOLUME, "36000"),
        ("+5 cc", VOLUME, "5000"),
        ("17.9 cu in", VOLUME, "293328.4456"),  # 17.9 x 16387.064
        ("17.9 in^3", VOLUME, "293328.4456"),
        ("17.9 ci", VOLUME, "293328.4456"),
        ("19.5", ANGLE, "19.5"),
        ("22 deg", ANGLE, "22"),
        ("22\u00b0", ANGLE, "22"),
        ("65 Nm", TORQUE, "65e9"),
        ("65 N\u00b7m", TORQUE, "65e9"),
        ("65 ft-lb", TORQUE, "88128166641.541026"),  # 65 x 1.3558179483314004 N m
        ("65 lb-ft", TORQUE, "88128166641.541026"),
        ("65 lbf ft", TORQUE, "88128166641.541026"),
        ("65 in-lb", TORQUE, "7344013886.7950855"),  # a twelfth
        ("6.5 kgf-m", TORQUE, "63743225000"),
        ("8 kN", FORCE, "8e9"),
        ("5 lb", FORCE, "22241108.0763025"),
        ("68 F", TEMPERATURE, "20"),
        ("20 C", TEMPERATURE, "20"),
        ("-40 F", TEMPERATURE, "-40"),
        ("212\u00b0F", TEMPERATURE, "100"),
        ("212 \u00ba F", TEMPERATURE, "100"),
        ("20 K", TEMPERATURE_DIFFERENCE, "20"),
        ("9 degF_difference", TEMPERATURE_DIFFERENCE, "5"),
    ],
)
def test_other_quantities(text: str, dimension: Dimension, base: str) -> None:
    assert value(text, CONTEXT_UNITS[dimension], dimension).value == Decimal(base)


def test_a_rate_in_pounds_an_inch_is_the_ratio_of_exact_units() -> None:
    read = value("350 lb/in", CONTEXT_UNITS[STIFFNESS], STIFFNESS)
    assert abs(read.value * Decimal("25.4") - 350 * Decimal("4448221.6152605")) < Decimal("1e-15")


@pytest.mark.parametrize(
    ("text", "dimension", "said", "write"),
    [
        ("1,000 cc", VOLUME, "has a comma", "1.000 cc or 1000 cc"),
        ("dome +5 cc", VOLUME, "has words before the number; a note belongs in a comment", ""),
        ("19.5 ATDC", ANGLE, NOTE.format("ATDC"), "19.5 deg"),
        ("22 BTDC", ANGLE, NOTE.format("BTDC"), "22 deg"),
        ("22B", ANGLE, NOTE.format("B"), "22 deg"),
        ("4 deg crank", ANGLE, NOTE.format("deg crank"), "4 deg"),
        ("18-58", ANGLE, TWO, "18..58"),
        ("218 @ .0505", ANGLE, "gives where it was taken beside the number", "218"),
        ("rod big end (x2) 459.6", MASS, "counts several as one; write the figure of one alone", ""),
        ("7OoF", TEMPERATURE, "has the letter O in a number", "70 F"),
        ("20 K", TEMPERATURE, "is in K, which is temperature difference, not temperature", ""),
        (
            "10 F",
            TEMPERATURE_DIFFERENCE,
            "is in F, which is temperature, not temperature difference",
            "10 degF_difference",
        ),
        ("65 NM", TORQUE, "has the unknown unit NM", "65 N m"),
        ("65 kg-m", TORQUE, "has the unknown unit kg-m", "65 kgf m"),
        ("5 lb", TORQUE, MAY_BE.format("lb", "a force or a mass"), ""),
    ],
)
def test_other_quantities_refused(text: str, dimension: Dimension, said: str, write: str) -> None:
    refusal = refused(text, CONTEXT_UNITS[dimension], dimension)
    assert (refusal.said, refusal.write) == (said, write)


# ---- what is around the number


def test_a_bare_number_without_a_unit_is_a_number() -> None:
    assert value("12", None, None).unit.dimension == NUMBER
    assert value("12", None, NUMBER).value == 12
    assert value("12", IN, NUMBER).value == 12  # a count on a sheet that is in inches
    assert value("12 %", None, NUMBER).value == Decimal("0.12")


def test_the_sheets_unit_is_not_lent_to_another_dimension() -> None:
    assert refused("12", IN, VOLUME).said == "has no unit, where volume is expected"


def test_anything_goes_where_nothing_is_expected() -> None:
    assert value("5 cc", IN, None).value == 5000
    assert value("5 lb", CONTEXT_UNITS[MASS], None).value == Decimal("2267.96185")
    assert refused("5 lb", None, None).write == "5 lbf or 5 lbm"
    assert refused("5 Oops", None, None).write == "5"


@pytest.mark.parametrize("inches", ["in", "ft", "thou"])
def test_tenths_are_of_a_thou_among_inches_only(inches: str) -> None:
    assert value("5 tenths", unit_of(inches, LENGTH), LENGTH).value == Decimal("0.0127")
