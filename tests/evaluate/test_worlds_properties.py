"""Unknown is never false: with facts unstated a verdict is unknown, or what every completion of those facts gives."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from specrules.inspection import Finding
from specrules.vocabulary import Verdict
from tests.evaluate.small_worlds import judged, rule_text

NUMBERS = {
    "seat": (("20 mm", "30 mm"), ("10 mm", "20 mm", "25 mm", "30 mm", "40 mm")),
    "rise": (("-1 mm", "1 mm"), ("-2 mm", "-1 mm", "0 mm", "1 mm", "2 mm")),
    "ratio": (("2", "3"), ("1", "2", "2.5", "3", "4")),
    "bolts": (("2", "2.5", "4"), ("1", "2", "3", "4", "5")),
}
"""What each is compared with, and one value from everywhere that this tells apart."""
RULES = ("one", "two", "three")
LABELS = {"metal": ("iron", "steel"), "lined": ("yes", "no")}
VALUES = {**{name: values for name, (_, values) in NUMBERS.items()}, **LABELS}


@st.composite
def comparisons(draw: st.DrawFn) -> str:
    """One comparison of a fact."""
    name = draw(st.sampled_from([*VALUES]))
    negated = draw(st.sampled_from(["", "not "]))
    if name in LABELS:
        return f"{negated}{name} {draw(st.sampled_from(['==', '!=']))} {draw(st.sampled_from(LABELS[name]))}"
    sign = draw(st.sampled_from(["<", "<=", "==", "!=", ">=", ">"]))
    return f"{negated}{name} {sign} {draw(st.sampled_from(NUMBERS[name][0]))}"


CONDITIONS = st.recursive(
    comparisons(),
    lambda inner: st.tuples(inner, st.sampled_from(["and", "or"]), inner).map(lambda three: f"({' '.join(three)})"),
    max_leaves=3,
)
LIMITS = st.sampled_from(
    ["least: 0.2 mm", "most: 0.3 mm", "most: 0.4 mm", "least: 0.1 mm, most: 0.5 mm", "shift: 0.1 mm"]
)


@st.composite
def rules(draw: st.DrawFn, name: str) -> str:
    """A rule that hangs on conditions: in its lines, and here and there in its formula or in whether it applies."""
    lines = draw(st.sampled_from([[], ["{name: base, least: 0.15 mm, most: 0.45 mm}"]]))
    for number in range(draw(st.integers(1, 3))):
        lines = [*lines, f'{{name: l{number}, when: "{draw(CONDITIONS)}", {draw(LIMITS)}}}']
    formula = f'"gap + 0.1 mm if {draw(CONDITIONS)} else gap"' if draw(st.booleans()) else "gap"
    applies = f'    applies when: "{draw(CONDITIONS)}"\n' if draw(st.booleans()) else ""
    return rule_text(", ".join(lines), name, formula, applies)


@st.composite
def sheets(draw: st.DrawFn, most: int) -> tuple[str, str, dict[str, str], list[str]]:
    """Three rules, a gap, the facts that are stated, and at most so many that are not."""
    made = "".join(draw(rules(name)) for name in RULES)
    unstated = draw(st.lists(st.sampled_from([*VALUES]), min_size=1, max_size=most, unique=True))
    stated = {name: draw(st.sampled_from(values)) for name, values in VALUES.items() if name not in unstated}
    return made, draw(st.sampled_from(["0.10", "0.25", "0.35", "0.45"])), stated, unstated


def decided(finding: Finding | None) -> tuple[Verdict, str]:
    """What the limits alone say, whatever else is in doubt; of a rule that is not there, that it does not apply."""
    if finding is None:
        return Verdict.NOT_APPLICABLE, ""
    return finding.would_be or finding.verdict, finding.side


def hold(made: str, gap: str, stated: dict[str, str], unstated: list[str]) -> None:
    """Compare what is said without some facts with what is said with each completion of them."""

    def inspected(facts: dict[str, str]) -> dict[str, Finding]:
        report = judged(made, gap, ", ".join(f"{name}: {value}" for name, value in facts.items()))
        return {finding.rule: finding for finding in report.findings}

    completions = [
        inspected({**stated, **dict(zip(unstated, values, strict=True))})
        for values in product(*[VALUES[name] for name in unstated])
    ]
    found = inspected(stated)
    for rule in RULES:
        every = {decided(completion.get(rule)) for completion in completions}
        assert all(verdict is not Verdict.NOT_MEASURED for verdict, _ in every)  # all is measured, all is stated
        finding = found.get(rule)
        if finding is None or finding.verdict is not Verdict.NOT_MEASURED:
            assert every == {decided(finding)}
        else:
            assert {name for reason in finding.rests_on.missing for name in reason.names} <= {*unstated}
            assert finding.rests_on.missing
        if len(unstated) == 1:  # so few worlds that none is left out, and none that cannot be
            assert (decided(finding)[0] is Verdict.NOT_MEASURED) is (len(every) > 1)


@pytest.mark.second_lane
@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(sheets(most=2))
def test_a_verdict_without_some_facts_is_that_of_every_completion(
    sheet: tuple[str, str, dict[str, str], list[str]],
) -> None:
    hold(*sheet)


@pytest.mark.second_lane
@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(sheets(most=3))
def test_it_is_with_up_to_three_facts_unstated(sheet: tuple[str, str, dict[str, str], list[str]]) -> None:
    hold(*sheet)
