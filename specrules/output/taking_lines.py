"""What `sheet take` says: what to measure next and where, what came of the last reading, what may be typed."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from specrules.inspection import Finding, Report
from specrules.inspection.digits import measured
from specrules.output.lines import Line, columns, folded, line, spread
from specrules.output.telling import limits_of, suspect_text, verdict_text
from specrules.output.verdicts import TELLING, Shown, shown
from specrules.output.words import listed, lower, many, places, sentence, short
from specrules.pack import Measurand, SignOff
from specrules.sheet import Suspect
from specrules.sheet.cells import Cell, spot_of
from specrules.sheet.expected_sizes import ExpectedSize

FEW = 4
"""So many findings are shown after a reading; the rest are counted."""

HELP = (
    ("54.988", "a figure, in any unit: 0.5 thou, 63.5 um; by blades 18..20, over 0.5, under 0.05"),
    ("=54.988", "the size of what follows: then 88, .988 or 8 thou over are enough"),
    ("Enter", "nothing read here: the next place"),
    ("r 54.989", "one more reading of the last place"),
    ("c AB", "the last reading is right, says AB"),
    ("w a nick", "a note beside the last reading: why it was read, or read so"),
    ("b", "back to the place before"),
    ("n", "none of this: the next thing to measure"),
    ("y AB, n AB", "to a question that is signed: yes, or no, and whose word it is"),
    ("q", "stop; every reading is in the sheet already"),
)
"""What may be typed, and what it does."""


def beginning(places: int, again: int, unknown: Collection[str], file: str) -> Iterator[Line]:
    """How many places wait, how many of them again, and the facts that have to be stated for others to be known."""
    once_more = f", {again} of them again" if again else ""
    yield from folded(f"{file}: {many(places, 'place')} to read{once_more}. ? says what may be typed, q stops.")
    if unknown:
        said = f"State {listed(unknown)} in the sheet's facts: what lies along them cannot be asked for before."
        yield from folded(said, style="doubt")


def thing(measurand: Measurand, unit: str) -> Iterator[Line]:
    """What is to be measured now, with what, and how."""
    yield line()
    title = measurand.title or measurand.name.replace("_", " ")
    yield from spread(f"{title}{f' ({unit})' if unit else ''}", " or ".join(measurand.gauge_classes[:1]), "heading")
    if measurand.how:
        yield from folded(measurand.how, 2)


def station(
    cell: Cell, unit: str, expected: ExpectedSize, there: Collection[Cell], turn: str, begun: bool
) -> Iterator[Line]:
    """One station: which it is, where the gauge goes, what size is expected, and what has been read there.

    `turn`: the how manieth place of how many it begins with. `begun`: the thing to be measured was told just now."""
    at = dict(zip(cell.measurand.at, cell.station, strict=True))
    title = cell.measurand.title or cell.measurand.name.replace("_", " ")
    if at:
        yield line()
        yield from spread(places([at]).upper(), turn if begun else f"{title}, {turn}", "heading", "quiet")
        if not begun and cell.measurand.how and len(there) > 1:
            yield from folded(cell.measurand.how, 2, style="quiet")
    size = _expected(expected, unit)
    if size:
        yield from folded(size, 2)
    read = (f"{_position(each)} {', '.join(each.written.texts)}" for each in there if each.given and each.written)
    if done := "; ".join(each.strip() for each in read):
        yield from folded(done, 2, "Read there: ", hang=4)


def _position(cell: Cell) -> str:
    return places([dict(zip(cell.measurand.positions, cell.position or (), strict=False))]) if cell.position else ""


def _expected(size: ExpectedSize, unit: str) -> str:
    """The size expected, as a sentence; "" where nothing is known."""
    known = [f"{size.stated} as stated"] if size.stated else []
    known += [f"{' to '.join(size.elsewhere)} elsewhere"] if size.elsewhere else []
    known += [f"usual is {size.usual} {unit}".rstrip()] if size.usual and not known else []
    return f"Expected: {', '.join(known)}." if known else ""


def where(cell: Cell, stale: str = "") -> str:
    """The place that is asked for, as a prompt, with what stands there already, and the work since that was read."""
    at = places([cell.place]) if cell.place else ""
    there = cell.written.texts if cell.given and cell.written is not None else ()
    times = cell.measurand.repeats
    turn = f" ({min(len(there) + 1, times)} of {times})" if times > 1 else ""
    since = f"; since then: {lower(short(stale))}" if stale else ""
    stands = f" [{', '.join(there)}{since}]" if there else ""
    return f"{at or 'reading'}{turn}{stands}: "


def question(sign_off: SignOff) -> Iterator[Line]:
    """A question to sign, with what is dangerous about it."""
    yield line()
    yield from folded(sign_off.question, 0, f"{sign_off.name}: ", hang=2)
    if sign_off.caution:
        yield from folded(sentence(sign_off.caution), 2, "Caution: ", hang=4)


def helping() -> Iterator[Line]:
    """What may be typed."""
    for typed, does in HELP:
        yield from columns(f"  {typed}", does, wide=12)


def entered(figure: str, unit: str) -> Iterator[Line]:
    """The figure that is in the sheet now, where it is not what was typed."""
    yield line(f"  = {figure}{f' {unit}' if unit else ''}")


def came_of_it(before: Report | None, now: Report, cell: Cell) -> Iterator[Line]:
    """What is known through a reading that was not before; what in it looks like a slip."""
    known = {(f.rule, tuple(f.station.values())): f for f in before.findings} if before is not None else {}
    changed = [each for each in now.findings if _tells(each, known.get((each.rule, tuple(each.station.values()))))]
    for finding in changed[:FEW]:
        yield from _finding(finding)
    if len(changed) > FEW:
        yield line(f"  {many(len(changed) - FEW, 'finding')} more.")
    for suspect in _doubts(now, cell):
        yield from folded(f"{suspect_text(suspect)} Type it again, or c and your initials if it is right.", 2)


def doubted(now: Report, cell: Cell) -> bool:
    """Whether the reading in a cell looks like a slip that nobody has confirmed."""
    return bool(_doubts(now, cell))


def _doubts(now: Report, cell: Cell) -> list[Suspect]:
    return [each for each in now.suspects if spot_of(each) == cell.spot and not each.confirmed]


def _tells(finding: Finding, before: Finding | None) -> bool:
    """Whether a finding says something that it did not say before."""
    if shown(finding.verdict, Shown.WAITING, Shown.COUNTED, Shown.LACKING):
        return False
    return before is None or (finding.verdict, finding.low, finding.high) != (before.verdict, before.low, before.high)


def _finding(finding: Finding) -> Iterator[Line]:
    told = TELLING[finding.verdict]
    at = places([finding.station])
    yield from columns(
        f"  {short(finding.title)}{f', {at}' if at else ''}",
        f"{measured(finding)} {finding.unit.symbol}".rstrip(),
        verdict_text(finding),
        told.style,
    )
    if not shown(finding.verdict, Shown.SUMMED):
        yield from folded(limits_of(finding), 4, style="quiet")


def ended(taken: int, left: int, file: str) -> Iterator[Line]:
    """What was done, and what is next."""
    yield line()
    yield from folded(f"{many(taken, 'reading')} taken, {many(left, 'place')} left. Then: specrules inspect {file}")
