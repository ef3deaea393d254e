"""The JSON record: valid by its schema, whole, the same every time, and no way out for what a file says."""

from __future__ import annotations

import json
from collections.abc import Callable
from copy import deepcopy
from dataclasses import replace
from decimal import Decimal
from functools import cache
from typing import Any, NoReturn

import pytest
from jsonschema import Draft202012Validator  # type: ignore[import-untyped]

import specrules.output.record as written
from specrules.document import Fault, Place
from specrules.inspection import Inspection, Options, Verdict, inspect
from specrules.output.record import record, record_of_faults, records, text
from specrules.output.record_schema import record_schema
from specrules.pack import Stack, stack
from specrules.pack.library import Library
from specrules.sheet import read_sheet, settle

VERDICTS = {"in spec", "just in", "just out", "out of spec", "not proven", "not measured", "not applicable"}

SHEET = """\
specrules: build-sheet/1
build: {title: A bench engine, job: R-7}
packs: [street]
unit: in
facts: {mains: 5, cylinders: 8, block_material: iron, induction: natural}
gauges:
  mic 2-3: {class: outside micrometer, zero: {standard: 2.0000, reads: 2.0001}}
readings:
  main_bearing_bore:
    taken: 2026-10-01
    1: [2.4525, 2.4526]
    2: [2.4524, 2.4525]
    3: [2.4505, 2.4506]
    4: [2.4525, 2.4526]
    5: [2.4525, 2.4526]
  main_journal:
    gauge: mic 2-3
    1: [2.4501, 2.4501, 2.4500, 2.4501]
    2: [2.4501, 2.4501, 2.4500, 2.4501]
    3: [2.4501, 2.4501, 2.4500, 2.4501]
    4: [2.4751, 2.4501, 2.4500, 2.4501]
    5: {front: {a: 2.4501}}
  ring_end_gap: {1: {top: 0.018..0.019, second: under 0.002}}
signed:
  caps_torqued_dry_shells: {by: ab, on: 2026-10-01}
  fasteners_lubricated_as_specified: {by: ab, on: 2026-10-01}
concessions:
  - {rule: main_oil_clearance, at: {main: 3}, reason: "thin oil, tried before", by: cd, on: 2026-10-02}
"""


@cache
def packs() -> Stack:
    found, faults = Library([]).load(["street"])
    made, more = stack(found, ["street"])
    assert made is not None, [fault.sentence() for fault in (*faults, *more)]
    return made


@cache
def inspection(decision: str = "") -> Inspection:
    raw, faults = read_sheet(SHEET, "a.sheet.yaml")
    assert raw is not None, faults
    sheet, faults = settle(raw, packs())
    assert sheet is not None, [fault.sentence() for fault in faults]
    return inspect(sheet, packs(), Options(decision=decision, until="dry_fit"))


def as_read(made: str) -> Any:
    """JSON as RFC 8259 has it: without NaN and Infinity."""

    def refuse(constant: str) -> NoReturn:
        raise AssertionError(f"{constant} is no JSON")

    return json.loads(made, parse_constant=refuse)


def wrong(made: object) -> list[str]:
    return [
        f"{each.json_path}: {each.message[:150]}" for each in Draft202012Validator(record_schema()).iter_errors(made)
    ]


def finding(made: dict[str, Any], rule: str, **station: int | str) -> dict[str, Any]:
    found: list[dict[str, Any]] = [f for f in made["findings"] if f["rule"] == rule and f["station"] == station]
    assert len(found) == 1
    return found[0]


@pytest.mark.parametrize("decision", ["simple", "guarded"])
def test_a_record_is_valid_and_reads_back(decision: str) -> None:
    made = record(inspection(decision), "1.0.0")
    read = as_read(text(made))
    assert read == made
    assert wrong(read) == []
    assert read["decision"] == decision


