"""Whatever a plugin does wrong as it is loaded or asked, it is named with what to do, and all that is sound stands."""

from __future__ import annotations

import os
from collections.abc import Sequence
from decimal import getcontext
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from specrules.plugins import (
    LENGTH,
    Around,
    Form,
    Function,
    Gauge,
    Unit,
    plug,
)
from tests.plugins.small_plugins import boom, found, function, leave, nothing, plugin, sound


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
    "leaves the short way": (lambda: os._exit(0), "tries to end the program as it is loaded"),
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
    "has blades and does not say so": (
        plugin(gauge_classes=lambda: [Gauge("stick", "0.1 in", "0.1 in", steps=("0.1 in",))]),
        "gives stick steps, and does not say that it reads what goes",
    ),
    "reads in a way of its own": (
        plugin(gauge_classes=lambda: [Gauge("stick", "0.1 in", "0.1 in", reads="well")]),
        "says that stick reads 'well', which is not goes",
    ),
    "reads what goes and nothing that does not": (
        plugin(gauge_classes=lambda: [Gauge("stick", "0 in", "0.1 in", reads="goes")]),
        "lets stick read what goes, with neither steps nor a resolution",
    ),
    "lists a blade twice": (
        plugin(gauge_classes=lambda: [Gauge("stick", "0 in", "0.1 in", reads="goes", steps=("1 mm", "1 mm"))]),
        'offers the gauge stick, where "1 mm" is in the set already, as the steps; each blade once',
    ),
    "makes up a kind of source": (
        plugin(gauge_classes=lambda: [Gauge("stick", "0.1 in", "0.1 in", source_kind="hearsay")]),
        "gives stick the source 'hearsay', which is no kind",
    ),
    "has packs beside the sheet": (
        plugin(pack_folders=lambda: ["packs"]),
        "offers 'packs', which is no folder with its whole path",
    ),
    "has a form whose mark any file might have": (
        plugin(forms=lambda: [Form("list", str, "<html>")]),
        'gives the form list a mark without the word "specrules", with which any file might begin',
    ),
    "has a form whose mark is no text": (
        plugin(forms=lambda: [Form("list", str, b"specrules")]),  # type: ignore[arg-type]
        "gives the form list a mark that is no text",
    ),
    "has a form with nothing for --full": (
        plugin(forms=lambda: [Form("list", lambda *_: [], of="report", full="no")]),  # type: ignore[arg-type]
        "gives the form list nothing to call for --full",
    ),
    "has a form of records with lines for --full": (
        plugin(forms=lambda: [Form("list", lambda *_: "", full=lambda *_: [])]),
        "gives the form list, of all records, one for --full",
    ),
    "has a form of bytes of each record": (
        plugin(forms=lambda: [Form("list", str, of="record", binary=True)]),
        "makes bytes in the form list, which needs to be of all records, and without a mark",
    ),
    "has a form with no texts around it": (
        plugin(forms=lambda: [Form("list", str, of="record", around=("a", "b", "c"))]),  # type: ignore[arg-type]
        "puts around the form list what is no Around of texts",
    ),
    "has a form of reports with texts around it": (
        plugin(forms=lambda: [Form("list", str, of="report", around=Around("a"))]),
        "puts texts around the form list, which is not made of each record",
    ),
    "has a form with another text before it than its mark": (
        plugin(forms=lambda: [Form("list", str, "specrules 1", "record", around=Around("a"))]),
        "puts before the form list a text without its mark",
    ),
    "has a form that is no text": (plugin(forms=lambda: [Form("list", "no")]), "gives the form list nothing to call"),  # type: ignore[arg-type]
    "has a form of what there is not": (
        plugin(forms=lambda: [Form("list", str, of="sheet")]),
        "makes the form list of 'sheet', which is none of report, record, records",
    ),
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
    """And then it is said in whose code: it may be that which never came back."""

    def interrupt() -> object:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt) as raised:
        plug([found(interrupt)])
    assert raised.value.__notes__ == ["in the plugin small of shop 1.0"]


def test_what_a_hook_prints_writes_or_changes_stays_with_it(
    capfd: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)

    def talks() -> Sequence[Function]:
        print("hello")  # noqa: T201 - a plugin that does
        os.write(1, b"out")
        os.write(2, b"err")
        os.chdir("/")
        getcontext().prec = 3
        return [function()]

    before = getcontext().prec
    assert plug([found(plugin(functions=talks))]).faults == ()
    assert capfd.readouterr() == ("", "")
    assert (getcontext().prec, Path.cwd()) == (before, tmp_path)
