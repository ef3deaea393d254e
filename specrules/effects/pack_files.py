"""Where packs are found, and their files read. Nothing is fetched, no code is run."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from pathlib import Path
from stat import S_ISREG
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from specrules.document import Budget, Fault, Kind, Place, Text, shown
from specrules.document.text import NOWHERE
from specrules.effects.files import read, unreadable
from specrules.pack.specification import PLAIN_NAME
from specrules.pack.table_files import SUFFIX as TABLE
from specrules.quantity import nearest
from specrules.vocabulary import Code

if TYPE_CHECKING:
    from specrules.pack.pack_reading import Pack

SUFFIX = ".pack.yaml"
_MOST_PACKS = 1000  # in one folder: more is no folder of packs


def shipped_folder() -> Path:
    """The packs that come with the program: inside it where it is installed, beside it where it is developed."""
    inside = Path(__file__).parent.parent
    return inside / "packs" if (inside / "packs").is_dir() else inside.parent / "packs"


def pack_folders(near: Path) -> tuple[Path, ...]:
    """The folders `packs` beside a path and above it, nearest first; the packs that ship are no shop's own."""
    shipped = shipped_folder().resolve()
    try:
        start = near.resolve()
    except OSError:  # the working folder is gone
        return ()
    beside = [start, *start.parents] if os.path.isdir(start) else list(start.parents)
    folders = (folder / "packs" for folder in beside)
    return tuple(folder for folder in folders if os.path.isdir(folder) and folder != shipped)


class FoundPack(NamedTuple):
    """A pack that may be named: a file, a folder of files, or a text that was handed over."""

    path: Path
    folder: Path
    shipped: bool = False
    plugin: bool = False
    text: bytes | None = None


class _Found(NamedTuple):
    """The packs by name, what is wrong with them, and by name those that a nearer one of that name hides."""

    packs: Mapping[str, FoundPack]
    faults: tuple[Fault, ...]
    hidden: Mapping[str, tuple[Path, ...]]


class PackFiles:
    """The packs that may be named: those that ship, those of plugins, those handed over, and those of a shop's own
    folders, nearest first.

    `files` are packs by the path of their file, `texts` packs by name. Folders are looked through once.
    """

    def __init__(
        self,
        folders: Sequence[Path] = (),
        plugins: Sequence[Path] = (),
        shipped: Path | None = None,
        files: Sequence[Path] = (),
        texts: Mapping[str, bytes] = MappingProxyType({}),
    ) -> None:
        self.folders = folders
        self.plugins = plugins
        self.shipped = shipped or shipped_folder()
        self.files = files
        self.texts = texts

    def names(self) -> tuple[str, ...]:
        """The name of every pack that is there, in order of the alphabet."""
        return tuple(sorted(self._found.packs))

    def paths(self) -> Iterator[Path]:
        """Every file of every pack that is there."""
        for pack in self._found[0].values():
            if pack.text is None:
                yield from _files_of(pack.path)

    def there(self, asked: Sequence[str]) -> tuple[tuple[str, ...], tuple[Fault, ...]]:
        """Those of the names that packs have, and a fault for each of the others where it stands."""
        found = self._found.packs
        unknown = tuple(_unknown(name, tuple(found), _asked_by(name)) for name in asked if name not in found)
        return tuple(str(name) for name in asked if name in found), unknown

    def load(self, asked: Sequence[str]) -> tuple[tuple[Pack, ...], tuple[Fault, ...]]:
        """The packs of these names and all that they build on; none where one cannot be read. Where there are faults
        and packs, resolving these tells the rest of the faults."""
        found, wrong, _ = self._found
        faults = list(wrong)
        packs: dict[str, Pack] = {}
        waiting, whole = list(asked), True
        seen: set[str] = set()
        while waiting:
            name = waiting.pop(0)
            if name in seen:
                continue
            seen.add(name)
            pack, more = _load(name, found[name]) if name in found else (None, (_unknown(name, tuple(found), "pack"),))
            faults += more
            whole = whole and pack is not None
            if pack is not None:
                packs[name] = pack
                waiting += pack.builds_on
        return tuple(packs.values()) if whole else (), tuple(faults)

    def read(self) -> list[tuple[str, bytes]] | None:
        """Every file of every pack that is there, with its label; None where one is at fault."""
        found, faults, _ = self._found
        read = [each for pack in found.values() for each in _read(pack)]
        whole = [(label, raw) for label, raw in read if isinstance(raw, bytes)]
        return whole if not faults and len(whole) == len(read) else None

    def own(self, name: str) -> Mapping[str, Path]:
        """The files of a pack by their labels, where it is a shop's own: none that ships or comes with a plugin."""
        found = self._found.packs.get(name)
        if found is None or found.text is not None or found.folder in (self.shipped, *self.plugins):
            return {}
        return {_label(path, found): path for path in _files_of(found.path)}

    def hidden(self, name: str) -> tuple[Path, tuple[Path, ...]] | None:
        """The pack of a name, and others of that name with something else in them, farther away; None for none."""
        hidden = self._found.hidden.get(name)
        return None if hidden is None else (self._found.packs[name].path, hidden)

    @cached_property
    def _found(self) -> _Found:
        """Every pack by name. A name that ships is only used again by a copy to the byte, as a clone of the program has
        it; of a shop's own, the nearest folder's stands."""
        found: dict[str, FoundPack] = {}
        faults: list[Fault] = []
        hidden: dict[str, tuple[Path, ...]] = {}
        theirs = (self.shipped, *self.plugins)
        for group in self._places(theirs):
            mine: set[str] = set()
            for name, pack in group:
                first = found.setdefault(name, pack)
                if name in mine:
                    said = f"the pack {shown(name)} is a file and a folder too"
                    faults.append(_file_fault(pack.path, Code.DEFINED_TWICE, said, "one of them"))
                elif first.folder != pack.folder and first.folder in theirs and not _same(first, pack):
                    whose = "ships with the program" if first.shipped else "comes with a plugin"
                    said = f"a pack called {shown(name)} {whose}, and this one would be taken for it"
                    faults.append(
                        _file_fault(pack.path, Code.NAME_TAKEN, said, f"another name, and builds on: [{name}] in it")
                    )
                elif first is not pack and not _same(first, pack):
                    hidden[name] = (*hidden.get(name, ()), pack.path)
                mine.add(name)
        return _Found(found, tuple(faults), hidden)

    def _places(self, theirs: Sequence[Path]) -> Iterator[list[tuple[str, FoundPack]]]:
        """The packs of one place after another: what comes first stands."""
        for folder in theirs:
            ships = folder == self.shipped
            yield [(name, FoundPack(path, folder, ships, not ships)) for name, path in _packs_in(folder)]
        yield [(name, FoundPack(Path(f"{name}{SUFFIX}"), Path(), text=text)) for name, text in self.texts.items()]
        yield from ([(path.name.removesuffix(SUFFIX), FoundPack(path, path.parent))] for path in self.files)
        known = {folder.resolve() for folder in theirs}
        for folder in self.folders:
            if folder.resolve() not in known:
                yield [(name, FoundPack(path, folder)) for name, path in _packs_in(folder)]


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
        elif (
            name == entry.name
            and entry.is_dir()
            and any(file.name.endswith(SUFFIX) for file in _files_of(folder / name))
        ):
            yield name, folder / name


