"""From the JSON of a record back to the same with each finding and reading whole, as the record's model reads it.

Of its tables only what they are put together by is looked at here; all that they hold the model checks.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from specrules.record.record_columns import OUTCOME, OWN, SHARED, TABLES, Lies, keys_in_row, laid, numbers_in_row
from specrules.record.record_part import ReasonRecord, RecordPart
from specrules.validation.base import spaced

Row = dict[str, Any]
MOST = 1 << 28
"""Letters to which a record may come when it is put together: what it says once stands in it often."""


def unpacked(tree: Mapping[str, Any]) -> dict[str, Any]:
    """The tree of a record with lists in the place of its tables.

    Raises ValueError where it cannot be put together, with the place as a JSON pointer.
    """
    made = {key: value for key, value in tree.items() if key != "shared"}
    shared = _mapping(tree.get("shared"), "/shared")
    tables = _Tables()
    for model in SHARED:
        own = [key for key, of in OWN.items() if of is model and made.get(key) is not None]
        for key in own:
            made[key] = list(tables.things(model, made[key], pointer([key])))
        name = TABLES[model].name
        further = tables.things(model, shared.get(name), pointer(["shared", name]))
        tables.number(model, [*(thing for key in own for thing in made[key]), *further])
    _no_others(shared, {TABLES[model].name for model in SHARED}, "/shared")
    for key, model in OWN.items():
        if model not in SHARED and key in made:
            made[key] = list(tables.things(model, made[key], pointer([key])))
    return made


def pointer(steps: Iterable[int | str]) -> str:
    """A place in JSON (RFC 6901); the whole is the empty pointer, said in words."""
    return "".join(f"/{str(step).replace('~', '~0').replace('/', '~1')}" for step in steps) or "the record"


class _Tables:
    """What goes by its number so far, how many letters each of it has, and how many all that was put together has."""

    def __init__(self) -> None:
        self.parts: dict[type[RecordPart], Sequence[Row]] = {}
        self.lengths: dict[type[RecordPart], Sequence[int]] = {}
        self.length = 0

    def number(self, model: type[RecordPart], parts: Sequence[Row]) -> None:
        """From now on these go by their numbers."""
        self.parts[model], self.lengths[model] = parts, [len(json.dumps(part)) for part in parts]

    def things(self, model: type[RecordPart], table: Any, place: str) -> Iterator[Row]:
        """Each thing of a table."""
        table = _mapping(table, place)
        _no_others(table, {"usual", "sets"}, place)
        usual = self._filled(model, _mapping(table.get("usual"), f"{place}/usual"), f"{place}/usual")
        sets = table.get("sets")
        if not isinstance(sets, list):
            raise ValueError(f"{place}/sets: this has to be a list")
        for number, each in enumerate(sets):
            at = f"{place}/sets/{number}"
            yield from self._of_set(model, usual, _mapping(each, at), at)

    def _of_set(self, model: type[RecordPart], usual: tuple[Row, int], of: Row, place: str) -> Iterator[Row]:
        several = ("each", "outcomes") if TABLES[model].apart else ("each",)
        rows, *others = ([*self._rows(model, of.get(key), f"{place}/{key}")] for key in several)
        outcomes = others[0] if others else [({}, 0)]
        shared, length = self._filled(model, {key: of[key] for key in of if key not in several}, place)
        for row, letters in rows:
            outcome, more = _picked(outcomes, row.pop(OUTCOME) if others else 0, place)
            self._count(usual[1] + length + letters + more, place)
            yield self._thing(model, {**usual[0], **shared, **outcome, **row}, place)

    def _rows(self, model: type[RecordPart], columns: Any, place: str) -> Iterator[tuple[Row, int]]:
        """The rows of some columns, and how many letters each has."""
        columns = _mapping(columns, place)
        for key, cells in columns.items():
            if not isinstance(cells, list):
                raise ValueError(f"{place}{pointer([key])}: this has to be a list")
        if len({len(cells) for cells in columns.values()}) != 1:
            raise ValueError(f"{place}: there have to be columns, all of one length")
        for cells in zip(*columns.values(), strict=True):
            yield self._filled(model, dict(zip(columns, cells, strict=True)), place)

    def _filled(self, model: type[RecordPart], row: Row, place: str) -> tuple[Row, int]:
        """A row with parts in the place of their numbers, and how many letters it has."""
        numbers, labels = numbers_in_row(model), _labels(model)
        known = {*keys_in_row(model), *labels, OUTCOME}
        _no_others([key for key in row if not key.startswith(tuple(f"{label} " for label in labels))], known, place)
        made, length = {}, 0
        for key, value in row.items():
            if key in numbers:
                made[key], letters = self._parts(numbers[key], value, f"{place}{pointer([key])}")
            else:
                made[key], letters = value, len(json.dumps(value))
            length += letters + len(key)
        return made, length

    def _parts(self, model: type[RecordPart], numbers: Any, place: str) -> tuple[Any, int]:
        """Parts in the place of their numbers, however deep these lie in lists; and how many letters those have."""
        if isinstance(numbers, list):
            made = [self._parts(model, each, place) for each in numbers]
            return [part for part, _ in made], sum(length for _, length in made)
        if numbers is None:
            return None, 0
        return _picked(self.parts[model], numbers, place), _picked(self.lengths[model], numbers, place)

    def _thing(self, model: type[RecordPart], row: Row, place: str) -> Row:
        """A thing out of its row. What the row lacks the thing lacks."""
        made: Row = {}
        for key, path, lies, of in laid(model):
            if lies is Lies.LABELS:
                axes = [each for each in row if each.startswith(f"{key} ") and each not in keys_in_row(model)]
                value = row.get(key, {axis.removeprefix(f"{key} "): row[axis] for axis in axes})
            elif of is not None and lies is Lies.PARTS:
                columns = {each: row[f"{key} {each}"] for each in keys_in_row(of) if f"{key} {each}" in row}
                if not columns:
                    continue
                value = self._list(of, columns, f"{place}: {key}")
            elif key in row:
                value = row[key]
            else:
                continue
            at = made
            for step in path[:-1]:
                at = at.setdefault(spaced(step), {})
            at[spaced(path[-1])] = value
        if model is ReasonRecord and isinstance(made.get("said"), list):
            made["said"] = self._joined(made["said"], made.get("labels"), place)
        return made

    def _list(self, model: type[RecordPart], columns: Row, place: str) -> list[Row] | None:
        cells = list(columns.values())
        if all(each is None for each in cells):
            return None
        if not all(isinstance(each, list) and len(each) == len(cells[0]) for each in cells):
            raise ValueError(f"{place}: its lists have to be of one length")
        return [self._thing(model, dict(zip(columns, row, strict=True)), place) for row in zip(*cells, strict=True)]

    def _joined(self, pieces: Sequence[Any], labels: Any, place: str) -> str:
        """A text out of its pieces, of which those that are numbers stand for labels."""
        texts = [
            each if isinstance(each, str) else _picked(labels if isinstance(labels, list) else [], each, place)
            for each in pieces
        ]
        if not all(isinstance(each, str) for each in texts):
            raise ValueError(f"{place}/said: a piece is a text, or the number of a label")
        self._count(sum(map(len, texts)), place)
        return "".join(texts)

    def _count(self, letters: int, place: str) -> None:
        self.length += letters
        if self.length > MOST:
            raise ValueError(f"{place}: put together it has more than {MOST} letters, so it is no record of a sheet")


def _labels(model: type[RecordPart]) -> list[str]:
    return [each.key for each in laid(model) if each.lies is Lies.LABELS]


def _mapping(value: Any, place: str) -> Row:
    if not isinstance(value, dict):
        raise ValueError(f"{place}: this has to be a mapping, as version 4 has it")
    return value


def _no_others(keys: Iterable[str], known: set[str], place: str) -> None:
    for key in keys:
        if key not in known:
            raise ValueError(f"{place}{pointer([key])}: unknown key")


def _picked(things: Sequence[Any], number: Any, place: str) -> Any:
    if type(number) is not int or not 0 <= number < len(things):
        raise ValueError(f"{place}: {json.dumps(number)[:40]} is no number of what there is, {len(things)} in all")
    return things[number]
