"""The grid that readings lie on, and one written figure with the places that it stands for."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from specrules.document import Fields, Node, Place, Text
from specrules.sheet.key_labels import NO_KINDS, Kinds, picked
from specrules.sheet.label_origins import Origin

NO_TEXT = Text("")

Spot = tuple[tuple[str, ...], tuple[str, ...] | None]
"""Labels of a station, and of a position there (None: one figure for the whole station)."""


class Grid(NamedTuple):
    """The axes that a thing lies on, stations before positions, and their labels in this build.

    `listed` are those along which a list may run: its declared order is the only one that it can have.
    `one_for_all`: a bare value may stand for every station (facts). `by_default`: axes of one group because the fact
    that would list the groups is not stated, with that fact. `lettered`: axes whose labels are a, b, c. `told`: what
    says which labels an axis has. `kinds`: axes of kinds, each kind with its labels.
    """

    name: str
    at: tuple[str, ...]
    positions: tuple[str, ...]
    labels: Mapping[str, tuple[str, ...]]
    listed: frozenset[str] = frozenset()
    one_for_all: bool = False
    by_default: Mapping[str, str] = MappingProxyType({})
    lettered: frozenset[str] = frozenset()
    told: Mapping[str, Origin] = MappingProxyType({})
    kinds: Mapping[str, Kinds] = MappingProxyType({})

    def picked(self, key: str, axis: str) -> tuple[str, ...]:
        """The labels of an axis that a key speaks of; none where it speaks of others."""
        return picked(key, self.labels[axis], self.kinds.get(axis, NO_KINDS))

    @property
    def axes(self) -> tuple[str, ...]:
        return self.at + self.positions

    def first(self, axis: str) -> str:
        """The first label of an axis; the one that it would have where nobody says how many there are."""
        return next(iter(self.labels[axis]), "a" if axis in self.lettered else "1")

    def many(self, axis: str) -> bool:
        """An axis of one label may be left out."""
        return len(self.labels[axis]) != 1


class SaidOfOne(NamedTuple):
    """What a mapping says of the one figure in it, "" for nothing: it counts before what the set says."""

    gauge: Text = NO_TEXT
    taken: Text = NO_TEXT
    because: Text = NO_TEXT
    confirmed: Text = NO_TEXT  # by whom, in initials: this number was read again and is right
    after: Node = NO_TEXT  # operations of the same day, one or a list
    pictures: Node = NO_TEXT  # files that show it, one or a list


UNSAID = SaidOfOne()


class FigureAsRead(NamedTuple):
    """One figure as written, or the repeats of one, with what is said of it. `whole`: the mapping that holds it."""

    texts: tuple[Text, ...]
    place: Place
    repeated: bool = False
    own: SaidOfOne = UNSAID
    whole: Fields | None = None


class Statement(NamedTuple):
    """One written figure (or the repeats of one): where it stands, what it stands for.

    `earlier`: what stood in its place before it and is kept beside it, the latest first.
    """

    texts: tuple[Text, ...]
    repeated: bool
    spots: tuple[Spot, ...]
    statement: int
    subject: str
    own: SaidOfOne = UNSAID
    whole: Fields | None = None
    earlier: tuple[FigureAsRead, ...] = ()

    @property
    def group(self) -> bool:
        """Written once for several places, so that nothing is known of how they differ."""
        return len(self.spots) > 1


def is_open(text: str) -> bool:
    """Not measured: left empty, or `open`."""
    return text.strip().lower() in ("", "open")
