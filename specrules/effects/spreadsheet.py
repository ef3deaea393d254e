"""A worksheet of a spreadsheet (ISO/IEC 29500) as a table: each cell as it is shown, and why it may be no figure.

The bytes may be a stranger's. How much they unpack to is asked first, and documents that declare entities are none. The
reader streams cells and builds nothing of ranges; which cells are merged or hidden is read beside it.

A number has at most 15 digits, as all programs of that format keep; its format adds noughts and takes no digit away. A
formula's result is taken where its cell shows all of its places, since a mean of readings is none. A format that shows
something else than its number (a share, thousands, money, a condition) is refused. The reader raises what it likes, so
there alone any exception is a fault of the file.
"""

from __future__ import annotations

import io
import posixpath
import re
import warnings
import zipfile
from collections.abc import Iterator, Mapping
from contextlib import redirect_stdout
from datetime import date, datetime, time, timedelta
from typing import Any, NamedTuple
from xml.etree import ElementTree

from specrules.document import Fault, Place, Text, shown
from specrules.effects.table_file import too_large, wrong
from specrules.importing.import_map import column_letters, column_number
from specrules.importing.shown_numbers import shown_number
from specrules.importing.table_cells import MOST_CELLS, MOST_COLUMNS, MOST_ROWS, CellTable, TableCell
from specrules.quantity import Refusal, nearest
from specrules.vocabulary import Code

MOST_UNPACKED = 16_000_000
"""Bytes of all that is read of a spreadsheet; pictures are not."""
MOST_WORKSHEETS = 20
MOST_MERGED = 20_000
LONGEST = 500
"""Characters of a cell; a longer one is a note."""

_TRUE = ("1", "true")
_READ = (".xml", ".rels")
_REFERENCE = re.compile(r"\$?([A-Za-z]{1,3})\$?([0-9]{1,7})(?::\$?([A-Za-z]{1,3})\$?([0-9]{1,7}))?")
_RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
_STRICT_RELATION = "{http://purl.oclc.org/ooxml/officeDocument/relationships}id"

MERGED = Refusal(Code.MISPLACED, "stands in merged cells, as one figure for several places")
HIDDEN = Refusal(Code.MISPLACED, "stands in a hidden row or column; show it, or take it out")
STRUCK = Refusal(Code.AMBIGUOUS, "is struck through; take it out, or write it anew")
A_DATE = Refusal(Code.NOT_A_NUMBER, "is a date or a time, which a spreadsheet may have made of a number")
NOT_WORKED_OUT = Refusal(Code.NO_VALUE, "is a formula whose result is not in the file; open it, and save it again")
AN_ERROR = Refusal(Code.NOT_A_NUMBER, "is an error of the spreadsheet")
YES_OR_NO = Refusal(Code.NOT_A_NUMBER, "is a yes or no of the spreadsheet")


class _Beside(NamedTuple):
    """What is said of cells elsewhere than in them: merged ones with the first of each, hidden rows and columns; and
    how far the cells go. `blank`: formulas that come to an empty text."""

    merged: Mapping[tuple[int, int], tuple[int, int]]
    hidden_rows: frozenset[int]
    hidden_columns: frozenset[int]
    blank: frozenset[tuple[int, int]]
    rows: int
    columns: int


class _TooLargeError(Exception):
    """More than a table of readings has."""


def read_spreadsheet(source: bytes, file: str, wanted: Text | None) -> tuple[CellTable, ...] | Fault:
    """The worksheet of that name, of an empty name the only one that is shown; of None all that are shown."""
    try:
        import openpyxl
    except ImportError:
        said = "spreadsheets are read by openpyxl, which is not installed; pip install 'specrules[spreadsheet]'"
        return wrong(file, Code.UNREADABLE, said, "the readings as .csv otherwise")
    # A reader that meets bytes made to break it raises whatever it comes upon, so that no list of them would be whole.
    try:
        with (
            zipfile.ZipFile(io.BytesIO(source)) as archive,
            warnings.catch_warnings(),
            redirect_stdout(io.StringIO()),  # it prints what it makes nothing of
        ):
            warnings.simplefilter("ignore")  # and tells of what it leaves out: nothing of that is a figure
            if (refused := _hostile(archive, file)) is not None:
                return refused
            sheets = dict(_worksheets(archive))
            names = _chosen(sheets, file, wanted)
            if isinstance(names, Fault):
                return names
            beside = {name: _beside(archive, sheets[name][0]) for name in names}
            books = [
                openpyxl.load_workbook(io.BytesIO(source), read_only=True, keep_links=False, data_only=data)
                for data in (True, False)
            ]
            return tuple(_table(books[0][name], books[1][name], beside[name], file, name) for name in names)
    except _TooLargeError:
        return too_large(file)
    except (MemoryError, KeyboardInterrupt):
        raise
    except Exception:
        return wrong(file, Code.UNREADABLE, "this cannot be read as a spreadsheet", "it anew as .xlsx or .csv")


