"""The screen for the bench: what has to be done, by what each action would cure; what is in spec, group by group.

It asks for what the hold point asked for needs; what comes later is counted. All the rest stands in `full_screen`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby
from typing import TypeVar

from specrules.inspection import Finding, Report, SignOffState, Whole
from specrules.output.closing_lines import FEW, closing, few_of, place_in_work
from specrules.output.ledger_lines import asked_less_in_brief
from specrules.output.lines import Line, folded, line, spread, under
from specrules.output.reasons import overtaken
from specrules.output.rule_lines import by_rule, in_brief, in_spec_of
from specrules.output.screen_parts import (
    asked_sign_offs,
    at_stations,
    head,
    no_figure,
    not_measured,
    remarks,
    sign_off,
    to_state,
)
from specrules.output.telling import CONFIRMING, may_be_right, suspect_text
from specrules.output.verdicts import ATTENTION, TELLING, Shown, counted_verdicts, shown
from specrules.output.words import listed, lower, many, name, sentence, short
from specrules.sheet import Suspect
from specrules.vocabulary import BEYOND, Reason, Why

K = TypeVar("K")
KINDS = 8
"""So many kinds of slip are told; the rest are counted."""
GROUP = 24
"""How wide the names of groups stand."""


def screen(inspection: Report, whole: Whole) -> list[Line]:
    """The screen without `--full`, 80 columns wide. `whole` finds what a finding that is shown whole stands on."""
    now = [each for each in inspection.findings if reached(inspection, each.hold_point)]
    whole_rows = [finding for finding in now if shown(finding.verdict, Shown.WHOLE)]
    beyond = [finding for finding in whole_rows if finding.verdict in BEYOND and not finding.conceded]
    unproven = [finding for finding in whole_rows if finding.verdict not in BEYOND]
    return [
        *to_state(inspection),
        *head(inspection),
        *_rules("TO PUT RIGHT", beyond, whole),
        *_rules("TO MAKE SURE OF", [each for each in now if inspection.options.sure and _near(each)], whole),
        *_rules("TO PROVE", [finding for finding in unproven if not _cause_is_told(finding, inspection)], whole),
        *to_read_again(unproven, [finding for finding in now if finding.verdict not in ATTENTION]),
        *to_sign(inspection, unproven),
        *not_measured(inspection, now),
        *no_figure(inspection, now),
        *in_spec_by_group(now),
        *asked_less_in_brief(inspection.ledger),
        *remarks(inspection, overtaken_too=False),
        *later(inspection),
        *closing(inspection),
    ]


def reached(inspection: Report, hold_point: str) -> bool:
    """Whether the hold point asked for needs what belongs to this one."""
    return place_in_work(inspection, hold_point) <= place_in_work(inspection, inspection.until)


def _near(finding: Finding) -> bool:
    """Whether it is inside its limits, and nearer to one than can be told."""
    return shown(finding.verdict, Shown.SHORT) and TELLING[finding.verdict].gauge


def _cause_is_told(finding: Finding, inspection: Report) -> bool:
    """Whether readings to take again and questions to sign, all of which are told, say what would prove it: not another
    check that is not good, nor a question of a later hold point."""
    stands_on = finding.rests_on
    told = set(stands_on.unsigned) <= {state.name for state in inspection.unsigned}
    return told and bool(stands_on.suspect or stands_on.stale or stands_on.unsigned) and not finding.notes


def _rules(heading: str, findings: Sequence[Finding], whole: Whole) -> Iterator[Line]:
    """Under a heading, each rule with the stations that have to be seen to."""
    return under(heading, (row for rule in by_rule(findings) for row in in_brief(rule, whole)))


def to_read_again(unproven: Sequence[Finding], undecided: Sequence[Finding] = ()) -> Iterator[Line]:
    """Readings that look like a slip and those that the work has overtaken, each once, with how many checks wait.

    `undecided`: what is open for another reason; what is doubtful behind it is to be read again all the same."""
    doubtful = (*unproven, *undecided)
    suspects = _waiting_for((suspect, finding) for finding in doubtful for suspect in finding.rests_on.suspect)
    stale = _waiting_for((each, finding) for finding in unproven for each in finding.rests_on.stale)
    return under("TO READ AGAIN", (*_suspect_lines(suspects), *_stale_lines(stale)))


def _stale_lines(stale: Mapping[Reason, set[str]]) -> Iterator[Line]:
    """What work has overtaken, by that work."""
    again: dict[str, dict[str, set[str]]] = {}
    for each, checks in stale.items():
        again.setdefault(name(each.names[1]), {}).setdefault(overtaken(each), set()).update(checks)
    for operation, names in again.items():
        every = set[str]().union(*names.values())
        yield from folded(f"{listed(names)}. {_wait(every)}", 2, f"After the {operation}: ", hang=4)


def _suspect_lines(suspects: Mapping[Suspect, set[str]]) -> Iterator[Line]:
    """A text for each reading; of many alike one stands for all, and of very many kinds the rest are counted."""
    alike: dict[tuple[str, Why], list[Suspect]] = {}
    for suspect in suspects:
        alike.setdefault((suspect.name, suspect.reason.code), []).append(suspect)
    kinds = [*alike.values()]
    for kind in kinds[:KINDS]:
        told, more = (kind, []) if len(kind) <= FEW else (kind[:1], kind[1:])
        for suspect in told:
            yield from folded(f"{suspect_text(suspect)} {_wait(suspects[suspect])}", 2, hang=4)
        if more:
            said = f"Likewise {len(more)} readings more of the {name(kind[0].name)}, to line {kind[-1].place.line}."
            yield from folded(said, 4, hang=4)
    if rest := [suspect for kind in kinds[KINDS:] for suspect in kind]:
        names = [*dict.fromkeys(name(suspect.name) for suspect in rest)]
        said = f"{many(len(rest), 'reading')} more that look wrong, of the {listed(few_of(names))}"
        yield from folded(f"{said}. --full tells each.", 2, hang=4)
    if any(map(may_be_right, suspects)):
        yield from folded(CONFIRMING, 2, hang=4)


def _waiting_for(pairs: Iterable[tuple[K, Finding]]) -> Mapping[K, set[str]]:
    """Each cause with the rules that wait for it."""
    found: dict[K, set[str]] = {}
    for cause, finding in pairs:
        found.setdefault(cause, set()).add(finding.rule)
    return found


def _wait(checks: Iterable[str]) -> str:
    number = len(set(checks))
    return f"{many(number, 'check')} {'waits' if number == 1 else 'wait'} for it."


def to_sign(inspection: Report, unproven: Sequence[Finding]) -> Iterator[Line]:
    """How many sign-offs are given; the questions of the next hold point, and those that were answered and stand no
    more; the others by name. Each with how many checks wait for it."""
    asked = [state for state in asked_sign_offs(inspection) if reached(inspection, state.hold_point)]
    if not asked:
        return
    yield line()
    given = sum(state.state == "signed" for state in asked)
    yield line(("SIGN-OFFS", "heading"), f"  {given} of {len(asked)} signed")
    checks = _waiting_for((what, finding) for finding in unproven for what in finding.rests_on.unsigned)
    lacking = sorted(inspection.unsigned, key=lambda state: place_in_work(inspection, state.hold_point))
    for number, (hold_point, of_point) in enumerate(groupby(lacking, key=lambda state: state.hold_point)):
        states = list(of_point)
        whole = [state for state in states if number == 0 or state.state != "missing"]
        by_name = [_named(state, checks) for state in states if state not in whole]
        point = name(hold_point) or "at any time"
        if whole:
            yield line(f"  {point}")
        for state in whole:
            yield from sign_off(state, _wait(checks[state.name]) if state.name in checks else "")
        if by_name:
            yield from folded(f"{', '.join(by_name)}.", 2, f"{point}: ", hang=4)


def _named(state: SignOffState, checks: Mapping[str, set[str]]) -> str:
    waiting = checks.get(state.name, ())
    return f"{state.name} ({many(len(waiting), 'check')})" if waiting else state.name


def in_spec_by_group(now: Sequence[Finding]) -> Iterator[Line]:
    """A line for each group: how many of its checks are in spec wherever they apply, and what is only just, or worn
    within its limit. Groups with nothing else to say share one."""
    there = [finding for finding in now if not shown(finding.verdict, Shown.COUNTED)]
    groups = [(group, by_rule(list(findings))) for group, findings in groupby(there, key=lambda each: each.group)]
    inside = [(group, rules) for group, rules in groups if all(map(_is_inside, rules))]
    yield line()
    heading = "IN SPEC" if any(_is_inside(rule) for _, rules in groups for rule in rules) else "IN SPEC  no whole check"
    yield from spread(heading, "each check with its limits, whys and sources: --full", "heading", "quiet")
    for group, rules in groups:
        if (group, rules) not in inside and any(_is_inside(rule) or _in_short(rule) for rule in rules):
            yield from folded(_told(rules), 2, f"{group:<{GROUP}}  ", hang=GROUP + 6)
    if inside:
        names = "; ".join(group for group, _ in inside)
        yield from folded(f"{names}: {_told([rule for _, rules in inside for rule in rules])}", 2, hang=4)


def _is_inside(rule: Sequence[Finding]) -> bool:
    """Whether a rule is inside its limits wherever it applies, be it only just or worn."""
    return all(shown(finding.verdict, Shown.SHORT, Shown.SUMMED) for finding in rule)


def _told(rules: Sequence[Sequence[Finding]]) -> str:
    """How many of these rules are in spec, and what is only just, or worn within its limit: where that is told of a
    rule that has something else to see to."""
    good = sum(len(in_spec_of(rule)) == len(rule) for rule in rules)
    number = many(len(rules), "check")
    said = [f"all of {number}" if good == len(rules) else f"{good} of {number}"]
    for verdict in _IN_SHORT:
        near = [(rule, [each for each in rule if each.verdict is verdict]) for rule in rules]
        titles = [
            lower(short(rule[0].title)) if _is_inside(rule) else at_stations(of_it) for rule, of_it in near if of_it
        ]
        if titles:
            said.append(f"{verdict}: {listed(titles)}")
    return "; ".join(said)


_IN_SHORT = tuple(verdict for verdict in ATTENTION if shown(verdict, Shown.SHORT))


def _in_short(rule: Sequence[Finding]) -> bool:
    return any(finding.verdict in _IN_SHORT for finding in rule)


def later(inspection: Report) -> Iterator[Line]:
    """What belongs to later hold points, counted."""
    findings = [each for each in inspection.findings if not reached(inspection, each.hold_point)]
    counts = Counter(each.verdict for each in findings if not shown(each.verdict, Shown.COUNTED))
    asked = [each for each in asked_sign_offs(inspection) if not reached(inspection, each.hold_point)]
    unsigned = sum(each.state != "signed" for each in asked)
    said = ", ".join(filter(None, (counted_verdicts(counts), f"{unsigned} to sign" if unsigned else "")))
    if said:
        yield line()
        yield from folded(f"{sentence(said)}", 0, "At later hold points: ", hang=2)
