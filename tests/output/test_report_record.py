"""From a report to its record: valid, whole, the same every time, with no way out for what a file says."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from specrules.document import Fault, Place
from specrules.inspection import Options
from specrules.output.report_record import record_for, record_of, record_of_faults
from specrules.record import read_record, record_data, record_text
from specrules.vocabulary import Code, Reason, Why
from tests.inspecting import whole
from tests.lanes import first_alone
from tests.output.small_record import (
    SHEET,
    VERDICTS,
    as_read,
    changed,
    examined,
    finding,
    inspection,
    made_of,
    packs,
    recorded,
    whole_record,
    wrong,
    wrong_as_written,
)
from tests.output.small_screen import judged, looked


@pytest.mark.second_lane
@pytest.mark.parametrize("decision", first_alone("guarded", "simple"))
def test_a_record_is_valid_and_reads_back(decision: str) -> None:
    made = made_of(inspection(decision))
    read = as_read(record_text(made))
    assert wrong_as_written(read) == []
    assert read["decision"] == decision
    assert read_record(record_text(made)) == made


@pytest.mark.second_lane
def test_every_rule_is_listed_at_every_station() -> None:
    made, judged = whole_record(), inspection()
    assert {each["rule"] for each in made["findings"]} == set(packs().rules)
    assert len(made["findings"]) == len(judged.findings)
    assert set(made["counts"]) == VERDICTS
    assert sum(made["counts"].values()) == len(made["findings"])
    for verdict in VERDICTS:
        assert made["counts"][verdict] == sum(each["verdict"] == verdict for each in made["findings"])
    assert {each["name"] for each in made["sign-offs"]} == set(packs().sign_offs)
    assert {each["name"] for each in made["figures"]} <= set(packs().figures)


@pytest.mark.parametrize(("asked", "recorded_as"), [(0, None), (9, 9)])
def test_how_much_was_asked_for_is_in_the_record(asked: int, recorded_as: int | None) -> None:
    assert recorded(judged("readings: {tilt: 0.0020}", options=Options(at_least=asked)))["at least"] == recorded_as


def test_what_was_read_before_is_in_the_record_with_what_moved() -> None:
    body = (
        "parts: {bush: reused, spindle: reused}\nreadings:\n  hole:\n    - {state: as found, at: {1: 1.50..1.51}}\n"
        "    - {state: machined, taken: 2026-10-01, at: {1: 1.5035}}\n    - {state: as built, at: {1: 1.5034}}\n"
        "  shaft: {1: 1.5000}\n"
    )
    made = recorded(judged(body))
    assert wrong(made) == []
    fit = finding(made, "fit", place=1)
    hole, shaft = fit["inputs"]
    assert (hole["state"], "taken" in hole, "earlier" in shaft) == ("as built", False, False)
    assert hole["earlier"] == [
        {"value": None, "low": 1.5, "high": 1.51, "moved": None, "text": "1.50..1.51", "state": "as found", "line": 9},
        {"value": 1.5035, "moved": -0.0001, "text": "1.5035", "state": "machined", "taken": "2026-10-01", "line": 10},
    ]
    assert (fit["limits"]["most"], fit["limits"]["wear most"], fit["limits"]["worn"]) == (0.003, 0.004, ["most"])


def test_a_record_has_every_reading_and_what_waits_for_what_was_asked() -> None:
    asked = Options(until="dry_fit", add=("wide",), decision="simple")
    found = looked("readings: {tilt: 0.0020, plug: 1.0000, slot: {1: {left: 0.0150}}}", options=asked)
    report, made = found.report, record_data(record_for("a", found, (), "1.0.0", ("plugin shop 2",)))
    assert wrong(made) == []
    assert sorted((each["name"], each["text"]) for each in made["readings"]) == [
        ("plug", "1.0000"),
        ("slot", "0.0150"),
        ("tilt", "0.0020"),
    ]
    assert made["tool"] == {"version": "1.0.0", "plugins": ["plugin shop 2"]}
    assert made["asked"] == {"add": ["wide"], "decision": "simple", "until": "dry_fit"}
    opened = [(each["rule"], each["station"]) for each in made["findings"] if each["open"]]
    assert opened == [(each.rule, {axis: int(label) for axis, label in each.station.items()}) for each in report.open]
    assert opened
    assert [each["name"] for each in made["sign-offs"] if each["open"]] == [each.name for each in report.unsigned]


@pytest.mark.second_lane
def test_a_finding_has_the_numbers_of_its_sheet() -> None:
    """Worked by hand: 2.4524 - (2.4501 - 0.0001) = 0.0024, the gauge reading 0.0001 too much."""
    made = finding(whole_record(), "main_oil_clearance", main=2)
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
    inputs = finding(whole_record(), "main_oil_clearance", main=2)["inputs"]
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
        "column": 9,
    }


def test_a_bracket_is_a_range_open_or_not() -> None:
    made = whole_record()
    inputs = [each for f in made["findings"] for each in f["inputs"] if each["name"] == "ring_end_gap"]
    by_text = {each["text"]: each for each in inputs}
    closed = by_text["0.018..0.019"]
    assert (closed["value"], closed["low"], closed["high"]) == (0.0185, 0.018, 0.019)
    assert not {"expanded", "gauge error"} & closed.keys()  # this sheet is judged by simple acceptance
    assert by_text["0.018..0.019"]["high"] == 0.019
    assert (by_text["under 0.002"]["low"], by_text["under 0.002"]["high"]) == (None, 0.002)
    between = [f["between"] for f in made["findings"] if f["inputs"] and f["inputs"][0] in inputs]
    blade = finding(made, "ring_end_gap", cylinder=1, ring="top")
    assert (blade["value"], blade["between"]) == (None, [0.018, 0.019])
    assert [None, 0.002] in between


def test_a_value_beyond_says_by_how_much_what_to_do_and_who_permits_it() -> None:
    """Worked by hand: 2.4505 - (2.4501 - 0.0001) = 0.0005, far under any least of the pack."""
    record = whole_record()
    made = finding(record, "main_oil_clearance", main=3)
    assert (made["verdict"], made["side"], made["statement"]) == ("out of spec", "tight", "fail")
    assert made["beyond"] == pytest.approx(made["limits"]["least"] - 0.0005, abs=1e-11)
    assert made["margins"]["least"][0] == -made["beyond"]
    assert made["conceded"] is True
    assert made["holds"] is False
    assert [step["do"] for step in made["steps"]] != []
    for step in made["steps"]:
        assert step["do"].lower() in made["remedy"].lower()
    assert {step["verdict"] for step in made["steps"] if step["value"] is not None} <= set(VERDICTS)
    assert made["steps"][0]["value"] is None  # reading again moves nothing
    assert made["because"]
    (concession,) = record["concessions"]
    assert (concession["by"], concession["used at"]) == ("cd", [{"main": 3}])


def test_a_suspect_reading_is_said_with_the_verdict_that_there_would_be() -> None:
    """Worked by hand: one turn of an inch thimble is 0.025, and the gauge reads 0.0001 too much."""
    record = whole_record()
    made = finding(record, "main_oil_clearance", main=4)
    assert (made["verdict"], made["would be"]) == ("not proven", "out of spec")
    turned = next(each for each in made["rests on"]["suspect"] if each["kind"] == "thimble turn")
    assert turned in record["suspects"]
    assert (turned["name"], turned["text"], turned["would be"]) == ("main_journal", "2.4751", 2.45)
    assert (turned["station"], turned["position"]) == ({"main": 4}, {"plane": "front", "clock": "a"})
    assert turned["labels"] == [4, "front", "a"]
    assert turned["line"] == SHEET[: SHEET.index("2.4751")].count("\n") + 1
    assert (turned["reason"]["code"], turned["reason"]["names"]) == (Why.GAUGE_STEP, ["thimble turn"])
    assert turned["reason"]["labels"] == ["0.0250", "in", "above", "2.4500"]


@pytest.mark.second_lane
def test_what_is_said_of_the_sheet_and_what_makes_it_unsure_has_its_code_beside_its_sentence() -> None:
    alike = Reason(Why.ALL_ALIKE, ("main_bore",), ("2.4524",))
    judged = inspection("guarded")
    made = recorded(replace(judged, remarks=(alike,)))
    (remark,) = made["remarks"]
    assert (remark["code"], remark["names"], remark["labels"]) == (Why.ALL_ALIKE, ["main_bore"], ["2.4524"])
    causes = [row["cause"] for row in finding(made, "main_oil_clearance", main=2)["budget"]]
    mic = next(cause for cause in causes if cause["code"] == Why.CALIBRATION and not cause["labels"])
    assert (mic["names"], mic["said"]) == (["mic 2-3"], "calibration of mic 2-3")


def test_what_holds_is_marked_so() -> None:
    judged = inspection()
    marked = [each for each in recorded(judged)["findings"] if each["holds"]]
    assert [(each["rule"], each["station"]) for each in marked] == [
        (each.rule, {axis: int(name) if name.isdecimal() else name for axis, name in each.station.items()})
        for each in judged.held
    ]


def test_several_packs_stand_beside_each_other() -> None:
    made = whole_record()
    assert [each["name"] for each in made["packs"]] == ["general", "street"]
    assert {each["pack"] for f in made["findings"] for each in f["beside"]} == {"general"}


@pytest.mark.second_lane
def test_the_same_inspection_gives_the_same_bytes() -> None:
    first = record_text(made_of(inspection()))
    examined.cache_clear()
    inspection.cache_clear()
    assert record_text(made_of(inspection())) == first


HOSTILE = "\x1b[31mred\x00\x9b2J\u202egnp\u2028\ud800\ufeff</script>\U000e0041"


def test_nothing_in_a_text_steers_who_reads_it() -> None:
    """Controls (ECMA-48), bidirectional marks (Unicode Standard Annex 9), lone surrogates (RFC 8259, section 8.2)."""
    judged = inspection()
    first = whole(judged.findings[0])
    hostile_about = first.about._replace(title=HOSTILE, caution=HOSTILE, because={"tight": HOSTILE})
    slipped = changed(
        first,
        about=hostile_about,
        side="tight",
        notes=(Reason(Why.PACK_NOTE, text=HOSTILE),),
        station={"main": HOSTILE},
    )
    assert slipped.because == HOSTILE
    odd = Reason(Why.CHECK_TOO_LONG_AGO, (HOSTILE,), (HOSTILE, "1"))
    hostile = replace(judged, title=HOSTILE, build={"job": HOSTILE}, findings=(slipped,), remarks=(odd,))
    made = record_text(made_of(hostile, [Fault(Place(HOSTILE, 1, 1), HOSTILE, Code.NOT_YAML, HOSTILE)], HOSTILE))
    made.encode("utf-8")
    assert not set(HOSTILE) - set("[31mred2JgnpA</script>") & set(made)
    read = as_read(made)
    assert wrong_as_written(read) == []
    assert read["sheet"]["title"].startswith("\\x1b[31mred\\x00")


def test_a_value_too_large_is_null() -> None:
    judged = inspection()
    huge = changed(whole(judged.findings[0]), value=Decimal("1e600"), low=None, high=None)
    made = recorded(replace(judged, findings=(huge,)))
    assert made["findings"][0]["value"] is None
    assert wrong(made) == []


FAULTS = (
    Fault(Place("b.sheet.yaml", 34, 5), "main_journal 3", Code.COMMA_IN_NUMBER, '"2,4990" has a comma', "2.4990"),
    Fault(Place("b.sheet.yaml", 0, 0), "", Code.UNREADABLE, "cannot be read", kind="file"),
)


def test_a_sheet_that_cannot_be_read_has_a_record_too() -> None:
    made = record_data(record_of_faults(FAULTS, "1.0.0", "b.sheet.yaml"))
    assert wrong(made) == []
    assert made["verdict"] == "not inspected"
    assert set(made["counts"]) == VERDICTS
    assert set(made["counts"].values()) == {0}
    first, second = made["faults"]
    assert (first["line"], first["column"], first["write"]) == (34, 5, "2.4990")
    assert first["sentence"] == FAULTS[0].sentence()
    assert (second["line"], second["column"], second["kind"]) == (None, None, "file")


def test_a_record_has_the_same_keys_whatever_came_of_it() -> None:
    judged, unread = whole_record(), record_data(record_of_faults(FAULTS, "1.0.0", "b.sheet.yaml"))
    assert list(judged) == list(unread)


@pytest.mark.second_lane
def test_a_record_is_of_what_was_judged_or_of_the_faults_that_kept_it_from_being_so() -> None:
    made = record_of(inspection(), whole, "1.0.0", (), examined().readings(), ("plugin shop 2",))
    assert record_for("a", examined(), (), "1.0.0", ("plugin shop 2",)) == made
    assert record_for("b", None, FAULTS, "1.0.0") == record_of_faults(FAULTS, "1.0.0", "b")


def test_a_reason_is_a_code_with_names_and_a_sentence() -> None:
    made = whole_record()
    assert finding(made, "rod_oil_clearance", cylinder=1)["rests on"]["missing"][0] == {
        "code": "not read",
        "names": ["rod_bearing_bore"],
        "labels": ["1"],
        "text": None,
        "said": "rod bearing bore 1",
    }
    assert finding(made, "piston_clearance", cylinder=1)["rests on"]["assumed"] == [
        {"code": "fact assumed", "names": [name], "labels": [], "text": text, "said": f"{name}: {said}"}
        for name, text, said in (
            ("skirt_coated", "no", "no"),
            ("cylinder_kind", "parent_bore", "parent_bore"),
        )
    ]


ON_DEMAND = {
    "range",
    "margins",
    "conformance",
    "budget",
    "conformance approximate",
    "alternatives",
    "gauge figures",
    "worked",
    "inputs",
    "beside",
    "remedy",
    "steps",
}


MEASURANDS = {"main_bearing_bore", "main_journal", "ring_end_gap"}
"""What is read on the sheet of this bench."""


@pytest.mark.second_lane
def test_a_record_that_is_not_whole_says_so_and_lacks_what_is_worked_out_on_demand() -> None:
    light, full = record_data(record_of(inspection(), None, "1.0.0")), whole_record()
    assert (light["whole"], full["whole"]) == (False, True)
    assert wrong(light) == []
    for mine, other in zip(light["findings"], full["findings"], strict=True):
        assert {key for key, value in mine.items() if value is None} >= ON_DEMAND
        measured = mine["rests on"].pop("measured")  # the names alone of what its inputs would say
        assert measured == [*dict.fromkeys(each["name"] for each in other["inputs"] if each["name"] in MEASURANDS)]
        kept = [key for key in other if key not in ON_DEMAND]
        assert [mine[key] for key in kept] == [other[key] for key in kept]
    assert {key for key in full if light[key] != full[key]} == {"whole", "findings"}


def test_a_fault_beside_an_inspection_is_in_its_record() -> None:
    few = replace(inspection(), findings=inspection().findings[:5])
    made = recorded(few, [Fault(Place("", 0, 0), "plugin thing", Code.WRONG_OFFER, "was set aside", kind="plugin")])
    assert wrong(made) == []
    assert [each["kind"] for each in made["faults"]] == ["plugin"]
