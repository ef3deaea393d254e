"""The screen of an inspection: what needs attention first, then what is in spec, what is open, and may I go on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from specrules.inspection import FigureValue, Finding, Report, SignOffState, Whole
from specrules.inspection.digits import span
from specrules.output.closing_lines import begun, closing, place_in_work, wants_the_maker
from specrules.output.ledger_lines import asked_less
from specrules.output.lines import Line, columns, folded, line, spread
from specrules.output.reasons import overtaken, said
from specrules.output.rule_lines import attention, by_rule, in_spec, in_spec_of
from specrules.output.telling import borne_out, readings, suspect_text
from specrules.output.verdicts import ATTENTION, Shown, shown
from specrules.output.words import listed, lower, many, name, places, sentence, short
from specrules.vocabulary import DECISION_RULES, MAKERS, Why

LARGE = 1000


def screen(inspection: Report, whole: Whole) -> list[Line]:
    """The whole screen, 80 columns wide. `whole` finds what a finding that is shown whole stands on."""
    return [
        *to_state(inspection),
        *head(inspection),
        *needing_attention(inspection, whole),
        *in_spec_lines(inspection),
        *not_measured(inspection),
        *no_figure(inspection),
        *sign_offs(inspection),
        *asked_less(inspection.ledger),
        *remarks(inspection),
        *figures(inspection),
        *closing(inspection),
    ]


def to_state(inspection: Report) -> Iterator[Line]:
    """What figures hold by and the sheet does not say, once for all checks that wait for it, with what to paste."""
    if not inspection.unstated:
        return
    names = ", ".join(fact.name for fact in inspection.unstated)
    checks = many(inspection.waiting, "check")
    wait = f"{checks} {'waits' if inspection.waiting == 1 else 'wait'}"
    yield from folded(f"{names}: {wait}.", 0, "State ", "doubt", hang=6)
    yield line("  Under the sheet's facts:")
    for fact in inspection.unstated:
        yield line(f"    {fact.name}: ", (f"# {' or '.join(fact.choices)}", "quiet"))
    yield line()


def head(inspection: Report) -> Iterator[Line]:
    """Whose build, by which packs, under which decision rule."""
    job = inspection.build.get("job", "")
    yield from spread(inspection.title or inspection.file, f"job {job}" if job else "", "heading")
    packs = ", ".join(f"{pack.name} {pack.version}" for pack in inspection.packs)
    yield from folded(packs, 0, "packs     ")
    rule = DECISION_RULES.get(inspection.decision)
    yield from folded((rule and rule.about) or inspection.decision, 0, "decision  ")


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
    if rules:
        yield line()
        yield line(("IN SPEC", "heading"))
    for rule in rules:
        yield from in_spec(rule)


def not_measured(inspection: Report) -> Iterator[Line]:
    """What is open for want of readings, facts or the maker's limits: a paragraph for each group that is begun."""
    waiting = [finding for finding in inspection.findings if shown(finding.verdict, Shown.WAITING)]
    if not waiting:
        return
    yield line()
    yield line(("NOT MEASURED YET", "heading"))
    started = begun(inspection)
    if not started:
        yield from folded(f"{_nothing_begun(inspection)}: {_wait_for_readings(len(by_rule(waiting)))}.", 2)
    for group, of_group in groupby(by_rule(waiting), key=lambda rule: rule[0].group):
        rules = list(of_group)
        if group in started:
            yield from folded("; ".join(map(_waiting, rules)) + ".", 2, f"{group}: ", hang=4)
        elif started:
            yield from folded(
                f"nothing yet, {len(rules)} check{'s' if len(rules) > 1 else ''}.", 2, f"{group}: ", hang=4
            )
    yield from _wants([each for each in waiting if each.group in started] or waiting, inspection)


def _nothing_begun(inspection: Report) -> str:
    entered = inspection.evidence.entered
    if not entered:
        return "Nothing measured yet"
    return f"No check asks for {'the reading' if entered == 1 else f'any of the {entered} readings'} of this sheet"


def _wait_for_readings(checks: int) -> str:
    return f"{checks} checks wait for their readings" if checks > 1 else "1 check waits for its readings"


def _waiting(rule: Sequence[Finding]) -> str:
    where = places([finding.station for finding in rule])
    return f"{lower(short(rule[0].title))}{f' ({where})' if where else ''}"


def _wants(waiting: Sequence[Finding], inspection: Report) -> Iterator[Line]:
    """What no measuring brings: facts to state, and limits that only the maker can give."""
    wants = {want: None for finding in waiting for want in finding.rests_on.missing}
    told = {fact.name for fact in inspection.unstated}
    facts = [want.names[0] for want in wants if want.code is Why.STATE_FACT and want.names[0] not in told]
    if facts:
        yield from folded(f"{', '.join(facts)}.", 2, "State in the sheet's facts: ", hang=4)
    yield from _makers(waiting, inspection.file)


def no_figure(inspection: Report) -> Iterator[Line]:
    """What was measured and cannot be judged, since the packs have no figure for it: why, and what to paste."""
    waiting = [finding for finding in inspection.findings if shown(finding.verdict, Shown.LACKING)]
    if waiting:
        yield line()
        yield line(("MEASURED, AND NO FIGURE TO JUDGE BY", "heading"))
        yield from _makers(waiting, inspection.file)


