"""The quick reader: files in their usual shapes, some ten times faster than a whole YAML parser reads them.

It knows mappings and lists, on lines of their own and inline, scalars on one line, and text below its key.
Whatever else it meets, and whatever could be a fault, it leaves to the thorough reader: so it tells no faults, and
its tree is the other's.
"""

from __future__ import annotations

import re
from typing import Any

from specrules.document.place import Place
from specrules.document.source import Budget, Source
from specrules.document.text import Fields, Items, Node, Text, fields_at, items_at

_QUOTED = r"""(?:"[^"\\\r\n]*+"|'[^'\r\n]*+'(?!'))"""
_FIRST = r"""(?!\.\.\.)(?:[^\s\-?:,\[\]{}#&*!|>'"%@`<]|-(?=[\w.]))"""
_WORDS = r"(?:[^ \r\n:#,\[\]{}]++|[ ]++(?=[^ \r\n:#,\[\]{}]))*+"
_INSIDE = rf"{_FIRST}(?:[^ \r\n:#,\[\]{{}}]++|:(?=[^ \r\n,\[\]{{}}])|(?<! )#|[ ]++(?=[^ \r\n:#,\[\]{{}}]))*+"
_OUTSIDE = rf"{_FIRST}(?:[^ \r\n:#]++|:(?=[^ \r\n])|(?<! )#|[ ]++(?=[^ \r\n#]))*+"
_KEY = rf"({_QUOTED}|{_FIRST}{_WORDS}):"
_END = r"[ ]*+(?:(?<= )#(?=[\s#])[^\n]*+)?(?:\r?\n|\Z)"

SKIPPED = re.compile(r"(?:[ ]*+(?:#[^\n]*+)?\r?\n)*+(?:[ ]*+(?:#[^\n]*+)?\Z)?")
INDENT = re.compile(r"[ ]*+")
GAP = re.compile(r"(?:[ ]++|\r?\n|(?<=[ \n])#(?=[\s#])[^\n]*+)*+")
DASH = re.compile(r"-(?:[ ]++(?=[^\s#])|(?=[ ]*+(?:\r?\n|\Z)))")
KEY = re.compile(rf"{_KEY}(?:[ ]++(?=[^\s#])|(?={_END}))")
INLINE_KEY = re.compile(rf"{_KEY}(?=[ \r\n])")
SCALAR = re.compile(rf"(?:{_QUOTED}|{_OUTSIDE})(?={_END})")
INLINE_SCALAR = re.compile(rf"{_QUOTED}|{_INSIDE}")
END = re.compile(_END)
HEAD = re.compile(r"([|>])(-?)\r?\n([ ]*+)")
LINE = re.compile(r"([^ \r\n][^\r\n]*+)(?:\r?\n|\Z)")
BELOW = re.compile(r"(?:\r?\n)*+([ ]*+)(?!\r?\n)")
LONGEST_KEY = 900  # parsers look for the colon of a key within 1,024 characters


class _UnsureError(Exception):
    """Something that only the thorough reader can judge."""


def quick(source: Source, budget: Budget) -> Fields | None:
    """The tree of a source without unwanted characters; None where the thorough reader must look."""
    try:
        return _Quick(source, budget).whole()
    except _UnsureError:
        return None


