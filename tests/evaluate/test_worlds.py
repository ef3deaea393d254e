"""Facts that nobody stated: every choice is tried, the same verdict from all decides, else the fact is asked for."""

from __future__ import annotations

import pytest

from specrules.vocabulary import Reason, Verdict, Why
from tests.evaluate.small_worlds import WIDE, seats, when
from tests.inspecting import finding, inspected, words
from tests.inspection.small_build import BASE, fit, inches, over, readings


@pytest.mark.parametrize(
    ("dial", "verdict"),
    [
        ("0.0020", Verdict.IN_SPEC),  # inside for iron (1.0 to 3.0) and for aluminium (0.8 to 2.5)
        ("0.0025", Verdict.IN_SPEC),
        ("0.0031", Verdict.OUT),  # loose for both
        ("0.0007", Verdict.OUT),  # tight for both
        ("0.0009", Verdict.NOT_MEASURED),  # tight for iron only
        ("0.0026", Verdict.NOT_MEASURED),  # loose for aluminium only
    ],
)
def test_the_same_verdict_from_every_choice_decides(dial: str, verdict: Verdict) -> None:
    found = fit(readings(f"dial: {{1: {dial}}}", facts="mains: 1"))
    assert found.verdict is verdict
    open_ = verdict is Verdict.NOT_MEASURED
    assert words(found.rests_on.missing) == (("state block",) if open_ else ())
    assert ("the same whatever block may be" in words(found.notes)) is not open_


def test_the_choice_that_is_least_sure_is_the_one_shown() -> None:
    good = fit(readings("dial: {1: 0.0024}", facts="mains: 1"))
    assert good.limits.most == inches("0.0025")  # aluminium is the nearer
    bad = fit(readings("dial: {1: 0.0031}", facts="mains: 1"))
    assert (bad.limits.most, bad.beyond) == (inches("0.0030"), inches("0.0001"))  # at the least


def test_an_open_choice_shows_no_limits() -> None:
    found = fit(readings("dial: {1: 0.0026}", facts="mains: 1"))
    assert (found.limits.least, found.limits.most, found.margins) == (None, None, ())


def test_a_yes_or_no_that_nobody_stated() -> None:
    assert finding(readings("float: 0.0050", facts="mains: 1"), "float").verdict is Verdict.IN_SPEC
    found = finding(readings("float: 0.0025", facts="mains: 1"), "float")
    assert (found.verdict, words(found.rests_on.missing)) == (Verdict.NOT_MEASURED, ("state boosted",))


def test_what_is_assumed_is_said() -> None:
    found = fit(readings("dial: {1: 0.0020}", facts="block: iron"))
    assert words(found.rests_on.assumed) == ()
    strip = fit(readings("strip: {1: 0.0020}", facts="block: iron"))
    assert words(strip.rests_on.assumed) == ("coated: no",)


def test_a_fact_that_a_pack_implies_needs_no_stating() -> None:
    alloy = over("alloy", "[{name: base}]").replace("builds on: [base]", "builds on: [base], sets: {block: aluminium}")
    found = fit(readings("dial: {1: 0.0026}", "alloy", packs={"alloy": alloy}, facts="mains: 1"))
    assert (found.verdict, found.limits.most) == (Verdict.OUT, inches("0.0025"))


def test_a_quantity_that_nobody_stated_is_asked_for() -> None:
    house = over("house", "[{name: base, most: 0.001 * card_size}]")
    found = fit(readings("dial: {1: 0.0020}", "house", packs={"house": house}))
    assert (found.verdict, words(found.rests_on.missing)) == (Verdict.NOT_MEASURED, ("state card_size",))


def test_an_axis_that_nobody_counted_is_one_finding_for_the_whole_build() -> None:
    found = readings("float: 0.0050", facts="block: iron")
    where = {each.rule: (each.station, words(each.rests_on.missing)) for each in found.findings}
    assert where["fit"] == ({}, ("state mains",))
    assert where["eye_fit"] == ({}, ("state cylinders",))
    assert where["eye_sizes"] == ({}, ("state throws",))


def test_a_rule_that_does_not_apply() -> None:
    assert finding(readings("stand: 0.0500", facts="block: iron"), "stand").verdict is Verdict.OUT
    found = readings("stand: 0.0500", facts="block: iron, coated: yes").findings
    assert "stand" not in {each.rule for each in found}


