"""What figures hold for, held against a sheet: what is remembered of one station is what another would be told.

The stations are all those of the demo and of the whole engines.
"""

from __future__ import annotations

from itertools import product
from pathlib import Path

import pytest

from specrules.effects.workspace import Workspace
from specrules.evaluate.binding import Binding
from specrules.evaluate.speaking import Speaking
from specrules.vocabulary import Verdict
from tests.inspecting import inspected

ROOT = Path(__file__).parents[2]
SHEETS = (
    ROOT / "specrules/demo/carousel.sheet.yaml",
    ROOT / "tests/engines/four.sheet.yaml",
    ROOT / "tests/engines/twin.sheet.yaml",
)


def bound(sheet: Path) -> Binding:
    loaded = Workspace(plugins=False).load(sheet, sheet.name)
    assert loaded.sheet is not None
    assert loaded.spec is not None
    return Binding(loaded.sheet, loaded.spec, simple=False)


@pytest.mark.second_lane
@pytest.mark.parametrize("sheet", SHEETS, ids=[sheet.stem for sheet in SHEETS])
def test_what_is_remembered_is_what_would_be_worked_out(sheet: Path) -> None:
    binding = bound(sheet)
    together, compared = binding.environment().speaking, set()
    for chain in binding.spec.rules.values():
        each = chain.governing[-1].each
        asked = [validity for rule in chain.versions for line in rule.lines for validity in line.validities()]
        for labels in product(*(binding.sheet.labels.get(axis, ()) for axis in each)):
            station = dict(zip(each, labels, strict=True))
            for validity in asked:
                alone = Speaking(binding.environment())
                answer, trace = together.speaks(validity, station)
                expected, its = alone.speaks(validity, station)
                assert answer == expected
                assert (trace.facts, trace.found, trace.missing) == (its.facts, its.found, its.missing)
                assert together.failing(validity, station) == alone.failing(validity, station)
                compared.add(answer)
    assert {True, False} <= compared


PRESSES = """\
specrules: tolerance-pack/1
pack: {name: presses, version: "1", title: Presses, unit: mm}
axes:
  ram: {count: rams}
  press: {groups: presses, of: ram}
facts:
  rams: {kind: count}
  presses: {kind: groups}
measurands:
  ram_size: {at: ram, unit: mm}
  table: {at: press, unit: mm}
figures:
  bore: {each: ram, unit: mm, ways: {measured: ram_size}}
rules:
  level:
    title: Level of the table
    each: press
    formula: table
    unit: mm
    importance: major
    words: low/high
    holds for: {bore: 20..100 mm}
    limits: [{name: base, most: 0.5 mm}]
    source: {kind: house}
    worked:
      - given: {facts: {rams: 1, presses: [[1]]}, readings: {table: {1: 0.1}, ram_size: {1: 50}}}
        expect: {at: {press: 1}, value: 0.1 mm, verdict: in spec}
"""


def test_every_place_of_its_own_group_has_to_be_inside_and_no_other() -> None:
    head = "specrules: build-sheet/1\npacks: [presses]\nunit: mm\nfacts: {rams: 3, presses: [[1, 2], [3]]}\n"
    report = inspected(
        head + "readings: {table: {1: 0.1, 2: 0.1}, ram_size: {1: 50, 2: 60, 3: 150}}\n", {"presses": PRESSES}
    )
    assert [each.verdict for each in report.findings] == [Verdict.IN_SPEC, Verdict.NO_FIGURE]
