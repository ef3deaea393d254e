"""How a gauge reads: by blades up to the next one, and on a scale to its step."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.document import Text
from specrules.inspection import Options
from specrules.pack.blades import read_blades
from specrules.sheet import Reading
from specrules.vocabulary import Verdict, Why
from tests.evaluate.small_gauges import PACKS, looked, of, sheet
from tests.inspecting import finding, inspected, settled, words

INCH = Decimal("25.4")
BY = "gauges: {g: {class: blades, reads: goes, %s}}\nreadings: {gap: {gauge: g, 1: %s}}"
STEPS = "steps: [0.05..1.00 mm by 0.05 mm, 0.0015..0.025 in by 0.001 in]"


def one(figure: str, gauge: str = STEPS) -> Reading:
    read, _, faults = settled(sheet(BY % (gauge, figure)), PACKS)
    assert read is not None, faults
    (reading,) = read.readings
    return reading


@pytest.mark.parametrize(
    ("figure", "low", "high", "remark"),
    [
        ("0.30", "0.30", "0.35", None),
        ("0.3", "0.3", "0.35", None),
        ("0", "0", "0.05", None),
        ("0.02", "0", "0.05", Why.NO_BLADE),
        ("0.32", "0.30", "0.35", Why.NO_BLADE),
        ("1.00", "1.00", None, None),
        ("1.20", "1.20", None, Why.NO_BLADE),
        ("0.30..0.40", "0.30", "0.40", None),
        ("under 0.05", None, "0.05", None),
        ("0.30 ±0.02", "0.30", "0.30", None),
        ("-0.30", "-0.30", "-0.30", None),
    ],
)
def test_a_figure_in_millimetres(figure: str, low: str | None, high: str | None, remark: Why | None) -> None:
    reading = one(figure)
    assert (reading.low, reading.high) == tuple(None if end is None else Decimal(end) for end in (low, high))
    assert reading.value == (None if low is None or high is None else (Decimal(low) + Decimal(high)) / 2)
    assert (reading.remark, reading.text) == (remark, figure)


def test_a_figure_in_inches_is_held_against_the_blades_in_inches() -> None:
    reading = one("0.010 in")
    assert (reading.low, reading.high) == (Decimal("0.010") * INCH, Decimal("0.011") * INCH)
    thinnest = one("0.0015 in")
    assert (thinnest.low, thinnest.high) == (Decimal("0.0015") * INCH, Decimal("0.002") * INCH)


def test_repeats_lie_between_the_mean_of_what_went_and_of_what_did_not() -> None:
    reading = one("{repeats: [0.30, 0.30, 0.35]}")
    assert reading.low is not None
    assert reading.high is not None
    assert reading.low.quantize(Decimal("0.0001")) == Decimal("0.3167")
    assert reading.high.quantize(Decimal("0.0001")) == Decimal("0.3667")
    assert one("{repeats: [0.95, 1.00]}").high is None


def test_without_steps_the_next_blade_is_a_resolution_further() -> None:
    reading = one("0.30", "resolution: 0.04 mm")
    assert (reading.low, reading.high) == (Decimal("0.30"), Decimal("0.34"))


def test_a_zero_error_is_taken_off_both_ends() -> None:
    reading = one("0.30", f"{STEPS}, zero: {{standard: 0.20 mm, reads: 0.21 mm}}")
    assert (reading.low, reading.high) == (Decimal("0.29"), Decimal("0.34"))


def test_more_places_are_shown_where_the_next_blade_has_them() -> None:
    assert one("0.3").place_value == Decimal("0.01")


@pytest.mark.parametrize(
    ("gauge", "said"),
    [
        ("class: blades, steps: 0.05..1.00 mm by 0.05 mm", "write reads: goes"),
        ("class: blades, reads: well", '"well"'),
        ("class: blades, reads: goes, steps: [0.10 mm, 0.05 mm]", "is thinner than the blade before it"),
        ("class: blades, reads: goes, steps: 0.05", "is no blade"),
        ("class: blades, reads: goes, resolution: 0 mm", "has neither steps nor a resolution"),
        ("class: blades, by size: [{over: 1 mm, to: 0 mm, mpe: 1 mm}]", "is not above what it is over"),
    ],
)
def test_gauges_at_fault(gauge: str, said: str) -> None:
    _, _, faults = settled(sheet(f"gauges: {{g: {{{gauge}}}}}\nreadings: {{gap: {{gauge: g, 1: 0.30}}}}"), PACKS)
    assert len(faults) == 1
    assert said in faults[0]


@pytest.mark.parametrize(("figure", "slip"), [("3.5", "would be 0.35 mm"), ("0.35", ""), ("0.30", "")])
def test_a_slip_is_looked_for_in_the_figure_as_it_was_written(figure: str, slip: str) -> None:
    """Past the last blade too, where of the gap itself only a least is known."""
    found = looked((BY % (STEPS, figure)).replace(f"1: {figure}", f"1: {figure}, 2: 0.30, 3: 0.35, 4: 0.30"))
    told = [words([suspect.reason])[0] for suspect in found.suspects]
    assert len(told) == bool(slip)
    assert all(slip in each for each in told)


# --- what comes of it: the limits are 0.10 and 0.50 mm --------------------------------------------------------


@pytest.mark.parametrize(
    ("figure", "decision", "verdict"),
    [
        ("0.30", "simple", Verdict.IN_SPEC),
        ("0.30", "guarded", Verdict.IN_SPEC),
        ("0.30", "conformance-95", Verdict.IN_SPEC),
        ("0.50", "simple", Verdict.JUST_OUT),  # it goes, and the next does not: 0.50 to 0.55
        ("0.50", "guarded", Verdict.JUST_OUT),
        ("0.50", "conformance-95", Verdict.JUST_OUT),
        ("0.55", "simple", Verdict.OUT),
        ("0.55", "guarded", Verdict.OUT),
        ("0.05", "simple", Verdict.JUST_OUT),
        ("0.05", "guarded", Verdict.JUST_OUT),
    ],
)
def test_the_next_blade_counts_under_every_rule(figure: str, decision: str, verdict: Verdict) -> None:
    found = looked(BY % (STEPS, figure), decision)
    assert of(found, "gap_size").verdict is verdict


def test_past_the_last_blade_a_most_decides_nothing_and_a_least_does() -> None:
    gauge = "steps: 0.05..0.40 mm by 0.05 mm"
    found = looked(BY % (gauge, "0.40"))
    assert of(found, "gap_size").verdict is Verdict.NOT_MEASURED
    assert of(looked(BY % (gauge, "0.55")), "gap_size").verdict is Verdict.OUT


FLAT = """\
specrules: tolerance-pack/1
group: Flat
pack: {name: flat, version: "1", title: Flat, unit: in}
gauge classes:
  feeler:
    resolution: 0.001 in
    mpe: 0 in
    reads: goes
    steps: 0.0015..0.025 in by 0.001 in
    source: {kind: house}
