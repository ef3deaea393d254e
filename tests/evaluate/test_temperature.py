"""Lengths read warm are referred to 20 °C; what part and gauge share cancels, what they do not is there."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.inspection import Options, WholeFinding
from tests.inspecting import inspected, whole

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


def test_a_set_may_have_a_temperature_of_its_own() -> None:
    text = "readings: {part: {part temperature: 30 C, gauge temperature: 20 C, at: {}}}\n"
    sheet = text.replace("at: {}", "taken: 2026-10-01, at: 20.023")
    finding = found(sheet, "size")
    assert finding.value is not None
    assert abs(finding.value - Decimal("20.023") * (1 - Decimal("0.000247"))) < Decimal("0.000001")
