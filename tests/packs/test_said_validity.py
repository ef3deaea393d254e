"""No figure ships without what it holds for: each pack's heading asks for it by the engine's kind, and by a size."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from ruamel.yaml import YAML

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
LINES = {"general": 144, "street": 27, "towing": 42, "racing": 102}
"""How many limit lines the rules have that a pack defines or amends."""
WITH_A_FIGURE = 128
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


WORDS = {
    "compression": "diesel",
    "spark": "spark engine",
    "liquid": "liquid",
    "air": "air-cooled",
    "four_stroke": "four-stroke",
    "two_stroke": "two-stroke",
    "street": "street",
    "towing": "towing",
    "racing": "racing",
    "iron": "iron",
    "forged_low_expansion": "forged",
    "forged_high_expansion": "forged",
}
"""What labels are called in a note."""


def narrowed() -> Iterator[tuple[str, str, str]]:
    """Of each `holds for` of a rule or line of the packs that ship, but `any`: where it stands, what its note has to
    tell, and that note: those of the line and of its source, and those of the rule."""
    yaml = YAML(typ="safe")
    for file in sorted(shipped_folder().rglob("*.pack.yaml")):
        pack = yaml.load(file)
        for name, rule in [*pack.get("rules", {}).items(), *pack.get("amend", {}).get("rules", {}).items()]:
            limits = rule.get("limits")
            lines = [each for each in limits if isinstance(each, dict)] if isinstance(limits, list) else []
            for thing in (rule, *lines):
                notes = [each.get("note", "") for one in (rule, thing) for each in (one, one.get("source") or {})]
                for key, said in thing.get("holds for", {}).items():
                    wanted = (
                        [f"{{{said}}}"] if ".." in said else [WORDS[each] for each in _listed(said) if each != "any"]
                    )
                    yield from ((f"{name} {thing.get('name', '')} {key}", each, " ".join(notes)) for each in wanted)


def _listed(said: str | list[str]) -> list[str]:
    return [said] if isinstance(said, str) else said


@pytest.mark.second_lane
def test_whatever_holds_for_less_says_why_in_its_note() -> None:
    """A note that tells the range or the kind says what lies beyond it, or that nothing was found there."""
    assert len(list(narrowed())) > 80
    assert [(where, wanted) for where, wanted, note in narrowed() if wanted not in note] == []
