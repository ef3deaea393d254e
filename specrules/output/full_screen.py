"""The screen of `--full`: what needs attention, whole; what is in spec, a line a rule; what is open; may I go on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from specrules.inspection import FigureValue, Finding, Report, Whole
from specrules.inspection.digits import span
from specrules.output.closing_lines import closing, place_in_work
from specrules.output.ledger_lines import asked_less
from specrules.output.lines import Line, columns, line, under
from specrules.output.rule_lines import attention, by_rule, in_spec_of, row_of_rule
from specrules.output.screen_parts import asked_sign_offs, head, no_figure, not_measured, remarks, sign_off, to_state
from specrules.output.verdicts import ATTENTION
from specrules.output.words import name, short

LARGE = 1000


def whole_screen(inspection: Report, whole: Whole) -> list[Line]:
    """All that is to be said of each rule. `whole` finds what a finding that is shown whole stands on."""
    return [
        *to_state(inspection),
        *head(inspection),
        *needing_attention(inspection, whole),
        *in_spec_lines(inspection),
        *not_measured(inspection, inspection.findings),
        *no_figure(inspection, inspection.findings),
        *sign_offs(inspection),
        *asked_less(inspection.ledger),
        *remarks(inspection),
        *figures(inspection),
        *closing(inspection),
    ]


def needs_attention(rule: Sequence[Finding]) -> bool:
    """Whether some station of a rule is beyond, cannot be told or is not proven."""
    return any(finding.verdict in ATTENTION for finding in rule)


def needing_attention(inspection: Report, whole: Whole) -> Iterator[Line]:
    """Every rule that needs attention, whole, under its group's heading."""
    rules = [rule for rule in by_rule(inspection.findings) if needs_attention(rule)]
    for group, of_group in groupby(rules, key=lambda rule: rule[0].group):
        yield line()
        yield line((group.upper(), "heading"))
        for number, rule in enumerate(of_group):
            if number:
                yield line()
            yield from attention(rule, whole)


def in_spec_lines(inspection: Report) -> Iterator[Line]:
    """One line for each rule that is in spec wherever it was measured."""
    rules = [rule for rule in by_rule(inspection.findings) if in_spec_of(rule) and not needs_attention(rule)]
    yield from under("IN SPEC", (row for rule in rules for row in row_of_rule(in_spec_of(rule))))


def sign_offs(inspection: Report) -> Iterator[Line]:
    """How many sign-offs are given, and the questions that are not."""
    asked = asked_sign_offs(inspection)
    lacking = [state for state in asked if state.state != "signed"]
    if not asked:
        return
    yield line()
    yield line(("SIGN-OFFS", "heading"), f"  {len(asked) - len(lacking)} of {len(asked)} signed")
    lacking.sort(key=lambda state: place_in_work(inspection, state.hold_point))
    for hold_point, states in groupby(lacking, key=lambda state: state.hold_point):
        yield line(f"  {name(hold_point) or 'at any time'}")
        for state in states:
            yield from sign_off(state)


def _digits(row: Sequence[FigureValue]) -> int:
    """Decimals for a figure: as its readings were written, and none for a number that has four digits before them."""
    large = any(abs(each.value) >= LARGE for each in row if each.value is not None)
    return 0 if large else max(each.places for each in row)


def figures(inspection: Report) -> Iterator[Line]:
    """What was worked out, and no rule judges: for the whole build, or a range over its stations."""
    free = [figure for figure in inspection.figures if not figure.judged and figure.value is not None]
    known = [list(of_figure) for _, of_figure in groupby(free, key=lambda figure: figure.name)]
    yield from under("WORKED OUT", (row for of_figure in known for row in _figure(of_figure)))


def _figure(row: Sequence[FigureValue]) -> Iterator[Line]:
    ends = [(figure.value, figure.value) for figure in row]
    doubt = "in doubt" if any(figure.in_doubt for figure in row) else ""
    return columns(f"  {short(row[0].title)}", span(ends, row[0].unit, _digits(row)), doubt, "doubt", wide=44)
