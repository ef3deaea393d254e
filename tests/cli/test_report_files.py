"""`--out`, `sheet new`, `pack new` and `demo --copy`: what they may replace, what they leave, and what they say."""

from __future__ import annotations

import json
import os
import shutil
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path

import click
import pytest

from specrules.cli.entry_point import run as run_command
from specrules.inspection import Examination
from specrules.output.marks import (
    BLANK,
    BUNDLE,
    CARD,
    CHANGES,
    CHANGES_PAGE,
    CLASS,
    CLASS_PAGE,
    COMPARISON,
    ENTRY,
    FINDINGS,
    INDEX,
    MARKS,
    PAGE,
    READINGS,
    RECORD,
    RECORDS,
    REPORT,
    RUNS,
    STUDY,
    SUITES,
)
from specrules.output.report_record import record_for
from specrules.plugins import Form
from specrules.plugins.installed_plugins import Found
from specrules.record import record_text
from tests.cli.shell import call, process
from tests.cli.small_jobs import CLEAR, FAULTY, HELD, lay_out
from tests.inspecting import settled
from tests.lanes import first_alone
from tests.output.small_screen import PACKS
from tests.plugins.small_plugins import found, plugin
from tests.study.small_studies import written

STUDY_FILE = written({"JT": {"1": ["2.4990", "2.4993", "2.4990"], "2": ["2.4985", "2.4985", "2.4988"]}})
CLASS_WORK = ("pack", "exercise", "teaching", "which_shells", "--answers", "class")
COMPARE = ("record", "compare", "old.json", "old.json")
INSPECT = ("inspect", "held.sheet.yaml")
FORMS = {
    "console": (*INSPECT,),
    "json": (*INSPECT, "--form", "json"),
    "json of several": ("inspect", "held.sheet.yaml", "clear.sheet.yaml", "--form", "json"),
    "csv": (*INSPECT, "--form", "csv"),
    "readings_csv": (*INSPECT, "--form", "readings_csv"),
    "bundle": ("pack", "bundle", "base"),
    "junit": (*INSPECT, "--form", "junit"),
    "sarif": (*INSPECT, "--form", "sarif"),
    "study": ("gauge", "study", "mic.study.yaml"),
    "entry": ("gauge", "study", "mic.study.yaml", "--entry"),
    "blank": ("sheet", "blank", "held.sheet.yaml"),
    "card": ("sheet", "limits", "held.sheet.yaml"),
    "page": (*INSPECT, "--form", "page"),
    "changes": COMPARE,
    "comparison": (*COMPARE, "--form", "json"),
    "changes page": (*COMPARE, "--form", "page"),
    "class": CLASS_WORK,
    "class page": (*CLASS_WORK, "--form", "page"),
}
"""Everything that writes a report."""
_MARKED = (
    *(REPORT, RECORD, RECORDS, FINDINGS, READINGS, BUNDLE, SUITES, RUNS, STUDY, ENTRY, BLANK, CARD, PAGE),
    *(CHANGES, COMPARISON, CHANGES_PAGE, CLASS, CLASS_PAGE),
)
BEGIN = dict(zip(FORMS, _MARKED, strict=True))


@cache
def kept() -> str:
    """A record, made once."""
    read, spec, faults = settled(CLEAR, PACKS)
    assert read is not None, faults
    assert spec is not None
    return record_text(record_for("clear.sheet.yaml", Examination(read, spec), (), "9.9"))


every_form = pytest.mark.parametrize("form", first_alone(*FORMS))


