"""A record as text: a line a column, or all in one line; always the same bytes, and JSON as RFC 8259 has it."""

from __future__ import annotations

import json

from hypothesis import given
from hypothesis import strategies as st

from specrules.document.safe_text import safe
from specrules.record import ReasonRecord, read_record, record_data, record_line, record_text
from specrules.record.inspection_record import ToolRecord
from tests.record.texts import FAULTY, JUDGED

RECORD = read_record(JUDGED)


def test_a_text_has_a_line_a_set_and_one_a_column() -> None:
    lines = record_text(RECORD).split("\n")
    assert lines[0] == "{"
    assert lines[1] == ' "specrules": "inspection-record/4",'
    assert lines[2] == ' "tool": {"version":"1.0.0"},'
    assert lines[-2:] == ["}", ""]
    begins = [line for line in lines if line.startswith('   {"rule":"')]
    assert [json.loads(line.rstrip(",") + "}")["rule"] for line in begins] == list(
        dict.fromkeys(each.rule for each in RECORD.findings)
    )
    columns = [line for line in lines if line.startswith('    "verdict":')]
    assert [each for line in columns for each in json.loads(f"{{{line.rstrip(',')}}}")["verdict"]] == [
        each.verdict for each in RECORD.findings
    ]
    assert ' "remarks": [],' in lines


def test_a_line_is_the_whole_record_in_one() -> None:
    line = record_line(RECORD)
    assert line.endswith("}\n")
    assert line.count("\n") == 1
    assert json.loads(line) == json.loads(record_text(RECORD))


def test_lines_put_together_are_a_file_of_records() -> None:
    text = record_line(RECORD) + record_line(read_record(FAULTY))
    assert [read_record(line) for line in text.splitlines()] == [RECORD, read_record(FAULTY)]


def test_what_is_not_known_is_null_or_left_out_where_it_is_optional() -> None:
    data = record_data(RECORD)
    assert data["findings"][0]["side"] is None
    assert list(data["findings"][0]["source"]) == ["kind", "note"]
    assert "low" not in data["findings"][0]["inputs"][0]


@given(st.text(st.characters(codec=None)))
def test_any_text_stands_in_a_record_as_one_that_steers_nothing(text: str) -> None:
    made = ToolRecord(version=text)
    assert made.version == safe(text)
    assert json.loads(made.model_dump_json()) == {"version": safe(text), "plugins": []}


def test_the_data_of_a_record_are_plain() -> None:
    reason = ReasonRecord(code=None, names=("a", "b"), labels=(), text=None, said="a, b")
    assert reason.model_dump(mode="json") == {
        "code": None,
        "names": ["a", "b"],
        "labels": [],
        "text": None,
        "said": "a, b",
    }
    assert type(record_data(RECORD)["findings"][0]["verdict"]) is str
