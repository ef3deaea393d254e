"""`specrules sheet import`: readings out of a table that a shop keeps, into a sheet; all of them or none."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

import click

from specrules.cli.asked_names import workspace_for
from specrules.cli.status import Status
from specrules.cli.writing import (
    ADD,
    COLOUR,
    NO_PLUGINS,
    READABLE,
    FileNotWritten,
    end_at_fault,
    plain,
    put_lines,
    put_new,
    put_text,
    quoted,
    unless_there,
    written_or_told,
)
from specrules.document import Fault
from specrules.document.source import decode, encode
from specrules.effects.files import read_bytes, rewrite, rewriting
from specrules.effects.table_file import read_table, tables_of
from specrules.effects.workspace import Workspace
from specrules.importing.entering_all import AgainstSheet, Entry, changes_only, entries, roomy, with_all
from specrules.importing.map_reading import fitted, read_map
from specrules.importing.placing import Placing, place
from specrules.importing.proposing import propose
from specrules.importing.table_cells import CellTable
from specrules.inspection import Examination
from specrules.output.importing_lines import ending, importing
from specrules.output.lines import line
from specrules.pack import Specification, present, told_in
from specrules.quantity import Refusal, Unit, find_unit, using
from specrules.sheet import RawSheet, Sheet, Suspect
from specrules.sheet.cells import Cell, cells_of_sheet, spot_of


class Opened(NamedTuple):
    """A sheet as it is or would be, with its text, its specification and its cells."""

    source: bytes
    text: str
    sheet: Sheet
    spec: Specification
    raw: RawSheet
    cells: tuple[Cell, ...]


class Made(NamedTuple):
    """What came of every cell of a table, which figures go in, and the sheet as it would be then."""

    table: CellTable
    placing: Placing
    entries: AgainstSheet
    going_in: tuple[Entry, ...]
    after: Opened


@click.command("import")
@click.argument("sheet", type=READABLE)
@click.argument("table", metavar="FILE", type=READABLE)
@click.option("--map", "import_map", type=READABLE, default=None, help="What its headings and labels mean.")
@click.option("--learn", is_flag=True, help="Propose a map from the headings: to the screen, or as a new file --map.")
@click.option("--worksheet", default="", help="Of a spreadsheet, where the map names none.")
@click.option("--unit", "units", multiple=True, metavar="UNIT", help="Of figures for which nothing else says one.")
@click.option("--write", is_flag=True, help="Write the figures into the sheet; else they are only shown.")
@click.option("--overwrite", is_flag=True, help="Let a figure come before another of the sheet, which stays beside it.")
@click.option("--rest", is_flag=True, help="Enter the rest where some cells cannot go in.")
@ADD
@NO_PLUGINS
@COLOUR
def import_table(
    sheet: Path,
    table: Path,
    import_map: Path | None,
    learn: bool,
    worksheet: str,
    units: tuple[str, ...],
    write: bool,
    overwrite: bool,
    rest: bool,
    add: tuple[str, ...],
    no_plugins: bool,
    colour: str,
) -> None:
    """
    \b
    specrules sheet import my.sheet.yaml mains.csv --learn --map mains.map.yaml
    specrules sheet import my.sheet.yaml mains.csv --map mains.map.yaml
    specrules sheet import my.sheet.yaml mains.csv --map mains.map.yaml --write

    Without --write it only shows what would go in. A cell that is not surely a
    number is refused with its address, and then nothing is written.
    """
    importer = Importer(sheet, workspace_for(no_plugins), add)
    with using(importer.workspace.plugged.units):
        if learn:
            importer.learn(table, import_map, plain(worksheet))
            return
        if import_map is None:
            raise click.UsageError("--map says what the headings mean; --learn proposes one.")
        made = importer.made(table, import_map, plain(worksheet), tuple(map(_unit, units)), overwrite)
        suspects = importer.suspects(made)
    refused = (*made.placing.faults, *made.entries.faults)
    lacking = len(refused) + (0 if overwrite else len(made.entries.otherwise))
    held = bool(lacking) and not rest
    lines = [*importing(made.table, made.entries, refused, made.placing.passed, suspects, overwrite)]
    written = write and not held and bool(made.going_in)
    if written:
        importer.write(made.after)
    options = f"--map {quoted(import_map)}{f' --worksheet {chr(34)}{worksheet}{chr(34)}' if worksheet else ''}"
    options += "".join(f" --unit {unit}" for unit in units) + " --overwrite" * overwrite + " --rest" * rest
    command = f"specrules sheet import {quoted(sheet)} {quoted(table)} {options} --write"
    lines += ending(written, len(made.going_in), lacking if held else 0, quoted(sheet), command)
    put_lines(lines, colour)
    if held:
        raise click.exceptions.Exit(Status.FAULT)


def _unit(name: str) -> Unit:
    found = find_unit(name)
    if isinstance(found, Refusal):
        raise click.UsageError(f"--unit {name}: {found.said}{f'; write {found.write}' if found.write else ''}")
    return found


class Importer:
    """One sheet, and what its packs make of it. Every fault of a file ends the command."""

    def __init__(self, path: Path, workspace: Workspace, add: Sequence[str]) -> None:
        self.path, self.name, self.workspace, self.add = path, str(path), workspace, add
        source = read_bytes(path, self.name)
        self.now = end_at_fault([source]) if isinstance(source, Fault) else self._opened(source)

    def _opened(self, source: bytes) -> Opened:
        loaded = self.workspace.settle(source, self.path, self.name, self.add)
        text = decode(source, self.name, "sheet")
        if loaded.sheet is None or loaded.spec is None or loaded.raw is None or isinstance(text, Fault):
            end_at_fault((*loaded.faults, *loaded.set_aside))
        spec = present(told_in(loaded.spec, loaded.sheet.unit), loaded.sheet.described).spec
        return Opened(
            source, text, loaded.sheet, spec, loaded.raw, tuple(cells_of_sheet(loaded.raw, loaded.sheet, spec))
        )

    def _with(self, text: str) -> Opened:
        return self.now if text == self.now.text else self._opened(encode(text, self.now.source))

    def learn(self, table: Path, import_map: Path | None, worksheet: str) -> None:
        """Propose a map from a table's headings, to the screen or into a new file."""
        if import_map is not None:
            unless_there(import_map)
        found = tables_of(table, str(table), worksheet)
        if isinstance(found, Fault):
            end_at_fault([found])
        text = propose(found[0], self.now.spec, self.now.sheet, found[1])
        if import_map is None:
            put_text(text)
            return
        put_new(import_map, text)
        again = f"  specrules sheet import {quoted(self.path)} {quoted(table)} --map {quoted(import_map)}"
        lead = f"Wrote {import_map}. Check every line of it, fill in what is a comment, then:"
        put_lines([line(lead), line(again)])

    def made(self, table: Path, import_map: Path, worksheet: str, units: tuple[Unit, ...], overwrite: bool) -> Made:
        """Read the map and the table, and make the sheet of them in memory."""
        source = read_bytes(import_map, str(import_map))
        if isinstance(source, Fault):
            end_at_fault([source._replace(kind="file")])
        model, faults = read_map(source, str(import_map))
        if model is None:
            end_at_fault(faults)
        now = self.now
        known, faults = fitted(model, now.spec, now.sheet, units)
        if known is None:
            end_at_fault(faults)
        read = read_table(table, str(table), model, worksheet)
        if isinstance(read, Fault):
            end_at_fault([read])
        placing = place(read, known, now.sheet)
        room = self._with(roomy(now.text, self.name, placing.placed, now.cells, now.sheet, now.spec))
        found = entries(placing.placed, room.cells, room.text, room.raw)
        going_in = (*found.entered, *(found.otherwise if overwrite else ()))
        text = with_all(room.text, going_in) if going_in else now.text
        after = self._with(text) if text is not None else None
        if after is None or not changes_only(now.sheet, after.sheet, going_in):
            raise FileNotWritten(f"{self.name} would say something else than these figures; write them in by hand")
        return Made(read, placing, found, going_in, after)

    def suspects(self, made: Made) -> list[Suspect]:
        """What among the figures that go in looks like a slip."""
        spots = {entry.placed.spot for entry in made.going_in}
        if not spots:
            return []
        found = Examination(made.after.sheet, made.after.spec).report.suspects
        return [each for each in found if spot_of(each) in spots and not each.confirmed]

    def write(self, after: Opened) -> None:
        """Write the sheet as it would be, where it is still what it was when it was read."""
        with written_or_told(), rewriting(self.path):
            rewrite(self.path, self.now.source, after.source)