MANY = """\
specrules: tolerance-pack/1
group: Many
pack: {{name: many, version: "1", title: Many choices, unit: in}}
facts:
{facts}
  which: {{kind: choice, choices: [one, two]}}
measurands:
  gap: {{unit: in}}
rules:
  gap:
    title: Gap
    formula: gap * (1 if which == one else 2)
    unit: in
    limits:
      - {{name: base, most: 1 in}}
{lines}
    importance: minor
    source: {{kind: house}}
    worked:
      - given: {{facts: {{which: one}}, readings: {{gap: 0.50}}}}
        expect: {{verdict: in spec}}
"""


def many(facts: int, gap: str) -> tuple[Verdict, tuple[str, ...], bool]:
    """Verdict, what is missing, whether a value is shown; `facts` facts of two choices, and one more, are unstated."""
    pack = MANY.format(
        facts="\n".join(f"  f{n}: {{kind: choice, choices: [a, b]}}" for n in range(facts)),
        lines="\n".join(f"      - {{name: l{n}, when: f{n} == a, shift: 0.001 in}}" for n in range(facts)),
    )
    sheet = f"specrules: build-sheet/1\npacks: [many]\nunit: in\nreadings: {{gap: {gap}}}\n"
    found = finding(inspected(sheet, {"many": pack}), "gap")
    return found.verdict, words(found.rests_on.missing), found.value is not None


def test_a_value_that_differs_with_the_choice_is_not_shown() -> None:
    assert many(0, "0.40") == (Verdict.IN_SPEC, (), False)
    assert many(0, "0.60") == (Verdict.NOT_MEASURED, ("state which",), False)


def test_several_unstated_facts_are_tried_together_up_to_a_bound() -> None:
    assert many(5, "0.40") == (Verdict.IN_SPEC, (), False)  # 64 combinations
    verdict, missing, _ = many(6, "0.40")  # 128
    assert (verdict, len(missing)) == (Verdict.NOT_MEASURED, 1)


def test_figures_know_no_more_than_the_findings() -> None:
    found = readings("shaft: {1: 2.0000}, dial: {1: 0.0020}", facts="block: iron, mains: 2")
    known = {(figure.name, *figure.station.values()): figure.value for figure in found.figures}
    assert known[("clearance", "1")] == inches("0.0020")
    assert known[("size", "1")] == inches("2")
    assert known[("clearance", "2")] is None
    assert BASE.count("figures:") == 1


def test_a_limit_that_hangs_on_an_unstated_quantity_is_no_limit_to_pass() -> None:
    """A gap of 0.300, of which 0.03 is allowed once the seat is over 30 mm: it was in spec, and the run said go on."""
    found = seats(f"{WIDE}, {when('seat > 30 mm')}", "0.300")
    (gap,) = found.findings
    assert (gap.verdict, gap.rests_on.missing) == (Verdict.NOT_MEASURED, (Reason(Why.STATE_FACT, ("seat",)),))
    assert words(gap.rests_on.missing) == ("state seat",)
    assert found.verdict == "open"


@pytest.mark.parametrize(
    ("condition", "fact"),
    [
        ("seat > 30 mm", "seat"),
        ("2 * seat > 30 mm", "seat"),
        ("rise < -1 mm", "rise"),
        ("ratio >= 1.5", "ratio"),
        ("bolts == 4", "bolts"),
        ("bolts != 4", "bolts"),
        ("not seat > 30 mm", "seat"),
        ("seat > 30 mm and lined == yes", "seat"),
        ("seat > 30 mm or lined == no", "seat"),
        ("(1 if metal == iron else 3) > 2", "metal"),
        ("(3 if metal == iron else 1) > 2", "metal"),
    ],
)
@pytest.mark.parametrize(
    ("gap", "verdict"),
    [
        ("0.020", Verdict.IN_SPEC),  # inside 0.03 and 1
        ("0.300", Verdict.NOT_MEASURED),
        ("1.200", Verdict.OUT),  # beyond both
    ],
)
def test_a_verdict_stands_where_it_is_the_same_whatever_the_number(
    condition: str, fact: str, gap: str, verdict: Verdict
) -> None:
    (found,) = seats(f"{WIDE}, {when(condition)}", gap, "lined: yes").findings
    assert found.verdict is verdict
    assert words(found.rests_on.missing) == ((f"state {fact}",) if verdict is Verdict.NOT_MEASURED else ())
    assert (f"the same whatever {fact} may be" in words(found.notes)) is (verdict is not Verdict.NOT_MEASURED)


