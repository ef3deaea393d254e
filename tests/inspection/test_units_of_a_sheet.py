"""One system of units for one sheet: what is shown, what bare figures mean, and that no verdict hangs on it."""

from __future__ import annotations

from decimal import Decimal
from importlib.resources import files

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specrules.inspection import Examination, Options, Report, inspect
from specrules.output.reasons import said
from specrules.quantity import Unit, find_unit
from specrules.sheet import Sheet, read_sheet, settle
from specrules.vocabulary import Why
from tests import shipped
from tests.inspecting import run, settled


def unit_of(symbol: str) -> Unit:
    found = find_unit(symbol)
    assert isinstance(found, Unit)
    return found


INCH, MM = unit_of("in"), unit_of("mm")
HEAD = "specrules: build-sheet/1\npacks: [general]\nunit: {unit}\nfacts: {{cylinders: 2, block_material: iron}}\n"


def told(report: Report) -> list[tuple[object, ...]]:
    """What an inspection finds, without any number."""
    return [(each.rule, each.station, each.verdict, each.side, each.importance) for each in report.findings]


def of_demo(decision: str) -> dict[str, Report]:
    """The demo, its readings as they are, held by a sheet in inches and by one in millimetres."""
    spec = shipped.resolved("street")
    raw, faults = read_sheet((files("specrules") / "demo" / "carousel.sheet.yaml").read_bytes(), "demo")
    assert raw is not None, faults
    sheet, wrong = settle(raw, spec)
    assert sheet is not None, wrong
    return {unit.symbol: inspect(sheet._replace(unit=unit), spec, Options(decision=decision)) for unit in (INCH, MM)}


@pytest.mark.second_lane
def test_no_verdict_of_the_demo_hangs_on_the_unit_of_its_sheet() -> None:
    found = of_demo("guarded")
    assert told(found["in"]) == told(found["mm"])
    assert {each.verdict for each in found["in"].findings} > {"in spec"}


def of_a_clearance(journal: Decimal, clearance: Decimal, unit: str) -> Report:
    text = HEAD.format(unit=unit) + (
        f"readings:\n  main_journal: {{1: {journal} in}}\n  main_clearance_direct: {{1: {clearance} in}}\n"
        "  spring_seat_load: {1: {intake: 90 lbf, exhaust: 400.3 N}}\n"
        "limits: {main_oil_clearance: {least: 0.0012 in, most: 0.05 mm}}\n"
    )
    found, faults = run(text, {})
    assert found is not None, faults
    return found


@pytest.mark.second_lane
@settings(max_examples=50)  # each judges all rules of the general pack, twice
@given(st.decimals("1.5", "4.5", places=4), st.decimals("0", "0.01", places=5))
def test_no_verdict_hangs_on_the_unit_of_a_sheet(journal: Decimal, clearance: Decimal) -> None:
    inches, millimetres = (of_a_clearance(journal, clearance, unit) for unit in ("in", "mm"))
    assert told(inches) == told(millimetres)


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("unit", "limits", "least", "most"),
    [
        ("mm", "{least: 0.02, most: 0.05}", "0.02", "0.05"),
        ("in", "{least: 0.001, most: 0.002}", "0.001", "0.002"),
        ("mm", "{least: 0.001 in, most: 0.05}", "0.0254", "0.05"),
        ("in", "{most: .002}", None, "0.002"),
        ("mm", "[{most: 0.05}, {when: block_material == iron, shift: -0.01}]", None, "0.04"),
        ("mm", "{most: 0.001 * main_size}", None, "0.0635"),
    ],
)
def test_a_bare_limit_is_in_the_unit_of_the_sheet(unit: str, limits: str, least: str | None, most: str) -> None:
    text = HEAD.format(unit=unit) + (
        "readings: {main_journal: {1: 2.5 in}, main_clearance_direct: {1: 0.0015 in}}\n"
        f"limits: {{main_oil_clearance: {limits}}}\n"
    )
    found, faults = run(text, {})
    assert found is not None, faults
    limits_found = next(each.limits for each in found.findings if each.rule == "main_oil_clearance")
    assert limits_found.least == (None if least is None else Decimal(least))
    assert limits_found.most == Decimal(most)


def test_a_bare_limit_of_a_sheet_that_states_no_unit_is_a_fault() -> None:
    text = HEAD.replace("unit: {unit}\n", "").format() + "limits: {main_oil_clearance: {most: 0.05}}\n"
    found, faults = run(text, {})
    assert found is None
    assert any("is a bare number, and length is needed" in fault for fault in faults)


LOADS = "readings:\n  spring_seat_load: {{{more}1: {{intake: {load}, exhaust: {load}}}}}\n"


def loads(unit: str, load: str, more: str = "") -> Sheet:
    sheet, _, faults = settled(HEAD.format(unit=unit) + LOADS.format(load=load, more=more), {})
    assert sheet is not None, faults
    return sheet


@pytest.mark.parametrize(
    ("unit", "load", "more", "symbol"),
    [
        ("in", "90", "", "lbf"),
        ("mm", "400", "", "N"),
        ("mm", "90 lbf", "", "lbf"),
        ("mm", "90", "unit: lbf, ", "lbf"),
    ],
)
def test_a_bare_load_is_in_the_system_of_the_sheet(unit: str, load: str, more: str, symbol: str) -> None:
    assert {reading.unit.symbol for reading in loads(unit, load, more).readings} == {symbol}


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("unit", "load", "more", "remarked"),
    [("in", "90", "", False), ("mm", "400", "", True), ("mm", "90 lbf", "", False), ("mm", "400", "unit: N, ", False)],
)
def test_a_figure_that_a_sheet_of_before_may_have_meant_otherwise_is_remarked_on(
    unit: str, load: str, more: str, remarked: bool
) -> None:
    """A bare load of a sheet in millimetres once was in pounds, as its packs have it."""
    report = Examination(loads(unit, load, more), shipped.resolved("general")).report
    found = [said(each) for each in report.remarks if each.code is Why.UNIT_TAKEN]
    text = (
        "No unit stands with spring seat load: it is taken in N, by the unit of this sheet, and not in lbf. If that is"
        " not meant, write the unit."
    )
    assert found == [text] * remarked
