"""Why a written text was not taken: plain data, never an exception."""

from typing import NamedTuple

from specrules.vocabulary import Code


class Refusal(NamedTuple):
    """A text that was not taken. `said` goes on from the text ('has a comma'); `write` is the text to write
    instead, several joined by ' or ', empty when that cannot be known; `at` is the offset of the trouble."""

    code: Code
    said: str
    write: str = ""
    at: int = 0
