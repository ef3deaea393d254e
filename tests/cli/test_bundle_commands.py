"""`specrules pack bundle` and `pack add`: handed on, looked at, taken; and what keeps either from being done."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from specrules.pack.bundle import digest
from tests.cli.shell import Ran, call
from tests.pack.small_packs import BASE

HOUSE = """\
specrules: tolerance-pack/1
group: Fits
pack: {name: house, version: "1", title: What this shop holds, builds on: [base], unit: in, author: the foreman}
amend: {rules: {fit: {reason: One came back., limits: [{name: base, most: 0.0013 * size}]}}}
"""


@pytest.fixture
def shops(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A shop with a house pack on one of its own, and another that has neither."""
    for name, text in {"base": BASE, "house": HOUSE}.items():
        path = tmp_path / "one" / "packs" / f"{name}.pack.yaml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    (tmp_path / "two").mkdir()
    monkeypatch.chdir(tmp_path / "one")
    return tmp_path


def bundled(shops: Path) -> Path:
    file = shops / "house.bundle.json"
    ran = call("pack", "bundle", "house", "--out", file)
    assert (ran.status, ran.out, ran.err) == (0, "", "")
    return file


def add(shops: Path, monkeypatch: pytest.MonkeyPatch, *more: str) -> Ran:
    monkeypatch.chdir(shops / "two")
    return call("pack", "add", shops / "house.bundle.json", *more)


LOOKED_AT = """\
house 1
  What this shop holds
  by the foreman

STANDS ON
  base 1.0, the same here

house proves here.

FILES
  packs/base.pack.yaml                    new
  packs/house.pack.yaml                   new

"""


def test_a_pack_is_looked_at_and_then_taken(shops: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = bundled(shops)
    looked = add(shops, monkeypatch)
    assert (looked.status, looked.err) == (0, "")
    assert looked.out.startswith(LOOKED_AT)
    assert f"Nothing is written. To take it: specrules pack add {file} --write" in " ".join(looked.out.split())
    assert not (shops / "two" / "packs").exists()
    taken = add(shops, monkeypatch, "--write")
    assert (taken.status, taken.err) == (0, "")
    assert taken.out.endswith("\nWritten. A sheet names it: packs: [house]\n")
    for name in ("base", "house"):
        path = Path("packs") / f"{name}.pack.yaml"
        assert (shops / "two" / path).read_bytes() == (shops / "one" / path).read_bytes()
    again = add(shops, monkeypatch, "--write")
    assert "packs/house.pack.yaml                   there already\n" in again.out


@pytest.mark.second_lane
def test_what_differs_from_the_pack_that_is_here_is_told_before_it_is_replaced(
    shops: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    bundled(shops)
    add(shops, monkeypatch, "--write")
    house = shops / "two" / "packs" / "house.pack.yaml"
    house.write_text(HOUSE.replace("0.0013", "0.0012"), encoding="utf-8")
    looked = add(shops, monkeypatch)
    assert "The same version with something else in it" in looked.out
    assert "    most      here    0.0012 * size\n              bundle  0.0013 * size\n" in looked.out
    assert "packs/house.pack.yaml                   in place of another\n" in looked.out
    refused = add(shops, monkeypatch, "--write")
    assert refused.status == 2
    assert "house.pack.yaml is another; with --replace it is written over" in refused.err
    assert "0.0012" in house.read_text(encoding="utf-8")
    assert add(shops, monkeypatch, "--write", "--replace").status == 0
    assert house.read_text(encoding="utf-8") == HOUSE


@pytest.mark.second_lane
def test_what_it_stands_on_may_be_another_here(shops: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = bundled(shops)
    made = json.loads(file.read_text(encoding="utf-8"))
    made["files"] = [each for each in made["files"] if each["name"] == "house.pack.yaml"]
    file.write_text(json.dumps(made), encoding="utf-8")
    assert "is no pack that was found" in add(shops, monkeypatch).err
    here = shops / "two" / "packs" / "base.pack.yaml"
    here.parent.mkdir()
    here.write_text(BASE + "\n# ours\n", encoding="utf-8")
    assert "  base 1.0: other files under the same version\n" in add(shops, monkeypatch).out


@pytest.mark.second_lane
def test_a_file_that_the_bundle_lacks_would_count(shops: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    bundled(shops)
    add(shops, monkeypatch, "--write")
    (shops / "two" / "packs" / "house.sizes.csv").write_text("size\n1\n", encoding="utf-8")
    ran = add(shops, monkeypatch, "--write")
    assert ran.status == 2
    assert "house.sizes.csv, which the bundled pack does not have and which would go on counting" in ran.err


@pytest.mark.second_lane
def test_a_pack_that_ships_is_not_replaced(shops: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = bundled(shops)
    made = json.loads(file.read_text(encoding="utf-8"))
    text = HOUSE.replace("name: house", "name: general").replace("builds on: [base], ", "")
    made |= {"name": "general", "files": [{"name": "general.pack.yaml", "text": text, "sha256": digest(text)}]}
    file.write_text(json.dumps(made), encoding="utf-8")
    ran = add(shops, monkeypatch, "--write")
    assert ran.status == 2
    assert 'a pack called "general" ships with the program, and this one would be taken for it' in ran.err
    assert not (shops / "two" / "packs").exists()


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("name", "house", "status", "said"),
    [
        ("general", HOUSE, 2, "general is no pack of your own"),
        ("huose", HOUSE, 2, '"huose" is no pack that was found; write house'),
        ("house", HOUSE.replace("0.0013 * size", "0.0001 * size"), 1, ""),
        ("house", HOUSE.replace("fit:", "fti:"), 2, "fti: amends nothing"),
    ],
)
def test_what_does_not_prove_is_not_bundled(shops: Path, name: str, house: str, status: int, said: str) -> None:
    (shops / "one" / "packs" / "house.pack.yaml").write_text(house, encoding="utf-8")
    ran = call("pack", "bundle", name, "--out", "x.json")
    assert ran.status == status
    assert said in ran.err
    assert ("house does not prove" in ran.out) == (status == 1)
    assert not Path("x.json").exists()


@pytest.mark.second_lane
def test_packs_are_only_put_where_they_are_found(shops: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    bundled(shops)
    ran = add(shops, monkeypatch, "--write", "--to", "tolerances")
    assert ran.status == 2
    assert "packs are looked for in folders called packs" in ran.err
    assert add(shops, monkeypatch, "--write", "--to", "engines/packs").status == 0
    assert Path("engines/packs/house.pack.yaml").exists()


@pytest.mark.second_lane
def test_what_differs_of_a_pack_that_it_stands_on_is_told_too(shops: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Other sheets here may be judged by that one, whether or not the bundled pack is here."""
    bundled(shops)
    here = shops / "two" / "packs" / "base.pack.yaml"
    here.parent.mkdir()
    here.write_text(BASE.replace("0.0014 * size", "0.0012 * size"), encoding="utf-8")
    looked = add(shops, monkeypatch)
    assert "BASE AGAINST THE ONE THAT IS HERE\n" in looked.out
    assert "    most      here    0.0012 * size\n              bundle  0.0014 * size\n" in looked.out
    assert "packs/base.pack.yaml                    in place of another\n" in looked.out
