"""A build sheet on disk, judged, into whose text readings and signatures are entered one by one."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple

from specrules.cli.writing import end_at_fault
from specrules.document import Fault
from specrules.document.source import decode, encode
from specrules.effects.files import LeftAlone, NotWritten, read_bytes, rewrite, rewriting
from specrules.effects.workspace import Workspace
from specrules.inspection import Examination, Options, Report
from specrules.inspection.evidence import signed_after, stale_readings
from specrules.pack import SignOff, Specification
from specrules.sheet import Reading, SettledReadings, Sheet
from specrules.sheet.cells import Cell, Spot, cells_of_sheet, spot_of
from specrules.sheet.entering import with_room, with_signature
from specrules.sheet.new_sheet import rows_of

TRIES = 3
"""So often a sheet is read anew that a program without turns, an editor say, wrote in just this moment."""


class Taken(NamedTuple):
    """A sheet as it stands in its file, judged, with its cells."""

    source: bytes
    sheet: Sheet
    examined: Examination
    cells: tuple[Cell, ...]

    @property
    def spec(self) -> Specification:
        """The specification of what is there."""
        return self.examined.spec

    @property
    def report(self) -> Report:
        """What was found so far."""
        return self.examined.report

    @property
    def text(self) -> str:
        """Its characters, with a byte order mark where it has one."""
        found = decode(self.source, self.sheet.file, "sheet")
        assert isinstance(found, str)  # it was read
        return found

    @property
    def stale(self) -> Mapping[Spot, str]:
        """The places whose reading came before work that changed it, each with that work."""
        readings = self.sheet.readings
        return {spot_of(readings[number]): work for number, work in stale_readings(self.sheet, self.spec).items()}

    def cell(self, other: Cell) -> Cell:
        """The cell at the same place as another, as it is now; empty and without room where it is no more."""
        gone = other._replace(written=None, given=False)
        return next((each for each in self.cells if each.spot == other.spot), gone)


class SheetOnDisk:
    """A sheet on disk, into which readings are entered one by one."""

    def __init__(self, path: Path, workspace: Workspace, add: Sequence[str]) -> None:
        self.path, self.name, self.workspace, self.add = path, str(path), workspace, add
        self._kept = SettledReadings()
        self._last: Examination | None = None
        self.now = self._taken(self._read())

    def _read(self) -> bytes:
        source = read_bytes(self.path, self.name)
        if isinstance(source, Fault):
            end_at_fault([source])
        return source

    def _taken(self, source: bytes) -> Taken:
        found = self._settled(source)
        return found if isinstance(found, Taken) else end_at_fault(found)

    def _settled(self, source: bytes) -> Taken | tuple[Fault, ...]:
        loaded = self.workspace.settle(source, self.path, self.name, self.add, self._kept)
        if loaded.sheet is None or loaded.spec is None or loaded.raw is None:
            return (*loaded.faults, *loaded.set_aside)
        self._last = Examination(loaded.sheet, loaded.spec, Options(), loaded.same_names, self._last)
        there = tuple(cells_of_sheet(loaded.raw, loaded.sheet, self._last.spec))
        return Taken(source, loaded.sheet, self._last, there)

    def enter(self, cell: Cell, edit: Callable[[str, Cell], str | None], keeps: bool = False) -> str:
        """Enter a reading into a cell and write the file. Why it was not; "" where it was.

        The sheet as edited is read back before it is written: whatever else than this cell would be read otherwise
        than before keeps it from being written. What somebody else wrote since it was last read is kept; only where
        that is of this very cell nothing is entered. `keeps`: what stood in the cell has to be in its history then."""
        return self._written(lambda: self._entered(cell, edit, keeps), cell)

    def sign(self, sign_off: SignOff, by: str, good: bool) -> str:
        """Sign a question and write the file, with the same care. Why it was not; "" where it was."""
        return self._written(lambda: self._signed(sign_off, by, good))

    def _entered(self, cell: Cell, edit: Callable[[str, Cell], str | None], keeps: bool) -> Taken | str:
        roomy = self._with_room(cell)
        made = None if roomy is None else edit(roomy.text, roomy.cell(cell))
        if made is None:
            return f"there is no room for it in {self.name}; write it in by hand"
        after = self._settled(encode(made, self.now.source))
        if not isinstance(after, Taken):
            return after[0].sentence()
        lost = keeps and not set(_said_at(cell, self.now.sheet)) <= set(_said_at(cell, after.sheet))
        same = after.cell(cell) == self.now.cell(cell)
        if lost or same or _readings(after.sheet, cell) != _readings(self.now.sheet, cell):
            return f"it would change more of {self.name} than this reading; write it in by hand"
        return after

    def _signed(self, sign_off: SignOff, by: str, good: bool) -> Taken | str:
        name, today = sign_off.name, date.today()
        work = signed_after(name, today, self.now.sheet, self.now.spec)
        made = with_signature(self.now.text, self.name, name, by, f"{today:%Y-%m-%d}", good, work)
        after = None if made is None else self._settled(encode(made, self.now.source))
        if not isinstance(after, Taken):
            return f"there is no room for it in {self.name}; write it in by hand"
        before, then = _signatures(self.now.sheet, name), _signatures(after.sheet, name)
        if _readings(after.sheet) != _readings(self.now.sheet) or then[:-1] != before or then[-1][0] != name:
            return f"it would change more of {self.name} than this signature; write it in by hand"
        return after

    def _written(self, made: Callable[[], Taken | str], cell: Cell | None = None) -> str:
        """Put an edit of the file as it stands now in its place, in a turn of one's own."""
        for left in reversed(range(TRIES)):
            try:
                with rewriting(self.path):
                    if refused := self._caught_up(cell):
                        return refused
                    after = made()
                    if isinstance(after, str):
                        return after
                    rewrite(self.path, self.now.source, after.source)
            except LeftAlone as changed:
                if not left:
                    return str(changed)
            except NotWritten as failed:
                return str(failed)
            else:
                self.now = after
                return ""
        raise AssertionError

    def _caught_up(self, cell: Cell | None) -> str:
        """Take in what somebody else wrote. Why nothing may be entered into this cell any more; "" where it may."""
        source = read_bytes(self.path, self.name)
        if source == self.now.source:
            return ""
        found = (source,) if isinstance(source, Fault) else self._settled(source)
        if not isinstance(found, Taken):
            return f"somebody else changed the sheet, and it is at fault now. {found[0].sentence()}"
        before, self.now = self.now, found
        if cell is None or found.cell(cell).stands == before.cell(cell).stands:
            return ""
        return f"somebody else changed this place of {self.name} meanwhile; look at it, and type it again if need be"

    def _with_room(self, cell: Cell) -> Taken | None:
        """The sheet with a text for this cell, empty where it has none of its own yet."""
        if self.now.cell(cell).written is not None:
            return self.now
        if cell.measurand.name in {name for name, *_ in self._written_spots()}:
            return None
        rows = rows_of(cell.measurand, self.now.sheet, self.now.spec)
        made = with_room(self.now.text, self.name, rows)
        found = None if made is None else self._settled(encode(made, self.now.source))
        return found if isinstance(found, Taken) and found.cell(cell).written is not None else None

    def _written_spots(self) -> Iterator[Spot]:
        return (each.spot for each in self.now.cells if each.written is not None or each.given)


def _signatures(sheet: Sheet, last: str) -> list[tuple[object, ...]]:
    """Every signature, those of one question last."""
    every = ((name, each) for name, given in sheet.signed.items() for each in given)
    found = [(name, each.answer, each.by, each.on, dict(each.at), each.after) for name, each in every]
    return sorted(found, key=lambda each: each[0] == last)


def _readings(sheet: Sheet, but: Cell | None = None) -> list[tuple[object, ...]]:
    """What the readings of a sheet say, wherever they are written; those of one cell left out."""
    every = (*sheet.readings, *sheet.history)
    return [_said(each) for each in every if but is None or spot_of(each) != but.spot]


def _said_at(cell: Cell, sheet: Sheet) -> list[tuple[object, ...]]:
    """What the readings of one cell say, and said before."""
    return [_said(each) for each in (*sheet.readings, *sheet.history) if spot_of(each) == cell.spot]


def _said(reading: Reading) -> tuple[object, ...]:
    return (*spot_of(reading), reading.text, reading.gauge, reading.taken, reading.because, reading.confirmed)
