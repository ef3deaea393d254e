"""A file of readings as a table: comma-separated text by the standard library, a spreadsheet by a reader of its own."""

from __future__ import annotations

import csv
import io
from pathlib import Path

from specrules.document import Fault, Place, Text
from specrules.effects.files import read, unreadable
from specrules.importing.import_map import DELIMITERS, ImportMap
from specrules.importing.table_cells import MOST_CELLS, MOST_COLUMNS, MOST_ROWS, CellTable, text_table
from specrules.vocabulary import Code

MOST_BYTES = 10_000_000
"""No table of readings is larger; pictures in a spreadsheet may be."""
MOST_TEXT = 2_000_000

_ZIP, _OLD = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")


def wrong(file: str, code: Code, said: str, write: str = "", line: int = 0) -> Fault:
    """What is wrong with a file of readings as a whole."""
    return Fault(Place(file, line, 0), "", code, said, write, "file")


def too_large(file: str, said: str = "") -> Fault:
    """The fault of a file that holds more than a table of readings."""
    said = said or f"the file holds more than {MOST_ROWS} rows, {MOST_COLUMNS} columns or {MOST_CELLS} cells"
    return wrong(file, Code.FILE_TOO_LARGE, said, "the rows and columns that hold readings, into a file of their own")


def read_table(path: Path, file: str, model: ImportMap, worksheet: str = "") -> CellTable | Fault:
    """The part of a file's table that a map looks at. What kind of file it is its first bytes say, not its name.

    `worksheet`: the one that is asked for where the map names none.
    """
    wanted = model.worksheet or Text(worksheet, Place(file, 0, 0))
    source = _bytes(path, file)
    if isinstance(source, Fault):
        return source
    if source.startswith(_ZIP):
        from specrules.effects.spreadsheet import read_spreadsheet  # its reader is asked for here alone

        tables = read_spreadsheet(source, file, wanted)
        if isinstance(tables, Fault):
            return tables
        found = tables[0]
    else:
        if wanted:
            said = f"{file} is plain text and has no worksheets"
            return Fault(wanted.place, "worksheet", Code.MISPLACED, said, "", "file")
        text = _of_text(source, file, model.encoding, DELIMITERS[model.delimiter])
        if isinstance(text, Fault):
            return text
        found = text
    found = found.part(model.rows, model.columns)
    if not found.rows or not found.rows[0]:
        return wrong(file, Code.NO_VALUE, "there is nothing in the rows and columns that the map looks at")
    return found


def tables_of(path: Path, file: str, worksheet: str = "") -> tuple[tuple[CellTable, ...], tuple[str, ...]] | Fault:
    """Every table of a file of which no map says anything yet, and the lines of a map that say how it was read."""
    source = _bytes(path, file)
    if isinstance(source, Fault):
        return source
    if source.startswith(_ZIP):
        from specrules.effects.spreadsheet import read_spreadsheet

        tables = read_spreadsheet(source, file, Text(worksheet, Place(file, 0, 0)) if worksheet else None)
        return tables if isinstance(tables, Fault) else (tables, ())
    lead = []
    encoding = "utf-8"
    if isinstance(_of_text(source, file, encoding, ","), Fault):
        encoding = "cp1252"
        lead.append(f"encoding: {encoding}     # it is not UTF-8: this is a guess")
    read = {name: _of_text(source, file, encoding, sign) for name, sign in DELIMITERS.items()}
    known = {name: table for name, table in read.items() if isinstance(table, CellTable)}
    if not known:
        return next(fault for fault in read.values() if isinstance(fault, Fault))
    name = max(known, key=lambda each: sum(bool(cell.text) for row in known[each].rows for cell in row[1:]))
    if name != "comma":
        lead.append(f"delimiter: {name}")
    return (known[name],), tuple(lead)


def _bytes(path: Path, file: str) -> bytes | Fault:
    """A file's bytes; a fault where they are too many, or those of no table that can be read."""
    try:
        source = read(path, MOST_BYTES + 1)
    except OSError as error:
        return wrong(file, Code.UNREADABLE, unreadable(error))
    if not source.strip():
        return wrong(file, Code.EMPTY_FILE, "the file is empty")
    if len(source) > MOST_BYTES:
        return too_large(file, f"the file is larger than {MOST_BYTES // 10**6} MB")
    if source.startswith(_OLD):
        said = "this is a spreadsheet in an old format, or behind a password"
        return wrong(file, Code.UNREADABLE, said, "it anew as .xlsx or .csv")
    return source


def _of_text(source: bytes, file: str, encoding: str, delimiter: str) -> CellTable | Fault:
    if len(source) > MOST_TEXT:
        return too_large(file, f"the text is larger than {MOST_TEXT // 10**6} MB")
    named = "utf-16" if source.startswith(_UTF_16) else "utf-8-sig" if encoding == "utf-8" else encoding
    try:
        text = source.decode(named)
    except UnicodeError:
        said = f"the file is not text in {named.removesuffix('-sig').upper()}"
        return wrong(file, Code.NOT_UTF_8, said, "encoding: cp1252 in the map, or as it was saved")
    if "\0" in text:
        return wrong(
            file, Code.UNWANTED_CHARACTER, "a null character stands in the file: it is no text of this encoding"
        )
    lines: list[tuple[int, list[str]]] = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    begun, width = 1, 0
    try:
        for cells in reader:
            width = max(width, len(cells))
            lines.append((begun, cells))
            begun = reader.line_num + 1
            if len(lines) > MOST_ROWS or width > MOST_COLUMNS or len(lines) * width > MOST_CELLS:
                return too_large(file)
    except csv.Error:
        return wrong(file, Code.UNPAIRED, "a quotation mark has no partner, or a cell is too long", "", begun)
    return text_table(lines, file)
