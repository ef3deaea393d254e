"""Slips of whole stations, which only what fits there tells of, and honest engines that are like them.

That a thimble is misread by one turn, and by how much parts are ground and bored, is common practice, no source.
"""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.inspection import Report
from specrules.vocabulary import SUSPECT_KINDS, Verdict, Why
from tests.inspecting import finding, inspected, whole
from tests.inspection.small_build import fit, readings

BORES = "main_bearing_bore: {1: 2.4511, 2: 2.4511, 3: 2.4511, 4: 2.4511, 5: 2.4511}"
GOOD = "[2.4490, 2.4490, 2.4490, 2.4491]"
OUT = "[2.4240, 2.4240, 2.4240, 2.4241]"
UNPROVEN = Verdict.NOT_PROVEN


def build(body: str, facts: str = "", unit: str = "in", limits: str = "") -> Report:
    engine = "cylinders: 4, mains: 5, throws: [[1], [2], [3], [4]], block_material: iron, rod_material: steel"
    engine += ", ignition: spark, cooling: liquid, cycle: four_stroke, card_bore: 4.0000 in, card_pin: 0.9270 in"
    head = f"specrules: build-sheet/1\npacks: [general]\nunit: {unit}\nfacts: {{{engine}{facts}}}\n"
    return inspected(f"{head}readings: {{{body}}}\n{limits}")


def accused(report: Report) -> set[tuple[str, tuple[str, ...]]]:
    """What some finding waits for, or the report tells of."""
    each = [suspect for finding in report.findings for suspect in finding.rests_on.suspect]
    return {(suspect.name, suspect.station) for suspect in each}


def journals(*odd: int, others: str = GOOD, at: str = OUT) -> str:
    row = ", ".join(f"{main}: {at if main in odd else others}" for main in range(1, 6))
    return f"main_journal: {{{row}}}, {BORES}"


@pytest.mark.second_lane
def test_a_journal_read_four_times_does_not_outvote_four_that_were_told_at_once() -> None:
    report = build(f"main_journal: {{3: {OUT}, others: 2.4490}}, {BORES}")
    assert accused(report) == {("main_journal", ("3",))}
    (suspect,) = finding(report, "main_oil_clearance", main="3").rests_on.suspect
    assert (suspect.text, suspect.would_be, suspect.position) == (
        "2.4240, 2.4241",
        Decimal("2.4490") * Decimal("25.4"),
        None,
    )
    assert suspect.reason.names == ("main_oil_clearance", "thimble turn")


@pytest.mark.second_lane
def test_what_a_reading_would_be_has_the_places_it_was_read_to() -> None:
    """One in whole thou would be another in whole thou, and not 2449.0."""
    report = build(f"main_journal: {{unit: thou, 3: 2424, others: 2449}}, {BORES}")
    (suspect,) = finding(report, "main_oil_clearance", main="3").rests_on.suspect
    assert suspect.reason.labels == ("2449", "within the limits")


@pytest.mark.second_lane
def test_all_readings_of_one_journal_a_turn_out() -> None:
    report = build(journals(3))
    assert accused(report) == {("main_journal", ("3",))}
    found = finding(report, "main_oil_clearance", main="3")
    assert (found.verdict, found.would_be) == (UNPROVEN, Verdict.OUT)
    assert (found.steps, found.otherwise) == ((), "")  # nothing is bought for it
    assert finding(report, "main_journal_taper", main="3").rests_on.suspect == ()  # its shape is as it was read
    assert not [each for each in report.held if each.rule == "main_clearance_spread"]


@pytest.mark.second_lane
def test_all_mains_a_turn_out_against_known_bores() -> None:
    report = build(journals(1, 2, 3, 4, 5))
    each = [finding(report, "main_oil_clearance", main=str(main)) for main in range(1, 6)]
    assert {one.verdict for one in each} == {UNPROVEN}
    assert {one.steps for one in each} == {()}
    assert {("main_journal", (str(main),)) for main in range(1, 6)} <= accused(report)
    stated = build(journals(1, 2, 3, 4, 5), ", card_main_journal: 2.4490")  # and now it is known which of the two
    assert accused(stated) == {("main_journal", (str(main),)) for main in range(1, 6)}


@pytest.mark.second_lane
def test_what_is_made_of_a_fit_that_cannot_be_is_as_doubtful_and_gets_no_remedy() -> None:
    """Main 3 reads 0.024 in too small, and nothing explains it: the spread over the mains is no spread of parts."""
    odd = "[2.4140, 2.4140, 2.4140, 2.4141]"
    report = build(journals(3, at=odd))
    spread = finding(report, "main_clearance_spread", main_class="all")
    assert (spread.verdict, spread.would_be) == (UNPROVEN, Verdict.OUT)
    assert {(each.name, each.station) for each in spread.rests_on.suspect} == {
        ("main_journal", ("3",)), ("main_bearing_bore", ("3",))
    }  # fmt: skip
    assert whole(spread).steps == ()
    assert finding(report, "main_journal_taper", main="3").rests_on.suspect == ()  # of one part alone: as it was read


