"""What the benchmark takes is still taken: its largest engines and packs are within the work budget."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.benchmarks import whole
from tests.benchmarks.builds import long_engine
from tests.output.page_reading import safe_page, said


@pytest.mark.second_lane
def test_growth_is_measured_to_its_end(capsys: pytest.CaptureFixture[str]) -> None:
    whole.growth(1)
    said = [line.split("  ")[0] for line in capsys.readouterr().out.splitlines()]
    assert said == ["rules 125, 250, 500", "cylinders 8, 16, 32", "mains 64, 128, 256", "packs in a chain 4, 8, 16"]


@pytest.mark.second_lane
def test_a_long_engine_makes_a_page_under_a_megabyte_in_under_twice_the_time_of_the_console(tmp_path: Path) -> None:
    """Whole runs, with 16 cylinders and more readings than the thousand that are asked for."""
    (tmp_path / "long.sheet.yaml").write_text(long_engine(whole.DEMO.read_text(encoding="utf-8")), encoding="utf-8")
    of, asked = whole.Commands(tmp_path), ("-m", "specrules", "inspect", "long.sheet.yaml", "--no-plugins")
    page = of.warm(*asked, "--form", "page", "--out", "long.html")
    found = whole.best({"console": of.warm(*asked), "page": page}, 5)
    assert found["page"] < 2 * found["console"]
    made = (tmp_path / "long.html").read_text(encoding="utf-8")
    assert len(made.encode()) < 1_000_000
    tree = safe_page(made)
    assert "62 of 65 checks judged, on 1507 readings." in said(tree)
    assert len({each.get("data-at") for each in tree.iter() if each.get("data-at", "").isdecimal()}) >= 16
