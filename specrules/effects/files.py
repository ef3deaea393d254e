"""Every effect on files: one is read, created new, replaced or removed here, and nowhere else.

A file is written whole or not at all: beside its place first, and then put there. What is there already goes only where
whoever writes says that it may, and is otherwise left alone, even where it came while the new one was being made.

Whoever is killed leaves `.specrules-….tmp`; a day later the next run that writes in the folder removes it. A pipe is
read where somebody has it open to write, and is otherwise at fault at once.
"""

from __future__ import annotations

import errno
import os
import stat
import sys
import time
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from tempfile import TemporaryDirectory
from types import TracebackType

from specrules.document import Budget, Fault, Place
from specrules.effects.locks import StillLocked, patiently, turn_at
from specrules.quantity import nearest
from specrules.vocabulary import Code

STANDARD_INPUT = Path("-")
"""What stands for the standard input, wherever a file to be read is named."""
STALE = 24 * 3600
"""Seconds after which a file that was being written, and whose writer was killed, is removed."""
_PARTIAL = (".specrules-", ".tmp")
_WITHOUT_LINKS = (errno.EPERM, errno.EACCES, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK, errno.EINVAL)
"""What a file system says that has no hard links."""

Spared = Callable[[Path], str]
"""Why the file at a path is left alone, as a sentence goes on after its name; "" where it may be replaced."""


class NotWritten(Exception):
    """A file was not written, and what was there is as it was. The text is a sentence without its full stop."""


class LeftAlone(NotWritten):
    """A file was not written because of what is there."""


def read_bytes(path: Path, name: str) -> bytes | Fault:
    """A file's bytes, no more than a sheet may have; a fault where there are none to be had."""
    try:
        source = read(path, Budget().size + 1)
        if source.strip():
            return source
        write = "specrules: build-sheet/1 at its head, or start one with specrules sheet new"
        return Fault(Place(name, 1, 1), "", Code.EMPTY_FILE, "the file is empty", write, "sheet")
    except OSError as error:
        offered = nearest(path.name, _beside(path)) if isinstance(error, FileNotFoundError) else None
        return Fault(Place(name, 0, 0), "", Code.UNREADABLE, unreadable(error), offered or "", "file")


def unreadable(error: OSError) -> str:
    """What is said of a file that cannot be read."""
    return f"cannot be read: {why(error)}"


def why(error: OSError) -> str:
    """What the system says of a failure, as a sentence goes on after a colon."""
    return (error.strerror or "unknown cause").lower()


def read(path: Path, most: int, private: bool = False, plain: bool = False) -> bytes:
    """No more than so many bytes of a file, of the standard input, or of a pipe that somebody writes into.

    plain: only of a plain file, and through no link. private: and only of one that is this user's own. Raises OSError,
    and waits for nobody to open the other end of a pipe.
    """
    plain = plain or private
    if path == STANDARD_INPUT and not plain:
        return sys.stdin.buffer.read(most)
    further = getattr(os, "O_NONBLOCK", 0) | (getattr(os, "O_NOFOLLOW", 0) if plain else 0)
    with open(path, "rb", opener=lambda name, flags: patiently(lambda: os.open(name, flags | further))) as file:
        found, first = os.fstat(file.fileno()), b""
        if plain and not (stat.S_ISREG(found.st_mode) and (own(found) or not private)):
            raise OSError(errno.EPERM, "no file of one's own" if private else "no plain file")
        if stat.S_ISFIFO(found.st_mode):
            got = file.raw.read(most)
            if got == b"":
                raise OSError(errno.ENXIO, "a pipe into which nobody writes")
            first = got or b""
            if further:
                os.set_blocking(file.fileno(), True)
        elif not stat.S_ISREG(found.st_mode):
            raise OSError(errno.EINVAL, "a device and no file")
        return first + file.read(most - len(first))


def own(found: os.stat_result) -> bool:
    """Whether a file is that of whoever runs the program."""
    return not hasattr(os, "geteuid") or found.st_uid == os.geteuid()


def to_be_free(path: Path) -> None:
    """Raise LeftAlone where anything is at a path, be it a link that leads nowhere."""
    if os.path.lexists(path):
        raise LeftAlone(f"{path} {_there(path)}")


def create(path: Path, text: str) -> None:
    """Write a new file, in UTF-8. Raises NotWritten where anything is there, even since a moment ago."""
    to_be_free(path)
    with WholeFile(path, _there) as file:
        file.write(text.encode("utf-8"))


@contextmanager
def laid_out(files: Mapping[str, str]) -> Iterator[Path]:
    """A folder with these texts in it, by their paths there, for as long as it is looked at."""
    with TemporaryDirectory(prefix="specrules-") as folder:
        for path, text in files.items():
            create(Path(folder) / path, text)
        yield Path(folder)


@contextmanager
def rewriting(path: Path) -> Iterator[None]:
    """A turn at a file, from its last reading to `rewrite`: nobody else who asks for one can write it meanwhile. Raises
    NotWritten where another run of the program keeps it, or there is no file."""
    with ExitStack() as turn:
        try:
            turn.enter_context(turn_at(path))
        except StillLocked as locked:
            raise NotWritten(f"{path} is being written by another run of specrules; try again") from locked
        except OSError as error:
            raise NotWritten(f"{path} cannot be written: {why(error)}") from error
        yield


def rewrite(path: Path, before: bytes, after: bytes) -> None:
    """Write a file anew that still holds `before`. Raises NotWritten where it holds anything else, written by
    a program that asks for no turn."""

    def spared(there: Path) -> str:
        same = os.path.isfile(there) and read(there, len(before) + 1) == before
        return "" if same else "has changed since it was read, so it is left alone; try again"

    with WholeFile(path, spared) as file:
        file.write(after)


