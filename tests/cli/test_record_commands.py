"""`specrules record`: what of a kept record still stands, what moved since, and the status that each ends with."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from specrules.document.safe_text import safe
from specrules.output.marks import CHANGES
from specrules.record import Record, read_record, record_data, record_text
from tests.cli.shell import Ran, call
from tests.cli.small_jobs import CLEAR, FAULTY, HELD, lay_out
from tests.lanes import first_alone
from tests.output.hostile_records import HOSTILE


@pytest.fixture(autouse=True)
def jobs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    lay_out(tmp_path, clear=CLEAR, held=HELD, faulty=FAULTY)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def keep(*asked: str, name: str = "kept.json") -> None:
    call("inspect", *asked, "--form", "json", "--out", name)


def check(*asked: str) -> Ran:
    ran = call("record", "check", *asked)
    return ran._replace(out=" ".join(ran.out.split()))


def edit(name: str, old: str, new: str) -> None:
    text = Path(name).read_text(encoding="utf-8")
    assert old in text
    Path(name).write_text(text.replace(old, new), encoding="utf-8")


def tamper(change: Callable[[Any], object], name: str = "kept.json") -> None:
    made = record_data(read_record(Path(name).read_bytes()))
    change(made)
    record = Record.model_validate_json(json.dumps(made), by_alias=True, by_name=False)
    Path(name).write_text(record_text(record), encoding="utf-8")


SHEET, PACK = "clear.sheet.yaml", "packs/base.pack.yaml"


@pytest.mark.parametrize(
    "asked",
    first_alone(
        "clear.sheet.yaml --add wide --until dry_fit --at-least 3",
        "clear.sheet.yaml",
        "clear.sheet.yaml --decision guarded --sure --held-by major",
        "held.sheet.yaml",
    ),
)
def test_a_record_of_what_is_still_there_is_as_it_was_whatever_was_asked(asked: str) -> None:
    keep(*asked.split())
    ran = check("kept.json")
    assert ran.status == 0
    assert "JUDGED AGAIN 11 findings the same. All is as it was: judging it again gives the same." in ran.out


CHANGED: dict[str, tuple[Callable[[], object], list[str]]] = {
    "a reading": (
        lambda: edit(SHEET, "tilt: 0.0020", "tilt: 0.0060"),
        [
            "sheet clear.sheet.yaml changed: ",
            "Tilt of the plate verdict: in spec, now out of spec",
            "value: 0.002, now 0.006",
            "the whole clear, now held",
            "10 findings the same; 1 comes to something else.",
            "Not as it was; not what was judged: the sheet clear.sheet.yaml; judging again gives something else.",
        ],
    ),
    "a remark in the sheet": (
        lambda: edit(SHEET, "readings:", "# read in the cold\nreadings:"),
        ["sheet clear.sheet.yaml changed: ", "judging again comes to the same, told in another way."],
    ),
    "a remark in a pack": (
        lambda: edit(PACK, "specrules:", "# ours\nspecrules:"),
        ["pack base 1.0 changed: ", "specification as sealed the same", "the same all the same."],
    ),
    "a limit": (
        lambda: edit(PACK, "most: 0.0040 in}", "most: 0.0050 in}"),
        ["pack base 1.0 changed: ", "specification as sealed changed: ", "limits: most 0.004, now most 0.005"],
    ),
    "the version of a pack": (
        lambda: edit(PACK, 'version: "1.0"', 'version: "1.1"'),
        ["pack base 1.0, now 1.1 changed"],
    ),
    "a figure of the record": (
        lambda: tamper(lambda made: made["findings"][0].update(value=0.0021)),
        ["value: 0.0021, now 0.002", "sheet clear.sheet.yaml the same", "1 comes to something else"],
    ),
    "a word of the record": (
        lambda: tamper(lambda made: made["findings"][0].update(caution="None.")),
        ["Not as it was; judging again comes to the same, told in another way."],
    ),
    "what is told beside the findings": (
        lambda: tamper(lambda made: made["counts"].update({"in spec": 12}) or made["sheet"].update(job="J-2")),
        ["What the record says of these is another thing: sheet and counts.", "told in another way."],
    ),
    "a reading of the record": (
        lambda: tamper(lambda made: made["readings"][0].update(text="1.6")),
        ["another thing: readings."],
    ),
    "a finding left out": (
        lambda: tamper(lambda made: made["findings"].pop()),
        ["finding: none, now there", "10 findings the same; 1 comes"],
    ),
    "a finding twice": (
        lambda: tamper(lambda made: made["findings"].append({**made["findings"][0], "rule": "other"})),
        ["finding: there, now none"],
    ),
    "a sign-off": (
        lambda: tamper(lambda made: made["sign-offs"][0].update(state="missing")),
        ["state: missing, now signed"],
    ),
    "the seal not known": (lambda: tamper(lambda made: made.update(seal=None)), ["as sealed not known to the record"]),
}


@pytest.mark.parametrize("what", first_alone(*CHANGED))
def test_what_is_not_as_it_was_is_told(what: str) -> None:
    keep(SHEET)
    change, told = CHANGED[what]
    change()
    ran = check("kept.json")
    assert ran.status == 1
    for each in told:
        assert each in ran.out


def test_another_program_that_judges_the_same_is_told_and_changes_nothing() -> None:
    keep(SHEET)
    tamper(lambda made: made["tool"].update(version="0.9", plugins=["plugin shop 2"]))
    ran = check("kept.json")
    assert ran.status == 0
    assert "program specrules 0.9, now 1.0.0" in ran.out
    assert "plugins plugin shop 2, now none" in ran.out


@pytest.mark.second_lane
def test_a_sheet_is_found_beside_its_record_and_where_it_is_said_to_be(jobs: Path) -> None:
    keep(SHEET)
    (jobs / "packs").rename(jobs / "old_packs")
    (jobs / "away").mkdir()
    lay_out(jobs / "away")
    (jobs / SHEET).rename(jobs / "away" / SHEET)
    assert check("kept.json").status == 2
    assert "The sheet clear.sheet.yaml is gone: nothing says whether the record still stands." in check("kept.json").out
    assert check("kept.json", "--sheet", f"away/{SHEET}").status == 0
    (jobs / "kept.json").rename(jobs / "away" / "kept.json")
    assert check("away/kept.json").status == 0


def test_what_cannot_be_judged_again_does_not_stand(jobs: Path) -> None:
    keep(SHEET)
    edit(SHEET, "tilt: 0.0020", "tilt: 0,0020")
    ran = check("kept.json")
    assert (ran.status, "It cannot be judged again, so nothing says that it still stands." in ran.out) == (2, True)
    assert "clear.sheet.yaml, line" in ran.err
    edit(SHEET, "tilt: 0,0020", "tilt: 0.0020")
    (jobs / PACK).unlink()
    assert check("kept.json").status == 2
    keep("faulty.sheet.yaml", name="faulty.json")
    ran = check("faulty.json")
    assert (ran.status, "Nothing was judged then" in ran.out) == (2, True)


@pytest.mark.second_lane
def test_records_of_several_sheets_are_checked_one_by_one() -> None:
    keep(SHEET, "held.sheet.yaml")
    assert check("kept.json").status == 0
    edit("held.sheet.yaml", "tilt: 0.0060", "tilt: 0.0061")
    ran = check("kept.json")
    assert (ran.status, ran.out.count("All is as it was"), ran.out.count("Not as it was")) == (1, 1, 1)
    ran = check("kept.json", "--sheet", SHEET)
    assert (ran.status, "has records of 2" in ran.err) == (2, True)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("specrules: build-sheet/1\n", "line 1, column 1: no JSON"),
        ("{}", "/specrules: this is no inspection-record/1"),
        ("", "line 1, column 1: no JSON"),
        ('{"specrules":"inspection-record/9"}', "a newer specrules may read it"),
        ('{"specrules":1}\n{"specrules":2}\n', "line 1: /specrules"),
    ],
)
def test_what_is_no_record_is_told(text: str, said: str, jobs: Path) -> None:
    (jobs / "no.json").write_text(text, encoding="utf-8")
    for command in (("check", "no.json"), ("compare", "no.json", "no.json")):
        ran = call("record", *command)
        assert (ran.status, ran.out) == (2, "")
        assert "no.json: " in ran.err
        assert said in ran.err
    assert call("record", "check", "none.json").status == 2


@pytest.mark.parametrize("text", first_alone(*HOSTILE.values()))
def test_a_record_that_wishes_ill_prints_nothing_harmful(text: str) -> None:
    keep(SHEET)
    tamper(lambda made: made["findings"][0].update(title=text.encode("utf-8", "replace").decode(), value=1.5))
    tamper(lambda made: made["sheet"].update(title=text.encode("utf-8", "replace").decode(), file=SHEET))
    ran = call("record", "check", "kept.json")
    assert ran.status == 1
    assert all(safe(row) == row for row in ran.out.split("\n"))


def test_a_comparison_goes_to_a_file_as_a_page_or_a_screen() -> None:
    for name, sheet in (("old.json", "held.sheet.yaml"), ("new.json", SHEET)):
        keep(sheet, name=name)
    compare = ("record", "compare", "old.json", "new.json")
    for form, mark in (("console", CHANGES), ("page", ""), ("json", "")):
        printed = call(*compare, "--form", form)
        assert call(*compare, "--form", form, "--out", "out") == (0, "", "")
        assert Path("out").read_text(encoding="utf-8") == mark + printed.out
    assert printed.status == 0
    refused = call(*compare, "--form", "page", "--out", "new.json", "--replace")
    assert refused.status == 2
    assert "new.json is the file that this run reads as new.json" in refused.err


def test_a_comparison_that_comes_to_nothing_says_that_its_file_is_of_an_earlier_run() -> None:
    keep(SHEET)
    assert call("record", "compare", "kept.json", "kept.json", "--out", "out").status == 0
    ran = call("record", "compare", "kept.json", "gone.json", "--form", "page", "--out", "out")
    assert (ran.status, "out is still what an earlier run wrote." in ran.err) == (2, True)
