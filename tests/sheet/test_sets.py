"""Readings taken together, what is said once for all of them, and which set governs when a part was measured again."""

from __future__ import annotations

from datetime import date

import pytest

from tests.sheet.small_shop import sentences, sheet_of, texts

AGAIN = """\
gauges: {bg: {class: bore gauge}}
readings:
  main_bore:
    - {gauge: bg, taken: 2026-09-26, at: {2: [2.5011, 2.5012], 3: [2.4995, 2.4996]}}
    - {taken: 2026-09-30, because: shells changed, after: align_hone, at: {3: {rear: 2.5009}}}
"""


def test_the_later_set_governs_position_by_position_and_the_earlier_is_history() -> None:
    sheet = sheet_of(AGAIN)
    assert texts(sheet.readings) == {
        "main_bore 2 front": "2.5011",
        "main_bore 2 rear": "2.5012",
        "main_bore 3 front": "2.4995",
        "main_bore 3 rear": "2.5009",
    }
    assert texts(sheet.history) == {"main_bore 3 rear": "2.4996"}
    early, late = sheet.readings[0], sheet.readings[-1]
    assert (early.gauge, early.taken, early.because, early.after) == ("bg", date(2026, 9, 26), "", ())
    assert (late.gauge, late.taken, late.because) == ("", date(2026, 9, 30), "shells changed")
    assert late.after == ("align_hone",)


def test_later_means_later_in_time_where_every_set_is_dated() -> None:
    first, second = AGAIN.splitlines()[3:]
    swapped = "\n".join([*AGAIN.splitlines()[:3], second, first, ""])
    assert texts(sheet_of(swapped).readings) == texts(sheet_of(AGAIN).readings)


def test_without_dates_the_order_of_writing_counts() -> None:
    body = "readings:\n  main_bore:\n    - at: {1: 2.50}\n    - {at: {1: 2.51}, taken: 2026-09-30}\n"
    assert texts(sheet_of(body).readings) == {"main_bore 1": "2.51"}
    assert sentences(f"{body}    - {{at: {{1: 2.52}}, taken: 2026-09-26}}\n") == [
        "line 7, main_bore: taken on 2026-09-26, before the set above it (2026-09-30), while another set has no date;"
        " write taken: in every set, or the oldest set first."
    ]


def test_one_figure_for_a_station_and_figures_for_its_positions_replace_each_other() -> None:
    whole_first = sheet_of("readings:\n  main_bore:\n    - at: {1: 2.50}\n    - at: {1: {front: 2.51}}\n")
    assert texts(whole_first.readings) == {"main_bore 1 front": "2.51"}
    assert texts(whole_first.history) == {"main_bore 1": "2.50"}
    whole_last = sheet_of("readings:\n  main_bore:\n    - at: {1: [2.50, 2.51]}\n    - at: {1: 2.52}\n")
    assert texts(whole_last.readings) == {"main_bore 1": "2.52"}
    assert texts(whole_last.history) == {"main_bore 1 front": "2.50", "main_bore 1 rear": "2.51"}


def test_what_was_not_measured_again_stays() -> None:
    sheet = sheet_of("readings:\n  main_bore:\n    - at: {1: 2.50}\n    - at: {1: open}\n")
    assert texts(sheet.readings) == {"main_bore 1": "2.50"}
    assert sheet.history == ()


def test_a_measurand_without_stations_has_sets_too() -> None:
    sheet = sheet_of(
        "readings:\n  crank_end_float:\n    - {taken: 2026-09-26, at: 0.001}\n    - {taken: 2026-09-27, at: 0.006}\n"
    )
    assert texts(sheet.readings) == {"crank_end_float": "0.006"}
    assert texts(sheet.history) == {"crank_end_float": "0.001"}


