"""A record as text, in UTF-8: the same record gives the same bytes. What repeats in it is said once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

from pydantic import BaseModel
from pydantic_core import to_json

from specrules.record.inspection_record import Record
from specrules.record.record_packing import PackedSet, PackedTable, packed

if TYPE_CHECKING:
    from specrules.record.record_comparison import RecordComparison


class _Spacing(NamedTuple):
    """What stands before a thing, and again for each step that it lies deeper; what stands behind the key of one."""

    line: str
    step: str
    colon: str


_LINES, _ONE_LINE = _Spacing("\n", " ", ": "), _Spacing("", "", ":")


def record_text(record: Record) -> str:
    """The record with a line a set of its tables and a line a column, so that two can be held side by side.

    Ends with a line break.
    """
    return _record(record, _LINES)


def record_line(record: Record) -> str:
    """The whole record in one line, for files of many. Ends with a line break."""
    return _record(record, _ONE_LINE)


def comparison_text(comparison: RecordComparison) -> str:
    """A comparison, a finding or a reading a line. Ends with a line break."""
    return _mapping(_fields(comparison, _LINES, {}), _LINES) + "\n"


def record_data(record: Record) -> dict[str, Any]:
    """A record as mappings, lists, texts, numbers, booleans and None, each finding and reading in it whole."""
    return record.model_dump(mode="json", by_alias=True, exclude_unset=True)


def _record(record: Record, by: _Spacing) -> str:
    own, shared = packed(record)
    tables = {key: "null" if table is None else _table(table, by, 1) for key, table in own.items()}
    common = _mapping(((name, _table(table, by, 2)) for name, table in shared.items()), by, 1)
    return _mapping((*_fields(record, by, tables), ("shared", common)), by) + "\n"


def _fields(record: BaseModel, by: _Spacing, made: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Each key with its JSON, that which is made already or else of what stands there; what is not set is left out."""
    for name, field in type(record).model_fields.items():
        if name in made:
            yield field.alias or name, made[name]
        elif name in record.model_fields_set:
            value = getattr(record, name)
            several = isinstance(value, tuple) and value
            yield field.alias or name, _list(map(_json, value), by, 1) if several else _json(value)


def _table(table: PackedTable, by: _Spacing, deep: int) -> str:
    sets = _list((_set(each, by, deep + 2) for each in table.sets), by, deep + 1) if table.sets else "[]"
    return _mapping((("usual", _json(table.usual)), ("sets", sets)), by, deep)


def _set(of: PackedSet, by: _Spacing, deep: int) -> str:
    """What its things share stands in one line."""
    shared = [f"{_json(key)}:{_json(value)}" for key, value in of.constants.items()]
    columns = (("each", of.each), ("outcomes", of.outcomes))
    lines = [f'"{key}":{_columns(some, by, deep)}' for key, some in columns if some]
    return "{" + f",{by.line}{by.step * deep}".join([",".join(shared), *lines][not shared :]) + "}"


def _columns(columns: Mapping[str, object], by: _Spacing, deep: int) -> str:
    return "{" + _lines((f"{_json(key)}:{_json(cells)}" for key, cells in columns.items()), by, deep) + "}"


def _mapping(items: Iterable[tuple[str, str]], by: _Spacing, deep: int = 0) -> str:
    """A key a line, with the JSON of what stands there."""
    return "{" + _lines((f"{_json(key)}{by.colon}{value}" for key, value in items), by, deep) + "}"


def _list(items: Iterable[str], by: _Spacing, deep: int) -> str:
    return "[" + _lines(items, by, deep) + "]"


def _lines(items: Iterable[str], by: _Spacing, deep: int) -> str:
    end = by.line + by.step * deep
    return f"{end}{by.step}{f',{end}{by.step}'.join(items)}{end}"


def _json(value: object) -> str:
    """Compact JSON. What is not set is what the record leaves out."""
    if isinstance(value, BaseModel):
        return value.model_dump_json(by_alias=True, exclude_unset=True)
    return to_json(value).decode()
