"""The schemas that ship, written from the models: `python -m specrules.output.schemas [FOLDER]`."""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping
from pathlib import Path

from specrules.output.record_schema import record_schema
from specrules.pack.schema import Schema, pack_schema
from specrules.sheet.schema import sheet_schema

FOLDER = Path(__file__).parents[2] / "schemas"


def schemas() -> Mapping[str, Schema]:
    """Every schema that ships, by the name of its file."""
    return {
        "tolerance-pack.schema.json": pack_schema(),
        "build-sheet.schema.json": sheet_schema(),
        "inspection-record.schema.json": record_schema(),
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
