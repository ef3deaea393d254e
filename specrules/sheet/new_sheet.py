"""A new sheet to fill in by hand: what to state, an empty cell for every reading, one line a station."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Mapping, Sequence
from itertools import product
from textwrap import wrap
from typing import NamedTuple

from specrules.document import Fault, read
from specrules.document.source import quoted
from specrules.pack import Fact, Measurand, Specification, present, told_in
from specrules.pack.needing import covered_by_job
from specrules.pack.work_budget import excess_of
from specrules.quantity import LENGTH, Unit, find_unit
from specrules.sheet.axes import AxisLabels, lay_out
from specrules.sheet.describing import described
from specrules.sheet.facts import LAYOUT_KINDS, layout_facts
from specrules.sheet.settling import settle
from specrules.sheet.sheet_model import HEADER
from specrules.sheet.sheet_parts import Sheet
from specrules.sheet.sheet_reading import read_sheet
from specrules.vocabulary import PART_STATES

WIDTH = 100
Labels = Mapping[str, tuple[str, ...]]
_PLAIN = re.compile(r"[A-Za-z0-9.](?:[\w.+/-]|[ ](?=[\w.+/(-]))*", re.ASCII)


class NewSheet(NamedTuple):
    """What a new sheet is for: what is built, by which packs, in which unit bare lengths are, which says the system of
    units of all the rest; the headings and the hold point that the job covers, none for all; whether each cell comes
    with how it is read, and every fact that may be stated."""

    title: str
    packs: Sequence[str]
    unit: str
    scope: Sequence[str] = ()
    until: str = ""
    with_how: bool = False


_NOTHING = NewSheet("", (), "in")


def start(spec: Specification, facts: Mapping[str, str], new: NewSheet) -> str:
    """The text of a new sheet. It reads back without a fault, once `facts`, `scope` and `until` are right, and without
    a single reading. `facts` as they would be written in a sheet."""
    lengths_in = find_unit(new.unit, dimension=LENGTH)
    spec = told_in(spec, lengths_in if isinstance(lengths_in, Unit) else None)
    spec = _there(_top(spec, facts, new), spec)
    head = _top(spec, facts, new)
    layout = _layout("\n".join(head), spec)
    if excess_of(spec, layout.labels) is not None:  # a sheet with its facts alone says what is too much
        return "\n".join(head)
    job = covered_by_job(spec, new.scope, new.until)
    measured = [*_parts(job, new), *_gauges(job, new), "", *_readings(job, layout, new), ""]
    lines = [*head, *measured, *_limits(job), *_signed(job), "", *_work(job)]
    return "\n".join(line.rstrip() if line.lstrip().startswith("#") else line for line in lines) + "\n"


def next_to_ask(spec: Specification, facts: Mapping[str, str], done: Container[str]) -> Fact | None:
    """The next fact to ask for: of those that axes stand on with nothing in their stead, and those that have a
    question, in written order. What is given, done, set by the packs or absent by what is given is not asked for."""
    here = _there(_top(spec, facts, _NOTHING), spec)
    wanted = (fact for fact in here.facts.values() if _comes_first(fact, here))
    return next((f for f in wanted if not (f.name in facts or f.name in done or f.name in spec.sets)), None)


def _comes_first(fact: Fact, spec: Specification) -> bool:
    """Whether a fact has a question, or axes stand on it with nothing in its stead."""
    axes = spec.axes.values()
    shaping = {axis.count for axis in axes} | {axis.labels for axis in axes}
    shaping |= {axis.groups for axis in axes if not axis.default} | {fact for axis in axes for fact in axis.kinds}
    return bool(fact.question) or (fact.name in shaping and not fact.assumed)


def wrong_answer(spec: Specification, facts: Mapping[str, str], answered: str) -> Fault | None:
    """What is wrong with the one of these facts that was answered last."""
    raw, faults = read_sheet("\n".join(_top(spec, facts, _NOTHING)), "")
    found = faults if raw is None else (*faults, *settle(raw, spec)[1])
    return next((each for each in found if each.subject.startswith(answered)), None)


def _top(spec: Specification, facts: Mapping[str, str], new: NewSheet) -> list[str]:
    return [f"specrules: {HEADER}", "", *_head(new), "", *_facts(spec, facts, new), ""]


def _there(head: Sequence[str], spec: Specification) -> Specification:
    """The specification without what these facts say is not there."""
    raw, _ = read_sheet("\n".join(head), "")
    return present(spec, described(raw.model.facts, spec, spec.unit)).spec if raw else spec


def _layout(head: str, spec: Specification) -> AxisLabels:
    """The layout as the facts give it; where they are at fault the sheet itself will say so."""
    raw, _ = read_sheet(head, "")
    laid, _ = layout_facts(raw.model.facts, spec) if raw else ({}, ())
    return lay_out(spec, laid, {})[0]


def _text(value: str) -> str:
    return value if _PLAIN.fullmatch(value) else quoted(value)


def _comment(indent: str, *texts: str) -> Iterator[str]:
    for text in texts:
        clean = "".join(c if c.isprintable() else " " for c in text)
        yield from wrap(clean, WIDTH, initial_indent=f"{indent}# ", subsequent_indent=f"{indent}# ")


def _beside(line: str, comment: str, column: int = 32) -> Iterator[str]:
    """A line with its comment to the right of it, or above it where there is no room."""
    (above, *rest), indent = list(_comment("", comment)) or [""], line[: len(line) - len(line.lstrip())]
    whole = f"{line:<{column}}  {above}"
    if above and not rest and len(whole) <= WIDTH:
        yield whole
    else:
        yield from _comment(indent, comment)
        yield line


def _head(new: NewSheet) -> Iterator[str]:
    yield "build:"
    yield f"  title: {_text(new.title) if new.title else ''}"
    yield from ("  job: ", "  serial: ", "  customer: ", "  builder: ")
    yield from _beside("  date: ", "year first: 2026-10-02", 0)
    yield ""
    yield f"packs: [{', '.join(map(_text, new.packs))}]"
    yield from _beside(f"unit: {_text(new.unit)}", "what a length without its unit is in", 0)
    if new.scope:
        yield f"scope: [{', '.join(map(_text, new.scope))}]"
    if new.until:
        yield f"until: {_text(new.until)}"


def _facts(spec: Specification, facts: Mapping[str, str], new: NewSheet) -> Iterator[str]:
    yield from _comment("", "What is stated, not measured. What is left empty counts as not stated.")
    if not new.with_how:
        yield from _comment("", "More may be stated: an inspection names those that checks wait for.")
    yield "facts:"
    told = [fact for fact in spec.facts.values() if new.with_how or fact.name in facts or _comes_first(fact, spec)]
    for fact in sorted(told, key=lambda each: each.kind not in LAYOUT_KINDS):
        yield from _beside(f"  {fact.name}: {_fact(fact, facts.get(fact.name, ''))}", _about(fact, spec, new.with_how))
    for name in facts:
        if name not in spec.facts:
            yield f"  {_text(name)}: {_text(facts[name])}"


def _fact(fact: Fact, value: str) -> str:
    line = ", ".join(part.strip() for part in " ".join(value.split()).split(","))
    if fact.kind in ("groups", "labels") and line and not read(f"groups: {line}\n", "")[1]:
        return line
    return _text(value) if value else ""


def _about(fact: Fact, spec: Specification, with_why: bool) -> str:
    choices = fact.choices if fact.kind == "choice" else ("yes", "no") if fact.kind == "yes/no" else ()
    unit = f" ({fact.unit.symbol})" if fact.unit else ""
    asked = " ".join(filter(None, (fact.question, fact.why if with_why else "")))
    parts = [asked or (fact.title or fact.name.replace("_", " ")) + unit, " or ".join(choices)]
    parts.append(f"which of {', '.join(fact.choices)}" if fact.kind == "labels" else "")
    parts.append(f"may differ by {', '.join(fact.at)}" if fact.at else "")
    axis = next((axis for axis in spec.axes.values() if axis.groups == fact.name), None)
    if axis is not None:
        parts.append("as [[1, 5], [2, 6]]")
    if fact.name in spec.sets:
        parts.append(f"{spec.sets[fact.name]}, by the packs")
    elif fact.assumed:
        parts.append(f"{fact.assumed} if left empty")
    first, *rest = [part for part in parts if part]
    return f"{first} ({'; '.join(rest)})" if rest and first[-1] in ".?" else "; ".join((first, *rest))


def _parts(spec: Specification, new: NewSheet) -> Iterator[str]:
    if not spec.parts:
        return
    yield from _comment(
        "", f"{', '.join(PART_STATES[:-1])} or {PART_STATES[-1]}, part by part: wear limits are for reused ones"
    )
    if not new.with_how:
        yield from ("parts:", "")
        return
    by_part = [f"{part.name} (by {', '.join(part.at)})" if part.at else part.name for part in spec.parts.values()]
    yield from _comment("", f"Parts: {', '.join(by_part)}")
    yield "parts:"
    yield ""


def _gauges(spec: Specification, new: NewSheet) -> Iterator[str]:
    yield from _comment("", "The gauges used, each under a name of your own:")
    yield from _comment("", "{class: ..., zero: {standard: ..., reads: ...}, set with: ..., checked: 2026-10-02}")
    yield from _comment("", "A shop writes its gauges once, in a file beside its sheets: shop.gauges.yaml")
    if new.with_how:
        yield from _comment("", f"Classes: {', '.join(spec.gauge_classes) or 'none in these packs'}")
    yield "gauges from: "
    yield "gauges:"


def _readings(spec: Specification, layout: AxisLabels, new: NewSheet) -> Iterator[str]:
    yield from _comment(
        "",
        "What is measured. Leave a cell empty where nothing was measured. By blades write the thickest that goes, or"
        " both, 18..20, where the next that does not is not the next of the set. One figure in place of the braces"
        " stands for its whole station. Above its stations a reading may have its gauge: and the day it was taken:",
    )
    yield "readings:"
    groups = dict.fromkeys((*spec.groups, *(measurand.group for measurand in spec.measurands.values())))
    for group in groups:
        held = [measurand for measurand in spec.measurands.values() if measurand.group == group]
        if held and group:
            yield from ("", *_comment("  ", group.upper()))
        for measurand in held:
            if new.with_how:
                yield from ("", *_how(measurand))
            by_pack = (spec.written or spec).measurands[measurand.name].unit
            yield from _cells_of(measurand, layout.labels, layout.lettered, new, by_pack)


def _how(measurand: Measurand) -> Iterator[str]:
    """What is measured, with which gauges, where and how often."""
    gauges = f"; {' or '.join(measurand.gauge_classes)}" if measurand.gauge_classes else ""
    yield from _comment("  ", f"{_what(measurand)}{gauges}", *filter(None, (measurand.how,)))
    if measurand.repeats > 1:
        yield from _comment("  ", f"measure each {measurand.repeats} times: {{repeats: [first, second, ...]}}")


def _what(measurand: Measurand) -> str:
    return f"{measurand.title or measurand.name.replace('_', ' ')} ({measurand.unit.symbol})"


def rows_of(measurand: Measurand, sheet: Sheet, spec: Specification) -> tuple[str, ...]:
    """The lines of a measurand's empty cells in a sheet that has none of them, two spaces in."""
    by_pack = (spec.written or spec).measurands[measurand.name].unit
    lettered = frozenset(axis.name for axis in spec.axes.values() if axis.letters)
    return tuple(_cells_of(measurand, sheet.labels, lettered, _NOTHING, by_pack))


