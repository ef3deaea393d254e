"""Which limits are in force: lines in order, amendments in place, the sheet's own, wear, and limits that cannot be."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.inspection import Finding
from specrules.vocabulary import Verdict
from tests.inspecting import finding, words
from tests.inspection.small_build import build, fit, inches, over, readings

AT_TWO = "dial: {1: 0.0020}"


def limits(found: Finding) -> tuple[Decimal | None, ...]:
    """least, aim, most in inches."""
    return found.limits.least, found.limits.aim, found.limits.most


def thou(*numbers: str) -> tuple[Decimal | None, ...]:
    return tuple(None if number == "-" else Decimal(number) / 1000 for number in numbers)


def test_lines_are_read_in_order() -> None:
    assert limits(fit(readings(AT_TWO))) == thou("1.0", "2.0", "3.0")


def test_a_shift_moves_what_is_set_and_a_later_line_sees_it() -> None:
    """0.0010 - 0.0005 is 0.0005, and the floor lifts it to 0.0008."""
    found = fit(readings(AT_TWO, facts="block: aluminium"))
    assert limits(found) == thou("0.8", "1.5", "2.5")
    assert words(found.notes) == ("never under eight tenths",)
    assert found.limits.wear_most == inches("0.0040")  # wear limits are not shifted


def test_an_amendment_edits_its_line_in_place_so_that_later_shifts_still_apply() -> None:
    house = over("house", "[{name: base, least: 0.0020 in}]")
    assert limits(fit(readings(AT_TWO, "house", packs={"house": house}))) == thou("2.0", "2.0", "3.0")
    shifted = fit(readings(AT_TWO, "house", packs={"house": house}, facts="block: aluminium"))
    assert limits(shifted) == thou("1.5", "1.5", "2.5")


def test_a_new_line_goes_to_the_end() -> None:
    house = over("house", "[{name: wider, shift: 0.0001 in}]")
    found = fit(readings(AT_TWO, "house", packs={"house": house}, facts="block: aluminium"))
    assert limits(found) == thou("0.9", "1.6", "2.6")


def test_the_sheets_limits_are_final() -> None:
    """No line of a pack is read after them: the shift for aluminium has had its say before."""
    body = f"readings: {{{AT_TWO}}}\nlimits: {{fit: {{least: 0.0015 in, most: 0.0025 in, source: the box}}}}"
    found = fit(build(body, facts="block: aluminium"))
    assert limits(found) == thou("1.5", "-", "2.5")
    assert found.limits.from_sheet
    assert (found.source.kind, found.source.note) == ("maker", "the box")
    assert words(found.notes) == ()  # the note of a line that no longer stands is gone with it


def test_a_side_that_the_sheet_does_not_give_has_no_limit_and_that_is_said() -> None:
    found = fit(build("readings: {dial: {1: 0.0050}}\nlimits: {fit: {least: 0.0015 in}}"))
    assert found.verdict is Verdict.IN_SPEC
    assert words(found.notes) == ("the sheet's own limits give no most, so there is none",)


def test_lines_of_the_sheet_with_a_condition_replace_only_there() -> None:
    body = "readings: {dial: {1: 0.0025, 2: 0.0025}}\nlimits: {fit: [{when: main == 2, most: 0.0020 in}]}"
    found = build(body)
    assert limits(fit(found, "1")) == thou("1.0", "2.0", "3.0")
    assert limits(fit(found, "2")) == thou("-", "-", "2.0")
    assert [fit(found, main).verdict for main in "12"] == [Verdict.IN_SPEC, Verdict.OUT]


def test_a_sheet_may_say_that_the_maker_sets_no_limits() -> None:
    found = fit(build("readings: {dial: {1: 0.0500}}\nlimits: {fit: none}"))
    assert found.verdict is Verdict.NOT_APPLICABLE
    assert words(found.notes) == ("the sheet says that there are no limits",)


def test_no_line_that_sets_a_side_is_no_limit_on_that_side() -> None:
    assert fit(readings(AT_TWO)).verdict is Verdict.IN_SPEC
    taper = finding(readings("shaft: {1: [2.0001, 2.0000]}"), "taper", main="1")
    assert limits(taper) == thou("-", "-", "0.5")


@pytest.mark.parametrize("note", ["", ", note: the coat is part of the size"])
def test_limits_from_the_maker_wait_for_the_sheet(note: str) -> None:
    house = over("house", f"[{{name: coated, when: coated == yes, from the maker: yes{note}}}]")
    facts = "block: iron, coated: yes"
    found = fit(readings(AT_TWO, "house", packs={"house": house}, facts=facts))
    assert found.verdict is Verdict.NO_FIGURE
    assert words(found.rests_on.missing) == (
        "the coat is part of the size" if note else "the maker's limits, in the sheet",
    )
    assert limits(found) == thou("-", "-", "-")
    body = f"readings: {{{AT_TWO}}}\nlimits: {{fit: {{least: 0.0015 in, most: 0.0025 in}}}}"
    given = fit(build(body, "house", packs={"house": house}, facts=facts))
    assert (given.verdict, limits(given)) == (Verdict.IN_SPEC, thou("1.5", "-", "2.5"))


def test_a_rule_may_be_wholly_from_the_maker() -> None:
    house = over("house", "[]", more="      from the maker: yes\n")
    found = fit(readings(AT_TWO, "house", packs={"house": house}))
    assert found.verdict is Verdict.NO_FIGURE
    assert words(found.rests_on.missing) == ("the maker's limits, in the sheet",)


def test_limits_that_cross_leave_the_check_to_the_maker() -> None:
    house = over("house", "[{name: floor, least: 0.0040 in}]")
    found = fit(readings(AT_TWO, "house", packs={"house": house}))
    assert found.verdict is Verdict.NO_FIGURE
    assert "limits cross at this size" in words(found.rests_on.missing)[0]
    assert (limits(found), found.notes) == (thou("-", "-", "-"), ())


@pytest.mark.parametrize(
    ("inward", "verdict", "left"),
    [
        ("0.0009", Verdict.IN_SPEC, thou("1.9", "2.0", "2.1")),
        ("0.0010", Verdict.NO_FIGURE, thou("-", "-", "-")),
        ("0.0011", Verdict.NO_FIGURE, thou("-", "-", "-")),
    ],
)
def test_a_margin_that_takes_all_leaves_no_limit_to_tell(
    inward: str, verdict: Verdict, left: tuple[Decimal | None, ...]
) -> None:
    house = f"""\
