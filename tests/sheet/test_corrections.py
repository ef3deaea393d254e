"""A written figure to a corrected one: units, brackets, repeats, stated U, and what the gauge reads too much."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from specrules.pack import Amount, Capability, Characteristics
from specrules.quantity import CONTEXT, Unit, find_unit
from specrules.sheet import Reading
from tests.sheet.small_shop import sentences, sheet_of

INCH = Decimal("25.4")


def one(body: str, unit: str = "in") -> Reading:
    (reading,) = sheet_of(body, unit=unit).readings
    return reading


def test_a_number_in_base_units_with_its_places() -> None:
    reading = one("readings: {crank_end_float: 0.0055}\n")
    assert reading.value == reading.low == reading.high == Decimal("0.0055") * INCH
    assert reading.place_value == Decimal("0.0001") * INCH
    assert (reading.text, reading.unit.symbol, reading.U, reading.repeats) == ("0.0055", "in", None, 1)
    assert one("readings: {crank_end_float: 5.5 thou}\n", "mm").value == reading.value
    assert one("readings: {crank_end_float: 0.14}\n", "mm").value == Decimal("0.14")


def test_a_bare_number_that_is_no_length_is_in_the_unit_of_its_measurand() -> None:
    assert one("readings: {opens: {1: 6}}\n", "mm").value == 6
    assert one("readings: {chamber_volume: {1: 36}}\n", "mm").value == 36000
    assert one("readings: {piston_weight: {1: 583.9}}\n").value == Decimal("583.9")


def test_a_unit_for_a_whole_set() -> None:
    assert one("readings: {crank_end_float: {unit: thou, at: 5.5}}\n").value == Decimal("0.0055") * INCH
    assert one("readings: {chamber_volume: {unit: in^3, 1: 2}}\n").value == 2 * INCH**3
    assert one("readings: {crank_end_float: {unit: thou, at: 0.14 mm}}\n").value == Decimal("0.14")
    assert sentences("readings: {opens: {unit: mm, 1: 6}}\n") == [
        'line 3, opens unit: "mm" is a unit of length, and this is angle.'
    ]
    assert sentences("readings: {opens: {unit: dge, 1: 6}}\n") == [
        'line 3, opens unit: "dge" is no known unit; write deg.'
    ]


def test_brackets_keep_their_width() -> None:
    two_sided = one("readings: {ring_end_gap: {1: {top: 0.020..0.021}}}\n")
    assert (two_sided.low, two_sided.high) == (Decimal("0.020") * INCH, Decimal("0.021") * INCH)
    assert two_sided.value == Decimal("0.0205") * INCH
    under = one("readings: {ring_end_gap: {1: {top: under 0.015}}}\n")
    assert (under.value, under.low, under.high) == (None, None, Decimal("0.015") * INCH)
    over = one("readings: {ring_end_gap: {1: {top: over 0.015}}}\n")
    assert (over.value, over.low, over.high) == (None, Decimal("0.015") * INCH, None)


def test_stated_uncertainty() -> None:
    assert Decimal("0.0001") * INCH == one("readings: {crank_end_float: 0.0055 ±0.0001}\n").U


def test_repeats_are_averaged_without_losing_a_digit() -> None:
    reading = one("readings: {chamber_volume: {1: {repeats: [64.1, 64.3, 64.3]}}}\n")
    assert reading.value == CONTEXT.divide(Decimal(192700), Decimal(3))
    assert (reading.repeats, reading.text) == (3, "64.1, 64.3, 64.3")
    mixed = one("readings: {chamber_volume: {1: {repeats: [64 ±0.2, open, 64.2 ml ±0.1]}}}\n")
    assert (mixed.value, mixed.repeats) == (Decimal(64100), 2)
    assert mixed.U == 200  # what the repeats share does not average out
    assert mixed.place_value == 1000  # the coarsest
    assert sheet_of("readings: {chamber_volume: {1: {repeats: [open, open]}}}\n").readings == ()
    assert one("readings: {crank_end_float: {repeats: [0.005, 0.006]}}\n").value == Decimal("0.0055") * INCH


def test_repeats_that_cannot_be_averaged() -> None:
    assert sentences("readings: {chamber_volume: {1: {repeats: [64.1, 64.2..64.4]}}}\n") == [
        'line 3, chamber_volume 1: "64.2..64.4" is a range, and repeats are averaged.'
    ]
    assert sentences("readings: {chamber_volume: {1: {repeats: [64.1, x]}, 2: 3 mm}}\n")[1:] == [
        'line 3, chamber_volume 2: "3 mm" is in mm, which is length, not volume.'
    ]


GAUGES = (
    "gauges:\n"
    "  mic: {class: outside micrometer, zero: {standard: 2.0000 in, reads: 2.0001 in}, checked: 2026-10-01}\n"
    "  bore gauge: {class: bore gauge, set with: mic}\n"
    "  own zero: {set with: mic, zero: {standard: 2.5000 in, reads: 2.4998 in}}\n"
    "  again: {set with: bore gauge}\n"
    "  plain: {resolution: 0.0001 in, mpe: 0.0001 in, repeatability: 0.00005 in}\n"
)


@pytest.mark.parametrize(
    ("gauge", "expected"),
    [("mic", "2.5000"), ("bore gauge", "2.5000"), ("again", "2.5000"), ("own zero", "2.5003"), ("plain", "2.5001")],
)
def test_what_a_gauge_reads_too_much_is_taken_off(gauge: str, expected: str) -> None:
    """JCGM 200:2012 (VIM), 2.53: a correction compensates for an estimated systematic effect (from memory)."""
    reading = one(f"{GAUGES}readings: {{main_bore: {{gauge: {gauge}, 1: 2.5001}}}}\n")
    assert reading.value == reading.low == reading.high == Decimal(expected) * INCH
    assert (reading.gauge, reading.text) == (gauge, "2.5001")


def test_the_error_that_a_comparator_shares_cancels_in_a_hole_less_a_shaft() -> None:
    readings = sheet_of(
        f"{GAUGES}readings: {{main_journal: {{gauge: mic, 1: 2.4991}}, main_bore: {{gauge: bore gauge, 1: 2.5016}}}}\n"
    ).readings
    shaft, hole = (reading.value for reading in readings)
    assert shaft is not None
    assert hole is not None
    assert hole - shaft == Decimal("0.0025") * INCH


def test_a_difference_that_a_comparator_shows_by_itself_has_no_part_of_that_error() -> None:
    assert one(f"{GAUGES}readings: {{guide_clearance: {{gauge: bore gauge, 1: {{intake: 0.0020}}}}}}\n").value == (
        Decimal("0.0020") * INCH
    )
    assert one(f"{GAUGES}readings: {{guide_clearance: {{gauge: mic, 1: {{intake: 0.0020}}}}}}\n").value == (
        Decimal("0.0019") * INCH  # the micrometer's own zero comes off whatever it reads
    )


def test_a_bracket_moves_by_the_zero_on_both_sides() -> None:
    reading = one(f"{GAUGES}readings: {{main_bore: {{gauge: mic, 1: under 2.5001}}}}\n")
    assert (reading.value, reading.low, reading.high) == (None, None, Decimal("2.5000") * INCH)


def test_gauges_as_the_sheet_has_them() -> None:
    gauges = sheet_of(GAUGES).gauges
    assert gauges["mic"].zero == Decimal("0.0001") * INCH
    assert gauges["bore gauge"].zero is None
    assert (gauges["bore gauge"].set_with, gauges["bore gauge"].gauge_class) == ("mic", "bore gauge")
    tenth = Amount(Decimal("0.0001") * INCH)
    inch = find_unit("in")
    assert isinstance(inch, Unit)
    figures = Characteristics(tenth, tenth, Amount(Decimal("0.00005") * INCH))
    assert gauges["plain"].capability == Capability(figures, marked=inch)
    assert gauges["mic"].capability == Capability()
    assert (gauges["mic"].gauge_class, gauges["mic"].checked) == ("outside micrometer", date(2026, 10, 1))


WRONG = {
    "mic: {class: outside micrometr}": ['gauges mic: "outside micrometr" is no gauge class; write outside micrometer'],
    "bg: {set with: mik}, mic: {}": ['gauges bg: "mik" is no gauge of this sheet; write mic'],
    "a: {set with: b}, b: {set with: a}": [
        "gauges a: this gauge is set with itself, by way of the gauges named",
        "gauges b: this gauge is set with itself, by way of the gauges named",
    ],
    "a: {zero: {standard: 2.0000 in}}": [
        "gauges a zero reads: a zero needs both its standard and what the gauge reads on it"
    ],
    "a: {zero: {standard: 2.0000 in, reads: 1..2}}": ["gauges a zero reads: a zero is one figure, not a range"],
    "a: {zero: {standard: 2.0000 in, reads: 2.0001 g}}": [
        "gauges a: the standard is a length, and what the gauge reads on it is a mass"
    ],
    "a: {checked: last week}": [
        'gauges a: "last week" is no date as sheets write them; write it year first: 2026-10-02'
    ],
}


@pytest.mark.parametrize("written", WRONG)
def test_what_is_said_of_a_gauge_that_cannot_be(written: str) -> None:
    assert sentences(f"gauges: {{{written}}}\n") == [f"line 3, {each}." for each in WRONG[written]]


def test_a_zero_of_another_kind_cannot_be_taken_off() -> None:
    body = "gauges: {scale: {zero: {standard: 100 g, reads: 101 g}}}\n"
    assert sentences(body + "readings: {crank_end_float: {gauge: scale, at: 0.005}}\n") == [
        "line 4, crank_end_float: gauge scale has its zero as mass, and this is length."
    ]
    assert sentences("gauges: {a: {zero: {standard: 2.0, reads: '2,0'}}}\n") == [
        'line 3, gauges a zero reads: "2,0" has a comma; write 2.0.'
    ]
