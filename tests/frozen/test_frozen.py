"""The core judges 300 random sheets as it did before it was rewritten, under every decision rule."""

from __future__ import annotations

from itertools import islice

import pytest

from tests.frozen.compare import all_differences, same
from tests.frozen.data import MAKERS, less, more, waits
from tests.frozen.reading import DECISIONS


@pytest.mark.second_lane
def test_every_sheet_is_judged_as_it_was() -> None:
    """Values and limits to the last digit, verdicts and reasons alike, U to 1e-9; what issue 8 changes excepted."""
    found = [*islice((str(each) for each in all_differences(DECISIONS) if not each.mark), 20)]
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    ("was", "now", "alike"),
    [
        ("1.25", "1.25", True),
        ("1.25", "1.250000000001", False),  # a value: to the last digit
        (1.25, 1.2500000001, True),  # U: to 1e-9
        (1.25, 1.2500001, False),
        (1e-3, 0.0, False),
        ([["least", "0.1", 1.0]], [["least", "0.1", 1.0 + 1e-12]], True),
        ([["least", "0.1", 1.0]], [["least", "0.10001", 1.0]], False),
        ("in spec", None, False),
        (1, True, False),
    ],
)
def test_what_counts_as_the_same(was: object, now: object, alike: bool) -> None:
    assert same(was, now) is alike


def test_a_record_comes_back_from_what_it_differs_by() -> None:
    was = {"verdict": "held", "findings": {"fit@": {"v": "in spec", "U": 0.1}, "top@": {"v": "just in"}}}
    now = {"counts": {"in spec": 1}, "findings": {"fit@": {"v": "just in"}, "top@": {"v": "just in"}}}
    assert less(was, now) == {
        "counts": {"in spec": 1},
        "findings": {"fit@": {"U": None, "v": "just in"}},
        "verdict": None,
    }
    assert more(was, less(was, now)) == now


OPEN = "not measured"
ASKED = "state metal"


@pytest.mark.parametrize(
    ("was", "now", "allowed"),
    [
        ({"v": OPEN, "mi": [ASKED, "bare 1"]}, {"v": OPEN, "mi": ["bare 1"], "L": {"most": "50"}}, True),
        ({"v": OPEN, "mi": ["bare 1"]}, {"v": OPEN, "mi": [ASKED, "bare 1"], "r": ["1", "2"]}, True),
        ({"v": OPEN, "mi": [MAKERS]}, {"v": OPEN, "mi": [ASKED, "bare 1"]}, True),  # what the other worlds want
        ({"v": OPEN, "mi": [MAKERS]}, {"v": OPEN, "mi": ["bare 1"]}, False),  # no choice is asked for
        ({"v": OPEN, "mi": ["bare 1"]}, {"v": OPEN, "mi": [ASKED, "bare 1", MAKERS]}, False),
        ({"v": OPEN, "mi": ["bare 1"]}, {"v": OPEN, "mi": [ASKED]}, False),  # a reading is not asked for any more
        ({"v": OPEN, "mi": ["bare 1"]}, {"v": OPEN, "mi": ["state duty", "bare 1"]}, False),  # nothing hangs on it
        ({"v": OPEN, "mi": ["bare 1"]}, {"v": OPEN, "mi": ["bare 1"], "L": {"most": "50"}}, False),
        ({"v": OPEN, "L": {"most": "50"}}, {"v": OPEN, "mi": [ASKED], "L": {"most": "51"}}, False),  # another limit
        ({"v": "in spec"}, {"v": OPEN, "mi": [ASKED]}, False),
        ({"v": OPEN, "mi": [ASKED]}, {"v": "no figure"}, False),
    ],
)
def test_what_only_waits_for_a_choice(was: dict[str, object], now: dict[str, object], allowed: bool) -> None:
    assert waits(was, now, ["metal"]) is allowed
