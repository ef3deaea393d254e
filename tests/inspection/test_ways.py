"""Several ways to one figure: which is used, what the others say, when two disagree, and ranges over the readings."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.inspection import Options, Report, WholeFinding
from specrules.vocabulary import Verdict
from tests.inspecting import finding, inspected, words
from tests.inspection.small_build import fit, inches, readings

GUARDED = Options(decision="guarded")


@pytest.mark.parametrize(
    ("given", "way", "value"),
    [
        ("hole: {1: 2.0020}, shaft: {1: 2.0000}, dial: {1: 0.0021}, strip: {1: 0.0022}", "two sizes", "0.0020"),
        ("shaft: {1: 2.0000}, dial: {1: 0.0021}, strip: {1: 0.0022}", "dial", "0.0021"),  # the first way lacks a size
        ("shaft: {1: 2.0000}, strip: {1: 0.0022}", "strip", "0.0022"),
    ],
)
def test_the_first_way_that_has_its_readings(given: str, way: str, value: str) -> None:
    found = fit(readings(given))
    assert (found.way, found.value, found.verdict) == (way, inches(value), Verdict.IN_SPEC)


def test_what_is_missing_is_asked_for_by_the_way_that_was_begun() -> None:
    begun = fit(readings("shaft: {1: 2.0000}"))
    assert (begun.verdict, begun.way, words(begun.rests_on.missing)) == (Verdict.NOT_MEASURED, "two sizes", ("hole 1",))
    nothing = fit(readings("float: 0.0050", facts="block: iron, mains: 1"))
    assert (nothing.way, words(nothing.rests_on.missing)) == ("two sizes", ("hole 1", "shaft 1"))


def test_a_way_that_does_not_apply_is_passed_over() -> None:
    found = fit(readings("strip: {1: 0.0022}", facts="block: iron, coated: yes"))
    assert (found.verdict, found.way) == (Verdict.NOT_MEASURED, "two sizes")


def test_a_spread_prefers_a_way_that_all_stations_have() -> None:
    """By its own best way main 1 would come by two sizes, and the difference of two ways would look like a spread."""
    found = readings("hole: {1: 2.0020}, shaft: {1: 2.0000}, dial: {1: 0.0026, 2: 0.0027}")
    spread = finding(found, "fit_spread", main_class="all")
    assert (spread.value, spread.verdict) == (inches("0.0001"), Verdict.IN_SPEC)
    assert [fit(found, main).way for main in "12"] == ["two sizes", "dial"]


def test_a_spread_over_different_ways_takes_what_there_is() -> None:
    found = readings("hole: {1: 2.0020}, shaft: {1: 2.0000}, dial: {2: 0.0027}")
    spread = finding(found, "fit_spread", main_class="all")
    assert (spread.value, spread.verdict, spread.side) == (inches("0.0007"), Verdict.OUT, "high")


@pytest.mark.parametrize(
    ("dial", "agrees", "verdict"),
    [
        ("0.0020 ±0.0003", True, Verdict.IN_SPEC),
        ("0.0025 ±0.0003", True, Verdict.IN_SPEC),  # apart by exactly what both together can be wrong
        ("0.0026 ±0.0003", False, Verdict.NOT_PROVEN),
        ("0.0026", None, Verdict.IN_SPEC),  # nobody knows how sure the dial is
    ],
)
def test_two_ways_that_disagree_prove_nothing(dial: str, agrees: bool | None, verdict: Verdict) -> None:
    """0.0004 in and 0.0003 in come to 0.0005 in together."""
    found = fit(readings(f"hole: {{1: 2.0020 ±0.0004}}, shaft: {{1: 2.0000}}, dial: {{1: {dial}}}", options=GUARDED))
    assert [(other.way, other.agrees) for other in found.other_ways] == [("dial", agrees)]
    assert found.verdict is verdict
    assert any("disagrees with the way 'dial'" in note for note in words(found.notes)) is (agrees is False)


def test_a_bad_value_stays_bad_when_another_way_disagrees() -> None:
    found = fit(readings("hole: {1: 2.0050 ±0.0001}, shaft: {1: 2.0000}, dial: {1: 0.0020 ±0.0001}", options=GUARDED))
    assert found.verdict is Verdict.OUT


def test_under_simple_acceptance_no_two_ways_disagree() -> None:
    found = fit(readings("hole: {1: 2.0020 ±0.0001}, shaft: {1: 2.0000}, dial: {1: 0.0029 ±0.0001}"))
    assert ([other.agrees for other in found.other_ways], found.verdict) == ([None], Verdict.IN_SPEC)


def both_ends(found: WholeFinding) -> tuple[object, ...]:
    return found.value, found.range


def test_the_range_stands_beside_the_tightest_pair() -> None:
    found = fit(readings("hole: {1: [2.0020, 2.0024]}, shaft: {1: [2.0000, 1.9997]}"))
    assert both_ends(found) == (inches("0.0020"), (inches("0.0020"), inches("0.0027")))


def test_one_figure_has_no_range_but_itself() -> None:
    assert both_ends(fit(readings("dial: {1: 0.0020}"))) == (inches("0.0020"), (inches("0.0020"), inches("0.0020")))


def test_a_range_that_cannot_be_worked_out_is_left_out() -> None:
    assert finding(readings("float: 0.0050", facts="block: iron, boosted: no"), "fast").range is None


def test_a_bracket_keeps_both_its_ends() -> None:
    found = fit(readings("dial: {1: 0.0035..0.0045}"))
    assert (found.value, found.low, found.high) == (None, inches("0.0035"), inches("0.0045"))
    assert (found.beyond, found.beyond_at_most) == (inches("0.0005"), inches("0.0015"))
    assert "0.00350 to 0.00450" in found.worked


def test_an_open_bracket_has_one_end() -> None:
    found = fit(readings("dial: {1: over 0.0035}"))
    assert (found.value, found.low, found.high) == (None, inches("0.0035"), None)
    assert (found.verdict, found.beyond, found.beyond_at_most) == (Verdict.OUT, inches("0.0005"), None)
    assert "at least 0.0035" in found.worked
    under = fit(readings("dial: {1: under 0.0008}"))
    assert (under.verdict, under.side, under.beyond) == (Verdict.OUT, "tight", inches("0.0002"))
    assert "at most 0.0008" in under.worked


def test_a_missing_station_decides_only_what_is_sure() -> None:
    facts = "block: iron, mains: 3"
    sure = finding(readings("dial: {1: 0.0020, 2: 0.0026}", facts=facts), "fit_spread", main_class="all")
    assert (sure.verdict, sure.value, sure.low, sure.high) == (Verdict.OUT, None, inches("0.0006"), None)
    unsure = finding(readings("dial: {1: 0.0020, 2: 0.0021}", facts=facts), "fit_spread", main_class="all")
    assert (unsure.verdict, words(unsure.rests_on.missing)) == (Verdict.NOT_MEASURED, ("hole 3", "shaft 3"))


def test_a_missing_position_is_thin_evidence_for_a_size_and_none_for_a_spread() -> None:
    found = readings("shaft: {1: [2.0000, open]}, hole: {1: 2.0020}")
    assert (fit(found).verdict, fit(found).rests_on.found, fit(found).rests_on.asked) == (Verdict.IN_SPEC, 2, 4)
    taper = finding(found, "taper", main="1")
    assert taper.verdict is Verdict.NOT_MEASURED
    assert words(taper.rests_on.missing) == ("every position, for one figure hides the scatter",)


def test_a_formula_without_a_value_is_a_fault_of_its_finding_alone() -> None:
    found = readings("shaft: {1: 0.0000}, float: 0.0050")
    bad = finding(found, "round", main="1")
    assert bad.verdict is Verdict.NOT_MEASURED
    assert words(bad.notes) == ("cannot be worked out: it divides by something that cannot be told from zero",)
    assert finding(found, "float").verdict is Verdict.IN_SPEC


ODD = """\
specrules: tolerance-pack/1
group: Odd
pack: {name: odd, version: "1", title: Odd formulas, unit: in}
axes: {plane: {names: [front, rear]}}
facts: {card_grip: {kind: number}}
measurands:
  load: {unit: in}
  area: {positions: [plane], unit: in}
  tilt: {unit: deg}
