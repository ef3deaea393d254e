"""Working an example costs what its own rule needs, however large the pack is; what comes out is the same."""

from __future__ import annotations

import pytest

from specrules.pack import Rule, Specification, told_in
from specrules.proving import examples, tried_values
from specrules.proving.examples import ExampleOutcome, work
from specrules.sheet import RawSheet, Sheet, settle
from tests.pack.small_packs import resolved
from tests.proving.small_proofs import HEAD, LIMITS, WORKED
from tests.shipped import RULED
from tests.shipped import resolved as shipped

PACK = HEAD + LIMITS + WORKED


def _with_more(number: int) -> Specification:
    """The small pack, with so many rules, measurands and facts that its own rule has nothing to do with."""
    facts = "".join(f"  stated_{n}: {{kind: quantity, unit: in}}\n" for n in range(number))
    measurands = "".join(f"  gap_{n}: {{at: [place], unit: in, usual: 1..3 in}}\n" for n in range(number))
    rules = "".join(
        f"  gap_{n}_size:\n    title: Gap {n}\n    each: place\n    formula: gap_{n} + stated_{n}\n    unit: in\n"
        "    importance: major\n    source: {kind: house}\n    limits:\n      - {name: base, least: 0.001 in}\n"
        "    worked:\n      - given: {}\n        at: {0.001: in spec}\n"
        for n in range(number)
    )
    text = PACK.replace("facts:\n", f"facts:\n{facts}", 1).replace("measurands:\n", f"measurands:\n{measurands}", 1)
    return resolved(text + rules)


def _settled_by(spec: Specification, rule: Rule, monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """For each sheet that working a rule's examples settles, how much there is in what it is settled by."""
    sizes: list[int] = []

    def counted(raw: RawSheet, by: Specification) -> tuple[Sheet | None, tuple[object, ...]]:
        sizes.append(len(by.rules) + len(by.figures) + len(by.measurands) + len(by.facts) + len(by.sign_offs))
        return settle(raw, by)

    monkeypatch.setattr(examples, "settle", counted)
    assert not [remark for outcome in work(rule, spec) for remark in outcome.remarks]
    return sizes


def test_an_example_costs_no_more_in_a_larger_pack(monkeypatch: pytest.MonkeyPatch) -> None:
    small, large = _with_more(0), _with_more(20)
    assert len(large.rules) == len(small.rules) + 20
    costs = [_settled_by(spec, spec.rules["fit"].governing[-1], monkeypatch) for spec in (small, large)]
    assert costs[0] == costs[1]
    assert len(costs[0]) == len(small.rules["fit"].governing[-1].worked)


@pytest.mark.second_lane
def test_every_shipped_example_is_settled_once_and_by_a_part_of_its_pack(monkeypatch: pytest.MonkeyPatch) -> None:
    spec = shipped("general")
    spec = told_in(spec, spec.unit)
    whole = len(spec.rules) + len(spec.figures) + len(spec.measurands) + len(spec.facts) + len(spec.sign_offs)
    every: list[int] = []
    for chain in spec.rules.values():
        (rule,) = chain.governing
        sizes = _settled_by(spec, rule, monkeypatch)
        assert len(sizes) == len(rule.worked), rule.name
        every += sizes
    assert sum(every) < 0.2 * whole * len(every)


def _told(outcomes: list[ExampleOutcome]) -> list[object]:
    return [
        (each.remarks, each.absent, [(one.station, one.verdict, one.value, one.beyond) for one in each.held])
        for each in outcomes
    ]


@pytest.mark.second_lane
@pytest.mark.parametrize("pack", RULED)
def test_what_comes_out_is_what_the_whole_pack_says(pack: str, monkeypatch: pytest.MonkeyPatch) -> None:
    spec = shipped(pack)
    spec = told_in(spec, spec.unit)
    rules = [chain.governing[-1] for chain in spec.rules.values() if chain.governing[-1].pack == pack][::4]
    alone = [_told(work(rule, spec)) for rule in rules]
    monkeypatch.setattr(examples, "needed_for", lambda _rule, whole: whole)
    monkeypatch.setattr(tried_values, "needed_for", lambda _rule, whole: whole)
    assert [_told(work(rule, spec)) for rule in rules] == alone
    assert rules
