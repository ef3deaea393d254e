"""One rule in full, as its packs have it and worked with a sheet's numbers; the lines for the maker's own figure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from functools import partial

from specrules.inspection import Earlier, Finding, Report, SideMargin, Whole, WholeFinding
from specrules.inspection.digits import never_nothing, places_of, printed_limits, with_unit
from specrules.output.chain import limits, row, value, written
from specrules.output.lines import Line, folded, line, spread
from specrules.output.reasons import said
from specrules.output.telling import basis, details, limits_of, source_text, sources_of_figures, verdict_text
from specrules.output.verdicts import Shown, shown
from specrules.output.words import listed, name, place
from specrules.pack import Rule, RuleChain, Specification
from specrules.pack.in_units import step_in
from specrules.quantity import YES_NO_UNIT, Unit, fixed
from specrules.vocabulary import WORN


def rule_whole(spec: Specification, rule_name: str) -> list[Line]:
    """Everything that the specification says of a rule."""
    chain = spec.rules[rule_name]
    lines: list[Line] = []
    for number_, rule in enumerate(chain.governing):
        lines += [line()] if number_ else []
        lines += [
            *_head(rule, chain),
            *_formula(rule, spec),
            *limits(rule, chain),
            *_reasons(rule, chain, spec.lengths_in),
        ]
    return lines


def worked_with(inspection: Report, whole: Whole, spec: Specification, rule_name: str) -> list[Line]:
    """The rule at every station of a sheet, and the lines to paste for the maker's own limit."""
    findings = [finding for finding in inspection.findings if finding.rule == rule_name]
    lines = [line(), line((f"WORKED WITH {inspection.title or inspection.file}", "heading"))]
    for finding in findings:
        lines += _station(whole(finding))
    return [*lines, *to_paste(spec.rules[rule_name].governing[-1], findings)]


def _head(rule: Rule, chain: RuleChain) -> Iterator[Line]:
    yield from folded(rule.title, style="heading")
    yield from row("name", rule.name)
    yield from written(chain)
    yield from row("at", f"each {' and '.join(map(name, rule.each))}" if rule.each else "once for the whole build")
    yield from value("applies when", rule, chain, lambda one: one.applies_when.text if one.applies_when else "")


def _formula(rule: Rule, spec: Specification) -> Iterator[Line]:
    yield from row("formula", rule.formula.text)
    figure = spec.figures.get(rule.formula.text)
    for way in figure.ways if figure is not None else ():
        when = f", when {way.when.text}" if way.when is not None else ""
        yield from row("", f"{way.name + ': ' if way.name else ''}{way.formula.text}{when}")
    read = _measured(rule, spec)
    for measurand in (spec.measurands[used] for used in sorted(read) if used in spec.measurands):
        yield from row("measure", f"{measurand.name}: {measurand.how}" if measurand.how else measurand.name)
    yield from row(
        "parts", ", ".join(part.name for part in spec.parts.values() if not read.isdisjoint(part.measurands))
    )


def _measured(rule: Rule, spec: Specification) -> set[str]:
    """The measurands behind a rule, through every figure and way."""
    found: set[str] = set()
    waiting = set(rule.formula.names)
    while waiting:
        used = waiting.pop()
        found.add(used)
        figure = spec.figures.get(used)
        if figure is not None:
            waiting |= {each for way in figure.ways for each in way.formula.names} - found
    return found


def _reasons(rule: Rule, chain: RuleChain, lengths_in: Unit | None) -> Iterator[Line]:
    yield from value("importance", rule, chain, _importance)
    yield from value("hold point", rule, chain, lambda one: name(one.hold_point))
    yield from value("needs", rule, chain, lambda one: listed(one.needs))
    for word in rule.words:
        yield from value(f"if {word}", rule, chain, partial(_because, word))
        yield from value("", rule, chain, partial(_steps, word, lengths_in))
    yield from value("otherwise", rule, chain, lambda one: one.otherwise)
    yield from value("caution", rule, chain, lambda one: one.caution)
    yield from value("does not test", rule, chain, lambda one: one.does_not_test)
    yield from value("note", rule, chain, lambda one: one.note)
    yield from value("source", rule, chain, lambda one: source_text(one.source), "quiet")


def _because(word: str, rule: Rule) -> str:
    return rule.because.get(word, "")


