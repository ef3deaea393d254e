"""The parts that packs declare: what they are read as, how a pack above changes them, what is wrong with them."""

from __future__ import annotations

import pytest

from tests.pack.small_packs import BASE, faults_of, resolved, upper

PARTS = """\
parts:
  bush: {at: place, measurands: hole}
  spindle: {title: The spindle, measurands: [shaft, hole]}
"""


def test_a_part_has_its_stations_and_what_is_measured_on_it() -> None:
    bush, spindle = resolved(BASE + PARTS).parts.values()
    assert (bush.name, bush.title, bush.at, bush.measurands) == ("bush", "bush", ("place",), ("hole",))
    assert (spindle.title, spindle.at, spindle.measurands) == ("The spindle", (), ("shaft", "hole"))


def test_a_pack_above_adds_amends_and_retires_parts() -> None:
    amend = "  parts:\n    bush: {reason: a, measurands: [hole, stand]}\n    spindle: {reason: a, retire: yes}\n"
    made = resolved(BASE + PARTS, upper("house", amend, more="parts:\n  plate: {measurands: stand}\n"))
    assert {name: part.measurands for name, part in made.parts.items()} == {
        "bush": ("hole", "stand"),
        "plate": ("stand",),
    }


@pytest.mark.parametrize(
    ("parts", "said"),
    [
        ("bush: {measurands: holl}", 'bush measurands: "holl" is no measurand; write hole.'),
        ("bush: {measurands: clearance}", 'bush measurands: "clearance" is no measurand.'),
        ("bush: {at: plac, measurands: hole}", 'bush at: "plac" is no axis; write place.'),
        ("bush: {at: place}", 'bush: has no "measurands" (what is measured on it'),
        ("hole: {measurands: hole}", "hole: is among the measurands already; write another name."),
    ],
)
def test_what_is_wrong_with_a_part(parts: str, said: str) -> None:
    (fault,) = faults_of(f"{BASE}parts:\n  {parts}\n")
    assert said in fault.sentence()
