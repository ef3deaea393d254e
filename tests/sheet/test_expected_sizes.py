"""What a reading is expected to be: as stated there, as other stations read in the sheet's unit, as is usual."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.quantity import Bracket, Unit, find_unit
from specrules.sheet import read_sheet, settle
from specrules.sheet.cells import cells_of_sheet
from specrules.sheet.expected_sizes import ExpectedSize, expected_size, usual_size
from tests.sheet.small_shop import FILE, shop

HEAD = "specrules: build-sheet/1\npacks: [small]\nunit: {}\nfacts: {{mains: 3, cylinders: 2, throws: [[1, 2]]}}\n"
JOURNALS = "readings: {main_journal: {1: 2.5, 2: [2.4995, 2.5001, 2.5, 2.5], 3: }}\n"
CASES = {
    # unit, readings, place -> what is expected
    ("in", JOURNALS, ("main_journal", ("3",))): ("2.4995", "2.5001"),
    ("in", JOURNALS, ("main_journal", ("2",))): ("2.5",),
    ("in", JOURNALS.replace("2.4995", "63.4999 mm"), ("main_journal", ("3",))): ("2.499996", "2.500100"),
    ("in", JOURNALS.replace("2.4995", "2.1..2.2"), ("main_journal", ("3",))): ("2.1500", "2.5001"),
    ("in", JOURNALS.replace("2.4995", "over 2.4"), ("main_journal", ("3",))): ("2.5000", "2.5001"),
    ("mm", "readings: {main_bore: {1: 63.51}}\n", ("main_bore", ("2",))): ("63.51",),
    ("mm", "readings: {main_bore: {1: 2.5004 in}}\n", ("main_bore", ("2",))): ("63.510",),
    ("in", "readings: {main_bore: {1: 2.5}}\n", ("main_bore", ("1",))): (),
    ("in", "readings: {}\n", ("crank_end_float", ())): (),
}


def expected(unit: str, readings: str, where: tuple[str, tuple[str, ...]]) -> ExpectedSize:
    raw, _ = read_sheet(HEAD.format(unit) + readings, FILE)
    assert raw is not None
    sheet, faults = settle(raw, shop())
    assert sheet is not None, faults
    cell = next(each for each in cells_of_sheet(raw, sheet, shop()) if each.spot[:2] == where)
    return expected_size(cell, sheet, shop())


@pytest.mark.parametrize(("unit", "readings", "where"), CASES)
def test_other_stations_say_what_to_expect(unit: str, readings: str, where: tuple[str, tuple[str, ...]]) -> None:
    assert expected(unit, readings, where).elsewhere == CASES[unit, readings, where]


def test_what_is_usual_is_told_in_the_unit_of_the_sheet() -> None:
    where = ("crank_end_float", ())
    assert expected("in", "", where).usual == "0.0005 to 0.06"
    assert expected("mm", "", where).usual == "0.0127 to 1.524"


@pytest.mark.parametrize(
    ("low", "high", "told"),
    [("1", "2", "1 to 2"), ("1", None, "1 or more"), (None, "2", "2 or less"), (None, None, "")],
)
def test_an_open_end_of_what_is_usual_is_told(low: str | None, high: str | None, told: str) -> None:
    mm = find_unit("mm")
    assert isinstance(mm, Unit)
    least, most = (None if end is None else Decimal(end) for end in (low, high))
    assert usual_size(Bracket(least, most, mm, Decimal(1)), mm) == told
    assert usual_size(None, mm) == ""
