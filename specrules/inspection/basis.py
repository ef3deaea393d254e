"""What a finding stands on, for whoever asks: its working, its inputs, its margins, its budget."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal, localcontext
from functools import cached_property

from specrules.evaluate import NotEvaluable, Point, Value, evaluate, explain
from specrules.evaluate.binding import Binding
from specrules.evaluate.error_sources import Line
from specrules.inspection.able import unable
from specrules.inspection.decide import conformity
from specrules.inspection.judge import Judge, Judgement
from specrules.inspection.parts import Input, SideMargin, Unable, made_side_margin
from specrules.quantity import CONTEXT, NO_UNIT, Unit, show


class Basis:
    """A judgement and the environment that it was made on. Asking changes nothing that can be seen."""

    _judged: Judgement | None = None

    def __init__(self, judge: Judge, unit: Unit, judged: Judgement) -> None:
        self.judge = judge
        self.unit = unit
        self._judged = judged

    @property
    def judged(self) -> Judgement:
        """The judgement in full."""
        if self._judged is None:
            self._judged = self.in_full()
        return self._judged

    def in_full(self) -> Judgement:
        """Judge in full what was not yet judged so."""
        raise AssertionError(self)  # pragma: no cover - only a finding by its likeness comes without a judgement

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Basis) and self._all() == other._all()

    __hash__ = None  # type: ignore[assignment]  # what is equal in all that it tells may still be asked apart

    def _all(self) -> tuple[object, ...]:
        return self.range, self.worked, self.inputs, self.margins, self.conformance, self.budget, self.unable

    @cached_property
    def range(self) -> tuple[Decimal, Decimal] | None:
        """The formula with largest and smallest exchanged stands at the other end of what the readings allow."""
        with localcontext(CONTEXT):
            return _spread(self.judged, self.judge.environment.binding)

    @cached_property
    def worked(self) -> str:
        """The formula with its numbers in it, in the unit shown."""
        with localcontext(CONTEXT):
            return "" if self.judged.value is None else _worked(self.judge, self.judged, self.unit)

    @cached_property
    def inputs(self) -> tuple[Input, ...]:
        """Every reading and fact that the value stands on, in the order in which it was met."""
        return (*self._readings(), *self._facts())

    @property
    def margins(self) -> tuple[SideMargin, ...]:
        """With U towards the limit: downwards while the value is inside, upwards once it is beyond."""
        return tuple(
            [
                made_side_margin((side, low, U_high if high is not None and high < 0 else U_low))
                for side, low, high, U_low, U_high, _, _, _, _ in self.judged.margins
            ]
        )

    @property
    def conformance(self) -> float | None:
        """The probability that the true value lies inside every limit."""
        return None if self.judge.environment.binding.error_sources.simple else conformity(self.judged.margins)

    @cached_property
    def budget(self) -> tuple[Line, ...]:
        """What each cause adds to the value's standard uncertainty."""
        point = self._point()
        return () if point is None else self.judge.environment.binding.error_sources.budget(point)

    @cached_property
    def unable(self) -> Unable | None:
        """What keeps the gauges used from deciding."""
        point, of = self._point(), self.judge.environment.binding
        if point is None or of.error_sources.simple:
            return None
        with localcontext(CONTEXT):
            return unable(self.judged.rule.name, point, self.judged.uncertainty.expanded, self.judged.limits, of)

    def _point(self) -> Point | None:
        value = self.judged.value
        return value.low if value is not None and value.exact else None

    def _readings(self) -> Iterator[Input]:
        of = self.judge.environment.binding
        for number in self.judged.trace.found:
            reading = of.readings[number]
            measurand = of.stack.measurands[reading.name]
            yield Input(
                name=reading.name,
                station=dict(zip(measurand.at, reading.station, strict=True)),
                position=dict(zip(measurand.positions, reading.position or (), strict=False)),
                value=reading.value,
                low=reading.low,
                high=reading.high,
                U=reading.U,
                unit=reading.unit,
                text=reading.text,
                gauge=reading.gauge,
                place=reading.place,
            )

    def _facts(self) -> Iterator[Input]:
        of = self.judge.environment.binding
        for place in self.judged.trace.facts:
            fact = of.fact_places.get(place)
            if fact is None or not isinstance(fact.value, Decimal | int):
                continue
            entry, value = of.stack.facts[fact.name], Decimal(fact.value)
            yield Input(
                name=fact.name,
                station=dict(zip(entry.at, fact.station, strict=False)),
                position={},
                value=value,
                low=value,
                high=value,
                U=None,
                unit=entry.unit or NO_UNIT,
                text=fact.text,
                gauge="",
                place=fact.place,
            )


def _spread(judged: Judgement, of: Binding) -> tuple[Decimal, Decimal] | None:
    value = judged.value
    if value is None or not value.exact or value.low is None or not judged.trace.found or judged.world.of > 1:
        return None
    try:
        other = evaluate(judged.rule.formula, of.environment(exchanged=True), judged.station)
    except NotEvaluable:
        return None
    if other is None or not other.exact or other.low is None:
        return None
    return min(value.low.value, other.low.value), max(value.low.value, other.low.value)


def _worked(judge: Judge, judged: Judgement, unit: Unit) -> str:
    """The formula with its numbers in it, in the unit shown."""
    environment, stack = judge.environment, judge.environment.binding.stack
    places = environment.binding.digits.places(judged.trace.found, unit)

    def shown(value: Value) -> str:
        end = value.low if value.low is not None else value.high
        if end is None:
            return "not measured"
        if (half := judge.uncertainty(end).half) and value.exact:
            return f"{show(end.value - half, unit, places)} to {show(end.value + half, unit, places)}"
        text = show(end.value, unit, places)
        return text if value.exact else f"at least {text}" if value.high is None else f"at most {text}"

    def title(name: str) -> str:
        thing = stack.measurands.get(name) or stack.figures.get(name) or stack.facts.get(name)
        return (
            (thing.title[:1].lower() + thing.title[1:]) if thing is not None and thing.title else name.replace("_", " ")
        )

    formula, station = judged.rule.formula, judged.station
    for (name, labels), way in judged.trace.ways.items():
        if name == formula.text:
            formula, station = way.formula, dict(zip(stack.figures[name].each, labels, strict=True))
            break
    if formula.dimension != unit.dimension:
        return ""
    try:
        return environment.aside(lambda: explain(formula, stack.scope, environment, station, shown, title))[0]
    except NotEvaluable:
        return ""
