"""The one function that decides, row by row. Cases of the four statements are those of ILAC-G8:09/2019, clause 4.2.3;
that a margin of zero is inside is a choice of this project, and each row about it says so."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.inspection import Margin, decide
from specrules.vocabulary import Verdict

OUT, JUST_OUT, JUST_IN, IN = Verdict.OUT, Verdict.JUST_OUT, Verdict.JUST_IN, Verdict.IN_SPEC
OPEN = Verdict.NOT_MEASURED


def margin(
    low: str | None,
    high: str | None = "=",
    U: str = "0",
    *,
    U_high: str = "=",
    side: str = "most",
    whole: bool = True,
    scale: str | None = None,
    half: str = "0",
) -> Margin:
    """A margin from texts; high and U_high are those of low where nothing is said."""
    near, far = (None if end is None else Decimal(end) for end in (low, low if high == "=" else high))
    size = None if scale is None else Decimal(scale)
    return Margin(side, near, far, Decimal(U), Decimal(U if U_high == "=" else U_high), whole, size, Decimal(half))


@pytest.mark.parametrize(
    ("given", "verdict"),
    [
        (margin("0.3", U="0.1"), IN),
        (margin("0.1", U="0.1"), IN),  # inside by exactly U: a pass
        (margin("0.0999", U="0.1"), JUST_IN),
        (margin("0", U="0.1"), JUST_IN),  # on the limit: inside, by our choice
        (margin("-0.0001", U="0.1"), JUST_OUT),
        (margin("-0.1", U="0.1"), JUST_OUT),  # beyond by exactly U: a conditional fail
        (margin("-0.1001", U="0.1"), OUT),
        # simple acceptance: U counts as zero
        (margin("0"), IN),  # on the limit: inside, by our choice
        (margin("0.0000000000001"), IN),
        (margin("-0.0000000000001"), OUT),
        # the one tolerance
        (margin("-1e-31"), IN),
        (margin("-1e-29"), OUT),
        (margin("-1e-9", scale="100"), IN),
        (margin("-1e-7", scale="100"), OUT),
        # ranges decide only where all of them lies on one side
        (margin("0.1", "0.4"), IN),
        (margin("-0.1", "0.4"), OPEN),
        (margin("-0.4", "-0.1"), OUT),
        (margin(None, "-0.1"), OUT),
        (margin("0.1", None), IN),
        (margin(None, "0.4"), OPEN),
        (margin("-0.4", None), OPEN),
        (margin(None, None), OPEN),
        (margin("-0.4", "-0.1", U="0.2"), JUST_OUT),
        (margin(None, "-0.1", U="0.2"), OPEN),  # how far beyond is not known, and the near end is in doubt
        (margin("0.1", "0.4", U="0.2", U_high="0"), JUST_IN),
        # in spec never rests on something missing, out of spec may
        (margin("0.1", "0.4", whole=False), OPEN),
        (margin("0.1", None, whole=False), OPEN),
        (margin(None, "-0.1", whole=False), OUT),
    ],
)
def test_one_margin(given: Margin, verdict: Verdict) -> None:
    assert decide([given]).verdict is verdict


def test_no_limit_is_nothing_to_decide() -> None:
    assert decide([]).verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize("swapped", [False, True])
@pytest.mark.parametrize(
    ("least", "most", "verdict", "side"),
    [
        ("0.2", "0.3", IN, ""),
        ("-0.2", "0.3", OUT, "least"),
        ("0.2", "-0.3", OUT, "most"),
        ("-0.2", "-0.3", OUT, "most"),  # beyond both: the worse is named
        ("0.05", "0.3", JUST_IN, "least"),
        ("0.09", "0.05", JUST_IN, "most"),  # nearer to one: that one is named
        ("-0.05", "0.3", JUST_OUT, "least"),
        ("-0.05", "-0.3", OUT, "most"),
    ],
)
def test_the_worst_of_two_sides_that_is_sure(least: str, most: str, verdict: Verdict, side: str, swapped: bool) -> None:
    margins = [margin(least, U="0.1", side="least"), margin(most, U="0.1", side="most")]
    decision = decide(margins[::-1] if swapped else margins)
    assert (decision.verdict, decision.side) == (verdict, side)


def test_what_is_open_on_one_side_is_open_unless_the_other_is_beyond() -> None:
    unknown = margin(None, None, side="least")
    assert decide([unknown, margin("0.3")]).verdict is OPEN
    assert decide([unknown, margin("-0.3")]).verdict is OUT


@pytest.mark.parametrize(
    ("given", "beyond"),
    [
        (margin("-0.3"), "0.3"),
        (margin("-0.4", "-0.1"), "0.1"),  # at the least
        (margin("-0.3", U="0.1", half="0.1"), "0.2"),  # a bracket: its near end
        (margin("-0.05", U="0.1", half="0.1"), "0"),  # a bracket with the limit in it
    ],
)
def test_how_far_beyond_at_the_least(given: Margin, beyond: str) -> None:
    assert decide([given]).beyond == Decimal(beyond)


def test_inside_is_beyond_by_nothing() -> None:
    assert decide([margin("0.3")]).beyond is None


def test_statements_of_conformity() -> None:
    """ILAC-G8:09/2019, clause 4.2.3: the words for the four statements, from memory."""
    assert [verdict.statement for verdict in (IN, JUST_IN, JUST_OUT, OUT)] == [
        "pass",
        "conditional pass",
        "conditional fail",
        "fail",
    ]
    assert not OPEN.statement
