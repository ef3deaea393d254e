"""What the benchmark takes is still taken: its largest engines and packs are within the work budget."""

from __future__ import annotations

import pytest

from tests.benchmarks import whole


@pytest.mark.second_lane
def test_growth_is_measured_to_its_end(capsys: pytest.CaptureFixture[str]) -> None:
    whole.growth(1)
    said = [line.split("  ")[0] for line in capsys.readouterr().out.splitlines()]
    assert said == ["rules 125, 250, 500", "cylinders 8, 16, 32", "mains 64, 128, 256", "packs in a chain 4, 8, 16"]
