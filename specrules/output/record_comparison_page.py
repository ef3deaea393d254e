"""Two records held against each other on a screen: other verdicts, what moved beyond its U, other limits, what was read
again, and what only one of them has."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from specrules.output.lines import Line, columns, folded, line, spread
from specrules.output.record_changes import (
    NO_NUMBERS,
    OF_U,
    amounts_told,
    limit_told,
    moved_beyond,
    other_verdicts,
    read_again,
    summary,
    there_told,
    values_told,
    verdict_told,
)
from specrules.output.words import many, name, place
from specrules.record.record_comparison import (
    ChangedFinding,
    ChangedReading,
    ComparedRecord,
    OnlyInOne,
    RecordComparison,
)
from specrules.vocabulary import BEYOND, INSIDE

_WIDE = 26
Told = Callable[[ChangedFinding], Iterator[Line]]


def compared_records(found: RecordComparison, names: tuple[str, str]) -> Iterator[Line]:
    """The whole of it."""
    for word, file, of in (("old", names[0], found.old), ("new", names[1], found.new)):
        yield from _head(word, file, of)
    yield from folded(OF_U, 0, "note  ", style="quiet")
    yield line()
    yield from _section("VERDICTS THAT CHANGED", other_verdicts(found), _verdict)
    yield from _section("MOVED, BY MORE THAN ANY U KNOWN, THE VERDICT THE SAME", moved_beyond(found), _moved)
    yield from _section("LIMITS THAT CHANGED", [each for each in found.findings if each.limits], _limits)
    if found.sign_offs:
        yield line(("SIGN-OFFS THAT CHANGED", "heading"))
        for each in found.sign_offs:
            yield from folded(f"{each.states[0]}, now {each.states[1]}: {each.question}", 2, hang=4)
        yield line()
    yield from _read_again(found.readings)
    yield from _alone("CHECKS THAT ONLY ONE HAS", found.findings_of_one)
    yield from _alone("READINGS THAT ONLY ONE HAS", found.readings_of_one)
    yield from _closing(found)


def _head(word: str, file: str, of: ComparedRecord) -> Iterator[Line]:
    told = (file, of.title, f"job {of.job}" if of.job else None, f"serial {of.serial}" if of.serial else None, of.date)
    yield from folded(", ".join(filter(None, told)), 0, f"{word:<6}")
    yield from folded(f"{', '.join(of.packs)}; {of.decision}; {of.verdict}", 6)


def _section(title: str, findings: Sequence[ChangedFinding], told: Told) -> Iterator[Line]:
    if not findings:
        return
    yield line((title, "heading"))
    for rule, these in groupby(findings, key=lambda each: (each.rule, each.title)):
        yield from folded(rule[1], 2)
        for each in these:
            yield from told(each)
    yield line()


def _verdict(of: ChangedFinding) -> Iterator[Line]:
    words = [verdict_told(of, number) for number in (0, 1)]
    style = "bad" if of.verdicts[1] in BEYOND else "good" if of.verdicts[1] in INSIDE else "doubt"
    yield from columns(f"    {place(of.station)}", f"{words[0]}, now {words[1]}", _change(of), style, wide=_WIDE)


def _moved(of: ChangedFinding) -> Iterator[Line]:
    yield from columns(f"    {place(of.station)}", of.verdicts[1].value, _change(of), wide=_WIDE)


def _change(of: ChangedFinding) -> str:
    """From which value to which, and by how much."""
    if of.moved is None:
        return "" if of.values == (None, None) else NO_NUMBERS
    told = values_told(of)
    return f"{told.was} to {told.now}: {told.moved} {of.unit}".rstrip()


def _limits(of: ChangedFinding) -> Iterator[Line]:
    for number, each in enumerate(of.limits):
        was, now = limit_told(each)
        left = f"    {place(of.station)}" if not number else ""
        yield from columns(left, f"{each.part} {was}, now {now} {of.unit}".rstrip(), wide=_WIDE)


def _read_again(readings: Sequence[ChangedReading]) -> Iterator[Line]:
    if not readings:
        return
    yield line(("READ AGAIN", "heading"))
    for what, unit, these in read_again(readings):
        yield from spread(f"  {name(what)}: {many(len(these), 'reading')}", amounts_told(these, unit))
    yield line()


def _alone(title: str, of: OnlyInOne) -> Iterator[Line]:
    if not (of.old or of.new):
        return
    yield line((title, "heading"))
    for word, these in (("old", of.old), ("new", of.new)):
        if these:
            yield from folded("; ".join(map(there_told, these)), 0, f"  {word}: ")
    yield line()


def _closing(found: RecordComparison) -> Iterator[Line]:
    first, *more = summary(found)
    yield from folded(first, style="heading")
    for each in more:
        yield from folded(each)