def _hostile(archive: zipfile.ZipFile, file: str) -> Fault | None:
    """What keeps a package from being read: too much of it, or a document that declares its own entities."""
    parts = [part for part in archive.infolist() if part.filename.lower().endswith(_READ)]
    if sum(part.file_size for part in parts) > MOST_UNPACKED:
        return too_large(file, f"what is packed in the file is larger than {MOST_UNPACKED // 10**6} MB")
    for part in parts:
        if b"<!" in (text := archive.read(part).replace(b"\0", b"")) and re.search(rb"<!(?:DOCTYPE|ENTITY)", text):
            return wrong(file, Code.UNREADABLE, "the file declares entities, which no spreadsheet does")
    return None


def _worksheets(archive: zipfile.ZipFile) -> Iterator[tuple[str, tuple[str, bool]]]:
    """The name of each worksheet, with its part of the package and whether it is shown."""
    book = next(name for name in archive.namelist() if name.lower().endswith("workbook.xml"))
    folder, own = posixpath.split(book)
    related = ElementTree.fromstring(archive.read(posixpath.join(folder, "_rels", f"{own}.rels")))
    targets = {each.get("Id"): each.get("Target", "") for each in related}
    there = set(archive.namelist())
    for element in ElementTree.fromstring(archive.read(book)).iter():
        if _local(element) == "sheet":
            target = targets.get(element.get(_RELATION) or element.get(_STRICT_RELATION)) or ""
            path = target[1:] if target.startswith("/") else posixpath.normpath(posixpath.join(folder, target))
            if path in there and "chartsheet" not in path:
                yield element.get("name", ""), (path, element.get("state", "visible") == "visible")


def _chosen(sheets: Mapping[str, tuple[str, bool]], file: str, wanted: Text | None) -> list[str] | Fault:
    if wanted:
        if wanted in sheets:
            return [str(wanted)]
        said = f"{file} has no worksheet {shown(wanted)}"
        return Fault(wanted.place, "worksheet", Code.UNKNOWN_NAME, said, nearest(wanted, [*sheets]) or "", "file")
    seen = [name for name, (_, is_shown) in sheets.items() if is_shown]
    if len(seen) == 1 or wanted is None:
        return seen[:MOST_WORKSHEETS]
    said = f"the file has {len(seen)} worksheets, and the map does not say which"
    return wrong(file, Code.MISSING_KEY, said, f"worksheet: {seen[0]}" if seen else "")


def _local(element: Any) -> str:
    return str(element.tag).rpartition("}")[2]


def _beside(archive: zipfile.ZipFile, path: str) -> _Beside:
    """Raises ValueError where rows or cells do not stand in their order: the reader would pass some by."""
    merged: dict[tuple[int, int], tuple[int, int]] = {}
    hidden_rows, hidden_columns, blank = set[int](), set[int](), set[tuple[int, int]]()
    rows = columns = row = column = 0
    with archive.open(path) as part:
        for event, element in ElementTree.iterparse(part, ("start", "end")):
            name = _local(element)
            if event == "start" and name == "row":
                row, column = _later(int(element.get("r") or row + 1), row), 0
                hidden_rows |= {row} if element.get("hidden") in _TRUE else set()
            elif event == "start" and name == "c":
                reference = _REFERENCE.fullmatch(element.get("r") or "")
                column = _later(column_number(reference[1]) if reference else column + 1, column)
            elif event == "end" and name == "c" and len(element):
                rows, columns = max(rows, row), max(columns, column)
                if element.get("t") == "str" and any(_local(each) == "v" and not each.text for each in element):
                    blank.add((row, column))
            elif event == "end" and name == "row":
                element.clear()
            elif event == "start" and name == "col" and element.get("hidden") in _TRUE:
                first, last = int(element.get("min", "1")), int(element.get("max", "1"))
                hidden_columns.update(range(first, min(last, MOST_COLUMNS) + 1))
            elif event == "start" and name == "mergeCell":
                _merge(element.get("ref", ""), merged)
    if rows > MOST_ROWS or columns > MOST_COLUMNS or rows * columns > MOST_CELLS:
        raise _TooLargeError
    return _Beside(merged, frozenset(hidden_rows), frozenset(hidden_columns), frozenset(blank), rows, columns)


