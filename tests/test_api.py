"""`import specrules`: sheets and packs from paths and texts, faults as an exception, and what a report gives back."""

from __future__ import annotations

import copy
import csv
import json
import os
import pickle
import subprocess
import sys
import typing
from collections.abc import Callable, Mapping
from dataclasses import replace
from decimal import Decimal
from io import StringIO
from pathlib import Path
from typing import Any

import pytest

import specrules
from specrules import api
from specrules.cli.demo_command import SHEET as DEMO
from specrules.effects import workspace
from tests.cli.shell import call
from tests.cli.small_jobs import CLEAR, FAULTY, HELD, NEAR, OPEN, lay_out
from tests.output.small_screen import PACKS, upper
from tests.plugins.small_plugins import boom, found, plugin


def report(text: str = CLEAR, packs: Mapping[str, str] = PACKS, **options: Any) -> specrules.Report:
    return specrules.inspect(specrules.SheetText(text), packs=packs, **options)


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A folder with a sheet, and its packs in `packs` beside it."""
    return lay_out(tmp_path, held=HELD)


def test_every_public_name_is_there_and_says_what_it_is() -> None:
    assert sorted(specrules.__all__) == sorted({*specrules.__all__})
    for name in specrules.__all__:
        assert name in dir(specrules)
        assert name == "VERSION" or getattr(specrules, name).__doc__
    with pytest.raises(AttributeError, match="no attribute 'inspekt'"):
        getattr(specrules, "inspekt")  # noqa: B009 - a type checker sees that it is not there


def test_importing_it_reads_nothing_but_itself() -> None:
    told = "import sys, specrules; print(sorted(name for name in sys.modules if name.startswith('specrules')))"
    ran = subprocess.run([sys.executable, "-c", told], capture_output=True, text=True, check=True, cwd=os.getcwd())
    assert ran.stdout == "['specrules']\n"


def test_how_much_was_judged_is_in_the_report_and_more_may_be_asked_for() -> None:
    assert report().evidence == specrules.Extent(judged=6, apply=6, readings=18, entered=18)
    assert [report(at_least=number).verdict for number in (0, 6, 7)] == ["clear", "clear", "open"]
    with pytest.raises(ValueError, match="at_least: -1 is no number of rules; write 0 or more"):
        report(at_least=-1)


def test_the_ledger_and_the_seal_are_in_the_report() -> None:
    (entry,) = report(add="wide").ledger
    assert isinstance(entry, specrules.Relaxation)
    assert (entry.code, entry.name, entry.part) == (specrules.Relaxed.LIMIT_WIDENED, "tilt", "most")
    assert report().ledger == ()
    assert report().seal == specrules.specification("base", packs=PACKS).seal


# A sheet and packs, from wherever they are.


def test_a_sheet_is_judged_alike_wherever_it_and_its_packs_come_from(shop: Path) -> None:
    path, folder = shop / "held.sheet.yaml", shop / "packs"
    base, wide = folder / "base.pack.yaml", folder / "wide.pack.yaml"
    from_file = specrules.inspect(path)
    assert (from_file.verdict, from_file.file) == ("held", str(path))
    ways: list[api.Packs] = [PACKS, folder, str(base), [base, str(wide)], iter([folder])]
    for packs in ways:
        from_text = specrules.inspect(specrules.SheetText(HELD, "a note"), packs=packs)
        assert (from_text.rows(), from_text.file) == (from_file.rows(), "a note")
    assert specrules.inspect(str(path), packs=PACKS).rows() == from_file.rows()


def test_a_text_has_no_folders_beside_it(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(shop)
    with pytest.raises(specrules.FilesAtFault, match='"base" is no pack that was found'):
        specrules.inspect(specrules.SheetText(HELD))


@pytest.mark.parametrize("add", ["wide", ["wide"], ("strict", "wide")])
def test_a_pack_more_may_be_named(add: str | list[str]) -> None:
    assert report(HELD)["tilt", {}].verdict == "out of spec"
    assert report(HELD, add=add)["tilt", {}].limits.most == Decimal("0.0060")


def test_a_pack_handed_over_stands_before_the_shop_s_own_of_its_name(shop: Path) -> None:
    mine = {"wide": upper("wide", "    tilt: {reason: Mine., limits: [{name: base, most: 0.0070 in}]}\n")}
    judged = specrules.inspect(shop / "held.sheet.yaml", packs=mine, add="wide")
    assert judged["tilt", {}].limits.most == Decimal("0.0070")


def test_a_specification_is_what_packs_hold() -> None:
    wide = specrules.specification("wide", packs=PACKS)
    assert [head.name for head in wide.packs] == ["base", "wide"]
    assert wide.measurands["tilt"].unit.symbol == "in"
    assert "main_oil_clearance" in specrules.specification("general").rules


def test_it_works_without_a_cache_and_without_plugins(monkeypatch: pytest.MonkeyPatch) -> None:
    with_them = report()
    monkeypatch.setattr(api, "user_cache", None)
    monkeypatch.setattr(workspace, "installed", None)
    assert report(cache=False, plugins=False) == with_them


def test_a_plugin_at_fault_is_a_warning_at_the_line_that_called(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workspace, "installed", lambda: (found(plugin(functions=boom)),))
    text, said = specrules.SheetText(CLEAR), "plugin small of shop 1.0: .*KeyError"
    calls: list[Callable[[], object]] = [
        lambda: specrules.inspect(text, packs=PACKS),
        lambda: specrules.examine(text, packs=PACKS),
        lambda: specrules.specification("base", packs=PACKS),
    ]
    for ask in calls:
        with pytest.warns(RuntimeWarning, match=said) as warned:
            ask()
        assert [each.filename for each in warned] == [__file__]


# What is wrong.


FAULTS: list[tuple[str, str, dict[str, Any], tuple[str, str, int, str]]] = [
    ("a comma in a number", FAULTY, {}, ("sheet", "sheet", 10, "0.0020")),
    ("a pack that is not there", CLEAR.replace("[base]", "[bas]"), {}, ("sheet", "sheet", 3, "base")),
    ("a pack asked for that is not there", CLEAR, {"add": "wyde"}, ("pack", "", 0, "wide")),
    (
        "a pack's text",
        CLEAR,
        {"packs": {"base": PACKS["base"].replace("unit: in", "unit: inn", 1)}},
        ("pack", "base.pack.yaml", 8, ""),
    ),
    (
        "a pack under another name",
        CLEAR,
        {"packs": {"base": PACKS["wide"]}},
        ("pack", "base.pack.yaml", 2, "name: base"),
    ),
    (
        "a name that ships",
        CLEAR,
        {"packs": {**PACKS, "general": PACKS["base"]}},
        ("file", "general.pack.yaml", 0, "another name, and builds on: [general] in it"),
    ),
    ("no file", CLEAR, {"packs": "nowhere/x.pack.yaml"}, ("file", "nowhere/x.pack.yaml", 0, "")),
    ("no pack's file", CLEAR, {"packs": [__file__]}, ("file", __file__, 0, "a name such as house.pack.yaml")),
]


@pytest.mark.parametrize(("text", "more", "wanted"), [case[1:] for case in FAULTS], ids=[case[0] for case in FAULTS])
def test_files_at_fault_say_where_and_what_to_write(
    text: str, more: dict[str, Any], wanted: tuple[str, str, int, str]
) -> None:
    with pytest.raises(specrules.FilesAtFault) as raised:
        specrules.inspect(specrules.SheetText(text), **{"packs": PACKS, **more})
    fault = raised.value.faults[0]
    assert (fault.kind, fault.place.file, fault.place.line, fault.write) == wanted
    assert str(raised.value) == "\n".join(each.sentence() for each in raised.value.faults)
    assert pickle.loads(pickle.dumps(raised.value)).faults == raised.value.faults


def test_every_fault_of_a_sheet_is_told_at_once(shop: Path) -> None:
    (shop / "two.sheet.yaml").write_text(FAULTY.replace("[base]", "[bas, strict, wyde]"), encoding="utf-8")
    with pytest.raises(specrules.FilesAtFault) as raised:
        specrules.inspect(shop / "two.sheet.yaml")
    assert [fault.write for fault in raised.value.faults if fault.subject == "packs"] == ["base", "wide"]
    with pytest.raises(specrules.FilesAtFault, match=r"cannot be read: no such file or directory; write held\.sheet"):
        specrules.inspect(shop / "hold.sheet.yaml")


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ({"decision": "gaurded"}, 'decision: "gaurded" is no decision rule; write guarded'),
        ({"until": "dryfit"}, 'until: "dryfit" is no hold point of these packs; write dry_fit'),
        ({"held_by": ""}, 'held_by: "" is no importance; write critical, major, minor'),
        ({"held_by": "all"}, 'held_by: "all" is no importance; write critical, major, minor'),
    ],
)
def test_an_argument_that_is_wrong_says_what_to_write(options: dict[str, Any], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        report(**options)


# A report.


def test_the_options_are_those_of_the_command() -> None:
    near = NEAR.replace("tilt: 0.0039 ±0.0002", "tilt: 0.0041 ±0.0002")
    assert report(NEAR)["tilt", {}].verdict == "just in"
    assert report(NEAR, decision="simple")["tilt", {}].verdict == "in spec"
    assert [report(NEAR, sure=sure).verdict for sure in (False, True)] == ["clear", "held"]
    assert [report(near, held_by=held_by).verdict for held_by in ("minor", "major")] == ["held", "clear"]
    assert [report(OPEN, until=until).verdict for until in ("", "dry_fit")] == ["open", "clear"]


def test_a_report_is_a_collection_of_its_findings() -> None:
    judged = report(HELD)
    assert len(judged) == len(judged.findings) == len(judged.rows())
    assert tuple(judged) == judged.findings
    assert [finding.station for finding in judged["fit"]] == [{"place": "1"}, {"place": "2"}]
    assert judged["fit", {"place": 2}] is judged["fit", {"place": "2"}] is judged["fit"][1]
    assert judged["slot", {"side": "left", "place": 1}].station == {"place": "1", "side": "left"}
    assert judged["tilt", {}] is judged["tilt"][0]


@pytest.mark.parametrize(
    ("key", "said"),
    [
        ("tlt", '"tlt" is no rule of this report; write tilt'),
        ("zzzzzzzz", '"zzzzzzzz" is no rule of this report'),
        (("fit", {"place": 7}), 'fit has no place "7"; write 1, 2'),
        (("slot", {"place": 1, "side": "lift"}), 'slot has no side "lift"; write left'),
        (("fit", {}), "fit stands along place; write a label for place"),
        (("slot", {"place": 1}), "slot stands along place, side; write a label for place and side"),
        (("tilt", {"place": 1}), "tilt stands along no axis; write {} as its station, for it has one finding"),
    ],
)
def test_a_finding_that_is_not_there_says_what_to_write(key: Any, said: str) -> None:
    with pytest.raises(KeyError) as raised:
        report()[key]
    assert raised.value.args == (said,)


TEXTS = [
    (HELD, ("tilt", {}), "tilt: 0.0060 in, high by 0.0020 in"),
    (NEAR, ("tilt", {}), "tilt: 0.0039 ± 0.0002 in, just in"),
    (OPEN, ("tilt", {}), "tilt: not measured"),
    (CLEAR, ("fit", {"place": 1}), "fit at place 1: 0.0020 in, in spec"),
    (CLEAR.replace("1.5000", "1.5015"), ("fit", {"place": 1}), "fit at place 1: 0.0005 in, tight by 0.0005 in"),
    (CLEAR, ("slot", {"place": 1, "side": "left"}), "slot at place 1, side left: 0.0150 in, in spec"),
    (CLEAR, ("alike", {}), "alike: 1 g, in spec"),
    (CLEAR.replace("1: 0.0030", "1: over 0.0030"), ("grip", {"place": 1}), "grip at place 1: over 0.0030 in, in spec"),
    (
        CLEAR.replace("1: 0.0030", "1: 0.0010..0.0015"),
        ("grip", {"place": 1}),
        "grip at place 1: 0.0010 to 0.0015 in, slack by 0.0005 to 0.0010 in",
    ),
    (
        NEAR.replace("tilt: 0.0039", "tilt: 0.0041"),
        ("tilt", {}),
        "tilt: 0.0041 ± 0.0002 in, just out, high by 0.0001 in",
    ),
    (
        CLEAR.replace("clean: {by: ab, on: 2026-10-01}, ", ""),
        ("fit", {"place": 1}),
        "fit at place 1: 0.0020 in, not proven, would be in spec",
    ),
]


@pytest.mark.parametrize(("text", "key", "said"), TEXTS)
def test_a_finding_says_itself_in_a_line(text: str, key: tuple[str, dict[str, int]], said: str) -> None:
    assert repr(report(text)[key]) == said


def test_a_report_says_itself_in_a_line() -> None:
    assert repr(report()) == '<Report "A pair": clear, 11 in spec>'


def test_nothing_in_a_title_steers_a_page_or_a_terminal() -> None:
    hostile = "<script>alert(1)</script>&\u202e"
    packs = {"base": PACKS["base"].replace("Tilt of the plate", f"'{hostile}'")}
    judged = report(HELD.replace("A pair", f"'{hostile}'"), packs)
    page = judged._repr_html_()
    assert "<script" not in page
    assert page.count("&lt;script&gt;alert(1)&lt;/script&gt;&amp;\\u202e") == 2
    assert repr(judged).startswith('<Report "<script>alert(1)</script>&\\u202e": held')


@pytest.mark.second_lane
def test_the_page_has_what_is_not_in_spec_the_gravest_first_and_no_end_of_it() -> None:
    page = report(HELD.replace("weight: {1: 100 g, 2: 101 g}", ""))._repr_html_()
    assert page.index("<td>Tilt of the plate</td>") < page.index("<td>Weights alike</td>")
    assert "<td>0.0060 in</td><td>most 0.0040</td>" in page
    assert "Running fit" not in page
    empty = specrules.inspect(specrules.SheetText("specrules: build-sheet/1\npacks: [general]\nfacts: {mains: 30}\n"))
    assert empty._repr_html_().count("<tr>") == 51
    assert f"<p>and {sum(f.verdict == 'not measured' for f in empty) - 50} more</p>" in empty._repr_html_()


def test_rows_are_flat_and_all_alike() -> None:
    rows = report(HELD).rows()
    assert len({type(row) for row in rows}) == 1
    tilt = next(row for row in rows if row.rule == "tilt")
    assert (tilt.title, tilt.at_place, tilt.verdict, tilt.unit) == ("Tilt of the plate", None, "out of spec", "in")
    assert (tilt.value, tilt.U, tilt.least, tilt.most) == (0.006, 0.0, None, 0.004)
    assert [row.at_place for row in rows if row.rule == "fit"] == ["1", "2"]


@pytest.mark.parametrize("text", [HELD, NEAR, OPEN])
def test_rows_say_what_each_field_is_whatever_the_first_of_them_has(text: str) -> None:
    """Data frames go by that, and not by the first rows."""
    rows = report(text).rows()
    kinds = typing.get_type_hints(type(rows[0]))
    assert tuple(kinds) == rows[0]._fields
    for row in rows:
        for name, cell in row._asdict().items():
            assert type(cell) in typing.get_args(kinds[name])
    assert replace(report(text), findings=()).rows() == []


def test_rows_say_what_is_missing_by_its_code() -> None:
    (row,) = (row for row in report(OPEN).rows() if row.rule == "tilt")
    assert (row.verdict, row.missing) == ("not measured", "not read: tilt")
    assert (row.readings_found, row.readings_asked) == (0, 1)


def test_rows_become_a_table_and_json() -> None:
    rows = report(HELD).rows()
    mapped = [row._asdict() for row in rows]
    assert json.loads(json.dumps(mapped, allow_nan=False)) == mapped
    file = StringIO(newline="")
    table = csv.writer(file)
    table.writerow(rows[0]._fields)
    table.writerows(rows)
    back = list(csv.DictReader(StringIO(file.getvalue(), newline="")))
    assert [row["title"] for row in back] == [row.title for row in rows]
    assert [float(row["value"]) for row in back if row["value"]] == [r.value for r in rows if r.value is not None]


@pytest.mark.parametrize("text", [HELD, NEAR, OPEN])
def test_a_report_travels(text: str) -> None:
    judged = report(text)
    assert pickle.loads(pickle.dumps(judged)) == copy.deepcopy(judged) == copy.copy(judged) == judged
    assert judged == report(text)
    assert judged != report(CLEAR)
    with pytest.raises(AttributeError):
        judged.title = "another"  # type: ignore[misc]


def test_an_examination_has_what_a_finding_stands_on() -> None:
    examined = specrules.examine(specrules.SheetText(HELD), packs=PACKS)
    assert examined.report == report(HELD)
    whole = examined.whole(examined.report["fit", {"place": 1}])
    assert [(each.name, each.text, each.place.line) for each in whole.inputs[:2]] == [
        ("hole", "1.5020", 7),
        ("hole", "1.5020", 7),
    ]


@pytest.mark.second_lane
def test_a_record_that_was_kept_is_read_from_its_file_or_its_bytes(tmp_path: Path) -> None:
    kept = tmp_path / "record.json"
    assert call("inspect", DEMO, "--form", "json", "--out", kept).status == 1
    record = specrules.read_record(kept)
    assert record == specrules.read_record(kept.read_bytes())
    assert (record.verdict, len(record.findings)) == ("held", 500)
    with pytest.raises(ValueError, match="no inspection-record/1"):
        specrules.read_record(b"{}")
    with pytest.raises(FileNotFoundError):
        specrules.read_record(tmp_path / "nowhere.json")
