"""`pack new` and `pack compare`: what they write, show and say when they are asked wrongly."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.shell import call
from tests.cli.small_jobs import CLEAR, lay_out

OWN = """\
specrules: tolerance-pack/1
pack: {name: own, version: "1", title: Ours, builds on: [wide], sets: {material: iron}}
measurands: {lid: {unit: in}}
rules:
  lid:
    title: Lid
    formula: lid
    limits: {most: 1.0000 in}
    importance: minor
    source: {kind: house}
    worked: [{given: {readings: {lid: open}}, expect: {verdict: not measured}}]
"""


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


# new


@pytest.mark.second_lane
def test_a_new_pack_proves_and_can_be_named_by_a_sheet() -> None:
    path = Path("packs/house.pack.yaml")
    ran = call("pack", "new", path, "--on", "street", "--title", "Ours: all of it")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.endswith(f"\n  specrules pack prove {path}\n")
    proven = call("pack", "prove", path)
    assert (proven.status, proven.err) == (0, "")
    assert "house proves.\n" in proven.out
    assert call("sheet", "new", "my.sheet.yaml", "--pack", "house").status == 0
    assert "Ours: all of it\n" in call("pack", "list").out


@pytest.mark.second_lane
def test_a_folder_gets_a_pack_of_the_name_that_is_given() -> None:
    assert call("pack", "new", "packs", "--on", "street", "--on", "towing", "--name", "ours").status == 2
    assert call("pack", "new", "packs", "--on", "towing", "--name", "ours").status == 0
    assert call("pack", "prove", "ours").status == 0


@pytest.mark.second_lane
def test_a_folder_in_packs_is_a_pack_that_is_called_as_it_is(here: Path) -> None:
    ran = call("pack", "new", "packs/mine", "--on", "street")
    assert (ran.status, "No sheet finds it there" in ran.out) == (0, False)
    assert "name: mine " in (here / "packs" / "mine" / "mine.pack.yaml").read_text(encoding="utf-8")
    assert call("pack", "prove", "mine").status == 0


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_a_pack_from_nothing_proves_and_can_be_named_by_a_sheet(unit: str) -> None:
    assert call("pack", "new", "packs/axle.pack.yaml", "--unit", unit, "--title", "Axles").status == 0
    ran = call("pack", "prove", "axle")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.split("\n")[:2] == ["AXLE", "axle proves."]
    assert call("sheet", "new", "my.sheet.yaml", "--pack", "axle").status == 0


def test_a_pack_from_a_sheet_has_its_facts_and_its_own_limits(here: Path) -> None:
    lay_out(here)
    sheet = CLEAR.replace("limits: {", "limits: {tilt: {most: 0.0030 in, source: the leaflet}, ")
    (here / "clear.sheet.yaml").write_text(sheet, encoding="utf-8")
    assert call("pack", "new", "packs/plates.pack.yaml", "--from", "clear.sheet.yaml").status == 0
    text = (here / "packs" / "plates.pack.yaml").read_text(encoding="utf-8")
    assert "          most: 0.0030 in\n" in text
    assert "          least: none\n" in text
    assert "          source: the leaflet\n" in text
    proven = call("pack", "prove", "plates")
    assert (proven.status, proven.err) == (0, "")
    family = CLEAR.replace("packs: [base]", "packs: [plates]").replace("tilt: 0.0020", "tilt: 0.0031")
    family = "".join(line for line in family.splitlines(keepends=True) if not line.startswith("limits:"))
    assert family.count("plates") == 1
    (here / "next.sheet.yaml").write_text(family, encoding="utf-8")
    assert "most 0.0030" in call("inspect", "next.sheet.yaml").out


def test_what_is_there_is_never_written_over(here: Path) -> None:
    (here / "packs").mkdir()
    path = here / "packs" / "house.pack.yaml"
    path.write_text("mine", encoding="utf-8")
    ran = call("pack", "new", "packs/house.pack.yaml", "--on", "street")
    assert ran.status == 2
    assert "packs/house.pack.yaml is there already and is left alone; give another name or folder" in ran.err.replace(
        "\\", "/"
    )
    assert path.read_text(encoding="utf-8") == "mine"


def test_a_pack_that_no_sheet_would_find_is_said_to_be_one() -> None:
    ran = call("pack", "new", "house.pack.yaml", "--on", "street")
    assert ran.status == 0
    assert "No sheet finds it there" in ran.out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["packs/house.yaml", "--on", "street"], "write one such as packs/house.pack.yaml"),
        (["packs/a b.pack.yaml", "--on", "street"], "write one such as packs/house.pack.yaml"),
        (["packs/house.pack.yaml", "--on", "street", "--name", "ours"], "write one such as packs/house.pack.yaml"),
        (["packs/house.pack.yaml", "--on", "street", "--from", "a.sheet.yaml"], "write --on or --from"),
        (["packs/house.pack.yaml", "--from", "none.yaml"], "none.yaml: cannot be read"),
        (["packs/house.pack.yaml", "--on", "stret"], '"stret" is no pack that was found; write street.'),
        (["packs/street.pack.yaml", "--on", "general"], 'a pack called "street" is there already; give another name'),
    ],
)
def test_a_new_pack_that_cannot_be_is_not_written(arguments: list[str], said: str, here: Path) -> None:
    ran = call("pack", "new", *arguments)
    assert ran.status == 2
    assert said in " ".join(ran.err.split())
    assert list(here.rglob("*.yaml")) == []


# compare


def test_two_packs_are_compared_on_a_sheet_and_without_one(here: Path) -> None:
    lay_out(here, clear=CLEAR)
    ran = call("pack", "compare", "base", "wide", "clear.sheet.yaml")
    assert (ran.status, ran.err) == (0, "")
    assert "    most      base 0.0040, wide 0.0060 in                wide wider by 0.0020 in\n" in ran.out
    ran = call("pack", "compare", "base", "packs/wide.pack.yaml")
    assert (ran.status, ran.err) == (0, "")
    assert "wide wider by 0.0020 in\n" in ran.out


def test_what_only_one_of_them_knows_is_no_fault_of_the_sheet(here: Path) -> None:
    """The sheet is written for the shop's own pack, with a reading and a sign-off that the other one has never seen."""
    lay_out(here)
    (here / "packs" / "own.pack.yaml").write_text(OWN, encoding="utf-8")
    sheet = CLEAR.replace("  tilt: 0.0020\n", "  tilt: 0.0050\n  lid: 1.0000\n")
    (here / "own.sheet.yaml").write_text(sheet, encoding="utf-8")
    ran = call("pack", "compare", "base", "own", "own.sheet.yaml")
    assert (ran.status, ran.err) == (0, "")
    assert "    out of spec by base, in spec by own\n" in ran.out
    assert "Only own has: lid.\n" in ran.out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["base", "stret"], '"stret" is no pack that was found; write'),
        (["base", "wide", "clear.sheet"], "cannot be read"),
        (["base", "wide", "bad.sheet.yaml"], '"tlit" is no measurand of these packs; write tilt.'),
        (["base", "wide", "worse.sheet.yaml"], "line 1"),
    ],
)
def test_what_cannot_be_compared_is_said(arguments: list[str], said: str, here: Path) -> None:
    lay_out(here, clear=CLEAR, bad=CLEAR.replace("tilt:", "tlit:"), worse="[")
    ran = call("pack", "compare", *arguments)
    assert (ran.status, ran.out) == (2, "")
    assert said in ran.err
    assert ran.err.count("tlit") <= 1


