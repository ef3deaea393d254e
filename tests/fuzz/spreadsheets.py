"""Spreadsheets and import maps altered: whatever they are, a fault or readings of their places comes out."""

from __future__ import annotations

import io
import zipfile
from functools import cache
from random import Random

from specrules.document import Fault, Text
from specrules.effects.spreadsheet import read_spreadsheet
from specrules.importing.map_reading import fitted, read_map
from specrules.importing.placing import place
from specrules.importing.proposing import propose
from specrules.quantity import Open
from tests.fuzz.alterations import OF_A_FILE, altered
from tests.fuzz.attempts import Input, hold
from tests.fuzz.sound import words_of
from tests.importing.small_tables import book, mapped, small_sheet
from tests.sheet.small_shop import shop

MAPS = (
    mapped(
        "layout: a row a station\nunit: in\nstations: {Main: main}\nreadings:\n"
        "  Front: {measurand: main_bore, at: {plane: front}}\n  Rear: {measurand: main_bore, at: {plane: rear}}\n"
        "labels: {main: {Thrust: 3}}\nleft out: [Mean]\n"
    ),
    mapped(
        "layout: a block a part\nworksheet: T\nrows: 1..9\ncolumns: A..D\ndecimal: comma\nunit: [mm, g]\n"
        "block: {titles: main, across: plane}\nreadings: {Front: main_bore, Rear: {measurand: main_bore, unit: in}}\n"
    ),
)
PARTS = ("xl/worksheets/sheet1.xml", "xl/workbook.xml", "xl/styles.xml", "[Content_Types].xml")


@cache
def sound_parts() -> dict[str, str]:
    """The parts of a spreadsheet of bores, by their names."""
    rows = [["Main", "Front", "Rear"], [1, 2.5012, "2,5013"], ["Main 2", "=1+1.5", True], ["Mean", None, "2.5 mm"]]
    source = book(rows, lambda sheet: sheet.merge_cells("B3:C3"))  # type: ignore[arg-type]
    with zipfile.ZipFile(io.BytesIO(source)) as archive:
        return {name: archive.read(name).decode() for name in archive.namelist()}


def a_table(draw: Random) -> Input:
    """A part of a spreadsheet, or a map of it, altered."""
    name = draw.choice((PARTS[0], *PARTS, "map"))
    which = draw.randrange(len(MAPS))
    text = MAPS[which] if name == "map" else sound_parts()[name]
    return Input("table", altered(text, draw, words_of(*MAPS, *sound_parts().values()), OF_A_FILE), (name, str(which)))


def try_table(given: Input) -> str:
    """The file has a fault; or every reading of it is of a cell that is surely a figure, at a place of the build."""
    name, which = given.arguments
    model, faults = read_map(given.text if name == "map" else MAPS[int(which)], "m.yaml")
    hold((model is None) == bool(faults), "a map with faults, or none without")
    if model is None:
        return "map at fault"
    fits, faults = fitted(model, shop(), small_sheet())
    hold((fits is None) == bool(faults), "a map with faults, or none without")
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as archive:
        for part, text in sound_parts().items():
            archive.writestr(part, (given.text if part == name else text).encode("utf-8", "surrogatepass"))
    tables = read_spreadsheet(made.getvalue(), "t.xlsx", Text(model.worksheet))
    if isinstance(tables, Fault):
        hold(bool(tables.said), "a fault of nothing")
        return "table at fault"
    hold(propose(tables, shop(), small_sheet()).startswith("specrules: import-map/1\n"), "no proposal")
    if fits is None:
        return "map at fault"
    found = place(tables[0].part(model.rows, model.columns), fits, small_sheet())
    for each in found.placed:
        hold(each.cell.refusal is None and not isinstance(each.figure.read, Open), "a reading of what is no figure")
        hold(each.spot[1][0] in ("1", "2", "3") and each.spot[2][0] in ("front", "rear"), "a reading of no place")
    return "read, and something refused" if found.faults else "read"
