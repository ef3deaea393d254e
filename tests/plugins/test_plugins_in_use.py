"""What a plugin does wrong only when it is used is its own fault then, and changes no verdict of anything else."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from contextlib import suppress
from decimal import Decimal, getcontext, localcontext
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from specrules.document import Fault
from specrules.evaluate import NotEvaluable
from specrules.evaluate.arithmetic import apply
from specrules.evaluate.value import exactly
from specrules.formula import FUNCTIONS, Formula, Scope
from specrules.formula.formula_reading import read_formula
from specrules.inspection import inspect
from specrules.output.lines import line
from specrules.output.own_forms import forms
from specrules.output.reasons import said
from specrules.pack.resolving import resolve
from specrules.plugins import (
    LENGTH,
    NUMBER,
    Form,
    Function,
    Plugged,
    Unit,
    guard,
    installed,
    isolation,
    plug,
    takes,
)
from specrules.plugins.installed_plugins import search_path
from specrules.quantity import CONTEXT, UNITS, Refusal, find_unit, using
from specrules.sheet import read_sheet, settle
from specrules.trade import FUNCTIONS as TRADE
from tests.lanes import first_alone
from tests.pack.hostile_packs import pack, rule
from tests.pack.small_packs import read_text
from tests.plugins.small_plugins import ROOT, boom, call, found, function, install, leave, plugin, run


def used(given: Function, offered: Plugged | None = None) -> str:
    """Why a function gives nothing."""
    offered = offered or plug([found(plugin(functions=lambda: [given]))])
    assert offered.faults == ()
    with localcontext(CONTEXT), pytest.raises(NotEvaluable) as raised:
        apply(offered.functions["twice"], [exactly(Decimal(3), {0: 1.0})])
    return said(raised.value.reason)


USED = [
    (function(value=boom), "twice has no value there: the plugin small of shop 1.0 raises KeyError: 'no such thing'"),
    (function(value=leave), "twice has no value there: the plugin small of shop 1.0 tries to end the program"),
    (function(value=float), "the plugin small of shop 1.0 gives float 3.0, and a decimal is wanted"),
    (function(value=lambda _x: True), "the plugin small of shop 1.0 gives bool True, and a decimal is wanted"),
    (function(value=lambda _x: None), "the plugin small of shop 1.0 gives NoneType, and a decimal is wanted"),
    (function(partials=(boom,)), "the plugin small of shop 1.0 raises KeyError: 'no such thing'"),
    (function(partials=(str,)), "the plugin small of shop 1.0 gives str as its slope 1, and a number is wanted"),
    (function(partials=(lambda _x: float("nan"),)), "gives float nan as its slope 1, and a number is wanted"),
    (
        function(partials=(lambda _x: 0,)),
        "says that it moves 0 times as its argument 1 does, and it moves 2 times, at 3 in base units",
    ),
]


@pytest.mark.parametrize(("given", "wanted"), USED)
def test_a_function_that_fails_gives_the_finding_no_value_and_is_a_fault_of_its_plugin(
    given: Function, wanted: str
) -> None:
    offered = plug([found(plugin(functions=lambda: [given]))])
    assert wanted in used(given, offered)
    (fault,) = offered.failures.taken()
    assert (fault.kind, fault.place.file) == ("plugin", "plugin small of shop 1.0")
    assert fault.said.startswith("its function twice ")
    assert fault.said.endswith(", so nothing is worked out by it there")
    assert offered.failures.taken() == ()


class Length(Decimal):
    """A decimal of somebody's own."""


@pytest.mark.parametrize("given", [Length(6), 6])
def test_what_a_function_gives_becomes_a_plain_decimal(given: Any) -> None:
    offered = plug([found(plugin(functions=lambda: [function(value=lambda _x: given, partials=(lambda _x: 0.0,))]))])
    made = offered.functions["twice"].value(Decimal(3))
    assert (type(made), made) == (Decimal, Decimal(6))


def test_a_function_that_changes_the_decimal_context_changes_no_other_verdict() -> None:
    """One rule is worked out by it, and another after it, whose value would be cut to two digits."""

    def careless(x: Decimal) -> Decimal:
        getcontext().prec = 2
        return +x

    rules = rule("twice(size)", name="a") + rule("size / 3 + 1 in", name="b")
    packs = [read_text(pack("measurands:\n  size: {unit: in}\n", rules=rules))]
    offered = plug([found(plugin(functions=lambda: [function(value=careless, partials=(lambda _x: 1.0,))]))])
    made, _ = resolve(packs, ["house"], offered.functions)
    raw, _ = read_sheet("specrules: build-sheet/1\npacks: [house]\nunit: in\nreadings: {size: 1.2345}\n", "a")
    assert made is not None
    assert raw is not None
    sheet, _ = settle(raw, made)
    assert sheet is not None
    first, second = inspect(sheet, made).findings
    assert first.value is not None
    assert (first.value * Decimal("25.4"), second.value) == (Decimal(31), Decimal("1.4115"))


