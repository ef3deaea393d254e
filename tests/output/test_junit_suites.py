"""Suites for continuous integration: red where the status is not 0, and the shape that their readers take.

The shape is held from memory of the schema that such servers publish: which elements and attributes there are, and
which of them have to be there.
"""

from __future__ import annotations

from xml.etree import ElementTree as Xml

import pytest

from specrules.document.safe_text import safe
from specrules.inspection import Options
from specrules.output.junit_suites import suite
from specrules.output.own_forms import forms
from specrules.output.report_record import record_for
from specrules.record import Record
from tests.cli.small_jobs import MEASURED, SIGNED
from tests.lanes import first_alone
from tests.output.hostile_records import BODY, HOSTILE, dressed, faulty
from tests.output.small_screen import looked

AROUND = next(form.around for form in forms() if form.name == "junit")

MAY_HAVE = {
    "testsuites": ({"testsuite"}, set(), {"name", "tests", "failures", "errors", "time"}),
    "testsuite": (
        {"properties", "testcase", "system-out", "system-err"},
        {"name", "tests", "failures", "errors"},
        {"skipped", "time", "timestamp", "hostname", "id", "package", "file"},
    ),
    "properties": ({"property"}, set(), set()),
    "property": (set(), {"name", "value"}, set()),
    "testcase": ({"skipped", "error", "failure", "system-out", "system-err"}, {"name"}, {"classname", "time"}),
    **dict.fromkeys(("skipped", "error", "failure"), (set[str](), set[str](), {"type", "message"})),
    **dict.fromkeys(("system-out", "system-err"), (set[str](), set[str](), set[str]())),
}
"""Of each element: what may stand in it, the attributes that it has to have, those that it may have besides."""


def read(*records: Record) -> Xml.Element:
    """A file of these sheets as a reader of XML gets it, of the shape that is published."""
    root = Xml.fromstring((AROUND.before + "".join(map(suite, records)) + AROUND.after).encode("utf-8"))
    for element in root.iter():
        inside, needed, more = MAY_HAVE[element.tag]
        assert {child.tag for child in element} <= inside, element.tag
        assert needed <= set(element.attrib) <= needed | more, element.tag
        for child, count in (("testcase", "tests"), *COUNTS):
            if element.tag == "testsuite":
                assert len(element.findall(f".//{child}")) == int(element.attrib[count])
    return root


COUNTS = (("failure", "failures"), ("error", "errors"), ("skipped", "skipped"))


def record_of_sheet(body: str, options: Options = Options()) -> Record:  # noqa: B008 - it is frozen
    return record_for("a.sheet.yaml", looked(body, options=options), (), "1.0.0")


def red(made: Xml.Element) -> tuple[bool, bool]:
    """Whether anything fails, and whether anything is an error."""
    return made.find(".//failure") is not None, made.find(".//error") is not None


CLEAR = MEASURED + SIGNED
NEAR = CLEAR.replace("tilt: 0.0020", "tilt: 0.0039 ±0.0002") + "decision: guarded\n"
LATE = CLEAR.replace("tilt: 0.0020", "tilt: 0.0060")


@pytest.mark.parametrize(
    ("body", "options", "verdict", "fails", "undecided"),
    [
        (CLEAR, Options(), "clear", False, False),
        (NEAR, Options(), "clear", False, False),
        (NEAR, Options(sure=True), "held", True, False),
        (LATE, Options(), "held", True, False),
        (LATE, Options(held_by="major"), "clear", False, False),
        (LATE, Options(until="dry_fit"), "clear", False, False),
        (CLEAR.replace("tilt: 0.0020", "tilt:"), Options(), "open", False, True),
        (CLEAR.replace("tilt: 0.0020", "tilt:"), Options(until="dry_fit"), "clear", False, False),
        (CLEAR, Options(at_least=7), "open", False, True),
        (MEASURED, Options(), "open", False, True),
        (CLEAR.replace("clean: {by: ab,", "clean: {answer: no, by: ab,"), Options(), "held", True, True),
        (BODY, Options(), "held", True, True),
        ("readings: {}", Options(), "open", False, True),
    ],
)
def test_it_is_red_where_the_status_is_not_0(
    body: str, options: Options, verdict: str, fails: bool, undecided: bool
) -> None:
    record = record_of_sheet(body, options)
    assert record.verdict == verdict
    assert red(read(record)) == (fails, undecided)


def case(made: Xml.Element, rule: str, at: str) -> Xml.Element:
    found = [each for each in made.iter("testcase") if (each.get("classname"), each.get("name")) == (rule, at)]
    assert len(found) == 1
    return found[0]


def told(of: Xml.Element) -> list[tuple[str, str | None, str | None]]:
    return [(each.tag, each.get("type"), each.get("message") or each.text) for each in of]


def test_each_case_says_what_it_is() -> None:
    made = read(record_of_sheet(BODY))
    loose = case(made, "fit", "Running fit (on the diameter), place 2")
    assert told(loose) == [
        ("failure", "out of spec", "0.0090 in: LOOSE by 0.0060. Limits: least 0.0010, aim 0.0020, most 0.0030 in.")
    ]
    assert (loose[0].text or "").splitlines()[-1] == "Line 7 of engine.sheet.yaml."
    assert told(case(made, "fit", "Running fit (on the diameter), place 1")) == []
    tilt = case(made, "tilt", "Tilt of the plate")
    assert told(tilt) == [("skipped", "out of spec", "0.0060 in: HIGH by 0.0020, conceded. Limits: most 0.0040 in.")]
    plug = told(case(made, "plug", "Plug size"))
    assert [(tag, state) for tag, state, _ in plug] == [("error", "not measured")]
    near = case(read(record_of_sheet(NEAR)), "tilt", "Tilt of the plate")
    assert told(near) == [("system-out", None, "0.0039 ±0.0002 in: just in. Limits: most 0.0040 in.")]


def test_sheets_are_suites_of_one_file_and_one_at_fault_is_an_error() -> None:
    made = read(record_of_sheet(CLEAR), faulty("b.sheet.yaml"))
    assert [each.get("name") for each in made] == ["engine.sheet.yaml", "b.sheet.yaml"]
    at_fault = made[1].findall("testcase")
    assert [(each.get("name"), told(each)) for each in at_fault] == [
        (
            "can be judged",
            [("error", "at fault", "b.sheet.yaml, line 3, b.sheet.yaml: b.sheet.yaml; write b.sheet.yaml.")],
        )
    ]
    assert made[1].findtext("system-err") == "b.sheet.yaml, b.sheet.yaml: b.sheet.yaml."  # a plugin changes no status
    said = {each.get("name"): each.get("value") for each in made[0].iter("property")}
    assert (said["decision"], said["packs"], said["verdict"]) == ("simple", "base 1.0", "clear")


@pytest.mark.parametrize("text", first_alone(*HOSTILE.values()))
def test_whatever_a_text_holds_it_stays_in_its_attribute(text: str) -> None:
    made = read(dressed(text), faulty(text))
    texts = [said for each in made.iter() for said in (*each.attrib.values(), each.text or "")]
    assert safe(text) in texts
    assert all(safe(said.replace("\n", " ")) == said.replace("\n", " ") for said in texts)


def test_the_same_sheet_makes_the_same_file() -> None:
    assert suite(record_of_sheet(BODY)) == suite(record_of_sheet(BODY))
