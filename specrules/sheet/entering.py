"""Entering readings into a sheet's text: one figure at its place, and every other character as it was."""

from __future__ import annotations

from collections.abc import Sequence

from specrules.document import Fields, Text, read, replace
from specrules.document.inserting import indent_of, line_after
from specrules.document.source import quoted
from specrules.sheet.cells import Cell
from specrules.sheet.typed_figures import PLAIN

READINGS, SIGNED = "readings", "signed"


def with_figure(source: str, cell: Cell, figure: str) -> str | None:
    """The sheet with a figure in a cell, in place of what stands there. None where that cannot be: it has no text of
    its own, or several."""
    if cell.written is None or cell.written.repeated:
        return None
    return replace(source, cell.written.texts[0], figure)


def with_repeat(source: str, cell: Cell, figure: str) -> str | None:
    """The sheet with one more figure read at the same place. None where that cannot be."""
    if cell.written is None or not cell.given:
        return None
    last, new = cell.written.texts[-1], _in_braces(figure)
    start, end = last.span
    if cell.written.repeated:
        return f"{source[:end]}, {new}{source[end:]}" if _in_list(source, end) else None
    if _is_value(source, start):
        return None
    return f"{source[:start]}{{repeats: [{_in_braces(last)}, {new}]}}{source[end:]}"


def with_word(source: str, cell: Cell, initials: str) -> str | None:
    """The sheet with somebody's word that a reading is right. None where that cannot be."""
    if cell.written is None or not cell.given:
        return None
    last = cell.written.texts[-1]
    start, end = last.span
    if cell.written.repeated:
        close = source.find("]", end)
        whole = _in_list(source, end) and close >= 0 and not source[end:close].strip()
        return f"{source[: close + 1]}, confirmed: {initials}{source[close + 1 :]}" if whole else None
    if _is_value(source, start):
        after = source[end:].lstrip(" ")
        return f"{source[:end]}, confirmed: {initials}{source[end:]}" if after.startswith("}") else None
    return f"{source[:start]}{{value: {_in_braces(last)}, confirmed: {initials}}}{source[end:]}"


def with_signature(source: str, file: str, name: str, by: str, on: str, good: bool) -> str | None:
    """The sheet with a question signed by somebody on a day: yes, or no. None where that cannot be: it is answered, or
    answered for some stations alone."""
    said = "" if good else ", answer: no"
    tree, faults = read(source, file)
    held = None if tree is None or faults else tree.get(Text(SIGNED))
    entry = held.get(Text(name)) if isinstance(held, Fields) else None
    if entry is None:
        row = f"  {name}: {{by: {by}, on: {on}{said}}}"
        return with_room(source, file, [row], SIGNED)
    if not isinstance(entry, Fields) or set(entry) != {"by", "on"}:
        return None
    pairs = [(text, new) for key, new in (("by", by), ("on", on)) if isinstance(text := entry[Text(key)], Text)]
    if [text for text, _ in pairs if not text.quoted] != ["", ""]:
        return None
    end = max(text.span[1] for text, _ in pairs)
    if said and not source[end:].lstrip(" ").startswith("}"):
        return None
    for text, new in sorted(pairs, key=lambda pair: pair[0].span, reverse=True):
        last = text.span[1] == end
        before, after = source[: text.span[0]], replace(source, text, new)
        source = f"{before} {new}{said}{source[end:].lstrip(' ')}" if last and said else after
    return source


def with_room(source: str, file: str, rows: Sequence[str], section: str = READINGS) -> str | None:
    """The sheet with something that it does not name yet, as the last of a section: the empty cells of a reading.

    `rows`: their lines, two spaces in. None where the section stands in braces, or nowhere that can be told.
    """
    tree, faults = read(source, file)
    if tree is None or faults:
        return None
    end = "\r\n" if "\r\n" in source else "\n"
    key = next((each for each in tree if each == section), None)
    held = tree.get(Text(section))
    if key is None:
        lead = "" if source.endswith("\n") else end
        return f"{source}{lead}{end}{section}:{end}{_lines(rows, 2, end)}"
    if isinstance(held, Fields) and held:
        first = next(iter(held))
        indent, at = indent_of(source, first), line_after(source, held)
    elif held == "" and isinstance(held, Text) and not held.quoted:
        indent, at = 2, line_after(source, key)
    else:
        return None
    if indent is None or at is None:
        return None
    before = source[:at] if source[:at].endswith("\n") else source[:at] + end
    return f"{before}{_lines(rows, indent, end)}{source[at:]}"


def _lines(rows: Sequence[str], indent: int, end: str) -> str:
    return "".join(f"{' ' * indent}{row[2:]}{end}" for row in rows)


def _in_braces(figure: str) -> str:
    """A figure as it stands within braces and brackets."""
    return figure if PLAIN.fullmatch(figure) else quoted(figure)


def _in_list(source: str, end: int) -> bool:
    """Whether what ends there is the last item of a list in brackets."""
    return source[end:].lstrip(" ").startswith("]")


def _is_value(source: str, start: int) -> bool:
    """Whether what begins there is the value of one reading that is written as a mapping."""
    return source[:start].rstrip(" ").endswith("value:")
