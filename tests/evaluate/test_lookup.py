"""A table looked up: each kind of key, keys that are not one number, and keys without a row."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.evaluate import NotEvaluable, Point, StatedErrors, Value, exactly
from specrules.evaluate.lookup import MOST_ROWS, label_at, number_at
from specrules.formula import KeyKind, LookupTable, PrintedColumn, Rows, TableColumn, TableKey
from specrules.pack import Specification
from specrules.quantity import NO_UNIT
from specrules.vocabulary import Why
from tests.pack.small_packs import resolved
from tests.pack.small_tables import PACK

SPEC = resolved(PACK)
SURE = StatedErrors()


def column(function: str, spec: Specification = SPEC) -> TableColumn:
    return spec.scope.columns[function]


def size(text: str, u: float = 0.0) -> Value:
    """A size in mm, sure or with a standard uncertainty of its own; `a..b` is a range."""
    low, _, high = text.partition("..")
    if high:
        return Value(Point(Decimal(low), {}), Point(Decimal(high), {}))
    return exactly(Decimal(low), {0: 1.0} if u else {})


def um(value: Value) -> tuple[int, int]:
    assert value.low is not None
    assert value.high is not None
    return int(value.low.value * 1000), int(value.high.value * 1000)


@pytest.mark.parametrize(
    ("at", "low", "high"),
    [
        ("0.5", 6, 6),
        ("3", 6, 6),  # printed over 3 to 6: the edge belongs to the band below
        ("3.000001", 8, 8),
        ("6", 8, 8),
        ("10", 9, 9),
        ("18.1", 13, 13),
        ("5000", 13, 13),
        ("2..3", 6, 6),
        ("2.9..3.1", 6, 8),
        ("1..9", 6, 9),
    ],
)
def test_a_band_is_half_open_and_a_range_across_its_edge_is_both_rows(at: str, low: int, high: int) -> None:
    assert um(number_at(column("grade_six"), [size(at)], SURE)) == (low, high)


@pytest.mark.parametrize(
    ("at", "U", "low", "high"),
    [("2.99", 0.0, 6, 6), ("2.99", 0.02, 6, 8), ("2.97", 0.02, 6, 6), ("3", 0.001, 6, 8), ("5.5", 0.02, 8, 8)],
)
def test_a_size_reaches_as_far_as_its_uncertainty(at: str, U: float, low: int, high: int) -> None:
    """U in mm, twice the standard uncertainty."""
    sure = StatedErrors({0: U / 2})
    found = number_at(column("grade_six"), [size(at, U)], sure)
    assert um(found) == (low, high)
    assert found.whole


@pytest.mark.parametrize("at", ["10.1", "18", "9..19", "10..10.1", "17..19"])
def test_a_size_that_may_lie_in_a_gap_has_no_row(at: str) -> None:
    with pytest.raises(NotEvaluable) as trouble:
        number_at(column("grade_six"), [size(at)], SURE)
    assert trouble.value.reason.code is Why.NO_ROW
    assert trouble.value.reason.names == ("grade", "nominal")


def test_the_reason_names_the_key_in_the_unit_of_the_table() -> None:
    with pytest.raises(NotEvaluable) as trouble:
        number_at(column("grade_six"), [size("12.5")], SURE)
    assert trouble.value.reason.text == "12.5 mm"


@pytest.mark.parametrize(
    ("at", "worth"),
    [("10", "1"), ("15", "1.5"), ("20", "2"), ("30", "2.5"), ("40", "3"), ("45", "2"), ("50", "1")],
)
def test_a_linear_key_lies_between_two_rows(at: str, worth: str) -> None:
    found = number_at(column("factor_rise"), [size(at)], SURE)
    assert found.exact
    assert found.low is not None
    assert found.low.value == Decimal(worth)


def test_within_one_stretch_a_figure_moves_with_its_key() -> None:
    found = number_at(column("factor_rise"), [size("15", 0.1)], StatedErrors({0: 0.1}))
    assert found.low is not None
    assert found.low.slopes == {0: pytest.approx(0.1)}  # 1 more in 10 mm


@pytest.mark.parametrize(
    ("at", "low", "high"), [("15..25", "1.5", "2.25"), ("30..45", "2", "3"), ("35..40", "2.75", "3")]
)
def test_across_stretches_a_figure_is_all_that_it_passes(at: str, low: str, high: str) -> None:
    found = number_at(column("factor_rise"), [size(at)], SURE)
    assert found.low is not None
    assert found.high is not None
    assert (found.low.value, found.high.value) == (Decimal(low), Decimal(high))


@pytest.mark.parametrize("at", ["9.999", "50.001", "5..15", "45..51"])
def test_a_table_is_not_drawn_on_past_its_ends(at: str) -> None:
    with pytest.raises(NotEvaluable):
        number_at(column("factor_rise"), [size(at)], SURE)


def test_words_and_whole_numbers_find_one_row() -> None:
    two = exactly(Decimal(2))
    assert label_at(column("crossed_shell"), ["B", two], SURE) == "brown"
    assert number_at(column("crossed_plus"), ["B", two], SURE) == exactly(Decimal(2))
    assert label_at(column("grade_name"), [size("2..5")], SURE) == "small"
    assert label_at(column("grade_name"), [size("5..7")], SURE) is None


@pytest.mark.parametrize(
    "keys", [["C", exactly(Decimal(1))], ["A", exactly(Decimal(3))], ["A", exactly(Decimal("1.5"))]]
)
def test_a_word_or_a_number_without_a_row(keys: list[str | Value]) -> None:
    with pytest.raises(NotEvaluable):
        label_at(column("crossed_shell"), keys, SURE)


def test_a_cell_left_out_is_no_row() -> None:
    with pytest.raises(NotEvaluable) as trouble:
        number_at(column("wall_thin"), ["brown"], SURE)
    assert trouble.value.reason == (Why.NO_ROW, ("wall", "colour"), (), "brown")


def test_of_what_is_not_known_nothing_is_said() -> None:
    open_above = Value(Point(Decimal(4), {}), None)
    assert number_at(column("grade_six"), [open_above], SURE) == Value(None, None)
    assert label_at(column("grade_name"), [open_above], SURE) is None
    assert not number_at(column("wall_thin"), [None], SURE).whole
    assert label_at(column("crossed_shell"), [None, exactly(Decimal(1))], SURE) is None


def long_table(count: int) -> TableColumn:
    """Bands of one each, whose figures are their ends."""
    ends = tuple(map(Decimal, range(count + 1)))
    rows = Rows(first=ends[:-1], last=ends[1:], numbers=tuple((end,) for end in ends[1:]))
    table = LookupTable("long", (TableKey("at", KeyKind.BAND, NO_UNIT),), (PrintedColumn("end", NO_UNIT),), rows)
    return TableColumn(table, table.columns[0], 0)


LONG = long_table(2000)


@given(st.decimals(0, 2000, places=3).filter(bool), st.decimals(0, 50, places=3))
def test_a_band_is_found_as_a_scan_finds_it(low: Decimal, width: Decimal) -> None:
    high = min(low + width, Decimal(2000))
    found = number_at(LONG, [Value(Point(low, {}), Point(high, {}))], SURE)
    rows = LONG.table.rows
    scanned = [last for first, last in zip(rows.first, rows.last, strict=True) if first < high and last >= low]
    assert found.low is not None
    assert found.high is not None
    assert (found.low.value, found.high.value) == (scanned[0], scanned[-1])


def test_of_a_key_that_may_be_nearly_anything_nothing_is_said() -> None:
    wide = Value(Point(Decimal("0.5"), {}), Point(Decimal(MOST_ROWS) + 1, {}))
    assert number_at(LONG, [wide], SURE) == Value(None, None)