def test_a_call_that_does_not_come_back_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guard, "SECONDS", 0.2)
    monkeypatch.setattr(isolation, "SECONDS", 0.2)

    def never(*_: object) -> Any:
        while True:
            with suppress(Exception):  # no exception ends it
                time.sleep(5)

    said = "does not come back within 0.2 seconds"
    assert said in used(function(value=never))
    offered = plug([found(plugin(forms=lambda: [Form("leaf", never)])), found(plugin(functions=never), "other")])
    made = offered.forms["leaf"].make(RECORDS)
    assert isinstance(made, Fault)
    assert made.said.startswith(said)
    (fault,) = offered.faults
    assert said in fault.said


def test_a_function_keeps_its_own_reasons() -> None:
    def never(_x: Decimal) -> Decimal:
        raise ValueError("it is Sunday")

    assert used(function(value=never)) == "twice has no value there: it is Sunday"
    assert used(function(value=lambda x: x / 0)) == "twice has no value there"


@pytest.mark.parametrize("dimensions", [boom, leave, lambda _given: 7])
def test_a_function_that_cannot_say_its_dimensions_is_refused_when_a_formula_is_read(dimensions: Any) -> None:
    offered = plug([found(plugin(functions=lambda: [function(dimensions=dimensions)]))])
    refused = read_formula("twice(1 mm)", Scope({}, {}, functions=offered.functions))
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
    (boom, "raises KeyError: 'no such thing' in its form leaf, so nothing is written"),
    (leave, "tries to end the program in its form leaf, so nothing is written"),
    (changes, "raises TypeError: 'mappingproxy' object does not support item assignment in its form leaf"),
    (empties, "raises AttributeError: 'mappingproxy' object has no attribute 'clear' in its form leaf"),
    (lambda _records: b"bytes", "gives no text in its form leaf"),
    (lambda _records: os._exit(0), "tries to end the program in its form leaf, so nothing is written"),
]


@pytest.mark.parametrize(("text", "said"), FORMS)
def test_a_form_that_fails_or_changes_what_it_is_given_writes_nothing(text: Any, said: str) -> None:
    offered = plug([found(plugin(forms=lambda: [Form("leaf", text)]))])
    before = json.dumps(RECORDS)
    made = offered.forms["leaf"].make(RECORDS)
    assert isinstance(made, Fault)
    assert (made.kind, made.place.file) == ("plugin", "plugin small of shop 1.0")
    assert made.said.startswith(said)
    assert json.dumps(RECORDS) == before


@pytest.mark.parametrize(("of", "what"), [("report", "lines"), ("record", "text")])
@pytest.mark.parametrize("form", [boom, lambda *_: 5, lambda *_: [5], lambda *_: [["a"]]])
def test_a_form_of_each_sheet_that_fails_makes_a_fault(of: str, what: str, form: Any) -> None:
    offered = plug([found(plugin(forms=lambda: [Form("leaf", form, of=of)]))])
    made = offered.forms["leaf"].make(None, False)
    assert isinstance(made, Fault)
    assert made.said.startswith("raises KeyError" if form is boom else f"gives no {what} in its form leaf")


def test_a_form_of_a_report_gives_lines_and_one_of_a_record_text() -> None:
    rows = [line("one ", ("two", "bad")), line()]
    forms = [Form("leaf", lambda *_: iter(rows), of="report"), Form("row", lambda *_: "text", of="record")]
    offered = plug([found(plugin(forms=lambda: forms))])
    assert offered.forms["leaf"].make(None, None) == tuple(rows)
    assert offered.forms["row"].make(None, False) == "text"


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
    assert (alone.units.units, dict(alone.gauge_classes)) == (UNITS, {})
    assert list(alone.forms) == [form.name for form in forms()]
    assert alone.functions.keys() == FUNCTIONS.keys() | {each.name for each in TRADE}


@pytest.mark.second_lane
def test_where_nobody_names_the_group_what_is_installed_is_not_read(tmp_path: Path) -> None:
    """Reading it takes longer than an inspection: the standard library's part for it is not even imported."""
    code = (
        "import sys, specrules.cli.inspect_command; from specrules.plugins import installed, plug; "
        "before = {*sys.modules}; "
        "assert not installed([sys.argv[1]]); plug(()); assert 'importlib.metadata' not in {*sys.modules} - before"
    )
    (tmp_path / "other-1.0.dist-info").mkdir()
    (tmp_path / "other-1.0.dist-info" / "entry_points.txt").write_text("[other]\na = b\n")
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    subprocess.run([sys.executable, "-c", code, str(tmp_path)], env=environment, check=True)
    assert installed([str(tmp_path), str(tmp_path / "missing")]) == ()
    install(tmp_path)
    (one,) = installed([str(tmp_path)])
    assert str(one) == "plugin shop of shop-example 1.0"


