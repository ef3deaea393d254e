"""Taking turns at one file: who changes it from what it holds keeps others out for so long.

It holds among runs of this program. Another program's write is noticed, not kept out: see `files.rewrite`.

The lock is the file's own, looked at once more since files are replaced; on Windows, where an open file cannot be, a
file beside it that goes with the process. Between the last look and the replacement, some microseconds, another
program's write can still be lost. On a file system without locks nobody waits.
"""

from __future__ import annotations

import errno
import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TypeVar

try:
    from fcntl import LOCK_EX, LOCK_NB, flock
except ImportError:  # Windows has no such locks
    flock = None  # type: ignore[assignment]

PATIENCE = 5.0
"""Seconds that one waits for a turn, or for a file that another program has open."""
PAUSE = 0.02
"""Seconds between two tries."""
ABANDONED = 60.0
"""Seconds after which a lock that is a file of its own is nobody's: no turn takes so long."""
KEEPS_OPEN_FILES = os.name == "nt"
"""Windows neither opens nor replaces a file that another program just holds open, an editor or a scanner."""
_NO_LOCKS = (errno.ENOLCK, errno.EOPNOTSUPP, errno.ENOSYS, errno.EINVAL, errno.EBADF)
"""What a file system says that has no locks."""

Result = TypeVar("Result")


class StillLocked(Exception):
    """Another run of the program did not let go of a file for `PATIENCE` seconds."""


@contextmanager
def turn_at(path: Path) -> Iterator[None]:
    """Keep every other run that asks for its turn at this file waiting. Raises StillLocked, OSError.

    The lock is the file's own. Since a file is replaced by another one, whoever gets the lock looks whether it is still
    the file at the path. Where there are no such locks, it is a file beside it that goes with the process. On a file
    system that has none at all, nobody waits.
    """
    target = Path(os.path.realpath(path))
    held = _beside(target) if flock is None else _own(target)
    try:
        yield
    finally:
        os.close(held)
        if flock is None:
            with suppress(OSError):  # gone already where the system removes it, and taken by the next one
                os.unlink(_lock_file(target))


def patiently(effect: Callable[[], Result], until: float = PATIENCE) -> Result:
    """What an effect on a file comes to; tried anew for a while where the system refuses what another program holds."""
    end = time.monotonic() + until
    while True:
        try:
            return effect()
        except PermissionError:
            if not KEEPS_OPEN_FILES or time.monotonic() > end:
                raise
        time.sleep(PAUSE)


def _own(target: Path) -> int:
    """The file itself, locked, and still there."""
    end = time.monotonic() + PATIENCE
    while True:
        handle = os.open(target, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
        try:
            flock(handle, LOCK_EX | LOCK_NB)
            if os.path.samestat(os.fstat(handle), os.stat(target)):
                return handle
        except BlockingIOError:
            pass
        except OSError as error:
            if error.errno in _NO_LOCKS:
                return handle
            os.close(handle)
            raise
        os.close(handle)
        _wait(end)


def _beside(target: Path) -> int:
    """A new file beside it, which the system removes when its holder closes it or is killed."""
    path, end = _lock_file(target), time.monotonic() + PATIENCE
    flags = os.O_CREAT | os.O_EXCL | os.O_RDWR | getattr(os, "O_TEMPORARY", 0)
    while True:
        with suppress(FileExistsError):
            return patiently(lambda: os.open(path, flags, 0o600))
        with suppress(OSError):
            if time.time() - path.stat().st_mtime > ABANDONED:  # left there when the power failed
                path.unlink()
        _wait(end)


def _wait(end: float) -> None:
    if time.monotonic() > end:
        raise StillLocked
    time.sleep(PAUSE)


def _lock_file(target: Path) -> Path:
    return target.with_name(f".specrules-{target.name}.lock")
