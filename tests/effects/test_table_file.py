"""Files of readings by what they hold: text in its encodings, spreadsheets, and what is neither."""

from __future__ import annotations

from pathlib import Path

import pytest

from specrules.document import Fault
from specrules.effects.table_file import MOST_BYTES, read_table, tables_of
from specrules.importing.import_map import ImportMap
from specrules.importing.map_reading import read_map
from specrules.importing.table_cells import CellTable
from specrules.vocabulary import Code
from tests.importing.small_tables import book, mapped

MAP = "layout: a row a station\nreadings: {End float: crank_end_float}\n"


def import_map(more: str = "") -> ImportMap:
    model, faults = read_map(mapped(MAP + more), "m.yaml")
    assert model is not None, faults
    return model


def of_bytes(folder: Path, source: bytes, more: str = "") -> CellTable | Fault:
    (folder / "t").write_bytes(source)
    return read_table(folder / "t", "t", import_map(more))


TEXTS = {
    "plain": (b"a,b\n1,2\n", "", [["a", "b"], ["1", "2"]]),
    "with a byte order mark": (b"\xef\xbb\xbfa,b\n", "", [["a", "b"]]),
    "in UTF-16": ("a,b\n".encode("utf-16"), "", [["a", "b"]]),
    "in a code page": ("Gap µ;2\n".encode("cp1252"), "encoding: cp1252\ndelimiter: semicolon\n", [["Gap µ", "2"]]),
    "quoted": (b'"a, b","c ""d"""\r\n', "", [["a, b", 'c "d"']]),
    "ragged": (b"a\n1,2\n", "", [["a", ""], ["1", "2"]]),
    "a part of it": (b"x,y,z\na,b,c\n1,2,3\n", "rows: 2..\ncolumns: B..C\n", [["b", "c"], ["2", "3"]]),
    "one row and one column": (b"x,y,z\na,b,c\n1,2,3\n", "rows: 2\ncolumns: 2..3\n", [["b", "c"]]),
    "old line ends": (b"a,b\r1,2\r", "", [["a", "b"], ["1", "2"]]),
}


@pytest.mark.parametrize(("source", "more", "rows"), TEXTS.values(), ids=TEXTS)
def test_text_is_read_cell_by_cell(tmp_path: Path, source: bytes, more: str, rows: list[list[str]]) -> None:
    found = of_bytes(tmp_path, source, more)
    assert isinstance(found, CellTable)
    assert [[cell.text for cell in row] for row in found.rows] == rows


def test_a_cell_knows_its_line_though_others_go_over_several(tmp_path: Path) -> None:
    found = of_bytes(tmp_path, b'a,"b\nc"\n1,2\n')
    assert isinstance(found, CellTable)
    assert [(row[0].place.line, row[1].address) for row in found.rows] == [(1, "column 2"), (3, "column 2")]


BROKEN = {
    "empty": (b" \n", "", Code.EMPTY_FILE),
    "of another encoding": ("Gap µ,2\n".encode("cp1252"), "", Code.NOT_UTF_8),
    "an open quotation mark": (b'a,b\n"1,2\n', "", Code.UNPAIRED),
    "bytes of no text": (b"a,\0b\n", "", Code.UNWANTED_CHARACTER),
    "an old spreadsheet": (b"\xd0\xcf\x11\xe0\xa1\xb1", "", Code.UNREADABLE),
    "too many columns": (b"," * 1000, "", Code.FILE_TOO_LARGE),
    "too many lines": (b"1\n" * 6000, "", Code.FILE_TOO_LARGE),
    "too much text": (b"1" * 2_100_000, "", Code.FILE_TOO_LARGE),
    "a cell without end": (b"1" * 200_000, "", Code.UNPAIRED),
    "too many bytes": (b"PK\x03\x04" + b"1" * MOST_BYTES, "", Code.FILE_TOO_LARGE),
    "nothing where the map looks": (b"a,b\n", "rows: 9..\n", Code.NO_VALUE),
    "a worksheet of a text": (b"a,b\n", "worksheet: Mains\n", Code.MISPLACED),
}


@pytest.mark.parametrize(("source", "more", "code"), BROKEN.values(), ids=BROKEN)
def test_what_is_no_table_is_a_fault(tmp_path: Path, source: bytes, more: str, code: Code) -> None:
    found = of_bytes(tmp_path, source, more)
    assert isinstance(found, Fault)
    assert found.code == code
    assert found.sentence().startswith(("t: ", "t, ", "m.yaml, line 4, "))


def test_a_file_that_is_not_there_is_a_fault(tmp_path: Path) -> None:
    found = read_table(tmp_path / "none", "none", import_map())
    assert isinstance(found, Fault)
    assert found.code == Code.UNREADABLE


def test_a_spreadsheet_is_known_by_its_bytes(tmp_path: Path) -> None:
    found = of_bytes(tmp_path, book([["End float"], [0.0055]]))
    assert isinstance(found, CellTable)
    assert (found.name, found.rows[1][0].text) == ("T", "0.0055")


def test_how_a_text_is_read_is_found_out_where_no_map_says_it(tmp_path: Path) -> None:
    (tmp_path / "t").write_bytes("Haupt;Maß\n1;2,5\n2;2,6\n".encode("cp1252"))
    found = tables_of(tmp_path / "t", "t")
    assert not isinstance(found, Fault)
    assert found[1] == ("encoding: cp1252     # it is not UTF-8: this is a guess", "delimiter: semicolon")
    assert [cell.text for cell in found[0][0].rows[0]] == ["Haupt", "Maß"]
