"""Import maps: what is wrong with one is told at its line and column, in one run."""

from __future__ import annotations

import pytest

from specrules.importing.import_map import column_letters, column_number
from specrules.importing.map_reading import fitted, read_map
from tests.importing.small_tables import mapped, small_sheet
from tests.sheet.small_shop import sheet_of, shop

GOOD = """\
layout: a row a station
unit: in
stations: {Main: main}
readings:
  Bore: {measurand: main_bore, at: {plane: front}}
"""

FAULTS = {
    "no layout": ("layout: a row a station\n", "", 'm.yaml, line 1: has no "layout" (how the readings lie).'),
    "another layout": (
        "a row a station",
        "a row",
        'm.yaml, line 2, layout: "a row" is none of a row a station, a column a station, a block a part.',
    ),
    "an unknown key": ("unit: in", "units: in", 'm.yaml, line 3: "units" is no key here; write unit.'),
    "an unknown unit": ("unit: in", "unit: inhc", 'm.yaml, line 3, unit: "inhc" is no known unit; write in.'),
    "two units of a kind": (
        "unit: in",
        "unit: [in, mm]",
        "m.yaml, line 3, unit: two units of one kind of quantity; a heading may have its own.",
    ),
    "rows that are no run": (
        "unit: in",
        "rows: 3-9",
        'm.yaml, line 3, rows: "3-9" is no run of rows or columns; write 3..20, 3.. or A..F.',
    ),
    "rows that run backwards": (
        "unit: in",
        "rows: 9..3",
        'm.yaml, line 3, rows: "9..3" runs from the larger to the smaller.',
    ),
    "too many heading lines": (
        "unit: in",
        "heading lines: 4",
        'm.yaml, line 3, heading lines: "4" is no number from 1 to 3.',
    ),
    "heading lines in other digits": (
        "unit: in",
        "heading lines: ２",
        'm.yaml, line 3, heading lines: "２" is no number from 1 to 3.',
    ),
    "a delimiter as a sign": (
        "unit: in",
        "delimiter: ';'",
        'm.yaml, line 3, delimiter: ";" is none of comma, semicolon, tab, bar.',
    ),
    "blocks without titles": (
        "a row a station",
        "a block a part",
        "m.yaml, line 2, layout: blocks need the axis of their titles; write block: {titles: AXIS}.",
    ),
    "a block without blocks": (
        "unit: in",
        "block: {titles: main}",
        "m.yaml, line 3, block: block goes with the layout of blocks alone; write layout: a block a part.",
    ),
    "blocks with a line of headings more": (
        "a row a station\n",
        "a block a part\nblock: {titles: main}\nheading lines: 2\n",
        "m.yaml, line 2, heading lines: a block has one line of headings.",
    ),
    "blocks with headings of labels": (
        "a row a station\n",
        "a block a part\nblock: {titles: main}\n",
        "m.yaml, line 5, stations: stations are headings of labels, and a block says its part in its title; "
        "write block: {titles: AXIS}.",
    ),
    "an axis across that it has not": (
        "a row a station\nunit: in\nstations: {Main: main}\n",
        "a block a part\nblock: {titles: main, across: clock}\n",
        "m.yaml, line 5, Bore: the table has labels of clock, which main_bore does not lie along; "
        "write another map for this heading.",
    ),
    "one heading twice": (
        "readings:",
        "readings:\n  bore: main_bore",
        'm.yaml, line 7: "Bore" is the heading of line 6 again.',
    ),
    "an unknown measurand": (
        "main_bore",
        "main_bor",
        'm.yaml, line 6, Bore: "main_bor" is no measurand of these packs; write main_bore.',
    ),
    "an unknown axis": (
        "Main: main",
        "Main: mian",
        'm.yaml, line 4, axis: "mian" is no axis of these packs; write main.',
    ),
    "an axis that it has not": (
        "{plane: front}",
        "{plane: front, clock: a}",
        'm.yaml, line 6, Bore: main_bore does not lie along "clock"; it lies along main and plane.',
    ),
    "an axis said twice": (
        "{plane: front}",
        "{plane: front, main: 1}",
        "m.yaml, line 6, Bore: the table's own labels say the main; leave it out here.",
    ),
    "an unknown label": (
        "plane: front",
        "plane: fron",
        'm.yaml, line 6, Bore: "fron" is no label of plane in this sheet; there are front and rear.',
    ),
    "a label of the table that is none": (
        "unit: in",
        "labels: {main: {Thrust: 9}}",
        'm.yaml, line 3, labels main: "9" is no label of main in this sheet; there are 1 to 3.',
    ),
    "no station": (
        "stations: {Main: main}\n",
        "",
        "m.yaml, line 5, Bore: nothing says the main of these figures; write at: {main: ...}.",
    ),
    "a station too many": (
        "{Main: main}",
        "{Main: main, Cyl: cylinder}",
        "m.yaml, line 6, Bore: the table has labels of cylinder, which main_bore does not lie along; "
        "write another map for this heading.",
    ),
    "a unit of another kind": (
        "front}}",
        "front}, unit: cc}",
        "m.yaml, line 6, Bore: cc is volume, and main_bore is length.",
    ),
    "no readings": (
        "  Bore: {measurand: main_bore, at: {plane: front}}\n",
        "  {}\n",
        "m.yaml, line 6, readings: has nothing where a mapping belongs.",
    ),
}


def faults(text: str) -> list[str]:
    model, found = read_map(mapped(text), "m.yaml")
    if model is not None:
        fits, found = fitted(model, shop(), small_sheet())
        assert (fits is None) == bool(found)
    return [fault.sentence() for fault in found]


def test_a_map_without_a_fault_has_none() -> None:
    assert faults(GOOD) == []


@pytest.mark.parametrize(("old", "new", "said"), FAULTS.values(), ids=FAULTS)
def test_what_is_wrong_is_told_at_its_line(old: str, new: str, said: str) -> None:
    assert old in GOOD
    assert said in faults(GOOD.replace(old, new, 1))


def test_a_file_of_another_kind_is_none() -> None:
    assert [f.sentence() for f in read_map("specrules: build-sheet/1\n", "m.yaml")[1]] == [
        'm.yaml, line 1, specrules: "build-sheet/1" is no import map that is known here; write import-map/1.'
    ]


def test_labels_that_nobody_states_are_asked_for() -> None:
    model, _ = read_map(mapped(GOOD), "m.yaml")
    assert model is not None
    found = fitted(model, shop(), sheet_of("facts: {cylinders: 2, throws: [[1], [2]]}\n"))[1]
    assert (
        "m.yaml, line 4, axis: nothing says which labels main has in this build; write mains: in the sheet's facts."
        in [each.sentence() for each in found]
    )


@pytest.mark.parametrize(("letters", "number"), [("A", 1), ("Z", 26), ("AA", 27), ("XFD", 16384)])
def test_columns_have_letters(letters: str, number: int) -> None:
    assert (column_letters(number), column_number(letters)) == (letters, number)
