"""The nearest known word: slips of the pen are found, guesses are not made."""

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.quantity import nearest
from specrules.quantity.nearest import slips

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
    assert slips(one, other) == count


@given(st.text(max_size=12), st.text(max_size=12))
def test_distance_is_symmetric_and_zero_only_for_equals(one: str, other: str) -> None:
    assert slips(one, other) == slips(other, one)
    assert (slips(one, other) == 0) is (one == other)


def test_many_long_names_take_little_time() -> None:
    names = [f"{number:04}" * 15 for number in range(200)]
    start = time.process_time()
    assert nearest("x" * 60, names) is None
    assert time.process_time() - start < 2