class _Quick:
    def __init__(self, source: Source, budget: Budget) -> None:
        self.text, self.file = source.text, source.file
        self.at = self.start = source.starts[0]  # what is read next; where its line starts
        self.line = 1
        self.left, self.deepest = budget.nodes, budget.depth
        root: dict[Any, Any] = {}
        self.levels: list[tuple[int, Any]] = [(-1, root)]  # column and container, outermost first
        self.waiting: tuple[Any, Any] | None = (
            root,
            "",
        )  # the container and key of an empty value: a level may go there

    def whole(self) -> Fields:
        """The whole file."""
        text, root = self.text, self.levels[0][1]
        while True:
            end = SKIPPED.match(text, self.at).end()  # type: ignore[union-attr]
            self.line += text.count("\n", self.at, end)
            if end == len(text):
                break
            self.start = end
            self.at = INDENT.match(text, end).end()  # type: ignore[union-attr]
            while self.step():
                pass
        tree = root.get("")
        if not isinstance(tree, Fields):
            raise _UnsureError
        return tree

    def step(self) -> bool:
        """Reads a dash or a key, and the value after it; whether another dash or key follows on the line."""
        text, column = self.text, self.at - self.start
        while self.levels[-1][0] > column:
            self.levels.pop()
            self.waiting = None
        if dash := DASH.match(text, self.at):
            after, end = self.at + 1, dash.end()
            container: Any = self.level(column, Items)
            name: Any = len(container)
            container.append(None)
        elif key := KEY.match(text, self.at):
            after, end = key.end(1) + 1, key.end()
            container = self.level(column, Fields)
            name = self.key(container, *key.span(1))
        else:
            raise _UnsureError
        self.at, self.waiting = end, (container, name)
        if not END.match(text, end):
            if dash and (DASH.match(text, end) or KEY.match(text, end)):
                return True
            self.waiting = None
            container[name] = self.value()
        else:
            container[name] = Text("", self.place(after), False, (after, after))
        ended = END.match(text, self.at)
        if not ended:
            raise _UnsureError
        self.at = ended.end()
        self.line += 1
        return False

    def level(self, column: int, kind: type[Fields] | type[Items]) -> Any:
        """The mapping or list at a column; a new one where an empty value waits for it."""
        if kind is Fields and self.levels[-1][0] == column and isinstance(self.levels[-1][1], Items):
            self.levels.pop()  # a list that stood no deeper than the key above it
            self.waiting = None
        top, container = self.levels[-1]
        if self.waiting and (top < column or (kind is Items and isinstance(self.waiting[0], Fields))):
            if len(self.levels) > self.deepest:
                raise _UnsureError
            above, name = self.waiting
            above[name] = container = kind()
            container.place = self.place(self.at)
            self.levels.append((column, container))
        elif top != column or not isinstance(container, kind):
            raise _UnsureError
        return container

    def value(self) -> Node:
        if self.text[self.at] in "[{":
            return self.inline(len(self.levels))
        if head := HEAD.match(self.text, self.at):
            return self.text_below(head)
        found = SCALAR.match(self.text, self.at)
        if not found:
            raise _UnsureError
        return self.scalar(found.end())

    def text_below(self, head: re.Match[str]) -> Text:
        """Text below its key, all lines equally far in and no line empty."""
        text, start, indent = self.text, self.at, head.group(3)
        if len(indent) <= self.levels[-1][0]:
            raise _UnsureError
        place, lines, end = self.place(start), [], head.start(3)
        while text.startswith(indent, end) and (line := LINE.match(text, end + len(indent))):
            lines.append(line.group(1))
            self.at, end = line.end(1), line.end()
        rest = BELOW.match(text, end)
        if not lines or not rest or len(rest.group(1)) >= len(indent):
            raise _UnsureError
        self.line += len(lines)
        value = (" " if head.group(1) == ">" else "\n").join(lines)
        if not head.group(2) and text[self.at : self.at + 1]:
            value += "\n"
        return Text(value, place, True, (start, start + len(text[start : self.at].rstrip())))

    def inline(self, depth: int) -> Fields | Items:
        """A list or mapping in brackets or braces."""
        text, place = self.text, self.place(self.at)
        node = fields_at(place) if text[self.at] == "{" else items_at(place)
        close = "}" if text[self.at] == "{" else "]"
        self.gap(self.at + 1)
        if depth > self.deepest:
            raise _UnsureError
        while text[self.at : self.at + 1] != close or node:
            if isinstance(node, Fields):
                found = INLINE_KEY.match(text, self.at)
                if not found:
                    raise _UnsureError
                key, after = self.key(node, *found.span(1)), found.end()
                empty = Text("", self.place(after), False, (after, after))
                self.gap(after)
                if text[self.at : self.at + 1] in (",", "}"):
                    node[key] = empty
                else:
                    node[key] = self.inline_value(depth)
            else:
                node.append(self.inline_value(depth))
            self.gap(self.at)
            if text[self.at : self.at + 1] == close:
                break
            if text[self.at : self.at + 1] != "," or text[self.at + 1 : self.at + 2] not in (" ", "\r", "\n"):
                raise _UnsureError
            self.gap(self.at + 1)
        self.at += 1
        return node

    def inline_value(self, depth: int) -> Node:
        found = INLINE_SCALAR.match(self.text, self.at)
        if not found:
            if self.text[self.at : self.at + 1] in ("[", "{"):
                return self.inline(depth + 1)
            raise _UnsureError
        value = self.scalar(found.end())
        if not value.quoted and value.count("(") != value.count(")"):
            raise _UnsureError
        return value

    def key(self, fields: Fields, start: int, end: int) -> Text:
        self.at = start
        key = self.scalar(end)
        if key in fields or not key.isascii() or len(key) > LONGEST_KEY:
            raise _UnsureError
        fields[key] = key  # until its value is read
        return key

    def scalar(self, end: int) -> Text:
        start, self.at = self.at, end
        raw, place, span = self.text[start:end], self.place(start), (start, end)
        return Text(raw[1:-1], place, True, span) if raw[0] in "\"'" else Text(raw, place, False, span)

    def place(self, at: int) -> Place:
        self.left -= 1
        if self.left < 0:
            raise _UnsureError
        return Place(self.file, self.line, at - self.start + 1)

    def gap(self, at: int) -> None:
        """Passes over what may stand between the parts of an inline list or mapping."""
        self.at = end = GAP.match(self.text, at).end()  # type: ignore[union-attr]
        if end > at and (lines := self.text.count("\n", at, end)):
            self.line += lines
            self.start = self.text.rfind("\n", at, end) + 1
