"""From a record to its tables, in which what repeats is said once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache
from itertools import groupby
from operator import attrgetter
from typing import Any, NamedTuple

from pydantic_core import to_json

from specrules.record.inspection_record import Record
from specrules.record.record_columns import (
    OUTCOME,
    OWN,
    SHARED,
    TABLES,
    Laid,
    Lies,
    keys_in_row,
    laid,
    numbers_in_row,
)
from specrules.record.record_part import ReasonRecord, RecordPart

Row = dict[str, Any]
Columns = dict[str, Sequence[Any]]


class PackedSet(NamedTuple):
    """Things of a table that share `constants`. A column of `each` has a cell a thing, one of `outcomes` an outcome."""

    constants: Row
    each: Columns
    outcomes: Columns


class PackedTable(NamedTuple):
    """A table: what most sets would say, and the sets."""

    usual: Row
    sets: Sequence[PackedSet]


def packed(record: Record) -> tuple[dict[str, PackedTable | None], dict[str, PackedTable]]:
    """The tables of a record by their keys in it, and those of what its parts share by their names."""
    own = {key: getattr(record, key) for key in OWN}
    numbered = {model: _Numbered() for model in SHARED}
    for key, model in OWN.items():
        if model in numbered:
            numbered[model].add_own(own[key] or ())
    rows = {key: None if things is None else _rows(things, numbered) for key, things in own.items()}
    shared = {model: _grouped(model, numbered) for model in reversed(SHARED)}  # each numbers parts of those after it
    orders = {model: numbered[model].order([number for number, _ in shared[model]]) for model in SHARED}
    return (
        {key: None if some is None else _table(OWN[key], some, orders) for key, some in rows.items()},
        {TABLES[model].name: _table(model, [row for _, row in shared[model]], orders) for model in SHARED},
    )


class _Numbered:
    """The parts of a model that go by their number, each once, as they are met after the record's own."""

    def __init__(self) -> None:
        self.parts: list[RecordPart] = []
        self.own = 0
        self._by_content: dict[str, int] = {}
        self._by_identity: dict[int, int] = {}

    def add_own(self, parts: Sequence[RecordPart]) -> None:
        """Those that stand in the record in their own right, whether or not they are alike."""
        self.parts, self.own = list(parts), len(parts)
        for number, part in enumerate(parts):
            self._by_identity[id(part)] = self._by_content.setdefault(part.model_dump_json(), number)

    def number(self, part: RecordPart) -> int:
        """The number of a part, a new one where none is like it."""
        number = self._by_identity.get(id(part))
        if number is None:
            number = self._by_content.setdefault(part.model_dump_json(), len(self.parts))
            self._by_identity[id(part)] = number
            if number == len(self.parts):
                self.parts.append(part)
        return number

    def order(self, further: Iterable[int]) -> list[int]:
        """By number, the one that goes for it where those beyond the record's own lie in this order."""
        made = list(range(len(self.parts)))
        for place, number in enumerate(further, self.own):
            made[number] = place
        return made


_AllNumbered = Mapping[type[RecordPart], _Numbered]
_Orders = Mapping[type[RecordPart], Sequence[int]]


def _grouped(model: type[RecordPart], numbered: _AllNumbered) -> list[tuple[int, Row]]:
    """The parts of a model that the record has not in their own right, with their numbers; alike ones in a row."""
    of = numbered[model]
    groups: dict[object, list[tuple[int, Row]]] = {}
    for number, row in enumerate(_rows(of.parts[of.own :], numbered), of.own):
        groups.setdefault(_shape(model, row), []).append((number, row))
    return [each for group in groups.values() for each in group]


def _rows(things: Iterable[RecordPart], numbered: _AllNumbered) -> list[Row]:
    return [_flat(thing, _getters(type(thing)), numbered) for thing in things]


class _Getters(NamedTuple):
    """How to take a thing of a model apart: all that lies in its row as it is at once, what does not by itself."""

    keys: tuple[str, ...]
    values: Callable[[RecordPart], tuple[Any, ...]]
    others: tuple[tuple[Laid, Callable[[RecordPart], Any]], ...]


@cache
def _getters(model: type[RecordPart]) -> _Getters:
    plain = [each for each in laid(model) if each.lies is Lies.AS_IT_IS]
    paths = [".".join(each.path) for each in plain]
    values: Callable[[RecordPart], Any] = attrgetter(*paths, paths[0])  # of a single path it would give no tuple
    others = [(each, attrgetter(".".join(each.path))) for each in laid(model) if each.lies is not Lies.AS_IT_IS]
    return _Getters(tuple(each.key for each in plain), values, tuple(others))


