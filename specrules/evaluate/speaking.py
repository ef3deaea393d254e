"""Whether figures of a pack speak about the station that they are asked for: their validity, held against a sheet."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import Decimal
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from specrules.evaluate import NotEvaluable, Point, Value, decided, holds
from specrules.evaluate.evaluator import Environment, evaluate_operator
from specrules.evaluate.trace import Trace
from specrules.formula import Station
from specrules.formula.operators import (
    NOTHING,
    Comparison,
    FactLabel,
    Hanging,
    Slot,
    StationLabel,
    all_operators,
    together,
)
from specrules.pack import HoldsFor, Validity
from specrules.quantity import LENGTH, NO_UNIT, Unit
from specrules.vocabulary import Reason, Why

if TYPE_CHECKING:
    from specrules.evaluate.binding import SheetEnvironment

_DIGITS = 6
"""So many of a size are told: enough to see which side of an edge it lies."""


Half = Callable[[Point], Decimal]
"""How far the bracket that something was read as reaches to either side."""


def no_bracket(_point: Point) -> Decimal:
    """Of what was not read."""
    return Decimal(0)


def stations_of(one: HoldsFor, environment: Environment, station: Station) -> Iterator[Station]:
    """The station, once for each place along the axes that the rule does not bind."""
    for labels in environment.layout.keys(one.along, station) if one.along else ((),):
        yield {**station, **dict(zip(one.along, labels, strict=True))}


def holds_there(one: HoldsFor, environment: Environment, station: Station, half: Half = no_bracket) -> bool | None:
    """Whether one thing by which figures hold is so at a station, or all along an axis; None where it is not known."""
    if one.asked is None:
        return True
    answers = {_is_so(one, environment, at, half) for at in stations_of(one, environment, station)}
    if False in answers:
        return False
    return True if answers == {True} else None


def _is_so(one: HoldsFor, environment: Environment, station: Station, half: Half) -> bool | None:
    """A size is taken without its U, but with the bracket that it was read as."""
    if one.asked is None or one.labels:
        return holds(one.asked, environment, station)
    ends = [each for each in all_operators(one.asked.operators) if isinstance(each, Comparison)]
    if not ends:
        return holds(one.asked, environment, station)
    try:
        value = evaluate_operator(ends[0].quantity, environment, station)
    except (NotEvaluable, ArithmeticError):
        value = None
    answers: set[bool | None] = set()
    for end in ends:
        answer = None if value is None else decided(end, *_reach(value, half))
        answers.add(environment.undecided(end, station) if answer is None else answer)
    return False if False in answers else None if None in answers else True


def _reach(value: Value, half: Half) -> tuple[Decimal | None, Decimal | None]:
    low, high = value.low, value.high
    return None if low is None else low.value - half(low), None if high is None else high.value + half(high)


class ValidityQuestion(NamedTuple):
    """What some keys ask: what it is, by how many questions there were before, and what of a station the answer hangs
    on."""

    number: int
    hanging: Hanging


class ValidityQuestions:
    """What figures are asked to hold by, each question once: many figures ask the same."""

    def __init__(self) -> None:
        self._known: dict[int, tuple[Validity | HoldsFor, ValidityQuestion]] = {}  # by identity
        self._numbers: dict[tuple[object, ...], int] = {}

    def of(self, asking: Validity | HoldsFor) -> ValidityQuestion:
        """What a validity asks, or one thing in it."""
        known = self._known.get(id(asking))
        if known is None:
            known = self._known[id(asking)] = (asking, self._question(asking))
        return known[1]

    def _question(self, asking: Validity | HoldsFor) -> ValidityQuestion:
        content: tuple[object, ...]
        if isinstance(asking, Validity):
            parts = [self.of(each) for each in asking.keys]
            content, hanging = tuple([each.number for each in parts]), together([each.hanging for each in parts])
        elif asking.asked is None:
            content, hanging = (), NOTHING
        else:
            content, hanging = (asking.along, asking.asked.operators), asking.asked.hanging
        return ValidityQuestion(self._numbers.setdefault(content, len(self._numbers)), hanging)


class Speaking:
    """Answers for one environment, in which nothing is assumed, and remembers: most figures hold by the same things."""

    def __init__(self, environment: SheetEnvironment) -> None:
        self._environment = environment
        self._answers: dict[tuple[object, ...], tuple[bool | None, Trace]] = {}
        self._reasons: dict[tuple[object, ...], tuple[Reason, ...]] = {}

    def speaks(self, validity: Validity, station: Station) -> tuple[bool | None, Trace]:
        """Whether the figures hold there, None where that is not known; and what was looked at."""
        return self._answer(validity, station, partial(self._all_hold, validity))

    def failing(self, validity: Validity, station: Station) -> tuple[Reason, ...]:
        """For each thing by which they do not hold: what it is here, and what they hold for."""
        question = self._environment.binding.questions.of(validity)
        known = id(validity), *self._environment.layout.hung_on(question.hanging, station)
        if known not in self._reasons:
            self._reasons[known] = self._environment.aside(lambda: tuple(self._failures(validity, station)))[0]
        return self._reasons[known]

    def _answer(
        self, asking: Validity | HoldsFor, station: Station, work_out: Callable[[Station], bool | None]
    ) -> tuple[bool | None, Trace]:
        """The answer to a question, and what was looked at for it."""
        question = self._environment.binding.questions.of(asking)
        known = question.number, *self._environment.layout.hung_on(question.hanging, station)
        if known not in self._answers:
            self._answers[known] = self._environment.aside(partial(work_out, station))
        return self._answers[known]

    def _all_hold(self, validity: Validity, station: Station) -> bool | None:
        """One thing that fails settles it, whatever the others are: nothing more has to be known then."""
        environment = self._environment
        answers = [self._one(each, station) for each in validity.keys]
        failing = [trace for answer, trace in answers if answer is False]
        for trace in failing[:1] or [trace for _, trace in answers]:
            environment.trace.take(trace)
        if failing:
            environment.trace.questions.clear()
            environment.trace.missing.clear()
            return False
        return None if any(answer is None for answer, _ in answers) else True

    def _one(self, one: HoldsFor, station: Station) -> tuple[bool | None, Trace]:
        """Whether one thing is so there, and what was looked at."""
        return self._answer(one, station, partial(self._holds, one))

    def _holds(self, one: HoldsFor, station: Station) -> bool | None:
        answer = holds_there(one, self._environment, station, self._half)
        if answer is None and one.along and not self._environment.layout.keys(one.along, station):
            axes = [self._environment.binding.spec.axes[axis] for axis in one.along]
            self._environment.trace.missing.update({(axis.shaped_by, ()): None for axis in axes})
        return answer

    def _half(self, point: Point) -> Decimal:
        return self._environment.binding.error_sources.uncertainty(point).half

    def _failures(self, validity: Validity, station: Station) -> Iterator[Reason]:
        """The labels that fail; where none does, each size."""
        failing = [(one, at) for one in validity.keys if (at := self._failing_at(one, station)) is not None]
        labels = {one.name: self._label(one, at) for one, at in failing if one.unit is None}
        if labels:
            names = (validity.pack, *labels)
            yield Reason(Why.HOLDS_FOR_OTHERS, names, tuple(labels.values()), validity.title)
            return
        for one, at in failing:
            names = (validity.pack, one.name)
            yield Reason(Why.HOLDS_FOR_OTHER_SIZES, names, self._sizes(one, at), validity.title)

    def _failing_at(self, one: HoldsFor, station: Station) -> Station | None:
        """The first place where one thing is not so."""
        if one.asked is None:
            return None
        places = stations_of(one, self._environment, station)
        return next((at for at in places if _is_so(one, self._environment, at, self._half) is False), None)

    def _label(self, one: HoldsFor, station: Station) -> str:
        """What a fact or an axis is there."""
        operators = () if one.asked is None else all_operators(one.asked.operators)
        of = next(each for each in operators if isinstance(each, FactLabel | StationLabel))
        return evaluate_operator(of, self._environment, station) or ""

    def _sizes(self, one: HoldsFor, station: Station) -> tuple[str, ...]:
        """What a size is there, the least and the most that figures hold for, and the unit."""
        operators = () if one.asked is None else all_operators(one.asked.operators)
        value = evaluate_operator(
            next(each for each in operators if isinstance(each, Slot)), self._environment, station
        )
        sheet, unit = self._environment.binding.sheet.unit, one.unit or NO_UNIT
        unit = sheet if sheet is not None and unit.dimension == LENGTH else unit
        ends = [end for end in (_reach(value, self._half) if value is not None else ()) if end is not None]
        told = [_told(end, unit) for end in (one.low, one.high) if end is not None]
        return "..".join(dict.fromkeys(_told(end, unit) for end in ends)), *told, unit.symbol


def _told(size: Decimal, unit: Unit) -> str:
    """A size in base units as it is told in a unit."""
    shown = unit.from_base(size)
    return f"{shown.normalize():f}" if len(shown.normalize().as_tuple().digits) <= _DIGITS else f"{shown:.{_DIGITS}g}"
