"""The comparison of two packs on the screen: what differs, for whom, by how much, and that the figures add up."""

from __future__ import annotations

from specrules.output.comparison_page import compared, compared_specifications
from specrules.output.terminal import text_of
from specrules.proving.written_comparison import between_specifications
from tests.inspection.test_comparison import compared as on_sheet
from tests.output.small_screen import GOOD
from tests.output.test_chain import resolved


def page(one: str, other: str, body: str) -> str:
    return text_of(compared(on_sheet(one, other, body), (one, other)))


def test_a_comparison_on_a_sheet() -> None:
    assert page("base", "near", GOOD + "limits: {plug: none}\n") == (
        "FITS\n"
        "Running fit (on the diameter)\n"
        "  place 1, 2\n"
        "    least     base 0.0010, near 0.0015 in                base wider by 0.0005 in\n"
        "    aim       base 0.0020, near 0.0022 in                    differ by 0.0002 in\n"
        "\n"
        "1 rule differs, 5 do not.\n"
    )


def test_verdicts_that_differ_say_where() -> None:
    body = (
        "decision: guarded\n"
        "readings: {hole: {1: [1.5020, 1.5020], 2: [1.5012, 1.5012]}, shaft: {others: [1.5000, 1.5000]}}\n"
        "signed: {clean: {by: ab, on: 2026-10-01}}\n"
    )
    text = page("base", "near", body)
    assert "    place 2: in spec by base, out of spec by near\n" in text
    assert text.count("wider by") == 1


def test_what_has_no_limits_yet_is_named() -> None:
    assert "No limits on this sheet yet: plug.\n" in page("base", "wide", GOOD)


def test_a_limit_of_the_makers_is_said_to_be_wanted() -> None:
    text = page("base", "own", "readings: {tilt: 0.0010}\n")
    assert "    own has no limits here before it has the maker's limits, in the sheet\n" in text
    assert "    in spec by base, no figure by own\n" in text


def test_the_same_pack_twice_differs_in_nothing() -> None:
    text = page("base", "base", GOOD + "limits: {plug: none}\n")
    assert text == "Their limits do not differ in any of 6 rules.\n"


def test_a_comparison_without_a_sheet() -> None:
    found = between_specifications(resolved(["base"]), resolved(["wide"]))
    assert text_of(compared_specifications(found, ("base", "wide"))) == (
        "FITS\n"
        "Tilt of the plate\n"
        "  base\n"
        "    most      base  0.0040 in\n"
        "              wide  0.0060 in\n"
        "              wide wider by 0.0020 in\n"
        "\n"
        "1 rule differs, 5 do not.\n"
    )
