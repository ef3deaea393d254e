"""Text from a file is data on its way out: nothing in it can steer a terminal, a page or a parser.

Controls, terminal escapes, bidirectional marks, line separators, lone surrogates and what XML 1.0 does not allow are
shown as visible escapes (XML 1.0, production 2; Unicode Standard Annex 9).
"""

from __future__ import annotations

import re

_UNSAFE = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f"  # C0 but tab and newline, delete, C1
    "\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb"  # marks that hide or turn text
    "\ud800-\udfff\ufffe\uffff"
    "\U000e0000-\U000e007f]"
)


def safe(text: str) -> str:
    """The text with everything that is not plain visible text written out; tabs and line breaks become blanks."""
    return _UNSAFE.sub(_written_out, text.replace("\t", " ").replace("\n", " "))


def _written_out(match: re.Match[str]) -> str:
    code = ord(match.group())
    return f"\\x{code:02x}" if code < 256 else f"\\u{code:04x}" if code < 65536 else f"\\U{code:08x}"


_PLAIN = str.maketrans(
    dict(zip("●─├┤┼◄►µμ’“”–—−×", 'o-||+<>uu\'""---x', strict=True))
    | {"±": "+/-", "°": " deg", "½": "1/2", "…": "...", "→": "->", "²": "^2", "³": "^3"}
)


def plain(text: str) -> str:
    """The text in ASCII, for a terminal whose encoding has no better."""
    return text.translate(_PLAIN).encode("ascii", "backslashreplace").decode("ascii")
