"""Reading records back: of every version, and what is none refused with its place."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from specrules.record import read_record, record_data, record_line, record_text
from specrules.vocabulary import BEYOND, INSIDE, Verdict
from tests.record.texts import FAULTY, JUDGED, OF_VERSION_2, WRONG, as_json

VERSION_3 = {**record_data(read_record(JUDGED)), "specrules": "inspection-record/3"}


@pytest.mark.parametrize("source", [JUDGED, FAULTY], ids=["judged", "faulty"])
def test_what_was_read_is_written_and_read_as_the_same(source: bytes) -> None:
    record = read_record(source)
    for text in (record_text(record), record_line(record)):
        assert read_record(text) == record
        assert read_record(text.encode()) == record
    assert record_text(read_record(record_line(record))) == record_text(record)


def put_suspects_back(suspects: list[Any]) -> None:
    """Suspects as version 1 had them."""
    for suspect in suspects:
        (suspect["said"],) = words_alone([suspect.pop("reason")])


def words_alone(reasons: list[Any]) -> list[str]:
    """Reasons as version 1 had them."""
    assert [(each["code"], each["names"], each["labels"], each["text"]) for each in reasons] == [
        (None, [], [], None)
    ] * len(reasons)
    return [each["said"] for each in reasons]


def loosened(entry: dict[str, Any]) -> dict[str, Any]:
    """An entry of the ledger as versions before 3 had it."""
    assert (entry["code"], entry["section"]) == ("limit widened", "rules")
    assert [entry[key] for key in ("was", "now", "below", "file", "line")] == [None] * 5
    assert entry["said"].startswith(f"{entry['part']} of {entry['name']} widened by {entry['pack']}")
    made = {key: entry[key] for key in ("pack", "stations", "reason")}
    return {"rule": entry["name"], "side": entry["part"], **made}


def test_version_2_is_read_whole_with_what_was_loosened_as_its_ledger() -> None:
    was, made = json.loads(OF_VERSION_2), record_data(read_record(OF_VERSION_2))
    assert len(was["loosened"]) == 2
    assert made["counts"].pop("worn within limit") == 0
    assert made.pop("evidence") == {"judged": 2, "apply": 4, "readings": None, "entered": None}
    assert [made.pop(key) for key in ("seal", "at least", "waiting", "figures hold by")] == [None] * 4
    made["loosened"] = [loosened(each) for each in made.pop("ledger")]
    made["remarks"] = words_alone(made["remarks"])
    put_suspects_back(made["suspects"])
    assert [concession.pop("waits at") for concession in made["concessions"]] == [[]] * len(was["concessions"])
    for finding in was["findings"]:
        finding.pop("gauge cannot decide")
    for finding in made["findings"]:
        assert finding.pop("alternatives") is None
        put_suspects_back(finding["rests on"]["suspect"])
        for line in finding["budget"]:
            (line["cause"],) = words_alone([line["cause"]])
    assert any(finding["notes"] or finding["rests on"]["missing"] for finding in made["findings"])
    assert {**made, "specrules": "inspection-record/2"} == was


@pytest.mark.parametrize("source", [JUDGED, FAULTY], ids=["judged", "faulty"])
def test_version_1_is_read_whole_with_reasons_in_words_alone(source: bytes) -> None:
    was, made = json.loads(source), record_data(read_record(source))
    assert made.pop("whole") is True
    assert (made["counts"].pop("no figure"), made["counts"].pop("worn within limit")) == (0, 0)
    made["specrules"] = "inspection-record/1"
    assert [made.pop(key) for key in ("seal", "at least", "waiting", "figures hold by")] == [None] * 4
    judged = {each["rule"] for each in was["findings"] if each["verdict"] in (*INSIDE, *BEYOND)}
    evidence = made.pop("evidence")
    assert (evidence["judged"], evidence["readings"], evidence["entered"]) == (len(judged), None, None)
    made["loosened"] = [loosened(each) for each in made.pop("ledger")]
    made["remarks"] = words_alone(made["remarks"])
    put_suspects_back(made["suspects"])
    for finding in [*was["findings"]]:
        finding.pop("gauge cannot decide")
    for concession in made["concessions"]:
        assert concession.pop("waits at") == []
    for finding in made["findings"]:
        assert finding.pop("alternatives") is None
        finding["notes"] = words_alone(finding["notes"])
        put_suspects_back(finding["rests on"]["suspect"])
        for line in finding["budget"]:
            (line["cause"],) = words_alone([line["cause"]])
        for key in ("assumed", "stale", "missing"):
            finding["rests on"][key] = words_alone(finding["rests on"][key])
    assert [fault.pop("code") for fault in made["faults"]] == [None] * len(was["faults"])
    assert made == was


def test_the_record_of_version_1_has_every_part_that_a_finding_may_have() -> None:
    findings = json.loads(JUDGED)["findings"]
    assert {each["verdict"] for each in findings} == set(Verdict) - {Verdict.JUST_OUT, Verdict.NO_FIGURE, Verdict.WORN}
    for key in ("notes", "steps", "beside", "budget", "inputs", "would be", "between", "gauge cannot decide", "remedy"):
        assert any(each[key] for each in findings), key
    for key in ("assumed", "stale", "missing", "suspect", "unsigned", "needed rules"):
        assert any(each["rests on"][key] for each in findings), key


def test_a_record_has_its_values_as_attributes_that_stay() -> None:
    record = read_record(JUDGED)
    suspected = next(each for each in record.findings if each.rests_on.suspect)
    assert (suspected.verdict, suspected.would_be) == (Verdict.NOT_PROVEN, Verdict.OUT)
    assert suspected.station == {"cylinder": 6, "ring": "second"}
    assert suspected.rests_on.suspect[0].would_be == 0.0021
    assert suspected.limits.least is not None
    with pytest.raises(ValueError, match="frozen"):
        suspected.limits.least = 0.0
    assert repr(record) == "Record(file='specrules/demo/carousel.sheet.yaml', verdict='held', findings=15)"


@pytest.mark.parametrize("lacking", ["waiting", "figures hold by"])
def test_a_record_of_version_3_from_before_a_key_is_read_as_it_was(lacking: str) -> None:
    was = json.loads(as_json(VERSION_3))
    del was[lacking]
    record = read_record(as_json(was))
    assert record_data(record) == {**was, "specrules": "inspection-record/4"}
    assert lacking not in json.loads(record_text(record))


@pytest.mark.parametrize(("change", "said"), WRONG.values(), ids=WRONG)
def test_what_is_no_record_is_refused_with_its_place(change: Callable[[Any], object], said: str) -> None:
    made = json.loads(as_json(VERSION_3))
    change(made)
    with pytest.raises(ValueError, match="no record is written by hand") as refused:
        read_record(as_json(made))
    assert str(refused.value).startswith(said)


def test_every_fault_is_told_up_to_twenty() -> None:
    made = json.loads(as_json(VERSION_3))
    for finding in made["findings"]:
        finding.update(value="none", unit=0)
    with pytest.raises(ValueError, match="findings") as refused:
        read_record(as_json(made))
    lines = str(refused.value).split("\n")
    assert lines[:2] == [
        "/findings/0/value: input should be a valid number",
        "/findings/0/unit: input should be a valid string",
    ]
    assert lines[20:] == ["and 10 more", lines[-1]]
    assert lines[-1].startswith("no record is written by hand")


NOT_JSON: dict[str, tuple[str | bytes, str]] = {
    "nothing": ("", "line 1, column 1: no JSON"),
    "half of it": ('{"specrules":\n "inspection-record/2', "line 2, column 2: no JSON"),
    "no number": ('{"specrules": NaN}', "NaN is no number of JSON"),
    "a key twice": ('{"specrules": 1, "specrules": 2}', 'the key "specrules" stands twice in one mapping'),
    "no UTF-8": (b'{"\xff": 1}', "byte 3: no UTF-8"),
    "too deep": (
        '{"specrules": "inspection-record/3", "findings": ' + "[" * 100_000,
        "its mappings and lists lie deep",
    ),
    "a number of too many digits": ('{"line": ' + "9" * 5000 + "}", "Exceeds the limit"),
}


@pytest.mark.parametrize(("source", "said"), NOT_JSON.values(), ids=NOT_JSON)
def test_what_is_no_json_is_refused_with_its_place(source: str | bytes, said: str) -> None:
    with pytest.raises(ValueError, match="no record is written by hand") as refused:
        read_record(source)
    assert str(refused.value).startswith(said)


@pytest.mark.parametrize(
    ("source", "said"),
    [
        ("[]", "give a file that `specrules inspect --form json` wrote"),
        ("{}", "give a file that `specrules inspect --form json` wrote"),
        ('{"specrules": "build-sheet/1"}', "give a file that"),
        ('{"specrules": "inspection-record/5"}', "a newer specrules may read it"),
    ],
)
def test_what_has_another_header_is_refused_with_what_to_do(source: str, said: str) -> None:
    with pytest.raises(
        ValueError,
        match="this is no inspection-record/1, inspection-record/2, inspection-record/3 or inspection-record/4",
    ) as refused:
        read_record(source)
    assert said in str(refused.value)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda made: made["findings"][0].update(notes=[1]), "/findings/0/notes/0: input should be a valid string"),
        (lambda made: made["findings"][0].update(notes="none"), "/findings/0/notes: input should be a valid array"),
        (lambda made: made["findings"].insert(0, 1), "/findings/0: input should be an object"),
        (lambda made: made.update(findings=None), "/findings: input should be a valid array"),
        (lambda made: made.update(counts=None), "/counts: input should be an object"),
        (lambda made: made["findings"][0].update({"rests on": 1}), "/findings/0/rests on: input should be an object"),
        (lambda made: made["findings"][0].pop("notes"), '/findings/0: lacks the key "notes"'),
        (lambda made: made.pop("loosened"), 'the record: lacks the key "ledger"'),
    ],
)
def test_what_is_no_record_of_version_1_is_refused(change: Callable[[Any], object], said: str) -> None:
    made = json.loads(JUDGED)
    change(made)
    with pytest.raises(ValueError, match="no record is written by hand") as refused:
        read_record(as_json(made))
    assert str(refused.value).startswith(said)


@pytest.mark.parametrize("part", ["margins", "budget", "inputs", "beside", "steps"])
def test_a_record_is_as_whole_as_it_says(part: str) -> None:
    made = json.loads(as_json(VERSION_3))
    made["findings"][2][part] = None
    with pytest.raises(ValueError, match="findings are not as whole as it says: finding 2"):
        read_record(as_json(made))
    with pytest.raises(ValueError, match="findings are not as whole as it says: finding 0"):
        read_record(as_json({**VERSION_3, "whole": False}))


HOSTILE = "\x1b[31mred\x00\x9b2J\u202egnp\u2028\ufeff</script>\U000e0041"


def test_a_stranger_s_record_is_read_as_harmless_text() -> None:
    made = json.loads(as_json(VERSION_3))
    made["sheet"]["title"] = HOSTILE
    made["findings"][0]["station"] = {HOSTILE: HOSTILE}
    record = read_record(as_json(made))
    harmless = "\\x1b[31mred\\x00\\x9b2J\\u202egnp\\u2028\\ufeff</script>\\U000e0041"
    assert record.sheet.title == harmless
    assert record.findings[0].station == {harmless: harmless}
    assert set(record_text(record)) & (set(HOSTILE) - set("[31mred2JgnpA</script>")) == set()


def test_a_lone_surrogate_is_refused() -> None:
    """RFC 8259, section 8.2, leaves open what becomes of them."""
    made = json.loads(as_json(VERSION_3))
    made["sheet"]["title"] = "\ud800"
    with pytest.raises(ValueError, match="no record is written by hand"):
        read_record(as_json(made))
