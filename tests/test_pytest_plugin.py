"""Sheets and packs as items of pytest: what passes, fails and is an error, told in the program's own words."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.small_jobs import CLEAR, FAULTY, HELD, NEAR, OPEN, lay_out
from tests.lanes import first_alone
from tests.output.small_screen import BASE, upper

ROOT = Path(__file__).parent.parent


class Noted:
    """What came of each item, and what was said of it, by its node."""

    def __init__(self) -> None:
        self.outcomes: dict[str, str] = {}
        self.told: dict[str, str] = {}

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.when == "call" or report.failed:
            self.outcomes[report.nodeid] = report.outcome if report.when == "call" else "error"
            self.told[report.nodeid] = report.longreprtext

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed:
            self.outcomes[report.nodeid], self.told[report.nodeid] = "not collected", report.longreprtext


def ran(folder: Path, monkeypatch: pytest.MonkeyPatch, *named: str) -> Noted:
    """What a run of its own of pytest there comes to."""
    noted = Noted()
    monkeypatch.setenv("PYTEST_DISABLE_PLUGIN_AUTOLOAD", "1")
    monkeypatch.chdir(folder)
    pytest.main(["-q", "-s", "-p", "no:cacheprovider", "-p", "specrules.pytest_plugin", "--rootdir=.", *named], [noted])
    return noted


@pytest.mark.parametrize(
    ("sheet", "outcome", "said"),
    first_alone(
        (OPEN, "error", "Not yet: 1 to measure"),  # undecided is no failure of the part, and no pass
        (HELD, "failed", "Stop at the hold point first start: tilt of the plate high."),
        (FAULTY, "error", "tilt: "),
        (CLEAR, "passed", ""),
        (NEAR, "passed", ""),
        (f"until: dry_fit\n{OPEN}", "passed", ""),  # it says itself how far it goes
    ),
)
def test_a_sheet_passes_only_where_its_job_may_go_on(
    sheet: str,
    outcome: str,
    said: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    lay_out(tmp_path, job=sheet)
    noted = ran(tmp_path, monkeypatch, "job.sheet.yaml")
    assert noted.outcomes == {"job.sheet.yaml::inspection": outcome}
    (told,) = noted.told.values()
    assert said in told
    assert "pytest_plugin.py" not in told  # no trace through the program
    capsys.readouterr()


WRONG = "        worked: [{at: {0.0060: in spec}}, {at: {0.0070: in spec}}]\n"


@pytest.mark.second_lane
def test_each_worked_example_of_a_pack_is_an_item(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    rules = "    tilt:\n      reason: Ours are long.\n      limits: [{name: base, most: 0.0060 in}]\n"
    lay_out(tmp_path)
    house = tmp_path / "packs" / "house.pack.yaml"
    house.write_text(upper("house", rules + WRONG.replace("        ", "      ", 1)), encoding="utf-8")
    noted = ran(tmp_path, monkeypatch, "packs/house.pack.yaml", "packs/base.pack.yaml")
    of = "packs/house.pack.yaml::"
    assert {name: outcome for name, outcome in noted.outcomes.items() if name.startswith(of)} == {
        f"{of}tilt, example 1": "passed",
        f"{of}tilt, example 2": "failed",
        f"{of}limits and slips": "passed",
    }
    assert "in spec is expected" in noted.told[f"{of}tilt, example 2"]
    assert noted.outcomes["packs/base.pack.yaml::fit, example 1"] == "passed"
    house.write_text(BASE.replace("formula: tilt", "formula: tilt +"), encoding="utf-8")
    noted = ran(tmp_path, monkeypatch, "packs/house.pack.yaml")
    assert noted.outcomes == {"packs/house.pack.yaml": "not collected"}
    assert "house.pack.yaml, line" in noted.told["packs/house.pack.yaml"]
    capsys.readouterr()


@pytest.mark.second_lane
def test_it_is_loaded_only_where_it_is_asked_for(tmp_path: Path) -> None:
    lay_out(tmp_path, held=HELD)

    def status(*asked: str) -> int:
        command = [sys.executable, "-m", "pytest", "-q", *asked, "held.sheet.yaml"]
        return subprocess.run(command, cwd=tmp_path, capture_output=True, check=False).returncode

    assert status("-p", "specrules.pytest_plugin") == 1
    assert status() in (4, 5)  # pytest knows no such file: nothing is collected
    assert "pytest" not in (ROOT / "pyproject.toml").read_text(encoding="utf-8").split("[project.optional")[0]
