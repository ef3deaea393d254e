"""Files that a person names: read with their faults, written whole or not at all."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from specrules.document import Budget, Fault, Place
from specrules.quantity import nearest


def read_bytes(path: Path, name: str) -> bytes | Fault:
    """A file's bytes, no more than a sheet may have; a fault where there are none to be had."""
    try:
        with path.open("rb") as file:
            source = file.read(Budget().size + 1)
        if source.strip():
            return source
        write = "specrules: build-sheet/1 at its head, or start one with specrules sheet new"
        return Fault(Place(name, 1, 1), "", "the file is empty", write, "sheet")
    except OSError as error:
        offered = nearest(path.name, _beside(path)) if isinstance(error, FileNotFoundError) else None
        return Fault(Place(name, 0, 0), "", unreadable(error), offered or "", "file")


def write_file(path: Path, text: str) -> None:
    """Write a file whole or not at all: beside its true place first, then put in its stead, with its own mode.

    What is there and is no plain file, a device or a pipe, is written into and never replaced. Raises OSError where it
    cannot be written.
    """
    from tempfile import mkstemp

    target = Path(os.path.realpath(path))
    if target.exists() and not target.is_file():
        target.write_bytes(text.encode("utf-8"))
        return
    target.parent.mkdir(parents=True, exist_ok=True)
    handle, beside = mkstemp(dir=target.parent, prefix=f".{target.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(text.encode("utf-8"))
            file.flush()
            os.fsync(file.fileno())
        os.chmod(beside, target.stat().st_mode & 0o7777 if target.exists() else 0o666 & ~_umask())
        os.replace(beside, target)
    except OSError:
        with suppress(OSError):
            os.unlink(beside)
        raise


def unreadable(error: OSError) -> str:
    """What is said of a file that cannot be read."""
    return f"cannot be read: {cause(error)}"


def cause(error: OSError) -> str:
    """Why something cannot be done, in the system's words."""
    return (error.strerror or "unknown cause").lower()


def _beside(path: Path) -> list[str]:
    """The YAML files where a file was looked for."""
    try:
        return sorted(each.name for each in path.parent.glob("*.yaml"))
    except OSError:
        return []


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
