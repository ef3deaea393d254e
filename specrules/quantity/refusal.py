"""Why a written text was not taken: plain data, never an exception."""

from typing import NamedTuple


class Refusal(NamedTuple):
    """A text that was not taken. `said` goes on from the text ('has a comma'); `write` is the text to write
    instead, several joined by ' or ', empty when that cannot be known; `at` is the offset of the trouble; `once`
    names what the whole file leaves unsaid, where it is that and not this text that is wrong."""

    said: str
    write: str = ""
    at: int = 0
    once: str = ""
