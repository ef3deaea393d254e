"""A small trade of holes, shafts and plates, judged and put on a screen: every shape that a finding may have."""

from __future__ import annotations

from pathlib import Path

from specrules.inspection import Examination, Options, Report
from specrules.output.full_screen import whole_screen
from specrules.output.terminal import text_of
from tests.inspecting import inspected, settled, whole

BASE = """\
specrules: tolerance-pack/1
group: Fits
pack:
  decision: simple
  name: base
  version: "1.0"
  title: Base practice
  unit: in
  wear when: work == refresh
axes:
  place: {count: places}
  plane: {names: [front, rear]}
  side: {names: [left, right]}
facts:
  places: {kind: count, title: Number of places}
  material: {kind: choice, choices: [iron, aluminium], title: Material}
  work: {kind: choice, choices: [new, refresh], assumed: new}
hold points: [dry_fit, first_start]
gauge classes:
  dial: {resolution: 0.0001 in, mpe: 0.0001 in, source: {kind: from memory}}
measurands:
  hole: {title: Hole, at: place, positions: plane, unit: in, usual: 1..4, gauge classes: [dial]}
  shaft: {title: Shaft, at: place, positions: plane, unit: in, usual: 1..4}
  grip: {title: Grip, at: place, unit: in, usual: 0.0005..0.05}
  tilt: {title: Tilt, unit: in, usual: 0..0.05}
  slot: {title: Slot, at: [place, side], unit: in, usual: 0.001..0.1}
  plug: {title: Plug, unit: in, usual: 0.1..5}
  weight: {title: Weight, at: place, unit: g, usual: 10..1000 g}
figures:
  clearance:
    each: place
    ways:
      two sizes: smallest(hole) - largest(shaft)
  shaft_size: {title: Shaft size, each: place, formula: mean(shaft)}
sign-offs:
  clean: {question: Is every part clean?, hold point: dry_fit, source: {kind: common practice}}
  turned: {question: Does it turn by hand?, at: place, hold point: first_start, source: {kind: common practice}}
rules:
  fit:
    title: Running fit (on the diameter)
    each: place
    formula: clearance
    limits: {least: 0.0010 in, aim: 0.0020 in, most: 0.0030 in, wear most: 0.0040 in}
    words: tight/loose
    importance: {tight: critical, loose: major}
    hold point: dry_fit
    needs: [clean]
    because: {tight: It seizes., loose: It knocks.}
    remedy:
      tight: [{do: lap the hole once, moves: 0.0005 in}, {do: lap it to size, moves: 0.0010 in}]
      loose: {do: the next shaft, moves: -0.0005 in}
      otherwise: Begin again with a new pair.
    caution: Measure cold.
    source: {kind: common practice, note: a thou an inch}
    worked: [{given: {readings: {hole: {1: 1.5020}, shaft: {1: 1.5000}}}, expect: {at: {place: 1}, verdict: in spec}}]
  grip:
    title: Grip of the sleeve
    each: place
    formula: grip
    limits: {least: 0.0020 in}
    words: slack/hard
    importance: major
    hold point: dry_fit
    source: {kind: from memory}
    worked: [{given: {readings: {grip: {1: 0.0020}}}, expect: {at: {place: 1}, verdict: in spec}}]
  tilt:
    title: Tilt of the plate
    formula: tilt
    limits: {most: 0.0040 in}
    importance: minor
    hold point: first_start
    source: {kind: published, document: Plates, edition: 2nd edition, page: p. 12}
    worked: [{given: {readings: {tilt: 0.0040}}, expect: {verdict: in spec}}]
  slot:
    title: Slot width
    each: [place, side]
    formula: slot
    limits:
      - {name: base, least: 0.0100 in, most: 0.0200 in}
      - {name: soft, when: material == aluminium, shift: 0.0050 in}
    importance: major
    hold point: first_start
    source: {kind: house}
    worked:
      - given: {facts: {material: iron}, readings: {slot: {1: {left: 0.0150}}}}
        expect: {at: {place: 1, side: left}, verdict: in spec}
  plug:
    title: Plug size
    formula: plug
    limits: [{name: base, from the maker: yes}]
    importance: major
    hold point: first_start
    source: {kind: maker}
    worked: [{given: {readings: {plug: 1.0}}, expect: {verdict: no figure}}]
  alike:
    title: Weights alike
    formula: spread(weight)
    limits: {most: 2 g}
    importance: minor
    hold point: first_start
    source: {kind: common practice}
    worked: [{given: {readings: {weight: {1: 100 g}}}, expect: {verdict: in spec}}]
operations:
  hone: {title: Hole honed, makes stale: [hole]}
parts:
  bush: {title: Bush, at: place, measurands: hole}
  spindle: {title: Spindle, at: place, measurands: shaft}
"""


