"""A YAML parser's events become a placed tree, scalars as they are written.

The C parser reads what it can; the pure one, some ten times slower, reads what the C parser refuses, what the two
may read differently, and everything where there is no C parser.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any, NoReturn
from unicodedata import normalize

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
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
from specrules.document.source import BYTE_ORDER_MARK, SHOWN, UNWANTED, Budget, Edit, SourceText, quoted, shown
from specrules.document.text import Fields, Items, Node, Text, fields_at, items_at
from specrules.vocabulary import Code

try:
    from _ruamel_yaml import CParser  # of ruamel.yaml.clib
except ImportError:
    CParser = None

# A directive other than %YAML 1.2, before anything else but comments.
DIRECTIVE = re.compile(r"\ufeff?(?:[ ]*+(?:#[^\n]*+)?\n|\r\n|%YAML 1\.2[ \r]*+\n)*+(%[^\r\n]*)")
# What the C parser takes and the pure one may not: a value right behind a quoted key's colon; text below its key with a
# number sign right behind its header, or that starts with lines of nothing but spaces; an end of the document said
# twice. And a line that ends with a backslash, after which the C parser looks at what another file left in its memory.
# None of them is missed; whatever else looks like one costs time alone.
DOUBTFUL = re.compile(
    r"""["']:\S|\\\r?\n|\n\.\.\.|[|>](?:[-+0-9]*+#|[^\n|>]*+\n(?:\r?\n)*+[ ]++\r?\n)""",
)

NextEvent = Callable[[], Any]


class _StopError(Exception):
    """Nothing more can be said about this file; the faults say why."""


class _OverBudgetError(_StopError):
    """The file holds more than it may."""


def compose(source: SourceText, budget: Budget, pure: bool = False) -> tuple[Fields | None, list[Fault]]:
    """The tree of a source without unwanted characters, and its faults; no tree where it is no YAML.

    The answer is the pure parser's; the C parser gives it where it has nothing to say against the file. `pure` leaves
    the C parser aside. A parser is made for each call: one that is shared corrupts what threads read.
    """
    if CParser is None or pure or DOUBTFUL.search(source.text):
        return _composed_pure(source, budget)
    shift = len(BYTE_ORDER_MARK) if source.text.startswith(BYTE_ORDER_MARK) else 0  # the C parser counts no mark
    composer = _Composer(source, budget, CParser(source.text).get_event, shift)
    try:
        tree = composer.document()
        if not composer.faults:
            return tree, []
    except _OverBudgetError:  # the pure parser would say the same, some ten times later
        if len(composer.faults) == 1:
            return None, composer.faults
    except (_StopError, YAMLError):
        pass
    return _composed_pure(source, budget)


def _composed_pure(source: SourceText, budget: Budget) -> tuple[Fields | None, list[Fault]]:
    parser = YAML(typ="safe", pure=True)
    composer = _Composer(source, budget, parser.parse(source.text).__next__)
    try:
        return composer.document(), composer.faults
    except _StopError:
        pass
    except MarkedYAMLError as error:
        from specrules.document.reword import reworded  # most files are YAML

        started = (error.context_mark or error.problem_mark).line + 1
        if all(fault.place.line != started for fault in composer.faults):  # else most likely what was said already
            composer.faults.append(reworded(source, error))
    except Exception:  # the parser's own slips, such as an escape beyond the last code point
        composer.faults.append(source.fault(parser.reader.index, Code.NOT_YAML, "this cannot be read as YAML"))
    return None, composer.faults


