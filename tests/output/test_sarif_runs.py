"""Runs in SARIF 2.1.0: valid by the schema that is published for it, with kinds that say how far each is decided."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft4Validator

from specrules.document.safe_text import safe
from specrules.inspection import Options
from specrules.output.own_forms import forms
from specrules.output.report_record import record_for
from specrules.output.sarif_runs import SIGN_OFF_KINDS, run, uri_of
from specrules.record import Record
from specrules.record.inspection_record import SIGN_OFF_STATES
from tests.inspecting import FILE
from tests.lanes import first_alone
from tests.output.hostile_records import BODY, HOSTILE, dressed, faulty
from tests.output.small_screen import build, looked

AROUND = next(form.around for form in forms() if form.name == "sarif")
PUBLISHED = Path(__file__).parent / "published" / "sarif-2.1.0-rtm.5.json"
"""A copy of the JSON Schema that is published for SARIF 2.1.0, an OASIS Standard; it says so in its title."""


@cache
def validator() -> Draft4Validator:
    return Draft4Validator(json.loads(PUBLISHED.read_text(encoding="utf-8")))


def read(*records: Record, every: bool = False) -> Any:
    """A file of these sheets as a reader of JSON gets it."""
    made = json.loads(AROUND.before + AROUND.between.join(run(each, every) for each in records) + AROUND.after)
    for each in made["runs"]:
        rules = each["tool"]["driver"]["rules"]
        assert len({rule["id"] for rule in rules}) == len(rules)
        for result in each["results"]:
            assert rules[result["ruleIndex"]]["id"] == result["ruleId"]
            assert (result["level"] == "none") == (result["kind"] != "fail")  # clause 3.27.10
    return made


def record_of_sheet(body: str, options: Options = Options()) -> Record:  # noqa: B008 - it is frozen
    return record_for(FILE, looked(body, options=options), (), "1.0.0", ("plugin shop 2",))


def results(made: Any) -> dict[tuple[str, str], Any]:
    """The results of the first run, by rule and station."""
    return {
        (each["ruleId"], each["locations"][0].get("logicalLocations", [{"name": ""}])[0]["name"]): each
        for each in made["runs"][0]["results"]
    }


def test_a_file_of_several_sheets_is_valid() -> None:
    made = read(record_of_sheet(BODY), faulty("b.sheet.yaml"))
    assert [f"{each.json_path}: {each.message[:200]}" for each in validator().iter_errors(made)] == []
    assert made["version"] == "2.1.0"
    assert len(made["runs"]) == 2
    assert len({each["automationDetails"]["id"] for each in made["runs"]}) == 2


def test_the_schema_refuses_what_the_standard_has_no_word_for() -> None:
    made = read(record_of_sheet(BODY))
    made["runs"][0]["results"][0]["kind"] = "good"
    del made["runs"][0]["tool"]
    assert len(list(validator().iter_errors(made))) == 2


def test_an_undecided_check_is_neither_pass_nor_fail() -> None:
    found = results(read(record_of_sheet(BODY + "decision: guarded\n"), every=True))
    kinds = {
        each["properties"].get("verdict"): each["kind"] for each in found.values() if "verdict" in each["properties"]
    }
    assert {"in spec", "out of spec", "not measured"} <= kinds.keys()
    for verdict, kind in kinds.items():
        wanted = {"in spec": "pass", "worn within limit": "pass", "just in": "review", "not proven": "review"}
        wanted |= {"just out": "fail", "out of spec": "fail", "not measured": "open", "no figure": "open"}
        assert kind == {**wanted, "not applicable": "notApplicable"}[verdict]
    assert SIGN_OFF_KINDS.keys() == set(SIGN_OFF_STATES)


def test_what_is_well_is_a_result_only_where_all_are_asked_for() -> None:
    few, every = read(record_of_sheet(BODY)), read(record_of_sheet(BODY), every=True)
    quiet = {"pass", "notApplicable"}
    assert quiet.isdisjoint(each["kind"] for each in results(few).values())
    assert {each["kind"] for each in results(every).values()} > {"pass", "fail", "open"}
    assert few["runs"][0]["tool"] == every["runs"][0]["tool"]  # the rules are told either way


def test_just_in_fails_where_it_holds_the_job() -> None:
    near = "readings: {tilt: 0.0039 ±0.0002}\ndecision: guarded\n"
    for sure, kind, level in ((False, "review", "none"), (True, "fail", "note")):
        found = results(read(record_of_sheet(near, Options(sure=sure))))["tilt", "Tilt of the plate"]
        assert (found["kind"], found["level"]) == (kind, level)


def test_a_result_points_at_the_reading() -> None:
    found = results(read(record_of_sheet(BODY)))
    fit = found["fit", "place 2"]
    assert (fit["kind"], fit["level"]) == ("fail", "warning")
    where = fit["locations"][0]["physicalLocation"]
    assert where["artifactLocation"] == {"uri": FILE}
    line, column = where["region"]["startLine"], where["region"]["startColumn"]
    assert build(BODY).splitlines()[line - 1][column - 1 :].startswith("1.5090, 1.5090]")
    related = [each["message"]["text"] for each in fit["relatedLocations"]]
    assert related == [
        "hole place 2 rear = 1.5090",
        "shaft place 2 front = 1.5000",
        "shaft place 2 rear = 1.5000",
    ]
    plug = found["plug", "Plug size"]["locations"][0]["physicalLocation"]
    assert plug == {"artifactLocation": {"uri": FILE}}  # nothing was read: the whole file
    assert (
        fit["partialFingerprints"] != found["fit", "place 1"]["partialFingerprints"]
        if ("fit", "place 1") in found
        else 1
    )


def test_a_result_is_known_again_by_its_rule_and_station_whatever_else_changes() -> None:
    def marks(body: str) -> dict[tuple[str, str], str]:
        return {
            key: each["partialFingerprints"]["ruleAndStation/v1"]
            for key, each in results(read(record_of_sheet(body), every=True)).items()
        }

    before, after = marks(BODY), marks("# a line more\n" + BODY.replace("0.0060", "0.0070"))
    assert before == after
    assert len(set(before.values())) == len(before)


def test_what_a_concession_permits_is_a_failure_that_was_accepted() -> None:
    tilt = results(read(record_of_sheet(BODY)))["tilt", "Tilt of the plate"]
    assert tilt["kind"] == "fail"
    assert tilt["suppressions"] == [{"kind": "inSource", "status": "accepted", "justification": "tried before"}]


def test_a_fault_is_a_result_and_one_of_a_plugin_a_notification() -> None:
    (made,) = read(faulty("b.sheet.yaml"))["runs"]
    assert [(each["ruleId"], each["kind"], each["level"]) for each in made["results"]] == [
        ("fault/unknown-name", "fail", "error")
    ]
    assert made["results"][0]["locations"][0]["physicalLocation"]["region"] == {"startLine": 3, "startColumn": 7}
    (told,) = made["invocations"]
    assert told["executionSuccessful"] is False
    assert [each["message"]["text"] for each in told["toolExecutionNotifications"]] == [
        "b.sheet.yaml, b.sheet.yaml: b.sheet.yaml."
    ]


@pytest.mark.parametrize(
    ("file", "uri"),
    [
        ("a.sheet.yaml", "a.sheet.yaml"),
        ("jobs/a b.sheet.yaml", "jobs/a%20b.sheet.yaml"),
        ("../a.sheet.yaml", "../a.sheet.yaml"),
        ("a:b#c?d%e.sheet.yaml", "a%3Ab%23c%3Fd%25e.sheet.yaml"),
        ("Zünd.sheet.yaml", "Z%C3%BCnd.sheet.yaml"),
        ("/jobs/a b.sheet.yaml", "file:///jobs/a%20b.sheet.yaml"),
        ("-", ""),
        ("", ""),
        (None, ""),
    ],
)
def test_a_path_is_a_reference(file: str | None, uri: str) -> None:
    assert uri_of(file) == uri


@pytest.mark.parametrize("text", first_alone(*HOSTILE.values()))
def test_whatever_a_text_holds_the_file_is_valid_and_inert(text: str) -> None:
    made = read(dressed(text), faulty(text), every=True)
    assert [f"{each.json_path}: {each.message[:200]}" for each in validator().iter_errors(made)] == []
    texts = list(_texts(made))
    assert safe(text) in texts
    assert all(safe(said) == said for said in texts)
    uris = [each["location"].get("uri", "") for one in made["runs"] for each in one["artifacts"]]
    assert all(set(uri) <= set("-./%:~_") or uri.replace("%", "").isascii() for uri in uris)
    assert not any(set(uri) & set("<>\"' \\?#") for uri in uris)


def _texts(node: Any) -> Any:
    if isinstance(node, dict):
        for key, value in node.items():
            yield key
            yield from _texts(value)
    elif isinstance(node, list):
        for each in node:
            yield from _texts(each)
    elif isinstance(node, str):
        yield node
