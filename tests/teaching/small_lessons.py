"""A small pack with a lesson and exercises, and the ways to change it and to pose what is in it."""

from __future__ import annotations

from functools import cache

from specrules.pack import Specification
from specrules.teaching import Asked, Posed, pose
from tests.pack.small_packs import BASE, resolved

TEACHING = """\
lessons:
  fits:
    title: How fits are made
    text: [A fit is what is left of two sizes., Keep every decimal.]
    rules: [fit]
    source: {kind: house}
exercises:
  one_fit:
    title: One fit
    lesson: fits
    task: Two sizes were read.
    given: {facts: {material: iron}, readings: {hole: {1: 2.5023}, shaft: {1: 2.5000}}}
    vary:
      - {names: [hole, shaft], by: 0.001 in, steps: 100, together: yes}
      - {names: [hole, shaft], by: 0.0001 in, steps: 4}
    questions:
      - ask: What is the clearance?
        answer: clearance[1]
        unit: in
        places: 4
        mistakes:
          - {answer: "clearance[1] / 2", shows: That is half of it.}
          - {answer: "clearance[1] + 0.001 in", shows: One was borrowed twice.}
      - ask: How large is the shaft?
        answer: largest(shaft)
        unit: in
        places: 4
  sure:
    title: How sure it is
    lesson: fits
    given:
      decision: guarded
      facts: {material: iron}
      readings: {hole: {1: 2.5017 ±0.0003}, shaft: {1: 2.5000 ±0.0004}}
      limits: {fit: [{least: 0.0018 in, most: 0.0040 in}]}
    questions:
      - {ask: How sure?, uncertainty of: "clearance[1]", unit: in, places: 4, working: By their squares.}
      - ask: And so?
        verdict of: fit
        at: {place: 1}
        mistakes: [{answer: out of spec, shows: It may be inside.}]
"""
PACK = BASE + TEACHING
_spec = cache(resolved)
MORE = """\
  loose_fit:
    title: A loose one
    lesson: fits
    given: {facts: {material: iron}, readings: {hole: {1: 2.5043}, shaft: {1: 2.5000}}}
    questions: [{ask: How is it?, verdict of: fit, at: {place: 1}}]
  judged:
    title: A figure and its verdict
    lesson: fits
    given: {facts: {material: iron}, readings: {hole: {1: 2.5023}, shaft: {1: 2.5000}}}
    questions:
      - ask: The clearance?
        answer: clearance[1]
        unit: in
        places: 4
        mistakes: [{answer: "clearance[1] + 0.002 in", shows: One was borrowed twice.}]
      - {ask: How is it?, verdict of: fit, at: {place: 1}}
  shells:
    title: Which shells
    lesson: fits
    given: {facts: {material: iron}, readings: {hole: {1: 2.5023}, shaft: {1: 2.5000}}}
    questions:
      - {ask: The clearance?, answer: "clearance[1]", unit: in, places: 4}
      - ask: Which shells?
        answer: 0.0030 in - clearance[1]
        unit: in
        choices: {standard: 0 in, one half: 0.0005 in, the pair: 0.001 in}
        hint: A half does half as much.
        mistakes: [{answer: the pair, shows: A pair does twice as much.}]
  carried:
    title: One after the other
    lesson: fits
    given: {facts: {material: iron}, readings: {hole: {1: 2.5023}, shaft: {1: 2.5000}}}
    questions:
      - {ask: The clearance?, answer: "clearance[1]", unit: in, places: 4}
      - {ask: How much more?, answer: "0.0030 in - clearance[1]", unit: in, places: 4}
      - ask: Which?
        answer: 0.0030 in - clearance[1]
        unit: in
        choices: {standard: 0 in, one half: 0.0005 in, the pair: 0.001 in}
  kilo:
    title: A thousand times
    lesson: fits
    given: {facts: {material: iron}, readings: {shaft: {1: 2.5000}}}
    questions: [{ask: How many thou is the shaft?, answer: "largest(shaft) / (0.001 in)", places: 0}]
"""
"""Exercises whose answers are words, choices, or carried on."""


def changed(old: str, new: str) -> str:
    """The pack with one thing of its teaching changed, which must be in that once."""
    assert TEACHING.count(old) == 1, (old, TEACHING.count(old))
    return BASE + TEACHING.replace(old, new)


def made(name: str = "one_fit", seed: int | None = None, spec: Specification | None = None) -> Posed:
    """An exercise, posed."""
    posed, faults = pose(spec or _spec(PACK + MORE), name, seed)
    assert posed is not None, [fault.sentence() for fault in faults]
    return posed


def asked(number: int, name: str = "one_fit") -> Asked:
    """One question of it."""
    return made(name).asked[number - 1]
