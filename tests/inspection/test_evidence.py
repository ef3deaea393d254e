"""What a verdict rests on besides its numbers: work done since, signatures, slips that only the rule shows."""

from __future__ import annotations

import pytest

from specrules.inspection import Report
from specrules.output.reasons import slip_name
from specrules.vocabulary import Verdict
from tests.inspecting import finding, words
from tests.inspection.small_build import SIGNED, build, fit, readings

HONED = "work done: [{operation: hone, on: 2026-03-10}]\n"
IN, UNPROVEN = Verdict.IN_SPEC, Verdict.NOT_PROVEN
NO_CAPS = "signed: {strip_dry: {by: me}}\n"


def honed(dial: str, work: str = HONED, signed_on: str = "2026-03-11") -> Report:
    """A dial reading at one main beside work that was done."""
    signed = f"signed: {{caps_torqued: {{by: me, on: {signed_on}}}}}\n"
    return build(f"readings: {{dial: {dial}}}\n{work}", signed=signed)


@pytest.mark.parametrize(
    ("dial", "verdict"),
    [
        ("{taken: 2026-03-09, 1: 0.0020}", UNPROVEN),  # before the work
        ("{taken: 2026-03-10, 1: 0.0020}", UNPROVEN),  # on the same day
        ("{1: 0.0020}", UNPROVEN),  # undated
        ("{taken: 2026-03-11, 1: 0.0020}", IN),
        ("{taken: 2026-03-10, after: hone, 1: 0.0020}", IN),
        ("{after: hone, 1: 0.0020}", IN),
    ],
)
def test_a_reading_from_before_the_work_proves_nothing(dial: str, verdict: Verdict) -> None:
    found = fit(honed(dial))
    assert found.verdict is verdict
    assert words(found.rests_on.stale) == (("dial: hone",) if verdict is UNPROVEN else ())
    assert found.would_be is (IN if verdict is UNPROVEN else None)


def test_work_without_a_date_makes_every_earlier_reading_stale() -> None:
    assert fit(honed("{taken: 2026-03-11, 1: 0.0020}", "work done: [{operation: hone}]\n", "")).verdict is UNPROVEN


def test_work_at_one_station_leaves_the_others() -> None:
    work = "work done: [{operation: hone, on: 2026-03-10, at: {main: 2}}]\n"
    found = honed("{taken: 2026-03-09, 1: 0.0020, 2: 0.0020}", work)
    assert [fit(found, main).verdict for main in "12"] == [IN, UNPROVEN]


def test_a_bad_value_stays_bad_on_a_stale_reading() -> None:
    found = fit(honed("{1: 0.0050}"))
    assert (found.verdict, words(found.rests_on.stale)) == (Verdict.OUT, ("dial: hone",))


def test_work_that_touches_something_else_makes_nothing_stale_here() -> None:
    assert fit(honed("{1: 0.0020}", "work done: [{operation: grind, on: 2026-03-10}]\n")).verdict is IN


def test_a_limit_that_rests_on_a_stale_reading_proves_nothing() -> None:
    limits = "limits: {fit: {most: 0.0015 * size}}"
    body = f"readings: {{dial: {{1: 0.0020}}, shaft: {{1: 2.0000}}}}\n{limits}\n"
    assert fit(build(body)).verdict is IN
    found = fit(build(f"{body}work done: [{{operation: grind, on: 2026-03-10}}]\n"))
    assert (found.verdict, words(found.rests_on.stale)) == (UNPROVEN, ("shaft: grind",))
    assert found.rests_on.found == 1  # of the value itself


@pytest.mark.parametrize(
    ("signed", "verdict"),
    [
        ("{by: me}", IN),
        ("{by: me, answer: yes}", IN),
        ("{by: me, answer: no}", UNPROVEN),
        ("[{by: me}, {by: you, answer: no}]", UNPROVEN),
    ],
)
def test_a_needed_sign_off(signed: str, verdict: Verdict) -> None:
    found = fit(readings("dial: {1: 0.0020}", signed=f"signed: {{caps_torqued: {signed}}}\n"))
    assert found.verdict is verdict
    assert found.rests_on.unsigned == (("caps_torqued",) if verdict is UNPROVEN else ())