def test_every_rule_is_listed_at_every_station() -> None:
    made, judged = record(inspection(), "1.0.0"), inspection()
    assert {each["rule"] for each in made["findings"]} == set(packs().rules)
    assert len(made["findings"]) == len(judged.findings)
    assert set(made["counts"]) == VERDICTS
    assert sum(made["counts"].values()) == len(made["findings"])
    for verdict in VERDICTS:
        assert made["counts"][verdict] == sum(each["verdict"] == verdict for each in made["findings"])
    assert {each["name"] for each in made["sign-offs"]} == set(packs().sign_offs)
    assert {each["name"] for each in made["figures"]} <= set(packs().figures)


def test_a_finding_has_the_numbers_of_its_sheet() -> None:
    """Worked by hand: 2.4524 - (2.4501 - 0.0001) = 0.0024, the gauge reading 0.0001 too much."""
    made = finding(record(inspection(), "1.0.0"), "main_oil_clearance", main=2)
    assert made["value"] == 0.0024
    assert made["unit"] == "in"
    assert made["range"] == [0.0024, 0.0026]
    assert made["between"] is None
    assert made["rests on"]["readings"] == "6 of 6"
    assert made["rests on"]["gauges"] == ["mic 2-3"]
    least, most = made["limits"]["least"], made["limits"]["most"]
    assert made["margins"]["least"][0] == pytest.approx(0.0024 - least, abs=1e-11)
    assert made["margins"]["most"][0] == pytest.approx(most - 0.0024, abs=1e-11)
    assert made["conformance"] is None
    assert made["source"]["kind"] == "common practice"


def test_an_input_says_what_was_written_and_where() -> None:
    inputs = finding(record(inspection(), "1.0.0"), "main_oil_clearance", main=2)["inputs"]
    first = next(each for each in inputs if each["name"] == "main_journal")
    assert first == {
        "name": "main_journal",
        "station": {"main": 2},
        "position": {"plane": "front", "clock": "a"},
        "value": 2.45,
        "unit": "in",
        "U": None,
        "gauge": "mic 2-3",
        "text": "2.4501",
        "line": SHEET[: SHEET.index("    2: [2.4501")].count("\n") + 1,
    }


def test_a_bracket_is_a_range_open_or_not() -> None:
    made = record(inspection(), "1.0.0")
    inputs = [each for f in made["findings"] for each in f["inputs"] if each["name"] == "ring_end_gap"]
    by_text = {each["text"]: each for each in inputs}
    assert (by_text["0.018..0.019"]["value"], by_text["0.018..0.019"]["low"]) == (None, 0.018)
    assert by_text["0.018..0.019"]["high"] == 0.019
    assert (by_text["under 0.002"]["low"], by_text["under 0.002"]["high"]) == (None, 0.002)
    between = [f["between"] for f in made["findings"] if f["inputs"] and f["inputs"][0] in inputs]
    middle = finding(made, "ring_end_gap", cylinder=1, ring="top")
    assert middle["value"] == 0.0185
    assert middle["U"] > 0
    assert [None, 0.002] in between


def test_a_value_beyond_says_by_how_much_what_to_do_and_who_permits_it() -> None:
    """Worked by hand: 2.4505 - (2.4501 - 0.0001) = 0.0005, far under any least of the pack."""
    whole = record(inspection(), "1.0.0")
    made = finding(whole, "main_oil_clearance", main=3)
    assert (made["verdict"], made["side"], made["statement"]) == ("out of spec", "tight", "fail")
    assert made["beyond"] == pytest.approx(made["limits"]["least"] - 0.0005, abs=1e-11)
    assert made["margins"]["least"][0] == -made["beyond"]
    assert made["conceded"] is True
    assert made["holds"] is False
    assert [step["do"] for step in made["steps"]] != []
    for step in made["steps"]:
        assert step["do"].split(",")[0] in made["remedy"]
        assert step["verdict"] in VERDICTS
    assert made["because"]
    (concession,) = whole["concessions"]
    assert (concession["by"], concession["used at"]) == ("cd", [{"main": 3}])


