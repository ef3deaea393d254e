"""A sheet's readings and facts in plain decimals: those that nothing is in question about, row by row."""

from __future__ import annotations

import math
from collections.abc import Collection, Hashable, Iterator, Sequence
from decimal import Decimal
from itertools import product

from specrules.formula import (
    Formula,
    NotPlain,
    Plain,
    Plainly,
    ReadingKind,
    Row,
    Station,
    Use,
    plainly,
    within_2u,
)
from specrules.inspection.bench import Bench, Labels
from specrules.pack import Way

Found = tuple[list[Labels], list[Decimal], list[ReadingKind]]
"""What was read at one station: at which positions, what, and of which kind."""


class PlainBench:
    """See the protocol of the formula room. `doubted`: the numbers of readings that something is in question about."""

    def __init__(self, bench: Bench, gauges: Sequence[str], doubted: Collection[int]) -> None:
        self.bench = bench
        self.of = bench.of
        self.shape: list[Hashable] = []
        self.so_far: dict[str, Plain] = {}
        self._found = self._plain_readings(gauges, doubted)
        self._cells: dict[str, dict[Labels, tuple[Decimal, ReadingKind]]] = {}
        self._measured = {name for name, _ in self.of.measured}
        self._rests: dict[tuple[str, ...], tuple[list[Labels], tuple[int, ...]]] = {}
        self._rows: dict[tuple[str, Labels], Row] = {}
        self._figures: dict[tuple[str, Labels], tuple[Plain, list[Hashable]]] = {}
        self._ways: dict[str, Plainly | None] = {}

    def _plain_readings(self, gauges: Sequence[str], doubted: Collection[int]) -> dict[str, dict[Labels, Found]]:
        """Every reading that is one number of its own, by measurand and station, with the kind that it is of."""
        kinds: dict[tuple[Hashable, ...], ReadingKind] = {}
        parts, us, readings = self.of.causes.parts, self.of.causes.us, self.of.readings
        found: dict[str, dict[Labels, Found]] = {name: {} for name in self.of.stack.measurands}
        for (name, labels), (low, high, whole, shared) in self.of.cells.items():
            if low is None or low is not high or not whole or shared:
                continue
            (number, slope), *common = low.slopes.items()
            if slope != 1.0 or number in doubted:
                continue
            part, reading = parts[number], readings[number]
            written = (reading.place_value, reading.unit.symbol, gauges[number])
            made_of = (part.variance, part.half, part.bracket, *common, *written)
            kind = kinds.get(made_of)
            if kind is None:
                u = us[number]
                own = math.sqrt(u**2)  # as selection sums it up in full, to the last bit
                kind = kinds[made_of] = ReadingKind(len(kinds), u, within_2u(own))
            station = reading.station
            here = found[name].get(station)
            if here is None:
                here = found[name][station] = ([], [], [])
            here[0].append(labels[len(station) :])
            here[1].append(low.value)
            here[2].append(kind)
        return found

    def row(self, name: str, labels: Labels, free: tuple[str, ...]) -> Row:
        key = (name, labels)
        row = self._rows.get(key)
        if row is None:
            row = self._rows[key] = self._row(name, labels, free)
        return row

    def _row(self, name: str, labels: Labels, free: tuple[str, ...]) -> Row:
        rests, sizes = self._rests.get(free) or self._along(free)
        here = self._found[name].get(labels)
        values: Sequence[Decimal]
        kinds: Sequence[ReadingKind]
        if here is not None and here[0] == rests:
            _, values, kinds = here
        else:
            cells = self._cells.get(name) or self._by_labels(name)
            try:
                values, kinds = zip(*map(cells.__getitem__, map(labels.__add__, rests)), strict=True)
            except (KeyError, ValueError) as missing:
                raise NotPlain from missing
        kind = kinds[0]
        if kinds.count(kind) < len(kinds):
            raise NotPlain
        return Row(values, sizes, kind)

    def _by_labels(self, name: str) -> dict[Labels, tuple[Decimal, ReadingKind]]:
        """The readings of a measurand one by one, for rows that are not all that was read at one station, in order."""
        cells = self._cells[name] = {
            station + rest: (value, kind)
            for station, found in self._found[name].items()
            for rest, value, kind in zip(*found, strict=True)
        }
        return cells

    def _along(self, free: tuple[str, ...]) -> tuple[list[Labels], tuple[int, ...]]:
        """Every combination of labels on some axes, the last axis fastest, and how many there are on each."""
        labels = [self.of.sheet.labels[axis] for axis in free]
        along = self._rests[free] = list(product(*labels)), tuple(map(len, labels))
        return along

    def stated(self, name: str, labels: Labels) -> Decimal:
        value, trace = self.bench.aside(lambda: self.bench.look(name, labels))
        if value is None or value.low is None or not value.exact or value.low.slopes:
            raise NotPlain
        self.shape += trace.assumed
        return value.low.value

    def limit(self, name: str) -> Plain:
        so_far = self.so_far.get(name)
        if so_far is None:
            raise NotPlain
        return so_far

    def figure(self, name: str, labels: Labels) -> Plain:
        key = (name, labels)
        known = self._figures.get(key)
        if known is None:
            known = self._figures[key] = self._figure(name, labels)
        self.shape += known[1]
        return known[0]

    def _figure(self, name: str, labels: Labels) -> tuple[Plain, list[Hashable]]:
        way = self.way(name)
        if way is None:
            raise NotPlain
        outer, self.shape = self.shape, []
        try:
            station = dict(zip(self.of.stack.figures[name].each, labels, strict=True))
            return way.run(self, station), self.shape
        finally:
            self.shape = outer

    def way(self, name: str) -> Plainly | None:
        """The way to a figure that every station goes at which all is there for it; None where that is not plain."""
        if name not in self._ways:
            self._ways[name] = self._way(self.of.stack.figures[name].ways)
        return self._ways[name]

    def _way(self, ways: Sequence[Way]) -> Plainly | None:
        for way in ways:
            applies = way.when is None or self.everywhere(way.when)
            if applies is None:
                return None
            if applies and not self.closed(way.formula):
                try:
                    return plainly(way.formula)
                except NotPlain:
                    return None
        return None

    def uses(self, formula: Plainly) -> Iterator[Use]:
        """What comes into a formula, by itself and through figures."""
        yield from formula.uses
        for name in formula.figures:
            way = self.way(name)
            if way is not None:
                yield from self.uses(way)

    def closed(self, formula: Formula) -> bool:
        """Whether a formula comes to nothing at every station, since something that it needs was measured nowhere."""
        unmeasured = (formula.names & self.of.stack.measurands.keys()) - self._measured
        return bool(unmeasured) and " if " not in formula.text

    def asked(self, condition: Formula | None) -> tuple[Formula | None, ...]:
        """What has to be asked at each station: nothing (None) where it holds at all of them; empty where at none.

        Raises NotPlain where nobody stated what it hangs on.
        """
        if condition is None or not condition.anywhere:
            return (condition,)
        answer = self.everywhere(condition)
        if answer is None:
            raise NotPlain
        return (None,) if answer else ()

    def everywhere(self, condition: Formula) -> bool | None:
        """What a condition comes to at all stations alike; None where it may differ, or nobody stated what it takes."""
        if not condition.anywhere:
            return None
        answer, trace = self.bench.aside(lambda: condition.answer(self.bench, {}))
        return None if trace.unstated or answer is None else answer is True

    def answer(self, condition: Formula, station: Station) -> bool | str | None:
        """What a condition comes to at a station; which facts it asked belongs to the shape."""
        answer, trace = self.bench.aside(lambda: condition.answer(self.bench, station))
        if trace.unstated:
            raise NotPlain
        self.shape += (answer, *[name for name, _ in trace.facts], *trace.assumed)
        return answer

    def one_way(self, name: str) -> bool:
        """Whether nothing can be held against a figure of this name, all other ways to it being closed everywhere."""
        figure = self.of.stack.figures.get(name)
        if figure is None or len(figure.ways) == 1:
            return True
        open_ways = [way for way in figure.ways if not self.closed(way.formula) and not self.by_facts_alone(way)]
        return len(open_ways) == 1 and self.way(name) is not None

    def by_facts_alone(self, way: Way) -> bool:
        """Whether a way needs no reading: it is a fallback, and is not held against another."""
        return way.formula.names <= self.of.stack.facts.keys()
