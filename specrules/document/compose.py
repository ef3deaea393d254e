"""The thorough reader: a YAML parser's events become a placed tree, scalars as they are written."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any, NoReturn
from unicodedata import normalize

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    StreamEndEvent,
)

from specrules.document import doubts
from specrules.document.place import Fault, Place
from specrules.document.reword import reworded
from specrules.document.source import SHOWN, UNWANTED, Budget, Edit, Source, quoted, shown
from specrules.document.text import Fields, Items, Node, Text, fields_at, items_at

# A directive other than %YAML 1.2, before anything else but comments.
DIRECTIVE = re.compile(r"\ufeff?(?:[ ]*+(?:#[^\n]*+)?\n|\r\n|%YAML 1\.2[ \r]*+\n)*+(%[^\r\n]*)")


class _StopError(Exception):
    """Nothing more can be said about this file; the faults say why."""


def compose(source: Source, budget: Budget) -> tuple[Fields | None, list[Fault]]:
    """The tree of a source without unwanted characters, and its faults; no tree where it is no YAML.

    A parser is made for each call (one that is shared corrupts what threads read) and is always the pure one,
    so that the answer does not depend on what else is installed.
    """
    parser = YAML(typ="safe", pure=True)
    composer = _Composer(source, budget, parser.parse(source.text))
    try:
        return composer.document(), composer.faults
    except _StopError:
        pass
    except MarkedYAMLError as error:
        started = (error.context_mark or error.problem_mark).line + 1
        if all(fault.place.line != started for fault in composer.faults):  # else most likely what was said already
            composer.faults.append(reworded(source, error))
    except Exception:  # the parser's own slips, such as an escape beyond the last code point
        composer.faults.append(source.fault(parser.reader.index, "this cannot be read as YAML"))
    return None, composer.faults


class _Composer:
    def __init__(self, source: Source, budget: Budget, events: Iterator[Any]) -> None:
        self.source, self.budget, self.events = source, budget, events
        self.faults: list[Fault] = []
        self.path: list[str] = []
        self.nodes = self.depth = 0

    def document(self) -> Fields:
        if found := DIRECTIVE.match(self.source.text):
            self.stop(found.start(1), f"{shown(found.group(1))} is a directive to YAML readers; leave the line out")
        next(self.events)
        if isinstance(next(self.events), StreamEndEvent):
            self.stop(0, "the file is empty")
        event = next(self.events)
        root = self.node(event)
        next(self.events)
        after = next(self.events)
        if isinstance(after, DocumentStartEvent):
            self.stop(after.start_mark.index, "a second document starts here; put it in a file of its own")
        if not isinstance(root, Fields):
            empty = root == "" and isinstance(root, Text) and not root.quoted
            said = "the file is empty" if empty else "the file must be made of keys with values, as key: value"
            self.stop(event.start_mark.index, said)
        return root

    def stop(self, at: int, said: str) -> NoReturn:
        self.faults.append(self.source.fault(at, said))
        raise _StopError

    def add(self, faults: Iterable[Fault]) -> None:
        """Takes faults in until there are as many as anyone can use."""
        for fault in faults:
            self.faults.append(fault._replace(subject=self.subject()))
            if len(self.faults) >= self.budget.faults:
                self.faults.append(fault._replace(subject="", said="too many faults; the rest are not shown", write=""))
                raise _StopError

    def doubt(self, at: int, said: str, *edits: Edit) -> None:
        self.add([self.source.fault(at, said, self.source.amended(at, edits) if edits else "")])

    def subject(self) -> str:
        """The keys above, without the section's: 'main 3' in readings."""
        return " ".join(self.path[1:] or self.path)[:SHOWN]

    def node(self, event: Any) -> Node:
        self.nodes += 1
        at = event.start_mark.index
        if self.nodes > self.budget.nodes:
            self.stop(at, f"the file holds more than {self.budget.nodes} keys and values")
        self.refuse_properties(event)
        if isinstance(event, AliasEvent):
            return self.text(event, "", quoted=False)
        if isinstance(event, ScalarEvent):
            return self.scalar(event)
        self.depth += 1
        if self.depth > self.budget.depth:
            self.stop(at, f"the file is nested more than {self.budget.depth} levels deep")
        node = self.mapping(event) if isinstance(event, MappingStartEvent) else self.sequence(event)
        self.depth -= 1
        return node

    def refuse_properties(self, event: Any) -> None:
        at = event.start_mark.index
        if isinstance(event, AliasEvent):
            what, name = "an alias", "*" + event.anchor
        elif event.anchor is not None:
            what, name = "an anchor", "&" + event.anchor
        elif event.tag is not None:
            what, name = "a tag", self.source.text[at : at + SHOWN].split()[0]
        else:
            return
        write = ""
        if isinstance(event, (AliasEvent, ScalarEvent)):
            edit = Edit(at, event.end_mark.index, quoted(self.source.text[at : event.end_mark.index]))
            write = f"what is meant in full, or as text: {self.source.amended(at, [edit])}"
        self.add([self.source.fault(at, f"{shown(name)} is {what} in YAML, which is not taken here", write)])

    def text(self, event: Any, value: str, quoted: bool) -> Text:
        start, end = event.start_mark, event.end_mark.index
        return Text(value, Place(self.source.file, start.line + 1, start.column + 1), quoted, (start.index, end))

    def scalar(self, event: Any) -> Text:
        found = UNWANTED.search(event.value) if event.style == '"' else None
        value = UNWANTED.sub("\ufffd", event.value) if found else event.value
        text = self.text(event, value, event.style is not None)
        start, end = text.span
        if found:
            self.doubt(start, f"the text holds a control or invisible character (U+{ord(found.group()):04X})")
        if event.style in ("|", ">"):
            text.span = (start, start + len(self.source.text[start:end].rstrip()))
        if text or text.quoted:  # where an empty one stands is known later
            self.add(doubts.in_scalar(self.source, text))
        return text

    def mapping(self, event: Any) -> Fields:
        mark = event.start_mark
        fields = fields_at(Place(self.source.file, mark.line + 1, mark.column + 1))
        entries: list[tuple[Text, Node]] = []
        first_seen: dict[str, Text] = {}
        while not isinstance(key_event := next(self.events), MappingEndEvent):
            key = self.node(key_event)
            self.path.append(key if isinstance(key, Text) else "")
            value = self.node(next(self.events))
            if isinstance(key, Text):
                if value == "" and isinstance(value, Text) and not value.quoted:
                    self.settle(key, value)
                entries.append((key, value))
                self.add(doubts.in_entry(self.source, key, value))
                if not (event.flow_style and doubts.lacks_colon(self.source, key, value)):
                    self.enter(fields, first_seen, key, value)
            else:
                self.doubt(key_event.start_mark.index, "a list or mapping cannot be a key")
            self.path.pop()
        if event.flow_style:
            self.add(doubts.in_inline_mapping(self.source, entries))
        return fields

    def settle(self, key: Text, empty: Text) -> None:
        """An empty value stands right after its colon; the parser puts it somewhere further on."""
        colon = doubts.COLON_AHEAD.match(self.source.text, key.span[1])
        at = colon.end() if colon else key.span[1]
        empty.place, empty.span = self.source.place(at), (at, at)
        if colon:
            self.add(doubts.in_scalar(self.source, empty))

    def enter(self, fields: Fields, first_seen: dict[str, Text], key: Text, value: Node) -> None:
        """Takes an entry in, unless its key stands there already: then the first one is kept."""
        known = first_seen.setdefault(normalize("NFC", key), key)
        if known is key:
            fields[key] = value
        else:
            spelled = "" if known == key else ", in other code points for the same letters"
            said = f"{shown(key)} stands here and on line {known.place.line}{spelled}; keep one of the two"
            self.doubt(key.span[0], said)

    def sequence(self, event: Any) -> Items:
        mark = event.start_mark
        items = items_at(Place(self.source.file, mark.line + 1, mark.column + 1))
        while not isinstance(item := next(self.events), SequenceEndEvent):
            items.append(self.node(item))
            if isinstance(empty := items[-1], Text) and not empty and not empty.quoted:
                self.add(doubts.in_scalar(self.source, empty))
        if event.flow_style:
            self.add(doubts.in_inline_list(self.source, items))
        return items
