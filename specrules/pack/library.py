"""Where packs are found and loaded: the one part of this room that reads files. Nothing is fetched, no code is run."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Sequence
from itertools import zip_longest
from pathlib import Path
from stat import S_ISREG
from typing import TYPE_CHECKING, NamedTuple

from specrules.document import Budget, Fault, Place, Text, shown
from specrules.document.text import NOWHERE
from specrules.quantity import nearest

if TYPE_CHECKING:
    from specrules.pack.reading import Pack

SUFFIX = ".pack.yaml"
PLAIN_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]*")
"""What a pack may be called."""
_MOST_PACKS = 1000  # in one folder: more is no folder of packs


def shipped_folder() -> Path:
    """The packs that come with the program: inside it where it is installed, beside it where it is developed."""
    inside = Path(__file__).parent.parent
    return inside / "packs" if (inside / "packs").is_dir() else inside.parent / "packs"


class Found(NamedTuple):
    """A pack on disk: a file, or a folder of files."""

    path: Path
    folder: Path
    shipped: bool


class Library:
    """The packs that may be named: those that ship, those of plugins, and a shop's own folders, nearest first."""

    def __init__(self, folders: Sequence[Path] = (), plugins: Sequence[Path] = (), shipped: Path | None = None) -> None:
        self.folders = folders
        self.plugins = plugins
        self.shipped = shipped or shipped_folder()

    def names(self) -> tuple[str, ...]:
        """The name of every pack that is there, in order of the alphabet."""
        return tuple(sorted(self._found()[0]))

    def load(self, asked: Sequence[str]) -> tuple[tuple[Pack, ...], tuple[Fault, ...]]:
        """The packs of these names and all that they build on."""
        found, faults = self._found()
        packs: dict[str, Pack] = {}
        waiting = list(asked)
        seen: set[str] = set()
        while waiting:
            name = waiting.pop(0)
            if name in seen:
                continue
            seen.add(name)
            if name not in found:
                faults.append(_unknown(name, tuple(found)))
                continue
            pack, more = _load(name, found[name])
            faults += more
            if pack is not None:
                packs[name] = pack
                waiting += pack.builds_on
        return tuple(packs.values()), tuple(faults)

    def files(self) -> list[tuple[str, bytes]] | None:
        """Every file of every pack that is there, with its label; None where one is at fault."""
        found, faults = self._found()
        read = [
            (_label(path, each), _bytes(path, each.folder)) for each in found.values() for path in _files_of(each.path)
        ]
        whole = [(label, raw) for label, raw in read if isinstance(raw, bytes)]
        return whole if not faults and len(whole) == len(read) else None

    def _found(self) -> tuple[dict[str, Found], list[Fault]]:
        """Every pack by name. A name that ships is only used again by a copy to the byte, as a clone of the program has
        it; of a shop's own, the nearest folder's stands."""
        found: dict[str, Found] = {}
        faults: list[Fault] = []
        theirs = (self.shipped, *self.plugins)
        folders = {folder.resolve(): folder for folder in (*reversed(self.folders), *reversed(theirs))}
        for folder in reversed(folders.values()):
            mine: set[str] = set()
            for name, path in _packs_in(folder):
                first = found.setdefault(name, Found(path, folder, folder == self.shipped))
                if name in mine:
                    faults.append(
                        _file_fault(path, f"the pack {shown(name)} is a file and a folder too", "one of them")
                    )
                elif first.folder != folder and first.folder in theirs and not _same(first.path, path):
                    whose = "ships with the program" if first.shipped else "comes with a plugin"
                    said = f"a pack called {shown(name)} {whose}, and this one would be taken for it"
                    faults.append(_file_fault(path, said, f"another name, and builds on: [{name}] in it"))
                mine.add(name)
        return found, faults


def _packs_in(folder: Path) -> Iterator[tuple[str, Path]]:
    """The packs of one folder, in order of their names; a folder that cannot be read has none."""
    try:
        entries = sorted(os.scandir(folder), key=lambda entry: entry.name)[:_MOST_PACKS]
    except OSError:
        return
    for entry in entries:
        name = entry.name.removesuffix(SUFFIX)
        if not PLAIN_NAME.fullmatch(name):
            continue
        if entry.name.endswith(SUFFIX) and entry.is_file():
            yield name, folder / entry.name
        elif name == entry.name and entry.is_dir() and any(_files_of(folder / name)):
            yield name, folder / name


def _same(first: Path, second: Path) -> bool:
    """Whether two packs have the same files, to the byte."""
    pairs = list(zip_longest(_files_of(first), _files_of(second)))
    try:
        return all(a and b and a.name == b.name and a.is_file() and b.is_file() for a, b in pairs) and all(
            a.stat().st_size == b.stat().st_size and a.read_bytes() == b.read_bytes() for a, b in pairs
        )
    except OSError:
        return False


def _files_of(path: Path) -> list[Path]:
    """The files of a pack."""
    if not path.is_dir():
        return [path]
    return sorted(file for file in path.iterdir() if file.name.endswith(SUFFIX))


def _load(name: str, found: Found) -> tuple[Pack | None, tuple[Fault, ...]]:
    files: list[tuple[str, bytes]] = []
    faults: list[Fault] = []
    for path in _files_of(found.path):
        raw = _bytes(path, found.folder)
        if isinstance(raw, bytes):
            files.append((_label(path, found), raw))
        else:
            faults.append(raw)
    if faults:
        return None, tuple(faults)
    from specrules.pack.reading import read_pack  # most runs have a plan of their packs, and read none

    pack, more = read_pack(files)
    faults += more
    if pack is not None and pack.name != name:
        said = f"calls itself {shown(pack.name)}, and its file is called {name}"
        return None, (Fault(pack.head.name.place, "pack", said, f"name: {name}", "pack"),)
    return pack, tuple(faults)


def _label(path: Path, found: Found) -> str:
    """What a fault calls the file: its place in its folder of packs, the same on every machine."""
    return f"{found.folder.name}/{path.relative_to(found.folder).as_posix()}"


def _bytes(path: Path, folder: Path) -> bytes | Fault:
    """A file's bytes, no more than a pack may have. Only a plain file that truly lies in its folder is read."""
    try:
        if not path.resolve(strict=True).is_relative_to(folder.resolve(strict=True)):
            return _file_fault(path, "leads out of its folder of packs")
        if not S_ISREG(path.stat().st_mode):
            return _file_fault(path, "is no plain file")
        with path.open("rb") as file:
            return file.read(Budget().size + 1)
    except RuntimeError:  # what a link to itself was before it was an OSError
        return _file_fault(path, "is a link that leads nowhere")
    except OSError as error:
        return _file_fault(path, f"cannot be read: {(error.strerror or 'unknown cause').lower()}")


def _file_fault(path: Path, said: str, write: str = "") -> Fault:
    return Fault(Place(f"{path.parent.name}/{path.name}", 0, 0), "", said, write, "file")


def _unknown(name: str, known: Sequence[str]) -> Fault:
    place = name.place if isinstance(name, Text) else NOWHERE
    if not PLAIN_NAME.fullmatch(name):
        return Fault(place, "packs", f"{shown(name)} is no plain name for a pack", "its name only, no path", "pack")
    said = f"{shown(name)} is no pack that was found"
    return Fault(place, "packs", said, nearest(name, known) or ", ".join(sorted(known)), "pack")