specrules: tolerance-pack/1
pack: {{name: house, version: "1", title: A pack, builds on: [base]}}
margins: [{{on: [fit], inward: {inward} in, reason: Ours.}}]
"""
    found = fit(readings(AT_TWO, "house", packs={"house": house}))
    assert (found.verdict, limits(found)) == (verdict, left)


def test_limits_that_meet_do_not_cross() -> None:
    house = over("house", "[{name: floor, least: 0.0030 in}]")
    found = fit(readings("dial: {1: 0.0030}", "house", packs={"house": house}))
    assert (found.verdict, limits(found)) == (Verdict.IN_SPEC, thou("3.0", "-", "3.0"))


def test_a_bracket_has_two_ends_and_so_no_uncertainty_of_one_number() -> None:
    found = finding(readings("float: 0.0050..0.0060"), "float")
    assert (found.value, found.low, found.high, found.U) == (None, inches("0.0050"), inches("0.0060"), None)


def test_an_aim_outside_its_limits_is_left_out_and_that_is_said() -> None:
    found = finding(readings("float: 0.0050"), "float")
    assert limits(found) == thou("2", "-", "8")
    assert words(found.notes) == ("the aim lies outside the limits and is left out",)


def test_limits_none_is_shown_and_never_judged() -> None:
    found = finding(readings("float: 0.0050", facts="block: iron, boosted: no, redline: 2"), "fast")
    assert (found.verdict, found.value) == (Verdict.NOT_APPLICABLE, inches("0.0100"))


def test_a_limit_that_cannot_be_worked_out_is_named() -> None:
    house = over("house", "[{name: base, most: 0.004 in / (redline - redline) }]")
    found = fit(readings(AT_TWO, "house", packs={"house": house}, facts="block: iron, redline: 5"))
    assert found.verdict is Verdict.NO_FIGURE
    assert words(found.rests_on.missing) == (
        "limits that can be worked out: it divides by something that cannot be told from zero",
    )


def test_a_limit_that_rests_on_something_not_measured_names_it() -> None:
    house = over("house", "[{name: base, most: 0.002 * size}]")
    found = fit(readings(AT_TWO, "house", packs={"house": house}))
    assert found.verdict is Verdict.NOT_MEASURED
    assert words(found.rests_on.missing) == ("shaft 1",)
    beyond = fit(readings("dial: {1: 0.0005}", "house", packs={"house": house}))
    assert (beyond.verdict, beyond.side) == (Verdict.OUT, "tight")  # the other side is enough to decide that


NEW, REFRESH = "block: iron", "block: iron, work: refresh"


@pytest.mark.parametrize(
    ("dial", "facts", "verdict"),
    [
        ("0.0035", NEW, Verdict.OUT),
        ("0.0030", REFRESH, Verdict.IN_SPEC),  # on the limit of new work
        ("0.0031", REFRESH, Verdict.WORN),
        ("0.0040", REFRESH, Verdict.WORN),
        ("0.0041", REFRESH, Verdict.OUT),
        ("0.0009", REFRESH, Verdict.OUT),  # no wear limit on that side: the new one stands
    ],
)
def test_wear_limits_count_for_a_refresh(dial: str, facts: str, verdict: Verdict) -> None:
    found = fit(readings(f"dial: {{1: {dial}}}", facts=facts))
    assert found.verdict is verdict
    assert found.limits.worn == (("most",) if facts == REFRESH else ())
    assert (found.limits.most, found.limits.wear_most) == (inches("0.0030"), inches("0.0040"))
    assert found.limits.deciding("most") == inches("0.0040" if facts == REFRESH else "0.0030")


def test_new_work_inside_the_wear_limit_only_is_told_so() -> None:
    said = "inside the wear limit, which counts for reused parts alone"
    assert said in words(fit(readings("dial: {1: 0.0040}")).notes)
    assert said not in words(fit(readings("dial: {1: 0.0041}")).notes)
    assert said not in words(fit(readings("dial: {1: 0.0041}", facts=REFRESH)).notes)
    assert said in words(finding(readings("wear_gap: 0.0080"), "worn_gap").notes)
    assert said not in words(finding(readings("wear_gap: 0.0079"), "worn_gap").notes)


def test_worn_in_some_world_is_worn_and_no_worse() -> None:
    """New work may have 0.0030 in iron and 0.0025 in aluminium; worn parts may have 0.0040 in both."""
    found = fit(readings("dial: {1: 0.0027}", facts="work: refresh"))
    assert (found.verdict, words(found.notes)[-1]) == (Verdict.WORN, "no worse whatever block may be")
    assert fit(readings("dial: {1: 0.0024}", facts="work: refresh")).verdict is Verdict.IN_SPEC


def test_packs_of_an_equal_say_do_not_disagree_on_what_is_worn() -> None:
    packs = {
        "low": over("low", "[{name: base, most: 0.0025 in}]"),
        "high": over("high", "[{name: base, most: 0.0035 in}]"),
    }
    found = fit(readings("dial: {1: 0.0032}", "low", "high", packs=packs, facts=REFRESH))
    assert (found.verdict, found.pack) == (Verdict.WORN, "low")
    new = fit(readings("dial: {1: 0.0032}", "low", "high", packs=packs, facts=NEW))
    assert (new.verdict, new.would_be) == (Verdict.NOT_PROVEN, Verdict.OUT)


SHOWN_ONLY = """\
specrules: tolerance-pack/1
group: Show
pack: {name: house, version: "1", title: House, builds on: [base], unit: in}
rules:
  seen:
    title: Seen
    each: main
    formula: dial
    limits: none
    source: {kind: house}
    worked: [{given: {readings: {dial: {1: 0.0020}}}, expect: {at: {main: 1}, verdict: not applicable}}]
  some:
    title: Some
    each: main
    formula: dial
    applies when: main != 2
    limits: {least: 0.0010 in}
    importance: major
    source: {kind: house}
    worked: [{given: {readings: {dial: {1: 0.0020}}}, expect: {at: {main: 1}, verdict: in spec}}]
