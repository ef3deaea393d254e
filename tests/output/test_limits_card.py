"""The card of a sheet's limits: each as it stands, place by place where they differ, and what is not known yet."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from tests.output.page_reading import said
from tests.output.small_forms import card, card_of
from tests.output.small_screen import PACKS, upper
from tests.sheet.small_trolley import TROLLEY


def rows(tree: Element) -> list[list[str]]:
    return [[said(cell) for cell in row] for row in tree.iter("tr")]


def test_every_limit_of_the_build_stands_on_the_card() -> None:
    assert rows(card("readings:\n")) == [
        ["Fits", "least", "aim", "most", "wear"],
        ["Running fit", "0.0010", "0.0020", "0.0030", "0.0040"],
        ["Grip of the sleeve", "0.0020", "", "", ""],
        ["Tilt of the plate", "", "", "0.0040", ""],
        ["Slot width", "0.0100", "", "0.0200", ""],
        ["Plug size", "The maker's limits, in the sheet."],
        ["Weights alike, g", "", "", "2", ""],
    ]


def test_it_says_whose_it_is_whose_figure_comes_first_and_which_unit_a_length_has() -> None:
    text = said(card("readings:\n"))
    assert text.startswith("A pair: limits")
    assert "Job J-1. By the packs base 1.0. Lengths in in where no unit stands." in text
    assert "The maker's figure for the part in hand comes before every figure on this card." in text


def test_what_hangs_on_a_fact_is_never_made_up() -> None:
    found = rows(card("facts: {places: 1}\nreadings:\n"))
    assert ["Slot width", "Not known yet: state material."] in found


def test_limits_that_differ_by_place_have_a_row_each() -> None:
    sheet = "specrules: build-sheet/1\npacks: [trolley]\nunit: mm\nfacts: {axles: 2}\n"
    found = rows(card_of(sheet, {"trolley": TROLLEY}))
    assert found[1:4] == [
        ["Size of the wheel"],
        ["axle 1, 2: inner", "99", "", "101", ""],
        ["axle 1, 2: outer", "99", "", "102", ""],
    ]


def test_a_limit_of_the_sheet_stands_in_the_place_of_the_packs() -> None:
    found = rows(card("limits: {plug: [{least: 0.9990 in, most: 1.0010 in, source: card in the box}]}\nreadings:\n"))
    assert ["Plug size", "0.9990", "", "1.0010", ""] in found


def test_a_limit_that_is_rounded_bears_a_star_and_the_card_says_so() -> None:
    packs = {
        **PACKS,
        "third": upper("third", "    tilt: {reason: A third., limits: [{name: base, most: 0.01 in / 3}]}\n"),
    }
    tree = card("readings: {tilt: 0.0020}", packs, "third")
    assert ["Tilt of the plate", "", "", "0.0033*", ""] in rows(tree)
    assert "* rounded to the inside." in said(tree)
    assert ["Tilt of the plate", "", "", "0.00333*", ""] in rows(card("readings:\n", packs, "third"))
    assert "*" not in said(next(card("readings:\n").iter("body")))


def test_only_what_the_job_covers_stands_on_it() -> None:
    found = rows(card("until: dry_fit\nreadings:\n"))
    assert [row[0] for row in found[1:]] == ["Running fit", "Grip of the sleeve"]


def test_packs_of_an_equal_say_have_a_row_each() -> None:
    found = rows(card("readings:\n", asked="strict, lenient"))
    at = found.index(["Grip of the sleeve"])
    assert found[at + 1 : at + 3] == [["by strict", "0.0030", "", "", ""], ["by lenient", "0.0015", "", "", ""]]
