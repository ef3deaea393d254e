"""What formulas are evaluated against: a sheet's readings and facts, a stack's figures, a trace of what was used."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from decimal import Decimal
from itertools import product
from typing import NamedTuple, TypeVar

from specrules.formula import UNKNOWN, NotEvaluable, Point, Station, Value, exactly
from specrules.inspection.causes import Part, causes_of
from specrules.inspection.digits import Digits
from specrules.inspection.gauging import gaugings_of
from specrules.inspection.temperature import at_reference
from specrules.pack import Figure, Measurand, Stack, Way
from specrules.quantity import Exact
from specrules.sheet import FactValue, Reading, Sheet

Labels = tuple[str, ...]
Place = tuple[str, Labels]
"""A name and its labels on all of the name's axes."""

Asked = TypeVar("Asked")

NO_STATEMENTS: frozenset[int] = frozenset()


class Trace:
    """What an evaluation looked at. Filled while it runs, then only read."""

    __slots__ = ("asked", "assumed", "by_limits", "facts", "found", "missing", "troubles", "unstated", "ways")

    def __init__(self) -> None:
        self.asked: dict[Place, None] = {}  # each once, however often a formula names it
        self.found: dict[int, None] = {}  # input numbers, in the order met
        self.by_limits: dict[int, None] = {}  # those that limits looked at
        self.facts: dict[Place, None] = {}
        self.missing: dict[Place, None] = {}  # stations without any reading, facts without a value
        self.unstated: dict[str, None] = {}  # facts of choice that mattered
        self.assumed: dict[str, None] = {}
        self.ways: dict[Place, Way] = {}
        self.troubles: dict[str, None] = {}

    def numbers(self) -> Collection[int]:
        """The inputs behind the value, then those that only limits looked at."""
        return {**self.found, **self.by_limits} if self.by_limits else self.found

    def take(self, other: Trace) -> None:
        """Add what another evaluation looked at."""
        self.asked.update(other.asked)
        self.found.update(other.found)
        self.facts.update(other.facts)
        self.missing.update(other.missing)
        self.unstated.update(other.unstated)
        self.assumed.update(other.assumed)
        self.ways.update(other.ways)
        self.troubles.update(other.troubles)


class Worked(NamedTuple):
    """A figure at a place by one way: its value and what that looked at."""

    way: Way
    value: Value | None
    trace: Trace

    @property
    def complete(self) -> bool:
        """All that this way needs is there."""
        return self.value is not None and self.value.whole

    @property
    def begun(self) -> bool:
        """Something that this way needs was measured."""
        return bool(self.trace.found)


