"""`specrules inspect`: what it prints, where it writes, and the status that it ends with."""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from specrules.output.lines import line
from specrules.plugins import Around, Form
from tests.cli.shell import call
from tests.cli.small_jobs import CLEAR, FAULTY, HELD, NEAR, OPEN, lay_out
from tests.plugins.small_plugins import boom, found, plugin


@pytest.fixture(autouse=True)
def jobs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    lay_out(tmp_path, clear=CLEAR, held=HELD, open=OPEN, faulty=FAULTY, near=NEAR)
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize(
    ("arguments", "status", "said"),
    [
        (["clear.sheet.yaml"], 0, "Go on: nothing holds the job and nothing is open"),
        (["held.sheet.yaml"], 1, "Stop at the hold point first start: tilt of the plate high."),
        (["faulty.sheet.yaml"], 2, ""),
        (["open.sheet.yaml"], 3, "Not yet: 1 to measure before the hold point first start."),
        (["near.sheet.yaml"], 0, "1 just in"),
        (["near.sheet.yaml", "--sure"], 1, "tilt of the plate just in"),
        (["near.sheet.yaml", "--decision", "simple"], 0, "simple acceptance"),
        (["near.sheet.yaml", "--decision", "simple", "--sure"], 0, "11 in spec"),
        (["held.sheet.yaml", "--held-by", "major"], 0, "Only what is major or critical holds the job."),
        (["held.sheet.yaml", "--held-by", "minor"], 1, "Stop"),
        (["held.sheet.yaml", "--until", "dry_fit"], 0, "up to the hold point dry fit"),
        (["held.sheet.yaml", "--until", "first_start"], 1, "Stop"),
        (["open.sheet.yaml", "--until", "dry_fit"], 0, "Go on"),
        (["clear.sheet.yaml"], 0, "11 in spec. 6 of 6 checks judged, on 18 readings."),
        (["clear.sheet.yaml", "--at-least", "6"], 0, "Go on"),
        (["clear.sheet.yaml", "--at-least", "7"], 3, "6 checks were judged, and at least 7 are asked for."),
        (["held.sheet.yaml", "--at-least", "7"], 1, "Stop"),
        (["held.sheet.yaml", "--add", "wide"], 0, "Tilt of the plate: most 0.0060 in instead of 0.0040 in, by wide"),
    ],
)
def test_the_status_says_whether_the_work_may_go_on(arguments: list[str], status: int, said: str) -> None:
    ran = call("inspect", *arguments)
    assert (ran.status, said in ran.out) == (status, True)


@pytest.mark.second_lane
def test_each_of_several_sheets_has_to_reach_what_is_asked_for(jobs: Path) -> None:
    one, few = "clear.sheet.yaml", "few.sheet.yaml"
    (jobs / few).write_text(CLEAR.replace("  plug: 1.0000\n", ""), encoding="utf-8")
    assert call("inspect", one, one, "--at-least", "6").status == 0
    ran = call("inspect", one, few, "--at-least", "6")
    assert ran.status == 3
    assert "1 not measured; 5 checks were judged, and at least 6 are asked for" in " ".join(ran.out.split())


@pytest.mark.parametrize("number", ["0", "-1", "many"])
def test_what_is_asked_for_is_a_number_of_checks(number: str) -> None:
    ran = call("inspect", "clear.sheet.yaml", "--at-least", number)
    assert (ran.status, "--at-least" in ran.err) == (2, True)


def test_a_record_says_how_much_was_judged_by_what_and_what_was_asked() -> None:
    made = json.loads(call("inspect", "clear.sheet.yaml", "--add", "wide", "--at-least", "6", "--form", "json").out)
    assert made["evidence"] == {"judged": 6, "apply": 6, "readings": 18, "entered": 18}
    assert made["at least"] == 6
    assert len(made["seal"]) == 64
    assert [(each["code"], each["name"], each["part"], each["was"], each["now"]) for each in made["ledger"]] == [
        ("limit widened", "tilt", "most", "0.0040 in", "0.0060 in")
    ]
    plain = json.loads(call("inspect", "clear.sheet.yaml", "--form", "json").out)
    assert (plain["ledger"], plain["at least"]) == ([], None)
    assert plain["seal"] != made["seal"]


