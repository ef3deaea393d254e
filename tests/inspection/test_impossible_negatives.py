"""A value below nothing that never can be questions what was read, whatever the limits are and where there are none."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.inspection import Report
from specrules.output.screen_parts import remarks
from specrules.output.terminal import text_of
from specrules.vocabulary import Verdict, Why
from tests.inspecting import finding, inspected

IN, OUT, UNPROVEN = Verdict.IN_SPEC, Verdict.OUT, Verdict.NOT_PROVEN
NO_FIGURE, NOT_MEASURED, NOT_APPLICABLE = Verdict.NO_FIGURE, Verdict.NOT_MEASURED, Verdict.NOT_APPLICABLE

VALVE = """\
specrules: tolerance-pack/1
group: Spools
pack: {{name: spools, version: "1", title: Spool practice, unit: mm}}
facts:
  medium: {{kind: choice, choices: [oil, water]}}
  bore_stated: {{kind: quantity, unit: mm}}
measurands:
  bore: {{unit: mm}}
  spool: {{unit: mm}}
rules:
  play:
    title: Play of the spool
    formula: bore - spool
    unit: mm
    {limits}
    {more}
    source: {{kind: house}}
    worked: []
"""
HEAD = "specrules: build-sheet/1\npacks: [spools]\nunit: mm\n"
MINOR = "importance: minor"
LIMITS = {
    "both": ("limits: {least: 0.01 mm, most: 0.03 mm}", MINOR, UNPROVEN),
    "the least alone": ("limits: {least: 0.01 mm}", MINOR, UNPROVEN),
    "the most alone": ("limits: {most: 0.03 mm}", MINOR, UNPROVEN),
    "the most, of what it is within": ("limits: {most: 9 mm}", MINOR, UNPROVEN),
    "no figure for water": ("limits: {least: 0.01 mm, most: 0.03 mm, holds for: {medium: oil}}", MINOR, NO_FIGURE),
    "no line for water": ("limits: [{name: oil, when: medium == oil, most: 0.03 mm}]", MINOR, NO_FIGURE),
    "the maker's": ("from the maker: yes", MINOR, NO_FIGURE),
    "on a size that is not stated": ("limits: {most: 0.001 * bore_stated}", MINOR, NOT_MEASURED),
    "none": ("limits: none", "", NOT_APPLICABLE),
}


def played(limits: str, bore: str, spool: str, facts: str = "medium: water", allowed: str = "") -> Report:
    of, more, _ = LIMITS[limits]
    pack = VALVE.format(limits=of, more="\n    ".join(filter(None, (more, allowed)))).replace("    \n", "")
    given = "given: {facts: {medium: oil, bore_stated: 25}, readings: {bore: 25.02, spool: 25.00}}"
    verdict = {"the maker's": "no figure", "none": "not applicable"}.get(limits, "in spec")
    pack = pack.replace("worked: []", f"worked: [{{{given}, expect: {{verdict: {verdict}}}}}]")
    return inspected(f"{HEAD}facts: {{{facts}}}\nreadings: {{bore: {bore}, spool: {spool}}}", {"spools": pack})


@pytest.mark.parametrize("limits", LIMITS)
def test_it_is_questioned_whatever_the_limits_are(limits: str) -> None:
    report = played(limits, "24.98", "25.000")
    found = finding(report, "play")
    assert found.verdict is LIMITS[limits][2]
    suspects = [(each.name, each.reason.code) for each in found.rests_on.suspect]
    assert ("bore", Why.IMPOSSIBLE_NEGATIVE) in suspects  # the one of the fewer places
    assert {code for _, code in suspects} <= {Why.IMPOSSIBLE_NEGATIVE, Why.TOO_FEW_PLACES}
    if found.verdict is not UNPROVEN:  # the others are shown whole, with it
        told = " ".join(text_of(list(remarks(report))).split())
        assert told.count("bore = 24.98 gives a negative value where none can be") == 1


@pytest.mark.parametrize("limits", LIMITS)
@pytest.mark.parametrize(
    ("bore", "spool", "allowed"),
    [
        ("25.02", "25.000", ""),
        ("25.000", "25.000", ""),
        ("24.98", "25.000", "may be negative: yes"),
        ("{value: 24.98, confirmed: ab}", "{value: 25.000, confirmed: ab}", ""),
        ("open", "25.000", ""),
        ("open", "open", ""),
    ],
)
def test_nothing_is_questioned_that_can_be(limits: str, bore: str, spool: str, allowed: str) -> None:
    report = played(limits, bore, spool, allowed=allowed)
    assert [each for each in finding(report, "play").rests_on.suspect if each.reason.code != Why.TOO_FEW_PLACES] == []


@pytest.mark.parametrize(("readings", "verdict"), [("drum: {1: 20}", NO_FIGURE), ("pin: 20", NOT_MEASURED)])
def test_that_a_spread_is_not_less_than_nothing_measures_nothing(readings: str, verdict: Verdict) -> None:
    """Where only the pin was read nothing is known of the drums, and their spread was not measured."""
    pack = """\
specrules: tolerance-pack/1
group: Drums
pack: {name: drums, version: "1", title: Drums, unit: mm}
axes: {drum_number: {count: drums}}
facts:
  drums: {kind: count}
  medium: {kind: choice, choices: [oil, water]}
measurands:
  drum: {at: drum_number, unit: mm}
  pin: {unit: mm}
rules:
  alike:
    title: Drums alike
    formula: spread(drum)
    unit: mm
    limits: {most: 0.1 mm, holds for: {medium: oil}}
    importance: minor
    source: {kind: house}
    worked: [{given: {facts: {medium: oil}, readings: {drum: {1: 20, 2: 20}}}, expect: {verdict: in spec}}]
"""
    head = "specrules: build-sheet/1\npacks: [drums]\nunit: mm\nfacts: {drums: 2, medium: water}\n"
    found = finding(inspected(f"{head}readings: {{{readings}}}", {"drums": pack}), "alike")
    assert found.verdict is verdict


@given(st.integers(-300, 300), st.sampled_from(list(LIMITS)))
def test_what_is_questioned_hangs_on_the_sign_alone(hundredths: int, limits: str) -> None:
    found = finding(played(limits, f"{25 + hundredths / 100:.2f}", "25.00"), "play")
    negative = [each for each in found.rests_on.suspect if each.reason.code == Why.IMPOSSIBLE_NEGATIVE]
    assert bool(negative) is (hundredths < 0)
