"""Two records held against each other: what moved, by how much against its U, in whatever unit, and what changed."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from specrules.document.safe_text import safe
from specrules.inspection import Examination, Options
from specrules.output.record_comparison_page import compared_records
from specrules.output.report_record import record_for
from specrules.output.terminal import text_of
from specrules.record import Record, read_record
from specrules.record.record_comparison import ChangedFinding, RecordComparison, compare
from specrules.record.record_json_schema import comparison_schema
from specrules.record.record_writing import comparison_text
from tests.cli.small_jobs import CLEAR, HELD
from tests.inspecting import settled
from tests.lanes import first_alone
from tests.output.hostile_records import HOSTILE, dressed
from tests.output.small_screen import PACKS
from tests.record.texts import JUDGED, OF_VERSION_2

GUARDED = CLEAR.replace("decision: simple", "decision: guarded")
IN_MM = GUARDED.replace("unit: in\n", "unit: mm\n")
for inches, millimetres in (
    ("1.5020", "38.1508"),
    ("1.5000", "38.1000"),
    ("0.0030", "0.0762"),
    ("tilt: 0.0020", "tilt: 0.0508"),
    ("0.0150", "0.3810"),
    ("plug: 1.0000", "plug: 25.4000"),
):
    assert inches in IN_MM
    IN_MM = IN_MM.replace(inches, millimetres)


def of(sheet: str) -> Record:
    read, made, faults = settled(sheet, PACKS)
    assert read is not None, faults
    assert made is not None
    return record_for("a.sheet.yaml", Examination(read, made, Options()), (), "1.0.0")


def held_against(old: str, new: str) -> RecordComparison:
    """A comparison that is valid by its schema when it is read as JSON."""
    found = compare(of(old), of(new))
    made = json.loads(comparison_text(found))
    assert list(Draft202012Validator(comparison_schema()).iter_errors(made)) == []
    assert made["specrules"] == "record-comparison/1"
    return found


def changed(found: RecordComparison, rule: str, **station: int) -> ChangedFinding:
    (one,) = [each for each in found.findings if (each.rule, each.station) == (rule, station)]
    return one


def screen(found: RecordComparison) -> str:
    return text_of(list(compared_records(found, ("old.json", "new.json"))))


def test_nothing_changed_between_a_record_and_itself() -> None:
    found = held_against(GUARDED, GUARDED)
    assert (found.findings, found.readings) == ((), ())
    assert found.counts.findings == 11
    assert found.counts.readings == 18
    assert "0 verdicts changed, 0 moved by more than U, 0 by no more, 0 with no U known" in " ".join(
        screen(found).split()
    )


def test_a_verdict_that_changed_and_by_how_much_its_value_moved() -> None:
    found = held_against(HELD, CLEAR)
    tilt = changed(found, "tilt")
    assert [str(each) for each in tilt.verdicts] == ["out of spec", "in spec"]
    assert (tilt.values, tilt.moved, tilt.unit, tilt.sides) == ((0.006, 0.002), -0.004, "in", ("high", None))
    assert [(each.name, each.texts, each.moved) for each in found.readings] == [("tilt", ("0.0060", "0.0020"), -0.004)]
    assert found.counts.verdicts == 1


@pytest.mark.parametrize(
    ("old", "new", "moved", "beyond"),
    first_alone(
        ("0.0020 ±0.0003", "0.0028 ±0.0004", 0.0008, True),
        ("0.0020 ±0.0003", "0.0025 ±0.0004", 0.0005, False),
        ("0.0020 ±0.0003", "0.0015 ±0.0004", -0.0005, False),
        ("0.0030 ±0.0003", "0.0020 ±0.0004", -0.001, True),
    ),
)
def test_a_move_is_held_against_both_uncertainties_together(old: str, new: str, moved: float, beyond: bool) -> None:
    """Worked by hand: the root of 3² + 4² is 5, in tenths of a thou; a move of just that much may be none."""
    found = held_against(*(GUARDED.replace("tilt: 0.0020", f"tilt: {each}") for each in (old, new)))
    tilt = changed(found, "tilt")
    assert tilt.moved == moved
    assert pytest.approx(0.0005) == tilt.U
    assert tilt.beyond_U is beyond
    assert (found.counts.moved, found.counts.within_U) == (int(beyond), int(not beyond))


def test_inches_and_millimetres_of_one_engine_are_the_same_engine() -> None:
    found = held_against(GUARDED, IN_MM)
    assert all(each.unit == "mm" for each in found.findings)
    assert [each for each in found.findings if each.moved] == []
    assert found.counts.limits == found.counts.verdicts == 0
    assert {each.moved for each in found.readings} == {0.0}
    again = held_against(GUARDED.replace("tilt: 0.0020", "tilt: 0.0030"), IN_MM)
    assert (changed(again, "tilt").moved, changed(again, "tilt").values) == (-0.0254, (0.0762, 0.0508))


@pytest.mark.second_lane
def test_limits_that_are_others_are_told_in_the_newer_unit() -> None:
    wide = GUARDED.replace("packs: [base]", "packs: [wide]")
    (limit,) = changed(held_against(GUARDED, wide), "tilt").limits
    assert (limit.part, limit.old, limit.new) == ("most", 0.004, 0.006)
    (limit,) = changed(held_against(wide, IN_MM), "tilt").limits
    assert (limit.part, limit.old, limit.new) == ("most", 0.1524, 0.1016)
    none = (
        GUARDED + "  tilt: none\n"
        if "limits:\n" in GUARDED
        else GUARDED.replace("limits: {plug", "limits: {tilt: none, plug")
    )
    (limit,) = changed(held_against(GUARDED, none), "tilt").limits
    assert (limit.part, limit.old, limit.new) == ("most", 0.004, None)


@pytest.mark.second_lane
def test_what_only_one_has_is_told() -> None:
    more = GUARDED.replace("places: 2", "places: 3")
    found = held_against(GUARDED, more)
    assert [(each.name, each.stations) for each in found.findings_of_one.new] == [
        ("fit", ({"place": 3},)),
        ("grip", ({"place": 3},)),
        ("slot", ({"place": 3, "side": "left"}, {"place": 3, "side": "right"})),
    ]
    assert found.findings_of_one.old == ()
    fewer = held_against(GUARDED, GUARDED.replace("  plug: 1.0000\n", ""))
    assert [(each.name, each.stations) for each in fewer.readings_of_one.old] == [("plug", ({},))]
    plug = changed(fewer, "plug")
    assert ([str(each) for each in plug.verdicts], plug.moved) == (["in spec", "not measured"], None)


def test_a_sign_off_that_stands_otherwise_is_told() -> None:
    found = held_against(GUARDED, GUARDED.replace("clean: {by: ab,", "clean: {answer: no, by: ab,"))
    assert [(each.name, each.states) for each in found.sign_offs] == [("clean", ("signed", "answered no"))]
    assert "signed, now answered no: Is every part clean?" in screen(found)


@pytest.mark.second_lane
def test_a_reading_with_another_day_or_gauge_was_read_again_though_it_is_the_same() -> None:
    days = [GUARDED.replace("tilt: 0.0020", f"tilt: {{value: 0.0020, taken: 2026-10-0{day}}}") for day in (1, 2)]
    assert [(each.name, each.moved, each.taken) for each in held_against(*days).readings] == [
        ("tilt", 0.0, ("2026-10-01", "2026-10-02"))
    ]
    assert held_against(GUARDED, days[0]).readings == ()  # a day that one of them does not say tells nothing


@pytest.mark.second_lane
def test_a_unit_that_is_not_known_moves_nothing_that_it_could_be_told_in() -> None:
    old = of(GUARDED).model_copy(update={"findings": _in_unit(of(GUARDED), "ells")})
    found = compare(old, of(GUARDED.replace("tilt: 0.0020", "tilt: 0.0060")))
    tilt = changed(found, "tilt")
    assert (tilt.values, tilt.moved, tilt.U, tilt.beyond_U) == ((None, 0.006), None, None, None)


def _in_unit(record: Record, unit: str) -> tuple[Any, ...]:
    return tuple(each.model_copy(update={"unit": unit}) for each in record.findings)


@pytest.mark.parametrize("older", [JUDGED, OF_VERSION_2], ids=["1", "2"])
def test_older_records_are_compared_by_what_they_have(older: bytes) -> None:
    old = read_record(older)
    found = compare(old, old)
    assert (found.findings, found.readings) == ((), ())
    assert found.counts.readings > 0
    assert found.counts.findings == len(old.findings)
    assert "They are not judged by the same specification." in screen(found)  # neither says by which


def test_the_screen_of_an_engine_before_and_after_the_work() -> None:
    found = held_against(
        GUARDED.replace("tilt: 0.0020", "tilt: 0.0060").replace("2: [1.5020, 1.5020]}", "2: [1.5032, 1.5032]}"),
        GUARDED.replace("packs: [base]", "packs: [wide]"),
    )
    assert screen(found) == SCREEN


SCREEN = """\
old   old.json, A pair, job J-1
      base 1.0; guarded; held
