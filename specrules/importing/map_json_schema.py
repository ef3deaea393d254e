"""The JSON Schema of an import map, for editors."""

from __future__ import annotations

from specrules.importing.import_map import ImportMap
from specrules.validation.editors import Schema, schema_of


def import_map_schema() -> Schema:
    """The JSON Schema of an import map."""
    return schema_of(ImportMap, "Import map")
