"""Lengths read warm are referred to 20 °C; what part and gauge share cancels, what they do not is there."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from specrules.inspection import Options, WholeFinding
from specrules.output.reasons import said
from tests.inspecting import inspected, whole
from tests.shipped import resolved

PACK = """
specrules: tolerance-pack/1
group: Fits
pack: {name: warm, version: "1", title: Warm parts, unit: mm, gauges expand: steel_expansion}
facts:
  steel_expansion: {kind: quantity, unit: 1/K, assumed: 0.0000108 1/K ±0.0000008}
  light_expansion: {kind: quantity, unit: 1/K, assumed: 0.0000247 1/K ±0.0000012}
  housing: {kind: choice, choices: [light, steel]}
gauge classes:
  mic: {resolution: 0 mm, mpe: 0 mm, repeatability: 0 mm, source: {kind: from memory}}
measurands:
  part: {unit: mm, gauge classes: [mic], expands: light_expansion}
  hole: {unit: mm, gauge classes: [mic], expands: light_expansion if housing == light else steel_expansion}
  shaft: {unit: mm, gauge classes: [mic], expands: steel_expansion}
rules:
  size:
    title: Size
    formula: part
    limits: {least: 20.000 mm, most: 20.100 mm}
    importance: minor
    source: {kind: house, note: for the test}
    worked: [{given: {readings: {part: 20.050}}, expect: {verdict: in spec}}]
  clearance:
    title: Clearance
    formula: hole - shaft
    unit: mm
    limits: {least: 0.010 mm, most: 0.100 mm}
    importance: minor
    source: {kind: house, note: for the test}
    worked: [{given: {readings: {hole: 60.050, shaft: 60.000}}, expect: {verdict: in spec}}]
