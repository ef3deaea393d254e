"""The screen of an inspection: what needs attention first, then what is in spec, what is open, and may I go on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from specrules.inspection import BEYOND, FigureValue, Finding, Inspection, SignOffState, Verdict
from specrules.output.finding import ATTENTION, attention, in_spec, short, suspect_text
from specrules.output.lines import Line, folded, line, spread
from specrules.output.words import counted, listed, name, place, places, sentence
from specrules.quantity import show

DECISION_WORDS = {
    "simple": "simple acceptance: on a limit is in spec, gauges count for nothing",
    "guarded": "guarded by U (k = 2): in or out is said only where U leaves no doubt",
}
FEW = 3
"""So many things are named in the last lines; the rest are counted."""


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
    """The findings of each rule together, in the order of the work."""
    return [list(of_rule) for _, of_rule in groupby(findings, key=lambda finding: finding.rule)]


def needs_attention(rule: Sequence[Finding]) -> bool:
    """Whether some station of a rule is beyond, cannot be told or is not proven."""
    return any(finding.verdict in ATTENTION for finding in rule)


def needing_attention(inspection: Inspection) -> Iterator[Line]:
    """Every rule that needs attention, whole, under its group's heading."""
    rules = [rule for rule in by_rule(inspection.findings) if needs_attention(rule)]
    for group, of_group in groupby(rules, key=lambda rule: rule[0].group):
        yield line()
        yield line((group.upper(), "heading"))
        for number, rule in enumerate(of_group):
            if number:
                yield line()
            yield from attention(rule)


def in_spec_lines(inspection: Inspection) -> Iterator[Line]:
    """One line for each rule that is in spec wherever it was measured."""
    rules = [
        rule
        for rule in by_rule(inspection.findings)
        if any(finding.verdict is Verdict.IN_SPEC for finding in rule) and not needs_attention(rule)
    ]
    if rules:
        yield line()
        yield line(("IN SPEC", "heading"))
    for rule in rules:
        yield from in_spec(rule)


def not_measured(inspection: Inspection) -> Iterator[Line]:
    """What is open for want of readings, facts or the maker's limits: a paragraph for each group."""
    waiting = [finding for finding in inspection.findings if finding.verdict is Verdict.NOT_MEASURED]
    if not waiting:
        return
    yield line()
    yield line(("NOT MEASURED YET", "heading"))
    judged = any(f.verdict not in (Verdict.NOT_MEASURED, Verdict.NOT_APPLICABLE) for f in inspection.findings)
    if not judged:
        yield line(f"  Nothing measured yet: {len(by_rule(waiting))} checks wait for their readings.")
    for group, of_group in groupby(by_rule(waiting), key=lambda rule: rule[0].group):
        if judged:
            yield from folded("; ".join(_waiting(rule) for rule in of_group) + ".", 2, f"{group}: ", hang=4)
    yield from _wants(waiting)


def _waiting(rule: Sequence[Finding]) -> str:
    where = places([finding.station for finding in rule])
    return f"{_lower(short(rule[0].title))}{f' ({where})' if where else ''}"


def _wants(waiting: Sequence[Finding]) -> Iterator[Line]:
    """What no measuring brings: facts to state, and limits that only the maker can give."""
    wants = {want: None for finding in waiting for want in finding.rests_on.missing}
    facts = [want.removeprefix("state ") for want in wants if want.startswith("state ")]
    if facts:
        yield from folded(f"{', '.join(facts)}.", 2, "State in the sheet's facts: ", hang=4)
    for want in wants:
        if "maker" in want:
            titles = listed({short(f.title): None for f in waiting if want in f.rests_on.missing})
            yield from folded(f"{titles}: {want}.", 2)


def sign_offs(inspection: Inspection) -> Iterator[Line]:
    """How many sign-offs are given, and the questions that are not."""
    asked = [state for state in inspection.sign_offs if state.state != "not applicable"]
    lacking = [state for state in asked if state.state != "signed"]
    if not asked:
        return
    yield line()
    yield line(("SIGN-OFFS", "heading"), f"  {len(asked) - len(lacking)} of {len(asked)} signed")
    for hold_point, states in groupby(sorted(lacking, key=lambda s: _order(inspection, s.hold_point)), _hold_point):
        yield line(f"  {name(hold_point)}")
        for state in states:
            yield from sign_off(state)


def _hold_point(state: SignOffState) -> str:
    return state.hold_point


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


def remarks(inspection: Inspection) -> Iterator[Line]:
    """What was loosened, conceded and assumed, and readings that look like a slip though no finding rests on them."""
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
        why = sentence(loosened.reason)
        yield f"Loosened by {loosened.pack}: {titles[loosened.rule]}, {loosened.side}{at}. {why}".rstrip()
    for use in inspection.concessions:
        what = titles.get(use.rule, name(use.rule))
        if use.used_at:
            yield f"Conceded by {use.by}: {what}, {places(use.used_at)}. {sentence(use.reason)}"
        else:
            yield f"The concession for {what} (line {use.place.line}) is needed by nothing: take it out."
    told = {suspect.place for finding in inspection.findings for suspect in finding.rests_on.suspect}
    for suspect in inspection.suspects:
        if suspect.place not in told:
            yield suspect_text(suspect)
    assumed = {each: None for finding in inspection.findings for each in finding.rests_on.assumed}
    if assumed:
        yield f"Assumed, since the sheet does not say: {', '.join(map(name, assumed))}."
    for fact, taken in inspection.assumed.items():
        yield f"{sentence(name(fact)).rstrip('.')} is not stated: {taken}, taken from the readings."


