"""The stations of one sheet: the labels of its axes, the groups among them, and where operands meet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import product

from specrules.formula.axis_kinds import kind_axis, whole, within
from specrules.formula.operators import Axes, Finder, Hanging, Station

Labels = tuple[str, ...]


class Places(tuple[Labels, ...]):
    """Labels of a slot at several places; one object for the same places, so that it can be looked up by identity."""

    __slots__ = ()
    __hash__ = object.__hash__

    def __eq__(self, other: object) -> bool:
        return self is other


class Layout:
    """Labels by axis, and group axis -> member -> group. `finer`: group axis -> the axis whose labels it groups.
    The part of an axis within a kind lies like an axis of its own.

    Keys, places and projections are worked out once for all stations at which they are the same.
    """

    def __init__(
        self, labels: Mapping[str, Labels], groups: Mapping[str, Mapping[str, str]], finer: Mapping[str, str]
    ) -> None:
        self._labels = dict(labels)
        self._groups = groups
        self._finer = finer
        self._coarser: dict[str, list[str]] = {}
        for axis, of in finer.items():
            if of:
                self._coarser.setdefault(of, []).append(axis)
        self._members: dict[tuple[str, str], list[str]] = {}
        for axis, members in groups.items():
            for member, label in members.items():
                self._members.setdefault((axis, label), []).append(member)
        self._of_kinds()
        self._keys: dict[tuple[object, ...], tuple[Labels, ...]] = {}
        self._places: dict[tuple[object, ...], Places] = {}
        self._projections: dict[tuple[object, ...], Sequence[int | None]] = {}

    def _of_kinds(self) -> None:
        """Know the part of an axis within each kind; groups narrow it as they do the whole, but for the kinds."""
        for (group, kind), members in self._members.items():
            of = self._finer.get(group, "")
            if group == kind_axis(of):
                self._labels[within(of, kind)] = tuple(members)
                if others := [other for other in self._coarser[of] if other != group]:
                    self._coarser[within(of, kind)] = others

    def labels(self, axis: str, station: Station) -> Labels:
        """The axis's labels that belong to this station: a group's members where the station is a group."""
        coarser = self._coarser.get(axis)
        if coarser is not None:
            for bound, label in station.items():
                if bound in coarser:
                    here = self._labels.get(axis, ())
                    return tuple([member for member in self._members.get((bound, label), ()) if member in here])
        return self._labels.get(axis, ())

    def group(self, label: str, axis: str) -> str:
        """The group on `axis` that holds a label of the axis that it groups; "" where nobody said."""
        return self._groups.get(axis, {}).get(label, "")

    def label(self, finder: Finder, station: Station) -> str:
        """The label that a finder finds at a station; of a bound axis."""
        if not finder.of:
            return finder.label
        label = station[finder.of]
        return label if finder.of == finder.axis else self.group(label, finder.axis)

    def keys(self, axes: Axes, station: Station) -> tuple[Labels, ...]:
        """Every key of the axes at a station, the last axis fastest."""
        known = (axes, *self._narrowing(axes, station))
        keys = self._keys.get(known)
        if keys is None:
            keys = self._keys[known] = tuple(product(*[self.labels(axis, station) for axis in axes]))
        return keys

    def places(self, finders: tuple[Finder, ...], axes: Axes, station: Station) -> Places:
        """The labels on all axes of a slot for every key of its free axes."""
        bound = tuple([station[finder.of] for finder in finders if finder.of])
        known = (finders, bound, *self._narrowing(axes, station))
        places = self._places.get(known)
        if places is None:
            places = self._places[known] = Places(self._filled(finders, axes, station))
        return places

    def projection(self, wide: Axes, narrow: Axes, station: Station) -> Sequence[int | None]:
        """For each key on the wide axes the index of the key on fewer or coarser ones; None where there is none."""
        known = (wide, narrow, *self._narrowing(wide, station), *self._narrowing(narrow, station))
        found = self._projections.get(known)
        if found is None:
            index = {key: number for number, key in enumerate(self.keys(narrow, station))}
            wholes = [whole(axis) for axis in wide]
            steps = [(wide.index(axis) if axis in wide else wholes.index(self._finer[axis]), axis) for axis in narrow]
            found = self._projections[known] = [
                index.get(tuple([key[i] if wide[i] == axis else self.group(key[i], axis) for i, axis in steps]))
                for key in self.keys(wide, station)
            ]
        return found

    def hung_on(self, hanging: Hanging, station: Station) -> tuple[object, ...]:
        """What of a station something hangs on: where this is the same, so is that."""
        bound = [station.get(axis) for axis in hanging.bound]
        return *bound, *(self._narrowing(hanging.narrowed, station) if hanging.narrowed else ())

    def _narrowing(self, axes: Axes, station: Station) -> list[tuple[str, str]]:
        """The station's labels that narrow any of the axes to a group's members."""
        coarser = self._coarser
        if coarser.keys().isdisjoint(axes):
            return []
        return [
            (bound, label) for bound, label in station.items() if any(bound in coarser.get(axis, ()) for axis in axes)
        ]

    def _filled(self, finders: tuple[Finder, ...], axes: Axes, station: Station) -> Iterable[Labels]:
        """Every key of the free axes with the labels of the bound ones in their places."""
        keys = self.keys(axes, station)
        if len(axes) == len(finders):
            return keys
        at = [None if finder.axis in axes else self.label(finder, station) for finder in finders]
        bound = len(at) - len(axes)
        if None not in at[:bound]:  # the bound axes come first, as they do wherever a rule sees its own part
            before = tuple([label for label in at[:bound] if label is not None])
            return [before + key for key in keys]
        return [_mixed(at, key) for key in keys]


def _mixed(at: Sequence[str | None], key: Labels) -> Labels:
    rest = iter(key)
    return tuple([next(rest) if label is None else label for label in at])
