"""The texts of the packs that ship: every amount in them can be told in both systems of units."""

from __future__ import annotations

import re

import pytest

from specrules.pack import Step, told_in
from specrules.pack.in_units import TOLD, _parts, _texts, step_in  # the texts that are told are what is under test
from specrules.quantity import UNITS, Unit, find_unit
from tests import shipped

WORDS = "thou|tenths?|hundredths?|inch|inches|microns?|foot|feet"
SYMBOLS = "|".join(re.escape(unit.symbol) for unit in UNITS if unit.in_inches or unit.in_millimetres)
BARE = re.compile(rf"\b(?:{WORDS})\b|(?<![\w.])\d[\d.,]*(?: to \d[\d.]*)? (?:{SYMBOLS})(?![\w/])")
AS_THEY_ARE = {
    "turn the stud nut half a turn down, on 20 threads an inch": "the name of a thread",
    "turn the stud nut half a turn up, on 20 threads an inch": "the name of a thread",
    "Bend and twist of a rod. Check them on a bar.": "no pressure",
    "a tenth of a ratio": "no length",
    "a tenth-gram scale": "no length",
}
"""What looks like a bare amount and is none, and why."""


def unit_of(symbol: str) -> Unit:
    found = find_unit(symbol)
    assert isinstance(found, Unit)
    return found


def texts_of(pack: str) -> dict[str, str]:
    """Every text of a pack and those that it builds on, by what it is."""
    found = {}
    for name, part in _parts(shipped.resolved(pack)):
        for field in TOLD[type(part)]:
            for key, text in _texts(part, field):
                found[f"{text.place.file}:{text.place.line} {name} {key}"] = str(text)
    return found


def bare_amounts(text: str) -> list[str]:
    """The amounts of a text that stand in no braces."""
    for known in AS_THEY_ARE:
        text = text.replace(known, "")
    return [found[0] for found in BARE.finditer(re.sub(r"\{[^{}]*\}", "", text))]


@pytest.mark.parametrize("pack", shipped.RULED)
def test_no_text_of_a_pack_has_an_amount_for_one_system_alone(pack: str) -> None:
    bare = {where: found for where, text in texts_of(pack).items() if (found := bare_amounts(text))}
    assert not bare


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("leave 0.0015 in of it", ["0.0015 in"]),
        ("from 0.001 to 0.002 in and 40 N", ["0.001 to 0.002 in", "40 N"]),
        ("a thou or two", ["thou"]),
        ("about 7 lbf/in", ["7 lbf/in"]),
        ("{0.0015 in} and 5 cc, 2 deg, 6,500 rpm, 1.5 times in all", []),
        ("0.0035 of the bore", []),
    ],
)
def test_what_is_a_bare_amount(text: str, found: list[str]) -> None:
    assert bare_amounts(text) == found


@pytest.mark.parametrize("pack", shipped.RULED)
@pytest.mark.parametrize(("unit", "strange"), [("in", r"\d (?:mm|N|um)\b"), ("mm", r"\d (?:in|lbf|uin|psi)\b")])
def test_a_sheet_of_one_system_reads_no_text_in_the_other(pack: str, unit: str, strange: str) -> None:
    told = told_in(shipped.resolved(pack), unit_of(unit))
    parts = [step_in(part, told.lengths_in) if isinstance(part, Step) else part for _, part in _parts(told)]
    texts = [str(text) for part in parts for field in TOLD[type(part)] for text in _values(part, field)]
    assert len(texts) > 500
    assert [text for text in texts if re.search(strange, text)] == []
    assert [text for text in texts if "{" in text] == []


def _values(part: object, field: str) -> list[str]:
    value = getattr(part, field)
    if isinstance(value, tuple):
        value = dict(value)
    return list(value.values()) if isinstance(value, dict) else [value]