def _steps(word: str, lengths_in: Unit | None, rule: Rule) -> str:
    steps = [step_in(step, lengths_in) for step in rule.remedy.get(word, ())]
    said = (f"{step.do}{f' (moves it {step.moves.text})' if step.moves is not None else ''}" for step in steps)
    return f"do: {'; '.join(said)}" if steps else ""


def _importance(rule: Rule) -> str:
    said = {word: formula.text for word, formula in rule.importance.items()}
    if len(set(said.values())) == 1:
        return next(iter(said.values()))
    return ", ".join(f"{text} when {word}" for word, text in said.items())


def _station(finding: WholeFinding) -> Iterator[Line]:
    yield line()
    where = place(finding.station) or "the whole build"
    yield from spread(f"{where}   {with_unit(finding)}".rstrip(), verdict_text(finding))
    if shown(finding.verdict, Shown.WAITING, Shown.LACKING):
        yield from folded(f"wants {listed(name(said(want)) for want in finding.rests_on.missing)}", 2, style="quiet")
    yield from folded(limits_of(finding), 2)
    for text in basis(finding) if shown(finding.verdict, Shown.SUMMED) else details(finding):
        yield from folded(text, 2)
    for margin in finding.margins if finding.unit != YES_NO_UNIT else ():
        if margin.value is not None:
            yield from folded(_margin(finding, margin), 2)
    if (conformance := finding.conformance) is not None:
        about = "about " if conformance.approximate else ""
        yield from folded(f"probability that the limits are met: {about}{conformance.probability:.3f}", 2)
    for line_ in finding.budget[:MOST_CAUSES]:
        amount = never_nothing(Decimal(line_.u), finding.places + 1)
        yield from folded(f"u {amount}  {said(line_.cause)}", 4, style="quiet")
    for text in sources_of_figures(finding.gauge_figures):
        yield from folded(text, 4, style="quiet")
    for each in finding.inputs:
        what = f"{name(each.name)} {place(each.station, each.position)}".rstrip()
        stated = f" ±{never_nothing(each.U, finding.places)}" if each.U and "±" not in each.text else ""
        gauge = f", {each.gauge}" if each.gauge else ""
        state = f", {each.state}" if each.state else ""
        yield from folded(f"{what} = {each.text}{stated}{gauge}{state} (line {each.place.line})", 4, style="quiet")
        for earlier in each.earlier:
            yield from folded(_before(earlier), 6, style="quiet")


def _before(earlier: Earlier) -> str:
    """What was read there before, and by how much that has moved."""
    when = "".join(f", {part}" for part in (earlier.state, earlier.taken) if part)
    text = f"before: {earlier.text}{when} (line {earlier.place.line})"
    if earlier.moved is None:
        return text
    amount = never_nothing(abs(earlier.moved), earlier.places)
    now = f"{amount} {'larger' if earlier.moved > 0 else 'smaller'}" if earlier.moved else "the same"
    return f"{text}; now {now}"


MOST_CAUSES = 8
"""So many lines of a budget say nearly all of it."""


def _margin(finding: Finding, margin: SideMargin) -> str:
    """How far inside or beyond one limit, and how sure that is."""
    assert margin.value is not None
    inside = "inside" if margin.value >= 0 else "beyond"
    digits = printed_limits(finding.limits, max(places_of(finding), finding.places)).places
    U = f" ±{never_nothing(margin.U, digits)}" if margin.U else ""
    part = WORN[margin.side] if margin.side in finding.limits.worn else margin.side
    return f"{never_nothing(abs(margin.value), digits)}{U} {inside} the {part}"


def to_paste(rule: Rule, findings: Sequence[Finding]) -> Iterator[Line]:
    """The lines that put the part maker's own limit into a sheet."""
    digits = max((printed_limits(each.limits, each.places).places for each in findings), default=4)
    unit = findings[0].unit if findings else rule.unit
    figure = f"{fixed(Decimal(0), digits)} {unit.symbol}".rstrip()
    yield line()
    yield line("For the part maker's own figure, which comes first, put this in the sheet:")
    yield line()
    yield line("limits:")
    yield line(f"  {rule.name}:")
    yield line(f"    - {{least: {figure}, most: {figure}, source: where the figure stands}}")
