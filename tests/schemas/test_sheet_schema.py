"""The schema of a sheet takes the sheets that ship and new ones, filled or not, and refuses what the reader refuses."""

from __future__ import annotations

from pathlib import Path

import pytest

from specrules.sheet import read_sheet
from specrules.sheet.new_sheet import NewSheet, start
from specrules.sheet.sheet_json_schema import sheet_schema
from tests.lanes import first_alone
from tests.schemas.as_editors import DEMO, wrong
from tests.shipped import SHIPPED, resolved

SCHEMA = sheet_schema()

GOOD = """\
specrules: build-sheet/1
build: {title: Four, job: 12, serial: , date: 2026-10-03}
packs: general
unit: in
facts: {cylinders: 4, throws: [[1], [2], [3], [4]], bore_size: , coated: yes}
gauges:
  mic 2-3: {class: outside micrometer, zero: {standard: 2.0000, reads: 2.0001 in}, checked: 2026-01-02}
readings:
  main_journal:
    gauge: mic 2-3
    taken: 2026-10-02
    1: {front: {a: 2.4990, b: 2.4990}, rear: {a: 2.4989, b: open}}
    2: [2.4991, 2.4991, open, 2.4990]
    3: 2.4990
    4:
  bores:
    - {gauge: mic 2-3, taken: 2026-09-26, at: {3: [2.4995, 2.4996]}}
    - {because: changed, at: {3: [2.5008, 2.5009]}}
  volume: {unit: cc, 1: {repeats: [64.1, 64.3, 64.2]}}
  end_float: 0.0055
limits:
  piston_clearance: [{least: 0.0035 in, most: 0.0045 in, source: the maker's sheet}]
  ring_gap: {least: , most: , source: }
  side_gap: none
work done:
  - {operation: align_hone, on: 2026-09-20, restated: main_size}
signed:
  rotates_freely: {by: ab, on: 2026-10-05}
  rings_squared: [{at: {cylinder: [1, 2]}, by: ab, on: 2026-10-02, answer: no}]
  clean: {by: , on: }
concessions:
  - {rule: rod_side_clearance, at: {throw: 3}, reason: guided rods, by: ab, on: 2026-10-06}
"""

BROKEN = {
    "no header": ("specrules: build-sheet/1\n", ""),
    "a pack's header": ("build-sheet/1", "tolerance-pack/1"),
    "unknown section": ("concessions:", "concession:"),
    "unknown key of the build": ("job: 12", "number: 12"),
    "build as a text": ("{title: Four, job: 12, serial: , date: 2026-10-03}", "Four"),
    "packs as a mapping": ("packs: general", "packs: {general: yes}"),
    "unit as a list": ("unit: in", "unit: [in, mm]"),
    "facts as a list": ("facts: {cylinders: 4, throws: [[1], [2], [3], [4]], bore_size: , coated: yes}", "facts: [4]"),
    "readings as a list": ("readings:\n  main_journal:", "readings:\n- main_journal:"),
    "gauges as a list": ("gauges:\n  mic 2-3:", "gauges:\n- mic 2-3:"),
    "unknown key of a gauge": ("class: outside", "kind: outside"),
    "zero as a number": ("{standard: 2.0000, reads: 2.0001 in}", "0.0001"),
    "unknown part of limits": ("most: 0.0045 in", "max: 0.0045 in"),
    "limits as a number": ("side_gap: none", "side_gap: 0.002"),
    "work without a name": ("{operation: align_hone, ", "{"),
    "signature as a text": ("rotates_freely: {by: ab, on: 2026-10-05}", "rotates_freely: ab"),
    "signed by nobody": ("rotates_freely: {by: ab, on", "rotates_freely: {on"),
    "unknown answer": ("answer: no", "answer: perhaps"),
    "at as a list": ("at: {throw: 3}", "at: [3]"),
    "no reason for a concession": ("reason: guided rods, ", ""),
    "name with a blank": ("  rotates_freely:", "  rotates freely:"),
}


@pytest.mark.parametrize("path", [pytest.param(path, id=path.name) for path in DEMO])
def test_the_demo_is_taken(path: Path) -> None:
    assert wrong(SCHEMA, path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("name", first_alone(*SHIPPED))
def test_a_new_sheet_is_taken_as_it_stands(name: str) -> None:
    for facts in ({}, {"cylinders": "8", "mains": "5", "throws": "[[1, 5], [2, 6], [3, 7], [4, 8]]"}):
        assert wrong(SCHEMA, start(resolved(name), facts, NewSheet("A new one", [name], "in"))) == []


def test_every_shape_of_writing_is_taken() -> None:
    assert read_sheet(GOOD, "e.sheet.yaml")[1] == ()
    assert wrong(SCHEMA, GOOD) == []


@pytest.mark.second_lane
@pytest.mark.parametrize(("old", "new"), BROKEN.values(), ids=BROKEN)
def test_the_schema_refuses_what_the_reader_refuses(old: str, new: str) -> None:
    text = GOOD.replace(old, new, 1)
    assert text != GOOD
    assert read_sheet(text, "e.sheet.yaml")[1] != ()
    assert wrong(SCHEMA, text) != []
