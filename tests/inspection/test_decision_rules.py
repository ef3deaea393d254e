"""No decision rule passes what simple acceptance would not, and none doubts what is certain."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.evaluate.error_distribution import ErrorDistribution
from specrules.inspection import Margin, decide, inside
from specrules.vocabulary import DECISION_RULES, Verdict

OTHERS = [rule for rule in DECISION_RULES.values() if not rule.simple]
ROOMS = st.decimals("-0.01", "0.01", places=5)
WIDTHS = st.decimals("0", "0.004", places=5)


def verdict(rule: str, rooms: list[Decimal], bracket: Decimal, mpe: Decimal, u: Decimal) -> Verdict:
    """Of a value so far inside its limits, of which a bracket, a permissible error and a normal error are known."""
    name = DECISION_RULES[rule]
    halves = [float(half) for half in (bracket, mpe) if half]
    squares = sum(half * half for half in halves) / 3 + float(u) ** 2
    widest = sum(halves) + 2 * float(u)
    U = bracket if name.simple else Decimal(repr(min(2 * math.sqrt(squares), widest)))
    margins = [
        Margin(side, room, room, U, U, half=bracket) for side, room in zip(("least", "most"), rooms, strict=False)
    ]
    error = ErrorDistribution(float(u) ** 2, halves)
    return decide(margins, name, lambda: inside([(room, error) for room in rooms])).verdict


@pytest.mark.parametrize("rule", [rule.name for rule in OTHERS])
@given(st.lists(ROOMS, min_size=1, max_size=2), WIDTHS, WIDTHS, WIDTHS)
def test_what_simple_acceptance_does_not_pass_or_fail_none_does(
    rule: str, rooms: list[Decimal], bracket: Decimal, mpe: Decimal, u: Decimal
) -> None:
    simple, found = (verdict(each, rooms, bracket, mpe, u) for each in ("simple", rule))
    if found is Verdict.IN_SPEC:
        assert simple is Verdict.IN_SPEC
    if found is Verdict.OUT:
        assert simple is Verdict.OUT


@pytest.mark.parametrize("rule", [rule.name for rule in OTHERS])
@given(WIDTHS, WIDTHS, WIDTHS)
def test_what_is_certain_to_be_inside_is_not_doubted(rule: str, bracket: Decimal, mpe: Decimal, more: Decimal) -> None:
    """A bracket wholly within the limits, the permissible error of its gauge taken into account."""
    room = bracket + mpe + more
    assert verdict(rule, [room, room], bracket, mpe, Decimal(0)) is Verdict.IN_SPEC


@pytest.mark.parametrize(
    ("rule", "found"),
    [
        ("simple", Verdict.JUST_IN),
        ("guarded", Verdict.JUST_IN),  # U of two brackets is 0.00082, and half their width 0.001
        ("iso-14253-1", Verdict.JUST_IN),
        ("conformance-95", Verdict.JUST_IN),  # with 99.5 %
        ("conformance-99", Verdict.JUST_IN),
    ],
)
def test_two_brackets_of_a_thou_with_nine_tenths_to_spare(rule: str, found: Verdict) -> None:
    halves, room = (0.0005, 0.0005), Decimal("0.0009")
    U = Decimal("0.001") if rule == "simple" else Decimal("0.00082")
    margin = Margin("least", room, room, U, U, half=Decimal("0.001"))
    error = ErrorDistribution(halves=halves)
    assert decide([margin], DECISION_RULES[rule], lambda: inside([(room, error)])).verdict is found
