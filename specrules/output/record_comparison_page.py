"""Two records held against each other on a screen: other verdicts, what moved beyond its U, other limits, what was read
again, and what only one of them has."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from itertools import groupby

from specrules.inspection.digits import never_nothing, own_places
from specrules.output.lines import Line, columns, folded, line, spread
from specrules.output.words import many, name, place, places
from specrules.quantity import fixed
from specrules.record.record_comparison import (
    ChangedFinding,
    ChangedReading,
    ComparedRecord,
    OnlyInOne,
    OnlyThere,
    RecordComparison,
)
from specrules.record.record_part import StationRecord
from specrules.vocabulary import BEYOND, INSIDE, Verdict

_MOST_PLACES = 7
_WIDE = 26
Told = Callable[[ChangedFinding], Iterator[Line]]


def compared_records(found: RecordComparison, names: tuple[str, str]) -> Iterator[Line]:
    """The whole of it."""
    for word, file, of in (("old", names[0], found.old), ("new", names[1], found.new)):
        yield from _head(word, file, of)
    yield from folded(
        "U of a change is that of both values as if they had nothing in common. What the same gauge errs alike in both "
        "cancels, so the true one is no larger.",
        0,
        "note  ",
        style="quiet",
    )
    yield line()
    others = [each for each in found.findings if each.verdicts[0] is not each.verdicts[1]]
    moved = [each for each in found.findings if each not in others and each.moved and each.beyond_U is not False]
    yield from _section("VERDICTS THAT CHANGED", others, _verdict)
    yield from _section("MOVED, BY MORE THAN ANY U KNOWN, THE VERDICT THE SAME", moved, _moved)
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
    words = [_word(verdict, side) for verdict, side in zip(of.verdicts, of.sides, strict=True)]
    style = "bad" if of.verdicts[1] in BEYOND else "good" if of.verdicts[1] in INSIDE else "doubt"
    yield from columns(f"    {_where(of.station)}", f"{words[0]}, now {words[1]}", _change(of), style, wide=_WIDE)


def _word(verdict: Verdict, side: str | None) -> str:
    return f"{verdict} ({side})" if side else verdict.value


def _moved(of: ChangedFinding) -> Iterator[Line]:
    yield from columns(f"    {_where(of.station)}", of.verdicts[1].value, _change(of), wide=_WIDE)


def _change(of: ChangedFinding) -> str:
    """From which value to which, and by how much."""
    was, is_ = (None if each is None else Decimal(repr(each)) for each in of.values)
    if was is None or is_ is None or of.moved is None:
        return "" if was is is_ is None else "one of them no single number"
    digits = min(max(own_places(was), own_places(is_)), _MOST_PLACES)
    if of.U:
        digits = min(digits, max(0, 1 - Decimal(repr(of.U)).adjusted()))
    moved = Decimal(repr(of.moved))
    sign = "+" if moved > 0 else ""
    U = f" ±{never_nothing(Decimal(repr(of.U)), digits)}" if of.U else ""
    return f"{fixed(was, digits)} to {fixed(is_, digits)}: {sign}{never_nothing(moved, digits)}{U} {of.unit}".rstrip()


def _limits(of: ChangedFinding) -> Iterator[Line]:
    for number, each in enumerate(of.limits):
        was, is_ = (None if size is None else Decimal(repr(size)) for size in (each.old, each.new))
        digits = min(max([own_places(size) for size in (was, is_) if size is not None]), _MOST_PLACES)
        texts = ["none" if size is None else fixed(size, digits) for size in (was, is_)]
        left = f"    {_where(of.station)}" if not number else ""
        yield from columns(left, f"{each.part} {texts[0]}, now {texts[1]} {of.unit}".rstrip(), wide=_WIDE)


def _read_again(readings: Sequence[ChangedReading]) -> Iterator[Line]:
    if not readings:
        return
    yield line(("READ AGAIN", "heading"))
    by_name: dict[tuple[str, str], list[ChangedReading]] = {}
    for each in readings:
        by_name.setdefault((each.name, each.unit), []).append(each)
    for (what, unit), these in by_name.items():
        amounts = [Decimal(repr(each.moved)) for each in these if each.moved is not None]
        said = f"  {name(what)}: {many(len(these), 'reading')}"
        by = ""
        if amounts:
            digits = min(max(map(own_places, amounts)), _MOST_PLACES)
            low, high = fixed(min(amounts), digits), fixed(max(amounts), digits)
            by = f"by {low} {unit}" if low == high else f"by {low} to {high} {unit}"
        yield from spread(said, by.rstrip())
    yield line()


def _alone(title: str, of: OnlyInOne) -> Iterator[Line]:
    if not (of.old or of.new):
        return
    yield line((title, "heading"))
    for word, these in (("old", of.old), ("new", of.new)):
        if these:
            yield from folded("; ".join(map(_there, these)), 0, f"  {word}: ")
    yield line()


def _there(of: OnlyThere) -> str:
    at = places([{axis: str(label) for axis, label in station.items()} for station in of.stations])
    return f"{name(of.name)} ({at})" if at else name(of.name)


def _where(station: StationRecord) -> str:
    return place({axis: str(label) for axis, label in station.items()})


def _closing(found: RecordComparison) -> Iterator[Line]:
    counts = found.counts
    moved = f"{counts.moved} moved by more than U, {counts.within_U} by no more, {counts.without_U} with no U known"
    changes = f"{many(counts.verdicts, 'verdict')} changed, {moved}, {many(counts.limits, 'check')} of other limits"
    yield from folded(
        f"{many(counts.findings, 'check')} and {many(counts.readings, 'reading')} compared: {changes}, "
        f"{counts.read_again} read again.",
        style="heading",
    )
    if found.old.seal is None or found.old.seal != found.new.seal:
        yield from folded("They are not judged by the same specification.")
    if found.old.decision != found.new.decision:
        yield from folded(f"The decision rule is another: {found.old.decision}, now {found.new.decision}.")
