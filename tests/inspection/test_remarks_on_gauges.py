"""What is said of a gauge whose zero is too far off, or whose check is too long ago."""

from __future__ import annotations

import pytest

from tests.inspecting import inspected, words

PACK = """
specrules: tolerance-pack/1
group: Fits
pack: {name: shop, version: "1", title: Shop, unit: in}
gauge classes:
  mic:
    resolution: 0.0001 in
    mpe: 0.0001 in
    days between checks: 365
    source: {kind: from memory}
measurands:
  shaft: {unit: in, gauge classes: [mic]}
rules:
  size:
    title: Size
    formula: shaft
    limits: {least: 1.0000 in, most: 1.0100 in}
    importance: minor
    source: {kind: house, note: for the test}
    worked: [{given: {readings: {shaft: 1.0050}}, expect: {verdict: in spec}}]
"""


def remarks(gauge: str, day: str = "2026-10-01") -> tuple[str, ...]:
    sheet = f"build: {{title: T, date: {day}}}\npacks: [shop]\nunit: in\ngauges: {{m: {gauge}}}\n"
    readings = "readings: {shaft: {gauge: m, taken: 2026-09-01, at: 1.0050}}\n"
    return words(inspected(f"specrules: build-sheet/1\n{sheet}{readings}", {"shop": PACK}).remarks)


@pytest.mark.parametrize(
    ("gauge", "said"),
    [
        ("{class: mic, zero: {standard: 1.0000, reads: 1.0002}}", "m reads its standard wrong by more than"),
        ("{class: mic, checked: 2025-09-30}", "m was last checked on 2025-09-30, more than 365 days before"),
    ],
)
def test_a_gauge_that_is_off_or_overdue_is_said(gauge: str, said: str) -> None:
    (remark,) = remarks(gauge)
    assert remark.startswith(said)


@pytest.mark.parametrize(
    "gauge",
    ["{class: mic, zero: {standard: 1.0000, reads: 1.0001}}", "{class: mic, checked: 2025-10-01}", "{class: mic}"],
)
def test_a_gauge_within_what_it_may_be_is_not_spoken_of(gauge: str) -> None:
    assert remarks(gauge) == ()


def test_without_a_day_nothing_is_overdue() -> None:
    assert remarks("{class: mic, checked: 2001-01-01}", "") == ()