@pytest.mark.parametrize("command", ["prove", "show", "schema"])
def test_a_file_that_is_not_there_is_taken_for_no_name(command: str) -> None:
    ran = call("pack", command, "house.pack.yaml")
    assert ran.status == 2
    assert "there is no file house.pack.yaml; write a pack's name, or where its file is" in ran.err


@pytest.mark.parametrize(
    ("command", "heading"),
    [
        (("show", "wide"), "ASKED LESS THAN BY THE PACKS BELOW"),
        (("prove", "wide"), "  Asked less than by the packs below"),
        (("compare", "base", "wide"), "ASKED LESS BY WIDE THAN BY THE PACKS BELOW IT"),
        (("compare", "base", "wide", "a.sheet.yaml"), "ASKED LESS BY WIDE THAN BY THE PACKS BELOW IT"),
    ],
    ids=" ".join,
)
def test_what_a_pack_asks_less_is_told_without_an_inspection(
    command: tuple[str, ...], heading: str, here: Path
) -> None:
    lay_out(here, a=CLEAR)
    ran = call("pack", *command)
    assert heading in ran.out.split("\n")
    told = (
        "Tilt of the plate: most 0.0060 in instead of 0.0040 in, by wide, packs/wide.pack.yaml, line 5. Ours are long."
    )
    assert told in " ".join(ran.out.split())
    assert "ASKED LESS" not in call("pack", "show", "base").out.upper()