def test_a_suspect_reading_is_said_with_the_verdict_that_there_would_be() -> None:
    """Worked by hand: one turn of an inch thimble is 0.025, and the gauge reads 0.0001 too much."""
    whole = record(inspection(), "1.0.0")
    made = finding(whole, "main_oil_clearance", main=4)
    assert (made["verdict"], made["would be"]) == ("not proven", "out of spec")
    turned = next(each for each in made["rests on"]["suspect"] if each["kind"] == "thimble turn")
    assert turned in whole["suspects"]
    assert (turned["name"], turned["text"], turned["would be"]) == ("main_journal", "2.4751", 2.45)
    assert (turned["station"], turned["position"]) == ({"main": 4}, {"plane": "front", "clock": "a"})
    assert turned["labels"] == [4, "front", "a"]
    assert turned["line"] == SHEET[: SHEET.index("2.4751")].count("\n") + 1


def test_what_holds_is_marked_so() -> None:
    judged = inspection()
    marked = [each for each in record(judged, "1.0.0")["findings"] if each["holds"]]
    assert [(each["rule"], each["station"]) for each in marked] == [
        (each.rule, {axis: int(name) if name.isdecimal() else name for axis, name in each.station.items()})
        for each in judged.held
    ]


def test_several_packs_stand_beside_each_other() -> None:
    made = record(inspection(), "1.0.0")
    assert [each["name"] for each in made["packs"]] == ["general", "street"]
    assert {each["pack"] for f in made["findings"] for each in f["beside"]} == {"general"}


def test_the_same_inspection_gives_the_same_bytes() -> None:
    first = text(record(inspection(), "1.0.0"))
    inspection.cache_clear()
    assert text(record(inspection(), "1.0.0")) == first


def test_a_text_is_one_line_a_finding_and_ends_with_one_line_break() -> None:
    made = record(inspection(), "1.0.0")
    lines = text(made).split("\n")
    assert lines[-1] == ""
    assert lines[-2] == "}"
    assert sum(line.startswith('  {"rule": ') and '"verdict": ' in line for line in lines) == len(made["findings"])


HOSTILE = "\x1b[31mred\x00\x9b2J\u202egnp\u2028\ud800\ufeff</script>\U000e0041"


def test_nothing_in_a_text_steers_who_reads_it() -> None:
    """Controls (ECMA-48), bidirectional marks (Unicode Standard Annex 9), lone surrogates (RFC 8259, section 8.2)."""
    judged = inspection()
    slipped = replace(judged.findings[0], because=HOSTILE, notes=(HOSTILE,), station={"main": HOSTILE})
    hostile = replace(judged, title=HOSTILE, build={"job": HOSTILE}, findings=(slipped,), remarks=(HOSTILE,))
    made = text(record(hostile, HOSTILE, [Fault(Place(HOSTILE, 1, 1), HOSTILE, HOSTILE)]))
    made.encode("utf-8")
    assert not set(HOSTILE) - set("[31mred2JgnpA</script>") & set(made)
    read = as_read(made)
    assert wrong(read) == []
    assert read["sheet"]["title"].startswith("\\x1b[31mred\\x00")


def test_a_number_that_is_none_is_refused_and_never_written() -> None:
    made = record(inspection(), "1.0.0")
    for bad in (float("nan"), float("inf")):
        made["findings"][0]["value"] = bad
        with pytest.raises(ValueError, match="JSON"):
            text(made)


def test_a_value_too_large_is_null() -> None:
    judged = inspection()
    huge = replace(judged.findings[0], value=Decimal("1e600"), low=None, high=None)
    made = record(replace(judged, findings=(huge,)), "1.0.0")
    assert made["findings"][0]["value"] is None
    assert wrong(as_read(text(made))) == []


FAULTS = (
    Fault(Place("b.sheet.yaml", 34, 5), "main_journal 3", '"2,4990" has a comma', "2.4990"),
    Fault(Place("b.sheet.yaml", 0, 0), "", "cannot be read", kind="file"),
)


