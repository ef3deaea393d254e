"""What a YAML parser could not read, said in the words of someone who writes such files."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import NamedTuple

from ruamel.yaml.error import MarkedYAMLError

from specrules.document.place import Fault
from specrules.document.source import Edit, SourceText, quoted, shown
from specrules.vocabulary import Code

VALUE = re.compile(r"^\ufeff?( *(?:- +)*)([^\s:#{\[][^:#]*?|\"[^\"]*\"|'[^']*'):(?: +|$)")
TIGHT = re.compile(r"^ *(?:- +)*[^\W\d][\w ]*:(?=\S)")
HIDDEN = re.compile(r"(?<! ) ++#[^\s#].*$")
COMMENT = re.compile(r"(?<! ) ++#.*$")
SECTION = re.compile(r"\ufeff?[\w -]+:(?: +#.*)?")
BEFORE_KEY = re.compile(r"(.*[^\s]) +[\w-]+")
BRACKET_OF_WORDS = re.compile(r"[A-Za-z] +$")
GLUED_DASH = re.compile(r"\s*-(?=[{\[A-Za-z])")
FIGURE = re.compile(r"^[+-]?\.?[0-9]")
CLOSERS = {"{": "}", "[": "]"}


class Trouble(NamedTuple):
    """Where a parser gave up: offsets in the source of the trouble, and of what it is part of."""

    source: SourceText
    at: int
    since: int

    def line(self) -> str:
        first, last = self.source.bounds(self.at)
        return self.source.text[first:last]

    def fault(self, at: int, code: Code, said: str, *edits: Edit) -> Fault:
        return self.source.fault(at, code, said, self.source.amended(at, edits) if edits else "")

    def value(self, at: int) -> tuple[int, int]:
        """Start and end of the bare value that holds `at`: to a comma or bracket, or to the line's end."""
        first, last = self.source.bounds(at)
        before = self.source.text[first:at]
        if _open(before):
            start = first + max(before.rfind(mark) + len(mark) for mark in (": ", ", ", "{", "["))
            return start, _inline_end(self.source.text, at, last)
        found = VALUE.match(self.source.text[first:last])
        start = first + found.end() if found and first + found.end() <= at else at
        return start, first + len(COMMENT.sub("", self.source.text[first:last]).rstrip())

    def quote(self, at: int, code: Code, said: str) -> Fault:
        """A fault whose remedy is to put the value that holds `at` in quotes."""
        start, end = self.value(at)
        bare = self.source.text[start:end].strip()
        return self.fault(at, code, said, *([Edit(start, end, quoted(bare))] if bare else ()))


def reworded(source: SourceText, error: MarkedYAMLError) -> Fault:
    """The fault for a parser's error. What it says is looked up by a few words of the parser's own."""
    mark = error.problem_mark or error.context_mark
    at = min(mark.index, len(source.text))
    since = min(error.context_mark.index, len(source.text)) if error.context_mark else at
    trouble = Trouble(source, at, since)
    heard = f"{error.context or ''} / {error.problem or ''}"
    if (dash := GLUED_DASH.match(trouble.line())) is not None:
        behind = source.bounds(at)[0] + dash.end()
        return trouble.fault(behind, Code.WRONG_LIST, "a dash has no space after it", Edit(behind, behind, " "))
    for words, say in SAYINGS:
        if words in heard:
            return say(trouble)
    return trouble.fault(at, Code.NOT_YAML, f"this cannot be read as YAML at {shown(trouble.line().strip())}")


def _dash(trouble: Trouble) -> Fault:
    at, line = trouble.at, trouble.line()
    first, last = trouble.source.bounds(at)
    rest = COMMENT.sub("", trouble.source.text[at + 1 : last]).strip()
    if not rest:
        return trouble.fault(at, Code.NO_VALUE, "a dash alone is no value", Edit(at, at + 1, "open"))
    if VALUE.match(line[: at - first]):
        said = "a list starts on the line below its key, or stands in brackets"
        return trouble.fault(at, Code.WRONG_LIST, said, Edit(at, last, f"[{rest}]"))
    return _indented(trouble)


def _second_colon(trouble: Trouble) -> Fault:
    first, _ = trouble.source.bounds(trouble.at)
    found = VALUE.match(trouble.line())
    if found and first + found.end() <= trouble.at:
        said = f"{shown(trouble.line().strip())} has a second colon outside quotes"
        return trouble.quote(trouble.at, Code.NOT_QUOTED, said)
    return _indented(trouble)


def _indented(trouble: Trouble) -> Fault:
    if (key := _too_far_left(trouble)) is not None:
        at, indent = key
        line = trouble.source.text[at : trouble.source.bounds(at)[1]].rstrip()
        said = f"{shown(line)} stands to the left of the lines that it belongs to, which are {indent} blanks in"
        return trouble.fault(at, Code.WRONG_INDENTATION, said)
    said = f"{shown(trouble.line().strip())} is indented unlike the lines that it belongs to"
    if trouble.source.place(trouble.at).line > 1:
        said += ", or the line above already has a value"
    return trouble.fault(trouble.at, Code.WRONG_INDENTATION, said)


