"""What two plugins both offer, and what the program or a pack has already: named, and never won by whoever is first."""

from __future__ import annotations

from fractions import Fraction
from itertools import permutations

import pytest

from specrules.pack.pack_reading import read_pack
from specrules.plugins import (
    LENGTH,
    Form,
    Gauge,
    Unit,
    beside,
    plug,
)
from specrules.quantity import UNITS
from tests.plugins.small_plugins import found, function, plugin, sound


def test_two_plugins_that_offer_the_same_are_both_at_fault_whoever_comes_first() -> None:
    rivals = [found(plugin(functions=lambda: [function()]), name) for name in "ab"]
    rivals.append(found(sound(), "c"))
    for order in permutations(rivals):
        plugged = plug(order)
        assert "twice" not in plugged.functions
        assert "sound" in plugged.functions
        assert [fault.sentence() for fault in plugged.faults] == [
            f'plugin {one} of shop 1.0: offers the function "twice", and so does the plugin {other} of shop 1.0, '
            "so neither is used."
            for one, other in ("ab", "ba")
        ]


TAKEN = [
    (plugin(functions=lambda: [function("sqrt")]), 'the function "sqrt"'),
    (plugin(functions=lambda: [function("largest")]), 'the function "largest"'),
    (plugin(functions=lambda: [function("aim")]), 'the function "aim"'),
    (plugin(functions=lambda: [function("piston_travel_at")]), 'the function "piston_travel_at"'),
    (plugin(units=lambda: {Unit("Inch", LENGTH, Fraction(25)): []}), 'the unit "inch"'),
    (plugin(units=lambda: {Unit("ell", LENGTH, Fraction(1143)): ["mil"]}), 'the unit "ell"'),
    (plugin(forms=lambda: [Form("json", str)]), 'the form "json"'),
]


@pytest.mark.parametrize(("loaded", "what"), TAKEN, ids=[what for _, what in TAKEN])
def test_what_the_program_has_is_not_taken_over(loaded: object, what: str) -> None:
    plugged, alone = plug([found(loaded)]), plug()
    (fault,) = plugged.faults
    assert fault.said == f"offers {what}, which the program has already, so it is left out"
    assert (plugged.functions.keys(), plugged.forms.keys()) == (alone.functions.keys(), alone.forms.keys())
    assert plugged.units.units == UNITS


def test_units_of_two_plugins_that_share_one_of_their_names_are_both_left_out() -> None:
    one = found(plugin(units=lambda: {Unit("ell", LENGTH, Fraction(1143)): ["ells"]}), "a")
    other = found(plugin(units=lambda: {Unit("flemish", LENGTH, Fraction(686)): ["Ells"]}), "b")
    plugged = plug([one, other])
    assert [fault.place.file for fault in plugged.faults] == ["plugin a of shop 1.0", "plugin b of shop 1.0"]
    assert plugged.units.units == UNITS


def test_what_a_pack_names_is_not_taken_over_by_a_plugin() -> None:
    pack, _ = read_pack([("a.pack.yaml", b"specrules: tolerance-pack/1\npack: {name: a, version: '1', title: A}\n")])
    assert pack is not None
    offers = plug(
        [found(plugin(functions=lambda: [function()], gauge_classes=lambda: [Gauge("rule", "1 mm", "1 mm")]))]
    )
    assert beside(offers, {"else", "where"}) is offers
    left = beside(offers, {"twice", "rule", "sqrt"})
    assert {"twice", "rule"}.isdisjoint({*left.functions, *left.gauge_classes})
    assert "sqrt" in left.functions
    assert [fault.said for fault in left.faults] == [
        'offers the function "twice", and a pack has something of that name, so it is left out',
        'offers the gauge class "rule", and a pack has something of that name, so it is left out',
    ]


def test_copies_of_one_version_are_one_and_two_versions_are_none() -> None:
    loaded = sound()
    assert plug([found(loaded), found(loaded)]).plugins == ("plugin small of shop 1.0",)
    plugged = plug([found(loaded, version="1.1"), found(loaded)])
    assert plugged.plugins == ()
    assert plugged.faults[0].said.startswith("is installed twice, as 1.0 and as 1.1, so all that it offers is left out")


def test_one_module_under_two_names_is_used_once() -> None:
    loaded = sound()
    plugged = plug([found(loaded, "b"), found(loaded, "a")])
    assert plugged.plugins == ("plugin a of shop 1.0",)
    assert plugged.faults[0].sentence().startswith("plugin b of shop 1.0: is what another entry point names already")
