"""Tables of packs, checked: their keys, columns and rows to plain data that is found by a search."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import pairwise

from specrules.document import Fields, Items, Node, Text, placed, shown
from specrules.formula import LANGUAGE, KeyKind, LookupTable, PrintedColumn, Rows, TableColumn, TableKey
from specrules.pack.compiling import Compiler, check_source, source_of
from specrules.pack.naming import plain
from specrules.pack.specification import PackTable
from specrules.pack.table_entries import KEY_HOLDS, ColumnEntry, TableEntry
from specrules.quantity import NO_UNIT, Exact, Refusal, Unit, read_written
from specrules.vocabulary import Code

MOST_KEYS = 2
MOST_ROWS = 10_000
BLANK = ("none", "-", "")
"""A cell without a figure."""

ENDLESS = Decimal("Infinity")
_BAND = re.compile(r"(?:over (?P<over>\S.*?))?(?:(?:^| )(?:up )?to (?P<to>\S.*))?")
_PLAIN = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?")
_WHOLE = re.compile(r"[+-]?[0-9]{1,15}")


@dataclass(slots=True)
class TableReading:
    """One table while it is read; the compiler keeps the faults."""

    name: Text
    entry: TableEntry
    compiler: Compiler
    keys: tuple[TableKey, ...] = ()
    columns: tuple[PrintedColumn, ...] = ()
    count: int = 0
    said: dict[str, dict[str, None]] = field(default_factory=dict)  # column -> its labels
    written: list[tuple[Rows, tuple[Text, ...]]] = field(default_factory=list)  # by one key, each with its rows' keys

    def table(self, pack: str) -> PackTable | None:
        """The table of the pack that wrote it, or changed it last; None where it is at fault."""
        before = len(self.compiler.faults)
        keys = [self._key(key, kind) for key, kind in self.entry.keys.items()]
        columns = [self._column(key, each) for key, each in self.entry.columns.items()]
        check_source(self.entry.source, f"{self.name} source", self.compiler)
        if not 0 < len(keys) <= MOST_KEYS or not columns:
            said = f"has {len(keys)} keys and {len(columns)} columns, and a table has one key or two and a column"
            self.compiler.fault(self.name, self.name, Code.WRONG_COUNT, said)
        self.keys = tuple(key for key in keys if key is not None)
        self.columns = tuple(column for column in columns if column is not None)
        if len(self.compiler.faults) > before:
            return None
        if not self.entry.rows:
            self.compiler.fault(self.name, self.name, Code.MISSING_KEY, "has no rows", "rows: or file:")
            return None
        rows = self._rows(self.entry.rows, self.keys)
        if len(self.compiler.faults) > before or rows is None:
            return None
        whole = tuple(each._replace(labels=tuple(self.said.get(each.name, ()))) for each in self.columns)
        data = LookupTable(str(self.name), self.keys, whole, rows)
        title = self.entry.title or plain(self.name)
        return PackTable(data, title, pack, source_of(self.entry.source), self.name.place)

    def _key(self, name: Text, text: Text) -> TableKey | None:
        word, _, unit = text.partition(" ")
        subject = f"{self.name} keys {name}"
        sized = word in (KeyKind.BAND.value, KeyKind.LINEAR.value)
        if word not in {kind.value for kind in KeyKind} or sized != bool(unit):
            self.compiler.fault(text, subject, Code.NOT_A_CHOICE, f"{shown(text)} is no kind of key", KEY_HOLDS)
            return None
        found = self.compiler.unit(Text(unit, placed(text, len(word) + 1)), subject) if sized else None
        return None if sized and found is None else TableKey(str(name), KeyKind(word), found)

    def _column(self, name: Text, entry: ColumnEntry) -> PrintedColumn | None:
        subject, holds = f"{self.name} columns {name}", entry.holds
        if entry.order and holds == "label":
            said = "is of labels, which are in no order"
            self.compiler.fault(entry.order, subject, Code.KEYS_DISAGREE, said)
        if holds == "label":
            return PrintedColumn(str(name), None)
        found = self.compiler.unit(holds, subject)
        return None if found is None else PrintedColumn(str(name), found, order=entry.order)

    def _rows(self, node: Node, keys: tuple[TableKey, ...]) -> Rows | None:
        """The rows by the first of some keys, in its order."""
        if not isinstance(node, Fields) or not node:
            said = f"has no rows by {keys[0].name} here"
            self.compiler.fault(node.place, f"{self.name} rows", Code.WRONG_SHAPE, said, "a mapping of its rows")
            return None
        found = [(ends, text) for text in node if (ends := self._ends(keys[0], text)) is not None]
        if keys[0].kind is not KeyKind.CHOICE:
            found.sort(key=lambda each: each[0])
            self._check_apart(keys[0], found)
        below: list[Rows] = []
        cells: list[tuple[tuple[Decimal | None, ...], tuple[str, ...]]] = []
        for _, text in found:
            if keys[1:]:
                rows = self._rows(node[text], keys[1:])
                below += [rows] if rows is not None else []
            else:
                cells.append(self._cells(text, node[text]))
        words = {str(text): number for number, (_, text) in enumerate(found)} if keys[0].kind is KeyKind.CHOICE else {}
        made = Rows(
            words,
            () if words else tuple(low for (low, _), _ in found),
            () if words else tuple(high for (_, high), _ in found),
            tuple(below),
            tuple(numbers for numbers, _ in cells),
            tuple(labels for _, labels in cells),
        )
        self.written.append((made, tuple(text for _, text in found)))
        return made

    def _ends(self, key: TableKey, text: Text) -> tuple[Decimal, Decimal] | None:
        """Between which two numbers, base units, a row lies by this key."""
        self.count += 1
        if self.count > MOST_ROWS:
            if self.count == MOST_ROWS + 1:
                said = f"has more than {MOST_ROWS:,} rows"
                self.compiler.fault(text, f"{self.name} rows", Code.TOO_MANY, said)
            return None
        if key.kind is KeyKind.CHOICE:
            return _NOTHING, _NOTHING
        if key.kind is KeyKind.WHOLE:
            if _WHOLE.fullmatch(text):
                return Decimal(text), Decimal(text)
            self._refuse(text, Code.NOT_WHOLE, f"{shown(text)} is no whole number")
            return None
        unit = key.unit or NO_UNIT
        if key.kind is KeyKind.LINEAR:
            at = self._figure(text, unit)
            return None if at is None else (at, at)
        band = _BAND.fullmatch(text)
        if band is None or not (band["over"] or band["to"]):
            said = f"{shown(text)} is no band of {key.name}"
            self._refuse(text, Code.NOT_A_RANGE, said, "over 30 to 50, over 50, or to 30")
            return None
        low = self._figure(Text(band["over"], text.place), unit) if band["over"] else -ENDLESS
        high = self._figure(Text(band["to"], text.place), unit) if band["to"] else ENDLESS
        if low is None or high is None:
            return None
        if low >= high:
            self._refuse(text, Code.WRONG_RANGE, f"{shown(text)} is a band that ends before it begins")
            return None
        return low, high

    def _check_apart(self, key: TableKey, rows: list[tuple[tuple[Decimal, Decimal], Text]]) -> None:
        """No two rows are the same, and no two bands share a size."""
        for (one, before), (other, text) in pairwise(rows):
            later = max(before, text, key=lambda each: (each.place.line, each.place.column))
            earlier = before if later is text else text
            if one == other:
                said = f"{shown(later)} stands twice, and first in line {earlier.place.line}"
                self._refuse(later, Code.DEFINED_TWICE, said, "one of them only")
            elif key.kind is KeyKind.BAND and other[0] < one[1]:
                said = f"{shown(later)} shares sizes with {shown(earlier)} in line {earlier.place.line}"
                self._refuse(later, Code.WRONG_RANGE, said)

    def _cells(self, row: Text, node: Node) -> tuple[tuple[Decimal | None, ...], tuple[str, ...]]:
        cells = list(node) if isinstance(node, Items) else [node]
        numbers: list[Decimal | None] = []
        labels: list[str] = []
        if len(cells) != len(self.columns) or not all(isinstance(cell, Text) for cell in cells):
            said = f"has {len(cells)} figures where there are {len(self.columns)} columns"
            names = ", ".join(column.name for column in self.columns)
            self._refuse(row, Code.WRONG_COUNT, f"{shown(row)} {said}", f"a figure each of {names}, none for a gap")
            return (), ()
        for column, cell in zip(self.columns, cells, strict=True):
            assert isinstance(cell, Text)
            if column.unit is not None:
                numbers.append(None if cell in BLANK else self._figure(cell, column.unit))
            elif cell in BLANK:
                labels.append("")
            else:
                labels.append(str(cell))
                self.said.setdefault(column.name, {})[str(cell)] = None
        return tuple(numbers), tuple(labels)

    def _figure(self, text: Text, unit: Unit) -> Decimal | None:
        """A number, in this unit unless it says another, in base units."""
        if len(text) <= _LONGEST and _PLAIN.fullmatch(text):
            return unit.to_base(Decimal(text))
        found = read_written(text, unit=unit, dimension=unit.dimension)
        if isinstance(found, Refusal):
            self.compiler.refused(text, found, f"{self.name} rows")
        elif not isinstance(found, Exact) or found.U is not None:
            self._refuse(text, Code.NOT_ONE_FIGURE, f"{shown(text)} is no one figure")
        else:
            return found.value
        return None

    def _refuse(self, text: Text, code: Code, said: str, write: str = "") -> None:
        self.compiler.fault(text, f"{self.name} rows", code, said, write)


def columns_of(tables: Mapping[str, PackTable], compiler: Compiler) -> dict[str, TableColumn]:
    """Every column by the function that looks it up; a name that is taken is a fault."""
    found: dict[str, TableColumn] = {}
    for table in tables.values():
        for function, column in functions_of(table.data):
            if function in found or function in compiler.scope.functions or function in LANGUAGE:
                said = f"makes the function {function}, which there is already"
                compiler.fault(table.place, table.data.name, Code.NAME_TAKEN, said, "another name")
            found[function] = column
    return found


def functions_of(table: LookupTable) -> Iterator[tuple[str, TableColumn]]:
    """Each function of a table, and the column that it looks up."""
    places = {True: 0, False: 0}
    for column in table.columns:
        labels = column.unit is None
        yield f"{table.name}_{column.name}", TableColumn(table, column, places[labels])
        places[labels] += 1


_NOTHING = Decimal(0)
_LONGEST = 30
