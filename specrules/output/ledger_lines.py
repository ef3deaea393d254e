"""The ledger in words: by what a pack asks less than the packs below it, and a sheet than its packs.

The bench screen only names what a pack or sheet asks less of, once that is more than three things; what is no more
judged at all it always names.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from specrules.document import Place
from specrules.inspection.digits import inward, limit_places, own_places
from specrules.output.closing_lines import FEW
from specrules.output.lines import Line, folded, under
from specrules.output.words import listed, lower, name, places, sentence, short
from specrules.pack import Relaxation
from specrules.vocabulary import USUAL_DECISION, Relaxed

PLACES = 4
_HEADING = "ASKED LESS THAN BY THE PACKS BELOW"


def asked_less(ledger: Sequence[Relaxation]) -> Iterator[Line]:
    """A group of a screen, each entry with its reason; nothing where nothing is asked less."""
    yield from under(_HEADING, (row for entry in ledger for row in folded(told(entry), 2, hang=4)))


def asked_less_in_brief(ledger: Sequence[Relaxation]) -> Iterator[Line]:
    """The same for the bench: no reasons, and of whoever asks less of more than a few things, which ones alone.

    All that is no more judged or signed is named; of what is judged by less, a few, and the rest is counted."""
    yield from under(_HEADING, (row for text in _in_brief(ledger) for row in folded(text, 2, hang=4)))


def _in_brief(ledger: Sequence[Relaxation]) -> Iterator[str]:
    by_pack: dict[str, list[Relaxation]] = {}
    for entry in ledger:
        by_pack.setdefault("" if entry.code in _ALWAYS_WHOLE else entry.pack, []).append(entry)
    for pack, entries in by_pack.items():
        if pack and len(entries) > FEW:
            yield f"{sentence(f'{pack} {_named(entries)}')} --full says how."
        else:
            yield from (told(entry, why=False) for entry in entries)


def _named(entries: Sequence[Relaxation]) -> str:
    gone = dict.fromkeys(lower(short(entry.title)) for entry in entries if _is_gone(entry))
    less = [*dict.fromkeys(lower(short(entry.title)) for entry in entries if not _is_gone(entry))]
    few = less if len(less) <= FEW + 1 else [*less[:FEW], f"{len(less) - FEW} more"]
    said = (f"asks less of {listed(few)}" if few else "", f"leaves out {listed(gone)}" if gone else "")
    return "; ".join(filter(None, said))


def _is_gone(entry: Relaxation) -> bool:
    """Whether something is no more judged or signed at all."""
    return entry.code is Relaxed.RETIRED or (entry.code is Relaxed.SWITCHED_OFF and not entry.now)


def told(entry: Relaxation, why: bool = True) -> str:
    """An entry as sentences: what is asked less, where, whose word it is, and why."""
    title = short(entry.title)
    where = f" at {at}" if (at := places(entry.stations)) else ""
    stands = f", {_where(entry.place)}" if entry.place.line else ""
    by = "" if entry.code is Relaxed.SAME_NAME else f", by {entry.pack}{stands}"
    reason = f" {sentence(entry.reason)}" if why and entry.reason else ""
    return f"{sentence(f'{title}{where}: {_WHAT[entry.code](entry)}{by}')}{reason}"


def was(entry: Relaxation) -> str:
    """What the packs below ask; "" for nothing."""
    return _limits(entry, 0) or entry.was


def now(entry: Relaxation) -> str:
    """What is asked instead; "" for nothing."""
    return _limits(entry, 1) or entry.now


def _where(place: Place) -> str:
    return f"{place.file}, line {place.line}"


def _limits(entry: Relaxation, which: int) -> str:
    """The limits from the smallest to the largest, in the places that they have."""
    sizes = [pair[which] for pair in entry.limits]
    there = [size for size in sizes if size is not None]
    if not there:
        return ""
    unit = entry.unit.symbol if entry.unit is not None else ""
    digits = limit_places([size for pair in entry.limits for size in pair if size is not None], PLACES)
    low, high = (inward(each, entry.part, digits) for each in (min(there), max(there)))
    about = "about " if any(own_places(each) > digits for each in there) else ""
    return f"{about}{low if low == high else f'{low} to {high}'} {unit}".rstrip()


def _instead(entry: Relaxation) -> str:
    part = name(entry.part)
    return f"{part} {now(entry) or 'nothing'} instead of {was(entry) or 'nothing'}"


def _limit(entry: Relaxation) -> str:
    if not any(after is not None for _, after in entry.limits):
        return f"no {entry.part}, instead of {was(entry)}"
    return _instead(entry)


def _switched_off(entry: Relaxation) -> str:
    what = "asked" if entry.section == "sign-offs" else "judged"
    if not entry.now:
        return f"not {what}"
    return f"{what} only when {entry.now}" + (f", instead of when {entry.was}" if entry.was else "")


def _gauge(entry: Relaxation) -> str:
    return _instead(entry) if entry.now else f"{entry.part} less than that of its kind, {entry.below}"


def _decision(entry: Relaxation) -> str:
    return f"{entry.now} instead of {entry.was or f'{USUAL_DECISION}, which is usual'}"


_WHAT: Mapping[Relaxed, Callable[[Relaxation], str]] = {
    **dict.fromkeys(Relaxed, _instead),
    Relaxed.RETIRED: lambda _: "no longer asked for",
    Relaxed.SWITCHED_OFF: _switched_off,
    Relaxed.LIMIT_WIDENED: _limit,
    Relaxed.MAKERS_LIMITS: lambda _: "judged without the maker's limits",
    Relaxed.SURER_GAUGE: _gauge,
    Relaxed.LAXER_DECISION: _decision,
    Relaxed.SAME_NAME: lambda entry: f"read from {entry.now}, not from {entry.was}",
    Relaxed.LEFT_OUT: lambda entry: f"only {entry.now} asked for and counted",
}
"""What is asked less, by code."""
_ALWAYS_WHOLE = (Relaxed.LAXER_DECISION, Relaxed.SAME_NAME, Relaxed.LEFT_OUT)
"""What bears on many checks at once."""
