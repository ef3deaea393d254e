"""A record as text: the same record gives the same bytes, in UTF-8."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pydantic import BaseModel
from pydantic_core import to_json

from specrules.record.inspection_record import Record

if TYPE_CHECKING:
    from specrules.record.record_comparison import RecordComparison


def record_text(record: Record) -> str:
    """One finding a line, so that two records can be held side by side. Ends with a line break."""
    return _lines(record)


def _lines(record: BaseModel) -> str:
    fields = [(name, field) for name, field in type(record).model_fields.items() if name in record.model_fields_set]
    body = ",\n".join(f" {_json(field.alias)}: {_body(getattr(record, name))}" for name, field in fields)
    return f"{{\n{body}\n}}\n"


def comparison_text(comparison: RecordComparison) -> str:
    """A comparison, a finding or a reading a line. Ends with a line break."""
    return _lines(comparison)


def record_line(record: Record) -> str:
    """The whole record in one line, for files of many. Ends with a line break."""
    return _json(record) + "\n"


def record_data(record: Record) -> dict[str, Any]:
    """What a reader of its JSON gets: mappings, lists, texts, numbers, booleans and None, as its schema has them."""
    return record.model_dump(mode="json", by_alias=True, exclude_unset=True)


def _body(value: object) -> str:
    if isinstance(value, tuple) and value:
        return "[\n" + ",\n".join(f"  {_json(item)}" for item in value) + "\n ]"
    return _json(value)


def _json(value: object) -> str:
    """Compact JSON. What is not set is what the record leaves out."""
    if isinstance(value, BaseModel):
        return value.model_dump_json(by_alias=True, exclude_unset=True)
    return to_json(value).decode()
