"""No figure ships without what it holds for: each pack's heading asks for it by the engine's kind, and by a size."""

from __future__ import annotations

import re

import pytest

from specrules.effects.pack_files import PackFiles, shipped_folder
from specrules.pack import Specification, told_in
from specrules.pack.pack_reading import Pack, read_pack
from specrules.pack.resolving import resolve
from specrules.plugins import plug
from specrules.proving.prover import own_rules
from specrules.proving.unsaid_validity import holding_slips
from tests.lanes import first_alone
from tests.shipped import packs, resolved

BY = ("ignition", "cooling", "cycle")
LINES = {"general": 140, "street": 25, "towing": 39, "racing": 100}
"""How many limit lines the rules have that a pack defines or amends."""
WITH_A_FIGURE = 123
"""How many of the general pack's set or move a limit by a number."""


def unsaid(spec: Specification, pack: Pack) -> list[str]:
    """What proving finds in the lines that a pack writes."""
    told = told_in(spec, spec.unit)
    return [each.said for each in holding_slips(own_rules(told, str(pack.name)), told, frozenset(pack.files))]


@pytest.mark.parametrize("name", first_alone(*PackFiles().names()))
def test_no_limit_line_of_a_shipped_pack_lacks_its_validity(name: str) -> None:
    spec, (pack, *_) = resolved(name), packs(name)
    assert spec.figures_hold_by == BY
    assert sum(len(rule.lines) for rule in own_rules(spec, name)) == LINES.get(name, 0)
    assert unsaid(spec, pack) == []


HOLDS = re.compile(r"holds for: \{[^{}]*\}(?:, )?")


@pytest.mark.second_lane
def test_lines_whose_validity_is_taken_away_are_seen() -> None:
    """Each `holds for` of the general pack left out: every line with a figure lacks the kind of engine."""
    files = sorted((shipped_folder() / "general").glob("*.pack.yaml"))
    texts = [(file.name, HOLDS.sub("", file.read_text(encoding="utf-8")).encode()) for file in files]
    emptied, faults = read_pack(texts)
    assert emptied is not None, faults
    spec, wrong = resolve([emptied], ("general",), plug().functions)
    assert spec is not None, wrong
    found = unsaid(spec, emptied)
    assert len(found) == WITH_A_FIGURE
    assert all("nothing says by ignition and cooling and cycle" in said for said in found), found
