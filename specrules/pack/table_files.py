"""The CSV files that hold rows of tables: text to the placed rows that stand in a pack's own file otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from specrules.document import Fault, Fields, Node, Place, Text, shown
from specrules.document.text import fields_at, items_at
from specrules.vocabulary import Code

SUFFIX = ".csv"
FILE, ROWS = Text("file"), Text("rows")
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
        fault(Place(file.label, 1, 1), Code.NOT_UTF_8, "is no text in UTF-8")
        return None, faults
    lines = [list(_cells(line, file.label, number)) for number, line in enumerate(text.splitlines(), 1) if line.strip()]
    head = [*keys, *columns]
    if not lines or [str(cell) for cell in lines[0]] != head:
        at = lines[0][0].place if lines else Place(file.label, 1, 1)
        fault(at, Code.WRONG_SHAPE, "does not begin with the names of its keys and columns", ",".join(head))
        return None, faults
    rows = fields_at(lines[0][0].place)
    for cells in lines[1:]:
        wrong = next((cell for cell in cells if '"' in cell or not cell.isprintable()), None)
        if wrong is not None:
            fault(wrong.place, Code.UNWANTED_CHARACTER, f"{shown(wrong)} has a quote or a sign that is none of a text")
        elif len(cells) != len(head):
            said = f"{shown(cells[0])} has {len(cells)} cells where there are {len(head)}"
            fault(cells[0].place, Code.WRONG_COUNT, said, "a comma between two cells, and none in one")
        elif (first := _enter(rows, cells, len(keys))) is not None:
            row = ", ".join(cells[: len(keys)])
            said = f"{shown(row)} stands twice, and first in line {first.place.line}"
            fault(cells[0].place, Code.DEFINED_TWICE, said, "one of them only")
    return rows, faults


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
