"""A small pack that has one of everything an inspection weighs, packs over it, and short ways to inspect with them."""

from __future__ import annotations

from decimal import Decimal

from specrules.inspection import Options, Report, WholeFinding
from tests.inspecting import finding, inspected

BASE = """\
specrules: tolerance-pack/1
group: Fits
pack: {name: base, version: "1", title: Base practice, unit: in, wear when: work == refresh}
axes:
  main: {count: mains}
  cylinder: {count: cylinders}
  throw: {groups: throws, of: cylinder}
  main_class: {groups: main_classes, of: main, default: one}
  plane: {names: [front, rear]}
facts:
  mains: {kind: count}
  cylinders: {kind: count}
  throws: {kind: groups}
  main_classes: {kind: groups}
  work: {kind: choice, choices: [new_build, refresh], assumed: new_build}
  block: {kind: choice, choices: [iron, aluminium]}
  boosted: {kind: yes/no}
  coated: {kind: yes/no, assumed: no}
  card_size: {kind: quantity, unit: in}
  redline: {kind: number}
hold points: [dry_fit, first_start]
measurands:
  hole: {title: Hole, at: [main], positions: [plane], unit: in, usual: 1..4 in}
  shaft: {title: Shaft, at: [main], positions: [plane], unit: in, usual: 1..4 in}
  dial: {title: Clearance on the dial, at: [main], unit: in}
  strip: {title: Clearance by strip, at: [main], unit: in}
  pin: {title: Pin, at: [throw], unit: in}
  eye: {title: Eye, at: [cylinder], unit: in}
  float: {title: Float, unit: in}
  stand: {title: Stand, unit: in, may be negative: yes}
  wear_gap: {title: Gap, unit: in}
figures:
  clearance:
    title: Clearance
    each: main
    unit: in
    ways:
      two sizes: smallest(hole) - largest(shaft)
      dial: dial
      strip: {formula: strip, needs: [strip_dry], when: coated == no}
  size: {each: main, unit: in, ways: {measured: mean(shaft), card: card_size}}
sign-offs:
  caps_torqued: {question: Were the caps torqued?, hold point: dry_fit, importance: critical, source: {kind: house}}
  strip_dry: {question: Was the strip dry?, at: main, hold point: dry_fit, importance: minor, source: {kind: house}}
  cleaned: {question: Was it cleaned?, at: cylinder, hold point: first_start, importance: major, source: {kind: house}}
  coat_cured:
    question: Did the coat cure?
    applies when: coated == yes
    importance: minor
    source: {kind: house}
rules:
  fit:
    title: Fit
    each: main
    formula: clearance
    limits:
      - {name: base, least: 0.0010 in, aim: 0.0020 in, most: 0.0030 in, wear most: 0.0040 in}
      - {name: aluminium, when: block == aluminium, shift: -0.0005 in}
      - {name: floor, least: "max(least, 0.0008 in)", note: never under eight tenths}
    words: tight/loose
    importance: {tight: critical, loose: minor}
    hold point: dry_fit
    needs: [caps_torqued]
    because: {tight: It seizes., loose: It knocks.}
    remedy:
      tight: [{do: open it, moves: 0.0005 in}, {do: open it by the amount it lacks, moves: 0.0010 in - clearance}]
      loose: [{do: close it, moves: -0.0005 in}, {do: look}]
      otherwise: Measure the parts.
    source: {kind: house, note: the base}
    worked:
      - given: {facts: {block: iron}, readings: {dial: {1: 0.0020}}}
        expect: {at: {main: 1}, value: 0.0020 in, verdict: in spec}
  fit_spread:
    title: Spread of the fit
    each: main_class
    formula: spread(clearance, main)
    unit: in
    limits: {most: 0.0005 in}
    importance: major
    hold point: first_start
    needs: [fit]
    source: {kind: house}
    worked:
      - given: {readings: {dial: {1: 0.0020, 2: 0.0021}}}
        expect: {at: {main_class: all}, value: 0.0001 in, verdict: in spec}
  fit_ready:
    title: The whole fit
    formula: largest(clearance)
    unit: in
    limits: {most: 0.0060 in}
    importance: minor
    needs: [fit_spread]
    source: {kind: house}
    worked:
      - given: {readings: {dial: {1: 0.0020, 2: 0.0021}}}
        expect: {value: 0.0021 in, verdict: in spec}
  round:
    title: Out of round
    each: main
    formula: largest(shaft) / smallest(shaft)
    limits: {most: 1.001}
    importance: minor
    source: {kind: house}
    worked:
      - given: {readings: {shaft: {1: [2.0000, 2.0000]}}}
        expect: {at: {main: 1}, value: 1, verdict: in spec}
  taper:
    title: Taper
    each: main
    formula: spread(shaft, plane)
    unit: in
    limits: {most: 0.0005 in}
    importance: minor
    source: {kind: house}
    worked:
      - given: {readings: {shaft: {1: [2.0001, 2.0000]}}}
        expect: {at: {main: 1}, value: 0.0001 in, verdict: in spec}
  eye_fit:
    title: Eye on its pin
    each: cylinder
    formula: eye - pin
    unit: in
    limits: {least: 0.0010 in, most: 0.0030 in}
    importance: major
    needs: [cleaned]
    source: {kind: house}
    worked:
      - given: {facts: {throws: [[1]]}, readings: {eye: {1: 1.0020}, pin: {1: 1.0000}}}
        expect: {at: {cylinder: 1}, value: 0.0020 in, verdict: in spec}
  eye_sizes:
    title: Largest eye of a throw
    each: throw
    formula: largest(eye)
    unit: in
    limits: {most: 1.5 in}
    importance: critical if boosted == yes else minor
    source: {kind: house}
    worked:
      - given: {facts: {throws: [[1]]}, readings: {eye: {1: 1.0020}}}
        expect: {at: {throw: 1}, value: 1.0020 in, verdict: in spec}
  float:
    title: Float
    formula: float
    limits:
      - {name: base, least: 0.002 in, aim: 0.009 in, most: 0.008 in}
      - {name: boosted, when: boosted == yes, shift: 0.001 in}
    importance: minor
    hold point: first_start
    source: {kind: house}
    worked:
      - given: {readings: {float: 0.0050}}
        expect: {value: 0.0050 in, verdict: in spec}
  stand:
    title: Stand
    formula: stand
    limits: {most: 0.010 in}
    applies when: coated == no
    importance: minor
    source: {kind: house}
    worked:
      - given: {readings: {stand: -0.0050}}
        expect: {value: -0.0050 in, verdict: in spec}
  worn_gap:
    title: Gap
    formula: wear_gap
    limits: {least: 0.010 in, wear least: 0.008 in}
    importance: minor
    source: {kind: house}
    worked:
      - given: {readings: {wear_gap: 0.0110}}
        expect: {value: 0.0110 in, verdict: in spec}
  fast:
    title: Speed
    formula: float * redline
    unit: in
    limits: none
    importance: minor
    source: {kind: house}
    worked:
      - given: {facts: {redline: 2}, readings: {float: 0.0050}}
        expect: {value: 0.0100 in, verdict: not applicable}
operations:
  hone: {title: Honed, makes stale: [hole, dial, caps_torqued]}
  grind: {title: Ground, makes stale: [shaft, pin]}
"""


