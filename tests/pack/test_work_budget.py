"""Packs that would take too much are told at their line before anything is worked out, and real ones are far below."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.document import Fault
from specrules.inspection import inspect
from specrules.pack import Specification
from specrules.pack.resolving import resolve
from specrules.pack.work_budget import BUDGET, WorkCount, borne, excess_of
from specrules.plugins import plug
from specrules.sheet import Sheet, read_sheet, settle
from specrules.sheet.new_sheet import NewSheet, start
from tests import shipped
from tests.pack import hostile_packs as hostile
from tests.pack.small_packs import BASE, faults_of, read_text, resolved

TOO_MUCH = {
    "40 figures of which each is named twice by the next": (
        hostile.doubling(40),
        "base.pack.yaml, line 27, f20: names 1,048,576 readings, facts and numbers once its figures are written out,"
        " more than the 1,000,000 allowed; write each figure once in a formula.",
    ),
    "300 figures in a chain": (
        hostile.chain(300),
        "base.pack.yaml, line 57, f50: is worked out 101 operations deep, with the figures that it stands on,"
        " more than the 100 allowed; write one formula in place of several figures.",
    ),
    "5,000 figures in a chain": (
        hostile.chain(5000),
        "base.pack.yaml, line 57, f50: is worked out 101 operations deep, with the figures that it stands on,"
        " more than the 100 allowed; write one formula in place of several figures.",
    ),
    "1,000 rules in a row of needs": (
        hostile.row(1000),
        "base.pack.yaml, line 1107, r100: stands in a row of 101 rules of which each needs another,"
        " more than the 100 allowed; write fewer rules under needs.",
    ),
    "a reducer over 8 axes of 12 labels": (
        hostile.reducer(8, 12),
        "base.pack.yaml, line 23, fit: lies at 429,981,696 places along x0, x1, x2, x3, x4, x5, x6, x7,"
        " more than the 10,000 allowed; write fewer axes or labels for it.",
    ),
    "6 axes of 12 labels under each": (
        hostile.along_each(6, 12),
        "base.pack.yaml, line 14, fit: lies at 2,985,984 places along x0, x1, x2, x3, x4, x5,"
        " more than the 10,000 allowed; write fewer axes or labels for it.",
    ),
    "100 axes of 12 labels, whose product is no number to print": (
        hostile.along_each(100, 12),
        f"base.pack.yaml, line 108, fit: lies at over 1,000,000,000,000 places along {', '.join(hostile.all_of(100))},"
        " more than the 10,000 allowed; write fewer axes or labels for it.",
    ),
    "a measurand along 6 axes of 12 labels": (
        hostile.lying_along(6, 12),
        "base.pack.yaml, line 13, s: lies at 2,985,984 places along x0, x1, x2, x3, x4, x5,"
        " more than the 10,000 allowed; write fewer axes or labels for it.",
    ),
    "a sign-off along 6 axes of 12 labels": (
        hostile.signed_along_each(6, 12),
        "base.pack.yaml, line 14, clean: lies at 2,985,984 places along x0, x1, x2, x3, x4, x5,"
        " more than the 10,000 allowed; write fewer axes or labels for it.",
    ),
    "5 rules at 10,000 stations each": (
        hostile.many_along_each(5, 100),
        "base.pack.yaml, line 10, r0: stands at 10,000 stations along x0, x1, of 50,000 in all,"
        " more than the 30,000 allowed; write fewer axes or labels for it.",
    ),
    "rules of many readings in 64 worlds": (
        hostile.supposed(1, 60),
        "base.pack.yaml, line 17, r0: takes 20,448,000 steps to work out along x0,"
        " more than the 10,000,000 allowed; write fewer axes or labels, or a reducer over fewer of them.",
    ),
}


@pytest.mark.second_lane
@pytest.mark.parametrize("case", TOO_MUCH)
def test_a_pack_that_takes_too_much_is_a_fault_at_its_line(case: str) -> None:
    text, sentence = TOO_MUCH[case]
    (fault,) = faults_of(text)
    assert (fault.sentence(), fault.kind) == (sentence, "pack")


def test_packs_beyond_what_is_followed() -> None:
    """300 packs over one rule: each has a version of its own. And fewer over many rules."""
    packs = [read_text(text, f"p{n}.yaml") for n, text in enumerate(hostile.amending(300, 1))]
    made, (fault, *_) = resolve(packs, [pack.name for pack in packs])
    assert made is None
    assert fault.said == "more than 100 packs build one on another"
    packs = [read_text(text, f"p{n}.yaml") for n, text in enumerate(hostile.amending(41, 13))]
    made, faults = resolve(packs, [pack.name for pack in packs])
    assert [each.sentence() for each in faults] == [
        "p40.yaml, line 6, r0: is amended by 40 packs; the amendments of all rules, each times those of the same rule,"
        " come to 20,800, more than the 20,000 allowed; write them in one pack."
    ]


COUNTED = hostile.pack(
    "axes:\n  hole: {count: holes}\n  pin: {count: pins}\n  row: {groups: rows, of: pin, default: each}\n",
    "facts:\n  holes: {kind: count}\n  pins: {kind: count}\n  rows: {kind: groups}\n",
    "measurands:\n  size: {unit: in, at: hole}\n  width: {unit: in, at: pin}\n",
    rules=hostile.rule("size + width", ["hole", "pin"]).replace("readings: {size: 1.5}", "facts: {holes: 1, pins: 1}"),
)


def settled(body: str, spec: Specification) -> tuple[Sheet | None, tuple[Fault, ...]]:
    raw, _ = read_sheet(f"specrules: build-sheet/1\nunit: in\n{body}", "a.yaml")
    assert raw is not None
    return settle(raw, spec)


COUNTS = {
    "stated": ("facts: {holes: 101, pins: 100}", 3, "holes", "sheet"),
    "stated of the other": ("facts: {holes: 100, pins: 102}", 3, "pins", "sheet"),
    "named by readings": ("readings:\n  size: {1: 1.5, 200: 1.6}\n  width: {100: 1.5}", 4, "holes", "sheet"),
    "named by a run": ("readings:\n  size: {1 to 200: 1.5}\n  width: {100: 1.5}", 4, "holes", "sheet"),
}


@pytest.mark.parametrize("case", COUNTS)
def test_a_count_that_takes_too_much_is_a_fault_of_the_sheet(case: str) -> None:
    body, line, fact, kind = COUNTS[case]
    sheet, (fault,) = settled(body, resolved(COUNTED))
    assert sheet is None
    assert (fault.place.file, fault.place.line, fault.subject, fault.kind) == ("a.yaml", line, fact, kind)
    assert " of these, fit lies at " in fault.said
    assert fault.said.endswith("along hole, pin, more than the 10,000 allowed")
    assert fault.write == "a smaller count"


def test_a_count_that_a_pack_sets_is_the_packs() -> None:
    made = resolved(COUNTED.replace("holes: {kind: count}", "holes: {kind: count, assumed: 200}"))
    _, (fault,) = settled("facts: {pins: 100}", made)
    assert (fault.place.file, fault.subject, fault.kind) == ("pack0.yaml", "holes", "pack")


def test_no_new_sheet_is_laid_out_beyond_the_budget() -> None:
    """Its head alone says what is too much: 256 times 256 cells would be some megabytes."""
    lying = COUNTED.replace("size: {unit: in, at: hole}", "size: {unit: in, at: hole, positions: pin}")
    text = start(resolved(lying), {"holes": "256", "pins": "256"}, NewSheet("", ["house"], "in"))
    assert len(text) < 2000
    raw, _ = read_sheet(text, "a.yaml")
    assert raw is not None
    (fault,) = settle(raw, resolved(lying))[1]
    assert (fault.subject, fault.kind) == ("holes", "sheet")


@pytest.mark.second_lane
def test_a_count_within_the_budget_is_judged() -> None:
    spec = resolved(COUNTED)
    sheet, faults = settled("facts: {holes: 100, pins: 100}", spec)
    assert not faults
    assert sheet is not None
    assert len(inspect(sheet, spec).findings) == 10_000


def test_a_pack_at_its_limit_is_worked_out() -> None:
    """As deep as may be, and as often named: nothing overflows, and the value is right."""
    for text, value in ((hostile.chain(50), "1.549"), (hostile.doubling(20), str(Decimal("1.5") * 2**19))):
        spec = resolved(text)
        sheet, faults = settled("readings: {size: 1.5}", spec)
        assert not faults
        assert sheet is not None
        (finding,) = inspect(sheet, spec).findings
        assert finding.value == Decimal(value)


@pytest.mark.second_lane
@pytest.mark.parametrize("name", ["general", "street", "towing", "racing", "teaching"])
def test_engines_of_16_cylinders_are_below_the_budget(name: str) -> None:
    """Two thirds of it at most, with 16 labels on every counted axis, 4 valves a cylinder and 4 bolts a rod, which no
    engine has more of, and nothing stated of what figures hold by; and 16 are borne, whatever the sheet says."""
    spec = shipped.resolved(name)
    axes = spec.axes.values()
    counts = {a.name: len(a.names) * (2 if a.kinds else 1) or (4 if a.letters else 16) for a in axes}
    amounts = WorkCount(spec, counts).amounts
    assert {what: amount for what, amount in amounts.items() if amount * 1.5 > getattr(BUDGET, what)} == {}
    assert spec.labels_borne >= 16


def test_what_a_specification_bears_is_kept_with_it_and_asked_first() -> None:
    spec = resolved(COUNTED)
    assert spec.labels_borne == 64
    labels = {"hole": ("1",) * 256, "pin": ("1",), "row": ("1",)}
    assert excess_of(spec, labels) is None
    assert excess_of(spec, {**labels, "pin": ("1",) * 64}) is not None
    assert excess_of(spec._replace(labels_borne=256), {**labels, "pin": ("1",) * 64}) is None


def test_of_a_fact_that_is_stated_nothing_is_supposed() -> None:
    """What the general pack's figures hold for hangs on the card's bore: stated, there are far fewer worlds to try."""
    spec = shipped.resolved("general")
    counts = {axis.name: len(axis.names) or 32 for axis in spec.axes.values()}
    unstated, stated = WorkCount(spec, counts), WorkCount(spec, counts, stated={"card_bore"})

    def steps_of_gaps(work: WorkCount) -> int:
        return sum(share.amount for share in work.shares["steps"] if share.name == "ring_end_gap")

    assert steps_of_gaps(unstated) > 4 * steps_of_gaps(stated)
    assert WorkCount(spec, counts, stated=spec.facts).amounts["steps"] < stated.amounts["steps"]


def test_the_shape_of_a_formula_is_what_counts() -> None:
    """By hand, with 4 places and 2 planes: a leaf or a sum is a step for itself and one for each reading in it."""
    spec = resolved(BASE)
    work = WorkCount(spec, {"place": 4, "plane": 2, "class": 1})
    assert work.amounts["cells"] == 4 * 2 + 4 * 2 + 1
    assert work.amounts["places"] == 8
    assert work.amounts["findings"] == 3 * 4 + 1 * 4 + 2 * 4  # figures, a sign-off, rules
    assert work.amounts["depth"] == 6  # ratio, /, clearance, -, smallest, hole


@given(st.integers(1, 40), st.integers(1, 40), st.integers(0, 3))
def test_more_labels_are_never_less_work(holes: int, pins: int, more: int) -> None:
    spec = resolved(COUNTED)
    fewer = WorkCount(spec, {"hole": holes, "pin": pins, "row": pins}).amounts
    larger = WorkCount(spec, {"hole": holes + more, "pin": pins, "row": pins}).amounts
    assert all(larger[what] >= fewer[what] for what in fewer)


@given(st.integers(2, 60))
def test_counting_takes_a_step_for_each_figure_and_not_for_each_use(number: int) -> None:
    """Uses double with every figure; what is walked to count them does not."""
    text = hostile.doubling(number)
    walked: list[object] = []

    class Walked(WorkCount):
        def _tree(self, node: object, *, supposing: bool = True) -> object:  # type: ignore[override]
            walked.append(node)
            return super()._tree(node, supposing=supposing)  # type: ignore[arg-type]

    spec = resolved(hostile.doubling(2))
    packs = [read_text(text)]
    made, faults = resolve(packs, ["house"], plug().functions)
    assert (made is None) == (number > 20) == bool(faults)
    if made is not None:
        Walked(made, {})
        assert len(walked) <= 4 * number + 2
    assert borne(spec)[0] is not None


def test_the_readme_has_the_budget() -> None:
    told = (Path(__file__).parents[2] / "packs" / "README.md").read_text().partition("## What a pack may cost")[2]
    rows = [line.rpartition("| ")[2].strip(" |") for line in told.partition("## ")[0].splitlines() if line[:1] == "|"]
    assert rows[2:] == [f"{most:,}" for most in BUDGET]
