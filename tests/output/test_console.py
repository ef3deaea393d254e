"""The screen without `--full`: what has to be done, each once and with its caution, and nothing passed by silence.

To the byte for the sheets of `full_screens/`, of which `console/` holds this one; one that changes on purpose is read
again as a machinist would read it. `python -m tests.output.test_console` stores them anew.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from specrules.api import SheetText, examine
from specrules.cli.demo_command import SHEET
from specrules.inspection import Options, Report
from specrules.output.console import screen, to_read_again
from specrules.output.lines import WIDTH
from specrules.output.terminal import text_of
from specrules.vocabulary import BEYOND, Verdict
from tests.inspecting import inspected, whole
from tests.output.small_screen import BASE, GOOD, SCREENS, build, judged, read, shown

STORED = Path(__file__).parent / "console"
CLOSING = ("Stop", "Not yet: ", "Go on: ")


def bench(inspection: Report) -> str:
    return text_of(screen(inspection, whole))


def of_file(path: Path) -> Report:
    packs, options, body, _ = read(path)
    return judged(body, packs, options)


def closing_of(text: str) -> str:
    """The last paragraph: may I go on, how it stands, what is next."""
    return text.rstrip("\n").split("\n\n")[-1]


@pytest.mark.parametrize("path", SCREENS, ids=lambda path: path.stem)
def test_a_sheet_gives_its_screen_to_the_byte(path: Path) -> None:
    text = bench(of_file(path))
    assert text == (STORED / path.name).read_text(encoding="utf-8")
    assert [line for line in text.split("\n") if len(line) > WIDTH] == []


def test_no_screen_is_stored_of_a_sheet_that_is_gone() -> None:
    assert {path.name for path in STORED.iterdir()} == {path.name for path in SCREENS}


@pytest.mark.second_lane
@pytest.mark.parametrize("path", SCREENS, ids=lambda path: path.stem)
def test_it_ends_as_the_full_screen_does(path: Path) -> None:
    inspection = of_file(path)
    assert closing_of(bench(inspection)).startswith(CLOSING)
    assert closing_of(bench(inspection)) == closing_of(shown(inspection))


@pytest.mark.second_lane
@pytest.mark.parametrize("path", SCREENS, ids=lambda path: path.stem)
def test_what_is_beyond_is_there_with_its_caution(path: Path) -> None:
    inspection = of_file(path)
    text = " ".join(bench(inspection).split())
    for finding in inspection.held:
        if finding.verdict in BEYOND:
            assert finding.title.split(" (")[0] in text
            assert " ".join(finding.caution.split()) in text
    for finding in inspection.open:
        if finding.verdict is Verdict.NOT_PROVEN:
            causes = (*finding.rests_on.suspect, *finding.rests_on.stale)
            named = [cause.place.line for cause in finding.rests_on.suspect]
            assert all(f"Line {line}: " in text for line in named)
            assert all(name in text for name in finding.rests_on.unsigned)
            assert causes or finding.rests_on.unsigned or finding.title in text


def test_what_one_signature_clears_is_told_once_with_how_many_checks_wait() -> None:
    text = bench(judged(GOOD))
    assert text.count("1 check waits for it.") == 1
    assert "NOT PROVEN" not in text


def test_what_comes_after_the_hold_point_asked_for_is_counted() -> None:
    """The plug belongs to the first start; asked up to the dry fit, it is a number in one line and nothing else."""
    body = GOOD + "  plug: 1.0000\nlimits: {plug: [{least: 1.0010 in, source: card}]}\n"
    whole_job, so_far = judged(body), judged(body, options=Options(until="dry_fit"))
    assert "Plug size" in bench(whole_job)
    assert "Plug size" not in bench(so_far)
    assert "\nAt later hold points: 1 out of spec" in bench(so_far)
    assert "At later hold points" not in bench(whole_job)


@pytest.mark.second_lane
def test_of_very_many_slips_one_stands_for_its_kind_and_all_are_counted() -> None:
    """The demo's inches read as millimetres: every reading that is doubted is told or counted, in a few lines."""
    text = re.sub(r"(?m)^unit: in\b", "unit: mm", SHEET.read_text(encoding="utf-8"))
    examined = examine(SheetText(text, SHEET.name), plugins=False)
    unproven = [each for each in examined.report if each.verdict is Verdict.NOT_PROVEN]
    doubted = {suspect for finding in unproven for suspect in finding.rests_on.suspect}
    lines = list(map(text_of, ([each] for each in to_read_again(unproven))))
    said = " ".join("".join(lines).split())
    told = len(re.findall(r"Line \d+: ", said)) + sum(map(int, re.findall(r"(\d+) readings more", said)))
    assert len(doubted) > 400
    assert told == len(doubted)
    assert len(lines) < 50


def test_the_demo_is_within_100_lines() -> None:
    """With its own last lines, and well under half of what `--full` takes."""
    brief, full = (
        (STORED.parent / name).read_text(encoding="utf-8").count("\n") for name in ("demo.txt", "demo_full.txt")
    )
    assert brief <= 100
    assert brief * 2 < full


NEEDING = BASE.replace(
    "    hold point: dry_fit\n    source: {kind: from memory}",
    "    hold point: dry_fit\n    needs: [tilt, turned]\n    source: {kind: from memory}",
    1,
)
ALL_SIGNED = "signed: {clean: {by: ab, on: 2026-10-01}, turned: {by: ab, on: 2026-10-01}}\n"


@pytest.mark.parametrize(
    ("body", "said"),
    [
        (f"readings: {{grip: {{1: 0.0030}}, tilt: 0.0060}}\n{ALL_SIGNED}", "Not good itself: tilt."),
        (f"readings: {{grip: {{1: 0.0030}}, tilt: }}\n{ALL_SIGNED}", "Not good itself: tilt."),
        ("readings: {grip: {1: 0.0030}, tilt: 0.0010}\n", "Not signed: turned."),
    ],
)
def test_what_waits_for_another_check_or_a_later_question_says_so(body: str, said: str) -> None:
    """Neither is told elsewhere when it is asked up to the dry fit; nothing may be open without its why."""
    inspection = inspected(build(body), {"base": NEEDING}, Options(until="dry_fit"))
    text = bench(inspection)
    assert "TO PROVE\nGrip of the sleeve" in text
    assert said in " ".join(text.split())


if __name__ == "__main__":
    for each in SCREENS:
        (STORED / each.name).write_text(bench(of_file(each)), encoding="utf-8")
