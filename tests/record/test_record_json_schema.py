"""The schema of the record takes records and refuses what is none, just as the reader does."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from specrules.record import read_record, record_data
from specrules.record.record_json_schema import record_schema
from specrules.vocabulary import Why
from tests.record.texts import FAULTY, JUDGED, WRONG, as_json

SCHEMA = record_schema()
VALIDATOR = Draft202012Validator(SCHEMA)


def test_it_is_a_schema_of_draft_2020_12() -> None:
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("source", [JUDGED, FAULTY], ids=["judged", "faulty"])
def test_the_schema_takes_records(source: bytes) -> None:
    assert list(VALIDATOR.iter_errors(record_data(read_record(source)))) == []


@pytest.mark.second_lane
@pytest.mark.parametrize("change", [change for change, _ in WRONG.values()], ids=WRONG)
def test_the_schema_refuses_what_the_reader_refuses(change: Callable[[Any], object]) -> None:
    made = record_data(read_record(JUDGED))
    change(made)
    assert list(VALIDATOR.iter_errors(json.loads(as_json(made)))) != []


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
            assert "description" in part or "$ref" in part, (each.get("title"), key)
            assert "_" not in key


def test_every_code_of_a_reason_stands_in_it() -> None:
    assert SCHEMA["$defs"]["Why"]["enum"] == [code.value for code in Why]
