"""A small specification that the tests of the sheet room read sheets against, and short ways to read them."""

from __future__ import annotations

from functools import cache

from specrules.document import Fault
from specrules.pack import Specification
from specrules.pack.pack_reading import read_pack
from specrules.pack.resolving import resolve
from specrules.sheet import Reading, Sheet, read_sheet, settle

FILE = "e.sheet.yaml"

PACK = """\
specrules: tolerance-pack/1
group: Crank
pack: {name: small, version: "1.0", title: A small shop, unit: in}
axes:
  main: {count: mains}
  cylinder: {count: cylinders}
  throw: {groups: throws, of: cylinder}
  bank: {groups: banks, of: cylinder, default: one}
  pair: {groups: pairs, of: main, default: each}
  ring: {names: [top, second, oil]}
  valve: {names: [intake, exhaust]}
  plane: {names: [front, rear]}
  clock: {names: [a, b]}
  end: {names: [front, rear]}
facts:
  mains: {kind: count, title: Number of mains}
  cylinders: {kind: count}
  throws: {kind: groups, title: The cylinders on each crankpin}
  banks: {kind: groups}
  pairs: {kind: groups}
  stroke: {kind: quantity, unit: in}
  crown_volume: {kind: quantity, unit: cc, at: [cylinder]}
  card_journal: {kind: quantity, unit: in, at: [throw]}
  card_ratio: {kind: number}
  use: {kind: choice, choices: [street, towing, racing]}
  alloy: {kind: choice, choices: [cast, forged], at: [cylinder]}
  coated: {kind: yes/no, assumed: no}
  remark: {kind: text}
hold points: [dry_fit, first_start]
gauge classes:
  outside micrometer: {resolution: 0.0001 in, mpe: 0.0001 in, source: {kind: from memory}}
  bore gauge: {resolution: 0.0001 in, mpe: 0.0001 in, source: {kind: from memory}}
  burette: {resolution: 0.1 cc, mpe: 0.1 cc, source: {kind: from memory}}
measurands:
  main_journal:
    title: Main journal
    at: [main]
    positions: [plane, clock]
    unit: in
    usual: 1.5..4.5 in
    gauge classes: [outside micrometer]
    how: Near each fillet.
  main_bore: {at: [main], positions: [plane], unit: in, gauge classes: [bore gauge]}
  rod_journal: {at: [throw], positions: [plane, clock], unit: in, usual: 1..4 in}
  crank_end_float: {unit: in, usual: 0.0005..0.06 in, repeats: 3}
  ring_end_gap: {at: [cylinder, ring], unit: in, usual: 0.002..0.15 in}
  lobe_lift: {at: [cylinder, valve], unit: in, usual: 0.15..0.6 in}
  guide_clearance: {at: [cylinder, valve], unit: in}
  chamber_volume: {at: [cylinder], unit: cc, usual: 10..200 cc, gauge classes: [burette], repeats: 3}
  deck_height: {at: [bank, end], unit: in, usual: 5..20 in}
  piston_below_deck: {at: [cylinder], unit: in, may be negative: yes}
  opens: {at: [cylinder], unit: deg}
  piston_weight: {at: [cylinder], unit: g}
  wall: {at: [main, cylinder], positions: [plane, clock, ring], unit: in}
figures:
  main_clearance: {each: main, unit: in, formula: smallest(main_bore) - largest(main_journal)}
sign-offs:
  rotates_freely: {question: Does it turn?, hold point: dry_fit, importance: major, source: {kind: from memory}}
  rings_squared: {question: Are they square?, at: [cylinder], importance: major, source: {kind: from memory}}
rules:
  main_oil_clearance:
    title: Main oil clearance
    each: main
    formula: main_clearance
    unit: in
    limits: {least: 0.0010 in, most: 0.0030 in}
    importance: major
    source: {kind: from memory}
    worked:
      - given: {readings: {main_bore: {1: 2.5020}, main_journal: {1: 2.5000}}}
        expect: {at: {main: 1}, value: 0.0020 in, verdict: in spec}
  ring_end_gap:
    title: Ring end gap
    each: [cylinder, ring]
    formula: ring_end_gap
    unit: in
    limits: [{name: base, from the maker: yes}]
    importance: major
    source: {kind: from memory}
    worked:
      - given: {readings: {ring_end_gap: {1: {top: 0.018}}}}
        expect: {at: {cylinder: 1, ring: top}, verdict: not measured}
operations:
  align_hone: {title: Align honed, makes stale: [main_bore]}
  grind: {makes stale: [main_journal]}
parts:
  crankshaft: {title: Crankshaft, measurands: [main_journal, rod_journal]}
  saddles: {at: main, measurands: [main_bore]}
  valves: {at: [cylinder, valve], measurands: [guide_clearance]}
  heads: {at: bank, measurands: [chamber_volume]}
  crank_throws: {at: throw, measurands: [rod_journal]}
"""

TOWING = """\
specrules: tolerance-pack/1
pack: {name: towing, version: "1.0", title: Towing, builds on: [small], sets: {use: towing, mains: 5, stroke: 3.5 in}}
"""


@cache
def shop(*asked: str) -> Specification:
    """The specification of the small pack, or of those asked for."""
    packs = []
    for name, text in (("small", PACK), ("towing", TOWING)):
        pack, faults = read_pack([(f"{name}.pack.yaml", text.encode())])
        assert pack is not None, [fault.sentence() for fault in faults]
        packs.append(pack)
    made, faults = resolve(packs, asked or ("small",))
    assert made is not None, [fault.sentence() for fault in faults]
    return made


def settled(body: str, *packs: str, unit: str = "in") -> tuple[Sheet | None, tuple[Fault, ...]]:
    """A sheet of these sections, and every fault of reading and settling it. The sections start on line 3."""
    text = f"specrules: build-sheet/1\nunit: {unit}\n{body}"
    raw, shape = read_sheet(text.encode(), FILE)
    if raw is None:
        return None, shape
    sheet, faults = settle(raw, shop(*packs))
    return (None if shape else sheet), tuple(sorted({*shape, *faults}))


def sheet_of(body: str, *packs: str, unit: str = "in") -> Sheet:
    """A sheet that has no fault."""
    sheet, faults = settled(body, *packs, unit=unit)
    assert sheet is not None, [fault.sentence() for fault in faults]
    assert not faults
    return sheet


def sentences(body: str, *packs: str, unit: str = "in") -> list[str]:
    """The faults as a reader sees them, without the file's name."""
    sheet, faults = settled(body, *packs, unit=unit)
    assert (sheet is None) == bool(faults)
    return [fault.sentence().removeprefix(f"{FILE}, ") for fault in faults]


def texts(readings: tuple[Reading, ...]) -> dict[str, str]:
    """What was read where: 'main_journal 3 front a' -> text."""
    return {" ".join((r.name, *r.station, *(r.position or ()))): r.text for r in readings}
