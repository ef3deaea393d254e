"""What a pack builds on: packs by their names, and of which versions."""

from __future__ import annotations

import operator
import re
from collections.abc import Callable, Mapping
from itertools import zip_longest
from typing import NamedTuple

from specrules.document import Fault, Text, placed, shown
from specrules.vocabulary import Code

Version = tuple[int, ...]

_ENTRY = re.compile(r"\s*([^\s<>=!]+)\s*(.*?)\s*")
_BOUND = re.compile(r"(<=|>=|==|<|>)\s*([0-9]{1,9}(?:\.[0-9]{1,9}){0,9})")
_NUMBERS = re.compile(r"[0-9]{1,9}(?:\.[0-9]{1,9}){0,9}")
_HOLDS: Mapping[str, Callable[[int, int], bool]] = {
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
    "==": operator.eq,
}


class Bound(NamedTuple):
    """One end of a range of versions: >= 1.1."""

    sign: str
    version: Version


class PackGround(NamedTuple):
    """A pack that another builds on, as it is written, and the versions that it may have; none: any."""

    name: Text
    written: Text
    bounds: tuple[Bound, ...] = ()

    def wrong(self, version: Text, file: str) -> Fault | None:
        """Why a version is none of these; None where it is, or any may be."""
        if not self.bounds:
            return None
        found = version_of(version)
        if found is None:
            said = f"wants {self.written}, and the version of {self.name}, {shown(version)}, is no number ({file})"
            return Fault(self.written.place, "pack builds on", Code.WRONG_VERSION, said, f"{self.name}", "pack")
        if all(_HOLDS[each.sign](_compared(found, each.version), 0) for each in self.bounds):
            return None
        said = f"wants {self.written}, and {self.name} is of version {version} ({file})"
        return Fault(
            self.written.place, "pack builds on", Code.WRONG_VERSION, said, f"{self.name} == {version}", "pack"
        )


def read_ground(written: Text) -> PackGround | Fault:
    """A pack's name with the range of its versions, such as general >= 1.1 and < 2; or what is wrong with it."""
    found = _ENTRY.fullmatch(written)
    name, rest = (found[1], found[2]) if found else (written, "")
    bounds = [_BOUND.fullmatch(part.strip()) for part in rest.split(" and ")] if rest else []
    if None in bounds:
        said = f"{shown(rest)} is no range of versions"
        at = placed(written, written.find(rest))
        return Fault(at, "pack builds on", Code.WRONG_RANGE, said, f"{name} >= 1.1 or {name} >= 1.1 and < 2", "pack")
    made = [Bound(each[1], _version(each[2])) for each in bounds if each is not None]
    return PackGround(Text(name, written.place, written.quoted, written.span), written, tuple(made))


def version_of(text: str) -> Version | None:
    """A version as numbers that can be compared, 1.10 being above 1.9; None for one that is no numbers with points."""
    return _version(text) if _NUMBERS.fullmatch(text) else None


def _version(text: str) -> Version:
    return tuple(map(int, text.split(".")))


def _compared(one: Version, other: Version) -> int:
    """-1, 0 or 1: below, the same, above. What is missing at the end is 0, so that 1 is 1.0."""
    pairs = list(zip_longest(one, other, fillvalue=0))
    left, right = [a for a, _ in pairs], [b for _, b in pairs]
    return (left > right) - (left < right)
