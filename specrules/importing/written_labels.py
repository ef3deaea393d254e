"""Labels as shops write them: Main 3, #3, No. 3, Cyl. 3, Front. What is not surely one label is none."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from specrules.quantity.letters import fold

FEWEST_LETTERS = 3
"""So many letters of an axis's name stand for it, with or without a full stop."""

_NUMBERED = re.compile(r"(?:#|no\.?|nr\.?|number)\s*(?=[0-9])")
_NOUGHTS = re.compile(r"0+(?=[0-9])")


def plain(text: str) -> str:
    """A heading or label as it is compared: case, blanks, underscores and look-alike letters do not tell it apart."""
    return " ".join(fold(text).casefold().replace("_", " ").split())


def label_meant(text: str, axis: str, labels: Sequence[str], said: Mapping[str, str]) -> str | None:
    """The label of an axis that a text is: the map's word first, then a label itself, with or without the axis's name
    and a number sign before it. None where it is none, or might be two."""
    word = plain(text)
    told = {plain(each): str(label) for each, label in said.items()}
    if word in told:
        return told[word]
    known: dict[str, list[str]] = {}
    for label in labels:
        known.setdefault(plain(label), []).append(label)
    for candidate in _candidates(word, plain(axis)):
        if len(found := known.get(candidate, [])) == 1:
            return found[0]
    return None


def _candidates(word: str, axis: str) -> list[str]:
    """The text itself; without the axis's name before it; without a number sign and noughts."""
    found = [word]
    first, _, rest = word.partition(" ")
    if not rest:  # Cyl3, Main#3
        cut = re.match(r"[a-z]+\.?(?=[#0-9])", word)
        first, rest = (cut.group(), word[cut.end() :]) if cut else (first, rest)
    if word.startswith(f"{axis} "):
        found.append(word[len(axis) + 1 :])
    elif rest and names_axis(first, axis):
        found.append(rest.strip())
    return [*found, *(_NOUGHTS.sub("", _NUMBERED.sub("", each)) for each in found)]


def names_axis(word: str, axis: str) -> bool:
    """Whether a word is an axis's name, both as `plain` leaves them: whole, of several, or its first letters."""
    word = word.removesuffix(".")
    return word in (axis, f"{axis}s") or (len(word) >= FEWEST_LETTERS and axis.startswith(word))
