"""A record as a page: first for the customer, then every check at every station, and all that it stands on."""

from __future__ import annotations

import json
import re
from pathlib import Path
from xml.etree.ElementTree import Element

import pytest

from specrules.document import Fault, Place
from specrules.inspection import Examination
from specrules.output.own_forms import forms
from specrules.output.records_page import foot_told, record_page
from specrules.output.report_record import record_for, record_of_faults
from specrules.record import Record, read_record
from specrules.vocabulary import Code
from tests.benchmarks.whole import DEMO
from tests.cli.browser import in_browser, measured
from tests.cli.shell import call
from tests.inspecting import settled
from tests.output.page_reading import of_class, safe_page, said
from tests.output.small_screen import PACKS, build

HOSTILE = "</td></style><script>alert(1)</script><img src=x onerror=alert(1)>&lt;\"'"
READ = """\
readings:
  hole: {1: [1.5020, 1.5024], 2: [1.5020, 1.5020]}
  shaft: {1: [1.5000, 1.5000], 2: [1.5010, 1.5012]}
  grip: {1: 0.0030, 2: 0.0010}
  tilt: 0.21
  slot: {others: 0.0150}
  weight: {1: 100 g, 2: 101 g}
work done: [{operation: hone, on: 2026-10-02, at: {place: [2]}}]
signed: {clean: {by: ab, on: 2026-10-01}, turned: [{at: {place: [2]}, by: cd, on: 2026-10-03}]}
concessions: [{rule: grip, at: {place: [2]}, reason: It holds., by: the owner, on: 2026-10-03}]
"""


def record(body: str = READ, asked: str = "base") -> Record:
    return record_of_sheet(build(body, asked))


def record_of_sheet(sheet: str) -> Record:
    read, spec, faults = settled(sheet, PACKS)
    assert read is not None, faults
    assert spec is not None
    return record_for("engine.sheet.yaml", Examination(read, spec), (), "9.9")


def page(*records: Record) -> Element:
    around = next(each.around for each in forms() if each.name == "page")
    return safe_page(around.before + around.between.join(map(record_page, records)) + around.after, len(records))


def under(tree: Element, heading: str) -> str:
    """What stands between a heading of the first page and the next."""
    text = said(tree)
    return text[text.index(heading) + len(heading) :].split(" What ")[0].split(" Signatures")[0].strip()


def test_the_first_page_is_for_the_customer() -> None:
    tree = page(record())
    facts = [[said(cell) for cell in row] for row in next(of_class(tree, "facts")).iter("tr")]
    assert facts[0] == ["Job", "J-1"]
    assert ["Packs", "base 1.0: Base practice"] in facts
    assert [said(each) for each in of_class(tree, "stands")] == ["Stop: something holds the job."]
    found = under(tree, "What was found")
    assert "Running fit, place 2: " in found
    assert "Grip of the sleeve, place 2: " in found
    done = under(tree, "What was done")
    assert done == ("Hole honed, place 2, 2026-10-02. Conceded by the owner: Grip of the sleeve, place 2. It holds.")
    assert [said(head) for head in next(of_class(tree, "sign")).iter("th")] == ["Builder, date", "Customer, date"]


def test_every_check_that_applies_has_a_row_for_each_of_its_stations() -> None:
    made = record()
    tree = page(made)
    rows = [said(row) for check in of_class(tree, "check") for row in check.iter("tr")]
    shown = [each for each in made.findings if each.said and each.verdict.value != "not applicable"]
    assert len([row for row in rows if not row.startswith("Place")]) == len(shown)
    assert all(any(each.said in row for row in rows) for each in shown if each.said)


def test_states_are_told_apart_by_shape() -> None:
    tree = page(record())
    found = {
        (said(next(check.iter("h3"))), each.get("data-at")): each.get("data-shape")
        for check in of_class(tree, "check")
        for each in check.iter()
        if each.get("data-shape")
    }
    assert found["Running fit (on the diameter)", "1"] == "disc"
    assert found["Running fit (on the diameter)", "2"] in ("square", "cross")
    assert found["Tilt of the plate", "all"] == "open diamond"
    assert found["Grip of the sleeve", "2"] == "square"


def test_a_value_stands_against_its_limits_in_the_drawing() -> None:
    tree = page(record())
    check = next(each for each in of_class(tree, "check") if said(next(each.iter("h3"))) == "Slot width")
    parts = {each.get("data-part"): each.get("data-value") for each in check.iter() if each.get("data-part")}
    assert parts == {"least": "0.01", "most": "0.02"}


def test_limits_that_all_places_share_are_said_once_and_others_in_each_row() -> None:
    body = "limits: {grip: [{most: 0.0050 in}, {when: place == 2, most: 0.0040 in}]}\n"
    tree = page(record("readings:\n  slot: {others: 0.0150}\n  grip: {1: 0.0030, 2: 0.0030}\n" + body))
    checks = {said(next(each.iter("h3"))): each for each in of_class(tree, "check")}
    slot, grip = checks["Slot width"], checks["Grip of the sleeve"]
    assert [said(each) for each in of_class(slot, "limits")] == ["Least 0.0100, most 0.0200 in."]
    assert "Limits" not in said(slot)
    assert list(of_class(grip, "limits")) == []
    assert [said(row).count("Limits: ") for row in grip.iter("tr")] == [0, 1, 1]


def test_the_limits_of_places_that_share_them_are_said_with_these_places() -> None:
    body = "limits: {slot: [{most: 0.0200 in}, {when: side == left, most: 0.0300 in}]}\n"
    tree = page(record("readings:\n  slot: {others: 0.0150}\n" + body))
    slot = next(each for each in of_class(tree, "check") if said(next(each.iter("h3"))) == "Slot width")
    told = [said(each) for each in of_class(slot, "limits")]
    assert told == ["Place 1, 2: left: most 0.0300 in.", "Place 1, 2: right: most 0.0200 in."]
    assert "Limits" not in said(slot)


