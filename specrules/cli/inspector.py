"""One sheet after the other: its bytes in, and plain data out, so that nothing large stays or crosses to a process."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from specrules import VERSION
from specrules.cli.asked_names import unknown_names, workspace_for
from specrules.cli.status import Status, status_of
from specrules.document import Fault, Place
from specrules.effects.picture_files import SeenPictures, looked_at, paths_of
from specrules.effects.workspace import Faults
from specrules.inspection import Examination, Options
from specrules.output.closing_lines import in_a_line
from specrules.sheet import SettledReadings
from specrules.vocabulary import Code

if TYPE_CHECKING:
    from specrules.output.page_folder import SheetLine
    from specrules.plugins import Embedded
    from specrules.record import Record
    from specrules.sheet import Sheet


class InspectionRequest(NamedTuple):
    """What a command line asks for, of every sheet alike. several: whether each is one of several; full: all that the
    form has to show; folder: whether each is a page by itself, with an index of all."""

    options: Options
    form: str
    several: bool
    plugins: bool
    full: bool = False
    folder: bool = False


class SheetBytes(NamedTuple):
    """A sheet as it lies there, or what kept it from being read."""

    path: Path
    source: bytes | Fault
    called: str = ""  # what it is called in what comes of it; "": its path


class Inspected(NamedTuple):
    """What came of one sheet. made: what the form asked for is made of it, lines or text, or its record where the form
    is made of all of them. listed: what an index says of it, where there is to be one.

    faults: what kept it from being judged. set_aside: what is wrong with plugins beside its packs. unmade: what kept
    the form from being made. pictures: where those lie that the sheet names.
    """

    name: str
    status: Status
    conclusion: str
    faults: Faults
    set_aside: Faults
    made: Any = None
    unmade: Faults = ()
    listed: SheetLine | None = None
    pictures: tuple[Path, ...] = ()

    def small(self) -> Inspected:
        """The same without what was to be shown."""
        return self._replace(made=None)


class Before(NamedTuple):
    """A sheet as it was inspected last."""

    readings: SettledReadings
    examined: Examination | None


class Inspector:
    """Inspects sheets, and keeps the specifications that it made for later ones. One that is pickled is made anew.

    `again`: each sheet is inspected time and again, so that what a change leaves as it was is kept too.
    """

    def __init__(self, asked: InspectionRequest, again: bool = False) -> None:
        self.asked, self.again = asked, again
        self.workspace = workspace_for(not asked.plugins)
        self._before: dict[Path, Before] = {}
        self._seen: SeenPictures = {}

    def __reduce__(self) -> tuple[type[Inspector], tuple[InspectionRequest]]:
        return Inspector, (self.asked,)

    def __call__(self, sheet: SheetBytes) -> Inspected:
        """What comes of a sheet."""
        name = sheet.called or str(sheet.path)
        return self._made(name, sheet.path, *self._examined(sheet, name))

    def recorded(self, sheet: SheetBytes) -> tuple[Record, Faults]:
        """Its record, and what kept it from being judged."""
        name = sheet.called or str(sheet.path)
        examined, faults, set_aside = self._examined(sheet, name)
        return self._record(name, examined, (*faults, *set_aside)), faults

    def _examined(self, sheet: SheetBytes, name: str) -> tuple[Examination | None, Faults, Faults]:
        """A sheet examined; what kept it from that; what is wrong with plugins beside it."""
        options = self.asked.options
        before = self._before.get(sheet.path) or Before(SettledReadings(), None)
        settled = self.workspace.settle(sheet.source, sheet.path, name, options.add, before.readings)
        loaded = looked_at(settled, sheet.path, self._seen)
        if loaded.sheet is None or loaded.spec is None:
            return None, loaded.faults, loaded.set_aside
        if unknown := unknown_names(loaded.spec, name, until=options.until):
            return None, unknown, loaded.set_aside
        examined = Examination(loaded.sheet, loaded.spec, options, loaded.same_names, before.examined)
        failed = self.workspace.plugged.failures.taken()
        if self.again:  # what a plugin failed at is tried again, to be told again
            self._before[sheet.path] = before._replace(examined=None if failed else examined)
        return examined, (), (*loaded.set_aside, *failed)

    def failed(self, path: Path, why: str) -> Inspected:
        """What comes of a sheet on which the program itself failed."""
        said = f"specrules itself is at fault here, not this file ({why[:300]}); inspect it alone to see more"
        return self._made(
            str(path), path, None, (Fault(Place(str(path), 0, 0), "", Code.PROGRAM_FAILED, said, kind="program"),), ()
        )

    def _made(
        self, name: str, path: Path, examined: Examination | None, faults: Faults, set_aside: Faults
    ) -> Inspected:
        status = Status.FAULT if examined is None else status_of(examined.report)
        conclusion = "at fault, not judged" if examined is None else in_a_line(examined.report)
        sheet = examined.sheet if examined is not None else None
        pictures = tuple(paths_of(sheet, path)) if sheet is not None else ()
        made = Inspected(name, status, conclusion, faults, set_aside, pictures=pictures)
        form = self.workspace.plugged.forms[self.asked.form]
        make = (form.full if self.asked.full else None) or form.make
        if form.of == "report":
            return made if examined is None else _with(made, make(examined.report, examined.whole))
        from specrules.record import record_data

        record = self._record(name, examined, (*faults, *set_aside), form.whole)
        if form.of == "records":
            return _with(made, record_data(record))
        shown_as = _embedded(sheet, path) if form.pictures else {}
        if self.asked.folder:
            from specrules.output.page_folder import index_line, page_in_folder

            return made._replace(made=page_in_folder(record, shown_as), listed=index_line(record))
        return _with(made, make(record, self.asked.several, *((shown_as,) if form.pictures else ())))

    def _record(self, name: str, examined: Examination | None, faults: Faults, whole: bool = True) -> Record:
        from specrules.output.report_record import record_for

        return record_for(name, examined, faults, VERSION, self.workspace.plugged.plugins, whole=whole)


def _embedded(sheet: Sheet | None, path: Path) -> Mapping[str, Embedded]:
    from specrules.effects.scaled_pictures import embedded  # only what shows pictures makes them small

    return embedded(sheet.pictures, path) if sheet is not None else {}


def _with(inspected: Inspected, made: object) -> Inspected:
    """The same with what the form made of it; where its plugin failed, that counts as a sheet at fault does."""
    if isinstance(made, Fault):
        return inspected._replace(status=Status.FAULT, unmade=(made,))
    return inspected._replace(made=made)
