"""Where something stands in a file, and what is wrong there."""

from typing import Literal, NamedTuple

from specrules.vocabulary import Code

Kind = Literal["sheet", "pack", "plugin", "file", "program", "picture"]
"""What is at fault. "file": one that could not be read; "program": none that was given, but the program itself."""

MOST_FAULTS = 100
"""Nobody reads more at once, and a hostile file could have a million."""


class Place(NamedTuple):
    """A place as an editor counts it: lines and characters from 1 (a byte order mark is no character)."""

    file: str
    line: int
    column: int

    def moved(self, down: int) -> "Place":
        """The place so many lines further down."""
        return Place(self.file, self.line + down, self.column) if down else self


class Fault(NamedTuple):
    """Something wrong in what was given: its kind as a code, and in words.

    `write` is what to write instead, "" where that cannot be known.
    """

    place: Place
    subject: str
    code: Code
    said: str
    write: str = ""
    kind: Kind = "sheet"

    def sentence(self) -> str:
        """One sentence for a reader: where, about what, what is wrong, what to write."""
        return sentence(self.place, self.subject, self.said, self.write)


def sentence(place: Place, subject: str, said: str, write: str = "") -> str:
    """One sentence for a reader: where, about what, what there is to say, what to write."""
    where = [place.file, f"line {place.line}" if place.line else "", subject]
    head = ", ".join(part for part in where if part)
    tail = f"; write {write}" if write else ""
    return f"{head}: {said}{tail}."
