"""Adding an item to a list of a file's text; every other character stays."""

from __future__ import annotations

import re
from collections.abc import Sequence

from specrules.document.text import Fields, Items, Node, Text

_CLOSED = re.compile(r"[ \r\n]*(?:,[ \r\n]*)?[]}]")


def with_item(source: str, holder: Fields, key: str, item: Sequence[str]) -> str | None:
    """`source` with one item more in the list under `key` of a mapping, the list begun where there is none.

    `item`: its lines, as they stand behind the dash. None where that cannot be: the mapping or the list stands in
    brackets, on one line.
    """
    name = next((each for each in holder if each == key), None)
    held = holder.get(Text(key))
    first = next(iter(holder), None)
    if first is None or first.span[1] == 0 or not _begins_line(source, first):
        return None
    if name is None:
        own = _indent(source, first)
        indent, at, head = own + 2, line_after(source, holder), f"{' ' * own}{key}:\n"
    else:
        written = source[name.span[1] :].lstrip(": ")
        if not isinstance(held, Items) or not held or not written.startswith(("\n", "\r", "#")):
            return None
        leaf = _first(held)
        if leaf is None:
            return None
        line = source[source.rfind("\n", 0, leaf.span[0]) + 1 : leaf.span[0]]
        if not line.strip().startswith("-"):
            return None
        indent, at, head = len(line) - len(line.lstrip()), line_after(source, held), ""
    if at is None:
        return None
    before = source[:at] if source[:at].endswith("\n") else source[:at] + "\n"
    lead = " " * indent
    lines = [f"{lead}{'- ' if not number else '  '}{text}" for number, text in enumerate(item)]
    return before + head + "\n".join(lines) + "\n" + source[at:]


def _begins_line(source: str, key: Text) -> bool:
    """Whether a key is the first of its line, an item's dash aside: not in brackets."""
    return not source[source.rfind("\n", 0, key.span[0]) + 1 : key.span[0]].replace("-", "").strip()


def indent_of(source: str, key: Text) -> int | None:
    """How far in a key stands that is the first of its line; None for one in brackets."""
    return _indent(source, key) if key.span[1] and _begins_line(source, key) else None


def _indent(source: str, key: Text) -> int:
    return key.span[0] - source.rfind("\n", 0, key.span[0]) - 1


def _first(node: Node) -> Text | None:
    if isinstance(node, Text):
        return node if node.span[1] else None
    inner = node if isinstance(node, Items) else [each for pair in node.items() for each in pair]
    return next((found for each in inner if (found := _first(each)) is not None), None)


def span_of(source: str, node: Node) -> tuple[int, int] | None:
    """Where a node begins and ends, brackets and braces included. None where that cannot be told: nothing stands in
    it, a comment does behind the last of it, or what it stands among is on the same line."""
    if isinstance(node, Text):
        return node.span if node.span[1] else None
    inner = node if isinstance(node, Items) else [each for pair in node.items() for each in pair]
    ends = [span_of(source, inner[at]) for at in (0, -1)] if inner else [None]
    if ends[0] is None or ends[-1] is None:
        return None
    start, end = ends[0][0], ends[-1][1]
    before = source[:start].rstrip(" \r\n")
    if before.endswith(("[", "{")):
        closed = _CLOSED.match(source, end)
        return (len(before) - 1, closed.end()) if closed else None
    alone = not source[source.rfind("\n", 0, start) + 1 : start].replace("-", "").strip()
    return (start, end) if alone else None


def line_after(source: str, node: Node) -> int | None:
    """Where the line that a node ends on is over."""
    end = _end(node)
    if not end:
        return None
    if source[end - 1] == "\n":
        return end
    found = source.find("\n", end)
    return len(source) if found < 0 else found + 1


def _end(node: Node) -> int:
    if isinstance(node, Text):
        return node.span[1]
    inner = node if isinstance(node, Items) else [each for pair in node.items() for each in pair]
    return max(map(_end, inner), default=0)