def upper(name: str, amend: str) -> str:
    """A pack over the base that amends its rules."""
    head = f"specrules: tolerance-pack/1\npack: {{name: {name}, version: '2', title: {name}, builds on: [base]}}\n"
    return f"{head}amend:\n  rules:\n{amend}"


PACKS = {
    "base": BASE,
    "wide": upper("wide", "    tilt: {reason: Ours are long., limits: [{name: base, most: 0.0060 in}]}\n"),
    "strict": upper("strict", "    grip: {reason: Two slipped., limits: [{name: base, least: 0.0030 in}]}\n"),
    "lenient": upper("lenient", "    grip: {reason: None slipped., limits: [{name: base, least: 0.0015 in}]}\n"),
}

PACKS["quiet"] = """\
specrules: tolerance-pack/1
pack: {name: quiet, version: '1', title: What takes away, builds on: [base]}
amend:
  gauge classes: {dial: {reason: A better one., mpe: 0.0000001 in}}
  measurands: {hole: {reason: Any size., usual: 0.1..100}}
  sign-offs: {clean: {reason: It is., retire: yes}}
  rules:
    grip: {reason: It grips., retire: yes}
    fit: {reason: On trust., needs: [], importance: {tight: minor}}
    tilt: {reason: No matter., limits: none}
    slot: {reason: Seldom., applies when: places == 99}
  operations: {hone: {reason: It stays., makes stale: []}}
"""

GOOD = """\
readings:
  hole: {1: [1.5020, 1.5020], 2: [1.5020, 1.5020]}
  shaft: {1: [1.5000, 1.5000], 2: [1.5000, 1.5000]}
"""


SCREENS = sorted((Path(__file__).parent / "full_screens").glob("*.txt"))
"""Each file holds the packs and options in its first line, then the sheet, a rule of 80 signs, then the screen."""


def build(body: str, packs: str = "base", title: str = "A pair") -> str:
    """A whole sheet; what the body says of facts and packs wins."""
    facts = "" if "facts:" in body else "facts: {places: 2, material: iron}\n"
    head = f"specrules: build-sheet/1\nbuild: {{title: {title}, job: J-1}}\npacks: [{packs}]\nunit: in\n"
    decision = "" if "decision:" in body else "decision: simple\n"
    return f"{head}{facts}{body if body.endswith(chr(10)) else body + chr(10)}{decision}"


def judged(body: str, packs: str = "base", options: Options | None = None) -> Report:
    """The inspection of a sheet of these sections."""
    return inspected(build(body, packs), PACKS, options or Options())


def looked(body: str, packs: str = "base", options: Options | None = None) -> Examination:
    """The same with all that its findings stand on at hand."""
    sheet, made, faults = settled(build(body, packs), PACKS)
    assert sheet is not None, faults
    assert made is not None
    return Examination(sheet, made, options or Options())


def shown(inspection: Report) -> str:
    """The screen as a file or a pipe gets it."""
    return text_of(whole_screen(inspection, whole))


def read(path: Path) -> tuple[str, Options, str, str]:
    """Packs, options, the sheet's body and the screen of one file."""
    asked, screen_text = path.read_text(encoding="utf-8").split("=" * 80 + "\n")
    head, body = asked.split("\n", 1)
    packs, _, said = head.partition("; ")
    name, _, value = said.partition("=")
    option = int(value) if value.isdigit() else value or True
    return packs, Options(**({name: option} if name else {})), body, screen_text  # type: ignore[arg-type]
