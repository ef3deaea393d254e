"""Places, runs and lists in words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.output.words import counted, listed, lower, place, places, runs, sentence, short


@pytest.mark.parametrize(
    ("labels", "said"),
    [
        ("1", "1"),
        ("1 2", "1, 2"),
        ("1 2 3", "1-3"),
        ("1 2 3 5", "1-3, 5"),
        ("8 1 2 3", "8, 1-3"),
        ("1 3 5 6 7", "1, 3, 5-7"),
        ("2 1", "2, 1"),
    ],
)
def test_numbers_in_a_row_become_a_run(labels: str, said: str) -> None:
    assert runs(labels.split()) == said


@given(st.sets(st.integers(1, 40)).map(sorted))
def test_a_run_says_every_number_and_no_other(numbers: list[int]) -> None:
    told: list[int] = []
    for span in filter(None, runs([str(number) for number in numbers]).split(", ")):
        first, _, last = span.partition("-")
        told += range(int(first), int(last or first) + 1)
    assert told == numbers


@pytest.mark.parametrize(
    ("stations", "said"),
    [
        ([{}], ""),
        ([{"main": "3"}], "main 3"),
        ([{"main": "1"}, {"main": "2"}, {"main": "4"}], "main 1, 2, 4"),
        ([{"bank": "left"}, {"bank": "right"}], "left, right"),
        ([{"bank": "all"}], ""),
        ([{"cylinder": "4", "ring": "top"}], "cylinder 4 top"),
        ([{"cylinder": n, "ring": "top"} for n in "1234"], "cylinder 1-4 top"),
        ([{"cylinder": n, "ring": r} for n in "123" for r in ("top", "oil")], "cylinder 1-3: top, oil"),
        (
            [{"cylinder": n, "ring": "top"} for n in "134"] + [{"cylinder": "1", "ring": "oil"}],
            "cylinder 1, 3, 4: top; cylinder 1 oil",
        ),
        ([{"rod_pair": "2"}], "rod pair 2"),
    ],
)
def test_many_places_are_said_briefly(stations: list[dict[str, str]], said: str) -> None:
    assert places(stations) == said


def test_a_place_says_the_axis_of_a_number_and_a_name_by_itself() -> None:
    assert place({"main": "3"}, {"plane": "front", "clock": "a"}) == "main 3 front a"
    assert place({"bank": "left_hand"}) == "left hand"
    assert place({"main_class": "all"}) == ""


def test_lists_counts_and_sentences() -> None:
    assert [listed(words) for words in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == ["", "a", "a and b", "a, b and c"]
    assert counted([("in spec", 3), ("just in", 0), ("out of spec", 1)]) == "3 in spec, 1 out of spec"
    assert [sentence(text) for text in ("", " read it ", "Why?", "so.")] == ["", "Read it.", "Why?", "So."]
    assert short("Main clearance (total, on the diameter)") == "Main clearance"
    assert [lower(title) for title in ("Main clearance", "TDC", "")] == ["main clearance", "TDC", ""]