def figures(inspection: Inspection) -> Iterator[Line]:
    """What was worked out, and no rule judges: for the whole build, or a range over its stations."""
    free = [figure for figure in inspection.figures if not figure.judged and figure.value is not None]
    known = [list(of_figure) for _, of_figure in groupby(free, key=lambda figure: figure.name)]
    if known:
        yield line()
        yield line(("WORKED OUT", "heading"))
    for row in known:
        yield line(f"  {short(row[0].title):<44} {_range(row)}")


def _range(row: Sequence[FigureValue]) -> str:
    unit, digits = row[0].unit, max(figure.places for figure in row)
    values = [figure.value for figure in row if figure.value is not None]
    low, high = (show(value, unit, digits) for value in (min(values), max(values)))
    return f"{low if low == high else f'{low} to {high}'} {unit.symbol}".rstrip()


def tail(inspection: Inspection) -> Iterator[Line]:
    """The lines that are read first: may I go on, how it stands, and what is next."""
    yield line()
    if inspection.verdict == "held":
        yield from _held(inspection)
    elif inspection.verdict == "open":
        until = f" before {_point(inspection.until)}" if inspection.until else ""
        yield from folded(f"Not yet: {listed(_open(inspection))}{until}.", style="doubt")
    else:
        until = f" up to {_point(inspection.until)}" if inspection.until else ""
        yield from folded(f"Go on: nothing holds the job and nothing is open{until}.", style="good")
    yield from folded(sentence(counted(inspection.counts.items())))
    if inspection.options.held_by != "minor" or inspection.options.sure:
        graver = f"Only what is {inspection.options.held_by} or graver holds the job. "
        sure = "Just in holds it too." if inspection.options.sure else ""
        yield from folded(f"{graver if inspection.options.held_by != 'minor' else ''}{sure}")
    todo = next_steps(inspection)
    if todo:
        yield from folded(f"{todo}.", 0, "Next: ", "heading", hang=6)


def in_a_line(inspection: Inspection) -> str:
    """How one sheet of several stands."""
    words = {"held": "stop", "open": "not yet", "clear": "go on"}
    return f"{words[inspection.verdict]}: {counted(inspection.counts.items())}"


def _point(hold_point: str) -> str:
    """A hold point as a thing that work comes to."""
    return f"the hold point {name(hold_point)}"


def _order(inspection: Inspection, hold_point: str) -> int:
    points = inspection.hold_points
    return points.index(hold_point) if hold_point in points else len(points)


def _held(inspection: Inspection) -> Iterator[Line]:
    held = sorted(inspection.held, key=lambda finding: _order(inspection, finding.hold_point))
    refused = [state for state in inspection.unsigned if state.state == "answered no"]
    first = [*(finding.hold_point for finding in held), *(state.hold_point for state in refused)][0]
    holding = [_holding(rule) for rule in by_rule(held)] + [f"{name(state.name)}, answered no" for state in refused]
    few = holding[:FEW] + ([f"{len(holding) - FEW} more"] if len(holding) > FEW else [])
    at = f" {_point(first)}" if first else ""
    yield from folded(f"{'; '.join(few)}.", 0, f"Stop{f' at{at}' if at else ''}: ", "bad", hang=6)


def _holding(rule: Sequence[Finding]) -> str:
    where = places([finding.station for finding in rule])
    return f"{_lower(short(rule[0].title))}{f' of {where}' if where else ''} {_sides(rule)}"


def _sides(rule: Sequence[Finding]) -> str:
    sides = {finding.side if finding.verdict in BEYOND else str(finding.verdict): None for finding in rule}
    return listed(sides)


def _open(inspection: Inspection) -> list[str]:
    unmeasured = sum(finding.verdict is Verdict.NOT_MEASURED for finding in inspection.open)
    parts = (
        (unmeasured, "to measure"),
        (len(inspection.open) - unmeasured, "to prove"),
        (len(inspection.unsigned), "to sign"),
    )
    return [f"{number} {what}" for number, what in parts if number]


def next_steps(inspection: Inspection) -> str:
    """The next things to do, in the order of the work: put right, read again, measure, sign."""
    held = by_rule(sorted(inspection.held, key=lambda finding: _order(inspection, finding.hold_point)))
    todo = [f"put right the {_thing(rule)}" for rule in held[:1]]
    again = list(dict.fromkeys(_again(inspection)))
    if again:
        todo.append(f"read again {listed(again[:FEW])}")
    waiting = sorted(inspection.open, key=lambda finding: _order(inspection, finding.hold_point))
    unmeasured = by_rule([finding for finding in waiting if finding.verdict is Verdict.NOT_MEASURED])
    if unmeasured:
        todo.append(f"measure the {_thing(unmeasured[0])}")
    if inspection.unsigned and not todo:
        todo.append(f"sign {inspection.unsigned[0].name}")
    return ", then ".join(todo)


def _thing(rule: Sequence[Finding]) -> str:
    where = places([finding.station for finding in rule])
    return f"{_lower(short(rule[0].title))}{f' of {where}' if where else ''}"


def _again(inspection: Inspection) -> Iterator[str]:
    """The readings that look like a slip, then those that the work has overtaken."""
    for finding in inspection.open:
        for suspect in finding.rests_on.suspect:
            yield f"{name(suspect.name)} {' '.join((*suspect.station, *(suspect.position or ())))}".rstrip()
    for finding in inspection.open:
        for stale in finding.rests_on.stale:
            yield f"{name(stale.split(': ')[0])} {place(finding.station)}".rstrip()


def _lower(title: str) -> str:
    return title[:1].lower() + title[1:]


__all__ = ["by_rule", "in_a_line", "next_steps", "screen"]
