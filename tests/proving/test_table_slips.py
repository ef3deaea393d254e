"""What proving finds in tables: each slip at the line of the row that has it, and nothing in tables that are right."""

from __future__ import annotations

import pytest

from specrules.pack.pack_reading import read_pack
from specrules.proving import Proof, prove
from tests.pack.small_tables import PACK

GOOD = "    rows: {to 3: [6, small], over 3 to 6: [8, small], over 6 to 10: [9, middle], over 18: [13, large]}\n"


def proof(text: str) -> Proof:
    pack, faults = read_pack([("tables.pack.yaml", text.encode())])
    assert pack is not None, faults
    return prove([pack], "tables")


def of_tables(text: str) -> list[tuple[str, str, str]]:
    return [
        (remark.subject, remark.kind, remark.said)
        for remark in proof(text).remarks
        if remark.subject.endswith(" rows") or remark.subject in ("wall", "crossed", "grade", "factor")
    ]


def test_a_gap_and_usual_sizes_without_a_row_are_asked_about() -> None:
    assert of_tables(PACK) == [
        (
            "grade rows",
            "question",
            'leaves a gap between "over 6 to 10" and "over 18", in which there is no figure',
        ),
        ("factor", "question", "has no figure for all usual sizes of shaft"),
    ]


def test_nothing_is_said_of_tables_that_are_whole() -> None:
    whole = PACK.replace("over 18: [13", "over 10: [13").replace("{10: 1, 20: 2,", "{1: 1, 20: 2,")
    assert of_tables(whole) == []


@pytest.mark.parametrize(
    ("good", "bad", "row", "said"),
    [
        ("over 3 to 6: [8,", "over 3 to 6: [80,", "over 3 to 6", "ten times its neighbours"),
        ("over 6 to 10: [9,", "over 6 to 10: [0.9,", "over 6 to 10", "a tenth of its neighbours"),
        ("40: 3,", "40: 30,", "40", ""),
        ("brown: [none, 1.508", "brown: [none, 15.08", "brown", "ten times its neighbours"),
        ("black: [1.500, 1.504", "black: [1.500, 0.1504", "black", "a tenth of its neighbours"),
    ],
)
def test_a_row_ten_times_off_its_neighbours_is_a_slip(good: str, bad: str, row: str, said: str) -> None:
    text = PACK.replace(good, bad)
    slips = [remark for remark in proof(text).remarks if remark.kind == "slip" and remark.subject.endswith(" rows")]
    if not said:  # beside 2 and 1 a 30 is no tenfold of either
        assert slips == []
        return
    assert [remark.said.endswith(said) for remark in slips] == [True]
    assert slips[0].place.line == text[: text.index(bad)].count("\n") + 1
    assert f'"{row}"' in slips[0].said
    assert not proof(text).sound


def test_a_column_that_rises_is_held_to_it() -> None:
    rising = PACK.replace("columns: {six: um,", "columns: {six: {holds: um, order: rising},")
    assert not any(kind == "slip" for _, kind, _ in of_tables(rising))
    wrong = rising.replace("over 6 to 10: [9,", "over 6 to 10: [7,")
    assert [said for _, kind, said in of_tables(wrong) if kind == "slip"] == [
        'has six of "over 6 to 10" on the wrong side of the row before it, and it is rising'
    ]


def test_a_whole_number_left_out_is_asked_about() -> None:
    gap = PACK.replace("A: {1: [blue, 0], 2:", "A: {1: [blue, 0], 4:")
    assert (
        "crossed rows",
        "question",
        'leaves a gap between "1" and "4", in which there is no figure',
    ) in of_tables(gap)
