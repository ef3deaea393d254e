"""That U covers the truth as the benchmarks' README says: a small run of the simulation that makes the table there."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.benchmarks.coverage_of_u import Row, rows, table

pytestmark = pytest.mark.second_lane

WRITTEN = (Path(__file__).parents[1] / "benchmarks" / "README.md").read_text()


@pytest.fixture(scope="module")
def found() -> dict[tuple[str, str, bool], Row]:
    return {(row.what, row.part, row.allowance): row for row in rows(400, seed=11)}


@pytest.mark.parametrize("part", ["straight", "tapered"])
@pytest.mark.parametrize("what", ["clearance", "spread", "taper"])
def test_with_the_allowance_the_truth_is_inside_in_95_of_100(
    found: dict[tuple[str, str, bool], Row], what: str, part: str
) -> None:
    assert found[what, part, True].trials >= 400
    assert found[what, part, True].missed <= 5


@pytest.mark.parametrize("what", ["clearance", "spread", "taper"])
def test_without_it_near_equal_readings_miss_more_often_and_on_one_side(
    found: dict[tuple[str, str, bool], Row], what: str
) -> None:
    row = found[what, "straight", False]
    assert row.missed > 5
    few, many = sorted((row.over, row.under))
    assert many > 20 * few


def test_the_table_that_is_written_down_is_of_this_kind(found: dict[tuple[str, str, bool], Row]) -> None:
    def what_it_is_of(text: str) -> list[list[str]]:
        return [line.split("|")[1:4] for line in text.splitlines() if line.startswith("|")]

    section = WRITTEN.split("## How sure U is")[1].split("## ")[0]
    assert what_it_is_of(section) == what_it_is_of(table(list(found.values())))
    assert "python -m tests.benchmarks.coverage_of_u" in section
    below_and_above = [line.split("|")[5:7] for line in section.splitlines() if "| yes |" in line]
    assert len(below_and_above) == 6
    assert all(sum(map(float, each)) <= 5 for each in below_and_above)
