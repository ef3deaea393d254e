"""Spreadsheets as tables: each cell as it is shown, and every kind of cell that is not surely a number refused."""

from __future__ import annotations

import io
import re
import sys
import zipfile
from collections.abc import Callable
from datetime import date, datetime, time
from typing import Any

import pytest
from openpyxl import Workbook
from openpyxl.styles import Font

from specrules.document import Fault, Text
from specrules.effects import spreadsheet
from specrules.effects.spreadsheet import read_spreadsheet
from specrules.vocabulary import Code
from tests.importing.small_tables import Value, book, of_book, placing, readings, refusals
from tests.lanes import first_alone

MAP = """\
layout: a row a station
unit: in
stations: {Main: main}
readings: {Front: {measurand: main_bore, at: {plane: front}}, Rear: {measurand: main_bore, at: {plane: rear}}}
"""


def formatted(number_format: str) -> Callable[[Any], None]:
    def change(sheet: Any) -> None:
        sheet["B2"].number_format = number_format

    return change


def struck(sheet: Any) -> None:
    sheet["B2"].font = Font(strike=True)


def hidden_row(sheet: Any) -> None:
    sheet.row_dimensions[2].hidden = True


def hidden_column(sheet: Any) -> None:
    sheet.column_dimensions["B"].hidden = True


def merged(sheet: Any) -> None:
    sheet.merge_cells("B2:C2")


def nothing(_: Any) -> None:
    pass


TAKEN: dict[str, tuple[Value, Callable[[Any], None], str]] = {
    "a number": (2.5012, nothing, "2.5012 in"),
    "a number with its noughts": (2.5, formatted("0.0000"), "2.5000 in"),
    "a number that was worked on": (2.5 - 0.001, nothing, "2.499 in"),
    "a number as text": ("2.5010", nothing, "2.5010 in"),
    "a text with its unit": ("63.53 mm", nothing, "63.53 mm"),
    "a unit by its format": (63.5, formatted('0.00" mm"'), "63.50 mm"),
    "two blades": ("2.50..2.51", nothing, "2.50..2.51 in"),
}

REFUSED: dict[str, tuple[Value, Callable[[Any], None], str]] = {
    "a date": (date(2026, 2, 5), nothing, "is a date or a time, which a spreadsheet may have made of a number"),
    "a moment": (datetime(2026, 2, 5, 12), nothing, "is a date or a time"),
    "a time": (time(2, 30), nothing, "is a date or a time"),
    "a number shown as a date": (2.5, formatted("d.m."), "is a date or a time"),
    "yes": (True, nothing, '"TRUE" is a yes or no of the spreadsheet'),
    "an error": ("#DIV/0!", nothing, '"#DIV/0!" is an error of the spreadsheet'),
    "a formula without its result": ("=1+1.5", nothing, '"=1+1.5" is a formula whose result is not in the file'),
    "a percentage": (2.5, formatted("0.0%"), "is shown as a percentage"),
    "thousands": (2501.2, formatted("0.0000,"), "which shows something else than its number"),
    "money": (2.5, formatted("$0.00"), "which shows something else than its number"),
    "a comma": ("2,5012", nothing, "has a comma; write 2.5012, or decimal: comma in the map"),
    "a note": ("2.5012 cold", nothing, "which is no unit"),
    "struck through": (2.5012, struck, "is struck through"),
    "a hidden row": (2.5012, hidden_row, "stands in a hidden row or column"),
    "a hidden column": (2.5012, hidden_column, "stands in a hidden row or column"),
    "merged": (2.5012, merged, "stands in merged cells, as one figure for several places"),
    "a number without end": ("9" * 10_000, nothing, "is longer than 60 characters"),
}


@pytest.mark.parametrize(("value", "change", "read"), first_alone(*TAKEN.values()))
def test_what_is_surely_a_number_is_read_as_it_is_shown(value: Value, change: Any, read: str) -> None:
    found = placing(of_book(book([["Main", "Front", "Rear"], [1, value]], change)), MAP)
    assert (readings(found), refusals(found)) == ({"main_bore 1 front": read}, [])


@pytest.mark.parametrize(("value", "change", "said"), first_alone(*REFUSED.values()))
def test_what_is_not_surely_a_number_is_refused_at_its_address(value: Value, change: Any, said: str) -> None:
    found = placing(of_book(book([["Main", "Front", "Rear"], [1, value]], change)), MAP)
    assert readings(found) == {}
    assert refusals(found)[0].startswith('B2 of sheet "T", main_bore: ')
    assert said in refusals(found)[0]


