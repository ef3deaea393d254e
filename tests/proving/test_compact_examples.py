"""Compact examples: values that a rule judges as they stand, beside whole ones that come from readings."""

import pytest

from specrules.inspection import WholeFinding
from specrules.pack import told_in
from specrules.pack.pack_reading import read_pack
from specrules.pack.resolving import resolve
from specrules.proving.examples import work
from specrules.proving.tried_values import NAME
from specrules.vocabulary import Verdict
from tests.pack.small_packs import resolved
from tests.proving.small_proofs import HEAD, LIMITS, changed, proved, sentences
from tests.shipped import RULED
from tests.shipped import resolved as shipped

WHOLE = """\
    worked:
      - given: {facts: {material: iron, card_shaft: 2.0000}, readings: {hole: {1: 2.0040}}}
        expect: {at: {place: 1}, verdict: not measured}
      - given: {facts: {material: iron}, readings: {hole: {1: 2.0040}, shaft: {1: 2.0000}}}
        expect: {at: {place: 1}, value: 0.0040 in, verdict: in spec}
"""
COMPACT = """\
      - given: {facts: {material: iron, card_shaft: 2.0000}}
        at: {0.0040: in spec, 0.0020: in spec, 0.0019: tight by 0.0001, 0.0060: in spec, 0.1549 mm: loose by 0.0025 mm}
      - given: {facts: {material: iron, card_shaft: 2.0000, work: refresh}}
        at: {0.0079: worn within limit, 0.0080: worn within limit, 0.0081: loose}
      - given: {facts: {material: aluminium, card_shaft: 2.0000}}
        station: {place: 3}
        at: {0.0040: in spec, 0.0025: in spec, 0.0024: tight, 0.0065: in spec, 0.0066: out of spec}
"""
PACK = HEAD + LIMITS + WHOLE + COMPACT


def test_compact_examples_show_all_that_whole_ones_show_but_where_the_value_comes_from() -> None:
    proof = proved(PACK)
    assert proof.sound
    assert sentences(proof) == []
    assert (proof.counts["examples"], proof.counts["expectations"]) == (5, 15)


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        (
            "0.0019: tight by 0.0001",
            "0.0019: loose by 0.0002",
            "line 39, fit, example 3: beyond by 0.0002 in, loose is expected at place 1, and what came out is beyond "
            "by 0.0001 in, tight",
        ),
        ("0.0079: worn", "0.0060: worn", "worn within limit is expected at place 1, and what came out is in spec"),
        (
            "0.0024: tight",
            "0.0025 in: tight",
            "out of spec, tight is expected at place 3, and what came out is in spec",
        ),
        ("0.0024: tight", "junk: tight", 'line 44, fit, example 5: "junk" is no written number'),
        ("0.0024: tight, ", "", "no example lies beyond the least as the line aluminium shifts it"),
    ],
)
def test_what_does_not_come_out_is_said_of_the_value(old: str, new: str, sentence: str) -> None:
    said = sentences(proved(changed(old, new, PACK)))
    assert any(sentence in each for each in said), said


def test_a_rule_of_which_no_value_comes_from_readings_is_not_shown() -> None:
    said = sentences(proved(HEAD + LIMITS + "    worked:\n" + COMPACT))
    assert any("fit: no example works its value out of readings" in each for each in said)
    assert any("size: no example uses the way measured" in each for each in said)


@pytest.mark.parametrize(
    ("example", "sentence"),
    [
        ("{at: {0.0040: in spec}, expect: {verdict: in spec}, given: {}}", "has both expect and at"),
        ("{given: {}}", "has neither given and expect nor at"),
        ("{expect: {verdict: in spec}}", "has neither given and expect nor at"),
        ("{given: {}, station: {place: 1}, expect: {verdict: in spec}}", "belongs to at, and this example has expect"),
        ("{station: {placed: 3}, at: {0.0040: in spec}}", '"placed" is no axis of this rule; write place'),
        ("{at: {0.0040: inspec}}", '"inspec" is no verdict here; write in spec'),
        ("{at: {0.0040: tigth by 0.0001 in}}", '"tigth by 0.0001 in" is no verdict here; write tight'),
        ("{at: {0.0040: tight by }}", "is no verdict here"),
    ],
)
def test_what_is_wrong_with_an_example_is_a_fault_at_its_place(example: str, sentence: str) -> None:
    pack, faults = read_pack([("small.pack.yaml", f"{HEAD}{LIMITS}    worked: [{example}]\n".encode())])
    assert pack is not None, faults
    made, faults = resolve([pack], ["small"])
    assert made is None
    assert sentence in faults[0].sentence()


def test_values_of_one_example_are_worked_at_once_and_not_held_against_one_another() -> None:
    among = "at: {0.00400: in spec, 0.00401: in spec, 0.00402: in spec, 0.04010: loose by 0.0341}"
    text = f"    worked:\n      - given: {{facts: {{material: iron, card_shaft: 2.0000}}}}\n        {among}\n"
    spec = resolved(HEAD + LIMITS + text)
    (outcome,) = work(spec.rules["fit"].governing[-1], spec)
    assert [each.verdict for each in outcome.held] == [Verdict.IN_SPEC] * 3 + [Verdict.OUT]


def _told(finding: WholeFinding) -> tuple[object, ...]:
    at = {axis: label for axis, label in finding.station.items() if not axis.startswith(NAME)}
    return at, finding._replace(station={}), finding.judged.margins, finding.judged.resolved


@pytest.mark.second_lane
@pytest.mark.parametrize("pack", RULED)
def test_each_value_comes_out_as_it_does_by_itself(pack: str) -> None:
    spec = shipped(pack)
    spec = told_in(spec, spec.unit)
    tried = 0
    for chain in spec.rules.values():
        rule = chain.governing[-1]
        compact = [worked for worked in rule.worked if worked.compact]
        apart = [worked._replace(expect=(one,)) for worked in compact for one in worked.expect]
        together = [each for outcome in work(rule._replace(worked=(*compact,)), spec) for each in outcome.held]
        alone = [each for outcome in work(rule._replace(worked=(*apart,)), spec) for each in outcome.held]
        assert [*map(_told, together)] == [*map(_told, alone)]
        tried += len(together)
    assert tried > 20
