"""What to say of figures and names that stand where they have no place: what is wrong, and what to write."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from specrules.document import MOST_FAULTS, Text, shown
from specrules.formula import MOST_LABELS
from specrules.formula.axis_kinds import kind_of
from specrules.quantity import nearest
from specrules.sheet.faults import listed
from specrules.sheet.grid import Grid
from specrules.sheet.key_labels import ABSENT, Kinds
from specrules.sheet.label_origins import there_are
from specrules.vocabulary import Code

AT = "at"
ONE_TEXT = ("unit", "gauge", "taken", "state", "because", "part temperature", "gauge temperature")
SAID_ONCE = (*ONE_TEXT, "after", "pictures", AT)
"""Keys of a set that are no labels: they hold for all its readings."""

Said = tuple[Code, str, str]


def no_place(key: Text, axis: str | None, free: Sequence[str], grid: Grid, told: int) -> Said:
    """A key that is no label of `axis`, which its neighbours name (None: they name none), of the axes left.

    `told`: how many faults come before it; past what anyone is shown nothing is offered.
    """
    if key in SAID_ONCE:
        return Code.MISPLACED, f"{shown(key)} is said once, for all the readings of a set", ""
    if key == "confirmed":
        said = f"{shown(key)} stands beside the value of one reading"
        return Code.MISPLACED, said, "{value: ..., confirmed: initials}"
    if not free:
        return Code.MISPLACED, f"{shown(key)} stands where one figure belongs", ""
    elsewhere = next((other for other in free if grid.picked(key, other)), None)
    if axis and elsewhere:
        return Code.WRONG_AXIS, f"{shown(key)} belongs to {elsewhere}, and stands beside labels of {axis}", ""
    for other in [axis] if axis else free:
        if (of_kind := no_kind(key, other, grid.kinds)) is not None:
            return of_kind
    axis = axis or next((other for other in free if other in grid.told and grid.told[other].may_be(key)), None)
    if axis is None and key.isdecimal():
        axis = next((other for other in free if grid.first(other) == "1"), None)
    spoken = [axis] if axis else [other for other in free if grid.many(other)] or list(free)
    said = f"{shown(key)} is no {' or '.join(spoken)}"
    if told >= MOST_FAULTS:
        return Code.UNKNOWN_LABEL, said, ""
    if axis and not grid.labels[axis]:
        numbered = "they are a, b, c" if axis in grid.lettered else f"they are numbered from 1 to {MOST_LABELS}"
        return Code.UNKNOWN_LABEL, f"{said}; {numbered}", ""
    meant = nearest(key, (label for other in spoken for label in grid.labels[other]))
    if meant is not None and not key.isdecimal():
        return Code.UNKNOWN_LABEL, said, meant
    said += f"; {there_are(spoken, grid.labels, grid.told)}"
    write = grid.told[spoken[0]].written(key) if len(spoken) == 1 and spoken[0] in grid.told else ""
    groups = next((other for other in free if other in grid.by_default and other not in spoken and not axis), None)
    if groups:
        said += f", and one {groups}, since {grid.by_default[groups]} is not stated"
    return Code.UNKNOWN_LABEL, said, write


def no_kind(key: Text, axis: str, kinds: Mapping[str, Kinds]) -> Said | None:
    """A label of a kind that is not there: the fact that counts it says so. None for any other key."""
    known = kinds.get(axis, {})
    kind, number = kind_of(key, known)
    if not kind:
        return None
    fact, labels, how = known[kind]
    there = f"there is one {kind}" if len(labels) == 1 else f"there are {listed(labels)}"
    said = f"{shown(key)} is no {axis}; {there}, since {fact} {how}"
    if how == ABSENT:
        return Code.UNKNOWN_LABEL, said, ""
    more = [f"{fact}: {max(number, 2 if labels else 1)} under facts, if there are so many"]
    write = [*filter(None, [" or ".join(labels)]), *(more if number <= MOST_LABELS else ())]
    return Code.UNKNOWN_LABEL, said, ", or ".join(write)


def of_several(axis: str, labels: Sequence[str], what: str) -> Said:
    """A list, or repeats, under a key that speaks of several labels of an axis of kinds."""
    if what == "repeats":
        said = f"repeats are of one {axis}, and this is of {listed(labels)}"
        return Code.STATION_NOT_NAMED, said, f"them by name, {labels[0]}: {{repeats: [...]}}"
    said = f"a list does not say which of {listed(labels)} each figure is of"
    return Code.STATION_NOT_NAMED, said, f"them by name, {labels[0]}: and the figure"


def one_of_a_kind(given: int, label: str, kinds: Kinds) -> Said:
    """Several figures under the one label of a kind."""
    kind = next(kind for kind, of in kinds.items() if label in of.labels)
    fact, labels, how = kinds[kind]
    if len(labels) != 1:
        said = f"{given} figures stand where one belongs"
        return Code.WRONG_COUNT, said, "repeats: [...] where one place was measured again"
    said = f"{given} figures stand where one belongs, and there is one {kind}, since {fact} {how}"
    write = f"{fact}: {given} under facts and {kind}_1: and the figure, or repeats: [...] where one was measured again"
    return Code.WRONG_COUNT, said, write


def unlisted_axis(axis: str, grid: Grid) -> Said:
    """A list along an axis whose labels it cannot tell."""
    said = f"a list does not say which {axis} each figure is of"
    return Code.STATION_NOT_NAMED, said, f"them by name, {grid.first(axis)}: and the figure"


def wrong_length(given: int, order: Sequence[Sequence[str]], over: Sequence[str], grid: Grid) -> Said:
    """Too many figures in a list, or too few."""
    if len(order) == 1:
        said, write = f"{given} figures stand where one belongs", "repeats: [...] where one place was measured again"
        return Code.WRONG_COUNT, said, write
    names = listed(" ".join(labels) for labels in order)
    stand = f"{given} figure{' stands' if given == 1 else 's stand'}"
    said = f"{stand} where {len(order)} belong, in this order: {names}"
    told = [grid.told[axis] for axis in over if axis in grid.told]
    if told:
        said += f"; {' and '.join(origin.why for origin in told)}"
    counts = [kind for axis in over for kind in grid.kinds.get(axis, {}).values() if kind.known != ABSENT]
    if counts:
        said += f"; {' and '.join(f'{kind.fact} {kind.known}' for kind in counts)}"
    more = told[0].counted(given) if len(over) == 1 and told else ""
    more = f"{listed(kind.fact for kind in counts)} under facts, where there are more of a kind" if counts else more
    return Code.WRONG_COUNT, said, (given > len(order) and more) or "open for what is not measured"


def unnamed(axis: str, grid: Grid, text: str, others: bool) -> Said:
    """A figure that does not say which label of an axis it is of."""
    labels = grid.labels[axis]
    if others or not labels:
        said = f"no {axis} is named, and how many there are is not stated"
        return Code.STATION_NOT_NAMED, said, "" if others else f"{grid.first(axis)}: {text}"
    said = f"no {axis} is named, and there are {listed(labels)}"
    return Code.STATION_NOT_NAMED, said, f"{labels[0]}: {text}"