"""


def found(body: str, rule: str, decision: str = "guarded") -> WholeFinding:
    sheet = f"specrules: build-sheet/1\npacks: [warm]\nunit: mm\n{body}"
    inspection = inspected(sheet, {"warm": PACK}, Options(decision=decision))
    return next(whole(finding) for finding in inspection.findings if finding.rule == rule)


def test_a_warm_part_is_as_long_as_at_twenty_degrees() -> None:
    """Machinery's Handbook, 31st edition, p. 375: an aluminium part of 20.021 mm at 20 °C, read at 30 °C with a steel
    gage; coefficients 24.7 and 10.8 millionths; it reads 0.002782919 mm more, 20.024 mm. To first order that is what
    comes off again; the second order is a third of a nanometre."""
    finding = found("part temperature: 30 C\nreadings: {part: 20.023782919}\n", "size")
    assert finding.value is not None
    assert abs(finding.value - Decimal("20.021")) < Decimal("0.0000005")


@pytest.mark.parametrize("decision", ["simple", "guarded"])
def test_without_temperatures_nothing_is_corrected(decision: str) -> None:
    assert found("readings: {part: 20.023}\n", "size", decision).value == Decimal("20.023")


def test_one_material_at_one_temperature_cancels() -> None:
    """Steel in steel, both at 35 °C with the gauge: the clearance stands but for its own growth of nanometres."""
    text = "facts: {housing: steel}\npart temperature: 35 C\nreadings: {hole: 60.050, shaft: 60.000}\n"
    finding = found(text, "clearance")
    assert finding.value == Decimal("0.05")
    assert finding.U is not None
    assert Decimal("0.000001") > finding.U


def test_two_materials_do_not_cancel() -> None:
    """60 mm, 15 K, 13.9 millionths more: 12.5 µm, and the spread of both coefficients is in U."""
    text = "facts: {housing: light}\npart temperature: 35 C\nreadings: {hole: 60.050, shaft: 60.000}\n"
    finding = found(text, "clearance")
    assert finding.value is not None
    assert finding.U is not None
    assert abs(finding.value - Decimal("0.0375")) < Decimal("0.0001")
    assert abs(float(finding.U) - 60 * 15 * (1.2e-6**2 + 0.8e-6**2) ** 0.5) < 5e-4


def test_a_material_that_nobody_states_leaves_the_reading_as_it_is() -> None:
    text = "part temperature: 35 C\nreadings: {hole: 60.050, shaft: 60.000}\n"
    assert found(text, "clearance").value == Decimal("0.05")


ASSUMING = PACK.replace("unit: mm, gauges", "unit: mm, assumed temperature: 20 C ±5 K, gauges")
LIGHT = "facts: {housing: light}\n"
FIT = "readings: {hole: 60.050, shaft: 60.000}\n"


def assuming(body: str, rule: str = "clearance", decision: str = "guarded", pack: str = ASSUMING) -> WholeFinding:
    sheet = f"specrules: build-sheet/1\npacks: [warm]\nunit: mm\n{body}"
    inspection = inspected(sheet, {"warm": pack}, Options(decision=decision))
    return next(whole(finding) for finding in inspection.findings if finding.rule == rule)


@pytest.mark.parametrize(
    ("stated", "U"),
    [
        pytest.param("", 60 * 5 * 13.9e-6, id="assumed: anywhere within 5 K, which is never more than 4.2 um"),
        pytest.param("part temperature: 20 C ±1 K\n", 60 * 1 * 13.9e-6, id="stated, U of 1 K"),
        pytest.param("part temperature: 20.0 C\n", 60 * 0.05 * 13.9e-6, id="stated to a tenth: half of that"),
    ],
)
def test_where_materials_differ_what_is_not_known_of_the_temperature_counts(stated: str, U: float) -> None:
    finding = assuming(LIGHT + stated + FIT)
    assert finding.value == Decimal("0.050")
    assert float(finding.U or 0) == pytest.approx(U, rel=2e-3)


def test_in_one_material_an_assumed_temperature_cancels() -> None:
    """Steel in steel by a steel gauge: 5 K move both alike, and the 0.050 mm between them by a few nanometres."""
    finding = assuming("facts: {housing: steel}\n" + FIT)
    assert float(finding.U or 0) < 1e-9
    assert finding.budget == ()


def test_of_a_material_that_nobody_states_the_worst_that_it_may_be_counts() -> None:
    """The housing may be light or steel: at a temperature within 5 K of 20 C that is 4.2 um of doubt, or none."""
    finding = assuming(FIT)
    assert finding.value == Decimal("0.050")
    assert float(finding.U or 0) == pytest.approx(60 * 5 * 13.9e-6, rel=2e-3)


def test_a_stated_u_says_all_there_is_of_the_temperature_too() -> None:
    finding = assuming(LIGHT + "readings: {hole: 60.050 ±0.001, shaft: 60.000 ±0.001}\n")
    assert float(finding.U or 0) == pytest.approx(0.001 * 2**0.5)


def test_what_is_assumed_is_said_and_a_cause_of_error() -> None:
    sheet = f"specrules: build-sheet/1\npacks: [warm]\nunit: mm\n{LIGHT}{FIT}"
    guarded = Options(decision="guarded")
    report = inspected(sheet, {"warm": ASSUMING}, guarded)
    assert [said(remark) for remark in report.remarks] == [
        "No temperature is stated: parts and gauges are taken to be at 20 ±5 C, which counts where they expand"
        " differently. If you know it, write part temperature: 20 C ±1 K."
    ]
    assert [said(line.cause) for line in assuming(LIGHT + FIT).budget] == ["temperature of the part, assumed"]
    stated = inspected(sheet.replace("unit: mm", "unit: mm\npart temperature: 20 C"), {"warm": ASSUMING}, guarded)
    assert stated.remarks == ()


def test_a_temperature_assumed_off_twenty_corrects_what_was_read() -> None:
    """At 25 C the housing has grown by 13.9 millionths a degree more than the steel gauge: 4.2 um of 60 mm."""
    finding = assuming(LIGHT + FIT, pack=ASSUMING.replace("20 C ±5 K", "25 C ±2 K"))
    assert float(finding.value or 0) == pytest.approx(0.050 - 60 * 5 * 13.9e-6, abs=5e-6)


def test_simple_acceptance_counts_nothing_of_it() -> None:
    assert assuming(LIGHT + FIT, decision="simple").U == 0


def test_an_aluminium_piston_in_an_iron_bore_moves_half_a_tenth_a_degree() -> None:
    """Common practice, and by the packs' own coefficients: 4 in x 12.3 millionths is 0.00005 in for each degree."""
    spec = resolved("general")
    light, iron = (spec.facts[f"{metal}_expansion"].assumed_figure for metal in ("aluminium", "iron"))
    assert light is not None
    assert iron is not None
    assert 4 * float(light.value - iron.value) == pytest.approx(0.00005, abs=1e-6)
    assert spec.assumed_temperature is not None
    assert (spec.assumed_temperature.value, spec.assumed_temperature.U) == (Decimal(20), Decimal(5))


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("20 C", 'pack assumed temperature: "20 C" does not say in what range it is; write 20 C ±5 K'),
        ("15..25 C", 'pack assumed temperature: "15..25 C" does not say in what range it is; write 20 C ±5 K'),
        ("20 mm ±5", "is in mm, which is length, not temperature"),
    ],
)
def test_an_assumed_temperature_has_a_range(text: str, wanted: str) -> None:
    with pytest.raises(AssertionError, match=re.escape(wanted)):
        assuming(LIGHT + FIT, pack=ASSUMING.replace("20 C ±5 K", text))


def test_a_set_may_have_a_temperature_of_its_own() -> None:
    text = "readings: {part: {part temperature: 30 C, gauge temperature: 20 C, at: {}}}\n"
    sheet = text.replace("at: {}", "taken: 2026-10-01, at: 20.023")
    finding = found(sheet, "size")
    assert finding.value is not None
    assert abs(finding.value - Decimal("20.023") * (1 - Decimal("0.000247"))) < Decimal("0.000001")
