"""What holds the job and what is open: hold points, importance, concessions, sign-offs. Verdicts stay what they are."""

from __future__ import annotations

import pytest

from specrules.inspection import Finding, Options, Report, SignOffState, inspect, statement
from specrules.vocabulary import Verdict
from tests.inspecting import settled
from tests.inspection.small_build import BASE, SIGNED, build, fit, readings

FACTS = "block: iron, boosted: no, mains: 1, throws: [[1]], redline: 2"
ALL_GOOD = (
    "hole: {1: [2.0020, 2.0020]}, shaft: {1: [2.0000, 2.0000]}, pin: {1: 1.0000}, eye: {1: 1.0020}, "
    "float: 0.0050, stand: 0.0050, wear_gap: 0.0110, dial: {1: 0.0020}, strip: {1: 0.0020}"
)


def whole(change: tuple[str, str] = ("", ""), options: Options | None = None, signed: str = SIGNED) -> Report:
    """A build of one main and one cylinder in which all is measured, with one thing changed."""
    assert change[0] in ALL_GOOD
    text = ALL_GOOD.replace(*change) if change[0] else ALL_GOOD
    return readings(text, facts=FACTS, signed=signed, options=options)


def rules(findings: tuple[Finding, ...]) -> list[str]:
    return [finding.rule for finding in findings]


def names(states: tuple[SignOffState, ...]) -> list[str]:
    return [state.name for state in states]


LOOSE, LONG = ("2.0020, 2.0020", "2.0035, 2.0035"), ("float: 0.0050", "float: 0.0090")


def test_a_build_that_is_good_throughout_is_open_only_for_a_spread_of_one() -> None:
    """One main has no spread to other mains but nought, so all is in spec and all is signed: the job may go on."""
    found = whole()
    assert {f.rule: f.verdict.value for f in found.findings if f.verdict is not Verdict.IN_SPEC} == {
        "fast": "not applicable"
    }
    assert (found.verdict, found.held, found.open, found.unsigned) == ("clear", (), (), ())
    assert found.until == "first_start"


def test_what_is_beyond_holds_the_job() -> None:
    found = whole(LOOSE, Options())
    assert (found.verdict, rules(found.held)) == ("held", ["fit"])


def test_what_is_not_proven_or_not_measured_leaves_it_open() -> None:
    assert rules(whole(("wear_gap: 0.0110", "wear_gap: open")).open) == ["worn_gap"]
    unsigned = whole(signed="signed: {strip_dry: {by: me}, cleaned: {by: me}}\n")
    assert (unsigned.verdict, rules(unsigned.open), names(unsigned.unsigned)) == (
        "open",
        ["fit", "fit_spread", "fit_ready"],
        ["caps_torqued"],
    )


def test_a_sign_off_answered_no_holds_the_job() -> None:
    found = whole(signed=SIGNED.replace("cleaned: {by: me}", "cleaned: {by: me, answer: no}"))
    assert (found.verdict, [(s.name, s.state) for s in found.unsigned]) == ("held", [("cleaned", "answered no")])


@pytest.mark.parametrize(
    ("until", "held", "unsigned"),
    [("dry_fit", [], []), ("first_start", ["float"], ["cleaned"]), ("", ["float"], ["cleaned"])],
)
def test_only_what_comes_before_the_hold_point_counts(until: str, held: list[str], unsigned: list[str]) -> None:
    signed = "signed: {caps_torqued: {by: me}, strip_dry: {by: me}}\n"
    found = whole(LONG, Options(until=until), signed)
    assert (rules(found.held), names(found.unsigned)) == (held, unsigned)


@pytest.mark.parametrize(("until", "held"), [("dry_fit", []), ("first_start", ["stand"])])
def test_a_rule_that_names_no_hold_point_waits_for_the_last(until: str, held: list[str]) -> None:
    assert rules(whole(("stand: 0.0050", "stand: 0.0110"), Options(until=until)).held) == held


@pytest.mark.parametrize(
    ("held_by", "held"),
    [("minor", ["fit", "eye_fit", "float"]), ("major", ["fit", "eye_fit"]), ("critical", ["fit"])],
)
def test_importance_sets_what_holds(held_by: str, held: list[str]) -> None:
    text = ALL_GOOD
    for old, new in (("2.0020, 2.0020", "2.0005, 2.0005"), LONG, ("eye: {1: 1.0020}", "eye: {1: 1.0040}")):
        text = text.replace(old, new)
    found = readings(text, facts=FACTS, options=Options(held_by=held_by))
    assert rules(found.held) == held
    assert [f.rule for f in found.findings if f.verdict is Verdict.OUT] == ["fit", "eye_fit", "float"]


def test_just_in_holds_only_where_sureness_is_asked_for() -> None:
    doubtful = ("float: 0.0050", "float: 0.0079 ±0.0002")
    assert whole(doubtful, Options(decision="guarded")).held == ()
    found = whole(doubtful, Options(decision="guarded", sure=True))
    assert (rules(found.held), [statement(f) for f in found.held]) == (["float"], ["conditional pass"])


