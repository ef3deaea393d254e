"""New, reused and machined parts: when wear limits decide, what is worn within its limit, and what was read before."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.inspection import Margin, Options, Report, WholeFinding, decide
from specrules.inspection.decision import decide_worn
from specrules.vocabulary import DECISION_RULES, INSIDE, Verdict
from tests.inspecting import finding, inspected, words

PUMP = """\
specrules: tolerance-pack/1
group: Pump
pack: {name: pump, version: "1", title: A plunger pump, unit: mm, wear when: work == refresh}
axes:
  barrel: {count: barrels}
  eccentric: {groups: eccentrics, of: barrel}
  end: {names: [top, foot]}
facts:
  barrels: {kind: count}
  eccentrics: {kind: groups}
  work: {kind: choice, choices: [new, refresh], assumed: new}
measurands:
  bore: {at: barrel, positions: end, unit: mm}
  plunger: {at: barrel, unit: mm}
  gap: {at: barrel, unit: mm}
  shake: {at: eccentric, unit: mm}
  packing: {at: barrel, unit: mm}
parts:
  body: {title: Body, measurands: [bore, gap]}
  plungers: {at: barrel, measurands: [plunger, gap, shake]}
  shaft: {measurands: [shake]}
figures:
  clearance: {each: barrel, ways: {two sizes: largest(bore) - plunger, dial: gap}}
rules:
  fit:
    title: Fit
    each: barrel
    formula: clearance
    limits: {least: 0.010 mm, most: 0.046 mm, wear most: 0.060 mm}
    words: tight/loose
    importance: major
    source: {kind: house}
    worked: [{given: {readings: {gap: {1: 0.030 mm}}}, expect: {at: {barrel: 1}, verdict: in spec}}]
  match:
    title: Match
    formula: spread(clearance)
    unit: mm
    limits: {most: 0.010 mm, wear most: 0.020 mm}
    importance: minor
    source: {kind: house}
    worked: [{given: {readings: {gap: {1: 0.030 mm, 2: 0.031 mm}}}, expect: {verdict: in spec}}]
  shake:
    title: Shake
    each: eccentric
    formula: shake
    limits: {most: 0.20 mm, wear most: 0.50 mm}
    importance: minor
    source: {kind: house}
    worked:
      - given: {facts: {eccentrics: [[1]]}, readings: {shake: {1: 0.1 mm}}}
        expect: {at: {eccentric: 1}, verdict: in spec}
  packing:
    title: Packing
    each: barrel
    formula: packing
    limits: {least: 3.0 mm, wear least: 2.5 mm}
    importance: minor
    source: {kind: house}
    worked: [{given: {readings: {packing: {1: 3.1 mm}}}, expect: {at: {barrel: 1}, verdict: in spec}}]
  thickness:
    title: Thickness
    each: barrel
    formula: packing * 2
    unit: mm
    limits: {wear least: 5.0 mm}
    importance: minor
    source: {kind: house}
    worked: [{given: {readings: {packing: {1: 3.1 mm}}}, expect: {at: {barrel: 1}, verdict: not applicable}}]