class Benches:
    """The readings and facts of one sheet, numbered once; benches that share them differ in what is supposed.

    A bench fills its memory as it works; nothing of that leaves the inspection that made it.
    """

    def __init__(self, sheet: Sheet, stack: Stack, simple: bool) -> None:
        self.sheet = sheet
        self.stack = stack
        self.readings: tuple[Reading, ...] = sheet.readings
        self.gaugings = gaugings_of(sheet, stack)
        self.digits = Digits(sheet.readings)
        self.causes = causes_of(sheet, self.gaugings, simple)
        self.cells: dict[Place, Value] = {}
        self.measured: set[Place] = set()  # (measurand, station labels) with any reading
        self.fact_values: dict[Place, Value] = {}
        self.fact_words: dict[Place, str] = {}
        self.fact_places: dict[Place, FactValue] = {}
        for values in sheet.facts.values():
            for fact in values:
                self._state(fact)
        self.members = _members(sheet)
        self.groupings = {axis: stack.scope.grouped_by(axis) for axis in stack.axes}
        for number, reading in enumerate(sheet.readings):
            self._enter(number, reading)

    def _enter(self, number: int, reading: Reading) -> None:
        name, station, position = reading.name, reading.station, reading.position
        measurand = self.stack.measurands[name]
        self.measured.add((name, station))
        bare = position is None and bool(measurand.positions)
        value = _value_of(reading, self.causes.slopes[number], told_once=reading.group or bare)
        if reading.part_at is not None and measurand.expands is not None:
            value = at_reference(value, reading, measurand, self)
        if not bare:
            self.cells[(name, station + (position or ()))] = value
            return
        for labels in product(*(self.sheet.labels[axis] for axis in measurand.positions)):
            self.cells[(name, station + labels)] = value

    def _state(self, fact: FactValue) -> None:
        place = (fact.name, fact.station)
        self.fact_places[place] = fact
        if isinstance(fact.value, Decimal | int):
            self.fact_values[place] = exactly(Decimal(fact.value), self._doubt_of(fact))
        elif isinstance(fact.value, str):
            self.fact_words[place] = fact.value

    def _doubt_of(self, fact: FactValue) -> dict[int, float]:
        """A fact that is stated with its uncertainty is a cause of error of its own."""
        if fact.U is None or self.causes.simple:
            return {}
        what = " ".join((fact.name.replace("_", " "), *fact.station, "as stated"))
        return {self.causes.add(Part(what, variance=float(fact.U) ** 2 / 4)): 1.0}

    def assumed(self, name: str, figure: Exact) -> Value:
        """A figure that a pack assumes; one with an uncertainty is one cause of error wherever it is used."""
        if figure.U is None or self.causes.simple:
            return exactly(figure.value)
        what = f"{name.replace('_', ' ')} as assumed"
        return exactly(figure.value, {self.causes.common(("assumed", name), what, float(figure.U) ** 2 / 4): 1.0})

    def bench(self, supposed: Mapping[str, str] | None = None, exchanged: bool = False) -> Bench:
        """A bench on which some unstated facts are supposed to have a value."""
        return Bench(self, supposed or {}, exchanged)


