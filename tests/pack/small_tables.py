"""A small pack, invented for the tests, whose limits and values stand in tables of every kind of key."""

TABLES = """\
  wall:
    title: Wall by colour
    keys: {colour: choice}
    columns: {thin: mm, thick: {holds: mm, order: rising}, maker: label}
    rows: {blue: [1.496, 1.500, north], black: [1.500, 1.504, north], brown: [none, 1.508, south]}
    source: {kind: house}
  crossed:
    title: Shell by two stamps
    keys: {block: choice, crank: whole}
    columns: {shell: label, plus: number}
    rows:
      A: {1: [blue, 0], 2: [black, 1]}
      B: {1: [black, 1], 2: [brown, 2]}
    source: {kind: house}
  grade:
    title: Grade by size
    keys: {nominal: band mm}
    columns: {six: um, name: label}
    rows: {to 3: [6, small], over 3 to 6: [8, small], over 6 to 10: [9, middle], over 18: [13, large]}
    source: {kind: house}
  factor:
    title: Factor by length
    keys: {length: linear mm}
    columns: {rise: number}
    rows: {10: 1, 20: 2, 40: 3, 50: 1}
    source: {kind: house}
"""

PACK = f"""\
specrules: tolerance-pack/1
group: Fits
pack: {{name: tables, version: "1", title: Tables of a small thing, unit: mm}}
axes:
  main: {{count: mains}}
facts:
  mains: {{kind: count}}
  colour: {{kind: choice, at: main, choices: [blue, black, brown]}}
  block_stamp: {{kind: choice, choices: [A, B]}}
  crank_stamp: {{kind: number}}
  casting: {{kind: text}}
  nominal: {{kind: quantity, unit: mm}}
measurands:
  clearance: {{title: Clearance, at: main, unit: mm, usual: 0..1 mm}}
  shaft: {{title: Shaft, unit: mm, usual: 1..30 mm}}
tables:
{TABLES}rules:
  fit:
    title: Fit
    each: main
    formula: clearance
    unit: mm
    limits: {{least: wall_thin(colour) - 1.400 mm, most: wall_thick(colour) - 1.400 mm}}
    importance: major
    source: {{kind: house}}
    worked:
      - given: {{facts: {{colour: {{1: blue}}}}, readings: {{clearance: {{1: 0.098}}}}}}
        expect: {{at: {{main: 1}}, verdict: in spec}}
  graded:
    title: Graded shaft
    formula: shaft - nominal
    unit: mm
    limits: {{least: -grade_six(nominal), most: 0 mm}}
    importance: major
    may be negative: yes
    source: {{kind: house}}
    worked:
      - given: {{facts: {{nominal: 6}}, readings: {{shaft: 5.995}}}}
        expect: {{verdict: in spec}}
  drawn:
    title: Tolerance of the shaft's own grade
    formula: grade_six(shaft)
    unit: mm
    limits: {{most: 0.008 mm}}
    importance: minor
    source: {{kind: house}}
    worked:
      - given: {{readings: {{shaft: 5.995}}}}
        expect: {{value: 0.008 mm, verdict: in spec}}
  stretched:
    title: Stretch
    formula: factor_rise(shaft)
    limits: {{most: 2.5}}
    importance: minor
    source: {{kind: house}}
    worked:
      - given: {{readings: {{shaft: 15}}}}
        expect: {{value: 1.5, verdict: in spec}}
"""