new   new.json, A pair, job J-1
      base 1.0, wide 2; guarded; clear
note  U of a change is that of both values as if they had nothing in common.
      What the same gauge errs alike in both cancels, so the true one is no
      larger.

VERDICTS THAT CHANGED
  Running fit (on the diameter)
    place 2                 out of spec (loose), now in spec
                            0.0032 to 0.0020: -0.0012 ±0.0002 in
  Tilt of the plate
                            out of spec (high), now in spec
                            0.006 to 0.002: -0.004 in

LIMITS THAT CHANGED
  Tilt of the plate
                            most 0.004, now 0.006 in

READ AGAIN
  hole: 2 readings                                                 by -0.0012 in
  tilt: 1 reading                                                   by -0.004 in

11 checks and 18 readings compared: 2 verdicts changed, 1 moved by more than U,
0 by no more, 1 with no U known, 1 check of other limits, 3 read again.
They are not judged by the same specification.
"""


@pytest.mark.parametrize("text", first_alone(*HOSTILE.values()))
def test_whatever_a_text_holds_the_comparison_is_inert(text: str) -> None:
    found = compare(dressed("a"), dressed(text))
    rows = screen(found)
    assert all(safe(row) == row for row in rows.split("\n"))
    assert list(Draft202012Validator(comparison_schema()).iter_errors(json.loads(comparison_text(found)))) == []
    assert math.isfinite(len(rows))
