"""A table as a file holds it: cells that know their address, and why one is surely no figure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from specrules.document import Fault, Place, shown
from specrules.importing.import_map import Span
from specrules.quantity import Refusal
from specrules.vocabulary import Code

MOST_ROWS, MOST_COLUMNS = 2_000, 500
MOST_CELLS = 50_000
"""More than that is no table of readings."""


class TableCell(NamedTuple):
    """What one cell shows, and where it stands.

    `number`: the file holds it as a number, which is then written with a point whatever the table's own decimals are.
    `refusal`: what keeps its text from being a figure, such as a date; it may still be a label.
    """

    place: Place
    address: str
    text: str = ""
    number: bool = False
    refusal: Refusal | None = None

    @property
    def empty(self) -> bool:
        """Nothing stands here."""
        return not self.text and self.refusal is None

    @property
    def where(self) -> str:
        """Its address within the file."""
        return f"line {self.place.line}, {self.address}" if self.place.line else self.address

    def fault(self, code: Code, said: str, write: str = "", about: str = "") -> Fault:
        """What is wrong with it, at its address."""
        return Fault(self.place, f"{self.address}{f', {about}' if about else ''}", code, said, write, "file")

    def refused(self, refusal: Refusal, about: str = "") -> Fault:
        """The fault of a text that states no figure."""
        return self.fault(refusal.code, f"{shown(self.text)} {refusal.said}", refusal.write, about)


class CellTable(NamedTuple):
    """A rectangle of cells, row by row; all rows are as long. `name`: that of a worksheet, "" in a file of text."""

    file: str
    name: str
    rows: tuple[tuple[TableCell, ...], ...]

    @property
    def turned(self) -> CellTable:
        """The same with its columns as rows."""
        return self._replace(rows=tuple(zip(*self.rows, strict=True)))

    def part(self, rows: Span, columns: Span) -> CellTable:
        """What lies in these rows and columns."""
        cut = slice(columns.first - 1, columns.last)
        return self._replace(rows=tuple(row[cut] for row in self.rows[rows.first - 1 : rows.last]))


def text_table(lines: Iterable[tuple[int, list[str]]], file: str) -> CellTable:
    """The table of a file of plain text: its lines by their number, each as the texts of its cells."""
    known = list(lines)
    width = max((len(texts) for _, texts in known), default=0)
    made = [
        tuple(
            TableCell(Place(file, number, 0), f"column {column}", (texts[column - 1] if column <= len(texts) else ""))
            for column in range(1, width + 1)
        )
        for number, texts in known
    ]
    stripped = tuple(tuple(cell._replace(text=" ".join(cell.text.split())) for cell in row) for row in made)
    return CellTable(file, "", stripped)


def joined(cells: Sequence[TableCell]) -> TableCell:
    """A heading of several lines as one: its words in their order, standing where the last of them does."""
    words = list(dict.fromkeys(cell.text for cell in cells if cell.text))
    last = next((cell for cell in reversed(cells) if cell.text), cells[-1])
    return last._replace(text=" ".join(words))
