"""A file's characters: decoding, what no reader may meet in them, and lines as they should be."""

import codecs
import re
from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from itertools import islice
from typing import NamedTuple

from specrules.document.place import Fault, Kind, Place
from specrules.vocabulary import Code

BYTE_ORDER_MARK = "\ufeff"
# Control characters, the line ends that only some programs count, halves of surrogate pairs, invisible marks.
UNWANTED = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufeff\ufffe\uffff]|\r(?!\n)")
TAB = re.compile(r"^([^\t\n]*)\t", re.MULTILINE)
COMMENT_BEFORE = re.compile(r"(?:^|[ ])#")
LINE_ENDS = {"\r": "a carriage return alone", "\x85": "a next-line character", "\u2028": "a line separator",
             "\u2029": "a paragraph separator"}  # fmt: skip
SHOWN = 100  # characters of a line or a text that a fault shows


class Budget(NamedTuple):
    """What a file may cost: bytes (characters, of a text), levels of nesting, keys and values, faults."""

    size: int = 2_000_000
    depth: int = 50
    nodes: int = 200_000
    faults: int = 100


class Edit(NamedTuple):
    """Characters `start` to `end` of a source written anew."""

    start: int
    end: int
    new: str


@dataclass(frozen=True)
class SourceText:
    """The text of one file, and its faults' common parts."""

    file: str
    text: str
    kind: Kind

    @cached_property
    def starts(self) -> list[int]:
        """Offsets at which lines start; the first one after a byte order mark."""
        first = 1 if self.text.startswith(BYTE_ORDER_MARK) else 0
        return [first, *(found.end() for found in re.finditer("\n", self.text))]

    def place(self, at: int) -> Place:
        """The place of the character at offset `at`."""
        line = max(bisect_right(self.starts, at), 1)
        return Place(self.file, line, max(at - self.starts[line - 1], 0) + 1)

    def bounds(self, at: int) -> tuple[int, int]:
        """Offsets of the start and the end of the line (without its line end) that holds offset `at`."""
        start = self.starts[self.place(at).line - 1]
        end = self.text.find("\n", start)
        end = len(self.text) if end < 0 else end
        return start, end - 1 if end > start and self.text[end - 1] == "\r" else end

    def amended(self, at: int, edits: Iterable[Edit]) -> str:
        """The line that holds `at`, with those of the edits made that start in it; clipped around `at`."""
        first, last = self.bounds(at)
        parts, done = [], first
        for edit in sorted(edits):
            if done <= edit.start <= last and first <= edit.start:
                parts += [self.text[done : edit.start], edit.new]
                done = edit.end
        line = "".join([*parts, self.text[done:last]])
        if len(line) > 4 * SHOWN:
            from_here = max(at - first - SHOWN // 2, 0)
            line = line[from_here : from_here + SHOWN]
        return visible(line).strip()

    def fault(self, at: int, code: Code, said: str, write: str = "", subject: str = "") -> Fault:
        """A fault at offset `at`."""
        return Fault(self.place(at), subject, code, said, write, self.kind)


def shown(text: str) -> str:
    """`text` in quotes for a message: on one line, no longer than a reader needs."""
    return f'"{visible(text if len(text) <= SHOWN else text[:SHOWN] + "...")}"'


def visible(text: str) -> str:
    """`text` on one line, with what does not print as its code."""
    return "".join(c if c.isprintable() else " " if c == "\n" else _escape(ord(c)) for c in text)


def quoted(text: str) -> str:
    """`text` in the double quotes of YAML, so that it reads back as it is."""
    named = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}
    return '"' + "".join(named.get(c) or (c if c == " " or c.isprintable() else _escape(ord(c))) for c in text) + '"'


def _escape(code: int) -> str:
    return f"\\U{code:08x}" if code > 0xFFFF else f"\\u{code:04x}"


def decode(source: bytes | str, file: str, kind: Kind) -> str | Fault:
    """The characters of a file: UTF-8, or UTF-16 where a byte order mark says so. The mark stays."""
    if isinstance(source, str):
        return source
    name = _encoding(source)
    try:
        return source.decode(name)
    except UnicodeDecodeError as error:
        before = source[: error.start].decode(name, "replace").removeprefix(BYTE_ORDER_MARK)
        line, column = before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1
        said = f"byte 0x{source[error.start]:02X} is not text in {name.upper()}; save the file as UTF-8"
        return Fault(Place(file, line, column), "", Code.NOT_UTF_8, said, "", kind)


def encode(text: str, like: bytes) -> bytes:
    """The bytes of a file's text, in the encoding that the file had: what `decode` reads back."""
    return text.encode(_encoding(like))


def _encoding(source: bytes) -> str:
    marked = source.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    return ("utf-16-le" if source.startswith(codecs.BOM_UTF16_LE) else "utf-16-be") if marked else "utf-8"


def unwanted(source: SourceText, most: int) -> list[Fault]:
    """The first `most` faults for characters that programs read differently, or that hide something."""
    characters = (
        found for found in UNWANTED.finditer(source.text) if found.start() or found.group() != BYTE_ORDER_MARK
    )
    faults = [
        source.fault(found.start(), Code.UNWANTED_CHARACTER, _said(found.group())) for found in islice(characters, most)
    ]
    lines = TAB.finditer(source.text) if "\t" in source.text else ()
    tabs = (found for found in lines if not COMMENT_BEFORE.search(found.group(1)))
    for found in islice(tabs, most):
        at = found.end() - 1
        first, last = source.bounds(at)
        untabbed = Edit(first, last, source.text[first:last].replace("\t", " "))
        said = f"a tab stands at column {source.place(at).column}; use spaces"
        faults.append(source.fault(at, Code.UNWANTED_CHARACTER, said, source.amended(at, [untabbed])))
    return sorted(faults)[:most]


def _said(character: str) -> str:
    code = f"U+{ord(character):04X}"
    if character == "\0":
        return "a null character stands here; save the file as UTF-8"
    if name := LINE_ENDS.get(character):
        return f"{name} ({code}) stands here; end the line as the editor's other lines end"
    return f"an invisible character ({code}) stands here; delete it"
