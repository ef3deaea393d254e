"""Text from a file is data on its way out: nothing in it can steer a terminal, a page or a parser.

Controls, terminal escapes, bidirectional marks, line separators, lone surrogates and what XML 1.0 does not allow are
shown as visible escapes (XML 1.0, production 2; Unicode Standard Annex 9).
"""

from __future__ import annotations

import json
import re

_UNSAFE = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f"  # C0 but tab and newline, delete, C1
    "\u00ad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b-\u200f\u2028-\u202e\u2060-\u206f\u3164\ufeff\uffa0"
    "\ufff9-\ufffb"  # marks that hide or turn text, and fillers that look like nothing
    "\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff"
    "\U00013430-\U0001345f\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e0fff]"
)


def safe(text: str) -> str:
    """The text with everything that is not plain visible text written out; tabs and line breaks become blanks."""
    return _UNSAFE.sub(_written_out, text.replace("\t", " ").replace("\n", " "))


def safe_json(text: str) -> str:
    """JSON text with the same letters escaped as JSON does it: they can only stand inside its strings."""
    return _UNSAFE.sub(
        lambda match: json.dumps(match.group()).strip('"') if match.group() != "\x7f" else "\\u007f", text
    )


def _written_out(match: re.Match[str]) -> str:
    code = ord(match.group())
    return f"\\x{code:02x}" if code < 256 else f"\\u{code:04x}" if code < 65536 else f"\\U{code:08x}"
