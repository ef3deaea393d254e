"""A pump, which has a seal of one kind or another, or none: a small pack for the tests of what there is."""

PUMP = """\
specrules: tolerance-pack/1
group: Pump
pack: {name: pump, version: "1", title: A pump, unit: mm}
axes:
  stage: {count: stages}
  spring: {count: springs, applies when: seal == face}
facts:
  drive: {kind: choice, choices: [shaft, canned], assumed: shaft}
  stages: {kind: count}
  seal: {kind: choice, choices: [packing, face], applies when: drive == shaft}
  springs: {kind: count, applies when: seal == face}
  fluid: {kind: choice, choices: [water, acid]}
  hot: {kind: yes/no, assumed: no}
hold points: [closed, started]
measurands:
  wear_ring: {at: [stage], unit: mm}
  spare_ring: {at: [stage], unit: mm}
  packing_gap: {unit: mm, applies when: seal == packing}
  face_wear: {unit: mm, applies when: seal == face}
  spring_height: {at: [spring], unit: mm}
  liner: {unit: mm, applies when: fluid == acid}
parts:
  seal_parts: {measurands: [packing_gap, face_wear]}
  faces: {measurands: [face_wear]}
figures:
  seal_play:
    unit: mm
    ways:
      packing: packing_gap
      face: face_wear
  face_share: {formula: face_wear / 2}
sign-offs:
  gland_even: {question: Is the gland even?, source: {kind: house}}
  faces_clean: {question: Are the faces clean?, hold point: closed, source: {kind: house}}
  turns: {question: Does it turn?, source: {kind: house}}
  acid_proof: {question: Is all of it acid proof?, applies when: fluid == acid, source: {kind: house}}
rules:
  ring_gap:
    title: Gap of the wear ring
    each: stage
    formula: wear_ring
    limits:
      - {name: base, least: 0.2 mm, most: 0.5 mm}
      - {name: packed, when: seal == packing, most: 0.4 mm}
      - {name: not packed, when: not seal == packing, most: 0.45 mm}
      - {name: by the face, most: 0.3 mm + face_wear}
    importance: minor
    source: {kind: house}
    worked:
      - given: {facts: {drive: canned}, readings: {wear_ring: {1: 0.3}}}
        expect: {at: {stage: 1}, verdict: in spec}
  seal_fit:
    title: Play of the seal
    formula: seal_play
    limits: {most: 0.6 mm}
    importance: critical if seal == face else minor
    needs: [gland_even]
    source: {kind: house}
    worked: [{given: {facts: {seal: packing}, readings: {packing_gap: 0.4}}, expect: {verdict: in spec}}]
  half_wear:
    title: Half of the wear
    formula: face_share
    limits: {most: 0.6 mm}
    importance: minor
    needs: [faces_clean]
    source: {kind: house}
    worked:
      - {given: {facts: {seal: face}, readings: {face_wear: 0.4}}, expect: {verdict: in spec}}
      - {given: {facts: {seal: packing}}, expect: {verdict: not applicable}}
  springs_even:
    title: Springs alike
    formula: spread(spring_height)
    limits: {most: 0.2 mm}
    importance: minor
    source: {kind: house}
    worked: [{given: {facts: {seal: face}, readings: {spring_height: {1: 8.0, 2: 8.1}}}, expect: {verdict: in spec}}]
  cool:
    title: Wear ring of a cool pump
    each: stage
    formula: spare_ring if hot == yes else wear_ring
    limits: {most: 1 mm}
    applies when: hot == no
    importance: minor
    source: {kind: house}
    worked: [{given: {readings: {wear_ring: {1: 0.3}}}, expect: {at: {stage: 1}, verdict: in spec}}]
  lining:
    title: Thickness of the liner
    formula: liner
    limits: {least: 2 mm}
    importance: minor
    source: {kind: house}
    worked: [{given: {facts: {fluid: acid}, readings: {liner: 2.5}}, expect: {verdict: in spec}}]
operations:
  lapped: {makes stale: [face_wear, wear_ring, faces_clean]}
"""
