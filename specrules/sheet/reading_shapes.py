"""Readings in whatever shape they were written, to statements that each know the places they stand for.

A list under a kind of several labels, and repeats there, are a fault even where they fill the positions of one: two
figures under a kind may be of two of its labels, and nothing tells.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import count, product
from typing import NamedTuple, TypeGuard

from specrules.document import Fault, Fields, Items, Node, Place, Text, shown
from specrules.quantity import nearest
from specrules.sheet.faults import fault, listed
from specrules.sheet.grid import FigureAsRead, Grid, SaidOfOne, Spot, Statement, is_open
from specrules.sheet.misplaced import no_place, of_several, one_of_a_kind, unlisted_axis, unnamed, wrong_length
from specrules.vocabulary import READING_KEYS, Code

OTHERS = ("others", "the rest", "all")
VALUE, REPEATS, *_, WAS = READING_KEYS
ONE_OR_MORE = ("after", "pictures")


class Chosen(NamedTuple):
    """What a key says of an axis: its labels, and the word that was written."""

    labels: tuple[str, ...]
    word: str


Path = Mapping[str, Chosen]


def statements(node: Node, grid: Grid, numbers: Iterator[int]) -> tuple[tuple[Statement, ...], tuple[Fault, ...]]:
    """Every figure written below a name. `numbers` gives each a number of its own, for what is stated only once."""
    walk = _Walk(grid, numbers)
    walk.visit(node, {}, None)
    return tuple(walk.found), tuple(walk.faults)


def written_cells(node: Node, grid: Grid) -> tuple[Statement, ...]:
    """Every place below a name at which one figure stands or may be written, with the text there; what is at fault is
    told by `statements`."""
    walk = _Walk(grid, count(1))
    walk.visit(node, {}, None)
    return tuple(each for each in (*walk.found, *walk.empty) if len(each.spots) == 1)


class _Walk:
    def __init__(self, grid: Grid, numbers: Iterator[int]) -> None:
        self.grid, self.numbers = grid, numbers
        self.axes = grid.axes
        self.wide = [axis for axis in grid.positions if grid.many(axis)]
        self.found: list[Statement] = []
        self.empty: list[Statement] = []
        self.faults: list[Fault] = []
        self.taken: dict[tuple[str, ...], dict[tuple[str, ...] | None, Place]] = {}

    def free(self, path: Path) -> list[str]:
        return [axis for axis in self.axes if axis not in path]

    def subject(self, path: Path) -> str:
        words = [path[axis].word for axis in self.axes if axis in path]
        return " ".join([self.grid.name, *words])

    def fail(self, place: Place, path: Path, code: Code, said: str, write: str = "") -> None:
        self.faults.append(fault(place, self.subject(path), code, said, write))

    def visit(self, node: Node, path: Path, others: frozenset[str] | None) -> None:
        """`others`: the axes that were already chosen where `others` was written, None where it was not."""
        if isinstance(node, Text):
            self.leaf(FigureAsRead((node,), node.place), path, others)
        elif isinstance(node, Items):
            self.sequence(node, path, others)
        elif one_reading(node):
            self.one(node, path, others)
        else:
            self.mapping(node, path, others)

    def one(self, node: Fields, path: Path, others: frozenset[str] | None) -> None:
        """One reading as a mapping: a figure, or the repeats of one, and what is said of it alone."""
        if found := self.figures(node, path):
            self.leaf(found[0], path, others, found[1:])

    def figures(self, node: Fields, path: Path) -> tuple[FigureAsRead, ...]:
        """The figure of a mapping, and what it was before, the latest first; none where the mapping is at fault."""
        known, wrong = dict[str, Node](), False
        for key, below in node.items():
            if key not in READING_KEYS:
                said, write = f"{shown(key)} stands beside the {VALUE} of one reading", nearest(key, READING_KEYS)
                self.fail(key.place, path, Code.UNKNOWN_KEY, f"{said}, which has {listed(READING_KEYS)}", write or "")
            elif key in SaidOfOne._fields and (key in ONE_OR_MORE or isinstance(below, Text)):
                known[str(key)] = below
                continue
            elif key in SaidOfOne._fields or (key == VALUE and not isinstance(below, Text)):
                said = f"{key} is one {'figure' if key == VALUE else 'text'}"
                self.fail(below.place, path, Code.WRONG_SHAPE, said, "repeats: [...]" if key == VALUE else "")
            else:
                continue
            wrong = True
        if VALUE in node and REPEATS in node:
            said = f"{VALUE} and {REPEATS} both give the figure; keep one"
            self.fail(node[Text(REPEATS)].place, path, Code.KEYS_DISAGREE, said)
            return ()
        earlier = self.before(node.get(Text(WAS)), path)
        if wrong:
            return ()
        own, figure = SaidOfOne(**known), node.get(Text(VALUE))  # type: ignore[arg-type]  # texts, as was looked
        if isinstance(figure, Text):
            return FigureAsRead((figure,), figure.place, False, own, node), *earlier
        repeats = node[Text(REPEATS)]
        texts = self.repeated(repeats, path)
        return (FigureAsRead(texts, repeats.place, True, own, node), *earlier) if texts else ()

    def before(self, node: Node | None, path: Path) -> tuple[FigureAsRead, ...]:
        """What a figure was before it: another one, which may be a mapping of the same kind."""
        if node is None or (isinstance(node, Text) and is_open(node)):
            return ()
        if isinstance(node, Text):
            return (FigureAsRead((node,), node.place),)
        if one_reading(node):
            return self.figures(node, path)
        self.fail(node.place, path, Code.WRONG_SHAPE, f"{WAS} is the one figure that stood here before", "was: 64.12")
        return ()

    def repeated(self, node: Node, path: Path) -> tuple[Text, ...]:
        texts = [text for text in node if isinstance(text, Text)] if isinstance(node, Items) else []
        if not isinstance(node, Items) or not texts or len(texts) != len(node):
            said = "repeats are a list of figures"
            self.fail(node.place, path, Code.WRONG_SHAPE, said, "repeats: [64.1, 64.3, 64.2]")
            return ()
        if several := self.several_of_a_kind(path):
            self.fail(node.place, path, *of_several(several, path[several].labels, "repeats"))
            return ()
        return tuple(texts)

    def several_of_a_kind(self, path: Path) -> str | None:
        """The axis of kinds of which a key speaks of several labels: figures in a list might be of one each."""
        return next((axis for axis in path if axis in self.grid.kinds and len(path[axis].labels) > 1), None)

    def mapping(self, node: Fields, path: Path, others: frozenset[str] | None) -> None:
        free = self.free(path)
        named = [key for key in node if key not in OTHERS or any(key in self.grid.labels[axis] for axis in free)]
        axis, means = self.axis_of(named, free)
        for key, found in zip(named, means, strict=True):
            if axis and found:
                self.visit(node[key], {**path, axis: Chosen(found, str(key))}, others)
            else:
                self.fail(key.place, path, *no_place(key, axis, free, self.grid, len(self.faults)))
        spoken = frozenset(named)
        rest = [key for key in node if key not in spoken]
        for key in rest[1:]:
            said = f"{shown(key)} and {shown(rest[0])} both speak of what is not named"
            self.fail(key.place, path, Code.DEFINED_TWICE, said)
        for key in rest[:1]:
            self.visit(node[key], path, frozenset(path))

    def axis_of(self, keys: Sequence[Text], free: Sequence[str]) -> tuple[str | None, Sequence[tuple[str, ...]]]:
        """The axis that the keys of one mapping name, the one with most of them, the first declared of equals; and the
        labels of it that each speaks of."""
        most, axis, means = 0, None, list[tuple[str, ...]]([()] * len(keys))
        for each in free if keys else ():
            found = [self.grid.picked(key, each) for key in keys]
            if (known := sum(map(bool, found))) > most:
                most, axis, means = known, each, found
            if known == len(keys):
                break
        return axis, means

    def sequence(self, node: Items, path: Path, others: frozenset[str] | None) -> None:
        if several := self.several_of_a_kind(path):
            return self.fail(node.place, path, *of_several(several, path[several].labels, "a list"))
        free = [axis for axis in self.free(path) if self.grid.many(axis)]
        if others is not None:
            free = [axis for axis in free if axis in self.grid.listed or axis not in self.grid.at]
        named = {*self.grid.at, *self.grid.kinds}
        unlisted = [axis for axis in free if axis in named and axis not in self.grid.listed]
        if unlisted:
            return self.fail(node.place, path, *unlisted_axis(unlisted[0], self.grid))
        flat = all(isinstance(item, Text) or one_reading(item) for item in node)
        over = free if flat else free[:1]
        order = list(product(*([(axis, Chosen((label,), label)) for label in self.grid.labels[axis]] for axis in over)))
        if len(node) != len(order):
            said = self.one_of_a_kind(len(node), path) if len(order) == 1 else None
            words = [[each.word for _, each in chosen] for chosen in order]
            return self.fail(node.place, path, *(said or wrong_length(len(node), words, over, self.grid)))
        for item, chosen in zip(node, order, strict=True):
            self.visit(item, {**path, **dict(chosen)}, others)
        return None

    def one_of_a_kind(self, given: int, path: Path) -> tuple[Code, str, str] | None:
        """What to say of several figures under the one label of a kind; None under any other."""
        said = [(axis, path[axis].labels[0]) for axis in path if axis in self.grid.kinds]
        return next((one_of_a_kind(given, label, self.grid.kinds[axis]) for axis, label in said), None)

    def leaf(
        self, found: FigureAsRead, path: Path, others: frozenset[str] | None, earlier: tuple[FigureAsRead, ...] = ()
    ) -> None:
        texts, place, repeated, own, whole = found
        grid, empty = self.grid, all(is_open(text) for text in texts)
        missing = [axis for axis in grid.at if axis not in path and grid.many(axis)]
        if empty and missing:
            return None
        if missing and others is None and grid.one_for_all and not path:
            self.found.append(
                Statement(texts, repeated, (((), None),), next(self.numbers), self.subject(path), own, whole, earlier)
            )
            return None
        if missing and (others is None or not all(grid.labels[axis] for axis in missing)):
            return self.fail(place, path, *unnamed(missing[0], grid, texts[0], others is not None))
        spots = self.spots(path, others)
        fresh = [spot for spot in spots if self.standing(spot) is None]
        if len(fresh) < len(spots) and others is None:
            first = next(before for spot in spots if (before := self.standing(spot)))
            said = f"this place has a figure already, on line {first.line}; keep one of the two"
            return self.fail(place, path, Code.DEFINED_TWICE, said)
        for station, position in fresh:
            self.taken.setdefault(station, {})[position] = place
        if fresh:
            standing = self.empty if empty else self.found
            number = 0 if empty else next(self.numbers)
            standing.append(Statement(texts, repeated, tuple(fresh), number, self.subject(path), own, whole, earlier))
        return None

    def spots(self, path: Path, others: frozenset[str] | None) -> list[Spot]:
        grid = self.grid
        stations = self.along(grid.at, path)
        inside = others is not None and all(axis in others or not grid.many(axis) for axis in grid.at)
        if self.wide and not inside and not any(axis in path for axis in self.wide):
            return [(station, None) for station in stations]
        return list(product(stations, self.along(grid.positions, path)))

    def along(self, axes: Sequence[str], path: Path) -> Iterator[tuple[str, ...]]:
        """The places on some axes that a path leads to: all of them along an axis of which it says nothing."""
        return product(*[path[axis].labels if axis in path else self.grid.labels[axis] for axis in axes])

    def standing(self, spot: Spot) -> Place | None:
        """Where a figure that already stands for this place was written."""
        station, position = spot
        there = self.taken.get(station, {})
        if position is None:
            return next(iter(there.values()), None)
        return there.get(position) or there.get(None)


def one_reading(node: Node) -> TypeGuard[Fields]:
    """Whether a node is one reading, written as a mapping."""
    return isinstance(node, Fields) and (VALUE in node or REPEATS in node)
