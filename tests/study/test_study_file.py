"""A study's file: what is taken as it was meant, and what is said of the rest, with its place."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.study import read_study
from tests.study.small_studies import HEAD, said, study, written

FILE = "mic.study.yaml"
KNOWN = "is no gauge study that is known here; write gauge-study/1."
MAPPING = 'has "mic" where a mapping belongs; write keys such as name, class.'
TWO = {"JT": {"1": ["2.4990", "2.4991"], "2": ["2.4985", "2.4986"]}}


def faulty(readings: str, head: str = HEAD) -> list[str]:
    """What is wrong with a file that has these readings."""
    return said(f"{head}readings:\n{readings}")


def test_a_study_is_taken_in_the_order_of_the_file_whatever_the_units() -> None:
    by_jt = {"b": ["2.4990", "63.475 mm"], "a": ["2 1/2", "2499.1 thou"]}
    found = study({"JT": by_jt, "KM": {"a": ["2.5", "2.5"], "b": ["2.4990", "2.4990"]}})
    assert (found.gauge, found.gauge_class, found.unit.symbol) == ("mic 2-3", "outside micrometer", "in")
    assert (found.on, found.operators, found.parts, found.repeats) == (date(2026, 10, 2), ("JT", "KM"), ("b", "a"), 2)
    first, last = found.readings
    assert first == ((Fraction("2.4990"), Fraction("63.475") / Fraction("25.4")), (Fraction("2.5"), Fraction("2.4991")))
    assert last == ((Fraction("2.4990"), Fraction("2.4990")), (Fraction("2.5"), Fraction("2.5")))
    assert found.step == Fraction("0.001") / Fraction("25.4")


@pytest.mark.parametrize("day", ["date: 2026-10-02\n", "date:\n"])
def test_the_date_may_be_left_out_or_empty(day: str) -> None:
    for head in (HEAD.replace("date: 2026-10-02\n", ""), HEAD.replace("date: 2026-10-02\n", "date:\n")):
        assert study(TWO, head).on is None
    assert (study(TWO, HEAD.replace("date: 2026-10-02\n", day)).on is None) == (day == "date:\n")


@pytest.mark.parametrize(
    ("reading", "sentence"),
    [
        ("2.499o", '"2.499o" has the letter O in a number; write 2.4990.'),
        ("2.499..2.500", '"2.499..2.500" is a range; a study needs single readings.'),
        ("open", "a reading is missing here; a study needs every one."),
        ("''", "a reading is missing here; a study needs every one."),
        (
            "2.4990 ±0.0001",
            '"2.4990 ±0.0001" states its own uncertainty, which is what a study finds out; write 2.4990.',
        ),
        ("[2.4990]", "has a list where a text belongs."),
    ],
)
def test_each_reading_is_one_plain_figure(reading: str, sentence: str) -> None:
    assert faulty(f"  JT: {{1: [2.4990, {reading}]}}\n") == [f"{FILE}, line 6, JT 1 2: {sentence}"]


def test_another_dimension_is_refused() -> None:
    (sentence,) = faulty("  JT: {1: [2.4990, 3 g]}\n")
    assert sentence.startswith(f'{FILE}, line 6, JT 1 2: "3 g"')


def test_the_column_of_a_slip_is_its_own() -> None:
    _, faults = read_study(f'{HEAD}readings:\n  JT: {{1: ["2.4990 furlong", 2.4990]}}\n', FILE)
    assert [fault.place[1:] for fault in faults] == [(6, 20)]


def test_every_hole_and_uneven_number_is_told() -> None:
    readings = (
        "  JT: {1: [2.1, 2.2], 2: [2.1, 2.2], 3: [2.1, 2.2]}\n  KM: {1: [2.1, 2.2], 3: [2.1]}\n  LN: {2: [2, 2, 2]}\n"
    )
    assert faulty(readings) == [
        f"{FILE}, line 7, readings: operator KM has no readings of part 2: every operator reads every part.",
        f"{FILE}, line 7, KM 3: 1 reading here and 2 elsewhere: as many everywhere.",
        f"{FILE}, line 8, readings: operator LN has no readings of parts 1 and 3: every operator reads every part.",
        f"{FILE}, line 8, LN 2: 3 readings here and 2 elsewhere: as many everywhere.",
    ]


def test_what_is_no_reading_and_what_is_missing_come_in_one_run() -> None:
    assert faulty("  JT: {1: [2.1, open], 2: [2.1, 2.2]}\n  KM: {1: [2.1, 2.2]}\n") == [
        f"{FILE}, line 6, JT 1 2: a reading is missing here; a study needs every one.",
        f"{FILE}, line 7, readings: operator KM has no readings of part 2: every operator reads every part.",
    ]


def test_many_missing_parts_are_counted() -> None:
    cells = ", ".join(f"{part}: [2, 2]" for part in range(1, 13))
    (sentence,) = faulty(f"  JT: {{{cells}}}\n  KM: {{1: [2, 2]}}\n")
    assert "no readings of parts 2, 3, 4, 5, 6, 7, 8, 9 and 3 more:" in sentence


def test_one_reading_of_each_part_is_too_few() -> None:
    assert faulty("  JT: {1: [2.1], 2: [2.2]}\n  KM: {1: [2.1], 2: [2.1]}\n") == [
        f"{FILE}, line 6, readings: a single reading of each part cannot show repeatability; read each part again."
    ]


@pytest.mark.parametrize(
    ("readings", "sentence"),
    [
        ("  JT: 2.4990\n", 'line 6, JT: has "2.4990" where a mapping belongs.'),
        ("  JT: {1: 2.4990}\n", 'line 6, JT 1: has "2.4990" where a list belongs.'),
        ("  JT: {1: []}\n", "line 6, JT 1: has nothing where a list belongs."),
        ("  JT:\n", "line 6, JT: has nothing where a mapping belongs."),
        ("  - [2.4990, 2.4990]\n", "line 6, readings: has a list where a mapping belongs."),
        ("", "line 5, readings: has nothing where a mapping belongs."),
        ("  {}\n", "line 6, readings: has nothing where a mapping belongs."),
    ],
)
def test_another_shape_is_told(readings: str, sentence: str) -> None:
    assert faulty(readings) == [f"{FILE}, {sentence}"]


def test_every_fault_of_the_head_is_told_in_one_run() -> None:
    head = "specrules: gauge-study/1\ngauge: {name: mic, klass: x}\nunit: inchs\ndate: 2.10.2026\nwhat: 1\n"
    assert [sentence.removeprefix(f"{FILE}, ") for sentence in faulty("  JT: {1: [2.1]}\n", head)] == [
        'line 2, gauge: "klass" is no key here; write class.',
        'line 3, unit: "inchs" is no known unit; write in.',
        'line 4, date: "2.10.2026" is no date as sheets write them; write it year first: 2026-10-02.',
        'line 5: "what" is no key here; write one of specrules, gauge, unit, date, readings.',
        "line 7, readings: a single reading of each part cannot show repeatability; read each part again.",
    ]


@pytest.mark.parametrize(
    ("was", "now", "sentence"),
    [
        ("2026-10-02", "2026-02-30", 'line 4, date: there is no day "2026-02-30".'),
        ("2026-10-02", "[2026]", "line 4, date: has a list where a text belongs."),
        ("{name: mic 2-3, class: outside micrometer}", "mic", f"line 2, gauge: {MAPPING}"),
        (", class: outside micrometer", "", 'line 2, gauge: has no "class" (as packs name it).'),
        ("unit: in\n", "", 'line 1: has no "unit" (what a bare number means, such as in or mm).'),
        ("gauge-study/1", "study/9", f'line 1, specrules: "study/9" {KNOWN}'),
        ("gauge-study/1", "[1]", f"line 1, specrules: this {KNOWN}"),
    ],
)
def test_a_slip_in_the_head(was: str, now: str, sentence: str) -> None:
    assert said(written(TWO, HEAD.replace(was, now))) == [f"{FILE}, {sentence}"]


def test_a_file_of_another_kind_is_said_to_be_one() -> None:
    assert said("unit: in\n") == [
        f"{FILE}, line 1: this file does not say that it is a gauge study; "
        "write specrules: gauge-study/1 on its first line."
    ]
    assert len(said("a: b: c\n")) == 1


def test_temperatures_on_a_scale_are_not_taken() -> None:
    (sentence,) = said(written({"JT": {"1": ["20", "21"]}}, HEAD.replace("unit: in", "unit: degC")))
    assert "temperatures on a scale" in sentence


@given(st.text(alphabet="specrules: gauge-study/1\n{}[],'\"JT12.5±open", max_size=200))
def test_nothing_that_is_read_raises(tail: str) -> None:
    for text in (tail, f"{HEAD}readings:\n  JT: {{1: [{tail}]}}\n", f"{HEAD}readings: {tail}\n"):
        found, faults = read_study(text, FILE)
        assert (found is None) == bool(faults)