figures:
  grip: {ways: {measured: load / smallest(area), card: card_grip}}
rules:
  grip:
    title: Grip
    formula: grip
    limits: {most: 2}
    importance: minor
    source: {kind: house}
    worked: [{given: {readings: {load: 1.0, area: 1.0}}, expect: {verdict: in spec}}]
  strain:
    title: Strain
    formula: load / largest(area)
    limits: {most: 2}
    importance: minor
    source: {kind: house}
    worked: [{given: {readings: {load: 1.0, area: 1.0}}, expect: {verdict: in spec}}]
  rise:
    title: Rise
    formula: 2 in * sin(tilt)
    unit: in
    limits: {least: 1 in, most: 1 in}
    importance: minor
    source: {kind: house}
    worked: [{given: {readings: {tilt: 30.000}}, expect: {verdict: in spec}}]
"""


def odd(text: str, facts: str = "") -> Report:
    head = f"specrules: build-sheet/1\npacks: [odd]\nunit: in\nfacts: {{{facts}}}\n"
    return inspected(f"{head}readings: {{{text}}}\n", {"odd": ODD})


def test_a_way_that_cannot_be_worked_out_gives_way_to_the_next() -> None:
    zero = "load: 1.000, area: 0.000"
    found = finding(odd(zero, "card_grip: 1.5"), "grip")
    assert (found.verdict, found.way, found.value) == (Verdict.IN_SPEC, "card", Decimal("1.5"))
    alone = finding(odd(zero), "grip")
    assert (alone.verdict, alone.way) == (Verdict.NOT_MEASURED, "measured")
    assert words(alone.notes) == ("cannot be worked out: it divides by something that cannot be told from zero",)


def test_a_range_whose_other_end_cannot_be_worked_out_is_left_out() -> None:
    assert finding(odd("load: 1.000, area: [0.000, 1.000]"), "strain").range is None
    assert finding(odd("load: 1.000, area: [0.500, 1.000]"), "strain").range == (Decimal(1), Decimal(2))


@pytest.mark.parametrize(
    ("tilt", "verdict"), [("30.0000", Verdict.IN_SPEC), ("30.0001", Verdict.OUT), ("29.9999", Verdict.OUT)]
)
def test_a_formula_that_went_through_binary_arithmetic_still_meets_its_limit(tilt: str, verdict: Verdict) -> None:
    """The sine of 30 degrees is a half, in every table; in binary it is a hair off."""
    assert finding(odd(f"tilt: {tilt}"), "rise").verdict is verdict
