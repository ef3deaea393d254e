"""Cylinders with two valves of each kind, in millimetres; every figure is invented for these tests.

After a change of the screen that is meant: `python -m tests.packs.test_four_valves` writes the new one.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from specrules.inspection import Examination, Report
from specrules.output.full_screen import whole_screen
from specrules.output.report_record import record_of
from specrules.output.terminal import text_of
from specrules.pack import Specification
from specrules.record import read_record, record_text
from specrules.sheet import Sheet
from specrules.sheet.new_sheet import NewSheet, next_to_ask, start
from tests.inspecting import finding, inspected, settled
from tests.shipped import resolved

SCREEN = Path(__file__).parent / "four_valves.txt"
HEAD = """\
specrules: build-sheet/1
build: {title: Four valves a cylinder}
packs: [general]
unit: mm
scope: [Cam and valve train]
"""
KIND = """ignition: spark, cooling: liquid, cycle: four_stroke, cylinders: 2, cam_bearings: 10, cams: 2,
  valve_action: bucket_shim, induction: natural, rod_material: steel, card_bore: 88.00, card_valve_stem: 7.00"""
FOUR = f"""{HEAD}facts: {{{KIND}, intake_valves: 2, exhaust_valves: 2}}
readings:
  valve_stem:
    1: {{intake_1: 6.970, intake_2: 6.972, exhaust: 6.955}}
    2: {{intake: 6.970, exhaust_1: 6.955, exhaust_2: 6.940}}
  guide_bore:
    1: {{intake: 7.010, exhaust: 7.012}}
    2: {{intake_1: 7.010, intake_2: 7.031, exhaust: 7.012}}
  seat_width:
    1: {{intake_1: 1.40, intake_2: 1.38, exhaust_1: 1.60, exhaust_2: 1.62}}
    2: {{intake_1: 1.40, intake_2: 1.40, exhaust_1: 1.60, exhaust_2: 1.61}}