def test_readings_come_in_the_declared_order() -> None:
    sheet = sheet_of("readings: {piston_weight: {2: 500, 1: 501}, main_bore: {10: 2.5, 2: {rear: 2.5, front: 2.51}}}\n")
    assert list(texts(sheet.readings)) == [
        "main_bore 2 front", "main_bore 2 rear", "main_bore 10", "piston_weight 1", "piston_weight 2",
    ]  # fmt: skip


def test_several_operations_of_the_same_day() -> None:
    sheet = sheet_of("readings: {main_bore: {after: [align_hone, grind], taken: 2026-09-30, 1: 2.5}}\n")
    assert sheet.readings[0].after == ("align_hone", "grind")


WRONG = {
    "{gauge: mc, 1: 2.5}": ['main_bore gauge: "mc" is no gauge of this sheet; there are mic and bg'],
    "{gauge: mik, 1: 2.5}": ['main_bore gauge: "mik" is no gauge of this sheet; write mic'],
    "{gauge: [mic], 1: 2.5}": ["main_bore gauge: one text belongs here"],
    "{after: hone, 1: 2.5}": ['main_bore after: "hone" is no operation; there are align_hone and grind'],
    "{after: [{a: b}], 1: 2.5}": ["main_bore after: one operation, or a list of them, belongs here"],
    "{after: {a: b}, 1: 2.5}": ["main_bore after: one operation, or a list of them, belongs here"],
    "{taken: 2026-13-01, 1: 2.5}": ['main_bore taken: there is no day "2026-13-01"'],
    "{at: {1: 2.5}, 2: 2.6}": ['main_bore: "2" stands beside at, which holds the readings of this set'],
    "[{gauge: mic, at: {1: 2.5}}, {1: 2.6}]": ["main_bore: a set in a list has its readings under at; write at: {...}"],
    "[{gauge: mic, 1: 2.5}]": ["main_bore: a set in a list has its readings under at; write at: {...}"],
}


@pytest.mark.parametrize("written", WRONG)
def test_what_is_said_of_a_set_that_cannot_be(written: str) -> None:
    body = f"facts: {{mains: 5}}\ngauges: {{mic: , bg: {{class: bore gauge}}}}\nreadings: {{main_bore: {written}}}\n"
    body = body.replace("mic: ,", "mic: {class: outside micrometer},")
    assert sentences(body) == [f"line 5, {each}." for each in WRONG[written]]


def test_a_gauge_of_a_sheet_that_lists_none() -> None:
    assert sentences("readings: {main_bore: {gauge: mic, 1: 2.5}}\n") == [
        'line 3, main_bore gauge: "mic" is not under gauges.'
    ]


STATES = "readings:\n  main_bore:\n    - {state: as built, at: {1: 2.52}}\n    - {state: as found, at: {1: 2.50}}\n"


def test_where_every_set_has_its_state_the_order_of_the_work_counts() -> None:
    sheet = sheet_of(f"{STATES}    - {{state: machined, at: {{1: 2.51}}}}\n")
    assert texts(sheet.readings) == {"main_bore 1": "2.52"}
    assert [(reading.text, reading.state) for reading in sheet.history] == [("2.50", "as found"), ("2.51", "machined")]


def test_where_a_set_has_no_state_the_order_of_writing_counts() -> None:
    assert texts(sheet_of(f"{STATES}    - {{at: {{1: 2.53}}}}\n").readings) == {"main_bore 1": "2.53"}


def test_dates_come_before_states_which_settle_what_was_read_on_one_day() -> None:
    again = STATES.replace("as built,", "as built, taken: 2026-10-01,").replace("found,", "found, taken: 2026-10-01,")
    assert texts(sheet_of(again).readings) == {"main_bore 1": "2.52"}
    later = again.replace("found, taken: 2026-10-01", "found, taken: 2026-10-02")
    assert texts(sheet_of(later).readings) == {"main_bore 1": "2.50"}


def test_a_state_is_one_of_three() -> None:
    assert sentences("readings: {main_bore: {state: as fund, 1: 2.50}}\n") == [
        'line 3, main_bore state: "as fund" is none of as found, machined, as built; write as found.'
    ]
