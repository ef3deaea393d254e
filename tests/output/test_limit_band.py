"""The drawing of a value between its limits: where it stands, and that beyond is always drawn beyond."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.output.encoding import plain
from specrules.output.limit_band import WIDTH, band

D = Decimal
AMOUNTS = st.decimals(-1000, 1000, places=6)
VALUE = "●◄►"


@pytest.mark.parametrize(
    ("value", "least", "aim", "most", "drawn"),
    [
        ("20", "10", "20", "30", "     ├───────●───────┤"),
        ("10", "10", "20", "30", "     ●───────┼───────┤"),
        ("30", "10", "20", "30", "     ├───────┼───────●"),
        ("15", "10", None, "30", "     ├───●───────────┤"),
        ("8", "10", "20", "30", "   ●─┼───────┼───────┤"),
        ("9.999", "10", "20", "30", "    ●┼───────┼───────┤"),
        ("30.001", "10", "20", "30", "     ├───────┼───────┼●"),
        ("-500", "10", "20", "30", "◄────┼───────┼───────┤"),
        ("500", "10", "20", "30", "     ├───────┼───────┼──►"),
        ("2", None, None, "4", "     ────────●───────┤"),
        ("5", None, None, "4", "     ────────────────┼──►"),
        ("4.2", None, None, "4", "     ────────────────┼●"),
        ("3", "2", None, None, "     ├───────●────────"),
        ("9", "2", None, None, "     ├──────────────────►"),
        ("-0.5", None, None, "4", "   ●─────────────────┤"),
        ("1", None, None, None, ""),
        ("1", "2", None, "2", ""),
        ("1", None, "2", None, ""),
    ],
)
def test_a_value_stands_where_it_belongs(
    value: str, least: str | None, aim: str | None, most: str | None, drawn: str
) -> None:
    limits = [None if limit is None else D(limit) for limit in (least, aim, most)]
    assert band(D(value), *limits) == drawn


def test_a_terminal_that_has_only_ascii_gets_the_same_drawing() -> None:
    assert plain(band(D(8), D(10), D(20), D(30))) == "   o-+-------+-------|"
    assert plain(band(D(-500), D(10), None, D(30))) == "<----+---------------|"


@given(AMOUNTS, AMOUNTS, AMOUNTS, st.sampled_from(["both", "least", "most"]))
def test_beyond_is_drawn_beyond_and_inside_inside(value: Decimal, one: Decimal, other: Decimal, given: str) -> None:
    low, high = sorted((one, other))
    least, most = (low if given != "most" else None), (high if given != "least" else None)
    drawn = band(value, least, None, most)
    assert len(drawn) <= WIDTH
    if not drawn:
        return
    at = next(i for i, letter in enumerate(drawn) if letter in VALUE)
    if least is not None:
        assert (at < 5) == (value < least)
    if most is not None:
        assert (at > 21) == (value > most)
