"""The screen of an inspection: what needs attention first, then what is in spec, what is open, and may I go on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from specrules.inspection import BEYOND, Finding, Inspection, SignOffState, Verdict
from specrules.output.finding import ATTENTION, attention, in_spec, number, short
from specrules.output.lines import WIDTH, Line, folded, line, spread
from specrules.output.words import counted, listed, name, places, sentence
from specrules.quantity import show

DECISION_WORDS = {
    "simple": "simple acceptance: on a limit is in spec, gauges count for nothing",
    "guarded": "guarded by U (k = 2): surely inside is in spec, surely outside is out",
}


def screen(inspection: Inspection) -> list[Line]:
    """The whole screen, 80 columns wide."""
    return [
        *head(inspection),
        *needing_attention(inspection),
        *in_spec_lines(inspection),
        *not_measured(inspection),
        *sign_offs(inspection),
        *remarks(inspection),
        *figures(inspection),
        *tail(inspection),
    ]


def head(inspection: Inspection) -> Iterator[Line]:
    """Whose build, by which packs, under which decision rule."""
    job = inspection.build.get("job", "")
    yield spread(inspection.title or inspection.file, f"job {job}" if job else "", "heading")
    packs = ", ".join(f"{pack.name} {pack.version}" for pack in inspection.packs)
    yield from folded(packs, 0, "packs     ")
    yield from folded(DECISION_WORDS.get(inspection.decision, inspection.decision), 0, "decision  ")


def by_rule(findings: Sequence[Finding]) -> list[list[Finding]]:
    """The findings of each rule together."""
    return [list(of_rule) for _, of_rule in groupby(findings, key=lambda finding: finding.rule)]


def needing_attention(inspection: Inspection) -> Iterator[Line]:
    """Every rule that some station is beyond, or that cannot be told or proven, under its group's heading."""
    rules = [rule for rule in by_rule(inspection.findings) if any(f.verdict in ATTENTION for f in rule)]
    for group, of_group in groupby(rules, key=lambda rule: rule[0].group):
        yield line()
        yield line((group.upper(), "heading"))
        for number_, rule in enumerate(of_group):
            if number_:
                yield line()
            yield from attention(rule)


def in_spec_lines(inspection: Inspection) -> Iterator[Line]:
    """One line for each rule that is in spec wherever it was measured."""
    rules = [
        rule
        for rule in by_rule(inspection.findings)
        if any(f.verdict is Verdict.IN_SPEC for f in rule) and not any(f.verdict in ATTENTION for f in rule)
    ]
    if rules:
        yield line()
        yield line(("IN SPEC", "heading"))
    for rule in rules:
        yield from in_spec(rule)


def not_measured(inspection: Inspection) -> Iterator[Line]:
    """What is open for want of a reading, a fact or the maker's limits: a line for each rule."""
    rules = [[f for f in rule if f.verdict is Verdict.NOT_MEASURED] for rule in by_rule(inspection.findings)]
    rules = [rule for rule in rules if rule]
    if not rules:
        return
    yield line()
    yield line(("NOT MEASURED YET", "heading"))
    if not any(
        finding.verdict not in (Verdict.NOT_MEASURED, Verdict.NOT_APPLICABLE) for finding in inspection.findings
    ):
        yield line(f"  nothing measured yet: {len(rules)} checks wait for their readings")
        return
    for rule in rules:
        where = places([finding.station for finding in rule])
        yield from folded(f"{short(rule[0].title)}{': ' if where else ''}{where}", 2)
        wants = dict.fromkeys(want for finding in rule for want in finding.rests_on.missing)
        stated = [want for want in wants if want.startswith(("state ", "the maker", "general practice", "limits that"))]
        for want in stated:
            yield from folded(f"wants {want}" if not want.startswith("state ") else want, 4, style="quiet")


def sign_offs(inspection: Inspection) -> Iterator[Line]:
    """The sign-offs that are not given, by hold point; how many are."""
    asked = [state for state in inspection.sign_offs if state.state != "not applicable"]
    lacking = [state for state in asked if state.state != "signed"]
    if not asked:
        return
    yield line()
    yield line(("SIGN-OFFS", "heading"), f"  {len(asked) - len(lacking)} of {len(asked)} signed")
    for state in lacking:
        yield from sign_off(state)


def sign_off(state: SignOffState) -> Iterator[Line]:
    """A question that nobody has answered, that was answered no, or whose answer the work has overtaken."""
    where = places(state.missing_at)
    said = {"missing": "", "stale": " (stale: sign again)", "answered no": " (answered no)"}[state.state]
    before = f"before {name(state.hold_point)}" if state.hold_point else ""
    text = f"{state.question}{f' ({where})' if where else ''}{said}"
    yield from folded(f"{text} [{before}]" if before else text, 2, style="bad" if state.state == "answered no" else "")


def remarks(inspection: Inspection) -> Iterator[Line]:
    """What was loosened, conceded, assumed; readings that look like a slip and that no rule used."""
    said = list(_remarks(inspection))
    if said:
        yield line()
        yield line(("REMARKS", "heading"))
    for text in said:
        yield from folded(text, 2)


