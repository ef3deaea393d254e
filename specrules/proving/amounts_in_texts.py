"""Amounts in the texts of a pack that stand in no braces: sheets of the other system of units read them as they are."""

from __future__ import annotations

import re
from collections.abc import Iterator, Set

from specrules.pack import Specification
from specrules.pack.in_units import told_texts
from specrules.proving.proof_parts import ProofRemark
from specrules.quantity import Refusal, find_unit
from specrules.quantity.amounts import read_amount
from specrules.quantity.table import units_in_use

_BRACES = re.compile(r"\{[^{}]*\}")
_AMOUNT = re.compile(
    r"""(?<![\w.,/{|])(?P<low>[+-]?\d*\.?\d+(?:/\d+)?)(?:\s*(?:to|\.\.|-|–)\s*(?P<high>\d*\.?\d+(?:/\d+)?))?
    \s?(?P<unit>[A-Za-z°%"][A-Za-z°%²³]*(?:[/·][A-Za-z]+[²³]?)?)(?P<after>\s\w)?""",
    re.VERBOSE,
)
_WORD = "in"
"""A unit that is a word as well: `2 in each` has none."""


def bare_amounts(spec: Specification, files: Set[str]) -> Iterator[ProofRemark]:
    """A remark for each such text of these files, with what to write. Lessons may speak of one system on purpose."""
    seen = set()
    for subject, text in told_texts(spec):
        if text.place.file not in files or (text.place, text) in seen:
            continue
        seen.add((text.place, text))
        found = list(bare_in(text))
        if found:
            bare, braces = (", ".join(each) for each in zip(*found, strict=True))
            said = f"tells {bare} in one system of units alone"
            yield ProofRemark(text.place, subject, said, braces, "text")


def bare_in(text: str) -> Iterator[tuple[str, str]]:
    """The amounts of a text that stand in no braces, each with how it is written in them."""
    for found in _AMOUNT.finditer(_BRACES.sub("{}", text)):
        low, high, word = found["low"], found["high"], found["unit"]
        if word == _WORD and found["after"] and "." not in low and "/" not in low:
            continue
        if not units_in_use().knows(word):  # as most words behind a number: nothing is to be offered for them
            continue
        unit = find_unit(word)
        if isinstance(unit, Refusal) or not (unit.in_inches or unit.in_millimetres):
            continue
        meant = f"{_decimal(low)}{f'..{_decimal(high)}' if high else ''} {word}"
        if not isinstance(read_amount(meant), Refusal):
            yield f"{low}{f' to {high}' if high else ''} {word}", f"{{{meant}}}"


def _decimal(figure: str) -> str:
    """A figure as braces take it: a fraction of an inch as a decimal."""
    over, slash, under = figure.partition("/")
    return f"{float(over) / float(under):.4g}" if slash and float(under) else figure
