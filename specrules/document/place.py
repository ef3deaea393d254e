"""Where something stands in a file, and what is wrong there."""

from typing import Literal, NamedTuple

Kind = Literal["sheet", "pack", "plugin", "file", "program"]
"""What is at fault. "file": one that could not be read; "program": none that was given, but the program itself."""


class Place(NamedTuple):
    """A place as an editor counts it: lines and characters from 1 (a byte order mark is no character)."""

    file: str
    line: int
    column: int


class Fault(NamedTuple):
    """Something wrong in what was given. `write` is what to write instead, "" where that cannot be known.

    `once` names a slip of the whole file, which is told of at the first place that shows it; "" for any other.
    """

    place: Place
    subject: str
    said: str
    write: str = ""
    kind: Kind = "sheet"
    once: str = ""

    def sentence(self) -> str:
        """One sentence for a reader: where, about what, what is wrong, what to write."""
        where = [self.place.file, f"line {self.place.line}" if self.place.line else "", self.subject]
        head = ", ".join(part for part in where if part)
        tail = f"; write {self.write}" if self.write else ""
        return f"{head}: {self.said}{tail}."