def _too_far_left(trouble: Trouble) -> tuple[int, int] | None:
    """The first key of a section that stands in the first column, as its heading does, and how far in it should stand:
    where the section goes on further in, the reader stops only there."""
    source = trouble.source
    first, _ = source.bounds(trouble.at)
    indent = _indent(source.text[first:])
    rows = [(at, row) for at, row in _rows(source.text[:first]) if row.strip() and not row.lstrip().startswith("#")]
    number = next((number for number in reversed(range(len(rows))) if not _indent(rows[number][1])), 0)
    while number and not _indent(rows[number - 1][1]):
        if SECTION.fullmatch(rows[number - 1][1]):
            return (rows[number][0], indent) if indent else None
        number -= 1
    return None


def _rows(text: str) -> list[tuple[int, str]]:
    """The lines of a text with where each begins."""
    found, at = [], 0
    for row in text.splitlines(keepends=True):
        found.append((at, row.rstrip()))
        at += len(row)
    return found


def _indent(text: str) -> int:
    return len(text) - len(text.lstrip(" "))


def _no_colon(trouble: Trouble) -> Fault:
    at = trouble.since
    first, last = trouble.source.bounds(at)
    line = trouble.source.text[first:last]
    if found := TIGHT.match(line):
        said = f"{shown(line.strip())} has no space after its colon"
        return trouble.fault(at, Code.COLON_WITHOUT_SPACE, said, Edit(first, first + found.end(), found.group() + " "))
    said = f"{shown(line.strip())} is neither a key with a colon nor part of the value above"
    return trouble.fault(at, Code.COLON_MISSING, said)


def _open_quote(trouble: Trouble) -> Fault:
    at = trouble.since
    mark = trouble.source.text[at]
    _, last = trouble.source.bounds(at)
    return trouble.fault(at, Code.UNPAIRED, f"the quote {mark} is opened here and not closed", Edit(last, last, mark))


def _backslash(trouble: Trouble) -> Fault:
    at = trouble.source.text.rfind("\\", 0, trouble.at + 1)
    said = f"{shown(trouble.source.text[at : at + 2])} means nothing in double quotes"
    return trouble.fault(at, Code.WRONG_ESCAPE, said, Edit(at, at + 1, "\\\\"))


def _text_below(trouble: Trouble) -> Fault:
    at = trouble.since
    _, last = trouble.source.bounds(at)
    sign = trouble.source.text[at : at + 1]
    if sign not in "|>":
        return _indented(trouble)
    rest = COMMENT.sub("", trouble.source.text[at:last]).rstrip()
    said = f"a value that starts with {sign} is text on the lines below in YAML"
    return trouble.fault(at, Code.TEXT_BELOW, said, Edit(at, at + len(rest), quoted(rest)))


def _sign(trouble: Trouble) -> Fault:
    sign = trouble.source.text[trouble.since : trouble.since + 1]
    return trouble.quote(trouble.since, Code.NOT_QUOTED, f"a value cannot start with {sign} outside quotes")


def _inline(trouble: Trouble) -> Fault:
    source, at, since = trouble.source, trouble.at, trouble.since
    opener, found = source.text[since], source.text[at : at + 1]
    if found in ("[", "{") and source.text[at - 1] == ":":
        return trouble.fault(at, Code.COLON_WITHOUT_SPACE, "a colon has no space after it", Edit(at, at, " "))
    if found in ("[", "{") and source.text[at - 1] not in " \r\n":
        start, end = trouble.value(at)
        whole = source.text[start:end]
        said = f"{shown(whole)} has a bracket outside quotes"
        return trouble.fault(start, Code.NOT_QUOTED, said, Edit(start, end, quoted(whole)))
    if found in ("]", "}"):
        said = f"{found} stands here, where {CLOSERS[opener]} must close what {opener} opened"
        return trouble.fault(at, Code.UNPAIRED, said, Edit(at, at + 1, CLOSERS[opener]))
    if at == len(source.text) or source.place(at).line > source.place(since).line:
        return _unclosed(trouble)
    if found == ":":
        if (comma := _before_key(trouble)) is not None:
            return trouble.fault(comma, Code.COMMA_MISPLACED, "a comma is missing before this", Edit(comma, comma, ","))
        return trouble.quote(at, Code.NOT_QUOTED, "a second colon stands outside quotes")
    start, _ = trouble.value(at)
    if source.text[start : start + 1] in ("'", '"'):
        return _after_quote(trouble)
    if found in CLOSERS and BRACKET_OF_WORDS.search(source.text[start:at]):
        return trouble.quote(at, Code.NOT_QUOTED, f"{found} stands inside a text outside quotes")
    return trouble.fault(at, Code.COMMA_MISPLACED, "a comma is missing before this", Edit(at, at, ", "))