@pytest.mark.second_lane
def test_a_bore_and_its_journal_exchanged() -> None:
    report = build("main_journal: {1: 2.4512}, main_bearing_bore: {1: 2.4490}")
    found = finding(report, "main_oil_clearance", main="1")
    assert [(each.name, each.would_be) for each in found.rests_on.suspect] == [
        ("main_bearing_bore", Decimal("2.4512") * Decimal("25.4")),
        ("main_journal", Decimal("2.4490") * Decimal("25.4")),
    ]
    assert (found.verdict, found.steps) == (UNPROVEN, ())


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("written", "slips"),
    [
        ("0.0055", [Why.UNIT_SLIP]),  # of a sheet in inches: 0.1397 mm
        ("0.006", [Why.UNIT_SLIP]),
        ("0.05", []),  # tight, and as a dial shows it
        ("0.02", []),
    ],
)
def test_inches_among_millimetres_where_a_size_may_be_nothing(written: str, slips: list[Why]) -> None:
    found = finding(build(f"crank_end_float: {written}", unit="mm"), "crank_end_float")
    assert [suspect.reason.code for suspect in found.rests_on.suspect] == slips
    assert found.verdict is (UNPROVEN if slips else Verdict.OUT)
    assert bool(found.steps or found.otherwise) is not bool(slips)  # no flange is lapped for it


@pytest.mark.second_lane
def test_what_is_too_small_to_be_beyond_a_limit_is_seen_by_its_places() -> None:
    """0.0020 in of run-out, written in millimetres, is far inside every limit."""
    report = build("crank_runout: {3: 0.0020}", unit="mm")
    (suspect,) = finding(report, "crank_runout", main="3").rests_on.suspect
    assert (suspect.reason.code, suspect.would_be) == (Why.UNIT_SLIP, Decimal("0.0508"))


@pytest.mark.second_lane
def test_a_confirmed_number_is_judged_and_told_of() -> None:
    sure = ", ".join("{value: 2.4240, confirmed: ab}" for _ in range(4))
    report = build(journals(3, at=f"[{sure}]"))
    found = finding(report, "main_oil_clearance", main="3")
    assert (found.verdict, found.rests_on.suspect) == (Verdict.OUT, ())
    assert found.steps
    assert {each.confirmed for each in found.inputs if each.name == "main_journal"} == {"ab"}
    (told,) = [each for each in report.suspects if each.confirmed]
    assert (told.name, told.station, told.confirmed) == ("main_journal", ("3",), "ab")
    assert accused(build(journals(3, at="[{value: 2.4241, confirmed: ab}, 2.4240, 2.4240, 2.4240]"))) == set()
    changed = journals(3, at="[{value: 2.4240, confirmed: ab}, 2.4241, 2.4240, 2.4240]")
    assert accused(build(changed)) == {("main_journal", ("3",))}  # another number counts than the one that is sure


@pytest.mark.second_lane
def test_a_confirmed_reading_among_others_of_the_same_part() -> None:
    row = "main_journal: {{3: [{0}, 2.7490, 2.7490, 2.7490]}}"
    found = finding(build(row.format("2.7240")), "main_journal_taper", main="3")
    assert (found.verdict, found.would_be) == (UNPROVEN, Verdict.OUT)
    report = build(row.format("{value: 2.7240, confirmed: ab}"))
    found = finding(report, "main_journal_taper", main="3")
    assert (found.verdict, found.rests_on.suspect) == (Verdict.OUT, ())
    assert [(each.text, each.confirmed) for each in report.suspects] == [("2.7240", "ab")]


@pytest.mark.second_lane
def test_a_reading_outside_the_usual_sizes_is_judged_once_it_is_confirmed() -> None:
    unsure = build("main_journal: {1: 1.1800}, main_bearing_bore: {1: 1.1817}")
    assert finding(unsure, "main_oil_clearance", main="1").rests_on.suspect
    sure = build(
        "main_journal: {1: {value: 1.1800, confirmed: ab}}, main_bearing_bore: {1: {value: 1.1817, confirmed: ab}}"
    )
    assert finding(sure, "main_oil_clearance", main="1").rests_on.suspect == ()


@pytest.mark.second_lane
@pytest.mark.parametrize(
    ("size", "bore"), [("1.1800", "1.1817"), ("4.7500", "4.7545")], ids=["smaller than usual", "larger than usual"]
)
def test_a_size_that_the_sheet_states_is_a_remark_and_no_bar(size: str, bore: str) -> None:
    body = f"main_journal: {{1: {size}}}, main_bearing_bore: {{1: {bore}}}"
    assert ("main_journal", ("1",)) in accused(build(body))
    assert accused(build(body, f", card_main_journal: {size}")) == set()
    own = build(body, limits="limits: {main_oil_clearance: {least: 0.0010 in, most: 0.0060 in}}\n")
    assert accused(own) == set()
    assert {each.as_stated for each in own.suspects} == {"main_oil_clearance"}
    other = build(body, ", card_main_journal: 2.4490")
    assert ("main_journal", ("1",)) in accused(other)  # the card is of another crank


