"""One rule in full, as its packs have it and worked with a sheet's numbers; the lines for the maker's own figure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from specrules.inspection import Finding, Inspection, SideMargin, Verdict
from specrules.output.digits import never_nothing, places_of
from specrules.output.lines import Line, folded, line, spread
from specrules.output.telling import basis, details, limits_of, measured, source_text, verdict_text
from specrules.output.words import listed, name, place
from specrules.pack import LimitLine, Rule, Stack

_LEFT = 14


def rule_whole(stack: Stack, rule_name: str) -> list[Line]:
    """Everything that the stack says of a rule."""
    chain = stack.rules[rule_name]
    lines: list[Line] = []
    for number_, rule in enumerate(chain.governing):
        lines += [line()] if number_ else []
        lines += [*_head(rule, [version.pack for version in chain.versions]), *_formula(rule, stack)]
        lines += [*_limits(rule), *_reasons(rule)]
    return lines


def worked_with(inspection: Inspection, stack: Stack, rule_name: str) -> list[Line]:
    """The rule at every station of a sheet, and the lines to paste for the maker's own limit."""
    findings = [finding for finding in inspection.findings if finding.rule == rule_name]
    lines = [line(), line((f"WORKED WITH {inspection.title or inspection.file}", "heading"))]
    for finding in findings:
        lines += _station(finding)
    return [*lines, *to_paste(stack.rules[rule_name].governing[-1], findings)]


def _row(left: str, text: str, style: str = "") -> Iterator[Line]:
    if text:
        yield from folded(text, 0, f"{left:<{_LEFT}}", style)


def _head(rule: Rule, packs: Sequence[str]) -> Iterator[Line]:
    yield from folded(rule.title, style="heading")
    yield from _row("name", rule.name)
    yield from _row("packs", " then ".join(packs))
    yield from _row("at", f"each {' and '.join(map(name, rule.each))}" if rule.each else "once for the whole build")
    yield from _row("applies when", rule.applies_when.text if rule.applies_when is not None else "")


def _formula(rule: Rule, stack: Stack) -> Iterator[Line]:
    yield from _row("formula", rule.formula.text)
    figure = stack.figures.get(rule.formula.text)
    for way in figure.ways if figure is not None else ():
        when = f", when {way.when.text}" if way.when is not None else ""
        yield from _row("", f"{way.name + ': ' if way.name else ''}{way.formula.text}{when}")
    for measurand in (stack.measurands[used] for used in sorted(_measured(rule, stack)) if used in stack.measurands):
        yield from _row("measure", f"{measurand.name}: {measurand.how}" if measurand.how else measurand.name)


def _measured(rule: Rule, stack: Stack) -> set[str]:
    """The measurands behind a rule, through every figure and way."""
    found: set[str] = set()
    waiting = set(rule.formula.names)
    while waiting:
        used = waiting.pop()
        found.add(used)
        figure = stack.figures.get(used)
        if figure is not None:
            waiting |= {each for way in figure.ways for each in way.formula.names} - found
    return found


def _limits(rule: Rule) -> Iterator[Line]:
    if not rule.limits_wanted:
        yield from _row("limits", "none: shown, never judged")
    for number_, limit in enumerate(rule.lines):
        yield from _row("limits" if not number_ else "", _limit(limit))
    if rule.from_the_maker:
        yield from _row("limits", "from the maker alone: put them in the sheet")
    yield from _row("words", f"{rule.words[0]} under the least, {rule.words[1]} over the most")


def _limit(limit: LimitLine) -> str:
    said = [f"{part} {formula.text}" for part, formula in limit.sets.items()]
    if limit.shift is not None:
        said.append(f"all that stands moved by {limit.shift.text}")
    if limit.from_the_maker:
        said.append("from the maker alone")
    when = f"when {limit.when.text}: " if limit.when is not None else ""
    return f"{limit.name} ({limit.pack}): {when}{', '.join(said)}"


def _reasons(rule: Rule) -> Iterator[Line]:
    yield from _row("importance", _importance(rule))
    yield from _row("hold point", name(rule.hold_point))
    yield from _row("needs", listed(rule.needs))
    for word in rule.words:
        yield from _row(f"if {word}", rule.because.get(word, ""))
        for step in rule.remedy.get(word, ()):
            yield from _row("", f"do: {step.do}{f' (moves it {step.moves.text})' if step.moves is not None else ''}")
    yield from _row("otherwise", rule.otherwise)
    yield from _row("caution", rule.caution)
    yield from _row("does not test", rule.does_not_test)
    yield from _row("note", rule.note)
    for pack, reason in rule.reasons:
        yield from _row(pack, reason)
    yield from _row("source", source_text(rule.source), "quiet")


def _importance(rule: Rule) -> str:
    said = {word: formula.text for word, formula in rule.importance.items()}
    if len(set(said.values())) == 1:
        return next(iter(said.values()))
    return ", ".join(f"{text} when {word}" for word, text in said.items())


def _station(finding: Finding) -> Iterator[Line]:
    yield line()
    where = place(finding.station) or "the whole build"
    value = measured(finding)
    yield from spread(f"{where}   {value} {finding.unit.symbol if value else ''}".rstrip(), verdict_text(finding))
    if finding.verdict is Verdict.NOT_MEASURED:
        yield from folded(f"wants {listed(map(name, finding.rests_on.missing))}", 2, style="quiet")
    yield from folded(limits_of(finding), 2)
    for text in details(finding) if finding.verdict is not Verdict.IN_SPEC else basis(finding):
        yield from folded(text, 2)
    for margin in finding.margins:
        if margin.value is not None:
            yield from folded(_margin(finding, margin), 2)
    if finding.conformance is not None:
        about = "" if finding.conformance_normal else "about "
        yield from folded(f"probability that the limits are met: {about}{finding.conformance:.3f}", 2)
    for row in finding.budget[:MOST_CAUSES]:
        amount = never_nothing(Decimal(row.u), finding.unit, finding.places + 1)
        yield from folded(f"u {amount}  {row.what}", 4, style="quiet")
    for each in finding.inputs:
        what = f"{name(each.name)} {place(each.station, each.position)}".rstrip()
        stated = f" ±{never_nothing(each.U, each.unit, finding.places)}" if each.U and "±" not in each.text else ""
        gauge = f", {each.gauge}" if each.gauge else ""
        yield from folded(f"{what} = {each.text}{stated}{gauge} (line {each.place.line})", 4, style="quiet")


MOST_CAUSES = 8
"""So many lines of a budget say nearly all of it."""


def _margin(finding: Finding, margin: SideMargin) -> str:
    """How far inside or beyond one limit, and how sure that is."""
    assert margin.value is not None
    inside = "inside" if margin.value >= 0 else "beyond"
    digits = max(places_of(finding), finding.places)
    U = f" ±{never_nothing(margin.U, finding.unit, digits)}" if margin.U else ""
    return f"{never_nothing(abs(margin.value), finding.unit, digits)}{U} {inside} the {margin.side}"


def to_paste(rule: Rule, findings: Sequence[Finding]) -> Iterator[Line]:
    """The lines that put the part maker's own limit into a sheet."""
    digits = max((finding.places for finding in findings), default=4)
    figure = f"{'0.' + '0' * digits if digits else '0'} {rule.unit.symbol}".rstrip()
    yield line()
    yield line("For the part maker's own figure, which comes first, put this in the sheet:")
    yield line()
    yield line("limits:")
    yield line(f"  {rule.name}:")
    yield line(f"    - {{least: {figure}, most: {figure}, source: where the figure stands}}")