def over(name: str, limits: str, on: str = "base", rule: str = "fit", more: str = "") -> str:
    """A pack that amends the limits of one rule."""
    return f"""\
specrules: tolerance-pack/1
pack: {{name: {name}, version: "1", title: A pack, builds on: [{on}]}}
amend:
  rules:
    {rule}:
      reason: Because {name} says so.
      limits: {limits}
{more}"""


SIGNED = "signed: {caps_torqued: {by: me}, strip_dry: {by: me}, cleaned: {by: me}}\n"


def build(
    body: str,
    *asked: str,
    facts: str = "block: iron, boosted: no",
    signed: str = SIGNED,
    packs: dict[str, str] | None = None,
    options: Options | None = None,
    unit: str = "in",
) -> Report:
    """The inspection of a sheet with these sections; where nothing is said: iron, not boosted, all signed."""
    names = ", ".join(asked or ("base",))
    head = f"specrules: build-sheet/1\npacks: [{names}]\nunit: {unit}\nfacts: {{{facts}}}\n"
    return inspected(head + body + "\n" + signed, {"base": BASE, **(packs or {})}, options)


def readings(text: str, *asked: str, **more: object) -> Report:
    """The inspection of a sheet with these readings."""
    return build(f"readings: {{{text}}}", *asked, **more)  # type: ignore[arg-type]  # handed on as they are


def fit(found: Report, main: str = "1") -> WholeFinding:
    """The finding of the rule `fit` at one main."""
    return finding(found, "fit", main=main)


def inches(text: str) -> Decimal:
    """A number of inches, as the report of an inch sheet has it."""
    return Decimal(text)