@pytest.fixture(autouse=True)
def jobs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    lay_out(tmp_path, clear=CLEAR, held=HELD, faulty=FAULTY)
    (tmp_path / "old.json").write_text(kept(), encoding="utf-8")
    (tmp_path / "class").mkdir()
    (tmp_path / "class" / "ab.txt").write_text("paper: 1\n", encoding="utf-8")
    (tmp_path / "mic.study.yaml").write_text(STUDY_FILE, encoding="utf-8")
    (tmp_path / "bad.study.yaml").write_text(STUDY_FILE.replace("2.4993", "2,4993"), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def files() -> dict[str, bytes]:
    """Every file beneath the folder, to the byte."""
    return {path.as_posix(): path.read_bytes() for path in Path().rglob("*") if path.is_file()}


# Marks


@pytest.mark.second_lane
def test_every_form_begins_with_its_mark_and_no_mark_fits_another() -> None:
    for form, arguments in FORMS.items():
        assert call(*arguments, "--out", f"{form}.out").status in (0, 1, 3)
        text = Path(f"{form}.out").read_text(encoding="utf-8")
        assert [mark for mark in MARKS if text.startswith(mark)] == [BEGIN[form]]
    assert len(set(MARKS)) == len(MARKS)
    assert {*MARKS} - {*BEGIN.values()} == {INDEX}  # of a folder: `test_folder_of_pages.py`


@pytest.mark.second_lane
@every_form
def test_a_report_of_any_form_is_replaced_by_one_of_any_other(form: str) -> None:
    for other, arguments in FORMS.items():
        Path("out").write_text(f"{BEGIN[other]}of yesterday", encoding="utf-8")
        assert call(*FORMS[form], "--out", "out").status in (0, 1, 3), other
        assert Path("out").read_text(encoding="utf-8").startswith(BEGIN[form])
        assert arguments


# What is left alone


def to_the_sheet() -> str:
    return "held.sheet.yaml"


def to_a_link_to_it() -> str:
    Path("link").symlink_to("held.sheet.yaml")
    return "link"


def to_a_hard_link_to_it() -> str:
    os.link("held.sheet.yaml", "hard")
    return "hard"


def to_another_sheet() -> str:
    return "clear.sheet.yaml"


def to_a_pack_that_it_names() -> str:
    return "packs/base.pack.yaml"


def to_a_study() -> str:
    return "mic.study.yaml"


def to_what_a_learner_handed_in() -> str:
    return "class/ab.txt"


def to_notes() -> str:
    Path("notes").write_text("of mine", encoding="utf-8")
    return "notes"


INPUTS = (to_the_sheet, to_a_link_to_it, to_a_hard_link_to_it, to_a_pack_that_it_names)


@every_form
@pytest.mark.parametrize("where", [*INPUTS, to_another_sheet, to_a_study, to_what_a_learner_handed_in, to_notes])
def test_what_is_no_report_is_left_alone(where: Callable[[], str], form: str) -> None:
    out = where()
    before = files()
    ran = call(*FORMS[form], "--out", out)
    assert (ran.status, ran.out, files()) == (2, "", before)
    assert ran.err.startswith(f"Error: {out} is ")
    assert "so it is left alone; give another name" in ran.err


@pytest.mark.parametrize("where", INPUTS)
@pytest.mark.parametrize("form", ["console", "json", "json of several"])
def test_what_is_read_is_left_alone_even_where_others_would_be_replaced(where: Callable[[], str], form: str) -> None:
    out = where()
    before = files()
    ran = call(*FORMS[form], "--out", out, "--replace")
    assert (ran.status, files()) == (2, before)
    assert f"{out} is the file that this run reads as " in ran.err


@pytest.mark.second_lane
def test_what_is_piped_in_from_a_file_is_left_alone_too(jobs: Path) -> None:
    with open("held.sheet.yaml", encoding="utf-8") as file:
        started = process("inspect", "-", "--out", "held.sheet.yaml", "--replace", folder=jobs, piped=file.fileno())
        _, err = started.communicate(timeout=60)
    assert started.returncode == 2
    assert "held.sheet.yaml is the file that this run reads as -, so it is left alone" in err
    assert Path("held.sheet.yaml").read_text(encoding="utf-8") == HELD


@every_form
def test_any_other_file_is_replaced_where_that_is_asked_for(form: str) -> None:
    assert call(*FORMS[form], "--out", to_notes(), "--replace").status in (0, 1, 3)
    assert Path("notes").read_text(encoding="utf-8").startswith(BEGIN[form])


# What stands in the file of a run that came to nothing


def test_the_report_of_a_sheet_at_fault_says_so_where_yesterdays_said_go_on() -> None:
    assert call("inspect", "clear.sheet.yaml", "--out", "out").status == 0
    assert "Go on" in Path("out").read_text(encoding="utf-8")
    ran = call("inspect", "faulty.sheet.yaml", "--out", "out")
    assert (ran.status, ran.out) == (2, "")
    assert Path("out").read_text(encoding="utf-8") == REPORT + ran.err
    assert ran.err.startswith("faulty.sheet.yaml, line 10, tilt: ")


def test_the_record_of_a_sheet_at_fault_says_so_too() -> None:
    for name in ("clear", "faulty"):
        call("inspect", f"{name}.sheet.yaml", "--form", "json", "--out", "out")
    assert json.loads(Path("out").read_text(encoding="utf-8"))["verdict"] == "not inspected"


KEPT = "out is still what an earlier run wrote."


def test_a_study_at_fault_says_that_the_report_is_of_an_earlier_run() -> None:
    for file, status, said in (("mic", 0, False), ("bad", 2, True)):
        ran = call("gauge", "study", f"{file}.study.yaml", "--out", "out")
        assert (ran.status, KEPT in ran.err.splitlines()) == (status, said)
    assert Path("out").read_text(encoding="utf-8").startswith(STUDY)


def offering(*forms: Form, patch: pytest.MonkeyPatch) -> None:
    """Have a plugin offer these forms."""

    def installed() -> tuple[Found, ...]:
        return (found(plugin(forms=lambda: list(forms))),)

    patch.setattr("specrules.effects.workspace.installed", installed)


def test_a_form_that_fails_says_that_the_report_is_of_an_earlier_run(monkeypatch: pytest.MonkeyPatch) -> None:
    call("inspect", "clear.sheet.yaml", "--out", "out")
    before = files()
    offering(Form("leaf", lambda _: "no mark", "<!-- specrules -->"), patch=monkeypatch)
    ran = call(*INSPECT, "--form", "leaf", "--out", "out")
    assert (ran.status, files()) == (2, before)
    assert "gives a text without its mark in its form leaf, so nothing is written" in ran.err
    assert KEPT in ran.err.splitlines()


def test_a_form_that_there_is_not_says_so_too() -> None:
    call("inspect", "clear.sheet.yaml", "--out", "out")
    ran = call(*INSPECT, "--form", "jason", "--out", "out")
    assert ran.status == 2
    assert ran.err.startswith(f"{KEPT}\n")
    assert '"jason" is no form here; write json' in ran.err


@pytest.mark.parametrize("raised", [KeyboardInterrupt, RuntimeError, MemoryError])
def test_a_run_that_ends_early_says_so_too(
    raised: type[BaseException], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    call("inspect", "clear.sheet.yaml", "--out", "out")
    before = files()

    def failing(*_: object) -> None:
        raise raised

    monkeypatch.setattr("specrules.output.console.screen", failing)
    monkeypatch.delenv("SPECRULES_DEBUG", raising=False)
    assert run_command([*INSPECT, "--out", "out"]) == (130 if raised is KeyboardInterrupt else 2)
    assert capsys.readouterr().err.startswith(f"{KEPT}\n")
    assert files() == before


def test_where_there_was_no_report_nothing_is_said_of_one(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def failing(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("specrules.output.console.screen", failing)
    assert run_command([*INSPECT, "--out", "out"]) == 130
    assert capsys.readouterr().err == "Stopped.\n"
    assert not Path("out").exists()


# Forms of plugins


@pytest.mark.parametrize(
    ("mark", "there", "more", "goes"),
    [
        ("<!-- specrules -->", "<!-- specrules --> of yesterday", (), True),
        ("<!-- specrules -->", "<!-- a page -->", (), False),
        ("", "of yesterday", (), False),
        ("", "of yesterday", ("--replace",), True),
        ("", f"{REPORT}of yesterday", (), True),
    ],
)
def test_a_plugins_form_is_known_by_its_mark(
    mark: str, there: str, more: tuple[str, ...], goes: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    Path("out").write_text(there, encoding="utf-8")
    offering(Form("leaf", lambda _: f"{mark} of today", mark), patch=monkeypatch)
    ran = call(*INSPECT, "--form", "leaf", "--out", "out", *more)
    assert ran.status == (1 if goes else 2)
    assert Path("out").read_text(encoding="utf-8") == (f"{mark} of today" if goes else there)


# New files


NEW = {
    "sheet": ("sheet", "new", "new.sheet.yaml", "--no-ask"),
    "pack": ("pack", "new", "packs/new.pack.yaml", "--on", "base"),
    "demo": ("demo", "--copy", "."),
}
MADE = {"sheet": "new.sheet.yaml", "pack": "packs/new.pack.yaml", "demo": "carousel.sheet.yaml"}


@pytest.mark.second_lane
@pytest.mark.parametrize("what", NEW)
def test_a_new_file_is_written_once(what: str) -> None:
    assert call(*NEW[what]).status in (0, 1, 3)
    before = files()
    assert MADE[what] in before
    ran = call(*NEW[what])
    assert (ran.status, files()) == (2, before)
    assert ran.err == f"Error: {MADE[what]} is there already and is left alone; give another name or folder\n"


@pytest.mark.second_lane
@pytest.mark.skipif(sys.platform == "win32", reason="links of POSIX")
@pytest.mark.parametrize("what", NEW)
def test_a_link_that_leads_nowhere_is_something_that_is_there(what: str) -> None:
    Path(MADE[what]).symlink_to("elsewhere")
    assert call(*NEW[what]).status == 2
    assert not Path("elsewhere").exists()
    assert Path(MADE[what]).is_symlink()


def test_a_sheet_that_appears_while_it_asks_is_left_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    def answered(*_: object, default: str = "", **__: object) -> str:
        Path("new.sheet.yaml").write_text("somebody else's", encoding="utf-8")
        return default

    monkeypatch.setattr(click, "prompt", answered)
    ran = call("sheet", "new", "new.sheet.yaml", "--pack", "base", "--ask")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == "Error: new.sheet.yaml is there already and is left alone; give another name or folder\n"
    assert Path("new.sheet.yaml").read_text(encoding="utf-8") == "somebody else's"


@pytest.mark.second_lane
def test_of_four_that_start_one_sheet_at_once_one_does(jobs: Path) -> None:
    for _ in range(2):
        started = [process(*NEW["sheet"], "--title", f"of {number}", folder=jobs) for number in range(4)]
        ended = [(each.communicate(timeout=60)[1], each.returncode) for each in started]
        (winner,) = (number for number, (_, status) in enumerate(ended) if status == 0)
        others = [err for err, status in ended if status == 2]
        assert others == ["Error: new.sheet.yaml is there already and is left alone; give another name or folder\n"] * 3
        assert f"title: of {winner}" in Path("new.sheet.yaml").read_text(encoding="utf-8")
        Path("new.sheet.yaml").unlink()


@pytest.mark.second_lane
def test_of_four_that_write_one_report_at_once_the_last_stands_whole(jobs: Path) -> None:
    arguments = ("inspect", *["held.sheet.yaml"] * 30, "--out", "out")
    whole = call(*arguments[:-1], "other")
    started = [process(*arguments, folder=jobs) for _ in range(4)]
    assert [each.communicate(timeout=60)[1] for each in started] == [""] * 4
    assert Path("out").read_bytes() == Path("other").read_bytes()
    assert whole.status == 1
    assert [name for name in os.listdir(".") if name.startswith(".")] == []


def test_without_a_cache_folder_everything_works(jobs: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file stands where the folder would be."""
    (jobs / "cache").write_text("", encoding="utf-8")
    monkeypatch.setenv("XDG_CACHE_HOME", str(jobs / "cache"))
    assert call(*INSPECT).status == 1
    shutil.rmtree(jobs / "packs")
    assert call(*INSPECT).status == 2
