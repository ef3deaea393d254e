"""What YAML takes without a word for something that its writer did not mean."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from specrules.document.place import Fault
from specrules.document.source import Edit, SourceText, quoted, shown
from specrules.document.text import Node, Text
from specrules.vocabulary import Code

SWALLOWED = re.compile(r" +#[^\s#][^\r\n]*")
TIGHT_COMMENT = re.compile(r" #[^\s#]")
COLON_AHEAD = re.compile(r"\s*:")
TIGHT_COLON = re.compile(r"([^\W\d][\w .()/-]*):(?=\S)")
TIGHT_PAIR = re.compile(r"([^\W\d]\w*):(?=\S)")
WHOLE = re.compile(r"[-+]?\d+")
AFTER_COMMA = re.compile(r"\d+(?: *[^\W\d].*)?")
SPLIT = re.compile(r",\d|\(")  # without one, `in_inline_list` has nothing to say
INLINE_END = re.compile(r"[,\]}]")

Found = tuple[Code, str, Edit]
"""The kind of a doubt, what is wrong, and what would mend it."""


def in_scalar(source: SourceText, text: Text) -> Iterator[Fault]:
    """A dash alone, a header of text below without text, text that ended at a number sign."""
    start, end = text.span
    if not text.quoted:
        if text == "-":
            said = "a dash alone is no value"
            yield source.fault(start, Code.NO_VALUE, said, source.amended(start, [Edit(start, end, "open")]))
        if found := SWALLOWED.match(source.text, end):
            first, _ = source.bounds(start)
            whole = source.text[start : found.end()].rstrip()
            if "{" in source.text[first:start] or "[" in source.text[first:start]:
                whole = INLINE_END.split(whole)[0].rstrip()
            write = source.amended(
                start, [Edit(start, start + len(whole), _spaced(source, start, quoted(whole.strip())))]
            )
            said = f"{shown(found.group().strip())} is read as a comment (if it is one, put a space after the #)"
            yield source.fault(found.start(), Code.READ_AS_COMMENT, said, write)
    elif not text.strip() and source.text[start] in "|>":
        rest = source.text[start : source.bounds(start)[1]]
        said = f"{shown(rest)} starts text on the lines below in YAML, and none follows"
        meant = source.amended(start, [Edit(start, start + len(rest), quoted(rest))]) if rest[1:].strip(" -+") else ""
        yield source.fault(start, Code.TEXT_BELOW, said, meant)


def in_key(source: SourceText, key: Text) -> Iterator[Fault]:
    """A key that is no key."""
    at = key.span[0]
    if key == "<<" and not key.quoted:
        yield source.fault(at, Code.YAML_FEATURE, '"<<" is a merge key, which is not taken here; write the keys out')
    elif key == "" and not key.quoted:
        yield source.fault(at, Code.NOT_A_KEY, "a key is missing before this colon")


def in_entry_below(source: SourceText, key: Text, value: Text) -> Iterator[Fault]:
    """Lines of `key:value` or `-item` below a key, which are one long text in YAML."""
    if value.quoted:
        return
    start, end = value.span
    if value.startswith("-") and "\n" in source.text[start:end]:
        said = f"{shown(value)} is one long text; a list has a space after each dash"
        yield source.fault(start, Code.WRONG_LIST, said, source.amended(start, [Edit(start, start + 1, "- ")]))
    lower = value.place.line > key.place.line or "\n" in source.text[start:end]
    if lower and (found := TIGHT_PAIR.match(value)):
        spaced = source.amended(start, [Edit(start, start + found.end(), found.group() + " ")])
        yield source.fault(start, Code.COLON_WITHOUT_SPACE, f"{shown(value)} has no space after its colon", spaced)


def lacks_colon(source: SourceText, key: Text, value: Node) -> bool:
    """Whether an entry inside braces is a key alone, without even a colon."""
    return value == "" and not COLON_AHEAD.match(source.text, key.span[1])


def in_inline_mapping(source: SourceText, entries: Sequence[tuple[Text, Node]]) -> Iterator[Fault]:
    """Inside braces: `{a:2.49}`, and text with commas in it, which leaves keys without values."""
    yield from _faults(source, list(_mapping_findings(source, entries)))


def _mapping_findings(source: SourceText, entries: Sequence[tuple[Text, Node]]) -> Iterator[Found]:
    at = 0
    while at < len(entries):
        key, value = entries[at]
        start, end = key.span
        at += 1
        if not lacks_colon(source, key, value):
            if isinstance(value, Text) and value and not value.quoted:
                through = 0
                while at < len(entries) and lacks_colon(source, *entries[at]) and not _tight(entries[at][0]):
                    through = entries[at][0].span[1]
                    at += 1
                if through:
                    yield _split(source, value, through)
        elif found := _tight(key):
            spaced = f"{key[: found.end()]} {key[found.end() :]}"
            yield Code.COLON_WITHOUT_SPACE, f"{shown(key)} has no space after its colon", Edit(start, end, spaced)
        else:
            said = f"{shown(key)} has no colon and no value"
            yield (Code.COLON_MISSING, said, Edit(start, end, source.text[start:end] + ": open"))


def _tight(key: Text) -> re.Match[str] | None:
    return None if key.quoted else TIGHT_COLON.match(key)


def in_inline_list(source: SourceText, items: Sequence[Node]) -> Iterator[Fault]:
    """Inside brackets: decimal commas, and calls whose commas split them."""
    found = list(_list_findings(source, items))
    yield from _faults(source, found)
    if not found and (tight := list(_tight_pairs(source, items))):
        yield _decimal_commas(source, items, tight)


def _list_findings(source: SourceText, items: Sequence[Node]) -> Iterator[Found]:
    at = 0
    while at < len(items):
        first = last = items[at]
        at += 1
        if not isinstance(first, Text) or first.quoted:
            continue
        opened = first.count("(") - first.count(")")
        while opened > 0 and at < len(items) and isinstance(item := items[at], Text):
            last, at, opened = item, at + 1, opened + item.count("(") - item.count(")")
        if isinstance(last, Text) and last is not first:
            yield _split(source, first, last.span[1])


def _tight_pairs(source: SourceText, items: Sequence[Node]) -> Iterator[tuple[Text, Text]]:
    for left, right in pairwise(items):
        if (
            isinstance(left, Text)
            and isinstance(right, Text)
            and not (left.quoted or right.quoted)
            and source.text[left.span[1] : right.span[0]] == ","
            and WHOLE.fullmatch(left)
            and AFTER_COMMA.fullmatch(right)
        ):
            yield left, right


def _decimal_commas(source: SourceText, items: Sequence[Node], tight: Sequence[tuple[Text, Text]]) -> Fault:
    """`[49,98, 49,99]` holds four numbers, not two; where every comma is tight, it may have been meant so."""
    first, last = tight[0][0].span[0], tight[-1][1].span[1]
    joined: list[Edit] = []
    for left, right in tight:
        taken = bool(joined) and joined[-1].new == "." and joined[-1].end == left.span[0]
        joined.append(Edit(left.span[1], right.span[0], ", " if taken else "."))
    write = source.amended(first, joined)
    if len(tight) == len(items) - 1:
        apart = [edit._replace(new=", ") for edit in joined]
        write = f"{write}, or, for whole numbers, {source.amended(first, apart)}"
    said = f"{shown(source.text[first:last])} has a comma with no space after it"
    return source.fault(first, Code.COMMA_IN_NUMBER, said, write)


def _split(source: SourceText, first: Text, end: int) -> Found:
    """Text from `first` to `end` that its own commas have taken apart."""
    start = first.span[0]
    whole = " ".join(source.text[start:end].split())
    number, _, rest = whole.partition(",")
    if WHOLE.fullmatch(number) and AFTER_COMMA.fullmatch(rest):
        return Code.COMMA_IN_NUMBER, f"{shown(whole)} has a comma", Edit(start, end, f"{number}.{rest}")
    said = f"{shown(whole)} has a comma outside quotes, which ends the text there"
    return Code.NOT_QUOTED, said, Edit(start, end, quoted(whole))


def _spaced(source: SourceText, start: int, text: str) -> str:
    return text if source.text[start - 1] in " [{" else f" {text}"


def _faults(source: SourceText, found: Sequence[Found]) -> Iterator[Fault]:
    edits = [edit for *_, edit in found]
    for code, said, edit in found:
        yield source.fault(edit.start, code, said, source.amended(edit.start, edits))