def test_one_place_by_two_paths_is_searched_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Some systems have their packages under two paths, one a link to the other."""
    site = install(tmp_path / "site")
    (tmp_path / "link").symlink_to(site)
    monkeypatch.setattr(sys, "path", ["first", str(site), str(tmp_path / "link"), ""])
    assert search_path() == (str(site),)
    twice = plug(installed([str(site), str(tmp_path / "link")]))
    assert (twice.plugins, twice.faults) == (("plugin shop of shop-example 1.0",), ())


def test_a_formula_can_call_what_a_plugin_offers() -> None:
    offered = plug([found(plugin(functions=lambda: [function(dimensions=takes(NUMBER, gives=NUMBER))]))])
    assert isinstance(read_formula("twice(2) + 1", Scope({}, {}, functions=offered.functions)), Formula)


@pytest.mark.second_lane
@pytest.mark.parametrize("form", first_alone("console", "json"))
def test_a_broken_plugin_is_said_and_changes_neither_verdict_nor_status(tmp_path: Path, form: str) -> None:
    site = install(tmp_path / "site", value="shop_example.missing")
    (tmp_path / "a.sheet.yaml").write_text(
        "specrules: build-sheet/1\npacks: [general]\nunit: in\n"
        "facts: {mains: 1, ignition: spark, cooling: liquid, cycle: four_stroke}\n"
        "readings:\n  main_bearing_bore: {1: 2.5000}\n  main_journal: {1: 2.4900}\n"
    )
    without = call("inspect", "a.sheet.yaml", "--no-plugins", "--form", form, site=site, cwd=tmp_path)
    broken = call("inspect", "a.sheet.yaml", "--form", form, site=site, cwd=tmp_path)
    assert broken.status == without.status == 1
    said = "raises ModuleNotFoundError: No module named 'shop_example.missing' as it is loaded"
    if form == "console":
        assert broken.out == without.out
        assert broken.err.startswith("plugin shop of shop-example 1.0: ")
        assert said in broken.err
        assert "is not judged" not in broken.err
        return
    (fault,) = json.loads(broken.out)["faults"]
    assert fault["kind"] == "plugin"
    assert said in fault["said"]
    assert {**json.loads(broken.out), "faults": []} == json.loads(without.out)


STRAYING = """\
import os
from specrules.plugins import Form, hookimpl

def page(records):
    print("printed")
    os.write(1, b"written")
    os.write(2, b"written")
    os.chdir("/")
    return "the page"

@hookimpl
def forms():
    return [Form("leaf", page)]
"""


@pytest.mark.second_lane
def test_what_a_form_prints_writes_or_changes_reaches_neither_screen_nor_file(tmp_path: Path) -> None:
    site = install(tmp_path / "site", value="straying")
    (tmp_path / "site" / "straying.py").write_text(STRAYING)
    (tmp_path / "a.sheet.yaml").write_text(
        "specrules: build-sheet/1\npacks: [general]\nunit: in\nreadings:\n  main_journal: {1: 2.4900}\n"
    )
    shown = run("inspect", "a.sheet.yaml", "--form", "leaf", site=site, cwd=tmp_path)
    assert (shown.status, shown.out, shown.err) == (3, "the page", "")
    kept = run("inspect", "a.sheet.yaml", "--form", "leaf", "--out", "page.txt", site=site, cwd=tmp_path)
    assert (kept.status, kept.out, kept.err) == (3, "", "")
    assert (tmp_path / "page.txt").read_text() == "the page"


WRONG = """\
from specrules.plugins import LENGTH, Function, hookimpl, takes

@hookimpl
def functions():
    return [Function("twice", 1, takes(LENGTH, gives=LENGTH), lambda x: 2 * x, (lambda x: 0.0,))]
"""


@pytest.mark.second_lane
def test_a_wrong_slope_is_never_in_spec_and_is_told_on_screen_and_in_the_record(tmp_path: Path) -> None:
    site = install(tmp_path / "site", value="wrong")
    (tmp_path / "site" / "wrong.py").write_text(WRONG)
    (tmp_path / "packs").mkdir()
    (tmp_path / "packs" / "house.pack.yaml").write_text(
        pack("measurands:\n  size: {unit: in}\n", rules=rule("twice(size)"))
    )
    (tmp_path / "a.sheet.yaml").write_text(
        "specrules: build-sheet/1\npacks: [house]\nunit: in\n"
        "gauges: {mike: {resolution: 0.001 in, mpe: 0.001 in}}\nreadings:\n  size: {gauge: mike, at: 1.5}\n"
    )
    said = "its function twice says that it moves 0 times as its argument 1 does, and it moves 2 times, at 38.1 in"
    screen = run("inspect", "a.sheet.yaml", site=site, cwd=tmp_path)
    assert screen.status == 3
    assert "in spec" not in screen.out
    assert screen.err.startswith(f"plugin shop of shop-example 1.0: {said} base units, so nothing")
    record = json.loads(run("inspect", "a.sheet.yaml", "--form", "json", site=site, cwd=tmp_path).out)
    assert [(fault["kind"], fault["said"].startswith(said)) for fault in record["faults"]] == [("plugin", True)]
    proved = run("pack", "prove", "house", site=site, cwd=tmp_path)
    assert said in proved.err
