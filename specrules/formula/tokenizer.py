"""Text of a formula to tokens: numbers, words and signs, each with its offset. Knows no names and no units."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import NamedTuple

from specrules.quantity import Refusal
from specrules.vocabulary import Code

LONGEST = 500
"""A formula is a line of algebra; more than this many characters is a mistake or an attack."""
MOST_TOKENS = 200
"""As many words and signs as 500 characters of algebra have; it bounds how deep a tree can become."""
KEYWORDS = frozenset({"if", "else", "and", "or", "not"})

_TOKEN = re.compile(
    r"(\s*)((?:\d+\.?\d*|\.\d+)(?![.\d])|[A-Za-z_]\w*|<=|>=|==|!=|[-+*/^()\[\],:<>=])",
    re.ASCII,  # a digit or a letter of another script is a stray
)
_INSTEAD = {"µ": "um", "μ": "um", "×": "*", "·": "*", "⋅": "*", "÷": "/", "−": "-", "–": "-", "²": "^2", "³": "^3"}
_INSTEAD |= {"≤": "<=", "≥": ">=", "≠": "!=", "π": "pi", "√": "sqrt(...)", "°": "deg", "½": "0.5", "″": "in"}
_INSTEAD |= {"&": "and", "|": "or", "!": "not", "{": "(", "}": ")", ";": ",", "?": "x if condition else y"}
_NUMBER_STARTS = frozenset("0123456789.")


class Tokens(NamedTuple):
    """The tokens of a text and the offset of each. The last is the end, an empty text."""

    texts: list[str]
    starts: list[int]


class Refused(Exception):
    """The parser's own: carries the refusal out of a deep call. Never leaves this room."""

    def __init__(self, code: Code, said: str, write: str = "", at: int = 0) -> None:
        super().__init__(said)
        self.refusal = Refusal(code, said, write, at)


def tokens(text: str) -> Tokens:
    """The tokens of a formula. Raises Refused at the first character that belongs to none."""
    if len(text) > LONGEST:
        too_long = f"is {len(text)} characters long, more than the {LONGEST} that a formula may have"
        raise Refused(Code.TOO_LONG, too_long, "a figure with a name of its own for a part of it", LONGEST)
    found = _TOKEN.findall(text)
    starts: list[int] = []
    at = 0
    for space, token in found:
        at += len(space)
        starts.append(at)
        at += len(token)
    if at != len(text.rstrip()):  # findall goes on past what it cannot match
        raise _stray(text)
    if len(found) > MOST_TOKENS:
        too_many = f"has more than {MOST_TOKENS} words and signs"
        raise Refused(Code.TOO_LONG, too_many, "a figure with a name of its own for a part of it", starts[MOST_TOKENS])
    for token, start in zip((token for _, token in found), starts, strict=True):
        if token[:1] == "0" and token[1:2].isdigit():
            raise Refused(Code.MISWRITTEN_NUMBER, *_noughts(token), start)
    starts.append(len(text))
    return Tokens([*[token for _, token in found], ""], starts)


def is_number(token: str) -> bool:
    """Whether a token is a number."""
    return token[:1] in _NUMBER_STARTS


def is_word(token: str) -> bool:
    """Whether a token is a word that may be a name, a unit or a label."""
    return token.isidentifier() and token not in KEYWORDS


def _noughts(token: str) -> tuple[str, str]:
    """What is wrong with a number that starts with noughts, and what it may be."""
    if "." not in token:
        return f"has {token}, which starts with a nought and has no point", f"0.{token[1:]} or 0.0{token[1:]}"
    digits = token.lstrip("0")
    return f"has {token}, which starts with noughts", f"0{digits}" if digits.startswith(".") else digits


def _stray(text: str) -> Refused:
    """What is wrong with the first character that belongs to no token, and what to write."""
    at = 0
    while match := _TOKEN.match(text, at):
        at = match.end()
    at += len(text[at:]) - len(text[at:].lstrip())
    character = text[at]
    if character in _NUMBER_STARTS:
        points = re.match(r"[\d.]*", text[at:], re.ASCII)
        two = points is not None and points[0] != "."
        said = "has a number with two points" if two else "has a point that belongs to no number"
        return Refused(Code.MISWRITTEN_NUMBER, said, "", at)
    if character in "'\"`":
        bare = re.sub(r"""(['"`])(\w+)\1""", r"\2", text)
        said = "has a quotation mark; labels are written bare"
        return Refused(Code.UNWANTED_CHARACTER, said, bare if character not in bare else "", at)
    if character == "%":
        share = re.search(r"\d{0,9}\.?\d{1,9}\s*$", text[:at], re.ASCII)
        said = "has a percent sign"
        return Refused(Code.UNWANTED_CHARACTER, said, f"{Decimal(share[0]) / 100:f}" if share else "", at)
    if character.isascii():
        said = f"has {character!r}, which no formula needs"
        return Refused(Code.UNWANTED_CHARACTER, said, _INSTEAD.get(character, ""), at)
    said = f"has {character!r}, and a formula is plain letters"
    return Refused(Code.UNWANTED_CHARACTER, said, _INSTEAD.get(character, ""), at)
