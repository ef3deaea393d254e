"""The tables of words: what each verdict says of the part, how decision rules guard, which parts a limit line sets."""

from __future__ import annotations

import pickle
from decimal import Decimal

import pytest

from specrules.inspection import Options
from specrules.vocabulary import (
    BEYOND,
    DECISION_RULES,
    IMPORTANCES,
    INSIDE,
    LIMIT_PARTS,
    MAKERS,
    OPEN,
    SIDE_OF,
    SIDES,
    USUAL_DECISION,
    VERDICTS,
    WORN,
    Decided,
    Verdict,
    Why,
)
from tests.inspecting import run

TABLE = [
    ("in spec", Decided.INSIDE, "pass"),
    ("worn within limit", Decided.INSIDE, "pass"),
    ("just in", Decided.INSIDE, "conditional pass"),
    ("just out", Decided.BEYOND, "conditional fail"),
    ("out of spec", Decided.BEYOND, "fail"),
    ("not proven", Decided.OPEN, ""),
    ("not measured", Decided.OPEN, ""),
    ("no figure", Decided.OPEN, ""),
    ("not applicable", Decided.NOTHING, ""),
]
"""Statements of conformity: ILAC-G8:09/2019, clause 4.2.3, has these four and no others."""

SHEET = "specrules: build-sheet/1\npacks: [general]\nunit: in\ndecision: {decision}\n"


def test_the_verdicts_in_their_order() -> None:
    assert [(str(verdict), verdict.decided, verdict.statement) for verdict in Verdict] == TABLE
    assert [word for word, _, _ in TABLE] == list(VERDICTS)


def test_verdicts_are_told_apart_by_what_they_decide() -> None:
    assert INSIDE == (Verdict.IN_SPEC, Verdict.WORN, Verdict.JUST_IN)
    assert BEYOND == (Verdict.JUST_OUT, Verdict.OUT)
    assert OPEN == (Verdict.NOT_PROVEN, Verdict.NOT_MEASURED, Verdict.NO_FIGURE)
    assert {*Verdict} - {*INSIDE, *BEYOND, *OPEN} == {Verdict.NOT_APPLICABLE}
    assert len(INSIDE) + len(BEYOND) + len(OPEN) + 1 == len(Verdict)


@pytest.mark.parametrize("verdict", Verdict)
def test_a_statement_is_made_where_it_is_decided_and_nowhere_else(verdict: Verdict) -> None:
    assert bool(verdict.statement) is (verdict in (*INSIDE, *BEYOND))
    assert ("pass" in verdict.statement) is (verdict in INSIDE)
    assert ("fail" in verdict.statement) is (verdict in BEYOND)


@pytest.mark.parametrize("verdict", Verdict)
def test_a_verdict_is_its_word(verdict: Verdict) -> None:
    """So a count by verdict is found by the word that a pack or a record has."""
    assert Verdict(str(verdict)) is verdict  # type: ignore[call-arg]  # by its value, not made anew
    assert {verdict: 1}[str(verdict)] == 1  # type: ignore[index]  # a text finds it too
    assert pickle.loads(pickle.dumps(verdict)) is verdict


@pytest.mark.parametrize(
    ("name", "guard", "probability", "simple"),
    [
        ("simple", "1", None, True),  # not used: gauges count for nothing
        ("guarded", "1", None, False),  # ILAC-G8:09/2019, 4.2.3: the guard band is U
        ("iso-14253-1", "0.825", 0.95, False),  # 1.65 u, and U = 2 u (from memory)
        ("conformance-95", "1", 0.95, False),  # JCGM 106:2012, clause 7
        ("conformance-99", "1", 0.99, False),
    ],
)
def test_a_decision_rule_guards_so_far(name: str, guard: str, probability: float | None, simple: bool) -> None:
    rule = DECISION_RULES[name]
    assert (rule.name, rule.guard, rule.probability, rule.simple) == (name, Decimal(guard), probability, simple)


def test_the_decision_rules_are_these() -> None:
    assert list(DECISION_RULES) == ["simple", "guarded", "iso-14253-1", "conformance-95", "conformance-99"]
    assert USUAL_DECISION == "guarded"
    assert DECISION_RULES["iso-14253-1"].guard == Decimal("1.65") / 2
    assert [name for name, rule in DECISION_RULES.items() if rule.simple] == ["simple"]


@pytest.mark.second_lane
@pytest.mark.parametrize("name", DECISION_RULES)
def test_a_sheet_may_ask_for_each_of_them(name: str) -> None:
    found, faults = run(SHEET.format(decision=name), {}, Options())
    assert found is not None, faults
    assert found.decision == name


def test_a_limit_line_sets_these_parts() -> None:
    assert SIDES == ("least", "most")
    assert LIMIT_PARTS == ("least", "aim", "most", "wear least", "wear most")
    assert WORN == {"least": "wear least", "most": "wear most"}
    assert SIDE_OF == {"least": "least", "wear least": "least", "most": "most", "wear most": "most"}


def test_the_gravest_comes_first() -> None:
    assert IMPORTANCES == ("critical", "major", "minor")


def test_no_two_reasons_have_one_code() -> None:
    assert len(Why.__members__) == len(Why)
    assert all(why.value and why.value == why.value.strip() for why in Why)


def test_what_only_the_maker_settles_is_why_there_is_no_figure() -> None:
    no_line = {Why.NO_LIMIT_LINE, Why.NO_ROW, Why.LIMIT_WITHOUT_VALUE, Why.MARGIN_TAKES_ALL}
    for_others = {Why.HOLDS_FOR_OTHERS, Why.HOLDS_FOR_OTHER_SIZES}
    assert set(MAKERS) == {Why.ASK_THE_MAKER, Why.LIMITS_CROSS, *no_line, *for_others}
