"""What a sheet says of its parts, and what is wrong with it."""

from __future__ import annotations

import pytest

from specrules.sheet import PartStates
from tests.sheet.small_shop import sentences, sheet_of, shop

FOUR = "facts: {mains: 3, cylinders: 4, banks: {left: [1, 2], right: [3, 4]}, throws: [[1, 3], [2, 4]]}\n"


@pytest.mark.parametrize(
    ("written", "states"),
    [
        ("{crankshaft: reused}", {"crankshaft": {(): "reused"}}),
        ("{saddles: machined}", {"saddles": {(): "machined"}}),
        ("{saddles: {1: new, others: reused}}", {"saddles": {("1",): "new", ("2",): "reused", ("3",): "reused"}}),
        ("{saddles: {1 to 2: new, 3: open}}", {"saddles": {("1",): "new", ("2",): "new"}}),
        ("{saddles: , crankshaft: open}", {}),
        ("{heads: {left: machined}}", {"heads": {("left",): "machined"}}),
        (
            "{valves: {1: {intake: new}, 2: {others: reused}}}",
            {"valves": {("1", "intake"): "new", ("2", "intake"): "reused", ("2", "exhaust"): "reused"}},
        ),
    ],
)
def test_parts_are_told_as_facts_are(written: str, states: dict[str, object]) -> None:
    assert sheet_of(f"{FOUR}parts: {written}\n").parts == states


@pytest.mark.parametrize(
    ("written", "sentence"),
    [
        ("{crankshafts: new}", '"crankshafts" is no part of these packs; write crankshaft.'),
        ("{main_journal: new}", '"main_journal" is no part of these packs; there are crankshaft, saddles, valves'),
        ("{crankshaft: used}", 'crankshaft: "used" is none of new, reused, machined.'),
        ("{crankshaft: {1: new}}", 'crankshaft: "1" stands where one figure belongs.'),
        ("{saddles: {4: new}}", 'saddles: "4" is no main; there are 1 to 3, since mains is 3; write mains: 4 under'),
        ("{saddles: [new, new, reused]}", "saddles: a list does not say which main each figure is of"),
        ("{crankshaft: {repeats: [new, new]}}", "crankshaft: a state is stated once; repeats are for readings."),
        ("{saddles: {1: new, 1 to 2: reused}}", "saddles 1"),
    ],
)
def test_what_is_wrong_is_told_at_its_place(written: str, sentence: str) -> None:
    (told,) = sentences(f"{FOUR}parts: {written}\n")
    assert told.startswith("line 4, ")
    assert sentence in told


def test_stations_that_nobody_laid_out_are_no_stations() -> None:
    (told,) = sentences("facts: {cylinders: 4}\nparts: {crank_throws: {1: new}}\n")
    assert "which cylinder belongs to which throw is not stated" in told
    assert sheet_of("facts: {cylinders: 4}\nparts: {crank_throws: new}\n").parts == {"crank_throws": {(): "new"}}


@pytest.mark.parametrize(
    ("written", "place", "answer"),
    [
        ("{crankshaft: reused}", ("main_journal", ("1", "front", "a")), True),
        ("{crankshaft: reused}", ("main_bore", ("1", "front")), None),
        ("{crankshaft: reused}", ("crank_end_float", ()), None),  # on no part
        ("{crankshaft: machined}", ("main_journal", ("1", "front", "a")), False),
        ("{saddles: {1: new, 2: reused}}", ("main_bore", ("1", "front")), False),
        ("{saddles: {1: new, 2: reused}}", ("main_bore", ("2", "front")), True),
        ("{saddles: {1: new, 2: reused}}", ("main_bore", ("3", "front")), None),
        ("{heads: {left: reused}}", ("chamber_volume", ("2",)), True),  # by the bank of its cylinder
        ("{heads: {left: reused}}", ("chamber_volume", ("3",)), None),
        ("{crankshaft: reused}", ("rod_journal", ("1", "front", "a")), None),  # its throw is a part of its own
        ("{crankshaft: reused, crank_throws: {1: reused}}", ("rod_journal", ("1", "front", "a")), True),
        ("{crankshaft: reused, crank_throws: {1: new}}", ("rod_journal", ("1", "front", "a")), False),
        ("{crank_throws: {1: new}}", ("rod_journal", ("1", "front", "a")), False),
    ],
)
def test_a_place_is_reused_where_all_its_parts_are(
    written: str, place: tuple[str, tuple[str, ...]], answer: bool | None
) -> None:
    assert PartStates(sheet_of(f"{FOUR}parts: {written}\n"), shop()).reused([place]) is answer


def test_one_place_that_is_not_reused_settles_it() -> None:
    states = PartStates(sheet_of(f"{FOUR}parts: {{saddles: {{1: new, 2: reused}}}}\n"), shop())
    places = [("main_bore", (main, "front")) for main in "123"]
    assert (states.reused(places), states.reused(places[1:]), states.reused([])) == (False, None, None)


def test_without_a_word_on_parts_nothing_is_said() -> None:
    assert PartStates(sheet_of(FOUR), shop()).reused([("main_bore", ("1", "front"))]) is None