def _makers(waiting: Sequence[Finding], file: str) -> Iterator[Line]:
    """What only the maker's own figure settles, and where the lines for it are printed."""
    wants = {want: None for finding in waiting for want in finding.rests_on.missing}
    for want in (want for want in wants if want.code in MAKERS):
        titles = listed({lower(short(f.title)): None for f in waiting if want in f.rests_on.missing})
        yield from folded(f"{sentence(said(want)).rstrip('.')}: {titles}.", 2, hang=4)
    first = next((finding for finding in waiting if wants_the_maker(finding)), None)
    if first is not None:
        yield from folded(f"specrules working {first.rule} {file}", 4, "The lines to paste: ", hang=6)


def sign_offs(inspection: Report) -> Iterator[Line]:
    """How many sign-offs are given, and the questions that are not."""
    asked = [state for state in inspection.sign_offs if state.state != "not applicable"]
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


def sign_off(state: SignOffState) -> Iterator[Line]:
    """A question that nobody has answered, that was answered no, or whose answer the work has overtaken."""
    where = places(state.missing_at)
    said = {"stale": "Stale, sign again: ", "answered no": "Answered no: "}.get(state.state, "")
    yield from folded(
        f"{said}{state.question}{f' ({where})' if where else ''}",
        4,
        f"{state.name}: ",
        "bad" if state.state == "answered no" else "",
        hang=6,
    )


def remarks(inspection: Report) -> Iterator[Line]:
    """What was conceded and assumed, and readings that look like a slip though no finding rests on them."""
    texts = list(_remarks(inspection))
    if texts:
        yield line()
        yield line(("REMARKS", "heading"))
    for text in texts:
        yield from folded(text, 2)


def _remarks(inspection: Report) -> Iterator[str]:
    titles = {finding.rule: short(finding.title) for finding in inspection.findings}
    for use in inspection.concessions:
        what = titles.get(use.rule, name(use.rule))
        where = places(use.used_at)
        if use.used_at:
            yield f"Conceded by {use.by}: {what}{f', {where}' if where else ''}. {sentence(use.reason)}"
        elif use.waits_at:
            where = f" at {places(use.waits_at)}" if any(use.waits_at) else ""
            yield f"The concession for {what} (line {use.place.line}) waits{where}: what it permits is not proven yet."
        else:
            yield f"The concession for {what} (line {use.place.line}) is needed by nothing: take it out."
    told = {suspect.place for finding in inspection.findings for suspect in finding.rests_on.suspect}
    for suspect in inspection.suspects:
        if suspect.place not in told and not suspect.as_stated:
            yield suspect_text(suspect)
    yield from borne_out(inspection.suspects)
    yield from _overtaken(inspection)
    yield from _thin_evidence(inspection)
    yield from map(said, inspection.remarks)
    assumed = {each: None for finding in inspection.findings for each in finding.rests_on.assumed}
    if assumed:
        yield f"Assumed, since the sheet does not say: {', '.join(name(said(each)) for each in assumed)}."
    for fact, taken in inspection.assumed.items():
        yield f"{sentence(name(fact)).rstrip('.')} is not stated: {taken}, taken from the readings."


def _overtaken(inspection: Report) -> Iterator[str]:
    """What each operation that was done leaves to be taken again: one list, for whoever has the gauges out."""
    again: dict[str, dict[str, None]] = {}
    for finding in inspection.findings:
        for stale in finding.rests_on.stale:
            again.setdefault(stale.names[1], {})[overtaken(stale)] = None
    for operation, names in again.items():
        yield f"After the {name(operation)} take again: {', '.join(names)}."


def _thin_evidence(inspection: Report) -> Iterator[str]:
    """What is in spec by fewer readings than were asked for, or by one statement about many places."""
    for rule in by_rule(inspection.findings):
        thin: dict[str, list[Finding]] = {}
        for finding in in_spec_of(rule):
            if finding.rests_on.found < finding.rests_on.asked or finding.rests_on.group_statement:
                thin.setdefault(readings(finding), []).append(finding)
        for evidence, findings in thin.items():
            where = places([finding.station for finding in findings])
            yield f"{short(findings[0].title)}{f' at {where}' if where else ''} rests on {evidence}."


def _digits(row: Sequence[FigureValue]) -> int:
    """Decimals for a figure: as its readings were written, and none for a number that has four digits before them."""
    large = any(abs(each.value) >= LARGE for each in row if each.value is not None)
    return 0 if large else max(each.places for each in row)


def figures(inspection: Report) -> Iterator[Line]:
    """What was worked out, and no rule judges: for the whole build, or a range over its stations."""
    free = [figure for figure in inspection.figures if not figure.judged and figure.value is not None]
    known = [list(of_figure) for _, of_figure in groupby(free, key=lambda figure: figure.name)]
    if known:
        yield line()
        yield line(("WORKED OUT", "heading"))
    for row in known:
        ends = [(figure.value, figure.value) for figure in row]
        doubt = "in doubt" if any(figure.in_doubt for figure in row) else ""
        yield from columns(f"  {short(row[0].title)}", span(ends, row[0].unit, _digits(row)), doubt, "doubt", wide=44)
