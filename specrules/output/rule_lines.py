"""One rule on the screen: what needs attention whole, station by station, and what is in spec in one line."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from decimal import Decimal
from itertools import groupby
from typing import NamedTuple

from specrules.inspection import Finding, Whole, WholeFinding
from specrules.inspection.digits import measured, span
from specrules.output.limit_band import WIDTH as BAND
from specrules.output.limit_band import band
from specrules.output.lines import WIDTH, Line, columns, folded, line, spread
from specrules.output.telling import details, for_the_bench, in_short, limits_of, source_text, verdict_text
from specrules.output.verdicts import ATTENTION, TELLING, Shown, shown
from specrules.output.words import places, sentence, short
from specrules.quantity import YES_NO_UNIT
from specrules.vocabulary import BEYOND, SIDES, Verdict

INDENT = 6
_WHERE, _WIDEST, _VALUE = 14, 24, 16
Key = tuple[Verdict, str, str, str, tuple[str, ...]]


def attention(findings: Sequence[Finding], whole: Whole) -> Iterator[Line]:
    """A rule of which some station needs attention: those stations whole, the reasons once, the rest in a line."""
    rowed = [finding for finding in findings if finding.verdict in ATTENTION]
    good = in_spec_of(findings)
    yield from _rowed(rowed, good, whole, _FULL)
    plain = [finding for finding in rowed if not finding.rests_on.suspect]
    for text in dict.fromkeys(sentence(finding.because) for finding in plain if finding.because):
        yield from folded(text, INDENT)
    yield from cautions(plain)
    for text in dict.fromkeys(source_text(finding.source) for finding in rowed):
        yield from folded(text, INDENT, "Source: ", "quiet", hang=INDENT + 2)
    if good:
        where = places([finding.station for finding in good])
        verdict = good[0].verdict
        yield from columns(f"  {where}", _span(good), verdict, TELLING[verdict].style, _WHERE + 2, over=True)


def in_brief(findings: Sequence[Finding], whole: Whole) -> Iterator[Line]:
    """The stations of a rule that have to be seen to: the value, what to do, what is dangerous about it."""
    yield from _rowed(findings, (), whole, _BRIEF)
    yield from cautions(findings)


def cautions(findings: Sequence[Finding]) -> Iterator[Line]:
    """What is dangerous about putting these right, each once."""
    for text in dict.fromkeys(f.caution for f in findings if f.caution and f.verdict in BEYOND):
        yield from folded(sentence(text), INDENT, "Caution: ", hang=INDENT + 2)


class RowStyle(NamedTuple):
    """How the rows of a rule are set: its title, what is told under a row, the least width of the places, and how far
    in the texts stand (none: under the value)."""

    title: Callable[[str], str]
    tell: Callable[[WholeFinding], Iterator[str]]
    where: int
    indent: int | None


_FULL = RowStyle(str, details, _WHERE, None)
_BRIEF = RowStyle(short, for_the_bench, 0, INDENT)


def _rowed(rowed: Sequence[Finding], beside: Sequence[Finding], whole: Whole, style: RowStyle) -> Iterator[Line]:
    """The title of a rule and a row for each of these stations. The limits stand in the heading where they are the same
    for all of them and those beside."""
    alike = len({limits_of(finding) for finding in (*rowed, *beside)}) == 1
    yield from spread(style.title(rowed[0].title), limits_of(rowed[0]) if alike else "", "heading")
    rows = [_row(whole(finding), alike, style) for finding in rowed]
    same = [StationRow(places([each.station for each in of_row]), *row) for row, of_row in _together(rows, rowed)]
    wide = min(max(style.where, *(len(row.where) for row in same)), _WIDEST)
    for verdict in ATTENTION:
        yield from _of_verdict([row for row in same if row.verdict is verdict], wide, style.indent)


def row_of_rule(findings: Sequence[Finding]) -> Iterator[Line]:
    """Stations of one rule in one line: what is measured, from least to most, and where."""
    where = places([finding.station for finding in findings])
    yield from columns(f"  {short(findings[0].title)}", _span(findings), where)


def by_rule(findings: Sequence[Finding]) -> list[list[Finding]]:
    """The findings of each rule together, in the order of the work."""
    return [list(of_rule) for _, of_rule in groupby(findings, key=lambda finding: finding.rule)]


def in_spec_of(findings: Sequence[Finding]) -> list[Finding]:
    """Those of the findings that are in spec."""
    return [finding for finding in findings if shown(finding.verdict, Shown.SUMMED)]


class StationRow(NamedTuple):
    """Stations of which the same is to be said."""

    where: str
    verdict: Verdict
    value: str
    drawing: str
    said: str
    texts: tuple[str, ...]


def _row(finding: WholeFinding, alike: bool, style: RowStyle) -> Key:
    """Everything of a row but where it is. alike: the limits stand in the heading."""
    limits = finding.limits
    drawn = finding.unit != YES_NO_UNIT
    ends = [end for end in (finding.low, finding.high) if end is not None and drawn]
    least, most = map(limits.deciding, SIDES)
    drawing = band(sum(ends, Decimal(0)) / len(ends), least, limits.aim, most) if ends else ""
    texts = in_short(finding) if shown(finding.verdict, Shown.SHORT) else style.tell(finding)
    own = () if alike else (limits_of(finding),)
    return finding.verdict, measured(finding), drawing, verdict_text(finding), (*own, *texts)


def _together(rows: Sequence[Key], findings: Sequence[Finding]) -> Iterable[tuple[Key, list[Finding]]]:
    same: dict[Key, list[Finding]] = {}
    for row, finding in zip(rows, findings, strict=True):
        same.setdefault(row, []).append(finding)
    return same.items()


def _of_verdict(rows: Sequence[StationRow], wide: int, indent: int | None) -> Iterator[Line]:
    """The rows of one verdict: what is said of all of them stands once, under the last."""
    shared = [text for text in rows[0].texts if all(text in row.texts for row in rows)] if len(rows) > 1 else []
    indent = wide + 4 if indent is None else indent
    for row in rows:
        yield from _station(row, wide)
        for text in row.texts:
            if text not in shared:
                yield from folded(text, indent)
    for text in shared:
        yield from folded(text, indent)


def _station(row: StationRow, wide: int) -> Iterator[Line]:
    where = row.where
    if len(where) > wide:
        yield from folded(where, 2)
        where = ""
    head, style = f"  {where:<{wide}}  {row.value:<{_VALUE}}  ", TELLING[row.verdict].style
    if len(head) + BAND + 2 + len(row.said) <= WIDTH:
        yield line(f"{head}{row.drawing:<{BAND}}  ", (row.said, style))
    else:
        yield line(head, row.drawing)
        yield from folded(row.said, wide + 4, style=style)


def _span(findings: Sequence[Finding]) -> str:
    """From the lowest to the highest of what is sure at these stations."""
    ends = [(finding.low, finding.high) for finding in findings if (finding.low, finding.high) != (None, None)]
    return span(ends, findings[0].unit, max(finding.places for finding in findings))
