"""An engine described: what its facts rule out is absent from what general practice asks."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.pack import Described, present
from specrules.sheet.new_sheet import NewSheet, start
from tests.inspecting import inspected, run, settled
from tests.shipped import resolved

HEAD = "specrules: build-sheet/1\npacks: [general]\nunit: mm\n"
FACTS = "cylinders: 2, mains: 2, throws: [[1, 2]]"


@pytest.mark.second_lane
def test_a_crank_in_rolling_bearings_has_no_plain_ones() -> None:
    found = inspected(f"{HEAD}facts: {{{FACTS}, crank_bearings: rolling}}\nreadings: {{crank_end_float: 0.15}}\n")
    assert "Plain bearings" not in {finding.group for finding in found}
    assert "Crank" in {finding.group for finding in found}
    assert "caps_torqued_dry_shells" not in {state.name for state in found.sign_offs}


@pytest.mark.second_lane
def test_old_sheets_that_say_nothing_of_bearings_keep_theirs() -> None:
    found = inspected(f"{HEAD}facts: {{{FACTS}}}\n")
    assert "Plain bearings" in {finding.group for finding in found}


def test_a_shell_in_a_rolling_bearing_is_a_fault_that_names_the_fact() -> None:
    sheet = f"{HEAD}facts: {{{FACTS}, crank_bearings: rolling}}\nreadings: {{main_strip: {{1: 0.05}}}}\n"
    (fault,) = run(sheet, {}).faults
    assert '"main_strip" is about what is not there, since crank_bearings is rolling' in fault


def test_a_new_sheet_asks_for_nothing_that_is_not_there() -> None:
    facts = {"cylinders": "2", "mains": "2", "crank_bearings": "rolling", "pin_fit": "floating"}
    text = start(resolved("general"), facts, NewSheet("A twin", ["general"], "mm"))
    for absent in (
        "main_strip",
        "caps_torqued_dry_shells",
        "main_journal",
        "rod_journal",
        "shell_mixing",
        "main_classes",
    ):
        assert absent not in text
    assert "crank_runout:" in text
    assert "Does the crank run in plain bearings with shells, or in balls, rollers or needles?" in text


ABSENT = {
    "crank_bearings=rolling": """main_journal rod_journal main_size rod_size main_journal_taper main_journal_roundness
        rod_journal_taper rod_journal_roundness main_bearing_bore main_housing main_strip main_shell_wall main_crush_gap
        rod_bearing_bore rod_housing rod_strip main_clearance rod_clearance main_oil_clearance rod_oil_clearance
        main_clearance_spread rod_clearance_spread main_housing_roundness rod_housing_roundness bearing_crush
        shell_set_weight rotating_weight bobweight caps_torqued_dry_shells shell_mixing main_classes
        main_shells rod_shells""",
    "crank_kind=built_up": "rod_bolts bolts_per_rod bolt_free_length bolt_tight_length rod_bolt_stretch rod_bolt_set",
    "rods_on_pin=fork_and_blade": "rod_weight_match",
    "cylinder_kind=separate_barrels": """deck_height deck_gap deck_squareness deck_flatness deck_as_stated deck_stack
        block_deck_height""",
    "valve_action=bucket_shim": """cam_kind lifter_kind lobe_lift rocker_ratio card_rocker_ratio lifter_preload
        rod_to_cam rod_to_cam_clearance cam_place cam_break_in_prepared""",
    "valve_action=finger": """cam_kind lifters lifter_bores lifter lifter_bore lifter_clearance
        lifter_bores_finished lifter_preload rod_to_cam rod_to_cam_clearance cam_place cam_break_in_prepared""",
    "cam_place=timing_case": "rod_to_cam rod_to_cam_clearance",
    "damper=no": "snout damper_bore damper_interference damper_hub_material damper_pulled_on",
    "sump=dry": "pickup_to_pan pickup_clearance",
}
"""What an engine of this kind does not have, of what one that says nothing does."""
ROLLING = {"crank_kind": {"crank_bearings": "rolling"}}
"""What has to be so besides for a fact to be there."""
FACTS_OF_SHAPE = {
    name: resolved("general").facts[name].choices or ("yes", "no")
    for name in dict.fromkeys(each.partition("=")[0] for each in ABSENT)
}


def there(facts: dict[str, str]) -> set[str]:
    """The names of all that an engine of these facts has."""
    spec = present(resolved("general"), Described(facts)).spec
    return {*spec.facts, *spec.measurands, *spec.figures, *spec.sign_offs, *spec.rules, *spec.parts}


@pytest.mark.second_lane
@pytest.mark.parametrize("described", ABSENT)
def test_what_an_engine_of_that_kind_does_not_have(described: str) -> None:
    name, _, choice = described.partition("=")
    besides = ROLLING.get(name, {})
    gone = there(besides) - there({**besides, name: choice})
    assert {*ABSENT[described].split()} <= gone
    assert not gone & {"cylinder_bore", "piston_clearance", "crank_end_float", "piston_to_valve", "quench"}


@pytest.mark.second_lane
@pytest.mark.parametrize("name", FACTS_OF_SHAPE)
def test_what_is_taken_shapes_a_sheet_as_if_it_were_stated(name: str) -> None:
    """All these facts are assumed, so that sheets that are older than they are keep their shape."""
    besides, fact = ROLLING.get(name, {}), resolved("general").facts[name]
    assert all((fact.assumed, fact.title, fact.why))
    assert there({**besides, name: str(fact.assumed)}) == there(besides)


@given(st.fixed_dictionaries({}, optional={name: st.sampled_from(some) for name, some in FACTS_OF_SHAPE.items()}))
def test_nothing_that_is_left_names_what_is_absent(facts: dict[str, str]) -> None:
    here = present(resolved("general"), Described(facts)).spec
    for figure in here.figures.values():
        for way in figure.ways:
            assert way.formula.names <= here.scope.names.keys(), figure.name
    for chain in here.rules.values():
        for rule in chain.governing:
            assert rule.formula.names <= here.scope.names.keys(), rule.name
            assert {*rule.needs} <= {*here.rules, *here.sign_offs}, rule.name
            for line in rule.lines:
                assert all(formula.names <= {*here.scope.names, "least", "most", "aim"} for formula in line.formulas())


@pytest.mark.second_lane
@given(st.fixed_dictionaries({name: st.sampled_from(some) for name, some in FACTS_OF_SHAPE.items()}))
def test_a_new_sheet_of_any_engine_reads_back_and_asks_only_for_what_it_has(facts: dict[str, str]) -> None:
    facts = {name: choice for name, choice in facts.items() if name in there(facts)}
    text = start(resolved("general"), {"cylinders": "2", "mains": "2", **facts}, NewSheet("", ["general"], "in"))
    sheet, _, said = settled(text, {})
    assert sheet is not None, said
    asked = {line.partition(":")[0].strip() for line in text.splitlines() if line.startswith("  ")}
    every = {*resolved("general").measurands, *resolved("general").sign_offs}
    assert asked & every <= there(facts)