def test_a_pack_that_hides_another_of_its_name_is_told(jobs: Path) -> None:
    near = jobs / "job" / "packs"
    near.mkdir(parents=True)
    sheet = jobs / "job" / "near.sheet.yaml"
    sheet.write_text(CLEAR, encoding="utf-8")
    text = (jobs / "packs" / "base.pack.yaml").read_text(encoding="utf-8")
    (near / "base.pack.yaml").write_text(text, encoding="utf-8")
    assert "ASKED LESS" not in call("inspect", str(sheet)).out
    (near / "base.pack.yaml").write_text(text + "# another\n", encoding="utf-8")
    told = "The pack base: read from packs/base.pack.yaml, not from ../packs/base.pack.yaml."
    assert told in " ".join(call("inspect", str(sheet)).out.split())
    made = json.loads(call("inspect", str(sheet), "--form", "json").out)
    assert [each["said"] for each in made["ledger"]] == [told]


HEADER = "specrules: build-sheet/1\n"
IDLE = "specrules: tolerance-pack/1\npack: {name: idle, version: 1.0.0, title: Idle, licence: CC0-1.0}\n"
"""A pack that stands and checks nothing."""


@pytest.mark.parametrize("packs", ["", "packs: []\n", "packs:\n"])
def test_a_sheet_that_names_no_packs_is_at_fault(packs: str, jobs: Path) -> None:
    (jobs / "none.sheet.yaml").write_text(HEADER + packs, encoding="utf-8")
    ran = call("inspect", "none.sheet.yaml")
    assert ran.status == 2
    assert "none.sheet.yaml, packs: names no tolerance pack to be judged by; write packs: [general]." in ran.err


@pytest.mark.second_lane
@pytest.mark.parametrize("add", [["--add", "idle"], ["--add", "idle", "none.sheet.yaml"]])
def test_where_nothing_is_checked_nothing_says_go_on(add: list[str], jobs: Path) -> None:
    (jobs / "none.sheet.yaml").write_text(HEADER, encoding="utf-8")
    (jobs / "packs" / "idle.pack.yaml").write_text(IDLE, encoding="utf-8")
    ran = call("inspect", "none.sheet.yaml", *add)
    assert (ran.status, "Not yet: these packs check nothing here." in ran.out, "o on" in ran.out) == (3, True, False)


UNFIT = (
    IDLE
    + """
facts: {kind: {title: Kind, kind: choice, choices: [new, used]}}
measurands: {gap: {title: Gap, unit: mm}}
rules:
  gap_size:
    title: Gap
    formula: gap
    importance: minor
    applies when: kind == new
    source: {kind: from memory, note: invented}
    worked: [{given: {readings: {gap: 0.5 mm}, facts: {kind: new}}, expect: {value: 0.5 mm, verdict: in spec}}]
    limits: [{name: base, most: 1 mm}]
"""
)


def test_where_no_check_applies_nothing_says_go_on(jobs: Path) -> None:
    (jobs / "none.sheet.yaml").write_text(HEADER + "packs: [idle]\nfacts: {kind: used}\n", encoding="utf-8")
    (jobs / "packs" / "idle.pack.yaml").write_text(UNFIT, encoding="utf-8")
    ran = call("inspect", "none.sheet.yaml")
    assert ran.status == 3
    assert ran.out.endswith("\n\nNot yet: these packs check nothing here.\n")


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("names", "status"),
    [
        ("clear", 0),
        ("clear near", 0),
        ("clear open", 3),
        ("open held", 1),
        ("held open clear", 1),
        ("held faulty open", 2),
        ("faulty faulty", 2),
    ],
)
def test_of_several_sheets_the_gravest_counts_and_each_has_a_line_at_the_end(names: str, status: int) -> None:
    files = [f"{name}.sheet.yaml" for name in names.split()]
    ran = call("inspect", *files)
    assert ran.status == status
    if len(files) > 1:
        said = {
            "clear": "go on: 11 in spec",
            "near": "go on: 10 in spec, 1 just in",
            "held": "stop: 10 in spec, 1 out of spec",
            "open": "not yet: 10 in spec, 1 not measured",
            "faulty": "at fault, not judged",
        }
        last = ran.out.split("\n")[-len(files) - 1 : -1]
        from_below = ["clear", "near", "open", "held", "faulty"]  # the gravest last, where it is read first
        rows = [f"{name}.sheet.yaml {said[name]}" for name in sorted(names.split(), key=from_below.index)]
        assert [" ".join(row.split()) for row in last] == rows


