"""Plans kept between runs, in the user's cache folder. Any doubt about a kept plan means that there is none.

A cache that cannot be read or written is no fault: everything works without it, slower.
"""

from __future__ import annotations

import os
import stat
from pathlib import Path

from specrules.effects.files import NotWritten, WholeFile, own, read, remove

MOST_KEPT = 100
"""Plans in the folder; the oldest go first."""
LARGEST = 20_000_000
"""Bytes of one plan; a larger file is none of ours."""
SUFFIX = ".plan"


def user_cache() -> PlanCache | None:
    """The cache of whoever runs the program; None where they have no such folder."""
    from platformdirs import user_cache_path

    try:
        return PlanCache(user_cache_path("specrules", appauthor=False) / "plans")
    except (OSError, RuntimeError, KeyError):  # no home folder, or nobody's
        return None


def program_state() -> str:
    """What tells this program's code from the same version's under development: its files' sizes and times.

    Installed code changes with its version alone, and nothing is looked at.
    """
    root = Path(__file__).parent.parent
    if (root / "packs").is_dir():
        return ""
    files = [os.path.join(folder, name) for folder, _, names in os.walk(root) for name in names if name.endswith(".py")]
    states = ((os.stat(path), path) for path in sorted(files))
    return "\n".join(f"{path} {found.st_size} {found.st_mtime_ns}" for found, path in states)


class PlanCache:
    """Kept plans in one folder, which is its owner's alone."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def read(self, key: str) -> bytes | None:
        """What is kept under a key, as it lies there; None where nothing is that may be trusted to be ours."""
        try:
            kept = read(self._path(key), LARGEST + 1, private=True) if _private(self.folder) else None
        except OSError:
            return None
        return kept if kept is not None and len(kept) <= LARGEST else None

    def write(self, key: str, kept: bytes) -> None:
        """Keep a plan: whole or not at all, and in no one else's sight."""
        try:
            self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            path = self._path(key)
            if not _private(self.folder) or len(kept) > LARGEST or path.is_symlink():
                return
            with WholeFile(path, lambda _: "", mode=0o600, lasting=False) as file:
                file.write(kept)
            self._prune()
        except (OSError, NotWritten):
            return

    def _path(self, key: str) -> Path:
        return self.folder / f"{key}{SUFFIX}"

    def _prune(self) -> None:
        with os.scandir(self.folder) as entries:
            kept = [(entry.stat().st_mtime, entry.path) for entry in entries if entry.name.endswith(SUFFIX)]
        for _, path in sorted(kept)[:-MOST_KEPT]:
            remove(Path(path))


def _private(folder: Path) -> bool:
    """Whether a folder is a true one, its owner's, and no one else may look into it or write there."""
    found = os.lstat(folder)
    return stat.S_ISDIR(found.st_mode) and own(found) and (os.name == "nt" or not found.st_mode & 0o077)
