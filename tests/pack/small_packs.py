"""A small pack to break and to amend, and the ways to read and specification it."""

from specrules.document import Fault
from specrules.pack import Specification
from specrules.pack.pack_reading import Pack, read_pack
from specrules.pack.resolving import resolve

BASE = """\
specrules: tolerance-pack/1
pack:
  name: base
  version: "1.0"
  title: Base practice
  unit: in
  wear when: work == refresh
axes:
  place: {count: places}
  plane: {names: [front, rear]}
  class: {groups: classes, of: place, default: one}
facts:
  places: {kind: count, title: Number of places}
  classes: {kind: groups}
  material: {kind: choice, choices: [iron, aluminium]}
  work: {kind: choice, choices: [new, refresh], assumed: new}
  coated: {kind: yes/no, assumed: no}
  card_shaft: {kind: quantity, unit: in, at: place}
  grip: {kind: number, assumed: 0.5}
  maker: {kind: text}
hold points: [dry_fit, first_start]
gauge classes:
  bore gauge:
    resolution: 0.0001 in
    mpe: 0.0001 in
    source: {kind: from memory}
measurands:
  hole: {at: [place], positions: [plane], unit: in, usual: 1.5..4.5, gauge classes: [bore gauge]}
  shaft: {title: Shaft size, at: place, positions: plane, unit: in, usual: 30..120 mm, repeats: 2}
  stand: {unit: in, may be negative: yes}
figures:
  clearance:
    each: place
    ways:
      two sizes: smallest(hole) - largest(shaft)
      stated: {formula: smallest(hole) - card_shaft, when: coated == no, needs: [clean], gauge classes: [bore gauge]}
  size: {each: place, ways: {measured: mean(shaft), card: card_shaft}}
  ratio: {each: place, formula: clearance / size}
sign-offs:
  clean:
    question: Is it clean?
    at: place
    source: {kind: common practice}
rules:
  fit:
    title: Fit of shaft and hole
    each: place
    formula: clearance
    limits:
      - name: base
        least: "max(0.0007 * size, 0.0015 in)"
        aim: 0.0010 * size
        most: 0.0014 * size
        wear most: 0.002 * size
      - {name: soft, when: material == aluminium, shift: -0.0005 in}
      - {name: floor, least: "max(least, 0.0008 in)"}
    words: tight/loose
    importance: {tight: critical, loose: critical if coated == yes else minor}
    hold point: dry_fit
    applies when: work == new
    needs: [clean]
    because: {tight: It seizes., loose: It knocks.}
    remedy:
      tight: [{do: the larger hole, moves: 0.0005 in}]
      loose: {do: the smaller hole, moves: -0.0005 in}
      otherwise: Measure again.
    caution: Measure cold.
    source: {kind: common practice, note: a thou an inch}
    worked:
      - given: {readings: {hole: {1: 2.5025}, shaft: {1: 2.5000}}}
        expect: {at: {place: 1}, value: 0.0025 in, verdict: in spec}
  share:
    title: Fit as a share
    each: place
    formula: ratio
    limits: none
    may be negative: material == aluminium
    source: {kind: published, document: Sizes of things, page: "12"}
    worked:
      - unsigned: clean
        given: {readings: {hole: {1: 2.5025}}}
        expect: [{at: {place: 1}, verdict: not measured}]
operations:
  hone: {title: Hole honed, makes stale: [hole, clean]}
"""


def read_text(text: str, file: str = "base.pack.yaml") -> Pack:
    """The pack that a good text makes."""
    pack, faults = read_pack([(file, text.encode())])
    assert pack is not None, [fault.sentence() for fault in faults]
    return pack


def faults_of(*texts: str) -> tuple[Fault, ...]:
    """What is wrong with packs that are files of their own, each building on those before it; the last is asked for."""
    packs: list[Pack] = []
    faults: list[Fault] = []
    for number, text in enumerate(texts):
        pack, found = read_pack([("base.pack.yaml" if not number else f"upper{number}.pack.yaml", text.encode())])
        faults += found
        if pack is None:
            return found
        packs.append(pack)
    made, wrong = resolve(packs, [packs[-1].name])
    assert faults or (made is None) == bool(wrong)
    return tuple(dict.fromkeys((*faults, *wrong)))


def resolved(*texts: str, asked: list[str] | None = None) -> Specification:
    """The specification of good packs; asked for is the last of them."""
    packs = [read_text(text, f"pack{number}.yaml") for number, text in enumerate(texts)]
    made, faults = resolve(packs, asked or [packs[-1].name])
    assert made is not None, [fault.sentence() for fault in faults]
    return made


def upper(name: str, amend: str, on: str = "base", more: str = "") -> str:
    """A pack that amends rules: `amend` is what stands under `amend`, indented by two."""
    head = f"specrules: tolerance-pack/1\npack: {{name: {name}, version: '1', title: {name}, builds on: [{on}]}}\n"
    return head + more + (f"amend:\n{amend}" if amend else "")