def _later(number: int, before: int) -> int:
    if number <= before:
        raise ValueError("out of order")
    return number


def _merge(reference: str, merged: dict[tuple[int, int], tuple[int, int]]) -> None:
    found = _REFERENCE.fullmatch(reference)
    if found is None or not found[3]:
        return
    top, left, bottom, right = int(found[2]), column_number(found[1]), int(found[4]), column_number(found[3])
    bottom, right = min(bottom, MOST_ROWS), min(right, MOST_COLUMNS)
    if len(merged) + (bottom - top + 1) * (right - left + 1) > MOST_MERGED:
        raise _TooLargeError
    for row in range(top, bottom + 1):
        for column in range(left, right + 1):
            merged[row, column] = top, left


def _table(values: Any, formulas: Any, beside: _Beside, file: str, name: str) -> CellTable:
    if not beside.rows:
        return CellTable(file, name, ())
    size = {"min_row": 1, "max_row": beside.rows, "min_col": 1, "max_col": beside.columns}
    cells = {
        (row, column): _cell(value, formula, Place(file, 0, 0), f'{column_letters(column)}{row} of sheet "{name}"')
        for row, (of_values, of_formulas) in enumerate(
            zip(values.iter_rows(**size), formulas.iter_rows(**size), strict=True), 1
        )
        for column, (value, formula) in enumerate(zip(of_values, of_formulas, strict=True), 1)
        if (row, column) not in beside.blank
    }

    def at(row: int, column: int) -> TableCell:
        nothing = TableCell(Place(file, 0, 0), f'{column_letters(column)}{row} of sheet "{name}"')
        cell = cells.get((row, column), nothing)
        if (first := beside.merged.get((row, column))) is not None:
            said = cells.get(first, nothing)
            cell = cell._replace(text=said.text, number=said.number, refusal=None if said.empty else MERGED)
        if not cell.empty and (row in beside.hidden_rows or column in beside.hidden_columns):
            cell = cell._replace(refusal=HIDDEN)
        return cell

    rows = range(1, beside.rows + 1)
    return CellTable(
        file, name, tuple(tuple(at(row, column) for column in range(1, beside.columns + 1)) for row in rows)
    )


def _cell(value: Any, formula: Any, place: Place, address: str) -> TableCell:
    """One cell as it is shown; `value` as it was worked out, `formula` as it was written."""
    made = TableCell(place, address)
    found = value.value
    worked_out = formula.data_type == "f"
    if found is None:
        return made._replace(text=_text(formula.value), refusal=NOT_WORKED_OUT) if worked_out else made
    if value.data_type == "e":
        return made._replace(text=_text(found), refusal=AN_ERROR)
    if isinstance(found, bool):
        return made._replace(text="TRUE" if found else "FALSE", refusal=YES_OR_NO)
    if isinstance(found, (datetime, date, time, timedelta)):
        return made._replace(text=_text(found).removesuffix(" 00:00:00"), refusal=A_DATE)
    if isinstance(found, (int, float)):
        text = shown_number(found, str(value.number_format), worked_out)
        if isinstance(text, Refusal):
            made = made._replace(text=_text(found), number=True, refusal=text)
        else:
            made = made._replace(text=text, number=True)
    else:
        made = made._replace(text=_text(found))
    struck = made.text and value.font is not None and value.font.strike
    return made._replace(refusal=STRUCK) if struck else made


def _text(found: object) -> str:
    return " ".join(str(found)[:LONGEST].split())
