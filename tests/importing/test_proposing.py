"""Maps proposed from headings: what is sure, what stays a comment; and that what is proposed reads its own table."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.importing.map_reading import fitted, read_map
from specrules.importing.proposing import heading_meant, propose
from specrules.importing.table_cells import CellTable
from tests.importing.small_tables import Value, book, of_book, of_lines, small_sheet
from tests.sheet.small_shop import shop

HEADINGS: dict[str, tuple[str, Mapping[str, Mapping[str, str]]]] = {
    "Main": ("main", {}),
    "Main no.": ("main", {}),
    "Cyl": ("cylinder", {}),
    "ring": ("ring", {}),
    "Main journal front A": ("", {"main_journal": {"plane": "front", "clock": "a"}}),
    "main_journal": ("", {"main_journal": {}}),
    "Journal": ("", {"main_journal": {}, "rod_journal": {}}),
    "End gap (mm)": ("", {"ring_end_gap": {}}),
    "Gap": ("", {"ring_end_gap": {}}),
    "top end gap": ("", {"ring_end_gap": {"ring": "top"}}),
    "Weight": ("", {"piston_weight": {}}),
    "front A": ("", {}),
    "Journal front rear": ("", {}),
    "Journal a b": ("", {}),
    "of the": ("", {}),
    "Remarks": ("", {}),
    "": ("", {}),
}


@pytest.mark.parametrize(("text", "axis", "options"), [(text, *meant) for text, meant in HEADINGS.items()])
def test_a_heading_means_what_its_words_say(text: str, axis: str, options: Mapping[str, Mapping[str, str]]) -> None:
    found = heading_meant(text, shop(), small_sheet())
    assert (found.axis, found.options) == (axis, options)


def test_a_heading_that_is_misspelt_names_what_is_like_it() -> None:
    assert heading_meant("piston_wieght", shop(), small_sheet()).like == "piston_weight"


def proposed(*tables: CellTable, lead: Sequence[str] = ()) -> list[str]:
    text = propose(tables, shop(), small_sheet(), lead)
    return text.split("Check every line before you use it.\n")[1].replace(UNIT, "").splitlines()


UNIT = "# unit:              # in or mm, of figures whose heading and cell say none; it is never guessed\n"


def test_a_row_a_station() -> None:
    table = of_lines("Job 7,,,", "Main,Journal front A,Bore,Remarks", "1,2.4990,2.5012,ok")
    assert proposed(table) == [
        "layout: a row a station",
        "rows: 2..",
        "stations:",
        '  "Main": main',
        "readings:",
        '  "Journal front A": {measurand: main_journal, at: {plane: front, clock: a}}',
        '  "Bore": {measurand: main_bore}',
        '  # "Remarks":     # nothing of these packs is called so',
    ]


def test_a_column_a_station_with_commas() -> None:
    assert proposed(
        of_lines("Cyl;1;2", "Weight;512,5;512,6", "Volume;64,1;", between=";"), lead=["delimiter: semicolon"]
    ) == [
        "delimiter: semicolon",
        "layout: a column a station",
        "# decimal: comma     # figures here have a comma: say so if it is the decimal point",
        "stations:",
        '  "Cyl": cylinder',
        "readings:",
        '  "Weight": {measurand: piston_weight}',
        '  "Volume": {measurand: chamber_volume}',
    ]


def test_a_block_a_part() -> None:
    table = of_lines("Cylinder 1,top,oil", "End gap,18,20", "Size,1,2", "Cylinder 2,top,oil", "End gap,18,20")
    assert proposed(table) == [
        "layout: a block a part",
        "block: {titles: cylinder, across: ring}",
        "readings:",
        '  "End gap": {measurand: ring_end_gap}',
        '  # "Size":     # nothing of these packs is called so',
    ]


def test_headings_of_two_lines_in_the_worksheet_that_says_most() -> None:
    def change(sheet: Any) -> None:
        sheet.merge_cells("B1:C1")

    rows: list[list[Value]] = [["", "Main journal", ""], ["Main", "front a", "front b"], [1, 2.4990, 2.4991]]
    tables = (of_lines("nothing"), of_book(book(rows, change, "Mains")))
    assert proposed(*tables) == [
        "layout: a row a station",
        'worksheet: "Mains"',
        "# other worksheets: ",
        "heading lines: 2",
        "stations:",
        '  "Main": main',
        "readings:",
        '  "Main journal front a": {measurand: main_journal, at: {plane: front, clock: a}}',
        '  "Main journal front b": {measurand: main_journal, at: {plane: front, clock: b}}',
    ]


def test_what_may_be_several_things_stays_a_comment() -> None:
    assert proposed(of_lines("Journal,Bore", "2.4990,2.5"))[2:] == [
        "readings:",
        '  # "Journal":     # main_journal or rod_journal?',
        '  "Bore": {measurand: main_bore}',
    ]


def test_of_nothing_nothing_is_proposed() -> None:
    assert proposed(of_lines("x", "1"))[-2:] == ["readings:", '  # "x":     # nothing of these packs is called so']


CELLS = st.sampled_from(
    [
        "",
        "Main",
        "Cyl",
        "Journal",
        "Bore front",
        "Main journal front a",
        "End gap",
        "top",
        "1",
        "Main 1",
        "Main 2",
        "2.5",
    ]
) | st.text("aMj:#{}[]\"'\\\n\t 12.,", max_size=8)


@given(st.lists(st.lists(CELLS, min_size=3, max_size=3), min_size=1, max_size=6))
def test_what_is_proposed_is_a_map_without_a_fault_but_for_what_is_left_to_fill_in(rows: list[list[str]]) -> None:
    table = of_lines(*("\0".join(row) for row in rows), between="\0")
    model, faults = read_map(propose([table], shop(), small_sheet()), "m.yaml")
    if model is None:
        assert {fault.subject for fault in faults} == {"readings"}, [fault.sentence() for fault in faults]
    else:
        wrong = fitted(model, shop(), small_sheet())[1]
        assert all("nothing says the" in fault.said for fault in wrong), [fault.sentence() for fault in wrong]
