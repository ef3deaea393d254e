"""One rule on the screen: what needs attention whole, station by station, and what is in spec in one line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from specrules.inspection import BEYOND, INSIDE, Beside, Finding, Limits, StepOutcome, Verdict
from specrules.output.band import WIDTH as BAND
from specrules.output.band import band
from specrules.output.digits import places_of
from specrules.output.lines import WIDTH, Line, folded, line
from specrules.output.words import listed, name, place, places, sentence
from specrules.pack import Source
from specrules.quantity import Unit, show
from specrules.sheet import Suspect

ATTENTION = (Verdict.OUT, Verdict.JUST_OUT, Verdict.NOT_PROVEN, Verdict.JUST_IN)
INDENT = 6
MOST_DIGITS = 9
SIGNS = (" - ", " + ", " * ", " / ", "largest ", "smallest ", "mean ", "spread ", "sum ")
"""A formula without any of these is one reading, and its working would say it twice."""
STYLES = {
    Verdict.OUT: "bad",
    Verdict.JUST_OUT: "bad",
    Verdict.NOT_PROVEN: "doubt",
    Verdict.JUST_IN: "doubt",
    Verdict.NOT_MEASURED: "quiet",
    Verdict.NOT_APPLICABLE: "quiet",
    Verdict.IN_SPEC: "good",
}


def number(value: Decimal | None, finding: Finding) -> str:
    """A value of this finding in its unit, without the unit; never nothing where there is something."""
    if value is None:
        return ""
    digits = places_of(finding)
    while value and digits < MOST_DIGITS and not Decimal(show(value, finding.unit, digits)):
        digits += 1
    return show(value, finding.unit, digits)


def measured(finding: Finding) -> str:
    """The value with its uncertainty, or what is sure of it."""
    if finding.value is not None:
        U = f" ±{number(finding.U, finding)}" if finding.U else ""
        return number(finding.value, finding) + U
    if finding.low is not None and finding.high is not None:
        return f"{number(finding.low, finding)} to {number(finding.high, finding)}"
    if finding.low is not None:
        return f"over {number(finding.low, finding)}"
    return f"under {number(finding.high, finding)}" if finding.high is not None else ""


def limits_text(limits: Limits, unit: Unit, places: int) -> str:
    """The limits in a row, with the unit once."""
    said = []
    for word, limit in (("least", limits.least), ("aim", limits.aim), ("most", limits.most)):
        if limit is not None:
            worn = "wear " if word in limits.worn else ""
            said.append(f"{worn}{word} {show(limit, unit, places)}")
    return f"{'   '.join(said)} {unit.symbol}".rstrip() if said else "no limits"


def attention(findings: Sequence[Finding]) -> Iterator[Line]:
    """A rule of which some station needs attention: those stations whole, the reasons once, the rest in a line."""
    shown = [finding for finding in findings if finding.verdict in ATTENTION]
    yield from _heading(findings, shown)
    alike = len({_limits(finding) for finding in shown}) == 1
    for finding in shown:
        yield from _station(finding, alike)
    plain = [finding for finding in shown if not finding.rests_on.suspect]
    for text in dict.fromkeys(sentence(finding.because) for finding in plain if finding.because):
        yield from folded(text, INDENT)
    for text in dict.fromkeys(finding.caution for finding in plain if finding.caution and finding.verdict in BEYOND):
        yield from folded(sentence(text), INDENT, "Caution: ", hang=INDENT + 2)
    for text in dict.fromkeys(source_text(finding.source) for finding in shown):
        yield from folded(text, INDENT, "Source: ", "quiet", hang=INDENT + 2)
    yield from rest(findings)


def rest(findings: Sequence[Finding]) -> Iterator[Line]:
    """The stations of an attention block that are in spec, in one line."""
    good = [finding for finding in findings if finding.verdict is Verdict.IN_SPEC]
    if good:
        yield from _row(f"  {places([finding.station for finding in good])}", _span(good), "in spec", "good", 16)


def in_spec(findings: Sequence[Finding]) -> Iterator[Line]:
    """A rule that is in spec wherever it was measured: one line."""
    good = [finding for finding in findings if finding.verdict is Verdict.IN_SPEC]
    where = places([finding.station for finding in good])
    yield from _row(f"  {short(good[0].title)}", _span(good), where)


def short(title: str) -> str:
    """A title without what stands in brackets behind it."""
    return title.split(" (")[0]


def _row(left: str, middle: str, right: str, style: str = "", wide: int = 40) -> Iterator[Line]:
    """A line of three; where they do not fit in one, the left part stands above the others, and the right part below."""
    head = f"{left:<{wide}}  "
    if len(head) + len(middle) + 2 + len(right) > WIDTH:
        yield from folded(left.lstrip(), len(left) - len(left.lstrip()))
        head = " " * (wide + 2)
    if len(head) + len(middle) + 2 + len(right) > WIDTH:
        yield line(f"{head}{middle}")
        yield from folded(right, wide + 2, style=style)
        return
    yield line(f"{head}{middle}{' ' * (WIDTH - len(head) - len(middle) - len(right))}", (right, style))


def _heading(findings: Sequence[Finding], shown: Sequence[Finding]) -> Iterator[Line]:
    title = findings[0].title
    if len({_limits(finding) for finding in shown}) > 1:
        yield line((title, "heading"))
        return
    limits = _limits(shown[0])
    if len(title) + len(limits) + 2 <= WIDTH:
        yield line((title, "heading"), " " * (WIDTH - len(title) - len(limits)), limits)
    else:
        yield line((title, "heading"))
        yield line(f"{limits:>{WIDTH}}")


def _limits(finding: Finding) -> str:
    return limits_text(finding.limits, finding.unit, places_of(finding))


def _station(finding: Finding, alike: bool) -> Iterator[Line]:
    where, value = place(finding.station), measured(finding)
    limits = finding.limits
    middle = finding.value if finding.value is not None else finding.low if finding.high is None else finding.high
    drawing = "" if middle is None else band(middle, limits.least, limits.aim, limits.most)
    head = f"  {where:<14}  {value:<18}{drawing:<{BAND}}  "
    said = verdict_text(finding)
    if len(head) + len(said) > WIDTH:
        head = f"  {where:<14}  {value:<18}"
        yield line(head, (drawing, STYLES[finding.verdict]))
        yield from folded(said, 18, style=STYLES[finding.verdict])
    else:
        yield line(head, (said, STYLES[finding.verdict]))
    if not alike:
        yield from folded(_limits(finding), 18)
    for text in details(finding):
        yield from folded(text, 18)


def verdict_text(finding: Finding) -> str:
    """The verdict in the trade's words: the side in capitals when it is surely beyond."""
    verdict, beyond = finding.verdict, finding.beyond
    if verdict in BEYOND:
        amount = number(beyond, finding)
        if finding.value is None and finding.beyond_at_most is not None and finding.beyond_at_most != beyond:
            amount = f"{amount} to {number(finding.beyond_at_most, finding)}"
        elif finding.value is None:
            amount = f"more than {amount}"
        if verdict is Verdict.OUT:
            return f"{finding.side.upper()} by {amount}{', conceded' if finding.conceded else ''}"
        return f"just out, {finding.side} by {amount}"
    return "NOT PROVEN" if verdict is Verdict.NOT_PROVEN else str(verdict)