def test_each_sheet_of_paper_says_which_job_it_is() -> None:
    other = build("readings: {tilt: 0.0020}").replace("job: J-1", "job: '}</style>\"J', serial: S-9")
    around = next(each.around for each in forms() if each.name == "page")
    text = around.before + record_page(record()) + record_page(record_of_sheet(other)) + around.after
    tree = safe_page(text, 2)
    styles = [each.text or "" for each in tree.iter("style")][1:]
    feet = [re.findall(r'content: "((?:\\[0-9a-f]{6})+)"', style) for style in styles]
    told = [["".join(chr(int(one, 16)) for one in foot.split("\\")[1:]) for foot in of] for of in feet]
    assert told == [["Job J-1, A pair"], ['Job }</style>"J, serial number S-9, A pair']]
    names = [each.get("class", "") for each in tree.iter("article")]
    assert len(set(names)) == 2
    assert all(f".{name} {{ page: {name} }}" in style for name, style in zip(names, styles, strict=True))


def test_of_a_long_name_the_foot_has_as_much_as_there_is_room_for() -> None:
    long = build("readings: {tilt: 0.0020}").replace("title: A pair", f"title: {'m' * 10_000}")
    assert foot_told(record_of_sheet(long)) == f"Job J-1, {'m' * 47}…"


def test_parts_are_drawn_in_the_shape_that_was_measured() -> None:
    packs = {
        **PACKS,
        "base": PACKS["base"].replace("plane: {names: [front, rear]}", "plane: {names: [front, rear], lies: along}"),
    }
    read, spec, _ = settled(build(READ), packs)
    assert read is not None
    assert spec is not None
    tree = page(record_for("engine.sheet.yaml", Examination(read, spec), (), "9.9"))
    captions = [said(next(each.iter("figcaption"))) for each in of_class(tree, "shapes")]
    assert captions == [
        "Hole as measured, its differences enlarged: the largest within one is 0.0004 in.",
        "Shaft as measured, its differences enlarged: the largest within one is 0.0002 in.",
    ]
    assert list(of_class(page(record()), "shapes")) == []  # nothing says how the axis lies


def test_what_verdicts_stand_on_is_all_there() -> None:
    made = record(asked="wide, lenient")
    tree = page(made)
    text = said(tree)
    heads = [said(each) for each in tree.iter("h2")]
    for head in ("Sign-offs", "Concessions", "Asked less than by the packs below", "Cautions", "Sources", "Seal"):
        assert head in heads
    assert made.ledger
    assert all(each.said in text for each in made.ledger)
    assert made.seal is not None
    assert made.seal in text
    assert all(pack.sha256 in text for pack in made.packs)
    assert "Published: Plates, 2nd edition, p. 12. For: tilt of the plate." in text
    signed = [[said(cell) for cell in row] for row in next(of_class(tree, "signed")).iter("tr")]
    assert ["Does it turn by hand?", "missing at place 1", "cd", "2026-10-03"] in signed


def test_what_is_open_is_named() -> None:
    text = under(page(record("readings:\n")), "What stands open")
    assert "checks still open: running fit" in text
    assert "Is every part clean?" in text


def test_a_sheet_at_fault_says_so() -> None:
    wrong = Fault(Place("engine.sheet.yaml", 3, 1), "tilt", Code.MISWRITTEN_NUMBER, "has a comma", "0.5", "sheet")
    tree = page(record_of_faults((wrong,), "9.9", "engine.sheet.yaml"))
    assert [said(each) for each in of_class(tree, "stands")] == ["Not inspected: a file is at fault."]
    assert "engine.sheet.yaml, line 3, tilt: has a comma; write 0.5." in said(tree)


def test_several_records_are_one_page() -> None:
    tree = page(record(), record("readings: {tilt: 0.0020}"))
    assert len(list(tree.iter("article"))) == 2


@in_browser
@pytest.mark.second_lane
@pytest.mark.parametrize("wide", [500, 820, 1280])
def test_on_a_screen_of_any_width_nothing_is_cut_off(tmp_path: Path, wide: int) -> None:
    made = call("inspect", str(DEMO), "--form", "page", "--no-plugins").out
    found = measured(tmp_path, made, "[innerWidth, document.documentElement.scrollWidth]", wide)
    (sizes,) = re.findall(r'data-found="\[(\d+),(\d+)\]"', found)
    window, needed = map(int, sizes)
    assert window == wide
    assert needed <= window


@pytest.mark.parametrize("name", ["version_1", "version_2", "version_1_faults"])
def test_records_of_older_versions_make_a_page(name: str) -> None:
    kept = Path(__file__).parent.parent / "record" / f"{name}.json"
    made = read_record(kept.read_bytes())
    tree = page(made)
    assert json.loads(kept.read_text())["sheet"]["file"] in said(tree)


@pytest.mark.parametrize("key", ["title", "job", "serial", "customer", "builder"])
def test_hostile_text_stays_text(key: str) -> None:
    quoted = "'" + HOSTILE.replace("'", "''") + "'"
    sheet = (
        build(READ)
        .replace("title: A pair, job: J-1", f"{key}: {quoted}")
        .replace("reason: It holds.", f"reason: {quoted}")
    )
    tree = page(record_of_sheet(sheet.replace("by: the owner", f"by: {quoted}")))
    assert said(tree).count(HOSTILE) >= 3
