"""The labels that one key of a sheet speaks of: `1`, `1 and 5`, `1 to 4`, `a-c`."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from specrules.formula import MOST_LABELS

_NUMBER = re.compile(r"[1-9][0-9]{0,3}")
_LETTER = re.compile(r"[a-z]")
_RUN = re.compile(r"(.+?)(?:\s*-\s*|\s*\.\.\s*|\s+to\s+)(.+)")
_PARTS = re.compile(r"\s*[,/&]\s*|\s+and\s+")


def picked(key: str, labels: Sequence[str]) -> tuple[str, ...]:
    """The labels that a key speaks of: one of them, `1 and 5`, `1 to 4`, `1-4`. Empty if there are others."""
    if key in labels:
        return (key,)
    found: list[str] = []
    for part in _PARTS.split(key):
        run = _RUN.fullmatch(part)
        if part in labels:
            found.append(part)
        elif run and run[1] in labels and run[2] in labels and labels.index(run[1]) < labels.index(run[2]):
            found.extend(labels[labels.index(run[1]) : labels.index(run[2]) + 1])
        else:
            return ()
    return tuple(found) if len(set(found)) == len(found) else ()


def numbers_in(key: str, letters: bool = False) -> Iterator[int]:
    """Whole numbers that a key names, such as 1 and 4 of `1-4`, or of `a-d` where labels are letters; none where it
    holds anything else."""
    ends: list[str] = []
    for part in _PARTS.split(key):
        run = _RUN.fullmatch(part)
        ends.extend(run.groups() if run else (part,))
    if letters:
        yield from (ord(end) - ord("a") + 1 for end in ends if all(map(_LETTER.fullmatch, ends)))
    elif all(_NUMBER.fullmatch(end) and int(end) <= MOST_LABELS for end in ends):
        yield from (int(end) for end in ends)
