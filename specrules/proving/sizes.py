"""Plausible sizes in place of readings, so that formulas can be tried before anything is measured."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import NamedTuple

from specrules.evaluate import (
    UNKNOWN,
    Errors,
    Labels,
    Layout,
    NotEvaluable,
    StatedErrors,
    Value,
    evaluate,
    exactly,
    holds,
)
from specrules.evaluate.speaking import holds_there
from specrules.formula import Station
from specrules.formula.axis_kinds import kind_of
from specrules.formula.operators import Comparison
from specrules.pack import Figure, HoldsFor, Specification, Validity
from specrules.proving.names import most_trusted
from specrules.quantity import Bracket
from specrules.sheet import Sheet
from specrules.vocabulary import Reason

STEPS = 4
"""Steps from one end of a usual range to the other."""

Sizes = Mapping[str, tuple[Decimal, ...]]
Point = Mapping[str, Decimal]
"""One size for each name."""


class Setting(NamedTuple):
    """One setting of facts and labels. `told`: the names that could be otherwise, for only these are worth saying."""

    chosen: Mapping[str, str]
    station: Station
    told: frozenset[str]

    def __str__(self) -> str:
        said = {**self.chosen, **self.station}
        return ", ".join(f"{name} {value}" for name, value in said.items() if name in self.told)


def between(usual: Bracket | None) -> tuple[Decimal, ...]:
    """The ends of a usual range and some sizes between them, in base units; none where an end is open."""
    if usual is None or usual.low is None or usual.high is None:
        return ()
    step = (usual.high - usual.low) / STEPS
    return tuple(dict.fromkeys(usual.low + step * number for number in range(STEPS + 1)))


def stated_sizes(spec: Specification, sheets: Iterable[Sheet]) -> Sizes:
    """The sizes to try for each name: a measurand's usual ones; else, and for facts, those that examples have."""
    found: dict[str, dict[Decimal, None]] = {}
    for sheet in sheets:
        for facts in sheet.facts.values():
            for fact in facts:
                if isinstance(fact.value, Decimal | int):
                    found.setdefault(fact.name, {})[Decimal(fact.value)] = None
        for reading in sheet.readings:
            read = spec.measurands.get(reading.name)  # none: what a compact example tries
            if reading.value is not None and read is not None and read.usual is None:
                found.setdefault(reading.name, {})[reading.value] = None
    sizes = {name: tuple(sorted(values)) for name, values in found.items()}
    return {**sizes, **{name: usual for name, one in spec.measurands.items() if (usual := between(one.usual))}}


class Trial:
    """What formulas are evaluated against when they are tried: the same size wherever a name is read."""

    exchanged = False

    def __init__(self, spec: Specification, sizes: Point, setting: Setting, layout: Layout | None = None) -> None:
        self.spec = spec
        self.layout = layout or layout_at(spec, setting.station)
        self.sizes = sizes
        self.setting = setting
        self.functions, self.columns = spec.scope.functions, spec.scope.columns
        self.so_far: Mapping[str, Value | None] = {}
        self._figures: dict[tuple[str, Labels], Value | None] = {}
        self._held: dict[tuple[object, ...], bool | None] = {}
        self._sized: dict[tuple[object, ...], Sequence[HoldsFor] | None] = {}  # left to ask; None: labels fail already

    def at(self, sizes: Point) -> Trial:
        """The same setting at other sizes."""
        other = Trial(self.spec, sizes, self.setting, self.layout)
        other._sized = self._sized
        return other

    def look(self, name: str, labels: Labels) -> Value | None:
        if name in self.so_far:
            return self.so_far[name]
        figure = self.spec.figures.get(name)
        if figure is None or name in self.sizes:
            return exactly(self.sizes[name]) if name in self.sizes else UNKNOWN
        if (name, labels) not in self._figures:  # it may be named by every other figure, and they by others
            self._figures[name, labels] = self._figure(figure, labels)
        return self._figures[name, labels]

    def _figure(self, figure: Figure, labels: Labels) -> Value | None:
        station = dict(zip(figure.each, labels, strict=True))
        for way in most_trusted(figure):
            if holds(way.when, self, station) is not False:
                try:
                    return evaluate(way.formula, self, station)
                except NotEvaluable:
                    return UNKNOWN
        return UNKNOWN

    def row(self, name: str, places: Sequence[Labels]) -> Sequence[Value | None]:
        return [self.look(name, labels) for labels in places]

    def choice(self, name: str, labels: Labels) -> str | None:  # noqa: ARG002 - the protocol's
        return self.setting.chosen.get(name)

    def undecided(self, comparison: Comparison, station: Station) -> bool | None:  # noqa: ARG002 - the protocol's
        return None

    def speaks(self, validity: Validity, station: Station) -> bool:
        """Whether figures hold there, or nothing says that they do not."""
        asked = id(validity), *station.values()
        if asked not in self._sized:
            of_labels = all(holds_there(key, self, station) is not False for key in validity.keys if key.labels)
            self._sized[asked] = [key for key in validity.keys if not key.labels] if of_labels else None
        sized = self._sized[asked]
        return sized is not None and all(self._holds(key, station) is not False for key in sized)

    def _holds(self, key: HoldsFor, station: Station) -> bool | None:
        asked = id(key), *station.values()
        if asked not in self._held:  # most figures of a rule hold by the same
            self._held[asked] = holds_there(key, self, station)
        return self._held[asked]

    def failing(self, validity: Validity, station: Station) -> tuple[Reason, ...]:  # noqa: ARG002 - the protocol's
        return ()

    @property
    def speaking(self) -> Trial:
        return self

    @property
    def u(self) -> Errors:
        return StatedErrors()


def layout_at(spec: Specification, station: Station) -> Layout:
    """The station's own labels, else those that an axis names, else one."""
    axes = spec.axes.values()
    labels = {
        axis.name: (station[axis.name],) if axis.name in station else axis.names or (axis.first,) for axis in axes
    }
    groups = {axis.name: dict.fromkeys(labels[axis.of], labels[axis.name][0]) for axis in axes if axis.groups}
    groups |= {
        axis.name: {label: kind_of(label, axis.names)[0] for label in labels[axis.of]}
        for axis in axes
        if axis.of and axis.names
    }
    return Layout(labels, groups, {axis.name: axis.of for axis in axes})
