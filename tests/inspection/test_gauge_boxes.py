"""The README's table of what five boxes of gauges can carry is what comes out, and in the order that anyone expects."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from specrules.vocabulary import Verdict
from tests.benchmarks.gauge_boxes import BOXES, DEMO, table, verdicts, with_box

pytestmark = pytest.mark.second_lane

README = Path(__file__).parents[2] / "README.md"


@cache
def sure() -> dict[str, int]:
    """Box -> how many verdicts leave no doubt."""
    counted = {name: verdicts(box) for name, box in BOXES.items()}
    return {name: count[Verdict.IN_SPEC] + count[Verdict.OUT] for name, count in counted.items()}


def test_the_table_in_the_readme_is_what_comes_out() -> None:
    assert "\n".join(table()) + "\n" in README.read_text(encoding="utf-8")


def test_each_box_names_its_own_gauges_and_leaves_the_readings_alone() -> None:
    text = DEMO.read_text(encoding="utf-8")
    for box in BOXES.values():
        changed = with_box(text, box)
        assert all(f"  {name}: {{{said}}}\n" in changed for name, said in box.items())
        assert "zero:" not in changed
        readings = [line for line in text.splitlines() if line.strip()[:2] in ("1:", "2:", "3:")]
        assert [line for line in changed.splitlines() if line.strip()[:2] in ("1:", "2:", "3:")] == readings


def test_coarser_gauges_leave_more_in_doubt() -> None:
    calipers, telescoping, dial = (sure()[name] for name in list(BOXES)[1:4])
    assert calipers < telescoping < dial


def test_every_box_judges_the_same_checks() -> None:
    counts = [verdicts(box) for box in BOXES.values()]
    totals = {sum(count[each] for each in Verdict if each is not Verdict.NOT_MEASURED) for count in counts}
    assert len(totals) == 1
