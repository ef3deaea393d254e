"""Entering readings into a sheet's text: one figure at its place, and every other character as it was.

The text is read back before it is written: an edit by which any other reading would change is refused. What was typed a
moment ago is written over; what stood there before the session, before work, or on somebody's word becomes `was` beside
the new figure, whose mapping begins around the old text as it is, so that nothing else moves. What a set says holds for
`was` too; what one reading says of itself does not. A reading taken after work that changed what it reads bears its
day, and `after` where that is the day of the work: else it would count as taken before. A signature given again stands
behind the one before it, in a list.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import TypeAlias

from specrules.document import Fields, Items, Text, read
from specrules.document.inserting import indent_of, line_after, span_of
from specrules.document.replacing import put, replace
from specrules.document.source import quoted
from specrules.sheet.cells import Cell
from specrules.sheet.typed_figures import PLAIN

READINGS, SIGNED = "readings", "signed"

Said: TypeAlias = Mapping[str, str]
"""Key -> what is said of one reading, as YAML."""
NOTHING: Said = MappingProxyType({})


def with_figure(source: str, cell: Cell, figure: str, said: Said = NOTHING) -> str | None:
    """The sheet with a figure in a cell, in place of what stands there, of repeats in place of the last; and what is
    said of it. None where that cannot be: it has no text of its own."""
    if cell.written is None:
        return None
    text, whole = cell.written.texts[-1], cell.written.whole
    if not said:
        return replace(source, text, figure)
    if whole is None:
        return put(source, text, _mapping({"value": _in_braces(figure)}, said))
    return _saying(source, whole, {"value": _in_braces(figure), **said})


def with_figures(source: str, cell: Cell, figures: Sequence[str]) -> str | None:
    """The sheet with a figure, or the repeats of one, in a cell where none stands. None where that cannot be."""
    if len(figures) == 1 or cell.written is None:
        return with_figure(source, cell, figures[0])
    return None if cell.written.whole else put(source, cell.written.texts[0], _mapping(_read_as(figures)))


def with_superseded(source: str, cell: Cell, figures: Sequence[str], said: Said) -> str | None:
    """The sheet with another figure in a cell, or the repeats of one, and beside it what stood there before. None where
    that cannot be."""
    if cell.written is None or not cell.given:
        return None
    text, whole = cell.written.texts[0], cell.written.whole
    now = {**_read_as(figures), **said}
    if whole is None:
        start, end = text.span
        was = source[start:end] if text.quoted else _in_braces(text)
        return put(source, text, _mapping({**now, "was": was}))
    span = span_of(source, whole)
    if span is None:
        return None
    start, end = span
    if source[start] == "{":
        return f"{source[:start]}{_mapping({**now, 'was': source[start:end]})}{source[end:]}"
    lead = _line_end(source) + " " * (start - source.rfind("\n", 0, start) - 1)
    rows = lead.join([f"{key}: {each}" for key, each in now.items()] + ["was:"])
    return f"{source[:start]}{rows}{lead}  {source[start:end].replace(lead, f'{lead}  ')}{source[end:]}"


def with_repeat(source: str, cell: Cell, figure: str) -> str | None:
    """The sheet with one more figure read at the same place. None where that cannot be."""
    if cell.written is None or not cell.given:
        return None
    last, whole, new = cell.written.texts[-1], cell.written.whole, _in_braces(figure)
    start, end = last.span
    if cell.written.repeated:
        return f"{source[:end]}, {new}{source[end:]}" if source[end:].lstrip(" ").startswith("]") else None
    both = f"[{_in_braces(last)}, {new}]"
    if whole is None:
        return f"{source[:start]}{{repeats: {both}}}{source[end:]}"
    key = next(key for key in whole if key == "value")
    return f"{source[: key.span[0]]}repeats{source[key.span[1] : start]}{both}{source[end:]}"


def with_said(source: str, cell: Cell, said: Said) -> str | None:
    """The sheet with something said of one reading: who confirms it, or why it was taken. None where that cannot be."""
    if cell.written is None or not cell.given:
        return None
    text, whole = cell.written.texts[-1], cell.written.whole
    if whole is None:
        return put(source, text, _mapping({"value": _in_braces(text)}, said))
    return _saying(source, whole, said)


def with_signature(
    source: str, file: str, name: str, by: str, on: str, good: bool, after: Sequence[str] = ()
) -> str | None:
    """The sheet with a question signed by somebody on a day, after work of that day: yes, or no. What was signed before
    stays, and this behind it. None where there is no room for it."""
    more = {"after": one_or_list(after)} if after else {}
    more |= {} if good else {"answer": "no"}
    signature = _mapping({"by": by, "on": on}, more)
    tree, faults = read(source, file)
    held = None if tree is None or faults else tree.get(Text(SIGNED))
    entry = held.get(Text(name)) if isinstance(held, Fields) else None
    if entry is None:
        return with_room(source, file, [f"  {name}: {signature}"], SIGNED)
    if isinstance(entry, Text):
        return None if entry or entry.quoted else put(source, entry, signature)
    if not isinstance(entry, Fields) or set(entry) != {"by", "on"} or any(entry.values()):
        return _signed_again(source, entry, signature)
    return _saying(source, entry, {"by": by, "on": on, **more})


def _signed_again(source: str, entry: Fields | Items, new: str) -> str | None:
    """The sheet with one signature more of a question, in brackets or on lines of its own, as those before it stand."""
    span, at = span_of(source, entry), line_after(source, entry)
    if span is None or at is None:
        return None
    start, end = span
    if isinstance(entry, Fields) and source[start] == "{":
        return f"{source[:start]}[{source[start:end]}, {new}]{source[end:]}"
    if isinstance(entry, Items) and source[start] == "[":
        last = span_of(source, entry[-1])
        return None if last is None else f"{source[: last[1]]}, {new}{source[last[1] :]}"
    line_end = _line_end(source)
    margin = source[source.rfind("\n", 0, start) + 1 : start].partition("-")[0]
    given = source[start:at] if source[:at].endswith("\n") else source[start:at] + line_end
    if isinstance(entry, Fields):
        given = "- " + given.replace(f"\n{margin}", f"\n{margin}  ")
    return f"{source[:start]}{given}{margin}- {new}{line_end}{source[at:]}"


def one_or_list(names: Sequence[str]) -> str:
    """Names as YAML: one alone, several as a list."""
    return names[0] if len(names) == 1 else f"[{', '.join(names)}]"


def with_room(source: str, file: str, rows: Sequence[str], section: str = READINGS) -> str | None:
    """The sheet with something that it does not name yet, as the last of a section: the empty cells of a reading.

    `rows`: their lines, two spaces in. None where the section stands in braces, or nowhere that can be told.
    """
    tree, faults = read(source, file)
    if tree is None or faults:
        return None
    end = _line_end(source)
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


def _read_as(figures: Sequence[str]) -> Said:
    """One figure, or the repeats of one, as they stand in the mapping of a reading."""
    written = [*map(_in_braces, figures)]
    return {"value": written[0]} if len(written) == 1 else {"repeats": f"[{', '.join(written)}]"}


def _in_braces(figure: str) -> str:
    """A figure as it stands within braces and brackets."""
    return figure if PLAIN.fullmatch(figure) else quoted(figure)


def _mapping(pairs: Said, said: Said = NOTHING) -> str:
    """A mapping in braces."""
    return f"{{{', '.join(f'{key}: {each}' for key, each in {**pairs, **said}.items())}}}"


def _saying(source: str, whole: Fields, said: Said) -> str | None:
    """The sheet with what is said in a mapping: in place of what that says already, else behind the rest of it."""
    span = span_of(source, whole)
    last = span_of(source, list(whole.values())[-1])
    if span is None or last is None:
        return None
    end = last[1]
    lead = ", " if source[span[0]] == "{" else _line_end(source) + " " * (span[0] - source.rfind("\n", 0, span[0]) - 1)
    new = "".join(f"{lead}{key}: {each}" for key, each in said.items() if Text(key) not in whole)
    rest = source[end:].lstrip(" ") if new.startswith(",") else source[end:]
    source = source[:end] + new + rest
    held = [(text, each) for key, each in said.items() if isinstance(text := whole.get(Text(key)), Text)]
    for text, each in sorted(held, key=lambda pair: pair[0].span, reverse=True):
        source = put(source, text, each)
    return source


def _line_end(source: str) -> str:
    return "\r\n" if "\r\n" in source else "\n"
