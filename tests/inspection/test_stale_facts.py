"""A stated fact that work has overtaken leaves a good value unproven, until the sheet says that it was restated."""

from __future__ import annotations

import pytest

from specrules.inspection import Options
from specrules.vocabulary import Verdict
from tests.inspecting import inspected, words

PACK = """
specrules: tolerance-pack/1
group: Fits
pack: {name: shop, version: "1", title: Shop, unit: in}
facts:
  sheet_thickness: {kind: quantity, unit: in}
measurands:
  depth: {unit: in}
rules:
  room:
    title: Room
    formula: depth + sheet_thickness
    unit: in
    limits: {least: 0.0400 in, most: 0.0450 in}
    importance: minor
    source: {kind: house, note: for the test}
    worked:
      - {given: {facts: {sheet_thickness: 0.0400 in}, readings: {depth: 0.0020}}, expect: {verdict: in spec}}
operations:
  sheet_change: {title: Another sheet, makes stale: [sheet_thickness]}
"""


@pytest.mark.parametrize(
    ("work", "verdict", "stale"),
    [
        ("[]", Verdict.IN_SPEC, ()),
        (
            "[{operation: sheet_change, on: 2026-10-01}]",
            Verdict.NOT_PROVEN,
            ("sheet_thickness as stated: sheet_change",),
        ),
        ("[{operation: sheet_change, on: 2026-10-01, restated: [sheet_thickness]}]", Verdict.IN_SPEC, ()),
    ],
)
def test_a_fact_is_stale_after_work_unless_it_was_restated(work: str, verdict: Verdict, stale: tuple[str, ...]) -> None:
    sheet = (
        "specrules: build-sheet/1\npacks: [shop]\nunit: in\nfacts: {sheet_thickness: 0.0400 in}\n"
        f"readings: {{depth: 0.0020}}\nwork done: {work}\n"
    )
    (finding,) = inspected(sheet, {"shop": PACK}, Options(decision="simple")).findings
    assert (finding.verdict, words(finding.rests_on.stale)) == (verdict, stale)