@pytest.mark.second_lane
def test_a_limit_or_a_size_does_not_rest_on_a_value_in_doubt_unsaid() -> None:
    report = build("cylinder_bore: {1: 40.02}, ring_end_gap: {1: {top: 0.018}}")
    found = finding(report, "ring_end_gap", cylinder="1", ring="top")
    assert [each.name for each in found.rests_on.suspect] == ["cylinder_bore"]
    sizes = {each.name: each.in_doubt for each in report.figures if each.station == {"cylinder": "1"} and each.value}
    assert sizes["bore_size"]


MAINS = (
    "main_bearing_bore: {{1: {0}, 2: {0}, 3: {1}, 4: {0}, 5: {0}}}, "
    "main_journal: {{1: {2}, 2: {2}, 3: {3}, 4: {2}, 5: {2}}}"
)
HONEST = {
    "one main ground 0.50 under, with shells to suit": (MAINS.format("62.260", "61.760", "62.210", "61.710"), "mm"),
    "one main ground 0.50 under, read four times": (
        MAINS.format("62.260", "61.760", "62.210", "[61.710, 61.711, 61.710, 61.709]"), "mm",
    ),
    "mains and pins ground by different amounts": (
        f"{MAINS.format('2.4411', '2.4411', '2.4390', '2.4390')}, rod_journal: {{1: 2.0790, 2: 2.0790, 3: 2.0790}}, "
        "rod_bearing_bore: {1: 2.0810, 2: 2.0810, 3: 2.0810}", "in",
    ),
    "pins offset-ground to a smaller size, one of them again": (
        "rod_journal: {1: 50.770, 2: 50.770, 3: 50.270, 4: 50.770}, "
        "rod_bearing_bore: {1: 50.820, 2: 50.820, 3: 50.320, 4: 50.820}", "mm",
    ),
    "one cylinder sleeved back to standard": (
        "cylinder_bore: {1: 100.508, 2: 100.508, 3: 100.010, 4: 100.508}, "
        "piston_skirt: {1: 100.430, 2: 100.430, 3: 99.932, 4: 100.430}", "mm",
    ),
    "worn bores and journals": (
        "cylinder_bore: {1: [4.0021, 4.0019, 4.0060, 4.0052, 4.0110, 4.0098]}, piston_skirt: {1: 3.9950}, "
        f"{MAINS.format('2.4516', '2.4530', '2.4480', '[2.4455, 2.4470, 2.4462, 2.4475]')}", "in",
    ),
    "shells of the wrong undersize": (MAINS.format("2.4511", "2.4511", "2.4490", "2.4390"), "in"),
}  # fmt: skip


@pytest.mark.second_lane
@pytest.mark.parametrize(("body", "unit"), HONEST.values(), ids=HONEST)
def test_an_honest_engine_accuses_nobody(body: str, unit: str) -> None:
    report = build(body, unit=unit)
    assert accused(report) == set()
    assert report.suspects == ()
    assert any(each.verdict is not Verdict.NOT_MEASURED for each in report.findings)


@pytest.mark.second_lane
@given(
    st.lists(st.integers(-4, 4), min_size=5, max_size=5),
    st.integers(1, 5),
    st.integers(1, 4),
    st.sampled_from((250, -250)),
)
def test_good_stations_are_not_accused_however_often_a_bad_one_was_read(
    tenths: list[int], odd: int, times: int, turn: int
) -> None:
    """One vote a station: each main is read once, and one of them, a turn out, once to four times."""
    sizes = [24490 + off for off in tenths]
    sizes[odd - 1] += turn
    texts = [f"{Decimal(size) / 10000:.4f}" for size in sizes]
    row = {
        main: f"[{', '.join([texts[main - 1]] * times)}{', open' * (4 - times)}]" if main == odd else texts[main - 1]
        for main in range(1, 6)
    }
    body = ", ".join(f"{main}: {text}" for main, text in row.items())
    assert accused(build(f"main_journal: {{{body}}}, {BORES}")) == {("main_journal", (str(odd),))}


@given(st.integers(-60, 160), st.integers(0, 3))
def test_a_fit_within_a_few_widths_of_its_limits_is_a_part_and_no_reading(tenths: int, places: int) -> None:
    """Least 0.0010, most 0.0030: from nothing to 0.0160, and however the sizes are written."""
    clearance = max(tenths, 1)
    report = readings(f"hole: {{1: {Decimal(20000 + clearance) / 10000:.{4 + places}f}}}, shaft: {{1: 2.0000}}")
    assert not [each for each in fit(report).rests_on.suspect if each.reason.code in SUSPECT_KINDS]
