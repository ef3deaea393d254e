"""Text in the letters that a terminal's encoding has."""

from __future__ import annotations

import re

_PLAIN = dict(zip("●─├┤┼◄►µμ’‘“”–—−×", "o-||+<>uu''\"\"---x", strict=True)) | {
    "±": "+/-",
    "°": " deg",
    "½": "1/2",
    "…": "...",
    "→": "->",
    "²": "^2",
    "³": "^3",
}


def plain(text: str, encoding: str = "ascii") -> str:
    """The text in what a terminal's encoding can show; the blanks that follow make up for what grew."""
    if can_show(text, encoding):
        return text
    made = "".join(_shown(letter, encoding) for letter in text)
    grown = len(made) - len(text)
    return re.sub(rf"(?<=\S) {{{grown + 2},}}", lambda gap: gap.group()[grown:], made, count=1) if grown else made


def _shown(letter: str, encoding: str) -> str:
    if can_show(letter, encoding):
        return letter
    return _PLAIN.get(letter) or letter.encode("ascii", "backslashreplace").decode("ascii")


def can_show(text: str, encoding: str) -> bool:
    """Whether an encoding has every letter of a text."""
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return False
    return True
