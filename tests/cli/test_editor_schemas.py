"""New sheets and packs name a schema that is there, and by which an editor takes them and refuses a slip."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.cli.shell import call
from tests.cli.small_jobs import lay_out
from tests.schemas.as_editors import wrong

LINE = "# yaml-language-server: $schema="


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return lay_out(tmp_path)


def named_in(file: str) -> tuple[str, Any]:
    """A file's text, and the schema that its first line names, looked for from where the file stands."""
    text = Path(file).read_text(encoding="utf-8")
    first = text.split("\n")[0]
    assert first.startswith(LINE)
    return text, json.loads((Path(file).parent / first.removeprefix(LINE)).read_text(encoding="utf-8"))


def test_a_new_sheet_names_the_schema_of_its_packs() -> None:
    assert call("sheet", "new", "my.sheet.yaml", "--pack", "base", "--fact", "places=2").status == 0
    text, schema = named_in("my.sheet.yaml")
    assert text.startswith(f"{LINE}.specrules/base.sheet.schema.json\nspecrules: build-sheet/1\n")
    assert wrong(schema, text) == []
    assert wrong(schema, text.replace("  hole:", "  hoel:")) != []
    hover = schema["properties"]["readings"]["properties"]["hole"]["description"]
    assert hover == "Hole (in); at each place; at each plane there; usually 1 to 4 in"
    assert call("inspect", "my.sheet.yaml").status == 3
    taken = text.replace("1: {front: , ", "1: {front: {value: 1.502, taken: 2026-10-02, after: hone, was: 1.5}, ", 1)
    assert wrong(schema, taken) == []
    assert wrong(schema, taken.replace("after: hone", "after: hnoe")) != []


def test_a_new_pack_names_the_schema_of_what_it_builds_on() -> None:
    assert call("pack", "new", "packs/house.pack.yaml", "--on", "base").status == 0
    text, schema = named_in("packs/house.pack.yaml")
    assert text.startswith(f"{LINE}.specrules/base.pack.schema.json\n")
    assert wrong(schema, text) == []
    assert call("pack", "new", "packs/axle.pack.yaml").status == 0
    text, schema = named_in("packs/axle.pack.yaml")
    assert text.startswith(f"{LINE}.specrules/any.pack.schema.json\n")
    assert wrong(schema, text) == []
    assert wrong(schema, text.replace("\nrules:", "\nruels:")) != []


@pytest.mark.second_lane
def test_the_folder_of_schemas_is_no_pack() -> None:
    call("pack", "new", "packs/house.pack.yaml", "--on", "base")
    listed = call("pack", "list")
    assert (listed.status, "house" in listed.out, "schema" in listed.out) == (0, True, False)


@pytest.mark.second_lane
def test_a_pack_from_a_sheet_names_that_of_the_packs_of_the_sheet() -> None:
    call("sheet", "new", "my.sheet.yaml", "--pack", "base", "--fact", "places=2", "--no-schema")
    assert call("pack", "new", "packs/family.pack.yaml", "--from", "my.sheet.yaml").status == 0
    text, schema = named_in("packs/family.pack.yaml")
    assert text.startswith(f"{LINE}.specrules/base.pack.schema.json\n")
    assert wrong(schema, text) == []


@pytest.mark.second_lane
def test_nothing_is_written_beside_it_where_nobody_wants_it() -> None:
    call("sheet", "new", "my.sheet.yaml", "--pack", "base", "--no-schema")
    assert Path("my.sheet.yaml").read_text(encoding="utf-8").startswith("specrules: build-sheet/1\n")
    assert not Path(".specrules").exists()


@pytest.mark.second_lane
@pytest.mark.parametrize("there", ["a file", "mine"])
def test_where_no_schema_can_be_none_is_named(there: str) -> None:
    if there == "a file":
        Path(".specrules").write_text("mine", encoding="utf-8")
    else:
        Path(".specrules").mkdir()
        Path(".specrules/base.sheet.schema.json").write_text("{}", encoding="utf-8")
    assert call("sheet", "new", "my.sheet.yaml", "--pack", "base").status == 0
    assert Path("my.sheet.yaml").read_text(encoding="utf-8").startswith("specrules: build-sheet/1\n")


@pytest.mark.second_lane
def test_a_schema_of_an_earlier_day_is_written_anew() -> None:
    call("sheet", "new", "my.sheet.yaml", "--pack", "base")
    written = Path(".specrules/base.sheet.schema.json")
    before = written.read_bytes()
    written.write_bytes(before[:-40])
    call("sheet", "new", "other.sheet.yaml", "--pack", "base")
    assert written.read_bytes() == before