def test_merged_labels_and_headings_count_for_all_their_cells() -> None:
    def change(sheet: Any) -> None:
        sheet.merge_cells("A3:A4")
        sheet.merge_cells("C1:D1")

    rows: list[list[Value]] = [
        ["Cyl", "Ring", "Gap"],
        [None, None, "end", "side"],
        [1, "top", 18],
        [None, "second", 21],
    ]
    text = "layout: a row a station\nunit: thou\nheading lines: 2\nstations: {Cyl: cylinder, Ring: ring}\n"
    found = placing(of_book(book(rows, change)), f"{text}readings: {{Gap end: ring_end_gap}}\n")
    assert readings(found) == {"ring_end_gap 1 top": "18 thou", "ring_end_gap 1 second": "21 thou"}
    assert [cell.text for cell in found.passed] == ["Gap side"]


def parts(source: bytes, change: Callable[[str, str], str]) -> bytes:
    """A spreadsheet with the texts of its parts changed."""
    made = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(source)) as old, zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            new.writestr(name, change(name, old.read(name).decode()))
    return made.getvalue()


def in_sheet(old: str, new: str) -> Callable[[str, str], str]:
    """A change of the worksheet alone; `old` is a pattern that has to be there."""

    def change(name: str, text: str) -> str:
        if not name.endswith("sheet1.xml"):
            return text
        assert re.search(old, text), text
        return re.sub(old, new, text, count=1)

    return change


PLAIN: list[list[Value]] = [["Main", "Front", "Rear"], [1, 2.5012, 2.5013]]
CELL = r'<c r="B2"[^>]*>.*?</c>'


def with_cell(cell: str) -> bytes:
    return parts(book(PLAIN), in_sheet(CELL, cell))


@pytest.mark.parametrize(
    ("cell", "read", "said"),
    [
        ('<c r="B2"><f>5/2</f><v>2.5</v></c>', "2.5 in", ""),
        (
            '<c r="B2"><f>A1/3</f><v>2.4990333333333332</v></c>',
            "",
            "is worked out by a formula and shown as 2.49903333",
        ),
        ('<c r="B2"><f>A1/3</f></c>', "", "is a formula whose result is not in the file"),
        ('<c r="B2" t="str"><f>IF(A1=1,"",2)</f><v></v></c>', "", ""),
        ('<c r="B2" t="str"><f>"2.5 mm"</f><v>2.5 mm</v></c>', "2.5 mm", ""),
        ('<c r="B2" t="e"><f>1/0</f><v>#DIV/0!</v></c>', "", '"#DIV/0!" is an error'),
        ('<c r="B2" t="b"><f>1=1</f><v>1</v></c>', "", "is a yes or no"),
        ('<c r="B2"><v>1E+400</v></c>', "", "is not a number"),
        ('<c r="B2"/>', "", ""),
    ],
)
def test_formulas_are_read_by_the_result_that_was_saved(cell: str, read: str, said: str) -> None:
    found = placing(of_book(with_cell(cell)), MAP)
    assert readings(found) == {"main_bore 1 rear": "2.5013 in"} | ({"main_bore 1 front": read} if read else {})
    assert [said in each for each in refusals(found)] == ([True] if said else [])


def wrong(source: bytes, name: str = "") -> Fault:
    found = read_spreadsheet(source, "t.xlsx", Text(name))
    assert isinstance(found, Fault)
    return found


def test_a_worksheet_is_named_where_there_are_several_that_are_shown() -> None:
    made = Workbook()
    made.create_sheet("Mains")["A1"] = "Main"
    saved = io.BytesIO()
    made.save(saved)
    assert wrong(saved.getvalue()).sentence() == (
        "t.xlsx: the file has 2 worksheets, and the map does not say which; write worksheet: Sheet."
    )
    assert wrong(saved.getvalue(), "Main").said == 't.xlsx has no worksheet "Main"'
    assert wrong(saved.getvalue(), "Main").write == "Mains"
    assert of_book(saved.getvalue(), "Mains").rows[0][0].text == "Main"
    made["Sheet"].sheet_state = "hidden"
    made.save(saved := io.BytesIO())
    assert of_book(saved.getvalue()).name == "Mains"


def padded(name: str, text: str) -> str:
    return text.replace("<sheetData>", f"<!--{' ' * 17_000_000}--><sheetData>") if name.endswith("sheet1.xml") else text