def test_a_sheet_that_cannot_be_read_has_a_record_too() -> None:
    made = as_read(text(record_of_faults(FAULTS, "1.0.0", "b.sheet.yaml", "0" * 64)))
    assert wrong(made) == []
    assert made["verdict"] == "not inspected"
    assert set(made["counts"]) == VERDICTS
    assert set(made["counts"].values()) == {0}
    first, second = made["faults"]
    assert (first["line"], first["column"], first["write"]) == (34, 5, "2.4990")
    assert first["sentence"] == FAULTS[0].sentence()
    assert (second["line"], second["column"], second["kind"]) == (None, None, "file")


def test_a_record_has_the_same_keys_whatever_came_of_it() -> None:
    judged, unread = record(inspection(), "1.0.0"), record_of_faults(FAULTS, "1.0.0", "b.sheet.yaml")
    assert list(judged) == list(unread)


def test_several_sheets_are_a_list_of_records_and_one_is_a_record() -> None:
    both = as_read(records([("a", inspection(), ()), ("b", None, FAULTS)], "1.0.0"))
    assert [each["verdict"] for each in both] == [inspection().verdict, "not inspected"]
    assert [wrong(each) for each in both] == [[], []]
    one = records([("a", inspection(), ())], "1.0.0")
    assert one == text(record(inspection(), "1.0.0"))


def test_a_fault_beside_an_inspection_is_in_its_record() -> None:
    made = record(inspection(), "1.0.0", [Fault(Place("", 0, 0), "plugin thing", "was set aside", kind="plugin")])
    assert wrong(made) == []
    assert [each["kind"] for each in made["faults"]] == ["plugin"]


def _drop(key: str) -> Callable[[dict[str, Any]], None]:
    def change(made: dict[str, Any]) -> None:
        del made["findings"][0][key]

    return change


def _set(key: str, value: object, section: str = "findings") -> Callable[[dict[str, Any]], None]:
    def change(made: dict[str, Any]) -> None:
        made[section][0][key] = value

    return change


BROKEN: dict[str, Callable[[dict[str, Any]], object]] = {
    "another header": lambda made: made.update(specrules="inspection-record/2"),
    "a count left out": lambda made: made["counts"].pop("just out"),
    "a count of nothing known": lambda made: made["counts"].update(good=1),
    "a count below none": lambda made: made["counts"].update({"in spec": -1}),
    "unknown verdict": _set("verdict", "good"),
    "unknown verdict of the whole": lambda made: made.update(verdict="good"),
    "unknown key": _set("colour", "red"),
    "value as a text": _set("value", "0.0024"),
    "station as a text": _set("station", "main 3"),
    "margin of three": _set("margins", {"least": [0.1, 0.2, 0.3]}),
    "margin to nothing": _set("margins", {"aim": [0.1, 0.2]}),
    "probability above one": _set("conformance", 1.5),
    "line none": lambda made: made["findings"][0]["inputs"][0].update(line=0),
    "hash": lambda made: made["sheet"].update(sha256="none"),
    "state": _set("state", "perhaps", "sign-offs"),
    "findings left out": lambda made: made.pop("findings"),
    **{
        f"{key} left out": _drop(key) for key in ("rule", "station", "verdict", "value", "limits", "rests on", "source")
    },
}


@pytest.mark.parametrize("change", BROKEN.values(), ids=BROKEN)
def test_the_schema_refuses_what_is_no_record(change: Callable[[dict[str, Any]], object]) -> None:
    made = deepcopy(record(inspection(), "1.0.0"))
    made["findings"].sort(key=lambda each: -len(each["inputs"]))
    assert wrong(made) == []
    change(made)
    assert wrong(made) != []


def test_the_words_of_the_record_are_those_of_the_inspection() -> None:
    assert {str(verdict) for verdict in Verdict} == VERDICTS
    assert written.HEADER == "inspection-record/1"
