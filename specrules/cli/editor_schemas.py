"""The schema by which an editor checks and completes a new file, beside the file, and the line that names it there.

The line is one that common YAML editors read, with a path to the folder `.specrules` beside the file: nothing is
fetched, and nothing is named that is not there. It is one file for all sheets of the same packs, and no inspection
writes it anew.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from specrules.document.safe_text import safe_json
from specrules.effects.files import NotWritten, WholeFile, unless_ours
from specrules.pack import Specification

FOLDER = ".specrules"
"""Where schemas stand, in the folder of the files that they are for."""
NO_SCHEMA = click.option("--no-schema", is_flag=True, help="Write no schema beside it, by which an editor checks it.")


def with_schema(text: str, path: Path, spec: Specification | None, names: Sequence[str], kind: str = "sheet") -> str:
    """A new file's text, the line at its head by which editors find the schema of a sheet or a pack on these packs.

    The schema is written beside it, or anew where one of this program's stands there. Where it cannot be, the text
    stays without the line: nothing is named that is not there.
    """
    from specrules.schemas import MARK, build_sheet_schema, pack_schema, pack_schema_on, schema_for, text_of

    if spec is None:
        schema = build_sheet_schema() if kind == "sheet" else pack_schema()
    else:
        schema = schema_for(spec) if kind == "sheet" else pack_schema_on(spec)
    name = f"{'-'.join(map(str, names)) or 'any'}.{kind}.schema.json"
    try:
        with WholeFile(path.parent / FOLDER / name, unless_ours([MARK], tuple, replace=False)) as file:
            file.write(safe_json(text_of(schema)).encode("utf-8"))
    except NotWritten:
        return text
    return f"# yaml-language-server: $schema={FOLDER}/{name}\n{text}"