ALL_MERGED = '<mergeCell ref="A1:XFD1048576"/>'
HOSTILE = {
    "no package": (b"PK\x03\x04 and nothing", Code.UNREADABLE),
    "a package without a workbook": (book(PLAIN)[:-40], Code.UNREADABLE),
    "no XML": (parts(book(PLAIN), in_sheet("<sheetData>", "<sheetData")), Code.UNREADABLE),
    "entities": (
        parts(book(PLAIN), in_sheet("^", '<!DOCTYPE x [<!ENTITY a "2.5">]>')),
        Code.UNREADABLE,
    ),
    "merged cells without end": (
        parts(book(PLAIN), in_sheet("</sheetData>", f"</sheetData><mergeCells>{ALL_MERGED}</mergeCells>")),
        Code.FILE_TOO_LARGE,
    ),
    "a row past all others": (
        parts(book(PLAIN), in_sheet("</sheetData>", '<row r="1048576"><c r="A1048576"><v>1</v></c></row></sheetData>')),
        Code.FILE_TOO_LARGE,
    ),
    "rows out of their order": (
        parts(book(PLAIN), in_sheet("</sheetData>", '<row r="1"><c r="A1"><v>1</v></c></row></sheetData>')),
        Code.UNREADABLE,
    ),
}


@pytest.mark.parametrize(("source", "code"), HOSTILE.values(), ids=HOSTILE)
def test_a_file_that_is_broken_or_hostile_is_a_fault(source: bytes, code: Code) -> None:
    assert wrong(source).code == code


@pytest.mark.second_lane
def test_what_unpacks_to_too_much_is_not_unpacked() -> None:
    bomb = parts(book(PLAIN), padded)
    assert len(bomb) < 100_000
    assert wrong(bomb).code == Code.FILE_TOO_LARGE


def test_without_its_reader_it_is_said_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    source = book(PLAIN)
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    assert wrong(source).sentence() == (
        "t.xlsx: spreadsheets are read by openpyxl, which is not installed; pip install 'specrules[spreadsheet]'; "
        "write the readings as .csv otherwise."
    )


def test_no_failure_of_the_reader_comes_out_of_it(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise KeyError("x")

    monkeypatch.setattr(spreadsheet, "_table", broken)
    assert wrong(book(PLAIN)).code == Code.UNREADABLE


NAMESPACE = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
TYPES = "application/vnd.openxmlformats-officedocument.spreadsheetml"
RELATION = f'<Relationship Id="{{}}" Type="{RELATIONS}/{{}}" Target="{{}}"/>'
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
OTHERS = {
    "[Content_Types].xml": f'<Types xmlns="{PACKAGE}/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    f'<Override PartName="/xl/workbook.xml" ContentType="{TYPES}.sheet.main+xml"/>'
    f'<Override PartName="/xl/worksheets/one.xml" ContentType="{TYPES}.worksheet+xml"/>'
    f'<Override PartName="/xl/texts.xml" ContentType="{TYPES}.sharedStrings+xml"/></Types>',
    "_rels/.rels": f'<Relationships xmlns="{PACKAGE}/relationships">'
    f"{RELATION.format('a', 'officeDocument', 'xl/workbook.xml')}</Relationships>",
    "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{PACKAGE}/relationships">'
    f"{RELATION.format('b', 'worksheet', '/xl/worksheets/one.xml')}"
    f"{RELATION.format('c', 'sharedStrings', 'texts.xml')}</Relationships>",
    "xl/workbook.xml": f'<workbook {NAMESPACE} xmlns:r="{RELATIONS}"><sheets>'
    '<sheet name="Mains &amp; caps" sheetId="1" r:id="b"/></sheets></workbook>',
    "xl/texts.xml": f"<sst {NAMESPACE}><si><t>Main</t></si><si><r><t>Fro</t></r><r><t>nt</t></r></si>"
    "<si><t>Rear</t></si><si><t>2.5013 in</t></si></sst>",
    "xl/worksheets/one.xml": f'<worksheet {NAMESPACE}><sheetData><row><c t="s"><v>0</v></c><c t="s"><v>1</v></c>'
    '<c t="s"><v>2</v></c></row><row r="3"><c r="A3"><v>1</v></c><c r="C3" t="s"><v>3</v></c></row></sheetData>'
    "</worksheet>",
}
"""A spreadsheet as other programs write it: texts in a part of their own, cells without addresses, a row left out."""


def test_a_spreadsheet_of_another_program_is_read_too() -> None:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as archive:
        for name, text in OTHERS.items():
            archive.writestr(name, text)
    table = of_book(made.getvalue())
    assert [[cell.text for cell in row] for row in table.rows] == [
        ["Main", "Front", "Rear"],
        [""] * 3,
        ["1", "", "2.5013 in"],
    ]
    found = placing(table, MAP)
    assert (readings(found), refusals(found)) == ({"main_bore 1 rear": "2.5013 in"}, [])
    assert table.rows[2][2].address == 'C3 of sheet "Mains & caps"'
