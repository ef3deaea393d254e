"""A specification goes through its text unchanged, and no text that is not one comes through."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping

import pytest

from specrules.formula import FUNCTIONS
from specrules.pack import Specification
from specrules.plan import Plan, Unreadable, decode, encode, keep, key_of, restore
from specrules.plugins import plug
from tests.inspecting import resolved, run
from tests.inspection.small_build import BASE, SIGNED
from tests.pack.small_tables import PACK as TABLES

KEY = key_of(["a", "b"])


def specification(*asked: str) -> Specification:
    made, faults = resolved((("base", BASE),), asked)
    assert made is not None, faults
    return made


def kept(of: Specification) -> Specification:
    """The specification as it comes back."""
    functions = plug().functions
    plan = restore(KEY, keep(KEY, Plan(of, frozenset({"hole"}))), lambda _: functions)
    assert plan is not None
    assert plan.names == {"hole"}
    return plan.specification


def test_tables_come_back_as_they_were() -> None:
    before, faults = resolved((("tables", TABLES),), ("tables",))
    assert before is not None, faults
    after = kept(before)
    assert after.tables == before.tables
    assert after.scope.columns == before.scope.columns
    assert after.rules["drawn"].governing[-1].formula == before.rules["drawn"].governing[-1].formula


@pytest.mark.second_lane
@pytest.mark.parametrize("asked", ["base", "street", "towing", "racing"])
def test_a_specification_comes_back_as_it_was_but_for_its_examples(asked: str) -> None:
    before = specification(asked)
    after = kept(before)
    assert encode(after) == encode(kept(after))
    assert after.axes == before.axes
    assert after.facts == before.facts
    assert after.measurands == before.measurands
    assert after.figures == before.figures
    assert after.gauge_classes == before.gauge_classes
    assert after.sign_offs == before.sign_offs
    for name, chain in before.rules.items():
        assert after.rules[name].governing[-1] == chain.governing[-1]._replace(worked=())
        assert [rule.pack for rule in after.rules[name].versions] == [rule.pack for rule in chain.versions]


def test_functions_are_handed_in_and_not_written() -> None:
    assert "functions" not in encode(specification("base"))
    assert kept(specification("base")).scope.functions.keys() == plug().functions.keys()


def without(text: str, part: str) -> str:
    written = json.loads(text)
    del written[part]
    return json.dumps(written)


def without_the_last_parts(text: str) -> str:
    written = json.loads(text)
    written["parts"].pop()
    return json.dumps(written)


def with_a_part_before_those_it_is_made_of(text: str) -> str:
    written = json.loads(text)
    written["parts"].insert(0, written["parts"].pop(-2))
    return json.dumps(written)


def with_a_column_cut_short(text: str) -> str:
    written = json.loads(text)
    written["parts"][0][-1].pop()
    return json.dumps(written)


def with_scope_from_the_end(text: str) -> str:
    """The same with the number of its scope counted back from the last part, as Python's lists would take it too."""
    written = json.loads(text)
    *_, last = written["parts"]
    last[column_of("scope")][0] -= last[1][0]
    return json.dumps(written)


def with_yes_for_one(text: str) -> str:
    """The same with a yes for the number of its unit, which Python would take too."""
    written = json.loads(text)
    last = written["parts"][-1]
    assert last[column_of("unit")] == [1]
    last[column_of("unit")] = [True]
    return json.dumps(written)


def column_of(field: str) -> int:
    """Where the column of a field of a specification stands, behind the class and the numbers."""
    return 2 + Specification._fields.index(field)


def changed(text: str, old: str, new: str) -> str:
    assert old in text
    return text.replace(old, new, 1)


BROKEN: Mapping[str, Callable[[str], str]] = {
    "no JSON": lambda _: "{",
    "another thing": lambda _: "[1, 2]",
    "no shapes": lambda text: without(text, "shapes"),
    "no parts": lambda text: without(text, "parts"),
    "a class there is not": lambda text: changed(text, '"Formula"', '"Popen"'),
    "a class of another program": lambda text: changed(text, '"Formula"', '"Path"'),
    "two classes exchanged": lambda text: changed(
        changed(changed(text, '"Slot":[', '"X":['), '"Constant":[', '"Slot":['), '"X":[', '"Constant":['
    ),
    "a shape there is not": lambda text: changed(text, '["each"', '["every"'),
    "a field less": lambda text: changed(text, '"Constant":["decimal",', '"Constant":['),
    "a number that is none": lambda text: changed(text, '"0.0254"', '"0.02.54"'),
    "a text where a list is": lambda text: changed(text, '["main"]', '"main"'),
    "a part that comes later": with_a_part_before_those_it_is_made_of,
    "a column too short": with_a_column_cut_short,
    "a part counted from the end": with_scope_from_the_end,
    "a yes where a part's number is": with_yes_for_one,
    "it ends in another part": without_the_last_parts,
    "it ends too early": lambda text: changed(text, text[text.rindex(",[") : -2], ""),
}


@pytest.mark.second_lane
@pytest.mark.parametrize("how", BROKEN)
def test_a_text_that_is_no_specification_is_refused(how: str) -> None:
    with pytest.raises(Unreadable):
        decode(BROKEN[how](encode(kept(specification("base")))), FUNCTIONS)


def test_a_kept_plan_that_was_touched_is_none() -> None:
    sealed = keep(KEY, Plan(specification("base"), frozenset()))
    functions = plug().functions
    assert restore(KEY, sealed, lambda _: functions) is not None
    assert restore(KEY, None, lambda _: functions) is None
    assert restore(KEY, b"", lambda _: functions) is None
    assert restore(KEY, sealed[:-1], lambda _: functions) is None
    assert restore(key_of(["another"]), sealed, lambda _: functions) is None
    at = sealed.index(b"0.0254")
    assert restore(KEY, sealed[:at] + b"0.0264" + sealed[at + 6 :], lambda _: functions) is None


def test_a_key_tells_how_its_parts_are_cut() -> None:
    assert len({key_of(each) for each in (["ab", "c"], ["a", "bc"], ["abc"], ["c", "ab"], ["ab", "c", ""])}) == 5
    assert key_of(["a", b"b"]) == key_of([b"a", "b"])


def test_a_sheet_is_judged_alike_by_a_kept_plan() -> None:
    from specrules.inspection import inspect
    from specrules.sheet import read_sheet, settle

    body = "readings: {hole: {1: [1.5020, 1.5021]}, shaft: {1: [1.5000, 1.4999]}, dial: {2: 0.0012}, float: 0.0050}"
    text = f"specrules: build-sheet/1\npacks: [base]\nunit: in\nfacts: {{block: iron}}\n{body}\n{SIGNED}"
    judged = run(text, {"base": BASE}).inspection
    raw, _ = read_sheet(text.encode(), "engine.sheet.yaml")
    assert raw is not None
    plan = kept(specification("base"))
    sheet, faults = settle(raw, plan)
    assert sheet is not None, faults
    again = inspect(sheet, plan, judged.options if judged else None)
    assert judged is not None
    assert again.findings == judged.findings
