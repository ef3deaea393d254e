"""The nearest known word: slips of the pen are found, guesses are not made."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.quantity import likely, nearest
from specrules.quantity.nearest_name import slips
from tests.timing import times_as_long

NAMES = ("main_journal", "rod_journal", "cylinder_bore", "mm", "unit")


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("main_jornal", "main_journal"),  # lost
        ("main_journnal", "main_journal"),  # added
        ("main_journel", "main_journal"),  # changed
        ("mian_journal", "main_journal"),  # exchanged
        ("Main_Journal", "main_journal"),  # case does not count
        ("mmm", "mm"),
        ("MM", "mm"),
        ("nm", None),  # one letter of two is not a slip
        ("camshaft", None),
        ("", None),
        ("x" * 10**6, None),
    ],
)
def test_nearest(typed: str, meant: str | None) -> None:
    assert nearest(typed, NAMES) == meant


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("bore gage", "bore gauge"),  # a slip of the pen comes first
        ("dial bore gauge", "bore gauge"),  # each word of it stands there
        ("gauge", "bore gauge, depth gauge or telescoping gauge"),  # it has the word of it
        ("Digital_Caliper", "caliper"),
        ("dial gauge", ""),  # one word of two is another thing
        (" ", ""),
        ("", ""),
    ],
)
def test_what_was_likely_meant(said: str, meant: str) -> None:
    assert likely(said, ["bore gauge", "depth gauge", "telescoping gauge", "caliper"]) == meant


def test_the_first_of_equals() -> None:
    assert nearest("bat", ["cat", "rat"]) == "cat"
    assert nearest("bat", ["rat", "cat"]) == "rat"
    assert nearest("bat", []) is None


@pytest.mark.parametrize(
    ("one", "other", "count"), [("kitten", "sitting", 3), ("ca", "ac", 1), ("", "abc", 3), ("ca", "abc", 3)]
)
def test_published_distances(one: str, other: str, count: int) -> None:
    """kitten/sitting: the usual textbook pair; ca/abc is 3 under optimal string alignment (2 without its
    restriction), the pair by which the two are told apart. From memory."""
    assert slips(one, other, 99) == count


@given(st.text(max_size=12), st.text(max_size=12))
def test_distance_is_symmetric_and_zero_only_for_equals(one: str, other: str) -> None:
    assert slips(one, other, 99) == slips(other, one, 99)
    assert (slips(one, other, 99) == 0) is (one == other)


@pytest.mark.second_lane
def test_twice_as_long_names_take_four_times_as_long() -> None:
    """Each letter is held against each: with half as much again for the rest, and no more."""

    def searched(length: int) -> None:
        assert nearest("x" * 4 * length, [f"{number:04}" * length for number in range(200)]) is None

    assert times_as_long(lambda: searched(14), lambda: searched(7)) < 6


@given(st.text(max_size=12), st.text(max_size=12), st.integers(0, 6))
def test_counting_stops_early_only_where_there_are_more(one: str, other: str, most: int) -> None:
    count = slips(one, other, 99)
    assert min(slips(one, other, most), most + 1) == min(count, most + 1)
