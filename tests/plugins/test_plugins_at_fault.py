"""Whatever a plugin does wrong, it is named with what to do, all that is sound stands, and the inspection goes on."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Sequence
from decimal import Decimal, localcontext
from fractions import Fraction
from itertools import permutations
from pathlib import Path
from typing import Any

import pytest

from specrules.document import Fault
from specrules.formula import FUNCTIONS, Formula, NotEvaluable, Scope, read_formula
from specrules.formula.bounds import apply
from specrules.formula.value import exactly
from specrules.pack import read_pack
from specrules.plugins import (
    LENGTH,
    NUMBER,
    Form,
    Function,
    Gauge,
    Unit,
    beside,
    installed,
    plug,
    takes,
)
from specrules.quantity import CONTEXT, UNITS, Refusal, find_unit, using
from specrules.trade import FUNCTIONS as TRADE
from tests.plugins.small_plugins import call, found, install, plugin


def function(name: str = "twice", value: Callable[..., Any] = lambda x: 2 * x, **more: Any) -> Function:
    stated = {"dimensions": takes(LENGTH, gives=LENGTH), "partials": (lambda _x: 2.0,), **more}
    return Function(name, 1, stated["dimensions"], value, stated["partials"])


def sound() -> object:
    return plugin(functions=lambda: [function("sound")])


def nothing() -> list[object]:
    return []


def boom(*_: object) -> Any:
    raise KeyError("no such thing")


def leave(*_: object) -> Any:
    sys.exit(0)


class Unprintable(Exception):
    def __str__(self) -> str:
        raise RuntimeError("not even that")


def unprintable() -> Any:
    raise Unprintable


class Strange(BaseException):
    pass


def strange() -> Any:
    raise Strange("beyond exceptions")


AT_FAULT: dict[str, tuple[Any, str]] = {
    "cannot be loaded": (boom, "raises KeyError: 'no such thing' as it is loaded"),
    "ends the program as it is loaded": (leave, "tries to end the program as it is loaded"),
    "raises what is no exception": (strange, "raises Strange: beyond exceptions as it is loaded"),
    "raises what cannot be told": (unprintable, "raises Unprintable as it is loaded"),
    "has no hooks": (object(), "offers nothing, since none of its functions is marked with hookimpl"),
    "raises in a hook": (plugin(functions=boom), "its hook functions raises KeyError: 'no such thing'"),
    "ends the program in a hook": (plugin(forms=leave), "its hook forms tries to end the program"),
    "misspells a hook": (plugin(function=nothing), 'has a hook "function", which is none: there is functions'),
    "has a hook of another program": (
        plugin(on_startup=nothing),
        'has a hook "on_startup", which is none: there is pack_folders, functions, units, gauge_classes, forms',
    ),
    "wants an argument": (plugin(functions=lambda sheet: [sheet]), "as its hooks are read"),
    "returns no list": (plugin(functions=lambda: 7), "its hook functions returns int, and a list is wanted"),
    "returns one by one": (plugin(functions=lambda: (x for x in "a")), "returns generator, and a list is wanted"),
    "returns what is no function": (plugin(functions=lambda: [abs]), "which is not a Function"),
    "names a function badly": (plugin(functions=lambda: [function("Big Name")]), "calls a function 'Big Name'"),
    "has too few slopes": (
        plugin(functions=lambda: [function(partials=())]),
        "gives twice not one partial for each argument",
    ),
    "offers one thing twice": (
        plugin(functions=lambda: [function(), function()]),
        'its hook functions offers "twice" twice',
    ),
    "returns no units": (plugin(units=lambda: [1]), "returns list, and a mapping of units to names is wanted"),
    "gives a unit no size": (
        plugin(units=lambda: {Unit("blob", LENGTH, Fraction(0)): []}),
        "gives blob a factor that is no size",
    ),
    "names a unit with a number": (plugin(units=lambda: {Unit("4", LENGTH, Fraction(1)): []}), "names a unit '4'"),
    "writes an amount badly": (
        plugin(gauge_classes=lambda: [Gauge("stick", "0.1 in", "plenty")]),
        'offers the gauge stick, where "plenty" is no written number, as the mpe',
    ),
    "makes up a kind of source": (
        plugin(gauge_classes=lambda: [Gauge("stick", "0.1 in", "0.1 in", source_kind="hearsay")]),
        "gives stick the source 'hearsay', which is no kind",
    ),
    "has packs beside the sheet": (
        plugin(pack_folders=lambda: ["packs"]),
        "offers 'packs', which is no folder with its whole path",
    ),
    "has a form that is no text": (plugin(forms=lambda: [Form("list", "no")]), "gives the form list nothing to call"),  # type: ignore[arg-type]
}


@pytest.mark.parametrize("case", AT_FAULT)
def test_it_is_named_and_what_is_sound_stands(case: str) -> None:
    loaded, said = AT_FAULT[case]
    plugged = plug(
        [found(loaded, "broken"), found(sound(), "a"), found(plugin(functions=lambda: [function("z")]), "z")]
    )
    (fault,) = plugged.faults
    assert fault.kind == "plugin"
    assert fault.sentence().startswith("plugin broken of shop 1.0: ")
    assert said in fault.said
    assert fault.said.endswith("so all that it offers is left out until it is mended or uninstalled")
    assert plugged.plugins == ("plugin a of shop 1.0", "plugin z of shop 1.0")
    assert {"sound", "z"} <= plugged.functions.keys()


def test_all_of_them_at_once_in_any_order_come_to_the_same() -> None:
    every = [found(loaded, f"p{number}") for number, (loaded, _) in enumerate(AT_FAULT.values())]
    every.append(found(sound(), "sound"))
    forth, back = plug(every), plug(reversed(every))
    assert forth.faults == back.faults
    assert len(forth.faults) == len(AT_FAULT)
    assert forth.plugins == back.plugins == ("plugin sound of shop 1.0",)


def test_only_the_user_interrupts() -> None:
    def interrupt() -> object:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        plug([found(interrupt)])


def test_what_a_hook_prints_does_not_get_into_a_record(capsys: pytest.CaptureFixture[str]) -> None:
    def talks() -> Sequence[Function]:
        print("hello")  # noqa: T201 - a plugin that does
        return [function()]

    assert plug([found(plugin(functions=talks))]).faults == ()
    assert capsys.readouterr() == ("", "hello\n")


# --- two that offer the same ----------------------------------------------------------------------------------------


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


# --- what is found out only when it is used ---------------------------------------------------------------------------


def used(given: Function) -> str:
    """Why a function gives nothing."""
    offered = plug([found(plugin(functions=lambda: [given]))])
    assert offered.faults == ()
    with localcontext(CONTEXT), pytest.raises(NotEvaluable) as raised:
        apply(offered.functions["twice"], [exactly(Decimal(3), {0: 1.0})])
    return raised.value.said


USED = [
    (function(value=boom), "twice has no value there: the plugin small of shop 1.0 raises KeyError: 'no such thing'"),
    (function(value=leave), "twice has no value there: the plugin small of shop 1.0 tries to end the program"),
    (function(value=float), "twice has no value there: the plugin small of shop 1.0 gives no decimal"),
    (function(partials=(boom,)), "the plugin small of shop 1.0 raises KeyError: 'no such thing'"),
    (function(partials=(str,)), "the plugin small of shop 1.0 gives no slope"),
    (function(partials=(lambda _x: float("nan"),)), "the plugin small of shop 1.0 gives no slope"),
]


@pytest.mark.parametrize(("given", "said"), USED)
def test_a_function_that_fails_is_a_fault_of_the_finding_and_names_its_plugin(given: Function, said: str) -> None:
    assert said in used(given)


def test_a_function_keeps_its_own_reasons() -> None:
    def never(_x: Decimal) -> Decimal:
        raise ValueError("it is Sunday")

    assert used(function(value=never)) == "twice has no value there: it is Sunday"
    assert used(function(value=lambda x: x / 0)) == "twice has no value there"


@pytest.mark.parametrize("dimensions", [boom, leave, lambda _given: 7])
def test_a_function_that_cannot_say_its_dimensions_is_refused_when_a_formula_is_read(dimensions: Any) -> None:
    offered = plug([found(plugin(functions=lambda: [function(dimensions=dimensions)]))])
    refused = read_formula("twice(1 mm)", Scope({}, {}, offered.functions))
    assert isinstance(refused, tuple)
    assert "the plugin small of shop 1.0 fails to say" in refused[0].said


RECORDS: list[dict[str, Any]] = [{"verdict": "clear", "counts": {"in spec": 1}, "findings": [{"value": 1.0}]}]


def changes(records: Any) -> str:
    records[0]["findings"][0]["value"] = 0
    return "changed"


def empties(records: Any) -> str:
    records[0].clear()
    return "emptied"


FORMS = [
    (boom, "raises KeyError: 'no such thing' in its form page, so nothing is written"),
    (leave, "tries to end the program in its form page, so nothing is written"),
    (changes, "raises TypeError: 'mappingproxy' object does not support item assignment in its form page"),
    (empties, "raises AttributeError: 'mappingproxy' object has no attribute 'clear' in its form page"),
    (lambda _records: b"bytes", "gives no text in its form page"),
]


@pytest.mark.parametrize(("text", "said"), FORMS)
def test_a_form_that_fails_or_changes_what_it_is_given_writes_nothing(text: Any, said: str) -> None:
    offered = plug([found(plugin(forms=lambda: [Form("page", text)]))])
    before = json.dumps(RECORDS)
    made = offered.forms["page"](RECORDS)
    assert isinstance(made, Fault)
    assert (made.kind, made.place.file) == ("plugin", "plugin small of shop 1.0")
    assert made.said.startswith(said)
    assert json.dumps(RECORDS) == before


# --- the rest --------------------------------------------------------------------------------------------------------


def test_a_list_that_a_plugin_changes_afterwards_changes_nothing() -> None:
    kept = [function()]
    offered = plug([found(plugin(functions=lambda: kept))])
    kept.clear()
    assert "twice" in offered.functions
    with pytest.raises(TypeError):
        offered.functions["twice"] = kept  # type: ignore[index]


def test_nothing_of_one_is_left_in_another() -> None:
    """Everything that is offered is in what `plug` gives, and nowhere else."""
    offered = plug([found(plugin(units=lambda: {Unit("ell", LENGTH, Fraction(1143)): ["ells"]}))])
    with using(offered.units):
        assert find_unit("ells") == offered.units.units[-1]
    assert isinstance(find_unit("ells"), Refusal)
    alone = plug()
    assert (alone.plugins, alone.pack_folders, alone.faults) == ((), (), ())
    assert (alone.units.units, dict(alone.gauge_classes), dict(alone.forms)) == (UNITS, {}, {})
    assert alone.functions.keys() == FUNCTIONS.keys() | {each.name for each in TRADE}


def test_a_quick_look_comes_first(tmp_path: Path) -> None:
    """Where nobody names the group, what is installed is not even read."""
    (tmp_path / "other-1.0.dist-info").mkdir()
    (tmp_path / "other-1.0.dist-info" / "entry_points.txt").write_text("[other]\na = b\n")
    assert installed([str(tmp_path), str(tmp_path / "missing")]) == ()
    install(tmp_path)
    (one,) = installed([str(tmp_path)])
    assert str(one) == "plugin shop of shop-example 1.0"


def test_the_example_is_sound_and_the_same_place_twice_is_one(tmp_path: Path) -> None:
    install(tmp_path / "site")
    (tmp_path / "link").symlink_to(tmp_path / "site")
    ran = call("pack", "list", site=tmp_path / "site", cwd=tmp_path)
    assert ran.stderr == ""
    again = plug(installed([str(tmp_path / "site"), str(tmp_path / "site")]))
    assert again.plugins == ("plugin shop of shop-example 1.0",)
    assert again.faults == ()


def test_a_formula_can_call_what_a_plugin_offers() -> None:
    offered = plug([found(plugin(functions=lambda: [function(dimensions=takes(NUMBER, gives=NUMBER))]))])
    assert isinstance(read_formula("twice(2) + 1", Scope({}, {}, offered.functions)), Formula)


@pytest.mark.parametrize("form", ["console", "json"])
def test_a_broken_plugin_is_said_and_changes_neither_verdict_nor_status(tmp_path: Path, form: str) -> None:
    site = install(tmp_path / "site", value="shop_example.missing")
    (tmp_path / "a.sheet.yaml").write_text(
        "specrules: build-sheet/1\npacks: [general]\nunit: in\nfacts: {mains: 1}\n"
        "readings:\n  main_bearing_bore: {1: 2.5000}\n  main_journal: {1: 2.4900}\n"
    )
    without = call("inspect", "a.sheet.yaml", "--no-plugins", "--form", form, site=site, cwd=tmp_path)
    broken = call("inspect", "a.sheet.yaml", "--form", form, site=site, cwd=tmp_path)
    assert broken.returncode == without.returncode == 1
    said = "raises ModuleNotFoundError: No module named 'shop_example.missing' as it is loaded"
    if form == "console":
        assert broken.stdout == without.stdout
        assert broken.stderr.startswith("plugin shop of shop-example 1.0: ")
        assert said in broken.stderr
        assert "is not judged" not in broken.stderr
        return
    (fault,) = json.loads(broken.stdout)["faults"]
    assert fault["kind"] == "plugin"
    assert said in fault["said"]
    assert {**json.loads(broken.stdout), "faults": []} == json.loads(without.stdout)
