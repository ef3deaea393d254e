"""The schema of the record takes records and refuses what is none, just as the reader does."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from specrules.record import read_record, record_text
from specrules.record.record_json_schema import record_schema
from specrules.vocabulary import Why
from tests.record.texts import FAULTY, IN_TABLES_WRONG, JUDGED, TABLES_WRONG, WRONG, WRONG_BESIDE_TABLES, as_json

SCHEMA = record_schema()
VALIDATOR = Draft202012Validator(SCHEMA)


@pytest.mark.second_lane
def test_it_is_a_schema_of_draft_2020_12() -> None:
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("source", [JUDGED, FAULTY], ids=["judged", "faulty"])
def test_the_schema_takes_records(source: bytes) -> None:
    assert list(VALIDATOR.iter_errors(json.loads(record_text(read_record(source))))) == []


BEYOND_A_SCHEMA = {
    "a short column": "columns of one length",
    "no outcome of that number": "a number of something that is there",
    "lists that differ": "lists of one length",
}
"""What the reader holds and no schema can."""
REFUSED = {name: change for name, (change, _) in {**TABLES_WRONG, **IN_TABLES_WRONG}.items()} | {
    name: change for name, (change, _) in WRONG.items() if name in WRONG_BESIDE_TABLES
}


@pytest.mark.second_lane
@pytest.mark.parametrize("what", REFUSED)
def test_the_schema_refuses_what_the_reader_refuses(what: str) -> None:
    made = json.loads(record_text(read_record(JUDGED)))
    REFUSED[what](made)
    assert bool(list(VALIDATOR.iter_errors(json.loads(as_json(made))))) is (what not in BEYOND_A_SCHEMA)


def objects(schema: Any) -> Iterator[dict[str, Any]]:
    """Every part of a schema that describes a mapping with keys of its own."""
    if isinstance(schema, dict):
        if "properties" in schema:
            yield schema
        for part in schema.values():
            yield from objects(part)
    elif isinstance(schema, list):
        for part in schema:
            yield from objects(part)


def test_every_mapping_is_closed_and_every_key_described() -> None:
    found = list(objects(SCHEMA))
    assert len(found) > 20
    for each in found:
        assert each["additionalProperties"] is False, each.get("title")
        for key, part in each["properties"].items():
            assert {"description", "$ref"} & {*part, *part.get("items", {})}, (each.get("title"), key)
            assert "_" not in key


def test_every_code_of_a_reason_stands_in_it() -> None:
    assert SCHEMA["$defs"]["Why"]["enum"] == [code.value for code in Why]
