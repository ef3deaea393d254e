"""What whoever begins with the pack that `pack new` writes first gets wrong: one fault each, and what to write."""

from __future__ import annotations

import pytest

from specrules.pack.new_pack import start_alone
from specrules.vocabulary import Code
from tests.pack.small_packs import faults_of

START = start_alone("shop", "Turned vessels", "packs/shop.pack.yaml", "mm")
WHEN, LEAST, MOST = "when: finish == turned", "least: 0.25 mm", "most: most + 0.01 mm"
FORMULA = "formula: gap  "
ALONE = "or {0}(...) of the readings of one thing."


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        ("[left, right]", "[left right]", '"left right" is 2 words, and a label is one; write left, right, or left_r'),
        ("[ground, turned]", "[ground turned]", '"ground turned" is 2 words, and a label is one; write ground, turned'),
        ("[ground, turned]", "'ground, turned'", '"ground, turned" is 2 words, and a label is one; write ground, tur'),
        ("least: 0.25 mm, most", "least: 0.25 mm most", "a comma is missing before this; write - {name: base, least: "),
        (LEAST, "least: 0.25 kg", '"0.25 kg" is mass, and length is needed.'),
        (LEAST, "least: 0.25 milimetre", "has the unknown unit milimetre; write 0.25 mm."),
        (LEAST, "least: 0.25", '"0.25" is a bare number, and length is needed; write 0.25 in or 0.25 mm.'),
        (LEAST, "least: 0,25 mm", '"0,25 mm" has a comma; write - {name: base, least: 0.25 mm, most: 0.50 mm}.'),
        (LEAST, "least: 0.25 mm to 0.50 mm", "has 'to' where it should have ended; write one figure, and the other "),
        (LEAST, "min: 0.25 mm", '"min" is no key here; write least.'),
        ("most: 0.50 mm}", "maximum: 0.50 mm}", '"maximum" is no key here; write most.'),
        ("    formula: gap", "\tformula: gap", "a tab stands at column 1; use spaces; write formula: gap"),
        ("    formula: gap", "   formula: gap", "is indented unlike the lines that it belongs to, or the line above"),
        ("      - {name: turned", "      -{name: turned", "a dash has no space after it; write - {name: turned"),
        (
            "      - {name: base, least: 0.25 mm, most: 0.50 mm}\n      - {name: turned",
            "      -{name: base, least: 0.25 mm, most: 0.50 mm}\n      -{name: turned",
            "a dash has no space after it; write - {name: base, least: 0.25 mm, most: 0.50 mm}.",
        ),
        (FORMULA, "formula: median(gap)  ", "write largest(...), smallest(...) or mean(...), for there is no middle "),
        (FORMULA, "formula: max(gap)  ", f"write max(a, b), {ALONE.format('largest')}"),
        (FORMULA, "formula: min(gap)  ", f"write min(a, b), {ALONE.format('smallest')}"),
        (FORMULA, "formula: 2 gap  ", '"2 gap" has gap behind a number and no sign between; write 2 * gap.'),
        (FORMULA, "formula: 0.5gap  ", '"0.5gap" has gap behind a number and no sign between; write 0.5 * gap.'),
        (FORMULA, "formula: 1 mm + 2 gap  ", "has gap behind a number and no sign between; write 2 * gap."),
        (FORMULA, "formula: gap**2  ", "has two signs * in a row, and a power is written ^; write ^."),
        (FORMULA, "formula: 2 x gap  ", "has 'x' after a number, which is no unit; write 2 * x."),
        (WHEN, "when: finish == turned or ground", "has ground alone behind or, where each side is a condition of its"),
        (WHEN, "when: finish = turned", "has a single =, and a comparison has two; write ==."),
        (WHEN, "when: finish is turned", "has 'is' where it should have ended; write a == b."),
        (WHEN, "when: finish == Turned", "has 'Turned', which is none of ground, turned; write turned."),
        (WHEN, "when: finish == 'turned'", "has a quotation mark; labels are written bare; write finish == turned."),
        (
            WHEN,
            "when: finish in [turned, ground]",
            '[ stands inside a text outside quotes; write - {name: turned, when: "finish in [turned, ground]", most: m',
        ),
        (WHEN, 'when: "finish in [turned]"', "has 'in' where it should have ended; write a == b or a == c."),
        (WHEN, "when: finnish == turned", "has 'finnish', which is no measurand, fact or figure; write finish."),
        (MOST, "most: 'if(finish == turned, 1 mm, 2 mm)'", "has 'if' where a number or a name should stand; wr"),
        (MOST, "most: 'finish == turned ? 1 mm : 2 mm'", "has '?', which no formula needs; write x if conditio"),
        ("kind: choice, choices: [ground, turned]", "kind: boolean", '"boolean" is none of count, number, quan'),
        ("version: \"1\"", "versoin: \"1\"", '"versoin" is no key here; write version.'),
    ],
)  # fmt: skip
def test_one_fault_tells_what_is_wrong_and_what_to_write(old: str, new: str, sentence: str) -> None:
    assert START.count(old) == 1, (old, START.count(old))
    said = [fault.sentence() for fault in faults_of(START.replace(old, new)) if fault.code != Code.MISSING_KEY]
    assert [sentence in each for each in said] == [True], said


@pytest.mark.parametrize(
    ("kind", "meant"),
    [("boolean", "yes/no"), ("length", "quantity"), ("integer", "count"), ("string", "text"), ("enum", "choice")],
)
def test_kinds_that_other_languages_have_are_known_by_their_names_here(kind: str, meant: str) -> None:
    text = START.replace("kind: choice, choices", f"kind: {kind}, choices")
    assert [fault.write for fault in faults_of(text)] == [meant]


def test_a_number_before_a_name_that_is_a_unit_too_is_that_unit() -> None:
    """A measurand may be named as a unit is; `2 in` stays two inches."""
    assert faults_of(START.replace(LEAST, "least: 0.0098 in")) == ()
