"""What a plugin does wrong only when it is used is its own fault then, and changes no verdict of anything else."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from decimal import Decimal, localcontext
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from specrules.document import Fault
from specrules.evaluate import NotEvaluable
from specrules.evaluate.arithmetic import apply
from specrules.evaluate.value import exactly
from specrules.formula import FUNCTIONS, Formula, Scope, read_formula
from specrules.output.lines import line
from specrules.output.reasons import said
from specrules.plugins import (
    LENGTH,
    NUMBER,
    Form,
    Function,
    Unit,
    installed,
    plug,
    takes,
)
from specrules.plugins.installed_plugins import search_path
from specrules.quantity import CONTEXT, UNITS, Refusal, find_unit, using
from specrules.trade import FUNCTIONS as TRADE
from tests.lanes import first_alone
from tests.plugins.small_plugins import ROOT, boom, call, found, function, install, leave, plugin


def used(given: Function) -> str:
    """Why a function gives nothing."""
    offered = plug([found(plugin(functions=lambda: [given]))])
    assert offered.faults == ()
    with localcontext(CONTEXT), pytest.raises(NotEvaluable) as raised:
        apply(offered.functions["twice"], [exactly(Decimal(3), {0: 1.0})])
    return said(raised.value.reason)


USED = [
    (function(value=boom), "twice has no value there: the plugin small of shop 1.0 raises KeyError: 'no such thing'"),
    (function(value=leave), "twice has no value there: the plugin small of shop 1.0 tries to end the program"),
    (function(value=float), "twice has no value there: the plugin small of shop 1.0 gives no decimal"),
    (function(partials=(boom,)), "the plugin small of shop 1.0 raises KeyError: 'no such thing'"),
    (function(partials=(str,)), "the plugin small of shop 1.0 gives no slope"),
    (function(partials=(lambda _x: float("nan"),)), "the plugin small of shop 1.0 gives no slope"),
]


@pytest.mark.parametrize(("given", "wanted"), USED)
def test_a_function_that_fails_is_a_fault_of_the_finding_and_names_its_plugin(given: Function, wanted: str) -> None:
    assert wanted in used(given)


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
    made = offered.forms["page"].make(RECORDS)
    assert isinstance(made, Fault)
    assert (made.kind, made.place.file) == ("plugin", "plugin small of shop 1.0")
    assert made.said.startswith(said)
    assert json.dumps(RECORDS) == before


@pytest.mark.parametrize(("of", "what"), [("report", "lines"), ("record", "text")])
@pytest.mark.parametrize("form", [boom, lambda *_: 5, lambda *_: [5], lambda *_: [["a"]]])
def test_a_form_of_each_sheet_that_fails_makes_a_fault(of: str, what: str, form: Any) -> None:
    offered = plug([found(plugin(forms=lambda: [Form("page", form, of=of)]))])
    made = offered.forms["page"].make(None, False)
    assert isinstance(made, Fault)
    assert made.said.startswith("raises KeyError" if form is boom else f"gives no {what} in its form page")


def test_a_form_of_a_report_gives_lines_and_one_of_a_record_text() -> None:
    rows = [line("one ", ("two", "bad")), line()]
    forms = [Form("page", lambda *_: iter(rows), of="report"), Form("row", lambda *_: "text", of="record")]
    offered = plug([found(plugin(forms=lambda: forms))])
    assert offered.forms["page"].make(None, None) == tuple(rows)
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
    assert (alone.units.units, dict(alone.gauge_classes), list(alone.forms)) == (UNITS, {}, ["console", "json"])
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
    assert isinstance(read_formula("twice(2) + 1", Scope({}, {}, offered.functions)), Formula)


@pytest.mark.parametrize("form", first_alone("console", "json"))
def test_a_broken_plugin_is_said_and_changes_neither_verdict_nor_status(tmp_path: Path, form: str) -> None:
    site = install(tmp_path / "site", value="shop_example.missing")
    (tmp_path / "a.sheet.yaml").write_text(
        "specrules: build-sheet/1\npacks: [general]\nunit: in\nfacts: {mains: 1}\n"
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
