"""The file of a sheet: what it may hold, and how what it may not hold is told, all of it in one run."""

from __future__ import annotations

from hashlib import sha256

import pytest

from specrules.document import Fault, Place, read
from specrules.sheet import SheetFile, read_fragment, read_sheet, settle
from specrules.sheet.faults import listed
from specrules.vocabulary import Code
from tests.sheet.small_shop import FILE, sentences, sheet_of, shop


def told(source: str | bytes) -> list[str]:
    _, faults = read_sheet(source, FILE)
    assert faults
    return [fault.sentence().removeprefix(f"{FILE}, ") for fault in faults]


def test_a_file_that_is_no_sheet_says_so() -> None:
    pack = told("specrules: tolerance-pack/1\n")
    assert pack == ["line 1, specrules: this file is a tolerance pack, not a build sheet."]
    assert told("build: {title: x}\n") == [
        "line 1: this file does not say that it is a build sheet; write specrules: build-sheet/1 on its first line."
    ]
    assert told("specrules: build-sheet/2\n") == [
        'line 1, specrules: "build-sheet/2" is no build sheet that is known here; write build-sheet/1.'
    ]
    assert told("specrules: [a]\n") == [
        "line 1, specrules: this is no build sheet that is known here; write build-sheet/1."
    ]
    assert "save the file as UTF-8" in told(b"specrules: \xff\n")[0]


def test_every_fault_of_shape_and_of_sense_comes_in_one_run() -> None:
    assert sentences(
        "build: {title: x, who: me}\n"
        "facts: {mains: 3}\n"
        "gauges: {mic: outside micrometer}\n"
        "signed: {rotates_freely: yes}\n"
        "readings: {main_journal: {4: 2.4990, gauge: mic}, main_jurnal: {1: 2}}\n"
        "bogus: 3\n"
    ) == [
        'line 3, build: "who" is no key here; write one of title, job, serial, customer, builder, date.',
        'line 5, mic: has "outside micrometer" where a mapping belongs;'
        " write keys such as class, resolution, mpe, repeatability.",
        'line 6, rotates_freely: has "yes" where a mapping belongs; write keys such as by, on, answer, at.',
        'line 7, main_journal: "4" is no main; there are 1 to 3, since mains is 3; write mains: 4 under facts, if '
        "there are so many.",
        'line 7, readings: "main_jurnal" is no measurand of these packs; write main_journal.',
        'line 8: "bogus" is no key here; write one of specrules, build, packs, unit, decision, scope, until,'
        " part temperature, gauge temperature, facts, parts, gauges from, gauges, readings, limits, work done, signed,"
        " concessions.",
    ]


def test_a_key_of_a_section_that_stands_outside_it() -> None:
    assert sentences("job: C-17\n") == ['line 3: "job" is no key here; write it under build.']


def test_a_reason_is_no_amendment_in_a_sheet() -> None:
    """Hazard: advice for packs, told of a sheet."""
    assert sentences("gauges: {mic: {reason: new}}\n") == [
        'line 3, mic: "reason" is no key here;'
        " write one of class, resolution, mpe, repeatability, by size, reads, steps, zero, set with, checked, serial,"
        " certificate, due."
    ]


@pytest.mark.parametrize("body", ["unit: in\n", "unit: in\ngauges: {mic: outside micrometer}\n"])
def test_a_sheet_knows_its_file_and_digest_with_a_section_left_out_too(body: str) -> None:
    source = f"specrules: build-sheet/1\n{body}".encode()
    raw, faults = read_sheet(source, FILE)
    assert raw is not None
    assert bool(faults) is bool(raw.left_out)
    assert (raw.file, raw.sha256) == (FILE, sha256(source).hexdigest())


def test_sections_of_the_wrong_kind() -> None:
    assert sentences("readings: [1, 2]\nfacts: 3\npacks: {a: b}\n") == [
        "line 3, readings: has a list where a mapping belongs.",
        'line 4, facts: has "3" where a mapping belongs.',
        "line 5, packs: has a mapping where a text belongs.",
    ]


