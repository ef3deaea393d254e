"""A maker's limit in the sheet is always judged, whatever packs have no figure for or ask nothing of.

A whole engine with a reading for whatever is judged, and a limit of both sides on every rule of the packs that ship:
each of their stations is in spec inside them and out of spec beyond, for an engine that the packs speak about and for
engines that they do not. Of what an engine does not have a limit stays a fault.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import NamedTuple

import pytest

from specrules.inspection import Finding
from specrules.vocabulary import BEYOND, INSIDE, Verdict
from tests.inspecting import inspected, run
from tests.lanes import first_alone
from tests.shipped import RULED, resolved

WHOLE = (Path(__file__).parent / "whole_engine.sheet.yaml").read_text(encoding="utf-8")
ITS_LIMITS = re.compile(r"^limits:.*\n(?: .*\n|\n)*", re.MULTILINE)
OIL = re.compile(r"(?s)(  ring_side_gap:.*?)(  ring_radial_width:)")


class Engine(NamedTuple):
    """What another engine has in the place of that of the sheet: facts, and readings in the place of others."""

    facts: dict[str, str]
    readings: dict[str, str]
    unread: tuple[str, ...] = ()


LASH = "{others: {others: 0.018}}"
BRACKETED = {
    "counterweight_to_block": "{gauge: putty, others: 0.110}",
    "rod_to_cam": "{gauge: putty, others: 0.080}",
    "deck_gap": "{others: 0.0015..0.0020}",
    "head_gap": "{others: 0.0015..0.0020}",
}
"""What the sheet reads from one side alone: past the last blade nothing is inside a most."""
FLOATING = Engine(
    {"pin_fit": "floating", "lifter_kind": "solid", "card_lash_state": "hot", "card_intake_lash": "0.018 in"}
    | {
        "card_exhaust_lash": "0.018 in",
        "cold_lash_change": "0.002 in",
        "checking_lift": "0.006 in",
        "cam_kind": "roller",
    },
    {"valve_lash_hot": LASH, "valve_lash_cold": LASH, "pin_clearance_rod_direct": "{others: 0.0008}"},
    ("lifter_preload",),
)
ENGINES = {
    "as the sheet has it": Engine({}, {}),
    "floating pins and solid lifters": FLOATING,
    "a boosted one": Engine({"induction": "boosted", "block_material": "aluminium", "rod_material": "aluminium"}, {}),
    "a large diesel": FLOATING._replace(facts=FLOATING.facts | {"ignition": "compression", "card_bore": "5.5000 in"}),
    "a small two-stroke cooled by air": Engine({"cycle": "two_stroke", "cooling": "air", "card_bore": "1.9000 in"}, {}),
    "one of unstated kind": Engine({"ignition": "", "cooling": "", "cycle": "", "card_bore": "", "induction": ""}, {}),
}  # fmt: skip


def sheet(pack: str, engine: Engine, limits: Mapping[str, str]) -> str:
    """The whole engine's sheet on one pack, with what another engine has, an oil ring read, and these limits."""
    text = ITS_LIMITS.sub("", WHOLE).replace("packs: [racing]", f"packs: [{pack}]")
    text = OIL.sub(lambda found: found[1].replace("}", ", oil: 0.0020}") + found[2], text)
    for name, said in engine.facts.items():
        text = re.sub(rf"^  {name}: .*\n", "", text, flags=re.MULTILINE)
        text = text.replace("\nfacts:\n", f"\nfacts:\n  {name}: {said}\n" if said else "\nfacts:\n")
    readings = BRACKETED | engine.readings
    for name in (*readings, *engine.unread):
        text = re.sub(rf"^  {name}:.*\n(?:    .*\n)*", "", text, flags=re.MULTILINE)
    text = text.replace("\ngauges:\n", "\ngauges:\n  putty: {class: clay}\n")
    read = "".join(f"  {name}: {said}\n" for name, said in readings.items())
    lines = "".join(f"  {rule}: [{{{line}, source: a sheet}}]\n" for rule, line in limits.items())
    return text.replace("\nreadings:\n", f"\nreadings:\n{read}") + (f"\nlimits:\n{lines}" if lines else "")


def judged(pack: str, engine: Engine, line: str) -> Iterator[Finding]:
    """What is said of each rule that there is, with a limits line of this shape on it; `{unit}` is the rule's."""
    rules = resolved(pack).rules
    there = dict.fromkeys(each.rule for each in inspected(sheet(pack, engine, {})).findings)
    limits = {name: line.format(unit=rules[name].governing[0].unit.symbol) for name in there}
    yield from inspected(sheet(pack, engine, limits)).findings


CASES = first_alone(*((pack, engine) for pack in RULED for engine in ENGINES))


@pytest.mark.second_lane
@pytest.mark.parametrize(("pack", "engine"), CASES)
def test_each_station_with_a_makers_limit_and_readings_is_judged(pack: str, engine: str) -> None:
    """What would be said counts: a sign-off, or a reading that looks odd, is another matter."""
    for line, kinds in (("least: -9999 {unit}, most: 9999 {unit}", INSIDE), ("least: 9999 {unit}", BEYOND)):
        silent = [each for each in judged(pack, ENGINES[engine], line) if (each.would_be or each.verdict) not in kinds]
        assert [(each.rule, each.station, each.verdict, each.rests_on.missing) for each in silent] == []


@pytest.mark.second_lane
@pytest.mark.parametrize("pack", first_alone(*RULED))
def test_these_engines_have_every_rule_of_the_packs_between_them(pack: str) -> None:
    there = {each.rule for engine in ENGINES.values() for each in inspected(sheet(pack, engine, {})).findings}
    assert there == set(resolved(pack).rules)


@pytest.mark.second_lane
def test_an_oil_ring_is_asked_for_nothing_until_it_is_read_or_the_maker_limits_it() -> None:
    """Of a line for all rings nobody has to read the oil ring's; one about it alone asks for it."""

    def of_oil(limits: str, read: bool) -> set[Verdict]:
        text = sheet("general", ENGINES["as the sheet has it"], {"ring_side_clearance": limits})
        text = text if read else text.replace(", oil: 0.0020}", "}")
        return {
            each.verdict
            for each in inspected(text).findings
            if each.rule == "ring_side_clearance" and each.station["ring"] == "oil"
        }

    everywhere, there, elsewhere = (
        "most: 0.0030 in",
        "when: ring == oil, most: 0.0030 in",
        "when: ring == top, most: 0.0030 in",
    )
    assert of_oil(everywhere, read=True) == of_oil(there, read=True) == {Verdict.IN_SPEC}
    assert of_oil(everywhere, read=False) == of_oil(elsewhere, read=True) == {Verdict.NOT_APPLICABLE}
    assert of_oil(there, read=False) == {Verdict.NOT_MEASURED}


@pytest.mark.parametrize("rule", ["pin_clearance_rod", "valve_lash_cold", "valve_lash_hot"])
def test_a_limit_on_what_the_engine_does_not_have_is_a_fault_that_names_the_fact(rule: str) -> None:
    _, faults = run(sheet("general", ENGINES["as the sheet has it"], {rule: "most: 0.1 in"}), {})
    by = "pin_fit is pressed" if rule == "pin_clearance_rod" else "lifter_kind is hydraulic"
    (fault,) = faults
    assert f'limits: "{rule}" is about what is not there, since {by};' in fault
