"""The schema of a pack takes every pack that ships, and refuses what the reader of packs refuses."""

from __future__ import annotations

from pathlib import Path

import pytest

from specrules.pack.pack_json_schema import pack_schema
from specrules.pack.pack_reading import read_pack
from tests.lanes import first_alone
from tests.schemas.as_editors import PACK_FILES, wrong

SCHEMA = pack_schema()

GOOD = """\
specrules: tolerance-pack/1
group: Shaft
pack: {name: little, version: "1.0", title: A little pack, unit: in, builds on: []}
axes:
  journal: {count: journals}
  plane: {names: [1, 2]}
facts:
  journals: {kind: count, title: Number of journals}
  coated: {kind: yes/no, assumed: no}
gauge classes:
  outside micrometer: {resolution: 0.0001 in, mpe: 0.0001 in, source: {kind: from memory}}
measurands:
  shaft: {at: journal, positions: [plane], unit: in, usual: 1..4 in, repeats: 2, may be negative: no}
figures:
  shaft_size: {each: journal, unit: in, ways: {measured: mean(shaft), new: {formula: 2.4990 in, when: coated == yes}}}
sign-offs:
  clean: {question: Is it clean?, importance: minor, source: {kind: common practice}}
rules:
  shaft_diameter:
    title: Diameter of the shaft
    each: journal
    formula: shaft_size
    unit: in
    limits: {least: 2.4980 in, most: 2.5000 in}
    importance: {low: major, high: minor}
    remedy: {high: grind it, low: [{do: weld it, moves: 0.010 in}, scrap it]}
    needs: clean
    source: {kind: published, document: A book, page: 12}
    worked:
      - given: {facts: {journals: 1}, readings: {shaft: {1: 2.4990}}}
        expect: {at: {journal: 1}, value: 2.4990 in, verdict: in spec}
operations:
  grind: {title: Ground, makes stale: shaft}
"""

BROKEN = {
    "no header": ("specrules: tolerance-pack/1\n", ""),
    "another header": ("tolerance-pack/1", "tolerance-pack/2"),
    "unknown section": ("operations:", "operation:"),
    "unknown key of a rule": ("    needs: clean", "    need: clean"),
    "no pack name": ("name: little, ", ""),
    "no title": (", title: A little pack", ""),
    "pack as a list": ("pack: {name: little", "pack: [{name: little"),
    "pack as a text": ('{name: little, version: "1.0", title: A little pack, unit: in, builds on: []}', "little"),
    "unknown kind of fact": ("kind: count", "kind: counted"),
    "no kind of fact": ("{kind: count, title", "{title"),
    "unknown kind of source": ("kind: published", "kind: hearsay"),
    "source as a text": ("{kind: from memory}", "from memory"),
    "no source": ("    source: {kind: published, document: A book, page: 12}\n", ""),
    "name with a blank": ("  shaft_diameter:", "  shaft diameter:"),
    "rules as a list": ("rules:\n  shaft_diameter:", "rules:\n- shaft_diameter:"),
    "wrong nesting": ("    unit: in\n    limits:", "    unit:\n      inch: in\n    limits:"),
    "limits as a text": ("limits: {least: 2.4980 in, most: 2.5000 in}", "limits: maker"),
    "unknown part of limits": ("least: 2.4980 in", "minimum: 2.4980 in"),
    "line without a name": ("limits: {least: 2.4980 in, most: 2.5000 in}", "limits: [{least: 2.4980 in}]"),
    "unknown verdict": ("verdict: in spec", "verdict: good"),
    "given as a list": ("given: {facts: {journals: 1}, readings: {shaft: {1: 2.4990}}}", "given: [shaft]"),
    "formula as a list": ("formula: shaft_size", "formula: [shaft_size]"),
    "remedy as a list": (
        "remedy: {high: grind it, low: [{do: weld it, moves: 0.010 in}, scrap it]}",
        "remedy: [grind]",
    ),
    "step without a deed": ("{do: weld it, moves", "{moves"),
    "empty title": ("title: Diameter of the shaft", "title:"),
    "list of lists": ("makes stale: shaft", "makes stale: [[shaft]]"),
    "reason left out": ("operations:", "amend: {rules: {shaft_diameter: {title: Other}}}\noperations:"),
    "formula amended": ("operations:", "amend: {rules: {shaft_diameter: {formula: shaft, reason: so}}}\noperations:"),
    "axis counted otherwise": ("operations:", "amend: {axes: {plane: {count: places, reason: so}}}\noperations:"),
    "axis retired": ("operations:", "amend: {axes: {plane: {retire: yes, reason: so}}}\noperations:"),
}


@pytest.mark.second_lane
@pytest.mark.parametrize("path", first_alone(*PACK_FILES), ids=lambda path: path.name)
def test_every_pack_that_ships_is_taken(path: Path) -> None:
    assert wrong(SCHEMA, path.read_text(encoding="utf-8")) == []


def test_short_forms_and_numbers_for_texts_are_taken() -> None:
    assert read_pack([("little.pack.yaml", GOOD.encode())])[1] == ()
    assert wrong(SCHEMA, GOOD) == []


@pytest.mark.second_lane
@pytest.mark.parametrize(("old", "new"), BROKEN.values(), ids=BROKEN)
def test_the_schema_refuses_what_the_reader_refuses(old: str, new: str) -> None:
    text = GOOD.replace(old, new, 1)
    if new.startswith("pack: ["):
        text = text.replace("builds on: []}", "builds on: []}]", 1)
    assert text != GOOD
    assert read_pack([("little.pack.yaml", text.encode())])[1] != ()
    assert wrong(SCHEMA, text) != []
