"""How much was judged on how much: nothing judged is no go, and whoever asks for more gets no go before it is there."""

from __future__ import annotations

import pytest

from specrules.inspection import Extent, Options, Report
from specrules.output.closing_lines import closing, in_a_line
from specrules.output.screen_parts import not_measured
from specrules.output.terminal import text_of
from specrules.vocabulary import Verdict
from tests.inspecting import inspected
from tests.inspection.small_build import BASE, SIGNED, build, readings
from tests.inspection.test_holding import ALL_GOOD, FACTS

BARE = "specrules: tolerance-pack/1\npack: {name: bare, version: '1', title: Bare}\n"
ASKING = BARE + "sign-offs: {clean: {question: Is it clean?, source: {kind: house}}}\n"
UNFIT = (
    BARE
    + """\
measurands: {gap: {unit: mm}}
facts: {kind: {kind: choice, choices: [new, used]}}
rules:
  gap: {title: Gap, formula: gap, importance: minor, applies when: kind == new, limits: {most: 1 mm},
        source: {kind: house},
        worked: [{given: {facts: {kind: new}, readings: {gap: 0.5 mm}}, expect: {verdict: in spec}}]}
"""
)


def last_lines(found: Report) -> str:
    return " ".join(text_of(list(closing(found))).split())


@pytest.mark.parametrize(
    ("pack", "body", "extent", "said"),
    [
        (BARE, "", Extent(0, 0, 0, 0), "Not yet: these packs check nothing here."),
        (ASKING, "signed: {clean: {by: me}}", Extent(0, 0, 0, 0), "Not yet: these packs check nothing here."),
        (
            UNFIT,
            "facts: {kind: used}",
            Extent(0, 0, 0, 0),
            "Not yet: these packs check nothing here.",
        ),
        (
            UNFIT,
            "facts: {kind: new}",
            Extent(0, 1, 0, 0),
            "Not yet: 1 to measure. 1 not measured. 0 of 1 check judged.",
        ),
        (
            *(UNFIT, "facts: {kind: new}\nreadings: {gap: 0.5 mm}", Extent(1, 1, 1, 1)),
            "Go on: nothing holds the job and nothing is open. 1 in spec. 1 of 1 check judged, on 1 reading.",
        ),
    ],
    ids=["no rules", "sign-offs alone", "none applies", "nothing measured", "one judged"],
)
def test_nothing_judged_is_no_go(pack: str, body: str, extent: Extent, said: str) -> None:
    found = inspected(f"specrules: build-sheet/1\npacks: [bare]\n{body}\n", {"bare": pack}, Options())
    assert found.evidence == extent
    assert last_lines(found).startswith(said)
    assert found.verdict == ("clear" if extent.judged else "open")


def test_readings_are_counted_once_however_many_checks_stand_on_them() -> None:
    """Worked by hand: hole, shaft, pin, eye, float, stand, gap; nothing goes by the dial and the strip."""
    found = readings(ALL_GOOD, facts=FACTS)
    assert found.evidence == Extent(judged=10, apply=10, readings=9, entered=11)
    assert found.counts[Verdict.NOT_APPLICABLE] == 1


@pytest.mark.parametrize(
    ("at_least", "verdict", "said"),
    [
        (0, "clear", "Go on: "),
        (10, "clear", "Go on: "),
        (11, "open", "Not yet: 10 checks were judged, and at least 11 are asked for. "),
    ],
)
def test_more_may_be_asked_for(at_least: int, verdict: str, said: str) -> None:
    found = readings(ALL_GOOD, facts=FACTS, options=Options(at_least=at_least, decision="simple"))
    assert (found.verdict, found.enough) == (verdict, verdict == "clear")
    assert last_lines(found).startswith(said)


def test_too_few_is_said_beside_what_is_open() -> None:
    found = readings("float: 0.0050", facts=FACTS, options=Options(at_least=5, decision="simple"))
    assert found.evidence.judged == 1
    assert "before the hold point first start; 1 check was judged, and at least 5 are asked for." in last_lines(found)
    assert in_a_line(found).endswith("not applicable; 1 check was judged, and at least 5 are asked for")
    none = readings("", facts=FACTS, options=Options(at_least=5, decision="simple"))
    assert "nothing was judged, and at least 5 checks are asked for." in last_lines(none)


def test_what_holds_the_job_holds_it_however_few_were_judged() -> None:
    found = readings("float: 0.0090", facts=FACTS, options=Options(at_least=5, decision="simple"))
    assert found.verdict == "held"


def test_what_comes_after_the_hold_point_asked_for_does_not_count() -> None:
    found = readings("float: 0.0050", facts=FACTS, options=Options(until="dry_fit", decision="simple"))
    assert found.evidence == Extent(judged=0, apply=1, readings=0, entered=1)


def first_screen(text: str) -> str:
    found = build(f"readings: {{{text}}}", facts=FACTS)
    return " ".join(text_of(list(not_measured(found, found.findings))).split())


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "Nothing measured yet: 10 checks wait for their readings."),
        ("hole: {1: [2.0020, 2.0020]}", "Fits: fit (main 1); spread of the fit"),
    ],
)
def test_a_sheet_with_readings_is_never_told_that_nothing_is_measured(text: str, said: str) -> None:
    assert said in first_screen(text)
    assert ("Nothing measured" in first_screen(text)) is (not text)


def test_readings_that_no_check_asks_for_are_said_to_be() -> None:
    pack = BASE.replace("measurands:\n", "measurands:\n  idle: {title: Idle, unit: in}\n")
    body = f"specrules: build-sheet/1\npacks: [base]\nunit: in\nfacts: {{{FACTS}}}\nreadings: {{idle: 1.0}}\n{SIGNED}"
    inspection = inspected(body, {"base": pack})
    found = " ".join(text_of(list(not_measured(inspection, inspection.findings))).split())
    assert "No check asks for the reading of this sheet: 10 checks wait for their readings." in found
