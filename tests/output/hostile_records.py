"""Records in which every text that a sheet or a pack may choose is one that somebody wishes a reader ill with."""

from __future__ import annotations

from functools import cache
from typing import Any

from specrules.document import Fault, Place
from specrules.output.report_record import record_for
from specrules.record import Record, record_data
from specrules.vocabulary import Code
from tests.output.small_screen import looked

HOSTILE = {
    "script": "<script>alert(1)</script>",
    "markup": "</testsuite>]]>\"'&amp;<!-- -->",
    "escape": "\x1b[31mred\x1b[0m",
    "nul": "a\x00b\x0bc",
    "lone surrogate": "a\ud800b",
    "bidirectional": "\u202egnihton\u2066",
    "long": "m" * 10_000,
    "lines": 'a\r\nb\tc"d,e;f\u2028g',
    "formula": "=cmd|' /C calc'!A0",
    "formula after a blank": " @SUM(1+1)*2",
    "formula, wide": "\uff1d1+1",
    "minus": "-1+1",
    "no character": "\ufffe\uffff",
    "percent": "%2e%2e/%00:a b#c?d\\e",
}

BODY = """\
readings:
  hole: {1: [1.5020, 1.5020], 2: [1.5090, 1.5090]}
  shaft:
    - {state: as found, at: {1: 1.4990}}
    - {state: as built, at: {1: [1.5000, 1.5000], 2: [1.5000, 1.5000]}}
  grip: {1: 0.0030, 2: 0.0001}
  tilt: 0.0060 ±0.0001
  slot: {others: 0.10..0.20}
signed: {clean: {by: ab, on: 2026-10-01}, turned: {by: ab, on: 2026-10-01, answer: no}}
concessions: [{rule: tilt, reason: tried before, by: cd, on: 2026-10-02}]
"""
"""A sheet with findings of many verdicts, a bracket, a concession, a sign-off answered no and one lacking."""

KEPT = {
    *("specrules", "verdict", "would be", "statement", "importance", "state", "code", "kind", "sha256", "seal", "worn"),
    *("on", "decision", "until", "held by", "version", "counts"),
}
"""Keys whose texts are of a list of words, or that the program writes."""


@cache
def plain_data() -> Any:
    """What a reader gets of the record of that sheet."""
    found = looked(BODY)
    return record_data(record_for("jobs/a.sheet.yaml", found, (), "1.0.0", ("plugin shop 2",)))


def dressed(text: str) -> Record:
    """That record with this in the place of every text."""
    return Record.model_validate(_dressed(plain_data(), text))


def faulty(text: str) -> Record:
    """The record of a sheet of this name with a fault that has this in each of its texts."""
    fault = Fault(Place(text, 3, 7), text, Code.UNKNOWN_NAME, text, text)
    plugin = Fault(Place(text, 0, 0), text, Code.PLUGIN_FAILED, text, "", "plugin")
    return record_for(text, None, (fault, plugin), "1.0.0")


def _dressed(node: Any, text: str, key: str = "") -> Any:
    if isinstance(node, dict):
        return {name: node[name] if name in KEPT else _dressed(node[name], text, name) for name in node}
    if isinstance(node, list):
        return [_dressed(each, text, key) for each in node]
    return text if isinstance(node, str) else node
