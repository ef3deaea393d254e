"""Files that a person names, read with their faults."""

from __future__ import annotations

from pathlib import Path

from specrules.document import Budget, Fault, Place
from specrules.quantity import nearest
from specrules.vocabulary import Code


def read_bytes(path: Path, name: str) -> bytes | Fault:
    """A file's bytes, no more than a sheet may have; a fault where there are none to be had."""
    try:
        with path.open("rb") as file:
            source = file.read(Budget().size + 1)
        if source.strip():
            return source
        write = "specrules: build-sheet/1 at its head, or start one with specrules sheet new"
        return Fault(Place(name, 1, 1), "", Code.EMPTY_FILE, "the file is empty", write, "sheet")
    except OSError as error:
        offered = nearest(path.name, _beside(path)) if isinstance(error, FileNotFoundError) else None
        return Fault(Place(name, 0, 0), "", Code.UNREADABLE, unreadable(error), offered or "", "file")


def unreadable(error: OSError) -> str:
    """What is said of a file that cannot be read."""
    return f"cannot be read: {(error.strerror or 'unknown cause').lower()}"


def _beside(path: Path) -> list[str]:
    """The YAML files where a file was looked for."""
    try:
        return sorted(each.name for each in path.parent.glob("*.yaml"))
    except OSError:
        return []
