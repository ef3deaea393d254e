"""Two records held against each other on a screen: other verdicts, what moved beyond its U, other limits, what was read
again, and what only one of them has."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from specrules.output.lines import Line, apart, columns, folded, line, spread
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
    yield from apart("VERDICTS THAT CHANGED", _by_rule(other_verdicts(found), _verdict))
    moved = _by_rule(moved_beyond(found), _moved)
    yield from apart("MOVED, BY MORE THAN ANY U KNOWN, THE VERDICT THE SAME", moved)
    yield from apart("LIMITS THAT CHANGED", _by_rule([each for each in found.findings if each.limits], _limits))
    signed = (f"{each.states[0]}, now {each.states[1]}: {each.question}" for each in found.sign_offs)
    yield from apart("SIGN-OFFS THAT CHANGED", (row for text in signed for row in folded(text, 2, hang=4)))
    yield from apart("READ AGAIN", _read_again(found.readings))
    yield from apart("CHECKS THAT ONLY ONE HAS", _alone(found.findings_of_one))
    yield from apart("READINGS THAT ONLY ONE HAS", _alone(found.readings_of_one))
    yield from _closing(found)


def _head(word: str, file: str, of: ComparedRecord) -> Iterator[Line]:
    told = (file, of.title, f"job {of.job}" if of.job else None, f"serial {of.serial}" if of.serial else None, of.date)
    yield from folded(", ".join(filter(None, told)), 0, f"{word:<6}")
    yield from folded(f"{', '.join(of.packs)}; {of.decision}; {of.verdict}", 6)


def _by_rule(findings: Sequence[ChangedFinding], told: Told) -> Iterator[Line]:
    for rule, these in groupby(findings, key=lambda each: (each.rule, each.title)):
        yield from folded(rule[1], 2)
        for each in these:
            yield from told(each)


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
    for what, unit, these in read_again(readings):
        yield from spread(f"  {name(what)}: {many(len(these), 'reading')}", amounts_told(these, unit))


def _alone(of: OnlyInOne) -> Iterator[Line]:
    for word, these in (("old", of.old), ("new", of.new)):
        if these:
            yield from folded("; ".join(map(there_told, these)), 0, f"  {word}: ")


def _closing(found: RecordComparison) -> Iterator[Line]:
    first, *more = summary(found)
    yield from folded(first, style="heading")
    for each in more:
        yield from folded(each)
