"""A trolley with wheels of two kinds on each axle, as many of each as a sheet says."""

from __future__ import annotations

TROLLEY = """\
specrules: tolerance-pack/1
group: Wheels
pack: {name: trolley, version: "1", title: A trolley, unit: mm}
axes:
  axle: {count: axles}
  wheel: {kinds: {inner: inner_wheels, outer: outer_wheels}}
  edge: {names: [near, far]}
facts:
  axles: {kind: count}
  sprung: {kind: yes/no, assumed: no}
  inner_wheels: {kind: count, assumed: 1, title: Inner wheels of each axle}
  outer_wheels: {kind: count, assumed: 1, title: Outer wheels of each axle}
  worn_to: {kind: quantity, unit: mm, at: wheel_kind}
  tyre: {kind: choice, choices: [solid, air], at: wheel}
measurands:
  wheel_size: {title: Wheel size, at: [axle, wheel], unit: mm, usual: 50..400 mm, gauge classes: [tape]}
  wheel_width: {title: Wheel width, at: [axle, wheel], positions: edge, unit: mm, usual: 10..90 mm}
gauge classes:
  tape: {resolution: 0.1 mm, mpe: 0.1 mm, source: {kind: from memory}}
sign-offs:
  turns: {question: Does it turn?, at: [axle, wheel], source: {kind: house}}
figures:
  inner_size: {each: axle, unit: mm, formula: "mean(wheel_size[inner])"}
rules:
  wheel_fit:
    title: Size of the wheel
    each: [axle, wheel]
    formula: wheel_size
    limits:
      - {name: base, least: 99 mm, most: 101 mm}
      - {name: outer, when: wheel == outer, most: 102 mm}
    importance: major
    source: {kind: house}
    worked:
      - given: {readings: {wheel_size: {1: {inner: 100, outer: 101.5}}}}
        expect:
          - {at: {axle: 1, wheel: inner}, verdict: in spec}
          - {at: {axle: 1, wheel: outer}, verdict: in spec}
      - given: {readings: {wheel_size: {1: {inner: 101.5}}}}
        expect: {at: {axle: 1, wheel: inner}, verdict: out of spec, side: high, beyond: 0.5 mm}
      - station: {wheel: outer}
        at: {102: in spec, 98: low by 1}
      - given: {facts: {inner_wheels: 2}, readings: {wheel_size: {1: {inner_1: 100, inner_2: 98}}}}
        expect:
          - {at: {axle: 1, wheel: inner_1}, verdict: in spec}
          - {at: {axle: 1, wheel: inner_2}, verdict: out of spec, side: low, beyond: 1 mm}
  wheel_play:
    title: Difference of the wheels of one kind
    each: [axle, wheel_kind]
    formula: spread(wheel_size)
    limits: {most: 0.5 mm}
    importance: minor
    source: {kind: house}
    worked:
      - given: {facts: {outer_wheels: 2}, readings: {wheel_size: {1: {outer_1: 100.0, outer_2: 100.7}}}}
        expect: {at: {axle: 1, wheel_kind: outer}, verdict: out of spec, side: high, beyond: 0.2 mm}
      - given: {readings: {wheel_size: {1: {outer: 100.0}}}}
        expect: {at: {axle: 1, wheel_kind: outer}, value: 0 mm, verdict: in spec}
  wheel_lead:
    title: Inner against outer wheels
    each: axle
    formula: inner_size - mean(wheel_size[outer])
    limits: {least: -1 mm, most: 1 mm}
    may be negative: yes
    importance: minor
    source: {kind: house}
    worked:
      - given: {readings: {wheel_size: {1: {inner: 100, outer: 99.5}}}}
        expect: {at: {axle: 1}, value: 0.5 mm, verdict: in spec}
  wheel_worn:
    title: Wear of the wheel
    each: [axle, wheel]
    formula: wheel_size - worn_to
    limits: {least: 1 mm}
    importance: minor
    source: {kind: house}
    worked:
      - given: {facts: {worn_to: {inner: 90}}, readings: {wheel_size: {1: {inner: 92}}}}
        expect: {at: {axle: 1, wheel: inner}, verdict: in spec}
"""
HEAD = "specrules: build-sheet/1\nbuild: {title: Trolley}\npacks: [trolley]\nunit: mm\n"
PACKS = {"trolley": TROLLEY}
WHEELS = f"""{HEAD}\
facts: {{axles: 2, inner_wheels: 2, outer_wheels: 1, worn_to: {{inner: 97.0, outer: 96.0}}}}
readings:
  wheel_size:
    1: {{inner_1: 100.2, inner_2: 99.9, outer: 101.6}}
    2: {{inner: 100.1, others: 102.3}}
  wheel_width:
    1: {{inner_1: [40.1, 40.2], inner_2: {{near: 40.3, far: 40.0}}, outer: 40.4}}
signed: {{turns: {{at: {{axle: 1, wheel: inner}}, by: ab, on: 2026-10-01}}}}
concessions: [{{rule: wheel_fit, at: {{axle: 2, wheel: outer}}, reason: agreed, by: ab, on: 2026-10-01}}]
"""
