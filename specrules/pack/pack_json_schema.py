"""The JSON Schema of a tolerance pack's file, for editors."""

from __future__ import annotations

from specrules.pack.pack_model import pack_file
from specrules.validation.editors import Schema, schema_of


def pack_schema() -> Schema:
    """The JSON Schema of a tolerance pack's file."""
    return schema_of(pack_file(), "Tolerance pack", line="PackLineEntry")