def test_a_bad_value_needs_no_signature_to_be_bad() -> None:
    found = fit(readings("dial: {1: 0.0050}", signed=NO_CAPS))
    assert (found.verdict, found.rests_on.unsigned) == (Verdict.OUT, ("caps_torqued",))


@pytest.mark.parametrize(
    ("on", "after", "verdict"), [("2026-03-10", "", UNPROVEN), ("2026-03-10", ", after: hone", IN)]
)
def test_a_signature_from_before_the_work_is_stale(on: str, after: str, verdict: Verdict) -> None:
    signed = f"signed: {{caps_torqued: {{by: me, on: {on}{after}}}}}\n"
    found = build(f"readings: {{dial: {{taken: 2026-03-11, 1: 0.0020}}}}\n{HONED}", signed=signed)
    assert fit(found).verdict is verdict
    state = next(state for state in found.sign_offs if state.name == "caps_torqued")
    assert state.state == ("stale" if verdict is UNPROVEN else "signed")


def test_a_sign_off_at_stations_proves_only_those() -> None:
    signed = "signed: {caps_torqued: {by: me}, strip_dry: [{by: me, at: {main: [1, 2]}}, {by: you, at: {main: 4}}]}\n"
    found = readings("strip: {1: 0.0020, 2: 0.0020, 3: 0.0020, 4: 0.0020}", signed=signed)
    assert [fit(found, main).verdict for main in "1234"] == [IN, IN, UNPROVEN, IN]
    state = next(state for state in found.sign_offs if state.name == "strip_dry")
    assert (state.state, state.missing_at, state.by) == ("missing", ({"main": "3"},), "me, you")


def test_a_way_has_needs_of_its_own() -> None:
    """The strip must be dry; the dial needs no such thing."""
    signed = "signed: {caps_torqued: {by: me}}\n"
    assert fit(readings("dial: {1: 0.0020}", signed=signed)).verdict is IN
    assert fit(readings("strip: {1: 0.0020}", signed=signed)).rests_on.unsigned == ("strip_dry",)


def test_a_signature_at_a_group_covers_its_members() -> None:
    facts = "throws: [[1, 2], [3, 4]], boosted: no"
    eyes = "eye: {1: 1.0020, 2: 1.0020, 3: 1.0020, 4: 1.0020}, pin: {1: 1.0000, 2: 1.0000}"
    found = readings(eyes, facts=facts, signed="signed: {cleaned: {by: me, at: {throw: 1}}}\n")
    verdicts = [finding(found, "eye_fit", cylinder=cylinder).verdict for cylinder in "1234"]
    assert verdicts == [IN, IN, UNPROVEN, UNPROVEN]


def test_a_sign_off_that_does_not_apply_is_not_there() -> None:
    def asked(facts: str) -> str:
        found = readings("dial: {1: 0.0020}", facts=facts)
        return next((state.state for state in found.sign_offs if state.name == "coat_cured"), "absent")

    assert asked("block: iron, coated: no") == "absent"
    assert asked("block: iron") == "absent"  # not coated is assumed
    assert asked("block: iron, coated: yes") == "missing"


def test_a_sign_off_nowhere_given_is_missing_as_a_whole() -> None:
    found = readings("dial: {1: 0.0020, 2: 0.0020}", signed="")
    assert {state.name: (state.state, state.missing_at) for state in found.sign_offs} == {
        "caps_torqued": ("missing", ()),
        "strip_dry": ("missing", ()),
        "cleaned": ("missing", ()),
    }


@pytest.mark.parametrize(
    ("sizes", "kinds", "verdict"),
    [
        ("hole: {1: 2.0020}, shaft: {1: 2.0000}", [], IN),
        # its last place is worth 0.01 in where the tolerance is 0.002
        ("hole: {1: 2.0020}, shaft: {1: 2.00}", ["too few places"], UNPROVEN),
        # as coarse, but so far out that the last place does not decide
        ("hole: {1: 2.0190}, shaft: {1: 2.00}", [], Verdict.OUT),
        ("hole: {1: 2.0080}, shaft: {1: 2.00}", ["too few places"], UNPROVEN),  # 0.005 beyond, half of that place
        ("hole: {1: 2.0081}, shaft: {1: 2.00}", [], Verdict.OUT),
        ("hole: {1: 1.9993}, shaft: {1: 2.000}", ["impossible negative"], UNPROVEN),
    ],
)
def test_slips_that_only_the_rule_shows(sizes: str, kinds: list[str], verdict: Verdict) -> None:
    found = fit(readings(sizes))
    assert [slip_name(suspect.reason) for suspect in found.rests_on.suspect] == kinds
    assert found.verdict is verdict
    if kinds:
        assert {suspect.name for suspect in found.rests_on.suspect} == {"shaft"}  # the coarser of the two


