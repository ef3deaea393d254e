"""Whole invented engines of several kinds, each to the end: what it has is judged, and nothing else is asked for.

After a change of their screens that is meant: `python -m tests.engines.test_whole_engines` writes the new ones.
"""

from __future__ import annotations

from contextlib import chdir
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

import pytest

from specrules.pack import present
from specrules.sheet import read_sheet
from specrules.sheet.describing import described
from specrules.vocabulary import Verdict
from tests.cli.shell import call
from tests.inspecting import inspected, settled
from tests.shipped import resolved

HERE = Path(__file__).parent
DEMO = HERE.parents[1] / "specrules" / "demo" / "carousel.sheet.yaml"
PUT_RIGHT = {
    "3: [2.7502, 2.7503]": "3: [2.7517, 2.7518]",  # other shells in main 3
    "{taken: 2026-09-29, repeats: [0.0060, 0.0055, 0.0060]}": "{taken: 2026-10-03, repeats: [0.0070, 0.0070, 0.0065]}",
    "2: 0.022..0.023, 3:": "2: 0.014..0.015, 3:",  # another pair of rods
    "7:                               #": "7: [2.3145, 2.3146]               #",
    "4: {top: 0.016..0.017,": "4: {top: 0.020..0.021,",  # its ends filed
    "second: 0.021}": "second: 0.0021}",  # read again
}
"""What the demo's screen asks for, done."""
LEFT_TO_SIGN = "dry_fit_complete block_washed galleries_brushed damper_pulled_on oil_primed cam_break_in_prepared"


class Engine(NamedTuple):
    """What is expected of an engine: groups that it has nothing of, and the last lines of its screen."""

    absent: tuple[str, ...]
    counts: str


ENGINES = {
    "twin": Engine(
        ("Plain bearings",),
        "102 in spec, 8 just in, 4 not applicable. 42 of 42 checks judged, on 173 readings.",
    ),
    "four": Engine((), "332 in spec, 30 just in, 8 not applicable. 62 of 62 checks judged, on 622 readings."),
    "demo": Engine((), "491 in spec, 1 just in, 8 not applicable. 65 of 65 checks judged, on 778 readings."),
}
OWN_SHEETS = [name for name in ENGINES if name != "demo"]


@cache
def sheet_of(name: str) -> str:
    """The sheet of an engine; the demo's is the one that ships, put right."""
    if name in OWN_SHEETS:
        return (HERE / f"{name}.sheet.yaml").read_text(encoding="utf-8")
    text = DEMO.read_text(encoding="utf-8").rstrip()
    for was, now in PUT_RIGHT.items():
        assert text.count(was) == 1, was
        text = text.replace(was, now)
    return "\n".join([text, *(f"  {name}: {{by: demo bench, on: 2026-10-03}}" for name in LEFT_TO_SIGN.split()), ""])


def facts_of(name: str) -> dict[str, str]:
    """The facts of a sheet, each as it is written there on a line of its own."""
    written = sheet_of(name).partition("\nfacts:\n")[2].partition("\n\n")[0]
    facts = (line.partition("#")[0].partition(":") for line in written.splitlines())
    return {fact.strip(): value.strip() for fact, _, value in facts}


def screen(name: str, folder: Path) -> tuple[int, str]:
    (folder / "engine.sheet.yaml").write_text(sheet_of(name), encoding="utf-8")
    with chdir(folder):
        ran = call("inspect", "engine.sheet.yaml")
    return ran.status, ran.out + ran.err


@pytest.mark.parametrize("name", ENGINES)
def test_it_ends_with_a_go_and_status_0(name: str, tmp_path: Path) -> None:
    status, text = screen(name, tmp_path)
    assert status == 0
    go = "Go on: nothing holds the job and nothing is open up to the hold point after first run. "
    assert " ".join(text.split()).endswith(go + ENGINES[name].counts)


@pytest.mark.parametrize("name", OWN_SHEETS)
def test_its_screen_is_the_one_that_is_stored(name: str, tmp_path: Path) -> None:
    _, text = screen(name, tmp_path)
    assert text == (HERE / f"{name}.txt").read_text(encoding="utf-8")
    assert max(map(len, text.splitlines())) <= 80
    assert len(text.splitlines()) <= 30, "a healthy engine fits a screen"


@pytest.mark.second_lane
@pytest.mark.parametrize("name", ENGINES)
def test_each_finding_is_of_what_the_engine_has_and_none_lacks_a_figure(name: str) -> None:
    findings = inspected(sheet_of(name)).findings
    groups = {finding.group for finding in findings}
    assert groups == set(resolved("general").groups) - {*ENGINES[name].absent, "Motion and balance"}
    assert {each.verdict for each in findings} <= {Verdict.IN_SPEC, Verdict.JUST_IN, Verdict.NOT_APPLICABLE}


@pytest.mark.second_lane
@pytest.mark.parametrize("name", OWN_SHEETS)
def test_its_own_empty_sheet_asks_for_what_it_has(name: str, tmp_path: Path) -> None:
    """Of all that its filled sheet reads there is a cell, and of nothing that its facts rule out."""
    path, facts = tmp_path / "new.sheet.yaml", facts_of(name)
    given = [word for fact, value in facts.items() for word in ("--fact", f"{fact}={value}")]
    made = call("sheet", "new", path, "--pack", "general", "--unit", "mm", *given)
    assert (made.status, made.err) == (0, "")
    text = path.read_text(encoding="utf-8")
    empty, full = settled(text, {})[0], settled(sheet_of(name), {})[0]
    assert empty is not None
    assert full is not None
    assert empty.labels == full.labels
    read, _ = read_sheet(sheet_of(name).encode(), name)
    assert read is not None
    here = present(resolved("general"), described(read.model.facts, resolved("general"), None)).spec
    asked = {line.partition(":")[0].strip() for line in text.splitlines() if line.startswith("  ")}
    assert asked & resolved("general").measurands.keys() == here.measurands.keys()
    assert {str(each) for each in read.model.readings} <= asked
    absent = [group for group in resolved("general").groups if f"# {group.upper()}\n" not in text]
    assert absent == [*ENGINES[name].absent]
    ran = call("inspect", path)
    assert (ran.status, ran.err) == (3, "")


if __name__ == "__main__":
    for engine in OWN_SHEETS:
        with TemporaryDirectory() as made_in:
            (HERE / f"{engine}.txt").write_text(screen(engine, Path(made_in))[1], encoding="utf-8")
