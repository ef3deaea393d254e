"""Whatever numbers are laid out in whatever layout: they come in as they were written, or are refused."""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.importing.table_cells import CellTable
from specrules.quantity import LENGTH, Exact, Unit, find_unit, read_written
from specrules.sheet.cells import Spot
from tests.importing.small_tables import Value, book, of_book, of_lines, placing

MAINS, PLANES = ("1", "2", "3"), ("front", "rear")
LABELS = ("{}", "Main {}", "#{}", "No. {}", "main{}")
BROKEN = (
    "2,5,1",
    "about 2.5",
    "-",
    "2.5x",
    "2.5.1",
    "n/a",
    "#DIV/0!",
    "TRUE",
    "2.5 2.6",
    "2026-02-05",
    "=B2",
    "2.5 kg",
)
"""Texts that are no figure, whatever is declared."""
NAMED = find_unit("mm")
assert isinstance(NAMED, Unit)


class Laid(NamedTuple):
    """A table of bores: what is surely read in it, and which cells have to be refused."""

    rows: list[list[str]]
    layout: str
    unit: str
    comma: bool
    as_book: bool
    sure: dict[Spot, str]
    broken: int


@st.composite
def laid(draw: st.DrawFn) -> Laid:
    """Figures at some places, in one of the layouts, some of them broken, some in a unit of their own."""
    layout = draw(st.sampled_from(("a row a station", "a column a station", "a block a part")))
    unit, comma, as_book = draw(st.sampled_from(("in", "mm"))), draw(st.booleans()), draw(st.booleans())
    label = draw(st.sampled_from(LABELS))
    sure: dict[Spot, str] = {}
    cells: dict[tuple[str, str], str] = {}
    broken = 0
    for main in MAINS:
        for plane in PLANES:
            kind = draw(st.sampled_from(("read", "read", "read", "named", "nothing", "broken")))
            places = draw(st.integers(1, 5))
            text = f"{draw(st.decimals(-9, 99, places=places)):f}"
            if kind == "named":
                text += " mm"
            if kind in ("read", "named"):
                sure["main_bore", (main,), (plane,)] = text if kind == "named" else f"{text} {unit}"
            if kind == "broken":
                text, broken = draw(st.sampled_from(BROKEN)), broken + 1
            elif comma:
                text = text.replace(".", ",")
            cells[main, plane] = "" if kind == "nothing" else text
    if layout == "a block a part":
        rows = [
            row
            for main in MAINS
            for row in ([label.format(main), *PLANES], ["Bore", *(cells[main, plane] for plane in PLANES)])
        ]
    else:
        rows = [["Main", *PLANES], *([label.format(main), *(cells[main, plane] for plane in PLANES)] for main in MAINS)]
        if layout == "a column a station":
            rows = [list(column) for column in zip(*rows, strict=True)]
    return Laid(rows, layout, unit, comma, as_book, sure, broken)


def import_map(found: Laid) -> str:
    head = f"layout: {found.layout}\nunit: {found.unit}\ndecimal: {'comma' if found.comma else 'point'}\n"
    if found.layout == "a block a part":
        return f"{head}block: {{titles: main, across: plane}}\nreadings: {{Bore: main_bore}}\n"
    readings = "".join(f"  {plane}: {{measurand: main_bore, at: {{plane: {plane}}}}}\n" for plane in PLANES)
    return f"{head}stations: {{Main: main}}\nreadings:\n{readings}"


def as_value(text: str) -> Value:
    """A cell of a spreadsheet: a number where the text is one."""
    try:
        return float(Decimal(text))
    except ArithmeticError:
        return text or None


def table(found: Laid) -> CellTable:
    if found.as_book:
        return of_book(book([[as_value(text) for text in row] for row in found.rows]))
    return of_lines(*(";".join(row) for row in found.rows), between=";")


@given(laid())
def test_figures_come_in_as_they_were_written_or_are_refused(found: Laid) -> None:
    came = placing(table(found), import_map(found))
    for each in came.placed:
        truth = read_written(found.sure[each.spot], unit=None, dimension=LENGTH)
        assert isinstance(truth, Exact)
        assert isinstance(each.figure.read, Exact)
        assert (each.figure.read.value, each.figure.read.unit) == (truth.value, truth.unit)
        if not found.as_book:
            assert each.figure.read == truth  # to the places that were written
    assert {each.spot for each in came.placed} == set(found.sure)
    assert len(came.faults) == found.broken


@pytest.mark.second_lane
@given(laid(), st.data())
def test_no_damage_to_a_table_makes_another_number_of_one(found: Laid, data: st.DataObject) -> None:
    """One cell of labels or headings written anew: what still comes in is of its place."""
    row = data.draw(st.integers(0, len(found.rows) - 1))
    column = data.draw(st.sampled_from([0] if row else range(len(found.rows[0]))))
    rows = [list(each) for each in found.rows]
    rows[row][column] = data.draw(st.sampled_from(("", "9", "Mian 1", "Bore 7", "x" * 300, "front rear", "Main")))
    came = placing(table(found._replace(rows=rows)), import_map(found))
    for each in came.placed:
        truth = read_written(found.sure[each.spot], unit=None, dimension=LENGTH)
        assert isinstance(truth, Exact)
        assert isinstance(each.figure.read, Exact)
        assert each.figure.read.value == truth.value
    assert len(came.placed) == len(found.sure) or came.faults or came.passed  # what does not come in is told
