"""The schemas under schemas/ are those of the models, are schemas by their own standard, and explain every key."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from specrules.schemas import DIALECT, FOLDER, schema_for, schemas, text_of, write
from tests.shipped import resolved

MADE = schemas()
NAMES = sorted(MADE)


def test_the_folder_holds_these_schemas_and_no_others() -> None:
    assert sorted(path.name for path in FOLDER.iterdir()) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_what_ships_is_what_the_models_give(name: str) -> None:
    """Else run `python -m specrules.schemas`."""
    assert json.loads((FOLDER / name).read_text(encoding="utf-8")) == json.loads(text_of(MADE[name]))


def test_they_are_written_where_they_are_asked_for(tmp_path: Path) -> None:
    write(tmp_path / "new")
    assert {path.name: path.read_bytes() for path in (tmp_path / "new").iterdir()} == {
        path.name: path.read_bytes() for path in FOLDER.iterdir()
    }


def every() -> list[Any]:
    return [pytest.param(MADE[name], id=name) for name in NAMES] + [
        pytest.param(schema_for(resolved("towing")), id="sheets on towing")
    ]


@pytest.mark.second_lane
@pytest.mark.parametrize("schema", every())
def test_each_is_a_schema_of_the_dialect_that_it_names(schema: dict[str, Any]) -> None:
    """JSON Schema 2020-12, Core, section 8.1.1; the validator holds it against the published meta-schema."""
    assert schema["$schema"] == DIALECT == Draft202012Validator.META_SCHEMA["$id"]
    Draft202012Validator.check_schema(schema)


def parts(schema: Any, path: str = "#") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every schema inside a schema, with its place."""
    yield path, schema
    for key in ("properties", "patternProperties", "$defs"):
        for name, part in schema.get(key, {}).items():
            yield from parts(part, f"{path}/{key}/{name}")
    for key in ("items", "additionalProperties"):
        if isinstance(schema.get(key), dict):
            yield from parts(schema[key], f"{path}/{key}")
    for key in ("anyOf", "prefixItems"):
        for number, part in enumerate(schema.get(key, ())):
            yield from parts(part, f"{path}/{key}/{number}")


@pytest.mark.parametrize("schema", every()[:-1])
def test_every_key_is_explained(schema: dict[str, Any]) -> None:
    bare = [
        f"{path}/{name}"
        for path, part in parts(schema)
        for name, key in part.get("properties", {}).items()
        if not key.get("description")
    ]
    assert bare == []


@pytest.mark.parametrize("schema", every())
def test_every_mapping_says_what_else_it_may_hold(schema: dict[str, Any]) -> None:
    """A mapping whose keys are known is closed; one whose keys are free says what stands under them."""
    loose = [path for path, part in parts(schema) if "properties" in part and "additionalProperties" not in part]
    assert loose == []


@pytest.mark.parametrize("schema", every())
def test_every_reference_leads_somewhere_and_nothing_is_left_over(schema: dict[str, Any]) -> None:
    used = {part["$ref"] for _, part in parts(schema) if "$ref" in part}
    assert used == {f"#/$defs/{name}" for name in schema["$defs"]}
