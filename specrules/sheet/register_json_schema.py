"""The JSON Schema of a shop's register of gauges, for editors."""

from __future__ import annotations

from specrules.sheet.sheet_model import RegisterFile
from specrules.validation.editors import Schema, schema_of


def register_schema() -> Schema:
    """The JSON Schema of a register of gauges."""
    return schema_of(RegisterFile, "Register of gauges")
