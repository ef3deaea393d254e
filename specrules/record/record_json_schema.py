"""The JSON Schema of a record, out of its model."""

from __future__ import annotations

from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from specrules.record.inspection_record import Record
from specrules.record.record_comparison import RecordComparison
from specrules.validation.editors import DIALECT, ForEditors, Schema


class _RecordSchema(ForEditors):
    """Null is written in a record, where a person would leave the key out."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        return GenerateJsonSchema.nullable_schema(self, schema)


def comparison_schema() -> Schema:
    """The JSON Schema of two records held against each other."""
    made: dict[str, Any] = RecordComparison.model_json_schema(schema_generator=_RecordSchema)
    return {"$schema": DIALECT, **made}


def record_schema() -> Schema:
    """The JSON Schema of a record."""
    made: dict[str, Any] = Record.model_json_schema(schema_generator=_RecordSchema)
    return {"$schema": DIALECT, **made}
