"""The schemas that ship, written from the models: `python -m specrules.schemas [FOLDER]`."""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping
from pathlib import Path

from specrules.importing.import_map import ImportMap
from specrules.pack.pack_json_schema import pack_schema
from specrules.pack.stack_schema import pack_schema_on
from specrules.record.record_json_schema import comparison_schema, record_schema
from specrules.sheet.register_json_schema import register_schema
from specrules.sheet.sheet_json_schema import sheet_schema as build_sheet_schema
from specrules.sheet.specification_schema import schema_for
from specrules.study.study_model import StudyFile
from specrules.validation.editors import DIALECT, Schema, schema_of

__all__ = [
    "DIALECT",
    "MARK",
    "build_sheet_schema",
    "pack_schema",
    "pack_schema_on",
    "record_schema",
    "schema_for",
    "schemas",
    "text_of",
    "write",
]

MARK = f'{{\n "$schema": "{DIALECT}"'
"""What every schema begins with."""
FOLDER = Path(__file__).parents[1] / "schemas"


def schemas() -> Mapping[str, Schema]:
    """Every schema that ships, by the name of its file."""
    return {
        "tolerance-pack.schema.json": pack_schema(),
        "build-sheet.schema.json": build_sheet_schema(),
        "gauges.schema.json": register_schema(),
        "gauge-study.schema.json": schema_of(StudyFile, "Gauge study"),
        "import-map.schema.json": schema_of(ImportMap, "Import map"),
        "inspection-record.schema.json": record_schema(),
        "record-comparison.schema.json": comparison_schema(),
    }


def text_of(schema: Schema) -> str:
    """A schema as it stands in its file."""
    return json.dumps(schema, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def write(folder: Path = FOLDER) -> None:
    """Write them all anew."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, schema in schemas().items():
        (folder / name).write_text(text_of(schema), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    write(*map(Path, sys.argv[1:2]))
