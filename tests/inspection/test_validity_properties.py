"""What not knowing a fact may do to a verdict where figures hold for some things alone: nothing but leave it open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.vocabulary import BEYOND, INSIDE, Verdict
from tests.inspecting import finding
from tests.inspection.test_validity import rams

CHOICES = {"medium": ("oil", "water", "air"), "action": ("single", "double"), "tube_kind": ("drawn", "honed")}
SIZES = st.sampled_from(("19.99", "20.00", "29.99", "30.00", "50.00", "60.00", "60.01", "100.00", "100.01"))
GAPS = st.sampled_from(("0.00", "0.03", "0.04", "0.05", "0.10", "0.11", "0.115", "0.12", "0.13"))
FACTS = st.fixed_dictionaries({name: st.sampled_from(labels) for name, labels in CHOICES.items()})
LEFT_OUT = st.sets(st.sampled_from(sorted(CHOICES)))


def verdict(facts: Mapping[str, str], size: str, gap: str, rule: str) -> Verdict:
    """What comes of a ram of that size with these facts."""
    stated = ", ".join(("rams: 1", f"tube_stated: {size} mm", *(f"{name}: {said}" for name, said in facts.items())))
    if rule == "stop":
        return finding(rams(f"stop_gap: {float(gap) * 30:.2f}", stated), "stop").verdict
    rod = f"{float(size) - float(gap):.3f}"
    return finding(rams(f"tube: {{1: {size}}}, rod: {{1: {rod}}}", stated), "gap", ram="1").verdict


def completions(facts: Mapping[str, str]) -> Iterator[dict[str, str]]:
    """Every way to state what these facts leave out."""
    lacking = [name for name in CHOICES if name not in facts]
    if not lacking:
        yield dict(facts)
        return
    for label in CHOICES[lacking[0]]:
        yield from completions({**facts, lacking[0]: label})


@given(FACTS, LEFT_OUT, SIZES, GAPS, st.sampled_from(("gap", "stop")))
def test_no_figure_never_becomes_a_verdict_on_the_part_by_knowing_less(
    facts: dict[str, str], left_out: set[str], size: str, gap: str, rule: str
) -> None:
    if verdict(facts, size, gap, rule) is Verdict.NO_FIGURE:
        less = {name: said for name, said in facts.items() if name not in left_out}
        assert verdict(less, size, gap, rule) not in (*INSIDE, *BEYOND)


@pytest.mark.second_lane
@given(FACTS, LEFT_OUT, SIZES, GAPS, st.sampled_from(("gap", "stop")))
def test_what_is_not_known_leaves_the_verdict_of_all_that_may_be_or_none(
    facts: dict[str, str], left_out: set[str], size: str, gap: str, rule: str
) -> None:
    less = {name: said for name, said in facts.items() if name not in left_out}
    every = {verdict(whole, size, gap, rule) for whole in completions(less)}
    found = verdict(less, size, gap, rule)
    assert found is (every.pop() if len(every) == 1 else Verdict.NOT_MEASURED)