def _before_key(trouble: Trouble) -> int | None:
    """Where a comma is missing: before the key of the second colon, where a number ends or begins beside it."""
    source, at = trouble.source, trouble.at
    start, end = trouble.value(at)
    found = BEFORE_KEY.fullmatch(source.text[start:at])
    if found is None:
        return None
    numbers = FIGURE.match(source.text[at + 1 : end].strip()), FIGURE.search(found[1].split(" ")[0])
    return start + len(found[1]) if any(numbers) else None


def _unclosed(trouble: Trouble) -> Fault:
    source, since = trouble.source, trouble.since
    first, last = source.bounds(since)
    line = source.text[first:last]
    opener = source.text[since]
    if hidden := HIDDEN.search(line):
        start, end = trouble.value(first + hidden.start())
        said = f"the {opener} opened here is not closed: {shown(hidden.group().strip())} is read as a comment"
        return trouble.fault(
            since, Code.READ_AS_COMMENT, said, Edit(start, end, quoted(source.text[start:end].strip()))
        )
    code = COMMENT.sub("", line).rstrip().rstrip(",")
    closers = "".join(CLOSERS[each] for each in reversed(_open(code)))
    said = f"the {opener} opened here is not closed, or a comma is missing at the end of a line"
    return trouble.fault(since, Code.UNPAIRED, said, Edit(first + len(code), first + len(code), closers))


def _after_quote(trouble: Trouble) -> Fault:
    start, end = trouble.value(trouble.at)
    whole = trouble.source.text[start:end].strip()
    said = f"{shown(whole)} goes on after its closing quote"
    inside = whole[1:-1] if whole[0] == whole[-1] == "'" else whole
    doubled = whole.replace("'", "''")
    return trouble.fault(
        trouble.at, Code.AFTER_QUOTE, said, Edit(start, end, f'"{inside}"' if '"' not in inside else f"'{doubled}'")
    )


def _misplaced(trouble: Trouble) -> Fault:
    source, at = trouble.source, trouble.at
    first, _ = source.bounds(at)
    found = VALUE.match(trouble.line())
    start = first + found.end() if found else first
    sign = source.text[at : at + 1]
    if found and start < at and source.text[start] in "'\"":
        return _after_quote(trouble)
    if (sign in ("]", "}", ",") and start < at) or (found and start < at):
        said = f"{shown(source.text[at : at + 1])} stands where nothing more can stand"
        return trouble.quote(start, Code.NOT_QUOTED, said)
    return _indented(trouble)


def _nothing(trouble: Trouble) -> Fault:
    text, at = trouble.source.text, trouble.at
    sign = text[at : at + 1]
    if not sign:
        return _unclosed(trouble._replace(since=max(text.rfind("["), text.rfind("{"))))
    first, _ = trouble.source.bounds(at)
    if sign == "," and _open(trouble.source.text[first:at]):
        return trouble.fault(at, Code.COMMA_MISPLACED, "nothing stands before this comma", Edit(at, at, "open"))
    return trouble.quote(at, Code.NOT_QUOTED, f"a value cannot start with {sign} outside quotes")


def _directive(trouble: Trouble) -> Fault:
    if trouble.line()[:1] not in ("%", "-", "."):
        return _indented(trouble)
    said = "lines that start with %, --- or ... do not belong here; one file holds one document"
    return trouble.fault(trouble.at, Code.YAML_FEATURE, said)


def _open(code: str) -> list[str]:
    """Brackets that `code` leaves open, outermost first; quotes are not looked at."""
    opened: list[str] = []
    for sign in code:
        if sign in CLOSERS:
            opened.append(sign)
        elif opened and sign == CLOSERS[opened[-1]]:
            opened.pop()
    return opened


def _inline_end(text: str, at: int, last: int) -> int:
    """Where a value inside brackets ends that may hold brackets of its own."""
    depth = 0
    for end in range(at, last):
        sign = text[end]
        if depth == 0 and sign in ",]}":
            return end
        depth = max(depth + (sign in "[{(") - (sign in "]})"), 0)
    return last


SAYINGS: tuple[tuple[str, Callable[[Trouble], Fault]], ...] = (
    ("sequence entries are not allowed", _dash),
    ("mapping values are not allowed", _second_colon),
    ("could not find expected ':'", _no_colon),
    ("quoted scalar / found unexpected", _open_quote),
    ("double-quoted scalar", _backslash),
    ("cannot start any token", _sign),
    ("mapping keys are not allowed", _sign),
    ("scanning an alias", _sign),
    ("scanning an anchor", _sign),
    ("an tag", _sign),
    ("a tag", _sign),
    ("undefined tag", _sign),
    ("directive", _directive),
    ("indentation indicator", _text_below),
    ("a comment or a line break", _text_below),
    ("more indented follow up", _text_below),
    ("document", _directive),
    ("flow sequence /", _inline),
    ("flow mapping /", _inline),
    ("expected <", _misplaced),
    ("expected the node content", _nothing),
)
