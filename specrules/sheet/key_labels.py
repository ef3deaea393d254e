"""The labels that one key of a sheet speaks of: `1`, `1 and 5`, `1 to 4`, `a-c`, or a kind for all that are of it."""

import re
from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple

from specrules.formula import MOST_LABELS, Axis
from specrules.formula.axis_kinds import kind_of

_NUMBER = re.compile(r"[1-9][0-9]{0,3}")
_LETTER = re.compile(r"[a-z]")
_RUN = re.compile(r"(.+?)(?:\s*-\s*|\s*\.\.\s*|\s+to\s+)(.+)")
_PARTS = re.compile(r"\s*[,/&]\s*|\s+and\s+")


ABSENT = "does not apply"
"""What is said of a fact that counts a kind which the thing cannot have."""


class KindOfLabels(NamedTuple):
    """One kind on an axis: the fact that counts it, its labels, and how it is known that there are so many."""

    fact: str
    labels: tuple[str, ...]
    known: str  # "is 2", "is taken to be 1", ABSENT: it continues the fact


Kinds = Mapping[str, KindOfLabels]
NO_KINDS: Kinds = MappingProxyType({})


def picked(key: str, labels: Sequence[str], kinds: Kinds = NO_KINDS) -> tuple[str, ...]:
    """The labels that a key speaks of: one of them, `1 and 5`, `1 to 4`, `1-4`, a kind. Empty if there are others."""
    if key in labels:
        return (key,)
    found: list[str] = []
    for part in _PARTS.split(key):
        run = _RUN.fullmatch(part)
        if part in labels:
            found.append(part)
        elif part in kinds and kinds[part].labels:
            found.extend(kinds[part].labels)
        elif run and run[1] in labels and run[2] in labels and labels.index(run[1]) < labels.index(run[2]):
            found.extend(labels[labels.index(run[1]) : labels.index(run[2]) + 1])
        else:
            return ()
    return tuple(found) if len(set(found)) == len(found) else ()


def numbers_in(key: str, letters: bool = False) -> Iterator[int]:
    """Whole numbers that a key names, such as 1 and 4 of `1-4`, or of `a-d` where labels are letters; none where it
    holds anything else."""
    if not letters and _NUMBER.fullmatch(key):  # as most are
        yield from (number for number in (int(key),) if number <= MOST_LABELS)
        return
    ends: list[str] = []
    for part in _PARTS.split(key):
        run = _RUN.fullmatch(part)
        ends.extend(run.groups() if run else (part,))
    if letters:
        yield from (ord(end) - ord("a") + 1 for end in ends if all(map(_LETTER.fullmatch, ends)))
    elif all(_NUMBER.fullmatch(end) and int(end) <= MOST_LABELS for end in ends):
        yield from (int(end) for end in ends)


def kinds_in(key: str, axis: Axis) -> Iterator[tuple[str, int]]:
    """The labels of kinds that a key names: each kind with a label's number, 1 for the kind alone."""
    for part in _PARTS.split(key):
        run = _RUN.fullmatch(part)
        for kind, number in (kind_of(end, axis.names) for end in (run.groups() if run else (part,))):
            if kind and number <= MOST_LABELS:
                yield kind, number or 1
