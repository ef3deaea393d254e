"""Text of a formula to tokens: numbers, words and signs, each with its offset. Knows no names and no units."""

from __future__ import annotations

import re
from typing import NamedTuple

from specrules.quantity import Refusal

LONGEST = 500
"""A formula is a line of algebra; more than this many characters is a mistake or an attack."""

_TOKEN = re.compile(
    r"(?P<number>(?:\d+\.?\d*|\.\d+)(?![.\d]))"
    r"|(?P<word>[A-Za-z_][A-Za-z0-9_]*)"
    r"|(?P<sign><=|>=|==|!=|[-+*/^()\[\],:<>=])"
    r"|(?P<space>[ \t]+)"
)
_KIND = {"number": "number", "word": "word", "sign": "sign"}
KEYWORDS = frozenset({"if", "else", "and", "or", "not"})


class Token(NamedTuple):
    """kind is "number", "word", "sign" or "end"; `at` and `end` are offsets into the text."""

    kind: str
    text: str
    at: int
    end: int


class Refused(Exception):
    """The parser's own: carries the refusal out of a deep call. Never leaves this room."""

    def __init__(self, said: str, write: str = "", at: int = 0) -> None:
        super().__init__(said)
        self.refusal = Refusal(said, write, at)


def tokens(text: str) -> list[Token]:
    """The tokens of a formula, an "end" token last. Raises Refused at the first character that belongs to none."""
    if len(text) > LONGEST:
        raise Refused(
            f"is {len(text)} characters long, more than the {LONGEST} that a formula may have",
            "a figure with a name of its own for a part of it",
            LONGEST,
        )
    found: list[Token] = []
    at = 0
    while at < len(text):
        match = _TOKEN.match(text, at)
        if match is None:
            raise Refused(*_stray(text, at), at)
        kind = match.lastgroup or ""
        if kind in _KIND:
            found.append(Token(kind, match.group(), at, match.end()))
        at = match.end()
    found.append(Token("end", "", len(text), len(text)))
    return found


def _stray(text: str, at: int) -> tuple[str, str]:
    """What is wrong with the character at this offset, and what to write."""
    character = text[at]
    if character.isdigit() or character == ".":
        return "has a number with two points", ""
    if character in "'\"":
        return "has a quotation mark; labels are written bare", text.replace(character, "").strip()
    if character == "%":
        return "has a percent sign; write the share as a number", "0.02 for 2 %"
    if not character.isascii():
        return f"has {character!r}, and a formula is plain letters", {
            "µ": "um",
            "μ": "um",
            "×": "*",
            "·": "*",
            "−": "-",
            "–": "-",
        }.get(character, "")
    return f"has {character!r}, which no formula needs", ""