def remove(path: Path) -> None:
    """Remove a file; one that is gone already, or cannot be removed, is no matter."""
    with suppress(OSError):
        os.unlink(path)


def remove_stale(folder: Path) -> None:
    """Remove what writers that were killed left behind in a folder a good while ago."""
    with suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            if entry.name.startswith(_PARTIAL[0]) and entry.name.endswith(_PARTIAL[1]):
                found = entry.stat(follow_symlinks=False)
                if stat.S_ISREG(found.st_mode) and own(found) and found.st_mtime < time.time() - STALE:
                    remove(Path(entry.path))


def unless_ours(marks: Collection[str], inputs: Callable[[], Iterable[Path]], replace: bool) -> Spared:
    """What a report may replace: files that begin with one of these marks, and empty ones; with `replace`, any other.

    Never one that the run reads, by whatever name it is called: files are told apart by what they are on the disk.
    """
    begin = tuple(mark.encode("utf-8") for mark in marks)

    def spared(path: Path) -> str:
        if not os.path.isfile(path):
            return ""
        found = os.stat(path)
        for each in inputs():
            with suppress(OSError):
                if os.path.samestat(found, os.stat(0 if each == STANDARD_INPUT else each)):
                    return f"is the file that this run reads as {each}, so it is left alone; give another name"
        if not found.st_mode & 0o222:
            return "is read-only, so it is left alone; give another name"
        if not found.st_size or replace:
            return ""
        if read(path, max(map(len, begin), default=0)).startswith(begin):
            return ""
        return "is there already and is no report of this program, so it is left alone; give another name, or --replace"

    return spared


class WholeFile:
    """A file that is written piece by piece, and whole or not at all.

    What is written stands beside its true place first, then is put in its stead with its own mode, or there where
    nothing is. Without a piece nothing happens. What is no plain file, a device or a pipe, is written into and never
    replaced. `spared` is asked before the first piece and once more at the end. `head` stands before the first piece;
    `lasting`: whether the file is to outlive a failure of power.
    """

    def __init__(self, path: Path, spared: Spared, head: bytes = b"", mode: int = 0o666, lasting: bool = True) -> None:
        self.path = path
        self.written = False
        self._spared, self._head, self._mode, self._lasting = spared, head, mode, lasting
        self._target, self._beside = path, Path()
        self._handle = -1

    def __enter__(self) -> WholeFile:
        self._trying(self._look)
        return self

    def write(self, data: bytes) -> None:
        """One more piece."""
        self._trying(lambda: self._write(data))

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        if self._handle < 0:
            return
        try:
            self._trying(lambda: self._finish(whole=kind is None))
        finally:
            if self._beside.name:
                remove(self._beside)

    def _look(self) -> None:
        self._target = Path(os.path.realpath(self.path))  # from now on: what is looked at is what will be replaced
        self._ask()

    def _ask(self) -> None:
        if os.path.lexists(self._target) and (said := self._spared(self._target)):
            raise LeftAlone(f"{self.path} {said}")

    def _write(self, data: bytes) -> None:
        if self._handle < 0:
            self._handle = self._opened()
            data = self._head + data
        rest = memoryview(data)
        while rest:
            rest = rest[os.write(self._handle, rest) :]

    def _opened(self) -> int:
        if os.path.exists(self.path) and not os.path.isfile(self.path):
            return os.open(self.path, os.O_WRONLY | getattr(os, "O_BINARY", 0))
        folder = self._target.parent
        folder.mkdir(parents=True, exist_ok=True)
        remove_stale(folder)
        self._beside = folder / os.urandom(8).hex().join(_PARTIAL)
        new = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
        return os.open(self._beside, new, 0o600 if self._target.exists() else self._mode)

    def _finish(self, whole: bool) -> None:
        try:
            if whole and self._beside.name and self._lasting:
                os.fsync(self._handle)
        finally:
            os.close(self._handle)
        if whole and self._beside.name:
            self._put()
            if self._lasting:
                _keep_entry(self._target.parent)
        self.written = whole

    def _put(self) -> None:
        while True:
            with suppress(FileNotFoundError):
                found = os.stat(self._target)
                self._ask()
                _make_like(self._beside, found)
                patiently(lambda: os.replace(self._beside, self._target))
                return
            with suppress(FileExistsError):
                _put_where_nothing_is(self._beside, self._target)
                return

    def _trying(self, effect: Callable[[], None]) -> None:
        try:
            effect()
        except OSError as error:
            raise NotWritten(f"{self.path} cannot be written: {why(error)}") from error


def _there(_path: Path) -> str:
    return "is there already and is left alone; give another name or folder"


def _make_like(path: Path, other: os.stat_result) -> None:
    """Give a file another's owner, where that may be, and mode."""
    made = os.stat(path)
    if (other.st_uid, other.st_gid) != (made.st_uid, made.st_gid):
        with suppress(OSError):
            os.chown(path, other.st_uid, other.st_gid)
    os.chmod(path, stat.S_IMODE(other.st_mode))


def _put_where_nothing_is(beside: Path, target: Path) -> None:
    """Move a file to a name that is free. Raises FileExistsError where it is not, and then nothing was done."""
    try:
        os.link(beside, target)
    except OSError as error:
        if error.errno not in _WITHOUT_LINKS:
            raise
        # whoever is killed between these two lines leaves an empty file, which the next one may replace
        os.close(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
        os.replace(beside, target)


def _keep_entry(folder: Path) -> None:
    """Have a folder's entries outlive a failure of power, on systems that know how to."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _beside(path: Path) -> list[str]:
    """The YAML files where a file was looked for."""
    try:
        return sorted(each.name for each in path.parent.glob("*.yaml"))
    except OSError:
        return []
