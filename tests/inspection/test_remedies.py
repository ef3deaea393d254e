"""What each step of a remedy would bring, worked out from the readings and never written down."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.inspection import WholeFinding
from specrules.vocabulary import Verdict
from tests.inspection.small_build import fit, inches, over, readings

OUT, IN = Verdict.OUT, Verdict.IN_SPEC


def outcomes(found: WholeFinding) -> list[tuple[str, Decimal | None, Verdict | None, str, Decimal | None]]:
    return [(step.do, step.value, step.verdict, step.side, step.beyond) for step in found.steps]


@pytest.mark.parametrize(
    ("dial", "half", "verdict", "side", "beyond", "otherwise"),
    [
        ("0.0031", "0.0026", IN, "", None, ""),
        ("0.0035", "0.0030", IN, "", None, ""),  # to the limit exactly
        ("0.0036", "0.0031", OUT, "loose", "0.0001", "Measure the parts."),
    ],
)
def test_outcomes_change_with_the_reading(
    dial: str, half: str, verdict: Verdict, side: str, beyond: str | None, otherwise: str
) -> None:
    found = fit(readings(f"dial: {{1: {dial}}}"))
    by = None if beyond is None else inches(beyond)
    assert outcomes(found) == [("close it", Decimal(half), verdict, side, by), ("look", None, None, "", None)]
    assert (found.because, found.otherwise) == ("It knocks.", otherwise)


def test_a_step_may_move_by_a_formula() -> None:
    assert outcomes(fit(readings("dial: {1: 0.0003}"))) == [
        ("open it", Decimal("0.0008"), OUT, "tight", inches("0.0002")),
        ("open it by the amount it lacks", Decimal("0.0010"), IN, "", None),
    ]


def test_a_step_may_go_too_far() -> None:
    house = over(
        "house", "[{name: base, most: 0.0012 in}]", more="      remedy: {tight: [{do: open it, moves: 0.001 in}]}\n"
    )
    found = fit(readings("dial: {1: 0.0009}", "house", packs={"house": house}))
    assert outcomes(found) == [("open it", Decimal("0.0019"), OUT, "loose", inches("0.0007"))]
    assert found.otherwise == "Measure the parts."


def test_what_is_in_spec_has_no_steps() -> None:
    found = fit(readings("dial: {1: 0.0020}"))
    assert (found.steps, found.otherwise, found.because) == ((), "", "")


@pytest.mark.parametrize("moves", ["redline * 0.001 in", "0.001 in / (redline - redline)"])
def test_a_step_that_cannot_be_worked_out_is_only_named(moves: str) -> None:
    house = over("house", "[{name: base}]", more=f'      remedy: {{loose: [{{do: close it, moves: "{moves}"}}]}}\n')
    facts = "block: iron" if "/" not in moves else "block: iron, redline: 5"
    found = fit(readings("dial: {1: 0.0040}", "house", packs={"house": house}, facts=facts))
    assert outcomes(found) == [("close it", None, None, "", None)]


def test_while_a_reading_is_in_doubt_no_part_is_touched() -> None:
    found = fit(readings("hole: {1: 2.003}, shaft: {1: 2.007}"))
    assert (found.verdict, found.would_be) == (Verdict.NOT_PROVEN, OUT)
    assert (found.steps, found.otherwise) == ((), "")
    confirmed = "hole: {1: {value: 2.003, confirmed: ab}}, shaft: {1: {value: 2.007, confirmed: ab}}"
    found = fit(readings(confirmed))
    assert found.verdict is OUT
    assert [step.do for step in found.steps] == ["open it", "open it by the amount it lacks"]


@pytest.mark.parametrize(("dial", "importance"), [("0.0009", "critical"), ("0.0031", "minor"), ("0.0020", "critical")])
def test_importance_is_that_of_the_side_else_the_gravest(dial: str, importance: str) -> None:
    assert fit(readings(f"dial: {{1: {dial}}}")).importance == importance