def _same(first: FoundPack, second: FoundPack) -> bool:
    """Whether two packs have the same files, to the byte."""
    one, other = ([(Path(label).name, raw) for label, raw in _read(pack)] for pack in (first, second))
    return one == other and all(isinstance(raw, bytes) for _, raw in one)


def _files_of(path: Path) -> list[Path]:
    """The files of a pack, and those of its tables: of one that is a folder all that lie in it, else those beside it
    whose names begin with its own."""
    if path.is_dir():
        return sorted(file for file in path.iterdir() if file.name.endswith((SUFFIX, TABLE)))
    start = f"{path.name.removesuffix(SUFFIX)}."
    try:
        beside = os.listdir(path.parent)
    except OSError:
        return [path]
    return [path, *sorted(path.parent / name for name in beside if name.startswith(start) and name.endswith(TABLE))]


def _read(found: FoundPack) -> Iterator[tuple[str, bytes | Fault]]:
    """The files of a pack, each with its label."""
    if found.text is not None:
        yield found.path.name, found.text
        return
    for path in _files_of(found.path):
        yield _label(path, found), _bytes(path, found.folder)


def _load(name: str, found: FoundPack) -> tuple[Pack | None, tuple[Fault, ...]]:
    read = list(_read(found))
    faults = tuple(raw for _, raw in read if isinstance(raw, Fault))
    if faults:
        return None, faults
    from specrules.pack.pack_reading import read_pack  # most runs have a plan of their packs, and read none

    pack, more = read_pack([(label, raw) for label, raw in read if isinstance(raw, bytes)])
    if pack is not None and pack.name != name:
        said = f"calls itself {shown(pack.name)}, and its file is called {name}"
        return None, (Fault(pack.head.name.place, "pack", Code.CONTRADICTION, said, f"name: {name}", "pack"),)
    return pack, more


def _label(path: Path, found: FoundPack) -> str:
    """What a fault calls the file: its place in its folder of packs, the same on every machine."""
    whose = "plugin's " if found.plugin else ""
    return f"{whose}{found.folder.name}/{path.relative_to(found.folder).as_posix()}"


def _bytes(path: Path, folder: Path) -> bytes | Fault:
    """A file's bytes, no more than a pack may have. Only a plain file that truly lies in its folder is read."""
    try:
        if not path.resolve(strict=True).is_relative_to(folder.resolve(strict=True)):
            return _file_fault(path, Code.UNREADABLE, "leads out of its folder of packs")
        if not S_ISREG(path.stat().st_mode):
            return _file_fault(path, Code.UNREADABLE, "is no plain file")
        return read(path, Budget().size + 1)
    except RuntimeError:  # what a link to itself was before it was an OSError
        return _file_fault(path, Code.UNREADABLE, "is a link that leads nowhere")
    except OSError as error:
        return _file_fault(path, Code.UNREADABLE, unreadable(error))


def _file_fault(path: Path, code: Code, said: str, write: str = "") -> Fault:
    return Fault(Place(f"{path.parent.name}/{path.name}".lstrip("/"), 0, 0), "", code, said, write, "file")


def _unknown(name: str, known: Sequence[str], kind: Kind) -> Fault:
    place = name.place if isinstance(name, Text) else NOWHERE
    if not PLAIN_NAME.fullmatch(name):
        said = f"{shown(name)} is no plain name for a pack"
        return Fault(place, "packs", Code.NOT_A_NAME, said, "its name only, no path", kind)
    said = f"{shown(name)} is no pack that was found"
    return Fault(place, "packs", Code.UNKNOWN_NAME, said, nearest(name, known) or ", ".join(sorted(known)), kind)


def _asked_by(name: str) -> Kind:
    """A name that stands somewhere was asked for by a sheet."""
    return "sheet" if isinstance(name, Text) else "pack"