def test_a_fault_in_one_sheet_leaves_the_others_judged() -> None:
    ran = call("inspect", "faulty.sheet.yaml", "held.sheet.yaml")
    assert "HIGH by 0.0020" in ran.out
    assert ran.err.startswith("faulty.sheet.yaml, line 10, tilt: ")


def test_a_record_is_json_that_lists_every_rule() -> None:
    ran = call("inspect", "held.sheet.yaml", "--form", "json")
    record = json.loads(ran.out)
    assert ran.status == 1
    assert record["verdict"] == "held"
    assert {each["rule"] for each in record["findings"]["sets"]} == {"fit", "grip", "tilt", "slot", "plug", "alike"}


def test_the_record_of_a_faulty_sheet_has_its_faults() -> None:
    ran = call("inspect", "faulty.sheet.yaml", "--form", "json")
    record = json.loads(ran.out)
    assert ran.status == 2
    assert record["findings"]["sets"] == []
    assert len(record["faults"]) == 1


def test_a_screen_goes_to_a_file_as_it_would_to_a_pipe() -> None:
    screen = call("inspect", "held.sheet.yaml").out
    ran = call("inspect", "held.sheet.yaml", "--out", "screen.txt", "--colour", "always")
    assert (ran.status, ran.out, ran.err) == (1, "", "")
    assert Path("screen.txt").read_text(encoding="utf-8") == "specrules: inspection-report/1\n" + screen


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["nothere.sheet.yaml"], "nothere.sheet.yaml: cannot be read: no such file or directory"),
        (["held.shet.yaml"], "write held.sheet.yaml."),
        (["packs"], "packs: cannot be read: is a directory."),
    ],
)
def test_what_cannot_be_read_is_said(arguments: list[str], said: str) -> None:
    ran = call("inspect", *arguments)
    assert ran.status == 2
    assert said in ran.err
    assert "1 fault. Put it right" in ran.err


def test_an_empty_file_is_at_fault_and_says_what_belongs_in_it() -> None:
    Path("empty.sheet.yaml").write_text("", encoding="utf-8")
    ran = call("inspect", "empty.sheet.yaml")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith("empty.sheet.yaml, line 1")
    assert "specrules: build-sheet/1" in ran.err


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["held.sheet.yaml", "--until", "dryfit"], '"dryfit" is no hold point of these packs; write dry_fit'),
        (["held.sheet.yaml", "--add", "wyde"], 'packs: "wyde" is no pack that was found; write wide.'),
        (["held.sheet.yaml", "--formm", "json"], "--form"),
        (["held.sheet.yaml", "--held-by", "grave"], "'critical', 'major', 'minor'"),
        (["held.sheet.yaml", "--decision", "gaurded"], "guarded"),
        ([], "Missing argument 'SHEET...'"),
    ],
)
def test_a_slip_on_the_command_line_says_what_to_write(arguments: list[str], said: str) -> None:
    ran = call("inspect", *arguments)
    assert ran.status == 2
    assert said in ran.err


@pytest.mark.parametrize(
    ("right", "wrong", "said"),
    [
        ("[base]", "[bas]", 'line 3, packs: "bas" is no pack that was found; write base.'),
        ("[base]", "[../base]", '"../base" is no plain name for a pack'),
        ("unit: in", "unit: inch es", "line 4, unit: "),
        (
            "decision: simple",
            "decision: gaurded",
            'decision: "gaurded" is no decision rule; write guarded.',
        ),
        ("tilt: 0.0020", "tlit: 0.0020", 'line 10, readings: "tlit"'),
    ],
)
def test_a_slip_in_a_sheet_has_its_place_and_a_next_step(right: str, wrong: str, said: str) -> None:
    Path("slip.sheet.yaml").write_text(CLEAR.replace(right, wrong, 1), encoding="utf-8")
    ran = call("inspect", "slip.sheet.yaml")
    assert (ran.status, ran.out) == (2, "")
    assert said in ran.err, ran.err