def _cells_of(
    measurand: Measurand, all_labels: Labels, lettered: Container[str], new: NewSheet, by_pack: Unit
) -> Iterator[str]:
    """The lines of a measurand's empty cells, two spaces in. A unit that only the sheet's system has is written:
    `by_pack` is that of the packs."""
    key = f"  {measurand.name}:"
    wide = [axis for axis in measurand.axes if len(all_labels[axis]) != 1]
    unknown = [axis for axis in wide if not all_labels[axis]]
    if unknown:
        yield from _named(key, measurand, new)
        yield from _comment("    ", f"one such line for each {unknown[0]}:")
        labels = {**all_labels, **{axis: ("a" if axis in lettered else "1",) for axis in unknown}}
        yield from (f"    # {line.lstrip()}" for line in _cells(wide, labels, "    "))
    elif wide:
        its = measurand.unit.dimension != LENGTH and measurand.unit != by_pack
        unit = (f"    unit: {measurand.unit.symbol}",) if its else ()
        row = f"{key} {_inline(wide, all_labels)}"
        if not (new.with_how or unit or wide[1:]) and len(row) <= WIDTH:
            yield from _named(row, measurand, new)
            return
        when = ("    gauge: ", "    taken: ") if new.with_how else ()
        yield from (*_named(key, measurand, new), *when, *unit, *_cells(wide, all_labels, "    "))
    else:
        yield from _named(f"{key} ", measurand, new)


