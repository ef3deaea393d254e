"""`demo`, `working`, `sheet` and `pack`: each command, its statuses and what it says when it is asked wrongly."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from specrules.effects.pack_files import shipped_folder
from tests.cli.shell import call, run
from tests.cli.small_jobs import CLEAR, HELD, lay_out
from tests.output.small_screen import PACKS

DEMO = Path(__file__).parent.parent / "output" / "demo.txt"


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


# demo


@pytest.mark.second_lane
def test_the_demo_is_its_stored_screen_and_ends_well() -> None:
    ran = call("demo")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out == DEMO.read_text(encoding="utf-8")


@pytest.mark.second_lane
def test_a_copy_of_the_demo_is_judged_as_the_demo_is() -> None:
    ran = call("demo", "--copy", "my-engine")
    assert ran.status == 0
    screen = DEMO.read_text(encoding="utf-8").split("\nThis is the demo.")[0]
    path = Path("my-engine/carousel.sheet.yaml")
    assert ran.out == f"{screen}\nIts sheet is now {path}. Change a reading, then:\n  specrules inspect {path}\n"
    again = call("inspect", path)
    assert again.out == screen
    assert again.status == 1


@pytest.mark.second_lane
def test_a_copy_never_goes_over_a_file_that_is_there() -> None:
    call("demo", "--copy", ".")
    Path("carousel.sheet.yaml").write_text("mine", encoding="utf-8")
    ran = call("demo", "--copy", ".")
    assert ran.status != 0
    assert "carousel.sheet.yaml is there already and is left alone; give another name or folder" in ran.err
    assert Path("carousel.sheet.yaml").read_text(encoding="utf-8") == "mine"


@pytest.mark.second_lane
def test_the_demo_heeds_no_packs_of_the_folder_it_is_run_in() -> None:
    Path("packs").mkdir()
    Path("packs/towing.pack.yaml").write_text("not: a pack", encoding="utf-8")
    assert call("demo").status == 0


# packs beside a sheet that are those that ship


def copied(folder: Path) -> None:
    for path in shipped_folder().rglob("*.pack.yaml"):
        target = folder / "packs" / path.relative_to(shipped_folder())
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(path.read_bytes())


@pytest.mark.second_lane
def test_a_clone_of_the_packs_that_ship_above_a_sheet_is_no_fault(here: Path) -> None:
    copied(here)
    assert call("demo", "--copy", "jobs").status == 0
    assert call("inspect", "jobs/carousel.sheet.yaml").status == 1
    assert call("pack", "list").status == 0


@pytest.mark.second_lane
def test_a_changed_pack_under_a_name_that_ships_is_one(here: Path) -> None:
    copied(here)
    call("demo", "--copy", "jobs")
    with Path("packs/towing.pack.yaml").open("ab") as file:
        file.write(b"# ours\n")
    ran = call("inspect", "jobs/carousel.sheet.yaml")
    assert ran.status == 2
    assert 'a pack called "towing" ships with the program' in ran.err
    assert "write another name" in ran.err


# working


def test_a_rule_is_shown_without_a_sheet_and_worked_with_one(here: Path) -> None:
    lay_out(here, held=HELD)
    alone = call("working", "tilt", "--add", "base")
    assert (alone.status, alone.err) == (0, "")
    assert alone.out.startswith("Tilt of the plate\nname          tilt\n")
    worked = call("working", "tilt", "held.sheet.yaml")
    assert worked.status == 0
    assert worked.out.startswith(alone.out)
    assert "HIGH by 0.0020" in worked.out
    assert "  tilt:\n    - {least: 0.0000 in, most: 0.0000 in, source: where the figure stands}\n" in worked.out


def test_the_lines_to_paste_are_taken_by_a_sheet(here: Path) -> None:
    lay_out(here, held=HELD)
    pasted = call("working", "fit", "held.sheet.yaml").out.split("limits:\n")[-1]
    figures = pasted.replace("least: 0.0000", "least: 0.0015").replace("most: 0.0000", "most: 0.0025")
    sheet = HELD.replace("limits: {plug:", f"limits:\n{figures}  plug: ").replace("box}]}", "box}]")
    (here / "pasted.sheet.yaml").write_text(sheet, encoding="utf-8")
    ran = call("working", "fit", "pasted.sheet.yaml")
    assert (ran.status, ran.err) == (0, "")
    assert "least 0.0015   most 0.0025 in" in ran.out


@pytest.mark.second_lane
def test_the_shipped_packs_rules_can_be_shown_from_anywhere() -> None:
    ran = call("working", "main_oil_clearance")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith("Main bearing oil clearance")


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["main_oil_clearence"], '"main_oil_clearence" is no rule of these packs; write main_oil_clearance'),
        (["zzz"], '"zzz" is no rule of these packs; see: specrules pack show general'),
        (["main_oil_clearance", "nothere.yaml"], "nothere.yaml: cannot be read"),
        (["main_oil_clearance", "--add", "stret"], '"stret" is no pack that was found; write street.'),
    ],
)
def test_working_says_what_to_write_instead(arguments: list[str], said: str) -> None:
    ran = call("working", *arguments)
    assert (ran.status, ran.out) == (2, "")
    assert said in ran.err


# sheet new

V8 = ("--fact", "cylinders=8", "--fact", "mains=5", "--fact", "throws=[[1, 2], [3, 4], [5, 6], [7, 8]]")


@pytest.mark.second_lane
def test_a_new_sheet_can_be_inspected_at_once_and_says_that_nothing_is_measured() -> None:
    ran = call("sheet", "new", "my.sheet.yaml", "--pack", "street", "--title", "Blue pickup", "--unit", "mm", *V8)
    assert (ran.status, ran.err) == (0, "")
    assert ran.out == (
        "Wrote my.sheet.yaml. Fill in what you measure, leave empty what you do not, then:\n"
        "  specrules inspect my.sheet.yaml\n"
    )
    judged = call("inspect", "my.sheet.yaml")
    assert (judged.status, judged.err) == (3, "")
    assert judged.out.startswith("State ignition, cooling, cycle: 66 checks wait.\n")
    assert "\nBlue pickup\npacks     general 1.0, street 1.0\n" in judged.out
    assert "Nothing measured yet: " in judged.out
    written = YAML(typ="safe").load(Path("my.sheet.yaml").read_text(encoding="utf-8"))
    assert (written["unit"], written["packs"], written["facts"]["cylinders"]) == ("mm", ["street"], 8)
    assert [key for key in written["readings"]["main_journal"] if isinstance(key, int)] == [1, 2, 3, 4, 5]


@pytest.mark.second_lane
def test_a_new_sheet_asks_for_what_is_not_given() -> None:
    typed = "towimg\n,\ntowing\nHauler\nmm\n\n\n\neight\n8\n5\n\n[[1, 2], [3, 4], [5, 6], [7, 8]]\n" + "\n" * 10
    ran = call("sheet", "new", "asked.sheet.yaml", "--ask", typed=typed)
    refused = '"towimg" is no pack that was found; write towing.\n"eight" is no whole number from 1 to 256.\n'
    assert (ran.status, ran.err) == (0, refused)
    for question in (
        "Judge by which pack",
        "What is being built",
        "Lengths in",
        "Number of cylinders",
        "crankpin",
        "no shells and no crush",
    ):
        assert question in ran.out
    given = call("sheet", "new", "given.sheet.yaml", "--pack", "towing", "--title", "Hauler", "--unit", "mm", *V8)
    assert given.status == 0
    assert Path("asked.sheet.yaml").read_text("utf-8") == Path("given.sheet.yaml").read_text("utf-8")


@pytest.mark.second_lane
def test_an_answer_that_never_comes_stops_it_and_writes_nothing(here: Path) -> None:
    ran = run("sheet", "new", "asked.sheet.yaml", "--ask", folder=here)
    assert ran.status == 130
    assert ran.err.endswith("Stopped.\n")
    assert list(here.iterdir()) == []


def test_nothing_is_asked_where_nobody_can_answer() -> None:
    ran = call("sheet", "new", "plain.sheet.yaml")
    assert ran.status == 0
    assert Path("plain.sheet.yaml").read_text("utf-8").split("\n")[1] == "specrules: build-sheet/1"


def test_a_sheet_that_is_there_is_never_written_over() -> None:
    Path("my.sheet.yaml").write_text("mine", encoding="utf-8")
    ran = call("sheet", "new", "my.sheet.yaml")
    assert ran.status != 0
    assert "my.sheet.yaml is there already and is left alone; give another name or folder" in ran.err
    assert Path("my.sheet.yaml").read_text(encoding="utf-8") == "mine"


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--pack", "stret"], '"stret" is no pack that was found; write street.'),
        (["--fact", "cylindrs=8"], '"cylindrs" is no fact; write cylinders.'),
        (["--fact", "cylinders=eight"], 'x.sheet.yaml, not written, cylinders: "eight" is no whole number'),
        (["--fact", "cylinders"], "--fact cylinders: write NAME=VALUE, such as cylinders=8"),
        (["--unit", "ft"], "'in', 'mm'"),
    ],
)
def test_a_new_sheet_that_cannot_be_is_not_written(arguments: list[str], said: str, here: Path) -> None:
    ran = call("sheet", "new", "x.sheet.yaml", *arguments)
    assert ran.status == 2
    assert said in ran.err
    assert list(here.iterdir()) == []


TITLES = ("\udcff odd", "A: B", "- x", "#1", "it's 'so'", '"', "[x]", "yes", "{a}", "  ", "ü")


@pytest.mark.second_lane
@pytest.mark.parametrize("title", TITLES)
def test_any_title_can_be_given(title: str) -> None:
    assert call("sheet", "new", "x.sheet.yaml", "--title", title).status == 0
    assert call("inspect", "x.sheet.yaml").status == 3


# pack


@pytest.mark.second_lane
def test_the_packs_that_may_be_named_here_are_listed(here: Path) -> None:
    lay_out(here)
    ran = call("pack", "list")
    assert (ran.status, ran.err) == (0, "")
    names = [row.split()[0] for row in ran.out.split("\n") if row and not row.startswith((" ", "A sheet"))]
    assert names == sorted([*PACKS, "general", "street", "towing", "racing", "teaching"])


@pytest.mark.second_lane
def test_a_pack_at_fault_is_told_once_and_the_others_listed(here: Path) -> None:
    lay_out(here)
    broken = PACKS["wide"].replace("tilt", "tlit")
    (here / "packs" / "wide.pack.yaml").write_text(broken, encoding="utf-8")
    ran = call("pack", "list")
    assert ran.status == 2
    assert ran.err.count("tlit") == 1
    assert "strict 2" in ran.out


@pytest.mark.parametrize("given", ["wide", "packs/wide.pack.yaml"])
def test_a_pack_is_shown_by_its_name_or_its_file(given: str, here: Path) -> None:
    lay_out(here)
    ran = call("pack", "show", given)
    assert (ran.status, ran.err) == (0, "")
    assert "builds on base 1.0\n" in ran.out
    assert "amended       wide: packs/wide.pack.yaml, line 5\n              Ours are long.\n" in ran.out


def test_a_pack_in_any_folder_is_proven_by_its_file(here: Path) -> None:
    (here / "drafts").mkdir()
    (here / "drafts" / "base.pack.yaml").write_text(PACKS["base"], encoding="utf-8")
    ran = call("pack", "prove", "drafts/base.pack.yaml")
    assert (ran.status, ran.err) == (0, "")
    assert "base proves.\n  Tried: 6 rules, 6 worked examples, " in ran.out


@pytest.mark.parametrize(
    ("right", "wrong", "status", "said"),
    [
        ("Base practice", "Base practice", 0, "base proves."),
        (
            "{readings: {tilt: 0.0040}}",
            "{readings: {tilt: 0.0041}}",
            1,
            "out of spec",
        ),
        ("least: 0.0010 in, aim", "least: 0.0050 in, aim", 1, "Limits out of order"),
        ("formula: tilt\n", "formula: tlit\n", 2, "tilt"),
        ("specrules: tolerance-pack/1", "specrules: tolerance-pack/9", 2, "tolerance-pack/1"),
    ],
)
def test_a_pack_is_proven(right: str, wrong: str, status: int, said: str, here: Path) -> None:
    lay_out(here)
    assert right in PACKS["base"]
    (here / "packs" / "base.pack.yaml").write_text(PACKS["base"].replace(right, wrong), encoding="utf-8")
    ran = call("pack", "prove", "base")
    assert ran.status == status
    assert said in ran.out + ran.err


def test_of_several_packs_the_gravest_proof_counts(here: Path) -> None:
    lay_out(here)
    assert call("pack", "prove", "base", "wide").status == 0
    assert call("pack", "prove", "base", "nothere").status == 2


@pytest.mark.second_lane
@pytest.mark.parametrize("name", ["general", "street", "towing", "racing", "teaching"])
def test_a_pack_that_ships_proves(name: str) -> None:
    ran = call("pack", "prove", name)
    assert (ran.status, ran.err) == (0, "")
    assert f"\n{name} proves.\n" in ran.out


@pytest.mark.second_lane
@pytest.mark.parametrize("names", [[], ["base"], ["wide", "strict"]])
def test_a_schema_takes_a_good_sheet_and_refuses_a_bad_one(names: list[str], here: Path) -> None:
    lay_out(here)
    ran = call("pack", "schema", *names)
    assert (ran.status, ran.err) == (0, "")
    schema = json.loads(ran.out)
    Draft202012Validator.check_schema(schema)
    sheet = YAML(typ="safe", pure=True).load(CLEAR.replace("[base]", f"[{', '.join(names) or 'base'}]"))
    sheet["build"].pop("date", None)
    validator = Draft202012Validator(schema)
    assert not validator.is_valid({**sheet, "raedings": {}})
    if names:
        assert not validator.is_valid({**sheet, "readings": {"hoel": 1}})


@pytest.mark.parametrize("command", ["show", "prove", "schema"])
def test_a_pack_that_is_not_there_is_said(command: str) -> None:
    ran = call("pack", command, "stret")
    assert ran.status == 2
    assert '"stret" is no pack that was found; write street.' in ran.err
