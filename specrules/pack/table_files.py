"""The CSV files that hold rows of tables: text to the placed rows that stand in a pack's own file otherwise."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from specrules.document import Fault, Fields, Node, Place, Text, shown
from specrules.document.text import fields_at, items_at
from specrules.vocabulary import Code

SUFFIX = ".csv"
FILE, ROWS = Text("file"), Text("rows")
_LINE = re.compile(r"\r\n|\r|\n")
_QUOTED = re.compile(r'"([^",;\t]*)(?:,([0-9]+))?"')
_BETWEEN = {";": "a semicolon", "\t": "a tab"}
_OTHER = "a quote or a sign that is none of a text"
_SAVED = "the file saved as CSV in UTF-8"
_MANY = 10  # faults of one file: whoever takes the wrong file need not read one a row


class TableFile(NamedTuple):
    """A file beside a pack: its name to show, and its bytes."""

    label: str
    raw: bytes


def beside(files: Sequence[tuple[str, bytes]]) -> Mapping[str, TableFile]:
    """The files of tables among the files of a pack, by their own names."""
    return {label.rsplit("/", 1)[-1]: TableFile(label, raw) for label, raw in files if label.endswith(SUFFIX)}


def take_rows(tables: Node, files: Mapping[str, TableFile], used: dict[str, TableFile]) -> Iterator[Fault]:
    """Put the rows of files into the tables that name them, and what is wrong with that; `used` takes those files."""
    for name, table in tables.items() if isinstance(tables, Fields) else ():
        named = table.get(FILE) if isinstance(table, Fields) else None
        if not isinstance(table, Fields) or not isinstance(named, Text):
            continue
        if ROWS in table:
            said = "has rows and a file of them"
            yield Fault(named.place, f"{name} file", Code.KEYS_DISAGREE, said, "one of the two", "pack")
        elif named not in files:
            said = f"{shown(named)} is no file beside the pack"
            yield Fault(named.place, f"{name} file", Code.UNREADABLE, said, ", ".join(sorted(files)), "pack")
        else:
            used[named] = files[named]
            rows, faults = _rows(files[named], str(name), _names(table, "keys"), _names(table, "columns"))
            yield from faults
            if rows is not None:
                table[ROWS] = rows


def _names(table: Fields, key: str) -> list[str]:
    held = table.get(Text(key))
    return [str(name) for name in held] if isinstance(held, Fields) else []


def _rows(
    file: TableFile, table: str, keys: Sequence[str], columns: Sequence[str]
) -> tuple[Fields | None, Sequence[Fault]]:
    """The rows of a file, nested by key; or every fault."""
    faults: list[Fault] = []

    def fault(place: Place, code: Code, said: str, write: str = "") -> None:
        if len(faults) < _MANY:
            faults.append(Fault(place, f"{table} file", code, said, write, "pack"))

    try:
        text = file.raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        fault(Place(file.label, 1, 1), Code.NOT_UTF_8, "is no text in UTF-8", _SAVED)
        return None, faults
    written = [(number, line) for number, line in enumerate(_LINE.split(text), 1) if line.strip()]
    head = [*keys, *columns]
    first = list(_cells(written[0][1], file.label, written[0][0])) if written else []
    if [str(cell) for cell in first] != head:
        at = first[0].place if first else Place(file.label, 1, 1)
        fault(at, Code.WRONG_SHAPE, "does not begin with the names of its keys and columns", ",".join(head))
        return None, faults
    rows = fields_at(first[0].place)
    for number, line in written[1:]:
        cells = list(_cells(line, file.label, number))
        wrong = next((cell for cell in cells if _strange(cell)), None)
        if wrong is not None:
            sign = next((_BETWEEN[each] for each in wrong if each in _BETWEEN), _OTHER)
            fault(wrong.place, Code.UNWANTED_CHARACTER, f"{shown(wrong)} has {sign}", _meant(line, len(head)))
        elif len(cells) != len(head):
            said = f"{shown(cells[0])} has {len(cells)} cells where there are {len(head)}"
            meant = _with_points(cells, len(keys), len(head))
            fault(cells[0].place, Code.WRONG_COUNT, said, meant or "a comma between two cells, and none in one")
        elif not all(cells[: len(keys)]):
            fault(cells[0].place, Code.NO_VALUE, "a row has no key", "its key, or take the row out")
        elif (there := _enter(rows, cells, len(keys))) is not None:
            row = ", ".join(cells[: len(keys)])
            said = f"{shown(row)} stands twice, and first in line {there.place.line}"
            fault(cells[0].place, Code.DEFINED_TWICE, said, "one of them only")
    return rows, faults


def _strange(cell: str) -> bool:
    """Whether a cell has what no cell can have: a quote, another sign between cells, or no sign of a text."""
    return '"' in cell or ";" in cell or not cell.isprintable()


def _meant(line: str, count: int) -> str:
    """The row that is meant by a line with other signs between its cells, in which figures may have decimal commas, or
    with quotes; "" where that is not known."""
    bare = _QUOTED.sub(lambda quoted: ".".join(part for part in quoted.groups() if part is not None), line)
    between = next((sign for sign in _BETWEEN if sign in bare), ",")
    cells = [cell.strip() for cell in bare.split(between)]
    if between != ",":
        cells = [cell.replace(",", ".") if cell.count(",") == 1 else cell for cell in cells]
    sound = len(cells) == count and not any("," in cell or _strange(cell) for cell in cells)
    return ",".join(cells) if sound else ""


def _with_points(cells: Sequence[str], keys: int, count: int) -> str:
    """The row that is meant where each figure has a comma for its point, so that it is two cells; else ""."""
    figures = cells[keys:]
    if len(figures) != 2 * (count - keys) or not all(each.isdecimal() and each.isascii() for each in figures):
        return ""
    return ",".join([*cells[:keys], *map(".".join, zip(figures[::2], figures[1::2], strict=True))])


def _cells(line: str, file: str, number: int) -> Iterator[Text]:
    """The cells of a line, each where it begins."""
    at = 0
    for cell in line.split(","):
        blank = len(cell) - len(cell.lstrip())
        yield Text(cell.strip(), Place(file, number, at + blank + 1))
        at += len(cell) + 1


def _enter(rows: Fields, cells: Sequence[Text], keys: int) -> Text | None:
    """Enter a row; the key of the row that stands there already, if one does."""
    for key in cells[: keys - 1]:
        below = rows.setdefault(key, fields_at(key.place))
        assert isinstance(below, Fields)
        rows = below
    key = cells[keys - 1]
    if key in rows:
        return next(each for each in rows if each == key)
    figures = items_at(cells[keys].place)
    figures.extend(cells[keys:])
    rows[key] = figures
    return None
