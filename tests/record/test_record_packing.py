"""What repeats in a record is said once, and nothing of it is lost: real records, and any mixture of their findings."""

from __future__ import annotations

import json
from collections import Counter
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

import specrules
from specrules.output.records_page import record_page
from specrules.output.report_record import record_for
from specrules.record import FindingRecord, Record, read_record, record_line, record_text
from specrules.record.finding_record import MarginsRecord, OtherWayRecord
from specrules.record.record_json_schema import record_schema
from specrules.record.record_packing import packed
from specrules.record.record_part import ReasonRecord
from tests.record.texts import FAULTY, JUDGED, OF_VERSION_2

DEMO = Path(specrules.__file__).parent / "demo" / "carousel.sheet.yaml"
VALIDATOR = Draft202012Validator(record_schema())
BASE = read_record(JUDGED)
MOST = 250_000
"""Bytes that the demo's record may have."""


def written(record: Record) -> str:
    """A record as it is written, by either form the same again when it is read."""
    text = record_text(record)
    assert read_record(text) == record
    assert read_record(record_line(record)) == record
    assert record_text(read_record(text)) == text
    return text


def valid(text: str) -> bool:
    return not list(VALIDATOR.iter_errors(json.loads(text)))


@cache
def demo() -> Record:
    return record_for("carousel.sheet.yaml", specrules.examine(DEMO), (), "1.0.0")


@pytest.mark.second_lane
def test_the_demo_s_record_is_small_and_nothing_of_it_is_lost() -> None:
    text = written(demo())
    assert len(text.encode()) < MOST
    assert valid(text)
    assert len(demo().findings) == 500
    assert record_page(read_record(text)) == record_page(demo())


@pytest.mark.second_lane
def test_a_text_that_all_stations_of_a_rule_say_stands_once() -> None:
    text = record_text(demo())
    cautions = {each.rule: each.caution for each in demo().findings if each.caution and len(each.caution) > 60}
    assert len(cautions) > 40
    for said, rules in Counter(cautions.values()).items():
        assert text.count(json.dumps(said, ensure_ascii=False)) == rules


@pytest.mark.parametrize("source", [JUDGED, OF_VERSION_2, FAULTY], ids=["1", "2", "faults"])
def test_older_records_are_written_as_version_4(source: bytes) -> None:
    text = written(read_record(source))
    assert valid(text)
    assert json.loads(text)["specrules"] == "inspection-record/4"


REASONS = st.builds(
    lambda names, labels, said: ReasonRecord(code=None, names=names, labels=labels, text=None, said=said),
    st.lists(st.sampled_from(["a", "b c"]), max_size=2),
    st.lists(st.sampled_from(["1", "2", "top", "", " "]), max_size=2),
    st.text("ab12 ,", max_size=6),
)
AXES = st.text(st.characters(codec=None), max_size=4)
LABELS = st.one_of(st.integers(0, 3), st.sampled_from(["top", "0", "true", ""]), st.text(max_size=2))
NUMBERS = st.one_of(st.none(), st.sampled_from([0.0, 1.0, -1.5, 1e-9, 0.1, 0.30000000000000004]))
PAIRS = st.one_of(st.none(), st.tuples(NUMBERS, NUMBERS))
CHANGES = st.fixed_dictionaries(
    {},
    optional={
        "rule": st.sampled_from(["first", "second"]),
        "station": st.dictionaries(AXES, LABELS, max_size=2),
        "value": NUMBERS,
        "range": PAIRS,
        "caution": st.one_of(st.none(), st.text(st.characters(codec=None), min_size=1, max_size=3)),
        "margins": st.builds(lambda least: MarginsRecord.of({"least": least}), PAIRS),
        "notes": st.lists(REASONS, max_size=3).map(tuple),
        "other_ways": st.lists(
            st.builds(lambda value: OtherWayRecord(way="b", value=value, U=None, agrees=None), NUMBERS), max_size=2
        ).map(tuple),
    },
)
FINDINGS = st.builds(
    lambda finding, change: FindingRecord.of({**dict(finding), **change}), st.sampled_from(BASE.findings), CHANGES
)


@given(st.lists(FINDINGS, max_size=6), st.lists(REASONS, max_size=2))
def test_whatever_findings_a_record_has_it_is_the_same_when_it_is_read(
    findings: list[FindingRecord], remarks: list[ReasonRecord]
) -> None:
    written(mixed(findings, remarks))


@pytest.mark.second_lane
@given(st.lists(FINDINGS, max_size=6), st.lists(REASONS, max_size=2))
def test_whatever_findings_a_record_has_it_is_written_by_its_schema(
    findings: list[FindingRecord], remarks: list[ReasonRecord]
) -> None:
    assert valid(record_text(mixed(findings, remarks)))


def mixed(findings: list[FindingRecord], remarks: list[ReasonRecord]) -> Record:
    inputs = [each for finding in findings for each in finding.inputs or ()]
    suspects = [each for finding in findings for each in finding.rests_on.suspect]
    parts = {"findings": findings, "readings": inputs[:3], "suspects": suspects[:1], "remarks": remarks}
    return Record.of({**dict(BASE), **parts})


def test_alike_findings_share_an_outcome_and_unlike_ones_do_not() -> None:
    one = BASE.findings[0]
    places = [FindingRecord.of({**dict(one), "rule": "r", "station": {"place": place}}) for place in (1, 2, 3)]
    far = FindingRecord.of({**dict(places[1]), "value": 9.0})
    own, _ = packed(Record.of({**dict(BASE), "findings": (places[0], far, places[2])}))
    assert own["findings"] is not None
    (only,) = own["findings"].sets
    assert only.each["station place"] == [1, 2, 3]
    assert only.each["outcome"] == [0, 1, 0]
    assert only.outcomes["value"] == [one.value, 9.0]


def test_what_most_sets_say_is_said_for_all() -> None:
    rules = [FindingRecord.of({**dict(BASE.findings[0]), "rule": rule, "way": way}) for rule, way in WAYS.items()]
    own, _ = packed(Record.of({**dict(BASE), "findings": rules}))
    assert own["findings"] is not None
    assert own["findings"].usual["way"] == "a"
    assert [each.constants.get("way", "as usual") for each in own["findings"].sets] == ["as usual", "as usual", "b"]


WAYS = {"first": "a", "second": "a", "third": "b"}


def test_reasons_that_differ_by_their_labels_share_their_words() -> None:
    reasons = [
        ReasonRecord(code=None, names=("bore",), labels=(place, "top"), text=None, said=f"reading bore {place} top")
        for place in ("1", "2")
    ]
    finding = FindingRecord.of({**dict(BASE.findings[0]), "notes": reasons})
    _, shared = packed(Record.of({**dict(BASE), "findings": (finding,)}))
    (of_bore,) = [each for each in shared["reasons"].sets if each.constants.get("names") == ("bore",)]
    assert of_bore.constants["said"] == ["reading bore ", 0, " top"]
    assert of_bore.each == {"labels": [("1", "top"), ("2", "top")]}