def _flat(part: RecordPart, by: _Getters, numbered: _AllNumbered) -> Row:
    """All of a part in a row."""
    row = dict(zip(by.keys, by.values(part), strict=False))
    for (key, _, lies, model), get in by.others:
        value = get(part)
        if model is not None and lies is Lies.PARTS:
            parts = _rows(value or (), numbered)
            for each in keys_in_row(model):
                row[f"{key} {each}"] = None if value is None else [one[each] for one in parts]
        elif value is None:
            row[key] = None
        elif lies is Lies.LABELS:
            row.update({f"{key} {axis}": label for axis, label in value.items()})
        elif model is not None and lies is Lies.NUMBER:
            row[key] = numbered[model].number(value)
        elif model is not None:
            row[key] = [numbered[model].number(each) for each in value]
    return row


def _shape(model: type[RecordPart], row: Row) -> object:
    """What all things of a set have in common."""
    return *(row[key] for key in TABLES[model].together), *row


def _table(model: type[RecordPart], rows: Iterable[Row], orders: _Orders) -> PackedTable:
    sets = [_set(model, list(some), orders) for _, some in groupby(rows, lambda row: _shape(model, row))]
    usual: Row = {}
    for key in dict.fromkeys(key for each in sets for key in each.constants):
        said = [each.constants[key] for each in sets if key in each.constants]
        content, times = Counter(map(to_json, said)).most_common(1)[0]
        if times * 2 > len(sets) > 1:
            usual[key] = next(value for value in said if to_json(value) == content)
    for each in sets:
        for key, value in usual.items():
            if key in each.constants and each.constants[key] == value:
                del each.constants[key]
    return PackedTable(usual, sets)


def _set(model: type[RecordPart], rows: Sequence[Row], orders: _Orders) -> PackedSet:
    of = TABLES[model]
    numbers, keys = numbers_in_row(model), keys_in_row(model)
    labels = [key for key in rows[0] if key not in keys]
    constants: Row = {}
    each: Columns = {}
    for key in (*labels, *keys):
        cells = [row[key] for row in rows]
        if key in numbers:
            cells = [_renumbered(cell, orders[numbers[key]]) for cell in cells]
        if key not in (*labels, of.lead) and cells.count(cells[0]) == len(cells):
            constants[key] = cells[0]
        else:
            each[key] = cells
    if model is ReasonRecord and "said" in each and (pieces := _in_pieces(each["said"], each["labels"])):
        del each["said"]
        constants["said"] = pieces
    if not of.apart:
        return PackedSet(constants, each, {})
    alike = {key: each.pop(key) for key in list(each) if key not in (*labels, *of.apart)}
    found: dict[bytes, int] = {}
    each[OUTCOME] = [found.setdefault(to_json(cells), len(found)) for cells in zip(*alike.values(), strict=True)]
    firsts = [each[OUTCOME].index(number) for number in range(len(found))]
    return PackedSet(constants, each, {key: [cells[first] for first in firsts] for key, cells in alike.items()})


def _renumbered(cell: Any, order: Sequence[int]) -> Any:
    if isinstance(cell, list):
        return [_renumbered(each, order) for each in cell]
    return cell if cell is None else order[cell]


def _in_pieces(said: Sequence[str], labels: Sequence[Sequence[str]]) -> list[str | int] | None:
    """What several reasons say as one text in pieces, a number standing for the label of that number; None where they
    differ by more than their labels."""
    words = [text.split(" ") for text in said]
    if len({*map(len, words)}) > 1 or len({*map(len, labels)}) > 1:
        return None
    by_label = list(zip(*labels, strict=True))
    pieces: list[str | int] = []
    for place, some in enumerate(zip(*words, strict=True)):
        blank = " " if place else ""
        if len({*some}) == 1:
            _join(pieces, blank + some[0])
        elif some in by_label:
            _join(pieces, blank)
            pieces.append(by_label.index(some))
        else:
            return None
    return pieces


def _join(pieces: list[str | int], text: str) -> None:
    """Put a text behind the last piece, as a part of it where that is a text."""
    if pieces and isinstance(pieces[-1], str):
        pieces[-1] += text
    elif text:
        pieces.append(text)