def test_every_mistake_of_a_sheet_is_told_at_once_with_its_place() -> None:
    """What people write: a decimal comma, two readings too many, a place that is not there, a name misspelt."""
    sheet = CLEAR
    for right, wrong in (
        ("1: [1.5020, 1.5020], 2: [1.5020, 1.5020]", "1: [1.5020, 1.5020, 1.5020], 2: 1,5020"),
        ("grip: {1: 0.0030, 2: 0.0030}", "grip: {1: 0.0030, 3: 0.0030}"),
        ("tilt: 0.0020", "tlit: about 0.0020"),
        ("plug: 1.0000", "plug: 1.0 inchs"),
    ):
        assert right in sheet
        sheet = sheet.replace(right, wrong)
    Path("slips.sheet.yaml").write_text(sheet, encoding="utf-8")
    ran = call("inspect", "slips.sheet.yaml")
    assert ran.status == 2
    rows = ran.err.rstrip("\n").split("\n")
    told = [int(row.split(", line ")[1].split(",")[0]) for row in rows[:-1]]
    assert told == sorted(told)
    assert {7, 9, 10, 12} <= set(told)
    assert rows[-1] == f"{len(told)} faults. Put them right, then run it again: a file at fault is not judged."


def test_inch_values_in_a_millimetre_sheet_are_never_judged_as_good() -> None:
    """A shaft of 1.5 mm is outside every usual size: the whole sheet is doubted, and nothing of it passes."""
    Path("mm.sheet.yaml").write_text(CLEAR.replace("unit: in\n", "unit: mm\n"), encoding="utf-8")
    ran = call("inspect", "mm.sheet.yaml")
    assert ran.status in (1, 3)
    assert "9 not proven." in ran.out
    assert "outside the usual sizes" in ran.out


def test_of_very_many_faults_a_hundred_are_told_and_the_rest_counted() -> None:
    wrong = "".join(f"  unknown_{number}: 1\n" for number in range(150))
    Path("many.sheet.yaml").write_text(CLEAR.replace("readings:\n", f"readings:\n{wrong}"), encoding="utf-8")
    rows = call("inspect", "many.sheet.yaml").err.rstrip("\n").split("\n")
    assert len(rows) == 102
    assert rows[-2] == "and 50 more."
    assert rows[-1].startswith("150 faults.")


def test_watching_judges_again_when_a_sheet_or_a_pack_is_saved(monkeypatch: pytest.MonkeyPatch) -> None:
    """Once at once; then the sheet is put right, then broken, then a pack says otherwise."""
    sheet, pack = Path("held.sheet.yaml"), Path("packs/base.pack.yaml")
    tighter = pack.read_text(encoding="utf-8").replace("most: 0.0040 in}", "most: 0.0010 in}")
    broken = CLEAR.replace("tilt: 0.0020", "tilt: 0,0020")
    saved = [(sheet, CLEAR), (sheet, broken), (sheet, CLEAR), (pack, tighter)]

    def changes(_: object) -> Iterator[None]:
        yield
        for path, text in saved:
            path.write_text(text, encoding="utf-8")
            yield

    monkeypatch.setattr("specrules.cli.inspect_command.changes", changes)
    ran = call("inspect", "held.sheet.yaml", "--watch")
    ends = re.findall(r"^(Stop|Go on|Not yet)", ran.out, re.MULTILINE)
    assert ends == ["Stop", "Go on", "Go on", "Stop"]
    assert "0,0020" in ran.err


def test_watching_writes_no_file() -> None:
    ran = call("inspect", "held.sheet.yaml", "--watch", "--out", "report.txt")
    assert (ran.status, Path("report.txt").exists()) == (2, False)
    assert "write one of the two" in ran.err


def test_full_gives_every_check_its_line_and_ends_alike() -> None:
    brief, full = call("inspect", "held.sheet.yaml"), call("inspect", "held.sheet.yaml", "--full")
    assert (brief.status, full.status) == (1, 1)
    assert "Source: " not in brief.out
    assert "Source: " in full.out
    assert brief.out.split("\n\n")[-1] == full.out.split("\n\n")[-1]


def test_full_is_refused_for_a_form_that_has_no_more_to_show() -> None:
    ran = call("inspect", "held.sheet.yaml", "--full", "--form", "json")
    assert (ran.status, ran.out) == (2, "")
    assert "--full: the form json has no more to show; leave it out" in ran.err