@pytest.mark.parametrize(
    "condition",
    [
        "seat > 30 mm and lined == no",  # the sheet says yes
        "seat > 40 mm and seat < 20 mm",  # no seat is both
        "seat == 30 mm and seat != 30 mm",
        "seat < 30 mm and seat == 31 mm",
        "bolts > 4 and bolts < 5",  # no count is between two whole numbers
        "bolts == 4.5",
        "bolts >= 4.2 and bolts <= 4.8",
        "metal == iron and metal == steel",
    ],
)
def test_what_can_never_hold_is_not_supposed(condition: str) -> None:
    (found,) = seats(f"{WIDE}, {when(condition)}", "0.300", "lined: yes").findings
    assert found.verdict is Verdict.IN_SPEC


@pytest.mark.parametrize(
    "condition",
    [
        "ratio > 4 and ratio < 5",
        "bolts > 4 and bolts < 6",
        "bolts >= 4 and bolts < 5",
        "bolts / 2 > 4 and bolts / 2 < 5",  # nine of them
    ],
)
def test_a_number_may_lie_where_no_count_does(condition: str) -> None:
    (found,) = seats(f"{WIDE}, {when(condition)}", "0.300").findings
    assert found.verdict is Verdict.NOT_MEASURED


@pytest.mark.parametrize(
    ("sign", "below", "at", "above"),
    [
        ("<", True, False, False),
        ("<=", True, True, False),
        ("==", False, True, False),
        ("!=", True, False, True),
        (">=", False, True, True),
        (">", False, False, True),
    ],
)
def test_at_a_threshold(sign: str, below: bool, at: bool, above: bool) -> None:
    """Each of the three is a world of its own: a limit that is close in just one of them leaves the verdict open."""
    for seat, closer in (("29.999", below), ("30.000", at), ("30.001", above)):
        (found,) = seats(f"{WIDE}, {when(f'seat {sign} 30 mm')}", "0.300", f"seat: {seat} mm").findings
        assert found.verdict is (Verdict.OUT if closer else Verdict.IN_SPEC)
    both = f"{when(f'seat {sign} 30 mm', '0.2')}, {when(f'not seat {sign} 30 mm', '0.4', 'other')}"
    assert [seats(both, gap).findings[0].verdict for gap in ("0.1", "0.3", "0.5")] == [
        Verdict.IN_SPEC,
        Verdict.NOT_MEASURED,
        Verdict.OUT,
    ]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("seat < 30 mm", "seat >= 30 mm"),
        ("seat <= 30 mm", "seat > 20 mm"),  # two thresholds, and between them both count
        ("seat < 30 mm", "seat > 29 mm"),
        ("bolts < 4", "bolts > 3"),
        ("bolts <= 4", "bolts >= 5"),
        ("ratio != 2", "ratio == 2"),
    ],
)
@pytest.mark.parametrize(
    ("gap", "verdict"), [("0.1", Verdict.IN_SPEC), ("0.3", Verdict.NOT_MEASURED), ("0.5", Verdict.OUT)]
)
def test_no_world_is_tried_in_which_neither_of_two_lines_counts(
    one: str, other: str, gap: str, verdict: Verdict
) -> None:
    """0.2 and 0.4 mm; without any line there would be no figure."""
    (found,) = seats(f"{when(one, '0.2', 'one')}, {when(other, '0.4', 'other')}", gap).findings
    assert found.verdict is verdict


def test_a_world_in_which_no_line_counts_is_tried_where_there_is_one() -> None:
    for gap in ("0.1", "0.3", "0.5"):
        (found,) = seats(f"{when('seat < 30 mm', '0.2', 'one')}, {when('seat > 30 mm', '0.4', 'other')}", gap).findings
        assert (found.verdict, words(found.rests_on.missing)) == (Verdict.NOT_MEASURED, ("state seat",))


@pytest.mark.parametrize(
    ("conditions", "verdict"),
    [
        (["seat > 30 mm", "rise > 1 mm", "ratio > 1"], Verdict.IN_SPEC),  # 27 worlds
        (["seat > 30 mm", "rise > 1 mm", "ratio > 1", "metal == iron"], Verdict.IN_SPEC),  # 54
        (["seat > 30 mm", "rise > 1 mm", "ratio > 1", "bolts > 4"], Verdict.NOT_MEASURED),  # 81
        (["seat > 30 mm", "rise > 1 mm", "ratio > 1", "metal == iron", "lined == yes"], Verdict.NOT_MEASURED),  # 108
    ],
)
def test_more_than_64_worlds_are_not_tried(conditions: list[str], verdict: Verdict) -> None:
    """A gap that is inside whatever the limits are."""
    lines = [f'{{name: l{n}, when: "{condition}", shift: 0.001 mm}}' for n, condition in enumerate(conditions)]
    (found,) = seats(", ".join((WIDE, *lines)), "0.300").findings
    assert found.verdict is verdict
    assert len(found.rests_on.missing) == (verdict is Verdict.NOT_MEASURED)
