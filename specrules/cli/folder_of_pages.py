"""`specrules inspect --form page --out FOLDER`: a page a sheet, and an index that links to them.

It is filled page by page, its index last; until then an index that says "not all judged" stands there, so that no line
of yesterday stands for a page of today, be the run killed. What may not be replaced there ends it before the first
page. Pages are called by their sheets, in letters that every file system takes, whatever their case; sheets of one name
have a digest of their paths. Only the page has an index: no plugin has asked for one.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from contextlib import suppress
from pathlib import Path

import click

from specrules.cli.inspector import Inspected
from specrules.cli.status import GRAVITY, Status, gravest
from specrules.cli.writing import FileNotWritten, written_or_told
from specrules.effects.files import STANDARD_INPUT, WholeFile, read, unless_ours
from specrules.output.marks import MARKS, PAGE
from specrules.output.page_folder import ENDING, INDEX_FILE, SheetLine, file_names, index_page, unfinished_index

MOST_TOLD = 20
"""So many pages of earlier runs are named; the rest are counted."""
_Same = tuple[int, int]


class FolderOfPages:
    """A folder that the pages of these sheets go to.

    What is there and may not be replaced ends the command before anything is judged. While it is filled its index says
    that it is not finished: no line of an earlier run stands for a page of this one, however this one ends.
    """

    def __init__(
        self,
        folder: Path,
        sheets: Sequence[Path],
        inputs: Callable[[], Iterable[Path]],
        replace: bool,
        marks: Collection[str],
    ) -> None:
        self._folder, self._names = folder, file_names([str(sheet) for sheet in sheets])
        self._read = read_here = dict(_on_disk(inputs()))

        def spared(path: Path) -> str:
            alike = [each for at, _ in _on_disk([path]) if (each := read_here.get(at))]
            return unless_ours((*MARKS, *marks), lambda: alike, replace)(path)

        self._spared = spared
        for name in (INDEX_FILE, *self._names):
            path = folder / name
            if os.path.lexists(path) and (said := spared(Path(os.path.realpath(path)))):
                raise FileNotWritten(f"{path} {said}")

    def filled_with(self, results: Iterable[Inspected]) -> Status:
        """Write the page of each sheet as soon as it is there, and then the index, the gravest first."""
        self._put(INDEX_FILE, unfinished_index(len(self._names)))
        lines: list[tuple[Status, str, SheetLine]] = []
        try:
            for name, each in zip(self._names, results, strict=True):
                assert each.listed is not None
                self._read.update(_on_disk(each.pictures))
                self._put(name, each.made)
                lines.append((each.status, name, each.listed))
            by_gravity = sorted(lines, key=lambda each: GRAVITY.index(each[0]))
            self._put(INDEX_FILE, index_page([(name, listed) for _, name, listed in by_gravity]))
        except BaseException:
            click.echo(f"{self._folder / INDEX_FILE} says that this run did not come to its end.", err=True)
            raise
        self._tell_what_is_old()
        return gravest([status for status, _, _ in lines])

    def _put(self, name: str, text: str) -> None:
        with written_or_told(), WholeFile(self._folder / name, self._spared) as file:
            file.write(text.encode("utf-8"))

    def _tell_what_is_old(self) -> None:
        """Name the pages of earlier runs: they stay, and the index does not link to them."""
        ours = dict(_on_disk(self._folder / name for name in self._names))
        old = [path for at, path in _on_disk(self._folder.glob(f"*{ENDING}")) if at not in ours and _a_page(path)]
        old.sort()
        for path in old[:MOST_TOLD]:
            click.echo(f"{path} is of an earlier run: it stays, and the index does not link to it.", err=True)
        if len(old) > MOST_TOLD:
            click.echo(f"So are {len(old) - MOST_TOLD} more.", err=True)


def _on_disk(paths: Iterable[Path]) -> Iterator[tuple[_Same, Path]]:
    """The files that there are, each with what tells it from all others."""
    for path in paths:
        with suppress(OSError):
            found = os.stat(0 if path == STANDARD_INPUT else path)
            yield (found.st_dev, found.st_ino), path


def _a_page(path: Path) -> bool:
    with suppress(OSError):
        return os.path.isfile(path) and read(path, len(PAGE)) == PAGE.encode()
    return False