"""


def by_the_sheet(rule: str, limits: str, dial: str = "dial: {1: 0.0020, 2: 0.0020}") -> list[str]:
    body = f"readings: {{{dial}}}\n" + (f"limits: {{{rule}: {limits}}}" if limits else "")
    found = build(body, "house", packs={"house": SHOWN_ONLY}, facts="mains: 2")
    return [str(each.verdict) for each in found.findings if each.rule == rule]


@pytest.mark.parametrize(
    ("rule", "limits", "verdicts"),
    [
        ("seen", "", ["not applicable", "not applicable"]),
        ("seen", "[{most: 0.0020 in}]", ["in spec", "in spec"]),
        ("seen", "[{when: main == 2, most: 0.0010 in}]", ["not applicable", "out of spec"]),
        ("seen", "none", ["not applicable", "not applicable"]),
        ("some", "", ["in spec", "not applicable"]),
        ("some", "[{most: 0.0010 in}]", ["out of spec", "out of spec"]),
        ("some", "[{when: main == 1, most: 0.0010 in}]", ["out of spec", "not applicable"]),
        ("some", "none", ["not applicable", "not applicable"]),
    ],
)
def test_what_the_sheet_limits_is_judged_where_packs_only_show_it_or_ask_nothing(
    rule: str, limits: str, verdicts: list[str]
) -> None:
    assert by_the_sheet(rule, limits) == verdicts


def test_where_packs_ask_nothing_a_line_for_every_station_asks_for_no_reading() -> None:
    assert by_the_sheet("some", "[{most: 0.0030 in}]", "dial: {1: 0.0020}") == ["in spec", "not applicable"]
    about_it = by_the_sheet("some", "[{when: main == 2, most: 0.0030 in}]", "dial: {1: 0.0020}")
    assert about_it == ["in spec", "not measured"]
