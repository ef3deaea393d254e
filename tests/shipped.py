"""The packs that ship, read once for all tests, with their worked examples."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from specrules.effects.pack_files import PackFiles
from specrules.pack import Specification
from specrules.pack.pack_reading import Pack
from specrules.pack.resolving import resolve
from specrules.plugins import plug

RULED = ("general", "street", "towing", "racing")
"""Those with rules, from the one that all build on to the narrowest."""
SHIPPED = (*RULED, "teaching")


@cache
def _read() -> dict[str, Pack]:
    packs, faults = PackFiles().load(SHIPPED)
    assert not faults, [fault.sentence() for fault in faults]
    return {str(pack.name): pack for pack in packs}


@cache
def packs(*names: str) -> tuple[Pack, ...]:
    """The packs of these names and all that they build on, each once, those asked for first."""
    return tuple(_read()[name] for name in dict.fromkeys(_with_below(*names)))


def _with_below(*names: str) -> Iterator[str]:
    yield from names
    for name in names:
        yield from _with_below(*map(str, _read()[name].builds_on))


@cache
def resolved(*names: str) -> Specification:
    """The specification of the packs of these names, with the program's own functions."""
    made, faults = resolve(packs(*names), names, plug().functions)
    assert made is not None, [fault.sentence() for fault in faults]
    return made
