"""What formulas are evaluated against: readings, facts, figures of a specification, and a trace of what was used."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from copy import copy
from decimal import Decimal
from functools import cached_property
from itertools import product
from typing import TypeVar

from specrules.evaluate import (
    UNKNOWN,
    Cell,
    Labels,
    Layout,
    NotEvaluable,
    Places,
    Point,
    Value,
    evaluate,
    exactly,
    holds,
)
from specrules.evaluate.error_sources import Part, error_sources_of
from specrules.evaluate.gaugings import Gauging, gaugings_of
from specrules.evaluate.places import Digits
from specrules.evaluate.speaking import Speaking, ValidityQuestions
from specrules.evaluate.temperature import Temperatures
from specrules.evaluate.trace import Place, Row, Trace, WayValue
from specrules.evaluate.worlds import THIS_WORLD, Compared, Unstated, World, compared_at
from specrules.formula import Station
from specrules.formula import operators as op
from specrules.pack import Figure, Measurand, Specification, Validity, Way
from specrules.quantity import Exact
from specrules.sheet import FactValue, PartStates, Reading, Sheet
from specrules.vocabulary import Reason, Why

Asked = TypeVar("Asked")

NO_STATEMENTS: frozenset[int] = frozenset()


class Binding:
    """The readings and facts of one sheet, numbered once; environments that share them differ in what is supposed.

    An environment fills its memory as it works; nothing of that leaves the inspection that made it.
    """

    def __init__(self, sheet: Sheet, spec: Specification, simple: bool) -> None:
        self.sheet = sheet
        self.spec = spec
        self.parts = PartStates(sheet, spec)
        self.functions, self.columns = spec.scope.functions, spec.scope.columns
        self.layout = Layout(sheet.labels, sheet.groups, {axis.name: axis.of for axis in spec.axes.values()})
        self.digits = Digits(sheet.readings)
        self.fact_values: dict[Place, Value] = {}
        self.fact_words: dict[Place, str] = {}
        self.fact_places: dict[Place, FactValue] = {}
        self._read(sheet.readings, gaugings_of(sheet, spec), simple)
        for values in sheet.facts.values():
            for fact in values:
                self._state(fact)
        self._enter_all()

    def supposing(self, readings: Sequence[Reading], gaugings: Sequence[Gauging]) -> Binding:
        """The same sheet if only these readings had been taken, and in these ways."""
        other = copy(self)
        other.fact_values = dict(self.fact_values)
        other._read(tuple(readings), gaugings, self.error_sources.simple)
        for fact in self.fact_places.values():
            if fact.U is not None:  # its doubt is a source of error, and those are numbered anew
                other._state(fact)
        other._enter_all()
        return other

    def _read(self, readings: tuple[Reading, ...], gaugings: Sequence[Gauging], simple: bool) -> None:
        self.readings, self.gaugings = readings, gaugings
        self.error_sources = error_sources_of(readings, gaugings, simple)
        self.cells: dict[Place, Value] = {}
        self.measured: set[Place] = set()  # (measurand, station labels) with any reading
        self.rows: dict[tuple[str, Places], Row] = {}
        self.temperatures = Temperatures(self)
        self.questions = ValidityQuestions()

    def _enter_all(self) -> None:
        for number, reading in enumerate(self.readings):
            self._enter(number, reading)

    def _enter(self, number: int, reading: Reading) -> None:
        name, station, position = reading.name, reading.station, reading.position
        measurand = self.spec.measurands[name]
        self.measured.add((name, station))
        bare = position is None and bool(measurand.positions)
        value = _value_of(reading, self.error_sources.slopes[number], told_once=reading.group or bare)
        value = self.temperatures.at_reference(value, reading)
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
        if fact.U is None or self.error_sources.simple:
            return {}
        cause = Reason(Why.STATED, (fact.name,), fact.station)
        return {self.error_sources.add(Part(cause, variance=float(fact.U) ** 2 / 4)): 1.0}

    def assumed(self, name: str, figure: Exact) -> Value:
        """A figure that a pack assumes; one with an uncertainty is one cause of error wherever it is used."""
        if figure.U is None or self.error_sources.simple:
            return exactly(figure.value)
        variance = float(figure.U) ** 2 / 4
        number = self.error_sources.common(("assumed", name), Why.ASSUMPTION, (name,), variance=variance)
        return exactly(figure.value, {number: 1.0})

    def environment(self, world: World = THIS_WORLD, exchanged: bool = False) -> SheetEnvironment:
        """An environment in whose world some unstated facts are supposed to have a value."""
        return SheetEnvironment(self, world, exchanged)


class SheetEnvironment:
    """One way of looking at a sheet: see the protocol of the formula room. `assumes`: what packs assume stands."""

    def __init__(self, of: Binding, world: World, exchanged: bool, assumes: bool = True) -> None:
        self.binding = of
        self.assumes = assumes
        self.world = world
        self.layout = of.layout
        self.functions, self.columns = of.functions, of.columns
        self.u = of.error_sources
        self.exchanged = exchanged
        self.trace = Trace()
        self.so_far: Mapping[str, Value | None] = {}
        self._figures: dict[Place, WayValue] = {}
        self._ways: dict[tuple[str, Labels, str], WayValue] = {}
        self._measurands: Mapping[str, Measurand] = of.spec.measurands

    def aside(self, ask: Callable[[], Asked]) -> tuple[Asked, Trace]:
        """An answer and what it looked at, which is left out of what the environment is traced for."""
        outer, self.trace = self.trace, Trace()
        try:
            return ask(), self.trace
        finally:
            self.trace = outer

    @cached_property
    def speaking(self) -> Speaking:
        """What figures hold for is never taken from what a pack assumes."""
        return Speaking(SheetEnvironment(self.binding, self.world, self.exchanged, assumes=False))

    def speaks(self, validity: Validity, station: Station) -> bool | None:
        """Whether figures hold at a station; None where that is not known."""
        answer, trace = self.speaking.speaks(validity, station)
        self.trace.take(trace)
        return answer

    def choice(self, name: str, labels: Labels) -> str | None:
        said = self.world.labels.get(name)
        if said is not None:
            return said
        words = self.binding.fact_words
        for place in ((name, labels), (name, ())):
            if place in words:
                self.trace.facts[place] = None
                return words[place]
        implied = self.binding.spec.sets.get(name)
        if implied is not None:
            return implied
        assumed = self.binding.spec.facts[name].assumed
        if assumed and self.assumes:
            self.trace.assumed[Reason(Why.ASSUMED, (name,), (), assumed)] = None
            return assumed
        if self.binding.spec.facts[name].kind == "text":  # nobody can say what it might be
            self.trace.missing[(name, ())] = None
        else:
            self.trace.questions[Unstated((name,), choice=name)] = None
        return None

    def undecided(self, comparison: op.Comparison, station: Station) -> bool | None:
        compared: Compared = compared_at(comparison, station)
        answer = self.world.answer(comparison, compared)
        if answer is None:
            facts = tuple(name for name in comparison.facts if not self._stated(name)) or comparison.facts
            self.trace.questions[Unstated(facts, compared=compared, threshold=comparison.threshold)] = None
        return answer

    def _stated(self, name: str) -> bool:
        spec = self.binding.spec
        assumed = self.assumes and bool(spec.facts[name].assumed)
        return bool(self.binding.sheet.facts.get(name)) or name in spec.sets or assumed

    def look(self, name: str, labels: Labels) -> Value | None:
        measurand = self._measurands.get(name)
        if measurand is not None:
            return self._reading(measurand, labels)
        if name in self.binding.spec.figures:
            worked = self.figure(name, labels)
            self.trace.take(worked.trace)
            return worked.value
        if name in self.so_far:
            return self.so_far[name]
        return self._fact(name, labels)

    def _reading(self, measurand: Measurand, labels: Labels) -> Value | None:
        trace = self.trace
        trace.asked[(measurand.name, labels)] = None
        cell = self.binding.cells.get((measurand.name, labels))
        if cell is not None:
            end = cell.low or cell.high
            if end is not None:
                trace.found[next(iter(end.slopes))] = None  # a reading's own cause comes first
            return cell
        station = (measurand.name, labels[: len(measurand.at)])
        if station in self.binding.measured:
            return None
        trace.missing[station] = None
        return UNKNOWN

    def _fact(self, name: str, labels: Labels) -> Value | None:
        for place in ((name, labels), (name, ())):
            value = self.binding.fact_values.get(place)
            if value is not None:
                self.trace.facts[place] = None
                return value
        fact = self.binding.spec.facts[name]
        implied = self.binding.spec.sets.get(name)
        if implied:
            return exactly(Decimal(implied))
        if fact.assumed_figure is not None and self.assumes:
            self.trace.assumed[Reason(Why.ASSUMED, (name,), (), fact.assumed)] = None
            return self.binding.assumed(fact.name, fact.assumed_figure)
        self.trace.missing[(name, ())] = None
        return UNKNOWN

    def row(self, name: str, places: Places) -> Sequence[Cell]:
        """Values at several places; a figure's by the first way that all of them have, if there is one."""
        measurand = self._measurands.get(name)
        if measurand is not None:
            known = self.binding.rows.get((name, places)) or self._readings(measurand, places)
            self.trace.asked.update(known.asked)
            self.trace.found.update(known.found)
            if known.missing:
                self.trace.missing.update(known.missing)
            return known.cells
        figure = self.binding.spec.figures.get(name)
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

    def _readings(self, measurand: Measurand, places: Places) -> Row:
        """A row, worked out once for all rules that read it."""
        binding, name, along = self.binding, measurand.name, len(measurand.at)
        cells: list[Cell] = []
        found: dict[int, None] = {}
        missing: dict[Place, None] = {}
        for labels in places:
            cell = binding.cells.get((name, labels))
            if cell is not None:
                end = cell.low or cell.high
                if end is not None:
                    found[next(iter(end.slopes))] = None  # a reading's own cause comes first
            elif (name, labels[:along]) not in binding.measured:
                missing[name, labels[:along]] = None
                cell = UNKNOWN
            cells.append(cell)
        row = binding.rows[name, places] = Row(cells, {(name, labels): None for labels in places}, found, missing)
        return row

    def figure(self, name: str, labels: Labels) -> WayValue:
        """A figure by the first way that has all its readings; else the first that has any; else the first."""
        known = self._figures.get((name, labels))
        if known is not None:
            return known
        figure = self.binding.spec.figures[name]
        chosen: WayValue | None = None
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
            chosen = WayValue(figure.ways[0], UNKNOWN, Trace())
        self._figures[(name, labels)] = chosen
        return chosen

    def way(self, figure: Figure, way: Way, labels: Labels) -> WayValue | None:
        """A figure by one way; None where that way does not apply there."""
        key = (figure.name, labels, way.name)
        known = self._ways.get(key)
        if known is not None:
            return known
        station = dict(zip(figure.each, labels, strict=True))
        outer, self.trace = self.trace, Trace()
        try:
            if holds(way.when, self, station) is False:
                return None
            try:
                value = evaluate(way.formula, self, station)
            except NotEvaluable as trouble:
                value = UNKNOWN
                self.trace.troubles[trouble.within(Why.WITHOUT_VALUE)] = None
            self.trace.ways[(figure.name, labels)] = way
            worked = WayValue(way, value, self.trace)
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