"""
ALL = "{body: reused, plungers: reused, shaft: reused}"
GUARDED = Options(decision="guarded")


def build(
    readings: str, parts: str = ALL, facts: str = "barrels: 2", more: str = "", options: Options | None = None
) -> Report:
    head = f"specrules: build-sheet/1\npacks: [pump]\nunit: mm\nfacts: {{{facts}}}\nparts: {parts}\n"
    return inspected(f"{head}readings: {readings}\n{more}", {"pump": PUMP}, options)


def fit(found: Report, barrel: str = "1") -> WholeFinding:
    return finding(found, "fit", barrel=barrel)


@pytest.mark.parametrize(
    ("gap", "verdict"),
    [
        ("0.009", Verdict.OUT),  # that side has no wear limit: the one of new work stands
        ("0.010", Verdict.IN_SPEC),
        ("0.046", Verdict.IN_SPEC),
        ("0.047", Verdict.WORN),
        ("0.054", Verdict.WORN),
        ("0.060", Verdict.WORN),
        ("0.061", Verdict.OUT),
    ],
)
def test_a_reused_part_beyond_the_new_limit_and_inside_the_wear_limit_is_worn(gap: str, verdict: Verdict) -> None:
    found = fit(build(f"{{gap: {{1: {gap}}}}}"))
    assert found.verdict is verdict
    assert (found.limits.most, found.limits.wear_most) == (Decimal("0.046"), Decimal("0.060"))


def test_worn_holds_nothing_and_is_counted_by_itself() -> None:
    found = build("{gap: {1: 0.054}, packing: {1: 3.0}}", facts="barrels: 1, eccentrics: []")
    assert found.counts[Verdict.WORN] == 1
    assert found.counts[Verdict.IN_SPEC] == 2  # the packing and the match of one barrel
    assert (found.held, fit(found).importance) == ((), "major")
    assert fit(found).verdict in INSIDE
    sure = build("{gap: {1: 0.054}}", options=Options(decision="simple", sure=True))
    assert sure.held == ()


@pytest.mark.parametrize("body", ["new", "reused", "machined", ""])
@pytest.mark.parametrize("plungers", ["new", "reused", "machined", ""])
@pytest.mark.parametrize("work", ["new", "refresh"])
def test_wear_limits_count_where_every_part_that_was_read_is_reused(body: str, plungers: str, work: str) -> None:
    named = ", ".join(f"{part}: {state}" for part, state in {"body": body, "plungers": plungers}.items() if state)
    found = fit(build("{gap: {1: 0.054}}", f"{{{named}}}", f"barrels: 2, work: {work}"))
    reused = all((state or {"new": "new", "refresh": "reused"}[work]) == "reused" for state in (body, plungers))
    assert found.verdict is (Verdict.WORN if reused else Verdict.OUT)
    assert found.limits.worn == (("most",) if reused else ())
    note = "inside the wear limit, which counts for reused parts alone"
    assert (note in words(found.notes)) is not reused


@pytest.mark.parametrize(
    ("parts", "verdicts"),
    [
        ("{body: reused, plungers: {1: new, others: reused}}", (Verdict.OUT, Verdict.WORN)),
        ("{body: reused, plungers: {1: new, 2: reused}}", (Verdict.OUT, Verdict.WORN)),
        ("{body: reused, plungers: {2: reused}}", (Verdict.OUT, Verdict.WORN)),  # 1 is as the work is: new
        ("{body: reused, plungers: {1: reused, 2: machined}}", (Verdict.WORN, Verdict.OUT)),
        ("{body: new, plungers: {1: reused, 2: reused}}", (Verdict.OUT, Verdict.OUT)),
    ],
)
def test_stations_may_differ(parts: str, verdicts: tuple[Verdict, ...]) -> None:
    found = build("{gap: {1: 0.054, 2: 0.054}}", parts)
    assert tuple(fit(found, barrel).verdict for barrel in "12") == verdicts


def test_the_way_that_was_used_says_which_parts_were_read() -> None:
    by_gap = fit(build("{gap: {1: 0.054}}", "{body: reused, plungers: reused}"))
    by_sizes = fit(build("{bore: {1: [20.054, 20.050]}, plunger: {1: 20.000}}", "{body: machined, plungers: reused}"))
    assert (by_gap.way, by_gap.verdict) == ("dial", Verdict.WORN)
    assert (by_sizes.way, by_sizes.verdict) == ("two sizes", Verdict.OUT)


def test_a_rule_over_several_stations_reads_the_parts_of_them_all() -> None:
    readings = "{gap: {1: 0.030, 2: 0.045}}"
    assert finding(build(readings), "match").verdict is Verdict.WORN
    assert finding(build(readings, "{body: reused, plungers: {1: reused, 2: new}}"), "match").verdict is Verdict.OUT


@pytest.mark.parametrize(
    ("plungers", "verdict"),
    [
        ("{1: reused, 2: reused, 3: new}", Verdict.WORN),  # 3 runs on the other eccentric
        ("{1: reused, 2: new, 3: reused}", Verdict.OUT),
        ("reused", Verdict.WORN),
    ],
)
def test_of_parts_that_a_measurement_may_be_about_each_counts(plungers: str, verdict: Verdict) -> None:
    parts = f"{{shaft: reused, plungers: {plungers}}}"
    found = build("{shake: {1: 0.30}}", parts, "barrels: 3, eccentrics: [[1, 2], [3]]")
    assert finding(found, "shake", eccentric="1").verdict is verdict


def test_what_is_on_no_part_is_as_the_work_is() -> None:
    def verdicts(work: str) -> tuple[Verdict, Verdict]:
        found = build("{packing: {1: 2.6}}", facts=f"barrels: 1, work: {work}")
        return (
            finding(found, "packing", barrel="1").verdict,
            finding(found, "thickness", barrel="1").verdict,
        )

    assert verdicts("new") == (Verdict.OUT, Verdict.NOT_APPLICABLE)
    assert verdicts("refresh") == (Verdict.WORN, Verdict.IN_SPEC)  # a wear limit alone decides alone


def test_what_was_read_as_machined_is_no_reused_part() -> None:
    body = "{gap: {state: %s, at: {1: 0.054}}}"
    assert fit(build(body % "as found")).verdict is Verdict.WORN
    assert fit(build(body % "machined")).verdict is Verdict.OUT


BY_RULE = [
    # 0.046 new, 0.060 worn, U 0.004: as new or worn is told by the value itself
    ("guarded", "0.045", Verdict.IN_SPEC),
    ("guarded", "0.047", Verdict.WORN),
    ("guarded", "0.056", Verdict.WORN),
    ("guarded", "0.057", Verdict.JUST_IN),
    ("guarded", "0.060", Verdict.JUST_IN),
    ("guarded", "0.061", Verdict.JUST_OUT),
    ("guarded", "0.065", Verdict.OUT),
    ("simple", "0.047", Verdict.WORN),
    ("simple", "0.060", Verdict.WORN),
    ("simple", "0.061", Verdict.OUT),
    ("iso-14253-1", "0.0567", Verdict.WORN),  # 0.0033 inside, which is 1.65 u
    ("iso-14253-1", "0.0568", Verdict.JUST_IN),
    ("conformance-95", "0.0567", Verdict.WORN),
    ("conformance-95", "0.0568", Verdict.JUST_IN),  # 94.5 percent
    ("conformance-99", "0.0567", Verdict.JUST_IN),
    ("conformance-99", "0.045", Verdict.IN_SPEC),
]


@pytest.mark.parametrize(("decision", "gap", "verdict"), BY_RULE)
def test_the_decision_rule_counts_at_the_wear_limit(decision: str, gap: str, verdict: Verdict) -> None:
    found = build(f"{{gap: {{1: {gap} ±0.004}}}}", options=Options(decision=decision))
    assert fit(found).verdict is verdict


def test_the_makers_limits_leave_no_wear_limit_of_a_pack() -> None:
    own = fit(build("{gap: {1: 0.054}}", more="limits: {fit: {least: 0.010 mm, most: 0.046 mm}}"))
    assert (own.verdict, own.limits.wear_most) == (Verdict.OUT, None)
    both = fit(build("{gap: {1: 0.054}}", more="limits: {fit: {most: 0.046 mm, wear most: 0.055 mm}}"))
    assert (both.verdict, both.limits.wear_most) == (Verdict.WORN, Decimal("0.055"))


def test_a_wear_limit_inside_the_new_one_decides_and_is_told() -> None:
    """As a manual prints it: 0.01 to 0.066, worn 0.03."""
    own = "limits: {fit: {least: 0.010 mm, most: 0.066 mm, wear most: 0.030 mm}}"
    said = "the wear most lies inside that of new work: one of them is wrong"
    for gap, verdict in (("0.030", Verdict.IN_SPEC), ("0.054", Verdict.OUT)):
        found = fit(build(f"{{gap: {{1: {gap}}}}}", more=own))
        assert (found.verdict, said in words(found.notes)) == (verdict, True)
    new = fit(build("{gap: {1: 0.054}}", "{body: new}", more=own))
    assert (new.verdict, said in words(new.notes)) == (Verdict.IN_SPEC, False)


def test_a_remedy_may_end_in_what_is_worn() -> None:
    text = PUMP.replace(
        "words: tight/loose\n", "words: tight/loose\n    remedy: {loose: {do: sleeve it, moves: -0.010 mm}}\n"
    )
    head = f"specrules: build-sheet/1\npacks: [pump]\nunit: mm\nfacts: {{barrels: 1}}\nparts: {ALL}\n"
    for gap, verdict in (("0.065", Verdict.WORN), ("0.061", Verdict.WORN), ("0.056", None)):
        found = fit(inspected(f"{head}readings: {{gap: {{1: {gap}}}}}\n", {"pump": text}))
        assert [step.verdict for step in found.steps] == ([verdict] if verdict else [])


SIZES = st.decimals(min_value=-10, max_value=10, places=2)


@given(
    value=SIZES,
    new=SIZES,
    more=st.decimals(min_value=0, max_value=10, places=2),
    U=st.decimals(min_value=0, max_value=5, places=2),
    rule=st.sampled_from(sorted(DECISION_RULES)),
)
def test_worn_is_never_laxer_than_the_wear_limit_and_never_said_where_new_passes(
    value: Decimal, new: Decimal, more: Decimal, U: Decimal, rule: str
) -> None:
    acceptance = DECISION_RULES[rule]

    def margin(limit: Decimal) -> Margin:
        return Margin("most", limit - value, limit - value, U, U)

    by_wear, by_new = decide([margin(new + more)], acceptance), decide([margin(new)], acceptance)
    found = decide_worn(by_wear, [margin(new)])
    assert (found.verdict in INSIDE) is (by_wear.verdict in INSIDE)
    if found.verdict is Verdict.WORN:
        assert by_wear.verdict is Verdict.IN_SPEC
        assert by_new.verdict not in INSIDE
        assert value > new
    else:
        assert found == by_wear


AGAIN = """\
  bore:
    - {state: as built, at: {1: {top: 20.031}}}
    - {state: as found, at: {1: [20.070, 20.060], 2: [20.010, 20.010]}}
    - {state: machined, at: {1: [20.030, 20.030]}}
  plunger: {1: 20.000, 2: 20.000}
"""


def test_the_latest_state_is_judged_and_the_others_are_shown_with_what_moved() -> None:
    found = build(f"\n{AGAIN}", "{body: reused, plungers: reused}")
    top, foot, plunger = fit(found).inputs
    assert (fit(found).value, fit(found).verdict) == (Decimal("0.031"), Verdict.IN_SPEC)
    assert (top.value, top.state) == (Decimal("20.031"), "as built")
    assert [(each.value, each.state, each.moved) for each in top.earlier] == [
        (Decimal("20.070"), "as found", Decimal("-0.039")),
        (Decimal("20.030"), "machined", Decimal("0.001")),
    ]
    assert [(each.state, each.moved) for each in foot.earlier] == [("as found", Decimal("-0.030"))]
    assert plunger.earlier == ()
    assert [each.earlier for each in fit(found, "2").inputs] == [(), (), ()]


def test_what_moved_of_a_bracket_is_not_told() -> None:
    found = build("\n  gap:\n    - {state: as found, at: {1: 0.04..0.05}}\n    - {state: as built, at: {1: 0.030}}\n")
    (gap,) = fit(found).inputs
    assert [(each.moved, each.low, each.high) for each in gap.earlier] == [(None, Decimal("0.04"), Decimal("0.05"))]