def _remarks(inspection: Inspection) -> Iterator[str]:
    titles = {finding.rule: short(finding.title) for finding in inspection.findings}
    for loosened in inspection.loosened:
        where = places(loosened.stations)
        at = f" at {where}" if where else ""
        yield f"Loosened by {loosened.pack}: {titles.get(loosened.rule, loosened.rule)}, {loosened.side}{at}. {sentence(loosened.reason)}"
    for use in inspection.concessions:
        what = titles.get(use.rule, name(use.rule))
        if use.used_at:
            yield f"Conceded by {use.by}: {what} {places(use.used_at)}. {sentence(use.reason)}"
        else:
            yield f"The concession for {what} (line {use.place.line}) is needed by nothing: take it out."
    used = {id(suspect) for finding in inspection.findings for suspect in finding.rests_on.suspect}
    for suspect in inspection.suspects:
        if id(suspect) not in used:
            where = " ".join((*suspect.station, *(suspect.position or ())))
            yield f"Line {suspect.place.line}: {name(suspect.name)} {where} = {suspect.text} {suspect.said}"
    assumed = dict.fromkeys(each for finding in inspection.findings for each in finding.rests_on.assumed)
    if assumed:
        yield f"Assumed, since the sheet does not say: {', '.join(name(each) for each in assumed)}."
    for fact, taken in inspection.assumed.items():
        yield f"{name(fact)} is not stated: {taken} taken from the readings."


def figures(inspection: Inspection) -> Iterator[Line]:
    """What was worked out for the whole build."""
    whole = [figure for figure in inspection.figures if not figure.station and figure.value is not None]
    if whole:
        yield line()
        yield line(("WORKED OUT", "heading"))
    for figure in whole:
        if figure.value is not None:
            value = show(figure.value, figure.unit, figure.places)
            yield line(f"  {short(figure.title):<36} {value} {figure.unit.symbol}".rstrip())


def tail(inspection: Inspection) -> Iterator[Line]:
    """The lines that are read first: may I go on, how it stands, and what is next."""
    yield line()
    until = name(inspection.until)
    if inspection.verdict == "held":
        yield from folded(f"Do not go on: {listed(_holding(inspection))}.", style="bad")
    elif inspection.verdict == "open":
        yield from folded(f"Not yet: {listed(_open(inspection))} before {until}.", style="doubt")
    else:
        yield from folded(f"Go on: nothing holds the job and nothing is open before {until}.", style="good")
    yield from folded(f"{sentence(counted(inspection.counts))}")
    options = inspection.options
    if options.held_by != "minor" or options.sure:
        sure = ", just in holds too" if options.sure else ""
        yield from folded(
            f"Held only by what is {options.held_by} or graver{sure}."
            if options.held_by != "minor"
            else "Just in holds too."
        )
    todo = next_steps(inspection)
    if todo:
        yield from folded(f"Next: {todo}.", style="heading")


def _holding(inspection: Inspection) -> list[str]:
    said = []
    for rule in by_rule(
        sorted(inspection.held, key=lambda f: inspection.hold_points.index(f.hold_point) if f.hold_point else 0)
    ):
        where = places([finding.station for finding in rule])
        holds = f" holds the {name(rule[0].hold_point)}" if rule[0].hold_point else ""
        said.append(f"{short(rule[0].title).lower()}{f' ({where})' if where else ''}{holds}")
    said += [f"{name(state.name)} was answered no" for state in inspection.unsigned if state.state == "answered no"]
    return said


def _open(inspection: Inspection) -> list[str]:
    unmeasured = sum(finding.verdict is Verdict.NOT_MEASURED for finding in inspection.open)
    unproven = len(inspection.open) - unmeasured
    said = []
    if unmeasured:
        said.append(f"{unmeasured} to measure")
    if unproven:
        said.append(f"{unproven} to prove")
    if inspection.unsigned:
        said.append(f"{len(inspection.unsigned)} to sign")
    return said


def next_steps(inspection: Inspection) -> str:
    """The next things to do, in the order of the work: put right, read again, measure, sign."""
    first = [*_first(inspection.held, "put right"), *_again(inspection), *_first(
        [f for f in inspection.open if f.verdict is Verdict.NOT_MEASURED], "measure", 1
    )]  # fmt: skip
    if not first and inspection.unsigned:
        first = [f"sign {name(inspection.unsigned[0].name)}"]
    return listed(first[:3], "then") if len(first) > 1 else "".join(first)


def _first(findings: Sequence[Finding], verb: str, most: int = 2) -> list[str]:
    said = []
    for rule in by_rule(findings)[:most]:
        where = places([finding.station for finding in rule])
        said.append(f"{verb} {short(rule[0].title).lower()}{f' {where}' if where else ''}")
    return said


def _again(inspection: Inspection) -> list[str]:
    doubted = [s for finding in inspection.open for s in finding.rests_on.suspect]
    stale = [s.split(": ")[0] for finding in inspection.open for s in finding.rests_on.stale]
    names = dict.fromkeys(
        [*(f"{name(s.name)} {' '.join((*s.station, *(s.position or ())))}" for s in doubted), *map(name, stale)]
    )
    return [f"read {listed(list(names)[:2])} again"] if names else []


__all__ = ["BEYOND", "WIDTH", "number", "screen"]
