"""What both screens of an inspection have: whose build it is, what is open and why, questions to sign, remarks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import groupby

from specrules.inspection import Finding, Report, SignOffState
from specrules.output.closing_lines import begun, unstated, wants_the_maker
from specrules.output.lines import Line, folded, line, spread, under
from specrules.output.reasons import overtaken, said
from specrules.output.rule_lines import by_rule, in_spec_of
from specrules.output.telling import borne_out, readings, suspect_text
from specrules.output.verdicts import ATTENTION, Shown, shown
from specrules.output.words import decided_by, listed, lower, many, name, places, sentence, short
from specrules.vocabulary import MAKERS, Reason, Why


def to_state(inspection: Report) -> Iterator[Line]:
    """What figures hold by and the sheet does not say, once for all checks that wait for it, with what to paste."""
    if not inspection.unstated:
        return
    file = "the sheet" if inspection.file == "-" else inspection.file  # "-": what was piped in
    yield from folded(f"{unstated(inspection)}.", 0, "State ", "doubt", hang=6)
    yield from folded(f"Under facts in {file}:")
    for fact in inspection.unstated:
        yield line(f"  {fact.name}: ", (f"# {' or '.join(fact.choices)}", "quiet"))
    yield line()


def head(inspection: Report) -> Iterator[Line]:
    """Whose build, by which packs, under which decision rule."""
    build = inspection.build
    job = build.get("job", "")
    yield from spread(inspection.title or inspection.file, f"job {job}" if job else "", "heading")
    said = {"customer": "for ", "serial": "number ", "builder": "by ", "date": ""}
    yield from folded("   ".join(f"{word}{build[key]}" for key, word in said.items() if build.get(key)))
    packs = ", ".join(f"{pack.name} {pack.version}" for pack in inspection.packs)
    yield from folded(packs, 0, "packs     ")
    yield from folded(decided_by(inspection.decision), 0, "decision  ")


def not_measured(inspection: Report, findings: Sequence[Finding]) -> Iterator[Line]:
    """What is open for want of readings, facts or the maker's limits: a paragraph for each group that is begun."""
    waiting = [finding for finding in findings if shown(finding.verdict, Shown.WAITING)]
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
            yield from folded("; ".join(map(at_stations, rules)) + ".", 2, f"{group}: ", hang=4)
        elif started:
            yield from folded(f"nothing yet, {many(len(rules), 'check')}.", 2, f"{group}: ", hang=4)
    yield from _wants([each for each in waiting if each.group in started] or waiting, inspection)


def _nothing_begun(inspection: Report) -> str:
    entered = inspection.evidence.entered
    if not entered:
        return "Nothing measured yet"
    return f"No check asks for {'the reading' if entered == 1 else f'any of the {entered} readings'} of this sheet"


def _wait_for_readings(checks: int) -> str:
    return f"{checks} checks wait for their readings" if checks > 1 else "1 check waits for its readings"


def at_stations(findings: Sequence[Finding]) -> str:
    """The title of the rule that they are of, and at which stations they are."""
    where = places([finding.station for finding in findings])
    return f"{lower(short(findings[0].title))}{f' ({where})' if where else ''}"


def _wants(waiting: Sequence[Finding], inspection: Report) -> Iterator[Line]:
    """What no measuring brings: facts to state, and limits that only the maker can give."""
    wants = {want: None for finding in waiting for want in finding.rests_on.missing}
    told = {fact.name for fact in inspection.unstated}
    facts = [want.names[0] for want in wants if want.code is Why.STATE_FACT and want.names[0] not in told]
    if facts:
        yield from folded(f"{', '.join(facts)}.", 2, "State in the sheet's facts: ", hang=4)
    yield from _makers(waiting, inspection.file)


def no_figure(inspection: Report, findings: Sequence[Finding]) -> Iterator[Line]:
    """What was measured and cannot be judged, since the packs have no figure for it: why, and what to paste."""
    waiting = [finding for finding in findings if shown(finding.verdict, Shown.LACKING)]
    yield from under("MEASURED, AND NO FIGURE TO JUDGE BY", _makers(waiting, inspection.file))


def _makers(waiting: Sequence[Finding], file: str) -> Iterator[Line]:
    """What only the maker's own figure settles, and where the lines for it are printed."""
    alike: dict[Reason, dict[str, None]] = {}  # without its size -> the sizes
    titles: dict[Reason, dict[str, None]] = {}
    for finding in waiting:
        for want in (want for want in finding.rests_on.missing if want.code in MAKERS):
            sized = want.code is Why.HOLDS_FOR_OTHER_SIZES
            kind = want._replace(labels=want.labels[1:]) if sized else want
            alike.setdefault(kind, {}).update(dict.fromkeys(want.labels[:1] if sized else ()))
            titles.setdefault(kind, {})[lower(short(finding.title))] = None
    for kind, sizes in alike.items():
        ends = sorted(sizes, key=Decimal)
        size = " to ".join(dict.fromkeys((*ends[:1], *ends[-1:])))
        want = kind._replace(labels=(size, *kind.labels)) if ends else kind
        yield from folded(f"{sentence(said(want)).rstrip('.')}: {listed(titles[kind])}.", 2, hang=4)
    first = next((finding for finding in waiting if wants_the_maker(finding)), None)
    if first is not None:
        yield from folded(f"specrules working {first.rule} {file}", 4, "The lines to paste: ", hang=6)


def asked_sign_offs(inspection: Report) -> list[SignOffState]:
    """Those that apply to this job."""
    return [state for state in inspection.sign_offs if state.state != "not applicable"]


def sign_off(state: SignOffState, waiting: str = "") -> Iterator[Line]:
    """A question that nobody has answered, that was answered no, or whose answer the work has overtaken; what waits."""
    where = places(state.missing_at)
    said = {"stale": "Stale, sign again: ", "answered no": "Answered no: "}.get(state.state, "")
    yield from folded(
        f"{said}{state.question}{f' ({where})' if where else ''} {waiting}".rstrip(),
        4,
        f"{state.name}: ",
        "bad" if state.state == "answered no" else "",
        hang=6,
    )


def remarks(inspection: Report, overtaken_too: bool = True) -> Iterator[Line]:
    """What was conceded and assumed, and readings that look like a slip though no finding rests on them; what the work
    has overtaken and what is doubtful behind something not judged, unless they are told elsewhere."""
    texts = dict.fromkeys(_remarks(inspection, overtaken_too))
    yield from under("REMARKS", (row for text in texts for row in folded(text, 2)))


def _remarks(inspection: Report, overtaken_too: bool) -> Iterator[str]:
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
    whole = {f.verdict for f in inspection.findings if f.verdict in ATTENTION or not overtaken_too}
    told = {each.place for f in inspection.findings if f.verdict in whole for each in f.rests_on.suspect}
    waiting = [each for f in inspection.findings if f.verdict not in whole for each in f.rests_on.suspect]
    for suspect in dict.fromkeys([*inspection.suspects, *waiting]):
        if suspect.place not in told and not suspect.as_stated:
            yield suspect_text(suspect)
    yield from borne_out(inspection.suspects)
    yield from _overtaken(inspection) if overtaken_too else ()
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