measurands: {light: {unit: in, gauge classes: [feeler]}}
rules:
  flatness:
    title: Flat
    formula: light
    limits: {most: 0.003 in}
    importance: minor
    source: {kind: house}
    worked:
      - {given: {readings: {light: 0.003}}, expect: {verdict: in spec}}
      - {given: {readings: {light: 0.0031}}, expect: {verdict: out of spec, side: high, beyond: 0.0001 in}}
"""


@pytest.mark.parametrize("decision", ["simple", "guarded"])
@given(thousandths=st.decimals("0.0001", "0.03", places=4))
def test_no_gap_beyond_its_limit_is_in_spec_by_the_blade_that_went(decision: str, thousandths: Decimal) -> None:
    """A blade of 0.003 goes into a gap of 0.0038 as well: half a step each way passed a quarter of bad parts."""
    (blades,), _ = read_blades((Text("0.0015..0.025 in by 0.001 in"),), lambda *_: None)
    went = max((size for size in blades.sizes if size <= thousandths * INCH), default=Decimal(0)) / INCH
    text = f"specrules: build-sheet/1\npacks: [flat]\nunit: in\nreadings: {{light: {went:f}}}\n"
    verdict = finding(inspected(text, {"flat": FLAT}, Options(decision=decision)), "flatness").verdict
    if thousandths > Decimal("0.003"):
        assert verdict is not Verdict.IN_SPEC
    else:
        assert verdict is not Verdict.OUT


def test_in_a_worked_example_a_figure_is_the_size_itself_unless_it_names_its_gauge() -> None:
    """The pack above proves, though 0.003 by its blades would reach to 0.004."""
    inspected("specrules: build-sheet/1\npacks: [flat]\nunit: in\nreadings: {light: 0.0015}\n", {"flat": FLAT})


@pytest.mark.parametrize(
    ("gauge", "said"),
    [
        ("{resolution: 0.001 in, mpe: 0 in, reads: goes}", ""),
        ("{resolution: 0 in, mpe: 0 in, reads: goes}", "has neither steps nor a resolution"),
        ("{resolution: 0.001 in, mpe: 0 in, steps: 0.001 in}", "does not say that it reads what goes"),
        ("{resolution: 0.001 in, mpe: 0 in, reads: goes, steps: [0.002 in, 0.002 in]}", "is in the set already"),
        ("{resolution: 0.001 in, mpe: 0 in, reads: goes, steps: 1 g}", "is mass, and the others are length"),
    ],
)
def test_classes_at_fault(gauge: str, said: str) -> None:
    start, end = FLAT.index("  feeler:\n"), FLAT.index("measurands")
    pack = FLAT[:start] + f"  feeler: {gauge[:-1]}, source: {{kind: house}}}}\n" + FLAT[end:]
    text = "specrules: build-sheet/1\npacks: [flat]\nunit: in\nreadings: {light: 0.0015}\n"
    _, _, faults = settled(text, {"flat": pack})
    assert [said in fault for fault in faults] == ([True] if said else [])


# --- finer than the gauge reads -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("figure", "gauge", "finer"),
    [
        ("50.002", "resolution: 0.002 mm", False),
        ("50.003", "resolution: 0.002 mm", True),
        ("50.00", "resolution: 0.002 mm", False),
        ("1.96855 in", "resolution: 0.0001 in", True),
        ("1.9685 in", "resolution: 0.0001 in", False),
        ("50.001", "resolution: 0.0001 in", False),  # such a gauge reads a thousandth of a millimetre
        ("50.0015", "resolution: 0.0001 in", True),
        ("50.01", "resolution: 0.0005 in", False),
        ("50.003 ±0.001", "resolution: 0.002 mm", False),
        ("50.0037", "resolution: 0 mm", False),
    ],
)
def test_a_figure_between_two_steps_of_its_scale(figure: str, gauge: str, finer: bool) -> None:
    found = looked(
        f"gauges: {{m: {{class: micrometer, {gauge}}}}}\nreadings: {{shaft: {{gauge: m, 1: [{figure}, open]}}}}"
    )
    assert any("is finer than m reads" in remark for remark in words(found.remarks)) is finer


def test_it_is_said_once_for_each_measurand_and_gauge() -> None:
    found = looked("readings: {shaft: {1: [50.003, 50.005]}, hole: {1: [50.051, 50.051]}}")
    assert words(found.remarks) == (
        "Hole 50.051 is finer than the assumed comparator reads, which goes by 0.002 mm: write what it shows, or name "
        "the gauge that read it.",
        "Shaft 50.003 is finer than the assumed micrometer reads, which goes by 0.002 mm: write what it shows, or name "
        "the gauge that read it.",
    )