def test_an_empty_form_says_nothing() -> None:
    sheet = sheet_of(
        "build: {title: , job: , date: }\npacks:\ngauges: {mic: {class: , zero: {standard: , reads: }}}\n"
        "facts: {mains: , stroke: open}\nreadings: {main_journal: , main_bore: {1: , 2: open}, crank_end_float: }\n"
        "limits: {main_oil_clearance: {least: , most: }}\nsigned: {rotates_freely: {by: , on: }}\n"
        "work done:\nconcessions: []\n"
    )
    assert (sheet.title, sheet.build, sheet.readings, sheet.facts, sheet.signed) == ("", {}, (), {}, {})
    assert (sheet.limits, sheet.work_done, sheet.concessions, sheet.packs) == ({}, (), (), ())
    assert sheet.gauges == {}
    assert sheet.assumed == {"mains": "2"}  # two are named, though neither is measured


def test_what_the_sheet_says_of_itself() -> None:
    sheet = sheet_of(
        "build: {title: Inline six, job: R-1042, serial: '0042', date: 2026-10-03}\npacks: small\ndecision: guarded\n"
    )
    assert sheet.title == "Inline six"
    assert sheet.build == {"job": "R-1042", "serial": "0042", "date": "2026-10-03"}
    assert sheet.packs == ("small",)
    assert sheet.decision == "guarded"
    assert len(sheet.sha256) == 64
    assert sheet.unit is not None
    assert sheet.unit.symbol == "in"


def test_dates_are_days_that_exist() -> None:
    assert sentences("build: {date: 2026-02-30}\n") == ['line 3, build date: there is no day "2026-02-30".']
    for text in ("2026-2-3", "3/2/2026", "20260203", "٢٠٢٦-٠٢-٠٣"):
        assert sentences(f"build: {{date: {text}}}\n") == [
            f'line 3, build date: "{text}" is no date as sheets write them; write it year first: 2026-10-02.'
        ]


def test_a_sheet_without_a_unit_says_so_once() -> None:
    body = "facts: {stroke: 3.5}\nreadings: {main_journal: {1: 2.5, 2: 2.5, 3: 63.5 mm}, opens: {1: 6}}\n"
    assert sentences(body, unit="") == [
        'line 3, stroke: "3.5" has no unit, and the sheet states none for lengths;'
        " write unit: in, or unit: mm, on a line of its own."
    ]
    assert sentences("readings: {opens: {1: 6}, main_journal: {1: 63.5 mm}}\n", unit="") == []


def test_a_unit_at_fault_is_told_once() -> None:
    assert sentences("readings: {main_journal: {1: 2.5}}\n", unit="inn") == [
        'line 2, unit: "inn" is no known unit; write in.'
    ]
    assert sentences("readings: {main_journal: {1: 2.5}}\n", unit="cc") == [
        'line 2, unit: "cc" is no unit of length; write unit: in, or unit: mm.'
    ]


def test_a_fault_has_its_line_and_column() -> None:
    _, faults = read_sheet("specrules: build-sheet/1\nbuild:\n  titel: x\n", FILE)
    said = '"titel" is no key here'
    assert faults == (Fault(Place(FILE, 3, 3), "build", Code.UNKNOWN_KEY, said, "title", "sheet"),)


def test_a_fragment_needs_no_head_and_takes_the_unit_of_its_pack() -> None:
    tree, _ = read("readings: {main_journal: {1: 2.5000}}\n", "p.pack.yaml")
    assert tree is not None
    raw, faults = read_fragment(tree, "p.pack.yaml")
    assert raw is not None
    assert faults == ()
    sheet, faults = settle(raw, shop())
    assert faults == ()
    assert sheet is not None
    assert sheet.readings[0].value is not None
    assert sheet.readings[0].unit.symbol == "in"


def test_labels_in_a_sentence() -> None:
    assert [listed(labels) for labels in ((), "1", "ab", "abc", "123", ("2", "3", "4"))] == [
        "none", "1", "a and b", "a, b and c", "1 to 3", "2, 3 and 4",
    ]  # fmt: skip
    assert listed(f"x{n}" for n in range(14)) == "x0, x1, x2, x3, x4, x5, x6, x7, x8, x9, x10, x11 and 2 more"


@pytest.mark.filterwarnings("ignore:Default value")  # what stands for a key left out is no value of JSON
def test_every_key_of_the_file_is_described_for_an_editor() -> None:
    schema = SheetFile.model_json_schema()
    models = [schema, *schema["$defs"].values()]
    undescribed = [
        (model["title"], key)
        for model in models
        for key, about in model.get("properties", {}).items()
        if not about.get("description")
    ]
    assert undescribed == []
    assert {"work done", "signed", "concessions", "limits"} <= schema["properties"].keys()