"""
STEMS = {
    "1 intake_1": "just in",
    "1 intake_2": "in spec",
    "1 exhaust_1": "in spec",
    "1 exhaust_2": "in spec",
    "2 intake_1": "just in",
    "2 intake_2": "just out",
    "2 exhaust_1": "in spec",
    "2 exhaust_2": "just in",
}


@pytest.fixture(scope="module")
def four() -> tuple[Sheet, Specification]:
    sheet, spec, said = settled(FOUR, {})
    assert sheet is not None, said
    assert spec is not None
    return sheet, spec


@pytest.fixture(scope="module")
def report(four: tuple[Sheet, Specification]) -> Report:
    return Examination(*four).report


def test_every_valve_is_judged_by_the_limits_of_its_kind(report: Report) -> None:
    def verdicts(rule: str) -> dict[str, str]:
        some = [each for each in report.findings if each.rule == rule]
        return {" ".join(each.station.values()): str(each.verdict) for each in some}

    assert verdicts("valve_stem_clearance") == STEMS
    assert verdicts("seat_width") == dict.fromkeys(STEMS, "in spec")
    assert set(verdicts("spring_height_match")) == {"intake_1", "intake_2", "exhaust_1", "exhaust_2"}


def test_a_kind_stands_for_both_of_its_valves(four: tuple[Sheet, Specification]) -> None:
    stems = {each.station: each for each in four[0].readings if each.name == "valve_stem"}
    assert stems["2", "intake_1"].value == stems["2", "intake_2"].value
    assert stems["2", "intake_1"].group
    assert not stems["1", "intake_1"].group


def test_the_screen_is_what_is_stored_and_the_record_reads_back(four: tuple[Sheet, Specification]) -> None:
    examined = Examination(*four)
    assert shown(examined) == SCREEN.read_text(encoding="utf-8")
    record = record_text(record_of(examined.report, examined.whole, "1"))
    assert record_text(read_record(record)) == record


def test_a_sheet_that_says_nothing_of_valves_has_one_of_each_kind() -> None:
    stems, guides = "{1: {intake: 6.970, exhaust: 6.955}}", "{1: {intake: 7.010, exhaust: 7.012}}"
    read = f"readings: {{valve_stem: {stems}, guide_bore: {guides}}}\n"
    one = inspected(f"{HEAD}facts: {{{KIND}}}\n{read}")
    told = inspected(f"{HEAD}facts: {{{KIND}, intake_valves: 1, exhaust_valves: 1}}\n{read}")
    assert [(each.rule, each.station, each.verdict) for each in one.findings] == [
        (each.rule, each.station, each.verdict) for each in told.findings
    ]
    assert str(finding(one, "valve_stem_clearance", cylinder="1", valve="intake").verdict) == "in spec"


@pytest.mark.parametrize(
    ("facts", "readings", "said"),
    [
        (
            "",
            "valve_stem: {1: {intake: [6.970, 6.972]}}",
            "valve_stem 1 intake: 2 figures stand where 3 belong, in this order: top, middle and bottom; write open "
            "for what is not measured.",
        ),
        (
            "",
            "seat_width: {1: {intake: [1.40, 1.38]}}",
            "seat_width 1 intake: 2 figures stand where one belongs, and there is one intake, since intake_valves is "
            "taken to be 1; write intake_valves: 2 under facts and intake_1: and the figure, or repeats: [...] where "
            "one was measured again.",
        ),
        (
            "",
            "seat_width: {1: {intake_1: 1.40}}",
            'seat_width 1: "intake_1" is no valve; there is one intake, since intake_valves is taken to be 1; write '
            "intake, or intake_valves: 2 under facts, if there are so many.",
        ),
        (
            ", intake_valves: 2",
            "seat_width: {1: {intake: [1.40, 1.38]}}",
            "seat_width 1 intake: a list does not say which of intake_1 and intake_2 each figure is of; write them by "
            "name, intake_1: and the figure.",
        ),
        (
            ", intake_valves: 2",
            "valve_stem: {1: {intake: [6.970, 6.970, 6.970]}}",
            "valve_stem 1 intake: a list does not say which of intake_1 and intake_2 each figure is of; write them by "
            "name, intake_1: and the figure.",
        ),
        (
            ", intake_valves: 3",
            "seat_width: {1: {intake_4: 1.40}}",
            'seat_width 1: "intake_4" is no valve; there are intake_1, intake_2 and intake_3, since intake_valves is '
            "3; write intake_1 or intake_2 or intake_3, or intake_valves: 4 under facts, if there are so many.",
        ),
    ],
)
def test_what_is_said_of_two_valves_that_are_written_as_one(facts: str, readings: str, said: str) -> None:
    faults = settled(f"{HEAD}facts: {{{KIND}{facts}}}\nreadings: {{{readings}}}\n", {})[2]
    assert [fault.partition(", line ")[2].partition(", ")[2] for fault in faults] == [said]


def test_a_new_sheet_has_a_cell_for_every_valve_that_is_said_and_asks_for_none() -> None:
    spec = resolved("general")
    facts = {"cylinders": "2", "mains": "3", "throws": "[[1, 2]]", "cam_bearings": "4", "intake_valves": "2"}
    new = start(spec, facts, NewSheet("", ["general"], "mm"))
    assert "    1: {intake_1: , intake_2: , exhaust: }\n" in new
    sheet, _, said = settled(new, {})
    assert sheet is not None, said
    assert sheet.labels["valve"] == ("intake_1", "intake_2", "exhaust")
    asked: list[str] = []
    while (fact := next_to_ask(spec, {}, asked)) is not None:
        asked.append(fact.name)
    assert not {"intake_valves", "exhaust_valves"} & set(asked)
    assert "cylinders" in asked


def shown(examined: Examination) -> str:
    return text_of(whole_screen(examined.report, examined.whole))


if __name__ == "__main__":
    read, packs, _ = settled(FOUR, {})
    assert read is not None
    assert packs is not None
    SCREEN.write_text(shown(Examination(read, packs)), encoding="utf-8")
