"""Figures outside of what they hold for: no figure in their place, never a verdict on the part."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.inspection import Report
from specrules.output.closing_lines import in_a_line
from specrules.output.report_record import record_of
from specrules.output.screen_parts import to_state
from specrules.proving.prover import prove
from specrules.record import record_data
from specrules.vocabulary import Relaxed, Verdict, Why
from tests.inspecting import finding, inspected, words
from tests.pack.ram_packs import RAMS, house
from tests.pack.small_packs import read_text

IN, OUT, NOT_MEASURED, NO_FIGURE = Verdict.IN_SPEC, Verdict.OUT, Verdict.NOT_MEASURED, Verdict.NO_FIGURE
FACTS = "medium: oil, action: single, tube_kind: drawn"


def rams(
    readings: str, facts: str = FACTS, more: str = "", packs: dict[str, str] | None = None, asked: str = "rams"
) -> Report:
    """The inspection of a sheet of rams with these readings and facts."""
    head = f"specrules: build-sheet/1\npacks: [{asked}]\nunit: mm\nfacts: {{{facts}}}\n"
    return inspected(f"{head}readings: {{{readings}}}\n{more}", {"rams": RAMS, **(packs or {})})


def pair(tube: str, rod: str) -> str:
    """Readings of one ram."""
    return f"tube: {{1: {tube}}}, rod: {{1: {rod}}}"


@pytest.mark.parametrize(
    ("facts", "tube", "rod", "verdict", "why"),
    [
        (FACTS, "50.08", "50.00", IN, ()),
        (FACTS, "50.13", "50.00", OUT, ()),
        (FACTS, "20.00", "19.92", IN, ()),
        (FACTS, "100.00", "99.92", IN, ()),
        (FACTS, "19.99", "19.91", NO_FIGURE, ("tube size of 19.99 mm, only for 20 to 100 mm",)),
        (FACTS, "100.01", "99.93", NO_FIGURE, ("tube size of 100.01 mm, only for 20 to 100 mm",)),
        (FACTS.replace("oil", "air"), "50.08", "50.00", NO_FIGURE, ("has no figure for medium: air; state",)),
        (FACTS.replace("oil", "air"), "50.50", "50.00", NO_FIGURE, ("has no figure for medium: air; state",)),
        (FACTS.replace("oil", "air"), "500.5", "500.0", NO_FIGURE, ("has no figure for medium: air; state",)),
        ("action: single, tube_kind: drawn", "50.08", "50.00", NOT_MEASURED, ("state medium",)),
        ("medium: oil, tube_kind: drawn", "50.08", "50.00", IN, ()),
        ("medium: oil, action: single", "50.08", "50.00", IN, ()),
        ("medium: oil, action: single", "50.04", "50.00", IN, ()),
        ("medium: oil, action: single", "50.115", "50.00", NOT_MEASURED, ("state tube_kind",)),
        ("medium: water, action: single", "50.08", "50.00", NO_FIGURE, ("medium: water",)),
        ("medium: oil, action: single, tube_kind: honed", "70.08", "70.00", NO_FIGURE, ("only for 30 to 60 mm",)),
        ("medium: oil, action: single", "70.08", "70.00", NOT_MEASURED, ("state tube_kind",)),
    ],
)
def test_a_verdict_there_is_only_where_the_figures_hold(
    facts: str, tube: str, rod: str, verdict: Verdict, why: tuple[str, ...]
) -> None:
    found = finding(rams(pair(tube, rod), facts), "gap", ram="1")
    said = words(found.rests_on.missing)
    assert found.verdict is verdict, said
    assert len(said) == len(why)
    assert all(part in whole for part, whole in zip(why, said, strict=True)), said


@pytest.mark.parametrize(
    ("facts", "gap", "tubes", "verdict", "said"),
    [
        ("medium: air, action: single", "3.5", "50", OUT, "ram practice has no figure for medium: air"),
        ("medium: air, action: single", "2", "50", NO_FIGURE, "ram practice has no figure for medium: air"),
        ("medium: air, action: single", "0.5", "50", NO_FIGURE, "ram practice has no figure for medium: air"),
        ("medium: oil", "0.5", "50", OUT, ""),
        ("medium: oil", "0.5", "150", NO_FIGURE, "tube size of 150 mm"),
        ("action: single", "0.5", "50", NOT_MEASURED, "state medium"),
        ("action: single", "0.5", "150", NO_FIGURE, "tube size of 150 mm"),
        ("action: single", "3.5", "50", OUT, ""),
        ("medium: oil", "2", "20..100", IN, ""),
        ("medium: oil", "2", "19..101", NOT_MEASURED, "tube size more closely"),
        ("medium: oil", "3.5", "19..101", OUT, ""),
    ],
)
def test_the_other_limit_still_stands_and_every_place_along_an_axis_has_to_be_inside(
    facts: str, gap: str, tubes: str, verdict: Verdict, said: str
) -> None:
    """The least of `stop` is of 20 to 100 mm in oil, its most of anything; the second ram is as the case says."""
    found = finding(rams(f"stop_gap: {gap}, tube: {{1: 50, 2: {tubes}}}", facts), "stop")
    told = words((*found.rests_on.missing, *found.notes))
    assert found.verdict is verdict, told
    assert any(said in each for each in told) if said else True, told


def test_a_size_that_nobody_measured_or_stated_is_to_be_measured() -> None:
    found = finding(rams("stop_gap: 2, rod: {1: 50}", "medium: oil, action: single"), "stop")
    assert (found.verdict, words(found.rests_on.missing)) == (NOT_MEASURED, ("tube 1",))


def test_a_size_may_be_stated() -> None:
    found = finding(rams("stop_gap: 2", "medium: oil, rams: 1, tube_stated: 60 mm"), "stop")
    assert found.verdict is IN


def test_where_nothing_lies_along_an_axis_it_is_to_be_said_how_many_there_are() -> None:
    found = finding(rams("stop_gap: 2", "medium: oil"), "stop")
    assert (found.verdict, words(found.rests_on.missing)) == (NOT_MEASURED, ("state rams",))


def test_what_a_sheet_states_as_its_makers_always_holds() -> None:
    own = "limits: {gap: {least: 0.01 mm, most: 0.05 mm}}"
    for facts in (FACTS, FACTS.replace("oil", "air"), "tube_kind: drawn"):
        assert finding(rams(pair("150.03", "150.00"), facts, own), "gap", ram="1").verdict is IN
        assert finding(rams(pair("150.08", "150.00"), facts, own), "gap", ram="1").verdict is OUT


def test_a_shift_that_does_not_hold_leaves_no_figure_and_a_later_line_heals_only_what_it_sets_afresh() -> None:
    facts = "medium: oil, action: single, tube_kind: honed"
    assert finding(rams(pair("70.50", "70.00"), facts), "gap", ram="1").verdict is NO_FIGURE
    healed = RAMS.replace(
        """    source: {kind: house}
    worked:
      - given: {facts: {medium: oil, action: single, tube_kind""",
        """      - {name: last, most: 0.15 mm}
    source: {kind: house}
    worked:
      - given: {facts: {medium: oil, action: single, tube_kind""",
        1,
    )
    assert healed != RAMS
    found = finding(rams(pair("70.50", "70.00"), facts, packs={"rams": healed}), "gap", ram="1")
    assert (found.verdict, found.limits.least, found.limits.most is None) == (OUT, None, False)
    assert "ram practice has no figure for a tube size of 70.5 mm, only for 30 to 60 mm; state the maker's" in words(
        found.notes
    )
    assert finding(rams(pair("70.10", "70.00"), facts, packs={"rams": healed}), "gap", ram="1").verdict is NO_FIGURE


def test_on_a_used_part_the_wear_limit_has_to_hold() -> None:
    worn = RAMS.replace(
        "wear most: 0.20 mm}", "}\n      - {name: worn, holds for: {medium: water}, wear most: 0.20 mm}"
    )
    for packs, verdict in (({}, Verdict.WORN), ({"rams": worn}, NO_FIGURE)):
        found = rams(pair("50.15", "50.00"), f"{FACTS}, state: used", packs=packs)
        assert finding(found, "gap", ram="1").verdict is verdict


AMENDED = [
    # what the house says in its heading, group and amendment; the medium; the verdict on a gap of 0.10, and the most
    ("{medium: oil, action: any}", "", "", "oil", IN, "0.11"),
    ("{medium: oil, action: any}", "", "", "air", NO_FIGURE, None),
    ("{medium: [oil, air], action: any}", "", "", "air", NO_FIGURE, "0.11"),
    ("", "", "", "oil", IN, "0.11"),
    ("", "", "", "air", NO_FIGURE, None),
    ("{medium: air}", "", "", "oil", IN, "0.12"),
    ("", "{medium: air}", "", "oil", IN, "0.12"),
    ("", "", "holds for: {medium: air}", "oil", IN, "0.12"),
    ("{medium: air}", "{medium: oil}", "", "oil", IN, "0.11"),
    ("{medium: air}", "{medium: air}", "holds for: {medium: oil}", "oil", IN, "0.11"),
    ("{medium: air}", "", "holds for: {medium: any}", "oil", IN, "0.11"),
]


@pytest.mark.parametrize(("heading", "group", "amendment", "medium", "verdict", "most"), AMENDED)
def test_a_validity_is_its_authors_and_one_that_fails_leaves_the_line_below_in_force(
    heading: str, group: str, amendment: str, medium: str, verdict: Verdict, most: str | None
) -> None:
    """The house sets another most in the line `base`; the least stays the lower pack's, and so does its validity."""
    lines = f"      {amendment}\n" if amendment else ""
    top = house(f"{lines}      limits: [{{name: base, most: 0.11 mm}}]\n", heading, group=group)
    facts = f"medium: {medium}, action: single, tube_kind: drawn"
    found = finding(rams(pair("50.10", "50.00"), facts, packs={"house": top}, asked="house"), "gap", ram="1")
    assert found.verdict is verdict
    assert (found.limits.most is None) == (most is None)
    assert most is None or found.limits.most == Decimal(most)


def test_an_amendment_without_figures_that_says_what_they_hold_for_answers_for_those_that_stand() -> None:
    facts = "medium: air, action: single, tube_kind: drawn"
    for said, verdict in (
        ("      holds for: {medium: [oil, air]}\n", IN),
        ("      limits: [{name: base, holds for: {medium: any}}]\n", IN),
        ("      holds for: {medium: water}\n", NO_FIGURE),
        ("      note: Nothing said.\n", NO_FIGURE),
    ):
        found = rams(pair("50.08", "50.00"), facts, packs={"house": house(said)}, asked="house")
        assert finding(found, "gap", ram="1").verdict is verdict, said


def test_what_is_assumed_decides_nothing_about_what_figures_hold_for() -> None:
    by_lining = RAMS.replace("{medium: oil, action: [single, double], tube", "{medium: oil, lined: no, tube")
    found = finding(rams(pair("50.08", "50.00"), FACTS, packs={"rams": by_lining}), "gap", ram="1")
    assert (found.verdict, words(found.rests_on.missing)) == (NOT_MEASURED, ("state lined",))
    stated = finding(rams(pair("50.08", "50.00"), f"{FACTS}, lined: no", packs={"rams": by_lining}), "gap", ram="1")
    assert stated.verdict is IN


def test_the_reasons_are_data() -> None:
    found = finding(rams(pair("150.08", "150.00")), "gap", ram="1")
    (why,) = found.rests_on.missing
    assert (why.code, why.names, why.labels, why.text) == (
        Why.HOLDS_FOR_OTHER_SIZES,
        ("rams", "tube_size"),
        ("150.08", "20", "100", "mm"),
        "Ram practice",
    )


def test_to_say_that_figures_of_others_hold_for_more_stands_in_the_ledger() -> None:
    facts = "medium: air, action: single, tube_kind: drawn"
    now = "medium: oil, air; action: any; tube_size: any"
    was = (
        "medium: oil; action: single, double; tube_size: 20..100 mm",
        "medium: oil; action: single, double; tube_size: 30..60 mm",
        "medium: any; action: single, double; tube_size: any",
    )
    for said, told in (
        ("      holds for: {medium: [oil, air], action: any, tube_size: any}\n", [(each, now) for each in was]),
        ("      holds for: {medium: oil, action: single, tube_size: 40..50 mm}\n", []),
        ("      limits: [{name: base, most: 0.11 mm, holds for: {medium: any}}]\n", []),
    ):
        found = rams(pair("50.08", "50.00"), facts, packs={"house": house(said)}, asked="house")
        widened = [each for each in found.ledger if each.code is Relaxed.HOLDS_FOR_MORE]
        assert [(each.was, each.now) for each in widened] == told
        assert {(each.pack, each.below, each.reason) for each in widened} <= {
            ("house", "rams", "Because house says so.")
        }


def test_a_limit_of_which_there_is_no_figure_above_is_not_called_a_wider_one() -> None:
    """The house narrows what the figures hold for; a value beyond the known most is still judged by that."""
    base = "{name: base, holds for: {medium: oil, action: single, tube_size: 40..45 mm}}"
    narrower = house(f"      limits: [{base}, {{name: top, most: 0.12 mm}}]\n")
    found = rams(pair("50.50", "50.00"), packs={"house": narrower}, asked="house")
    assert finding(found, "gap", ram="1").verdict is OUT
    assert [each.code for each in found.ledger] == []


def test_facts_that_figures_hold_by_are_asked_for_once_for_all_checks_that_wait() -> None:
    found = rams(f"stop_gap: 2, {pair('50.08', '50.00')}", "tube_kind: drawn")
    assert ([fact.name for fact in found.unstated], found.waiting) == (["medium", "action"], 2)
    told = [
        str(each.plain) if hasattr(each, "plain") else "".join(part.text for part in each) for each in to_state(found)
    ]
    assert told == [
        "State medium, action: 2 checks wait.",
        "Under facts in engine.sheet.yaml:",
        "  medium: # oil or water or air",
        "  action: # single or double",
        "",
    ]
    for facts, waiting in (("medium: oil, action: single", 0), ("medium: air", 0), ("action: single", 2)):
        stated = rams(f"stop_gap: 2, {pair('50.08', '50.00')}", f"{facts}, tube_kind: drawn")
        assert (stated.waiting, bool(stated.unstated)) == (waiting, waiting > 0)


def test_worked_examples_take_what_the_heading_says_for_facts_that_they_do_not_state() -> None:
    without = RAMS.replace("facts: {medium: oil, action: single}, ", "")
    assert without != RAMS
    assumed = without.replace("  unit: mm\n", "  unit: mm\n  examples assume: {medium: oil, action: single}\n", 1)
    for text, sound in ((RAMS, True), (without, False), (assumed, True)):
        assert prove([read_text(text)], "rams").sound is sound
    assert finding(rams("stop_gap: 2, tube: {1: 50}", "", packs={"rams": assumed}), "stop").verdict is NOT_MEASURED


def test_a_size_that_nobody_read_is_no_wrong_size() -> None:
    found = finding(rams("rod: {1: 50.00}", FACTS), "gap", ram="1")
    assert found.verdict is NOT_MEASURED
    assert not [said for said in words(found.rests_on.missing) if "has no figure" in said]


def test_all_rules_that_hold_by_what_is_not_stated_wait_for_it_read_or_not() -> None:
    stated, unstated = rams("rod: {1: 50.00}", FACTS), rams("rod: {1: 50.00}", "tube_kind: drawn")
    assert (stated.unstated, stated.waiting) == ((), 0)
    assert [fact.name for fact in unstated.unstated] == ["medium", "action"]
    assert unstated.waiting == len({each.rule for each in unstated.findings})


@pytest.mark.parametrize(
    ("facts", "sets", "told"),
    [
        (FACTS, "", {"medium": "oil", "action": "single"}),
        ("medium: air", "", {"medium": "air"}),
        ("medium: open", "", {}),
        ("tube_kind: drawn", "", {}),
        ("medium: oil", "action: double", {"medium": "oil", "action": "double"}),
        ("medium: oil, action: double", "action: double", {"medium": "oil", "action": "double"}),
    ],
)
def test_a_record_tells_what_is_stated_of_facts_that_figures_hold_by(
    facts: str, sets: str, told: dict[str, str]
) -> None:
    text = RAMS.replace("  unit: mm\n", f"  unit: mm\n  sets: {{{sets}}}\n", 1) if sets else RAMS
    found = rams(pair("50.08", "50.00"), facts, packs={"rams": text})
    assert record_data(record_of(found, None, "1.0"))["figures hold by"] == told


@pytest.mark.parametrize(
    ("facts", "told"),
    [
        ("tube_kind: drawn", "not yet: state medium, action: 2 checks wait; 2 not measured"),
        ("action: single, tube_kind: drawn", "not yet: state medium: 2 checks wait; 2 not measured"),
        (FACTS, "not yet: 1 in spec, 1 not measured"),
    ],
)
def test_one_sheet_of_several_tells_what_it_has_to_state(facts: str, told: str) -> None:
    assert in_a_line(rams(pair("50.08", "50.00"), facts)) == told


def test_what_is_to_be_pasted_can_be_read_where_it_is_said_to_stand() -> None:
    """Under the facts of the sheet, as it is and with one of the choices."""
    found = rams(f"stop_gap: 2, {pair('50.08', '50.00')}", "tube_kind: drawn")
    rows = ["".join(part.text for part in row) for row in to_state(found)][2:-1]
    chosen = [row.replace("# oil or water or air", "oil").replace("# single or double", "single") for row in rows]
    for lines, waiting in ((rows, 2), (chosen, 0)):
        facts = "\n".join(["facts:", *lines, "  tube_kind: drawn"])
        head = f"specrules: build-sheet/1\npacks: [rams]\nunit: mm\n{facts}\n"
        sheet = f"{head}readings: {{stop_gap: 2, {pair('50.08', '50.00')}}}\n"
        assert inspected(sheet, {"rams": RAMS}).waiting == waiting


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_record_tells_what_is_to_be_stated_whatever_the_unit(unit: str) -> None:
    head = f"specrules: build-sheet/1\npacks: [rams]\nunit: {unit}\nfacts: {{medium: air}}\n"
    found = inspected(f"{head}readings: {{tube: {{1: 50.08 mm}}, rod: {{1: 50.00 mm}}}}\n", {"rams": RAMS})
    assert record_data(record_of(found, None, "1.0"))["waiting"] is None  # no figure for air, whatever the action is
    old = inspected(f"{head.replace('medium: air', '')}readings: {{stop_gap: 2 mm}}\n", {"rams": RAMS})
    assert record_data(record_of(old, None, "1.0"))["waiting"] == {
        "facts": [
            {"name": "medium", "title": "medium", "choices": ["oil", "water", "air"]},
            {"name": "action", "title": "action", "choices": ["single", "double"]},
        ],
        "rules": 2,
    }