def details(finding: Finding) -> Iterator[str]:
    """What stands under a station's line, one text each."""
    if finding.worked and any(sign in finding.worked for sign in SIGNS):
        yield f"{finding.worked}, {readings(finding)}"
    elif finding.rests_on.found != finding.rests_on.asked or finding.rests_on.group_statement:
        yield f"rests on {readings(finding)}"
    if finding.would_be is not None:
        yield f"As it stands it would be {finding.would_be}."
    if finding.verdict is Verdict.JUST_IN:
        yield "Nearer to the limit than these readings can tell."
    if finding.rests_on.suspect:
        yield from (suspect_text(suspect) for suspect in finding.rests_on.suspect)
        yield "Read it again; nothing is judged by it, and nothing is put right silently."
    if finding.rests_on.unsigned:
        yield f"Not signed or not good: {listed(map(name, finding.rests_on.unsigned))}."
    for stale in finding.rests_on.stale:
        what, operation = stale.split(": ")
        yield f"Stale: {name(what)} was read before the {name(operation)}. Read it again."
    for other in finding.other_ways:
        agrees = {None: "", True: ", which agrees", False: ", which does not agree"}[other.agrees]
        yield f"By {other.way}: {number(other.value, finding)}{agrees}."
    if finding.range is not None and finding.range[0] != finding.range[1]:
        yield f"Over all the readings {number(finding.range[0], finding)} to {number(finding.range[1], finding)}."
    if not finding.rests_on.suspect:
        yield from remedy(finding)
    for beside in finding.beside:
        if beside.verdict is not (finding.would_be or finding.verdict):
            yield beside_text(beside, finding)
    yield from (sentence(note) for note in finding.notes)