class Bench:
    """One way of looking at a sheet: see the protocol of the formula room."""

    def __init__(self, of: Benches, supposed: Mapping[str, str], exchanged: bool) -> None:
        self.of = of
        self.supposed = supposed
        self.u = of.causes
        self.exchanged = exchanged
        self.trace = Trace()
        self.so_far: Mapping[str, Value | None] = {}
        self._figures: dict[Place, Worked] = {}
        self._ways: dict[tuple[str, Labels, str], Worked] = {}
        self._measurands: Mapping[str, Measurand] = of.stack.measurands

    def aside(self, ask: Callable[[], Asked]) -> tuple[Asked, Trace]:
        """An answer and what it looked at, which is left out of what the bench is traced for."""
        outer, self.trace = self.trace, Trace()
        try:
            return ask(), self.trace
        finally:
            self.trace = outer

    def labels(self, axis: str, station: Station) -> Labels:
        if groupings := self.of.groupings.get(axis):
            for bound, label in station.items():
                if bound in groupings:
                    return self.of.members.get((bound, label), ())
        return self.of.sheet.labels.get(axis, ())

    def group(self, axis: str, label: str, groups: str) -> str:  # noqa: ARG002 - the protocol names the finer axis
        return self.of.sheet.groups.get(groups, {}).get(label, "")

    def choice(self, name: str, labels: Labels) -> str | None:
        said = self.supposed.get(name)
        if said is not None:
            return said
        words = self.of.fact_words
        for place in ((name, labels), (name, ())):
            if place in words:
                self.trace.facts[place] = None
                return words[place]
        implied = self.of.stack.sets.get(name)
        if implied is not None:
            return implied
        assumed = self.of.stack.facts[name].assumed
        if assumed:
            self.trace.assumed[f"{name}: {assumed}"] = None
            return assumed
        self.trace.unstated[name] = None
        return None

    def look(self, name: str, labels: Labels) -> Value | None:
        measurand = self._measurands.get(name)
        if measurand is not None:
            return self._reading(measurand, labels)
        if name in self.of.stack.figures:
            worked = self.figure(name, labels)
            self.trace.take(worked.trace)
            return worked.value
        if name in self.so_far:
            return self.so_far[name]
        return self._fact(name, labels)

    def _reading(self, measurand: Measurand, labels: Labels) -> Value | None:
        trace = self.trace
        trace.asked[(measurand.name, labels)] = None
        cell = self.of.cells.get((measurand.name, labels))
        if cell is not None:
            end = cell.low or cell.high
            if end is not None:
                trace.found[next(iter(end.slopes))] = None  # a reading's own cause comes first
            return cell
        station = (measurand.name, labels[: len(measurand.at)])
        if station in self.of.measured:
            return None
        trace.missing[station] = None
        return UNKNOWN

    def _fact(self, name: str, labels: Labels) -> Value | None:
        for place in ((name, labels), (name, ())):
            value = self.of.fact_values.get(place)
            if value is not None:
                self.trace.facts[place] = None
                return value
        fact = self.of.stack.facts[name]
        implied = self.of.stack.sets.get(name)
        if implied:
            return exactly(Decimal(implied))
        if fact.assumed_figure is not None:
            self.trace.assumed[f"{name}: {fact.assumed}"] = None
            return self.of.assumed(fact.name, fact.assumed_figure)
        self.trace.missing[(name, ())] = None
        return UNKNOWN

    def row(self, name: str, places: Sequence[Labels]) -> Sequence[Value | None]:
        """Values at several places; a figure's by the first way that all of them have, if there is one."""
        measurand = self._measurands.get(name)
        if measurand is not None:
            return [self._reading(measurand, labels) for labels in places]
        figure = self.of.stack.figures.get(name)
        if figure is None or len(figure.ways) == 1:
            return [self.look(name, labels) for labels in places]
        for way in figure.ways:
            row = [self.way(figure, way, labels) for labels in places]
            if all(worked is not None and worked.complete for worked in row):
                break
        else:
            row = [self.figure(name, labels) for labels in places]
        for worked in row:
            assert worked is not None
            self.trace.take(worked.trace)
        return [worked.value for worked in row if worked is not None]

    def figure(self, name: str, labels: Labels) -> Worked:
        """A figure by the first way that has all its readings; else the first that has any; else the first."""
        known = self._figures.get((name, labels))
        if known is not None:
            return known
        figure = self.of.stack.figures[name]
        chosen: Worked | None = None
        for way in figure.ways:
            worked = self.way(figure, way, labels)
            if worked is None:
                continue
            if worked.complete:
                chosen = worked
                break
            if chosen is None or (worked.begun and not chosen.begun):
                chosen = worked
        if chosen is None:
            chosen = Worked(figure.ways[0], UNKNOWN, Trace())
        self._figures[(name, labels)] = chosen
        return chosen

    def way(self, figure: Figure, way: Way, labels: Labels) -> Worked | None:
        """A figure by one way; None where that way does not apply there."""
        key = (figure.name, labels, way.name)
        known = self._ways.get(key)
        if known is not None:
            return known
        station = dict(zip(figure.each, labels, strict=True))
        outer, self.trace = self.trace, Trace()
        try:
            if way.when is not None and way.when.answer(self, station) is False:
                return None
            try:
                value = way.formula.evaluate(self, station)
            except NotEvaluable as trouble:
                value = UNKNOWN
                self.trace.troubles[trouble.said] = None
            self.trace.ways[(figure.name, labels)] = way
            worked = Worked(way, value, self.trace)
        finally:
            self.trace = outer
        self._ways[key] = worked
        return worked


def _value_of(reading: Reading, slopes: Mapping[int, float], told_once: bool) -> Value:
    shared = frozenset((reading.statement,)) if told_once else NO_STATEMENTS
    if reading.value is not None:
        return exactly(reading.value, slopes, shared)
    low = None if reading.low is None else Point(reading.low, slopes)
    high = None if reading.high is None else Point(reading.high, slopes)
    return Value(low, high, True, shared)


def _members(sheet: Sheet) -> Mapping[tuple[str, str], Labels]:
    """(group axis, its label) -> the members, in the sheet's order of labels."""
    members: dict[tuple[str, str], list[str]] = {}
    for axis, groups in sheet.groups.items():
        for member, label in groups.items():
            members.setdefault((axis, label), []).append(member)
    return {key: tuple(labels) for key, labels in members.items()}