def test_a_form_of_a_plugin_may_have_more_to_show_and_fail_at_that_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    rows, more = [line("a row")], [line("a row"), line("and more")]
    offered = [
        Form("leaf", lambda *_: rows, of="report", full=lambda *_: more),
        Form("bad", lambda *_: rows, of="report", full=boom),
    ]
    monkeypatch.setattr("specrules.effects.workspace.installed", lambda: (found(plugin(forms=lambda: offered)),))
    assert call("inspect", "clear.sheet.yaml", "--form", "leaf").out == "a row\n"
    assert call("inspect", "clear.sheet.yaml", "--form", "leaf", "--full").out == "a row\nand more\n"
    assert call("inspect", "clear.sheet.yaml", "--form", "bad").status == 0
    ran = call("inspect", "clear.sheet.yaml", "--form", "bad", "--full")
    assert (ran.status, ran.out) == (2, "")
    assert "in its form bad, so nothing is written" in ran.err


@pytest.mark.parametrize("of", ["report", "record", "records"])
def test_a_form_of_a_plugin_is_made_of_what_it_asks_for_and_where_it_fails_that_is_told_once(
    of: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    rows = {"report": [line("a row")], "record": "a row\n", "records": "a row\n"}[of]
    good, bad = Form("leaf", lambda *_: rows, of=of), Form("bad", boom, of=of)
    monkeypatch.setattr("specrules.effects.workspace.installed", lambda: (found(plugin(forms=lambda: [good, bad])),))
    ran = call("inspect", "clear.sheet.yaml", "clear.sheet.yaml", "--form", "leaf")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.count("a row\n") == (1 if of == "records" else 2)
    ran = call("inspect", "clear.sheet.yaml", "clear.sheet.yaml", "--form", "bad")
    assert ran.status == 2
    assert ran.err == (
        "plugin small of shop 1.0: raises KeyError: 'no such thing' in its form bad, so nothing is written; "
        "write another --form.\n"
    )


@pytest.mark.parametrize(("form", "named"), [("csv", "rule"), ("readings_csv", "name")])
def test_tables_of_several_sheets_are_one_with_one_heading(form: str, named: str, jobs: Path) -> None:
    sheets = ("clear.sheet.yaml", "faulty.sheet.yaml")
    ran = call("inspect", *sheets, "--form", form, "--out", "made.csv")
    assert (ran.status, ran.out, ran.err) == (2, "", "")
    with open(jobs / "made.csv", newline="", encoding="utf-8-sig") as file:
        rows = list(csv.DictReader(file))
    assert {row["sheet"] for row in rows} == set(sheets)
    assert [row["sheet"] for row in rows if not row[named]] == ["faulty.sheet.yaml"]
    assert call("inspect", sheets[0], "--form", form, "--out", "made.csv").status == 0  # it knows its own
    assert "faulty" not in (jobs / "made.csv").read_text(encoding="utf-8")


def test_what_stands_around_the_texts_of_sheets_is_put_once(monkeypatch: pytest.MonkeyPatch) -> None:
    around = Around("specrules [", ",", "]\n")
    one = Form("many", lambda *_: "1", "specrules", "record", lambda *_: "2", around)
    offered = found(plugin(forms=lambda: [one]))
    monkeypatch.setattr("specrules.effects.workspace.installed", lambda: (offered,))
    assert call("inspect", "clear.sheet.yaml", "--form", "many").out == "specrules [1]\n"
    assert call("inspect", "clear.sheet.yaml", "near.sheet.yaml", "--form", "many").out == "specrules [1,1]\n"
    assert call("inspect", "clear.sheet.yaml", "--form", "many", "--full").out == "specrules [2]\n"


def test_a_spreadsheet_goes_to_a_file_and_replaces_none_that_it_is_not_told_to(jobs: Path) -> None:
    asked = ("inspect", "clear.sheet.yaml", "held.sheet.yaml", "--form", "spreadsheet", "--out", "made.xlsx")
    assert call(*asked).status == 1
    assert (jobs / "made.xlsx").read_bytes().startswith(b"PK")
    ran = call(*asked)
    assert (ran.status, "is there already" in ran.err) == (2, True)
    assert call(*asked, "--replace").status == 1
