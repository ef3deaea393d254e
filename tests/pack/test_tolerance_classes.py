"""Tolerance classes in packs and sheets: as limits, as a sheet's own limit, and by a stated size in formulas."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.inspection import Report
from specrules.vocabulary import Code, Verdict
from tests.inspecting import finding, inspected
from tests.pack.small_packs import faults_of, resolved

PACK = """\
specrules: tolerance-pack/1
pack: {name: fits, version: "1", title: Fits by class, unit: mm}
facts: {nominal: {kind: quantity, unit: mm}}
measurands:
  hole: {title: Hole, unit: mm, usual: 1..500 mm}
  shaft: {title: Shaft, unit: mm, usual: 1..500 mm}
  mass: {title: Mass, unit: g, usual: 1..500 g}
rules:
  fit:
    title: Fit
    formula: hole - shaft
    unit: mm
    may be negative: yes
    limits: {class: 50 H7/k6}
    importance: major
    source: &S
    worked:
      - given: {readings: {hole: 50.010, shaft: 50.010}}
        expect: {verdict: in spec}
  bore:
    title: Bore
    formula: hole
    limits: 50 H7
    importance: major
    source: &S
    worked:
      - given: {readings: {hole: 50.010}}
        expect: {verdict: in spec}
  stated:
    title: Shaft by its card
    formula: shaft
    limits:
      least: nominal + iso_286_k6_lower(nominal)
      most: nominal + iso_286_k6_upper(nominal)
    importance: major
    source: &S
    worked:
      - given: {facts: {nominal: 50}, readings: {shaft: 50.010}}
        expect: {verdict: in spec}
""".replace("&S", "{kind: published, document: ISO 286-1:2010, clause: tables 1 to 5}")


def judged(body: str, unit: str = "mm") -> Report:
    return inspected(f"specrules: build-sheet/1\npacks: [fits]\nunit: {unit}\n{body}", {"fits": PACK})


@pytest.mark.parametrize(
    ("hole", "shaft", "verdict", "side"),
    [
        ("50.025", "50.002", Verdict.IN_SPEC, ""),
        ("50.000", "50.018", Verdict.IN_SPEC, ""),
        ("50.000", "50.0181", Verdict.OUT, "low"),
        ("50.0251", "50.002", Verdict.OUT, "high"),
    ],
)
def test_a_fit_is_hole_less_shaft(hole: str, shaft: str, verdict: Verdict, side: str) -> None:
    found = finding(judged(f"readings: {{hole: {hole}, shaft: {shaft}}}"), "fit")
    assert (found.verdict, found.side) == (verdict, side)


def test_the_nominal_size_is_in_mm_whatever_the_sheets_unit_is() -> None:
    found = finding(judged("readings: {hole: 1.9690}", "in"), "bore")  # 50.0126 mm
    assert found.verdict is Verdict.IN_SPEC
    assert found.limits.least is not None
    assert round(found.limits.least, 9) == Decimal("1.968503937")


def test_a_sheets_limit_may_be_a_class() -> None:
    for written in ("50 F7", "{class: 50 F7, source: the drawing}"):
        found = finding(judged(f"readings: {{hole: 50.010}}\nlimits: {{bore: {written}}}"), "bore")
        assert (found.verdict, found.limits.least, found.limits.most) == (
            Verdict.OUT,
            Decimal("50.025"),
            Decimal("50.050"),
        )
        assert found.limits.from_sheet


@pytest.mark.parametrize(
    ("nominal", "shaft", "verdict"),
    [
        ("50", "50.018", Verdict.IN_SPEC),
        ("50", "50.0185", Verdict.OUT),
        ("50.5", "50.521", Verdict.IN_SPEC),  # over 50 it is 21
        ("1.968504 in", "50.010", Verdict.IN_SPEC),
        ("600", "600", Verdict.NO_FIGURE),
    ],
)
def test_a_class_by_a_stated_size(nominal: str, shaft: str, verdict: Verdict) -> None:
    assert finding(judged(f"facts: {{nominal: {nominal}}}\nreadings: {{shaft: {shaft}}}"), "stated").verdict is verdict


@pytest.mark.parametrize(
    ("good", "bad", "code", "said"),
    [
        ("iso_286_k6_lower(nominal)", "iso_286_k6_lower(shaft)", Code.CONDITION_ON_MEASURED, "by a measured size"),
        ("iso_286_k6_lower(nominal)", "iso_286_k6_lower(3)", Code.WRONG_DIMENSION, "by number, and nominal is length"),
        ("iso_286_k6_lower(nominal)", "iso_286_q6_lower(nominal)", Code.UNKNOWN_NAME, "iso_286_q6_lower(...)"),
        ("{class: 50 H7/k6}", "{class: 50 H7/K6}", Code.NOT_A_CHOICE, "is not a hole, in capitals, and then a shaft"),
        ("{class: 50 H7/k6}", "{class: 50 H77}", Code.NOT_A_NUMBER, "is no nominal size in mm with its class"),
        ("{class: 50 H7/k6}", "{class: 900 H7}", Code.NOT_A_CHOICE, "the tables end at 500"),
        ("{class: 50 H7/k6}", "{class: 50 H7/k6, most: 1 mm}", Code.KEYS_DISAGREE, "sets least and most"),
        ("formula: hole\n", "formula: mass\n", Code.WRONG_DIMENSION, "is of lengths, and this is mass"),
    ],
)
def test_what_is_no_class_is_a_fault(good: str, bad: str, code: Code, said: str) -> None:
    faults = faults_of(PACK.replace(good, bad))
    assert [(fault.code, said in fault.sentence()) for fault in faults] == [(code, True)]


def test_only_the_classes_that_are_asked_for_are_in_a_specification() -> None:
    assert sorted(resolved(PACK).scope.columns) == ["iso_286_k6_lower", "iso_286_k6_upper"]