def test_a_pack_that_hides_another_of_its_name_is_told_when_it_is_proven(here: Path) -> None:
    lay_out(here)
    (here / "job" / "packs").mkdir(parents=True)
    text = (here / "packs" / "wide.pack.yaml").read_text(encoding="utf-8")
    (here / "job" / "packs" / "wide.pack.yaml").write_text(text.replace("0.0060", "0.0070"), encoding="utf-8")
    for path in ("packs/wide.pack.yaml", "job/packs/wide.pack.yaml"):
        ran = call("pack", "prove", path)
        assert ("The pack wide: read from" in ran.out) is path.startswith("job")


# language


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ((), "  Limit lines\n      name, when, least,"),
        (("margins",), "One house pack over several applications\n  - `margins` draw limits in"),
        (("makers too",), "makers too             `yes`, `no`; yes: the sheet's own limits are drawn in"),
        (("psi",), "pressure               `psi`; `bar`; `lbf/in2`"),
    ],
)
def test_the_language_is_told_by_its_words(word: tuple[str, ...], said: str) -> None:
    ran = call("pack", "language", *word)
    assert (ran.status, ran.err) == (0, "")
    assert said in ran.out
    assert max(map(len, ran.out.split("\n"))) <= 120


def test_what_is_no_word_of_it_is_said() -> None:
    ran = call("pack", "language", "margns")
    assert (ran.status, ran.out) == (2, "")
    assert '"margns" is no word of the language of packs; write margins' in ran.err


def test_the_schema_of_a_pack_knows_what_there_is_to_amend(here: Path) -> None:
    lay_out(here)
    ran = call("pack", "schema", "--pack", "base")
    assert (ran.status, ran.err) == (0, "")
    assert '"title": "Tolerance pack on base"' in ran.out
    assert '"title": "Tolerance pack"' in call("pack", "schema", "--pack").out


# prove


@pytest.mark.second_lane
def test_all_packs_in_reach_are_proven_where_none_is_named(here: Path) -> None:
    lay_out(here)
    told = call("pack", "prove", "--rule", "tilt").out
    assert "BASE\n" in told
    assert "WIDE\n" in told
    assert "GENERAL\n" not in told


@pytest.mark.second_lane
def test_one_rule_is_proven_alone_and_one_that_is_not_there_is_said(here: Path) -> None:
    lay_out(here)
    assert "Tried: 1 rule," in call("pack", "prove", "base", "--rule", "tilt").out
    for names in (["base"], []):
        ran = call("pack", "prove", *names, "--rule", "tlit")
        assert ran.status == 2
        assert 'has no rule "tlit" that it defines or amends; write tilt' in ran.err


def test_what_examples_lack_is_written_into_a_shops_own_pack(here: Path) -> None:
    assert call("pack", "new", "packs/axle.pack.yaml").status == 0
    path = here / "packs" / "axle.pack.yaml"
    whole = path.read_text(encoding="utf-8")
    short = whole[: whole.index("      - given: {facts: {finish: turned}}")]
    path.write_text(short, encoding="utf-8")
    ran = call("pack", "prove", "axle", "--write")
    assert ran.status == 1
    assert "Wrote what is to be judged into packs/axle.pack.yaml: gap." in " ".join(ran.out.split())
    text = path.read_text(encoding="utf-8")
    assert text.startswith(short)
    assert "0.0202: to be judged" in text
    again = call("pack", "prove", "axle", "--write")
    assert path.read_text(encoding="utf-8").count("given: {facts: {finish: turned}}") <= 2
    assert again.status == 1


def test_watching_and_writing_do_not_go_together() -> None:
    ran = call("pack", "prove", "street", "--write", "--watch")
    assert ran.status == 2
    assert "write one of the two" in ran.err


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("median", "; write largest(...), smallest(...) or mean(...), for there is no middle one"),
        ("Average", "; write mean(...)"),
        ("sign", " (see: specrules pack language)"),
    ],
)
def test_a_function_of_other_languages_is_not_taken_for_the_nearest_word(word: str, said: str) -> None:
    ran = call("pack", "language", word)
    assert ran.status == 2
    assert f'"{word}" is no word of the language of packs{said}\n' in ran.err