def test_a_negative_value_is_no_slip_where_the_pack_allows_it() -> None:
    found = finding(readings("stand: -0.0050"), "stand")
    assert (found.verdict, found.rests_on.suspect) == (IN, ())


def test_a_suspect_reading_makes_any_verdict_unproven() -> None:
    good = fit(readings("hole: {1: 20.020}, shaft: {1: 2.0000}"))
    assert (good.verdict, good.would_be) == (UNPROVEN, Verdict.OUT)
    assert [suspect.name for suspect in good.rests_on.suspect] == ["hole"]


def test_a_suspect_reading_in_a_limit_makes_the_verdict_unproven() -> None:
    body = "readings: {dial: {1: 0.0020}, shaft: {1: 20.000}}\nlimits: {fit: {most: 0.0015 * size}}\n"
    found = fit(build(body))
    assert (found.verdict, found.would_be) == (UNPROVEN, IN)
    assert [suspect.name for suspect in found.rests_on.suspect] == ["shaft"]


def test_a_rule_that_is_needed_and_not_good_leaves_others_unproven() -> None:
    """The spread needs each fit, and the whole fit needs the spread; it reaches that far."""
    good = readings("dial: {1: 0.0020, 2: 0.0021}")
    assert finding(good, "fit_spread", main_class="all").verdict is IN
    assert finding(good, "fit_ready").verdict is IN
    bad = readings("dial: {1: 0.0033, 2: 0.0031}")
    spread = finding(bad, "fit_spread", main_class="all")
    assert (spread.verdict, spread.would_be, spread.rests_on.unsigned) == (UNPROVEN, IN, ("fit",))
    ready = finding(bad, "fit_ready")
    assert (ready.verdict, ready.would_be, ready.rests_on.unsigned) == (UNPROVEN, IN, ("fit_spread",))


def test_a_needed_rule_matters_only_at_the_stations_that_meet() -> None:
    facts = "block: iron, mains: 4, main_classes: {ends: [1, 4], middle: [2, 3]}"
    found = readings("dial: {1: 0.0020, 2: 0.0031, 3: 0.0029, 4: 0.0020}", facts=facts)
    verdicts = [finding(found, "fit_spread", main_class=label).verdict for label in ("ends", "middle")]
    assert verdicts == [IN, UNPROVEN]


def test_what_a_verdict_rests_on() -> None:
    gauges = "gauges: {mic: {zero: {standard: 2.0000 in, reads: 2.0001 in}}}\n"
    body = f"{gauges}readings: {{hole: {{1: [2.0020, open]}}, shaft: {{gauge: mic, 1: [2.0001, 2.0000]}}}}"
    found = fit(build(body, signed=SIGNED))
    assert (found.rests_on.found, found.rests_on.asked, found.rests_on.gauges) == (3, 4, ("mic",))
    assert [(each.name, each.station, each.position, each.text) for each in found.inputs] == [
        ("hole", {"main": "1"}, {"plane": "front"}, "2.0020"),
        ("shaft", {"main": "1"}, {"plane": "front"}, "2.0001"),
        ("shaft", {"main": "1"}, {"plane": "rear"}, "2.0000"),
    ]
    assert found.rests_on.group_statement is False
    others = fit(readings("dial: {others: 0.0020}", facts="block: iron, mains: 2"), "2")
    assert others.rests_on.group_statement is True


def test_a_fact_that_a_value_rests_on_is_among_its_inputs() -> None:
    found = finding(readings("float: 0.0050", facts="block: iron, boosted: no, redline: 2"), "fast")
    assert [(each.name, each.text, each.unit.symbol) for each in found.inputs] == [
        ("float", "0.0050", "in"),
        ("redline", "2", ""),
    ]
