"""A small pack of one rule whose examples show everything, and the way to prove it with something changed."""

from specrules.output.proof import remark_text
from specrules.pack.pack_reading import read_pack
from specrules.proving import Proof, prove

HEAD = """\
specrules: tolerance-pack/1
pack: {name: small, version: "1.0", title: A small practice, unit: in, wear when: work == refresh}
axes:
  place: {count: places}
  end: {names: [front, rear]}
facts:
  places: {kind: count}
  material: {kind: choice, choices: [iron, aluminium]}
  work: {kind: choice, choices: [new, refresh], assumed: new}
  card_shaft: {kind: quantity, unit: in}
  dry: {kind: yes/no, assumed: no}
hold points: [dry_fit]
measurands:
  shaft: {at: [place], unit: in, usual: 1..3 in}
  hole: {at: [place], unit: in, usual: 1..3 in}
sign-offs:
  clean: {question: Is it clean?, source: {kind: house}}
figures:
  size: {each: place, unit: in, ways: {measured: shaft, card: card_shaft}}
rules:
  fit:
    title: Fit
    each: place
    formula: hole - shaft
    unit: in
    words: tight/loose
    importance: major
    needs: [clean]
    source: {kind: house}
"""

LIMITS = """\
    limits:
      - {name: base, least: 0.001 * size, most: 0.003 * size, wear most: 0.004 * size}
      - {name: aluminium, when: material == aluminium, shift: 0.0005 in}
"""

WORKED = """\
    worked:
      - given: {facts: {material: iron, card_shaft: 2.0000}, readings: {hole: {1: 2.0040}}}
        expect: {at: {place: 1}, verdict: not measured}
      - given:
          facts: {material: iron}
          readings: {hole: {1: 2.0040, 2: 2.0020, 3: 2.0019, 4: 2.0060, 5: 2.0061}, shaft: {others: 2.0000}}
        expect:
          - {at: {place: 1}, value: 0.0040 in, verdict: in spec}
          - {at: {place: 2}, value: 0.0020 in, verdict: in spec}
          - {at: {place: 3}, value: 0.0019 in, verdict: out of spec, side: tight, beyond: 0.0001 in}
          - {at: {place: 4}, value: 0.0060 in, verdict: in spec}
          - {at: {place: 5}, value: 0.0061 in, verdict: out of spec, side: loose, beyond: 0.0001 in}
      - given:
          facts: {material: iron, work: refresh}
          readings: {hole: {1: 2.0079, 2: 2.0080, 3: 2.0081}, shaft: {others: 2.0000}}
        expect:
          - {at: {place: 1}, verdict: worn within limit}
          - {at: {place: 2}, verdict: worn within limit}
          - {at: {place: 3}, verdict: out of spec, side: loose}
      - given:
          facts: {material: aluminium}
          readings: {hole: {1: 2.0040, 2: 2.0025, 3: 2.0024, 4: 2.0065, 5: 2.0066}, shaft: {others: 2.0000}}
        expect:
          - {at: {place: 1}, verdict: in spec}
          - {at: {place: 2}, verdict: in spec}
          - {at: {place: 3}, verdict: out of spec, side: tight}
          - {at: {place: 4}, verdict: in spec}
          - {at: {place: 5}, verdict: out of spec, side: loose}
"""

PACK = HEAD + LIMITS + WORKED
UPPER = """\
specrules: tolerance-pack/1
pack: {name: upper, version: "1.0", title: An upper practice, unit: mm, builds on: [small], sets: {material: aluminium}}
amend:
  rules:
    fit:
      reason: closer work
"""


def proved(text: str = PACK, *more: str, name: str = "small") -> Proof:
    """The proof of a pack of the texts given, the first being small.pack.yaml."""
    packs = []
    for number, each in enumerate((text, *more)):
        pack, faults = read_pack([(("small", "upper")[number] + ".pack.yaml", each.encode())])
        assert pack is not None, [fault.sentence() for fault in faults]
        packs.append(pack)
    return prove(packs, name)


def sentences(proof: Proof) -> list[str]:
    """What was found, as a reader sees it."""
    assert not proof.faults, [fault.sentence() for fault in proof.faults]
    return [remark_text(remark) for remark in proof.remarks]


def changed(old: str, new: str, text: str = PACK) -> str:
    """The pack with one thing changed, which must be in it once."""
    assert text.count(old) == 1, (old, text.count(old))
    return text.replace(old, new)
