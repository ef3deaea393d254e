"""The screen of an inspection, to the byte: every verdict and every shape of limits, and the demo whole.

A screen that changes on purpose is read again as a machinist would read it, then stored anew.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from specrules.cli.demo_command import SHEET
from specrules.effects.workspace import Workspace
from specrules.inspection import Examination
from specrules.output.full_screen import whole_screen
from specrules.output.lines import WIDTH
from specrules.output.terminal import text_of
from specrules.vocabulary import Verdict
from tests.output.small_screen import GOOD, SCREENS, judged, read, shown

HERE = Path(__file__).parent
CAPITALS = r"(?:TIGHT|LOOSE|SLACK|HARD|LOW|HIGH) by "


@pytest.mark.parametrize("path", SCREENS, ids=lambda path: path.stem)
def test_a_sheet_gives_its_screen_to_the_byte(path: Path) -> None:
    packs, options, body, expected = read(path)
    assert shown(judged(body, packs, options)) == expected


def test_every_verdict_is_among_the_screens() -> None:
    every = "\n".join(read(path)[3] for path in SCREENS)
    for verdict in set(Verdict) - {Verdict.NOT_APPLICABLE}:
        assert re.search(rf"\d {verdict}[,.]", every), verdict


@pytest.mark.parametrize("path", [*SCREENS, HERE / "demo_full.txt"], ids=lambda path: path.stem)
def test_a_screen_is_no_wider_than_80_columns(path: Path) -> None:
    text = path.read_text(encoding="utf-8").split("=" * 80 + "\n")[-1]
    assert [line for line in text.split("\n") if len(line) > WIDTH] == []


@pytest.mark.second_lane
def test_the_demo_is_what_is_stored() -> None:
    loaded = Workspace(folders=()).load(SHEET, SHEET.name)
    assert loaded.sheet is not None, [fault.sentence() for fault in loaded.faults]
    assert loaded.spec is not None
    hint = "\nThis is the demo. For its sheet, to read and to start your own from:\n  specrules demo --copy my-engine\n"
    stored = (HERE / "demo_full.txt").read_text(encoding="utf-8")
    examined = Examination(loaded.sheet, loaded.spec)
    assert text_of(whole_screen(examined.report, examined.whole)) + hint == stored


def test_the_demo_shows_what_the_program_can() -> None:
    text = (HERE / "demo_full.txt").read_text(encoding="utf-8")
    told = ("TIGHT by", "LOOSE by", "just out, tight by", "just in", "NOT PROVEN", "Stale: ", "Line ", "Do: ")
    for said in (*told, "ASKED LESS THAN BY THE PACKS BELOW", "NOT MEASURED YET", "Stop at", "Next: "):
        assert said in text


def test_the_same_sheet_gives_the_same_bytes() -> None:
    assert shown(judged(GOOD)) == shown(judged(GOOD))


def test_nothing_that_needs_attention_is_told_by_place_or_colour_alone() -> None:
    """The words say it: every finding that is not in spec is named with its station or its rule's title."""
    inspection = judged(GOOD.replace("1: [1.5020, 1.5020]", "1: [1.5008, 1.5008]", 1))
    text = shown(inspection)
    for finding in inspection.findings:
        if finding.verdict in (Verdict.OUT, Verdict.NOT_PROVEN):
            row = next(line for line in text.split("\n") if line.startswith(f"  place {finding.station['place']} "))
            assert re.search(CAPITALS if finding.verdict is Verdict.OUT else "NOT PROVEN", row)