def readings(finding: Finding) -> str:
    """How many readings stand behind it."""
    found, asked = finding.rests_on.found, finding.rests_on.asked
    group = ", one statement for many" if finding.rests_on.group_statement else ""
    return f"{found} of {asked} reading{'s' if asked != 1 else ''}{group}"


def suspect_text(suspect: Suspect) -> str:
    """What looks like a slip, where it stands, and what to look at."""
    where = " ".join((*suspect.station, *(suspect.position or ())))
    return f"Line {suspect.place.line}: {name(suspect.name)} {where} = {suspect.text} {suspect.said}".rstrip(".") + "."


def remedy(finding: Finding) -> Iterator[str]:
    """What to do, each step with what it would bring."""
    if finding.steps:
        yield "Do: " + "; ".join(step_text(step, finding) for step in finding.steps) + "."
    if finding.otherwise:
        lead = "No step in hand is enough. " if finding.steps and any(s.verdict for s in finding.steps) else ""
        yield lead + sentence(finding.otherwise)


def step_text(step: StepOutcome, finding: Finding) -> str:
    """A step and its outcome, with the digits of its finding."""
    do = step.do.rstrip(".;")
    if step.verdict is None or step.value is None:
        return do
    outcome = str(step.verdict)
    if step.verdict in BEYOND and step.beyond is not None:
        outcome = (
            f"still {step.side} by {number(step.beyond, finding)}"
            if step.side == finding.side
            else f"{step.side} by {number(step.beyond, finding)}"
        )
    return f"{do}, then {number(step.value, finding)} ({outcome})"


def beside_text(beside: Beside, finding: Finding) -> str:
    """What another pack says of the same value."""
    places = places_of(finding)
    side = (
        f", {beside.side} by {show(beside.beyond, finding.unit, places)}"
        if beside.side and beside.beyond is not None
        else ""
    )
    return f"By {beside.pack} alone: {beside.verdict}{side} ({limits_text(beside.limits, finding.unit, places)})."


def source_text(source: Source) -> str:
    """Where a figure comes from."""
    where = ", ".join(part for part in (source.document, source.edition, source.page, source.clause) if part)
    said = ", ".join(part for part in (where, source.note) if part)
    return f"{source.kind}{': ' if said else ''}{said}"


def _span(findings: Sequence[Finding]) -> str:
    values = [end for finding in findings for end in (finding.low, finding.high) if end is not None]
    if not values:
        return ""
    finding = max(findings, key=lambda each: each.places)
    low, high = (show(value, finding.unit, finding.places) for value in (min(values), max(values)))
    return f"{low if low == high else f'{low} to {high}'} {finding.unit.symbol}".rstrip()


__all__ = ["ATTENTION", "INSIDE", "attention", "in_spec", "limits_text", "measured", "number", "short", "verdict_text"]
