"""One pack whole, as a person reads it, group by group."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from specrules.formula import Rows
from specrules.output.exercise_page import lesson_list
from specrules.output.gauge_page import gauge_classes
from specrules.output.ledger_lines import asked_less
from specrules.output.lines import Line, folded, line, spread, under
from specrules.output.pack_heading import grounds, margins, what_holds
from specrules.output.telling import source_text
from specrules.output.words import name, sentence
from specrules.output.working_page import rule_whole
from specrules.pack import PackHead, PackTable, Relaxation, Sold, Specification


def after_work(spec: Specification) -> Iterator[Line]:
    """After each operation, what to measure, to state and to sign again."""
    verbs = (("measure", spec.measurands), ("state", spec.facts), ("sign", spec.sign_offs))
    for operation in spec.operations.values():
        yield from folded(f"{operation.name}: {operation.title}", 2, style="heading")
        for verb, known in verbs:
            again = [name(stale) for stale in operation.makes_stale if stale in known]
            if again:
                yield from folded(f"{', '.join(again)}.", 4, f"{verb} again: ", hang=6)


def _tables(spec: Specification, head: PackHead) -> Iterator[Line]:
    """The tables that a pack wrote or changed, each with its functions, and what is sold in sizes."""
    tables = (table for table in spec.tables.values() if table.pack == head.name)
    yield from under("TABLES", (row for table in tables for row in _table(table)))
    if spec.packs[0].name == head.name:
        yield from under("SOLD IN SIZES", (row for sold in spec.sold.values() for row in _sold(sold)))


def _table(table: PackTable) -> Iterator[Line]:
    keys = ", ".join(key.name for key in table.data.keys)
    yield from folded(table.title, 2, f"{table.data.name}: ")
    for column in table.data.columns:
        what = "a label" if column.unit is None else column.unit.symbol or "a number"
        yield from folded(f"{table.data.name}_{column.name}({keys})   {what}", 4)
    yield from folded(f"{_rows(table.data.rows)} rows; {source_text(table.source)}", 4, style="quiet")


def _sold(sold: Sold) -> Iterator[Line]:
    for each in sold.sets:
        low, high = (each.unit.from_base(size).normalize() for size in (each.sizes[0], each.sizes[-1]))
        sizes = f"{len(each.sizes)} sizes, {low:f} to {high:f} {each.unit.symbol}"
        yield from folded(f"{sold.title}: {sizes}; {source_text(sold.source)}", 2, f"{sold.name}: ")


def _rows(rows: Rows) -> int:
    return sum(map(_rows, rows.below)) if rows.below else max(len(rows.numbers), len(rows.labels))


def _axes(spec: Specification, head: PackHead) -> Iterator[Line]:
    """The axes to which a pack adds labels, with all that there are then, and its reason."""
    added = {name: dict(told)[head.name] for name, told in spec.axes_amended.items() if head.name in dict(told)}
    for axis, reason in added.items():
        yield from folded(f"{', '.join(map(name, spec.axes[axis].names))}. {reason}", 2, f"{name(axis)}: ", hang=4)


def pack_whole(spec: Specification, head: PackHead, ledger: Sequence[Relaxation] = ()) -> Iterator[Line]:
    """One pack: what it says of itself, its ledger, then every rule that it writes or amends, as its specification
    leaves it."""
    yield from spread(f"{head.name} {head.version}", head.licence, "heading")
    yield from folded(head.title)
    yield from folded(head.author, 0, "by ")
    yield from grounds(spec, head)
    if head.sets:
        states = ", ".join(f"{fact}: {value}" for fact, value in head.sets.items())
        yield from folded(states, 0, "a sheet that names it states ")
    yield from folded(head.caution, 0, "Caution: ")
    yield from what_holds(spec)
    yield from margins(spec, head)
    for version, told in head.changes.items():
        yield from folded(" ".join(map(sentence, told)), 2, f"{version}: ", hang=4)
    yield from asked_less(ledger)
    yield from under("AXES", _axes(spec, head))
    rules = [chain for chain in spec.rules.values() if any(version.pack == head.name for version in chain.versions)]
    for group, chains in groupby(rules, key=lambda chain: chain.governing[-1].group):
        yield line()
        yield line((group.upper(), "heading"))
        for chain in chains:
            yield line()
            yield from rule_whole(spec, chain.name)
    ground = spec.packs[0].name == head.name
    if ground:
        yield from under("GAUGES", gauge_classes(spec))
        asked = (row for each in spec.sign_offs.values() for row in folded(each.question, 2, f"{each.name}: "))
        yield from under("SIGN-OFFS", asked)
    yield from _tables(spec, head)
    if ground:
        yield from under("WHAT WORK MAKES STALE", after_work(spec))
    if any(lesson.pack == head.name for lesson in spec.lessons.values()):
        yield line()
        yield from lesson_list(spec, head.name)