class _Composer:
    """Takes events one by one, so that a file over its budget is left before much is made of it.

    Most of a file is sound, so each doubt is looked for by the cheapest sign of it.
    """

    def __init__(self, source: SourceText, budget: Budget, next_event: NextEvent, shift: int = 0) -> None:
        self.source, self.file, self.budget = source, source.file, budget
        self.next_event, self.shift = next_event, shift
        self.faults: list[Fault] = []
        self.path: list[str] = []
        self.depth = 0
        self.left = budget.nodes
        self.comments = doubts.TIGHT_COMMENT.search(source.text) is not None  # else none can have swallowed text

    def document(self) -> Fields:
        if found := DIRECTIVE.match(self.source.text):
            said = f"{shown(found.group(1))} is a directive to YAML readers; leave the line out"
            self.stop(found.start(1), Code.YAML_FEATURE, said)
        self.next_event()
        if isinstance(self.next_event(), StreamEndEvent):
            self.stop(0, Code.EMPTY_FILE, "the file is empty")
        event = self.next_event()
        root = self.node(event)
        self.next_event()
        after = self.next_event()
        if isinstance(after, DocumentStartEvent):
            said = "a second document starts here; put it in a file of its own"
            self.stop(self.start(after), Code.YAML_FEATURE, said)
        if not isinstance(root, Fields):
            empty = root == "" and isinstance(root, Text) and not root.quoted
            if empty:
                self.stop(self.start(event), Code.EMPTY_FILE, "the file is empty")
            said = "the file must be made of keys with values, as key: value"
            self.stop(self.start(event), Code.WRONG_SHAPE, said)
        return root

    def place(self, event: Any) -> Place:
        mark = event.start_mark
        return Place(self.file, mark.line + 1, mark.column + 1)

    def span(self, event: Any) -> tuple[int, int]:
        return event.start_mark.index + self.shift, event.end_mark.index + self.shift

    def start(self, event: Any) -> int:
        """The offset at which an event starts."""
        at: int = event.start_mark.index
        return at + self.shift

    def over_budget(self, event: Any, said: str) -> NoReturn:
        self.faults.append(self.source.fault(self.start(event), Code.FILE_TOO_LARGE, f"the file {said}"))
        raise _OverBudgetError

    def stop(self, at: int, code: Code, said: str) -> NoReturn:
        self.faults.append(self.source.fault(at, code, said))
        raise _StopError

    def add(self, faults: Iterable[Fault]) -> None:
        """Takes faults in until there are as many as anyone can use."""
        for fault in faults:
            self.faults.append(fault._replace(subject=self.subject()))
            if len(self.faults) >= self.budget.faults:
                said = "too many faults; the rest are not shown"
                self.faults.append(fault._replace(subject="", code=Code.TOO_MANY_FAULTS, said=said, write=""))
                raise _StopError

    def doubt(self, at: int, code: Code, said: str, *edits: Edit) -> None:
        self.add([self.source.fault(at, code, said, self.source.amended(at, edits) if edits else "")])

    def subject(self) -> str:
        """The keys above, without the section's: 'main 3' in readings."""
        return " ".join(self.path[1:] or self.path)[:SHOWN]

    def node(self, event: Any) -> Node:
        if type(event) is ScalarEvent:
            return self.scalar(event)
        self.left -= 1
        if self.left < 0:
            self.over_budget(event, f"holds more than {self.budget.nodes} keys and values")
        if isinstance(event, AliasEvent):
            self.refuse(event, "an alias", "*" + event.anchor)
            return Text("", self.place(event), False, self.span(event))
        self.refuse_properties(event)
        self.depth += 1
        if self.depth > self.budget.depth:
            self.over_budget(event, f"is nested more than {self.budget.depth} levels deep")
        node = self.mapping(event) if isinstance(event, MappingStartEvent) else self.sequence(event)
        self.depth -= 1
        return node

    def refuse_properties(self, event: Any) -> None:
        if event.anchor is not None:
            self.refuse(event, "an anchor", "&" + event.anchor)
        elif event.ctag is not None:
            at = self.start(event)
            self.refuse(event, "a tag", self.source.text[at : at + SHOWN].split()[0])

    def refuse(self, event: Any, what: str, name: str) -> None:
        at, write = self.start(event), ""
        if isinstance(event, (AliasEvent, ScalarEvent)):
            start, end = self.span(event)
            edit = Edit(start, end, quoted(self.source.text[start:end]))
            write = f"what is meant in full, or as text: {self.source.amended(at, [edit])}"
        said = f"{shown(name)} is {what} in YAML, which is not taken here"
        self.add([self.source.fault(at, Code.YAML_FEATURE, said, write)])

    def scalar(self, event: Any) -> Text:
        # Called for most of a file, so written out where it could be shorter with calls.
        self.left -= 1
        if self.left < 0:
            self.over_budget(event, f"holds more than {self.budget.nodes} keys and values")
        if event.anchor is not None or event.ctag is not None:
            self.refuse_properties(event)
        value, style, mark = event.value, event.style, event.start_mark
        start, end = mark.index + self.shift, event.end_mark.index + self.shift
        text = str.__new__(Text, value)
        text.place = tuple.__new__(Place, (self.file, mark.line + 1, mark.column + 1))
        text.span = (start, end)
        if not style:  # None of the pure parser, "" of the C parser
            text.quoted = False
            if value and (self.comments or value == "-"):  # where an empty one stands is known later
                self.add(doubts.in_scalar(self.source, text))
            return text
        text.quoted = True
        if style == '"':
            if found := UNWANTED.search(value):
                said = f"the text holds a control or invisible character (U+{ord(found.group()):04X})"
                self.doubt(start, Code.UNWANTED_CHARACTER, said)
                text = Text(UNWANTED.sub("\ufffd", value), text.place, True, text.span)
        elif style != "'":
            text.span = (start, start + len(self.source.text[start:end].rstrip()))
            self.add(doubts.in_scalar(self.source, text))
        return text

    def mapping(self, event: Any) -> Fields:
        inline, path, next_event, scalar = event.flow_style, self.path, self.next_event, self.scalar
        fields = fields_at(self.place(event))
        entries: list[tuple[Text, Node]] = []
        first_seen: dict[str, Text] = {}
        lacking = False
        while type(key_event := next_event()) is not MappingEndEvent:
            key: Node = scalar(key_event) if type(key_event) is ScalarEvent else self.node(key_event)
            if type(key) is not Text:
                path.append("")
                self.node(next_event())
                self.doubt(self.start(key_event), Code.NOT_A_KEY, "a list or mapping cannot be a key")
                path.pop()
                continue
            path.append(key)
            value_event = next_event()
            if type(value_event) is ScalarEvent:
                value: Node = (text := scalar(value_event))
                if not text and not text.quoted:
                    self.settle(key, text)
                elif value_event.end_mark.line >= key.place.line:
                    self.add(doubts.in_entry_below(self.source, key, text))
            else:
                value = self.node(value_event)
            if not key or key == "<<":
                self.add(doubts.in_key(self.source, key))
            if inline:
                entries.append((key, value))
            if inline and not value and doubts.lacks_colon(self.source, key, value):
                lacking = True
            elif first_seen.setdefault(key if key.isascii() else normalize("NFC", key), key) is key:
                fields[key] = value
            else:
                self.twice(key, first_seen)
            path.pop()
        if lacking:
            self.add(doubts.in_inline_mapping(self.source, entries))
        return fields

    def settle(self, key: Text, empty: Text) -> None:
        """An empty value stands right after its colon; the parser puts it somewhere further on."""
        colon = doubts.COLON_AHEAD.match(self.source.text, key.span[1])
        at = colon.end() if colon else key.span[1]
        empty.place, empty.span = self.source.place(at), (at, at)
        if colon:
            self.add(doubts.in_scalar(self.source, empty))

    def twice(self, key: Text, first_seen: Mapping[str, Text]) -> None:
        """Says that a key stands there already; the first one is kept."""
        known = first_seen[normalize("NFC", key)]
        spelled = "" if known == key else ", in other code points for the same letters"
        said = f"{shown(key)} stands here and on line {known.place.line}{spelled}; keep one of the two"
        self.doubt(key.span[0], Code.DEFINED_TWICE, said)

    def sequence(self, event: Any) -> Items:
        next_event, scalar = self.next_event, self.scalar
        items = items_at(self.place(event))
        while type(item_event := next_event()) is not SequenceEndEvent:
            item = scalar(item_event) if type(item_event) is ScalarEvent else self.node(item_event)
            items.append(item)
            if not item and type(item) is Text and not item.quoted:
                self.add(doubts.in_scalar(self.source, item))
        if event.flow_style and doubts.SPLIT.search(self.source.text, self.start(event), self.start(item_event)):
            self.add(doubts.in_inline_list(self.source, items))
        return items
