"""Writing one value anew in a file's text; every other character stays."""

from __future__ import annotations

import re

from specrules.document.source import quoted
from specrules.document.text import Text

# What can stand without quotes anywhere, inside brackets too; anything doubtful is quoted.
BARE = re.compile(r"""(?:[^\W_]|[.+/(]|-(?=[\w.]))(?:[\w.+/()*^"'=%°±−-]| (?=[^ ]))*""")


_BLANK_BEFORE_A_SIGN = (" ,", " }", " ]")


def replace(source: str, text: Text, new: str) -> str:
    """`source` with `new` in place of `text`, one of its keys or values: reading it gives `new` there.

    Quotes are added where YAML would take `new` for something else, and kept where `text` had them. Comments,
    line ends and a byte order mark stay as they are, so `source` must be the text as decoded, mark included; of the
    blank behind an empty value in braces nothing is left.
    Raises ValueError for a text whose place in the source is not known.
    """
    start, end = text.span
    tight = source[start - 1 : start] == "," or (source[end : end + 1] == "," and source[end + 1 : end + 2].strip())
    return put(source, text, quoted(new) if text.quoted or tight else written(new))


def put(source: str, text: Text, new: str) -> str:
    """The same with what is YAML already, on one line: a mapping in braces, say."""
    start, end = text.span
    if end == 0 or end > len(source):
        raise ValueError("the place of this text in its source is not known")
    if start == end and source[end : end + 2] in _BLANK_BEFORE_A_SIGN:
        end += 1  # the blank that stands for an empty value in braces
    if start == end or end > text.span[1]:  # an empty value stands right behind its colon or dash
        new = f" {new}" if source[end : end + 1] in ("", " ", "\r", "\n", ",", "}", "]") else f" {new} "
    return source[:start] + new + source[end:]


def written(text: str) -> str:
    """A value as YAML, which stands anywhere, in braces too: bare, or in quotes where it would be something else."""
    return text if _bare(text) else quoted(text)


def _bare(new: str) -> bool:
    return BARE.fullmatch(new) is not None and new.count("(") == new.count(")") and not new.startswith("...")