def _named(line: str, measurand: Measurand, new: NewSheet) -> Iterator[str]:
    """The line of a measurand's name; what it is stands beside it where nothing above says it."""
    yield from (line,) if new.with_how else _beside(line, _what(measurand))


def _cells(axes: Sequence[str], labels: Mapping[str, tuple[str, ...]], indent: str) -> Iterator[str]:
    """One line for each label of the first axis; where that is too long for a line, deeper lines."""
    axis, *inner = axes
    for label in labels[axis]:
        line = f"{indent}{_text(label)}: {_inline(inner, labels)}"
        if len(line) <= WIDTH or not inner:
            yield line
        else:
            yield f"{indent}{_text(label)}:"
            yield from _cells(inner, labels, indent + "  ")


def _inline(axes: Sequence[str], labels: Mapping[str, tuple[str, ...]]) -> str:
    if not axes:
        return ""
    inner = _inline(axes[1:], labels)
    return "{" + ", ".join(f"{_text(label)}: {inner}" for label in labels[axes[0]]) + "}"


def _limits(spec: Specification) -> Iterator[str]:
    rules = [chain.governing[0] for chain in spec.rules.values()]
    owed = [rule for rule in rules if rule.from_the_maker or any(line.from_the_maker for line in rule.lines)]
    yield from _comment("", "The part makers' own limits, which come before those of any pack.")
    if rules and not owed:
        yield from _comment("", f"one line a rule: {rules[0].name}: {{least: , most: , source: the maker's sheet}}")
    yield "limits:"
    for rule in owed:
        yield from _comment("  ", f"{rule.title} ({rule.unit.symbol})")
        yield f"  {rule.name}: {{least: , most: , source: }}"
    yield ""


def _signed(spec: Specification) -> Iterator[str]:
    yield from _comment("", "Who answers for what, and when. For some stations only, or answered no:")
    yield from _comment("", "- {at: {...}, by: initials, on: 2026-10-02, answer: no}")
    yield "signed:"
    known = list(spec.sign_offs.values())
    order = dict.fromkeys((*spec.hold_points, *(sign_off.hold_point for sign_off in known)))
    for point, sign_off in product(order, known):
        if sign_off.hold_point == point:
            yield from _comment("  ", f"{point.replace('_', ' ')}: {sign_off.question}" if point else sign_off.question)
            yield f"  {sign_off.name}: {{by: , on: }}"


def _work(spec: Specification) -> Iterator[str]:
    yield from _comment("", "Work that makes earlier readings stale: - {operation: ..., on: 2026-10-02}. Operations:")
    yield from _comment("  ", ", ".join(spec.operations) or "none in these packs")
    yield "work done:"
