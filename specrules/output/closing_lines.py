"""The last lines of a screen, which are read first: may I go on, how it stands, and what is next."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from specrules.inspection import Finding, Report
from specrules.output.lines import Line, folded, line
from specrules.output.reasons import overtaken
from specrules.output.rule_lines import by_rule
from specrules.output.verdicts import BY_GRAVITY, TELLING, Shown, counted_verdicts, shown
from specrules.output.words import Labels, listed, lower, many, name, place, places, sentence, short
from specrules.vocabulary import BEYOND, MAKERS, Verdict, Why

FEW = 3
"""So many things are named; the rest are counted."""


def closing(inspection: Report) -> Iterator[Line]:
    """The lines that are read first: may I go on, how it stands, and what is next."""
    yield line()
    if inspection.verdict == "held":
        yield from _held(inspection)
    elif inspection.verdict == "open":
        yield from folded(f"Not yet: {_waiting(inspection)}.", style="doubt")
    else:
        until = f" up to {_point(inspection.until)}" if inspection.until else ""
        alone = f" with {listed(inspection.scope)} alone" if inspection.scope else ""
        yield from folded(f"Go on{alone}: nothing holds the job and nothing is open{until}.", style="good")
    yield from folded(f"{sentence(counted_verdicts(inspection.counts))} {sentence(evidence(inspection))}".strip())
    if inspection.scope:
        yield from folded(f"Only {listed(inspection.scope)}: nothing else was asked for.")
    if inspection.options.held_by != "minor" or inspection.options.sure:
        graver = {"critical": "critical", "major": "major or critical"}.get(inspection.options.held_by)
        only = f"Only what is {graver} holds the job. " if graver else ""
        yield from folded(f"{only}{'Just in holds the job too.' if inspection.options.sure else ''}")
    todo = next_steps(inspection)
    if todo:
        yield from folded(f"{todo}.", 0, "Next: ", "heading", hang=6)


def evidence(inspection: Report) -> str:
    """How many checks were judged, on how many readings; "" where none applies."""
    found = inspection.evidence
    if not found.apply:
        return ""
    on = f", on {many(found.readings, 'reading')}" if found.judged else ""
    return f"{found.judged} of {many(found.apply, 'check')} judged{on}"


def in_a_line(inspection: Report) -> str:
    """How one sheet of several stands."""
    words = {"held": "stop", "open": "not yet", "clear": "go on"}
    short_of = [] if inspection.enough or inspection.options.at_least <= 1 else [_shortage(inspection)]
    counts = counted_verdicts(inspection.counts) or "nothing is checked"
    state = [f"state {unstated(inspection)}"] if inspection.unstated else []
    only = [f"only {listed(inspection.scope)}"] if inspection.scope else []
    return f"{words[inspection.verdict]}: {'; '.join((*state, counts, *only, *short_of))}"


def unstated(inspection: Report) -> str:
    """What figures hold by and nobody states, and how many checks wait for it."""
    names = ", ".join(fact.name for fact in inspection.unstated)
    return f"{names}: {many(inspection.waiting, 'check')} {'waits' if inspection.waiting == 1 else 'wait'}"


def _waiting(inspection: Report) -> str:
    """What keeps an open job from going on: what is open, and that too little was judged."""
    until = f" before {_point(inspection.until)}" if inspection.until else ""
    left = still_open([finding.verdict for finding in inspection.open], len(inspection.unsigned))
    waiting = f"{listed(left)}{until}" if left else ""
    asked = inspection.enough or (waiting and inspection.options.at_least <= 1)
    return waiting if asked else "; ".join(filter(None, (waiting, _shortage(inspection))))


def _shortage(inspection: Report) -> str:
    return shortage(inspection.evidence.judged, inspection.evidence.apply, inspection.options.at_least)


def shortage(judged: int, apply: int, asked: int) -> str:
    """That fewer checks were judged than are asked for; `apply`: how many there are."""
    if not apply:
        return "these packs check nothing here"
    if judged and asked > 1:
        return f"{many(judged, 'check')} {'was' if judged == 1 else 'were'} judged, and at least {asked} are asked for"
    return "nothing was judged" + (f", and at least {many(asked, 'check')} are asked for" if asked > 1 else "")


def _point(hold_point: str) -> str:
    """A hold point as a thing that work comes to."""
    return f"the hold point {name(hold_point)}"


def place_in_work(inspection: Report, hold_point: str) -> int:
    """How late in the work a hold point is; none is the latest."""
    points = inspection.hold_points
    return points.index(hold_point) if hold_point in points else len(points)


def _held(inspection: Report) -> Iterator[Line]:
    held = sorted(inspection.held, key=lambda finding: place_in_work(inspection, finding.hold_point))
    refused = [state for state in inspection.unsigned if state.state == "answered no"]
    first = [*(finding.hold_point for finding in held), *(state.hold_point for state in refused)][0]
    holding = [
        *(
            what_holds(rule[0].title, [(each.station, each.verdict, each.side) for each in rule])
            for rule in by_rule(held)
        ),
        *(refusal(state.name) for state in refused),
    ]
    at = f" {_point(first)}" if first else ""
    yield from folded(f"{'; '.join(few_of(holding))}.", 0, f"Stop{f' at{at}' if at else ''}: ", "bad", hang=6)


def few_of(said: Sequence[str]) -> list[str]:
    """The first of them, and how many more there are."""
    return [*said[:FEW], *([f"{len(said) - FEW} more"] if len(said) > FEW else [])]


def what_holds(title: str, at: Sequence[tuple[Labels, Verdict, str | None]]) -> str:
    """A check that stops a job, with where it does, the verdict there and the side that it is beyond."""
    where = places([station for station, _, _ in at])
    sides = {side or "" if verdict in BEYOND else str(verdict): None for _, verdict, side in at}
    return f"{lower(short(title))} {listed(sides)}{f' at {where}' if where else ''}"


def refusal(sign_off: str) -> str:
    """A sign-off that stops a job."""
    return f"{name(sign_off)}, answered no"


def still_open(verdicts: Sequence[Verdict], unsigned: int) -> list[str]:
    """How many of what is still to do, where so much is open."""
    waiting = Counter(verdicts)
    parts = [(waiting[verdict], TELLING[verdict].open) for verdict in BY_GRAVITY]
    return [f"{number} {what}" for number, what in (*parts, (unsigned, "to sign")) if number]


def next_steps(inspection: Report) -> str:
    """The next things to do, in the order of the work: put right, read again, measure, sign."""
    held = by_rule(sorted(inspection.held, key=lambda finding: place_in_work(inspection, finding.hold_point)))
    todo = [f"{'put right' if rule[0].verdict in BEYOND else 'make sure of'} the {_thing(rule)}" for rule in held[:1]]
    refused = [name(state.name) for state in inspection.unsigned if state.state == "answered no"]
    todo += [f"see to {refused[0]}, which was answered no"] if refused and not todo else []
    again = list(dict.fromkeys(_again(inspection)))
    if again:
        todo.append(f"read again {listed(again[:FEW])}")
    started = begun(inspection)
    waiting = sorted(inspection.open, key=lambda f: (place_in_work(inspection, f.hold_point), f.group not in started))
    wanting = [finding for finding in waiting if shown(finding.verdict, Shown.WAITING, Shown.LACKING)]
    todo += [_wanted(rule, inspection) for rule in by_rule(wanting)[:1]]
    if inspection.unsigned and not todo:
        todo.append(f"sign {inspection.unsigned[0].name}")
    if waiting and not todo:
        first = by_rule(waiting)[0]
        todo.append(TELLING[first[0].verdict].then.format(what=_thing(first)))
    return ", then ".join(todo)


def begun(inspection: Report) -> frozenset[str]:
    """The groups of rules of which anything could be judged; before that, those of which anything is read."""
    judged = [finding for finding in inspection.findings if not shown(finding.verdict, Shown.WAITING, Shown.COUNTED)]
    read = [finding for finding in inspection.findings if finding.rests_on.found]
    return frozenset(finding.group for finding in judged or read)


def wants_the_maker(finding: Finding) -> bool:
    """Whether it waits for limits that only the maker can give."""
    return any(want.code in MAKERS for want in finding.rests_on.missing)


def _wanted(rule: Sequence[Finding], inspection: Report) -> str:
    """What a rule waits for: a fact, the maker's limits, or readings."""
    wants = list(dict.fromkeys(want for finding in rule for want in finding.rests_on.missing))
    facts = [want.names[0] for want in wants if want.code is Why.STATE_FACT]
    together = [fact.name for fact in inspection.unstated]
    if facts:
        return f"state {listed(together) if facts[0] in together else facts[0]} in the facts"
    if wants and all(want.code in MAKERS for want in wants):
        return f"put the maker's limits for the {_thing(rule)} in the sheet"
    return f"measure the {_thing(rule)}"


def _thing(rule: Sequence[Finding]) -> str:
    where = places([finding.station for finding in rule])
    return f"{lower(short(rule[0].title))}{f' at {where}' if where else ''}"


def _again(inspection: Report) -> Iterator[str]:
    """The readings that look like a slip, then those that the work has overtaken."""
    for finding in inspection.open:
        for suspect in finding.rests_on.suspect:
            yield f"{name(suspect.name)} {' '.join((*suspect.station, *(suspect.position or ())))}".rstrip()
    for finding in inspection.open:
        for stale in finding.rests_on.stale:
            yield f"{overtaken(stale)} {place(finding.station)}".rstrip()
