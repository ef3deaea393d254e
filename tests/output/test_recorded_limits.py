"""The limits of a finding's record: printed as the screen prints them, once where all stations share them."""

from __future__ import annotations

import pytest

from specrules.inspection import Examination
from specrules.inspection.digits import places_of
from specrules.output.recorded_limits import in_full, limits_drawn, limits_told, printed_by_part
from specrules.output.report_record import record_for
from specrules.output.telling import limits_text
from specrules.record import FindingRecord
from tests.output.hostile_records import BODY
from tests.output.small_record import examined
from tests.output.small_screen import looked


def pairs(of: Examination) -> list[tuple[str, FindingRecord]]:
    """Each finding's limits as the screen has them, and its record."""
    record = record_for("a.sheet.yaml", of, (), "1.0.0")
    texts = [limits_text(each.limits, each.unit, places_of(each), ", ") for each in of.report.findings]
    return list(zip(texts, record.findings, strict=True))


def test_they_are_printed_as_the_screen_prints_them() -> None:
    found = pairs(looked(BODY))
    assert [limits_told(each) for _, each in found] == [text for text, _ in found]


@pytest.mark.second_lane
def test_those_of_an_engine_are_too_rounded_as_they_are() -> None:
    found = pairs(examined("guarded"))
    assert [limits_told(each) for _, each in found] == [text for text, _ in found]
    assert any(text.endswith("in, rounded") for text, _ in found)


def test_what_has_none_says_so() -> None:
    assert "no limits" in {limits_told(each) for _, each in pairs(looked("readings: {}\nlimits: {tilt: []}"))}


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        ({}, "0.0060 in: HIGH by 0.0020. Limits: most 0.0040 in."),
        ({"limits": "none"}, "0.0060 in: HIGH by 0.0020. No limits."),
        ({"unit": "yes/no", "limits": "yes"}, "0.0060 in: HIGH by 0.0020. Has to be so."),
        ({"places": None}, "0.0060 in: HIGH by 0.0020."),
        ({"places": None, "said": None}, "Out of spec."),
    ],
)
def test_all_that_is_said_has_them_last(changed: dict[str, object], told: str) -> None:
    finding = next(each for _, each in pairs(looked("readings: {tilt: 0.0060}")) if each.rule == "tilt")
    none = {"least": None, "aim": None, "most": None}
    if limits := changed.pop("limits", ""):
        numbers = {**none, "least": 1.0} if limits == "yes" else none
        changed["limits"] = finding.limits.model_copy(update=numbers)
    assert in_full(finding.model_copy(update=changed)) == told


def test_wear_limits_are_drawn_only_where_they_decide() -> None:
    finding = next(each for _, each in pairs(looked("readings: {tilt: 0.0060}")) if each.rule == "tilt")
    worn = finding.limits.model_copy(update={"wear_most": 0.005})
    assert limits_drawn(worn) == {"most": 0.004}
    assert limits_drawn(worn.model_copy(update={"worn": ("most",)})) == {"most": 0.004, "wear most": 0.005}


def test_a_limit_that_is_worked_out_is_rounded_towards_the_inside() -> None:
    limits = {"least": 0.00219918, "aim": 0.00274897, "most": 0.00329877}
    assert printed_by_part(limits, 4) == {"least": "0.0022", "aim": "0.0027", "most": "0.0032"}
