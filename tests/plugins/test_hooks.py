"""One test a hook, with the example as it is installed, in the program as a user runs it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from specrules.record import read_record, record_data
from tests.plugins.small_plugins import call, install, run

SHEET = """\
specrules: build-sheet/1
packs: [spindle]
unit: in
facts: {spindle_length: 25.4 lignes}
gauges: {air: {class: air gauge}}
readings:
  spindle_size: {gauge: air, front: 1.05000, rear: 1.00000}
"""


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A folder with a sheet in it, and the example installed beside."""
    install(tmp_path / "site")
    (tmp_path / "job").mkdir()
    (tmp_path / "job" / "a.sheet.yaml").write_text(SHEET)
    return tmp_path


def judged(shop: Path) -> dict[str, Any]:
    """The record of the sheet."""
    ran = call("inspect", "a.sheet.yaml", "--form", "json", site=shop / "site", cwd=shop / "job")
    record = record_data(read_record(ran.out))
    assert record["faults"] == [], record["faults"]
    return record


@pytest.mark.second_lane
def test_hook_pack_folders(shop: Path) -> None:
    listed = call("pack", "list", site=shop / "site", cwd=shop / "job")
    assert (listed.status, listed.err) == (0, "")
    assert "spindle 1.0" in listed.out


@pytest.mark.second_lane
def test_no_pack_of_a_plugin_is_listed_without_plugins(shop: Path) -> None:
    assert "spindle" not in call("pack", "list", "--no-plugins", site=shop / "site", cwd=shop / "job").out


def test_hook_functions(shop: Path) -> None:
    proved = call("pack", "prove", "spindle", site=shop / "site", cwd=shop / "job")
    assert (proved.status, proved.err) == (0, ""), proved.out
    (finding,) = judged(shop)["findings"]
    assert finding["formula"].startswith("taper_ratio(")


def test_hook_units(shop: Path) -> None:
    """0.05 in over 25.4 lignes of 2.2558 mm is 22.165 mm/m, by hand."""
    (finding,) = judged(shop)["findings"]
    assert finding["value"] == pytest.approx(22.165, abs=0.0005)
    assert finding["verdict"] == "in spec"


def test_hook_gauge_classes(shop: Path) -> None:
    """U comes from what the plugin says of the gauge, until the sheet says otherwise of its own."""
    (finding,) = judged(shop)["findings"]
    assert finding["rests on"]["gauges"] == ["air"]
    coarser = "gauges: {air: {class: air gauge, mpe: 0.0003 in, repeatability: 0.0001 in}}"
    (shop / "job" / "a.sheet.yaml").write_text(SHEET.replace("gauges: {air: {class: air gauge}}", coarser))
    (other,) = judged(shop)["findings"]
    assert 0 < finding["U"] < other["U"] / 5


def test_hook_forms(shop: Path) -> None:
    ran = call("inspect", "a.sheet.yaml", "--form", "tally", site=shop / "site", cwd=shop / "job")
    assert ran.out == "specrules tally\na.sheet.yaml: clear: 1 in spec\n"
    assert (ran.status, ran.err) == (0, "")


def test_without_plugins_none_of_it_is_there(shop: Path) -> None:
    ran = call("inspect", "a.sheet.yaml", "--no-plugins", site=shop / "site", cwd=shop / "job")
    assert ran.status == 2
    assert '"spindle" is no pack that was found' in ran.err
    ran = call("inspect", "a.sheet.yaml", "--no-plugins", "--form", "tally", site=shop / "site", cwd=shop / "job")
    assert ran.status == 2
    assert '"tally" is no form here; write console or json' in ran.err


@pytest.fixture
def trap(shop: Path) -> Path:
    """What looks like an installed plugin, in the very folder that the program is run in."""
    trap = shop / "job"
    install(trap, name="trap")
    (trap / "shop_example" / "__init__.py").write_text("raise SystemExit('loaded from beside the sheet')\n")
    (trap / "a.sheet.yaml").write_text("specrules: build-sheet/1\npacks: [general]\nunit: in\n")
    return trap


@pytest.mark.second_lane
def test_nothing_is_loaded_from_beside_a_sheet(trap: Path) -> None:
    ran = run("inspect", "a.sheet.yaml", cwd=trap)
    assert "trap" not in ran.err
    assert ran.status == 3


@pytest.mark.second_lane
def test_no_pack_from_beside_a_sheet_is_listed(trap: Path) -> None:
    assert "spindle" not in run("pack", "list", cwd=trap).out


@pytest.mark.second_lane
def test_an_installed_plugin_is_not_exchanged_for_a_file_beside_the_sheet(shop: Path) -> None:
    """The module of that name in the folder that the program is run in is not the one that was installed."""
    (shop / "job" / "shop_example.py").write_text("raise SystemExit('loaded from beside the sheet')\n")
    (shop / "job" / "shop_example").mkdir()
    ran = run("inspect", "a.sheet.yaml", "--form", "json", site=shop / "site", cwd=shop / "job")
    assert json.loads(ran.out)["verdict"] == "clear"
