"""One rule on the screen: what needs attention whole, station by station, and what is in spec in one line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import groupby

from specrules.inspection import BEYOND, Finding, Verdict
from specrules.output.band import WIDTH as BAND
from specrules.output.band import band
from specrules.output.digits import span
from specrules.output.lines import WIDTH, Line, columns, folded, line, spread
from specrules.output.telling import details, limits_of, measured, source_text, verdict_text
from specrules.output.words import place, places, sentence, short

ATTENTION = (Verdict.OUT, Verdict.JUST_OUT, Verdict.NOT_PROVEN, Verdict.JUST_IN)
INDENT = 6
_WHERE, _VALUE = 14, 16
STYLES = {
    Verdict.OUT: "bad",
    Verdict.JUST_OUT: "bad",
    Verdict.NOT_PROVEN: "doubt",
    Verdict.JUST_IN: "doubt",
    Verdict.NOT_MEASURED: "quiet",
    Verdict.NOT_APPLICABLE: "quiet",
    Verdict.IN_SPEC: "good",
}


def attention(findings: Sequence[Finding]) -> Iterator[Line]:
    """A rule of which some station needs attention: those stations whole, the reasons once, the rest in a line."""
    shown = [finding for finding in findings if finding.verdict in ATTENTION]
    good = in_spec_of(findings)
    alike = len({limits_of(finding) for finding in (*shown, *good)}) == 1
    yield from spread(shown[0].title, limits_of(shown[0]) if alike else "", "heading")
    wide = max(_WHERE, *(len(place(finding.station)) for finding in shown))
    for finding in shown:
        yield from _station(finding, alike, wide)
    plain = [finding for finding in shown if not finding.rests_on.suspect]
    for text in dict.fromkeys(sentence(finding.because) for finding in plain if finding.because):
        yield from folded(text, INDENT)
    for text in dict.fromkeys(finding.caution for finding in plain if finding.caution and finding.verdict in BEYOND):
        yield from folded(sentence(text), INDENT, "Caution: ", hang=INDENT + 2)
    for text in dict.fromkeys(source_text(finding.source) for finding in shown):
        yield from folded(text, INDENT, "Source: ", "quiet", hang=INDENT + 2)
    if good:
        where = places([finding.station for finding in good])
        yield from columns(f"  {where}", _span(good), "in spec", "good", _WHERE + 2, over=True)


def in_spec(findings: Sequence[Finding]) -> Iterator[Line]:
    """A rule that is in spec wherever it was measured: one line."""
    good = in_spec_of(findings)
    yield from columns(f"  {short(good[0].title)}", _span(good), places([finding.station for finding in good]))


def by_rule(findings: Sequence[Finding]) -> list[list[Finding]]:
    """The findings of each rule together, in the order of the work."""
    return [list(of_rule) for _, of_rule in groupby(findings, key=lambda finding: finding.rule)]


def in_spec_of(findings: Sequence[Finding]) -> list[Finding]:
    """Those of the findings that are in spec."""
    return [finding for finding in findings if finding.verdict is Verdict.IN_SPEC]


def _station(finding: Finding, alike: bool, wide: int) -> Iterator[Line]:
    limits, style = finding.limits, STYLES[finding.verdict]
    ends = [end for end in (finding.low, finding.high) if end is not None]
    drawing = band(sum(ends, Decimal(0)) / len(ends), limits.least, limits.aim, limits.most) if ends else ""
    left, said, inner = f"  {place(finding.station):<{wide}}  ", verdict_text(finding), wide + 4
    head = f"{left}{measured(finding):<{_VALUE}}  "
    if len(head) + BAND + 2 + len(said) <= WIDTH:
        yield line(f"{head}{drawing:<{BAND}}  ", (said, style))
    else:
        yield line(head, drawing)
        yield from folded(said, inner, style=style)
    if not alike:
        yield from folded(limits_of(finding), inner)
    for text in details(finding):
        yield from folded(text, inner)


def _span(findings: Sequence[Finding]) -> str:
    """From the lowest to the highest of what is sure at these stations."""
    ends = [(finding.low, finding.high) for finding in findings if (finding.low, finding.high) != (None, None)]
    return span(ends, findings[0].unit, max(finding.places for finding in findings))
