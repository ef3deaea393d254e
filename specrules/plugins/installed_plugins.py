"""Which plugins are installed: entry points of our group, found where packages are installed and nowhere else.

Reading what is installed takes longer than an inspection does, so a quick look comes first: whether any installed
package names our group at all.
"""

import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import NamedTuple

from specrules.plugins.hookspecs import GROUP


class Found(NamedTuple):
    """One entry point: how it is called, what it names, and how its object is loaded (it may raise anything)."""

    name: str
    distribution: str
    version: str
    value: str
    load: Callable[[], object]

    def __str__(self) -> str:
        return f"plugin {self.name} of {self.distribution} {self.version}"


def search_path() -> tuple[str, ...]:
    """Where packages are installed, each place once. What Python puts first by itself is left out: it is the folder of
    the script or the one the program is run in, and that may be where the sheets lie."""
    places = sys.path if sys.flags.safe_path else sys.path[1:]
    return tuple({os.path.realpath(place): place for place in reversed(places) if place}.values())[::-1]


def installed(path: Sequence[str] | None = None) -> tuple[Found, ...]:
    """Every plugin that is installed, in an order that does not change with the machine; nothing is loaded yet."""
    places = search_path() if path is None else path
    if not any(map(_names_our_group, places)):
        return ()
    from importlib.metadata import distributions

    found = [
        Found(entry.name, each.metadata["Name"] or "", each.version or "", entry.value, _loader(entry.load, places))
        for each in distributions(path=list(places))
        for entry in each.entry_points
        if entry.group == GROUP
    ]
    return tuple(sorted(found, key=lambda each: each[:4]))


def _names_our_group(place: str) -> bool:
    """Whether anything installed in that folder may name our group; an archive is not looked into."""
    try:
        with os.scandir(place) as entries:
            return any(_names_it(entry) for entry in entries)
    except OSError:
        return os.path.isfile(place)


def _names_it(entry: os.DirEntry[str]) -> bool:
    if not entry.name.endswith((".dist-info", ".egg-info")):
        return False
    try:
        with open(os.path.join(entry.path, "entry_points.txt"), "rb") as file:
            return f"[{GROUP}]".encode() in file.read()
    except OSError:
        return False


def _loader(load: Callable[[], object], places: Sequence[str]) -> Callable[[], object]:
    def from_there() -> object:
        with _only(places):
            return load()

    return from_there


@contextmanager
def _only(places: Sequence[str]) -> Iterator[None]:
    """Import from these places alone."""
    before = list(sys.path)
    sys.path[:] = places
    try:
        yield
    finally:
        sys.path[:] = before