def test_just_out_holds() -> None:
    found = whole(("float: 0.0050", "float: 0.0081 ±0.0002"), Options(decision="guarded"))
    assert (rules(found.held), [statement(f) for f in found.held]) == (["float"], ["conditional fail"])


def test_the_statement_of_what_is_not_proven_is_the_one_it_would_have() -> None:
    found = fit(readings("dial: {1: 0.0020}", signed=""))
    assert (found.verdict, statement(found)) == (Verdict.NOT_PROVEN, "pass")
    assert statement(fit(readings("float: 0.0050", facts="block: iron, mains: 1"))) == ""


CONCEDED = "concessions: [{rule: fit, at: {main: 1}, reason: it is a spare, by: me, on: 2026-04-01}]\n"


def test_a_concession_leaves_the_verdict_and_lets_the_job_go_on() -> None:
    found = build(f"readings: {{dial: {{1: 0.0035, 2: 0.0035}}}}\n{CONCEDED}")
    assert [(fit(found, main).verdict, fit(found, main).conceded) for main in "12"] == [
        (Verdict.OUT, True),
        (Verdict.OUT, False),
    ]
    assert [f.station for f in found.held if f.rule == "fit"] == [{"main": "2"}]
    assert [(use.rule, use.by, use.used_at) for use in found.concessions] == [("fit", "me", ({"main": "1"},))]


def test_a_concession_that_nothing_needs_is_said() -> None:
    found = build(f"readings: {{dial: {{1: 0.0020, 2: 0.0035}}}}\n{CONCEDED}")
    assert [use.used_at for use in found.concessions] == [()]
    assert not fit(found, "2").conceded


def test_a_concession_for_what_is_not_proven_yet_waits() -> None:
    """Sizes outside the usual ones are suspect: that fit would be loose if they were not, so the concession stays."""
    sizes = "readings: {hole: {1: [5.0035, 5.0035]}, shaft: {1: [5.0000, 5.0000]}}"
    found = build(f"{sizes}\n{CONCEDED}")
    assert (fit(found).verdict, fit(found).would_be, fit(found).conceded) == (Verdict.NOT_PROVEN, Verdict.OUT, False)
    assert [(use.used_at, use.waits_at) for use in found.concessions] == [((), ({"main": "1"},))]


def test_counts_are_of_every_finding() -> None:
    found = whole(LOOSE)
    assert sum(found.counts.values()) == len(found.findings)
    assert (found.counts[Verdict.OUT], found.counts[Verdict.NOT_APPLICABLE]) == (1, 1)


@pytest.mark.parametrize(
    ("asked", "stated", "used"), [("", "", "guarded"), ("", "guarded", "guarded"), ("simple", "guarded", "simple")]
)
def test_which_decision_rule_is_in_force(asked: str, stated: str, used: str) -> None:
    decision = f"decision: {stated}\n" if stated else ""
    found = build(f"{decision}readings: {{float: 0.0079 ±0.0002}}", options=Options(decision=asked))
    assert found.decision == used
    assert found.counts[Verdict.JUST_IN] == (used == "guarded")


def test_a_pack_may_say_which_decision_rule_is_in_force() -> None:
    base = BASE.replace("unit: in, wear when", "unit: in, decision: guarded, wear when")
    assert build("readings: {float: 0.0050}", packs={"base": base}, options=Options()).decision == "guarded"


def test_a_specification_without_hold_points_is_inspected_to_its_end() -> None:
    bare = (
        BASE.replace("hold points: [dry_fit, first_start]\n", "")
        .replace(", hold point: dry_fit", "")
        .replace(", hold point: first_start", "")
        .replace("    hold point: dry_fit\n", "")
        .replace("    hold point: first_start\n", "")
    )
    found = build("readings: {float: 0.0090}", packs={"base": bare}, signed="")
    assert (found.until, rules(found.held)) == ("", ["float"])
    assert names(found.unsigned) == ["caps_torqued", "strip_dry", "cleaned"]


def test_the_same_sheet_gives_the_same_inspection() -> None:
    text = f"specrules: build-sheet/1\npacks: [base]\nunit: in\nfacts: {{{FACTS}}}\nreadings: {{{ALL_GOOD}}}\n"
    sheet, spec, faults = settled(text, {"base": BASE})
    assert sheet is not None, faults
    assert spec is not None
    assert inspect(sheet, spec) == inspect(sheet, spec, Options())


def test_every_value_can_be_worked_out_in_numbers() -> None:
    assert fit(whole(LOOSE)).worked == "smallest hole 2.0035 - largest shaft 2.0000"
    assert fit(whole()).worked == "smallest hole 2.0020 - largest shaft 2.0000"
