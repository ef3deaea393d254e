"""Waiting for files to change, by looking at them now and then."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import suppress
from pathlib import Path

PAUSE = 0.01
"""Seconds between two looks."""

State = Mapping[Path, tuple[int, int]]


def changes(paths: Callable[[], Iterable[Path]], wait: Callable[[float], None] = time.sleep) -> Iterator[None]:
    """One step at once, then one whenever a file of these changed, came or went since the step before began.

    A change while the step is worked on counts. It ends when nobody asks any more.
    """
    while True:
        seen = state_of(paths())
        yield
        while state_of(paths()) == seen:
            wait(PAUSE)


def state_of(paths: Iterable[Path]) -> State:
    """When each of these files was written, and how large it is; one that is not there is left out."""
    found: dict[Path, tuple[int, int]] = {}
    for path in paths:
        with suppress(OSError):
            told = os.stat(path)
            found[path] = (told.st_mtime_ns, told.st_size)
    return found
