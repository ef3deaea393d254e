"""One pack whole, as a person reads it, group by group."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from specrules.formula import Rows
from specrules.output.exercise_page import lesson_list
from specrules.output.gauge_page import gauge_classes
from specrules.output.ledger_lines import asked_less
from specrules.output.lines import Line, folded, line, spread, under
from specrules.output.telling import source_text
from specrules.output.words import listed, name, sentence
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


def _grounds(spec: Specification, head: PackHead) -> Iterator[Line]:
    """The packs that it builds on with their versions here, and the versions that it takes where it says any."""
    versions = {each.name: each.version for each in spec.packs}
    found = []
    for ground, written in zip(head.builds_on, head.grounds, strict=True):
        takes = written.removeprefix(ground).strip()
        found.append(f"{ground} {versions[ground]}{f' (it takes {takes})' if takes else ''}")
    yield from folded(f"builds on {listed(found)}" if found else "builds on no other pack")


def _what_holds(spec: Specification) -> Iterator[Line]:
    """What counts for every rule of a sheet that names it, whichever pack says so."""
    if spec.figures_hold_by:
        facts = (f"{fact} ({listed(spec.facts[fact].choices, 'or')})" for fact in spec.figures_hold_by)
        said = (
            f"{listed(facts)}. Every figure says for which of these it holds, so a sheet states them; none is assumed."
        )
        yield from folded(said, 2, "figures hold by: ", hang=4)
    if spec.examples_assume:
        assumed = ", ".join(f"{fact}: {value}" for fact, value in spec.examples_assume.items())
        said = f"{assumed}. Worked examples and exercises take that where they state none; a sheet never does."
        yield from folded(said, 2, "examples assume: ", hang=4)
    if spec.hold_points:
        said = f"{', '.join(map(name, spec.hold_points))}, in the order of the work. Each waits for its own checks and "
        said += "those of all before it."
        yield from folded(said, 2, "hold points: ", hang=4)
    at = spec.assumed_temperature
    if at is not None:
        unit = at.unit
        either_way = (
            ""
            if at.U is None
            else f", anywhere within {unit.difference_from_base(at.U).normalize():f} {unit.symbol} either way"
        )
        degrees = f"{at.number:f} {unit.symbol}{either_way}"
        said = f"{degrees}. Where a sheet states none, parts and gauges are taken to lie there together."
        yield from folded(said, 2, "assumed temperature: ", hang=4)


def _margins(spec: Specification, head: PackHead) -> Iterator[Line]:
    """How much further in than the packs below it holds rules, those with one margin and reason together."""
    alike: dict[tuple[str, bool, str], list[str]] = {}
    for chain in spec.rules.values():
        for margin in chain.governing[-1].margins:
            if margin.pack == head.name:
                reasons = (text for version in chain.versions for pack, text in version.reasons if pack == head.name)
                alike.setdefault((margin.text, margin.makers_too, next(reasons, "")), []).append(chain.name)
    for (text, makers_too, reason), rules in alike.items():
        makers = "the maker's limits too" if makers_too else "the maker's own limits stand"
        said = f"{text} further in, least up and most down, after all lines of all packs; {makers}: {listed(rules)}."
        yield from folded(f"{said} {sentence(reason)}".strip(), 2, "margin: ", hang=4)


def pack_whole(spec: Specification, head: PackHead, ledger: Sequence[Relaxation] = ()) -> Iterator[Line]:
    """One pack: what it says of itself, its ledger, then every rule that it writes or amends, as its specification
    leaves it."""
    yield from spread(f"{head.name} {head.version}", head.licence, "heading")
    yield from folded(head.title)
    yield from folded(head.author, 0, "by ")
    yield from _grounds(spec, head)
    if head.sets:
        states = ", ".join(f"{fact}: {value}" for fact, value in head.sets.items())
        yield from folded(states, 0, "a sheet that names it states ")
    yield from folded(head.caution, 0, "Caution: ")
    yield from _what_holds(spec)
    yield from _margins(spec, head)
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
