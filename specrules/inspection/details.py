"""What a finding stands on, worked out when it is asked for: working, inputs, budget, remedies, other packs."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import Decimal, localcontext
from functools import cached_property

from specrules.evaluate import NotEvaluable, Point, evaluate
from specrules.evaluate.binding import Binding
from specrules.evaluate.error_sources import BudgetLine
from specrules.inspection.adequacy import alternatives
from specrules.inspection.chain_views import besides
from specrules.inspection.decision import Conformity
from specrules.inspection.figures_behind import figures_of_gauges
from specrules.inspection.finding_parts import (
    Alternative,
    Beside,
    FigureOfGauge,
    Input,
    SideMargin,
    StepOutcome,
)
from specrules.inspection.findings import difference_in
from specrules.inspection.inputs_behind import inputs_of
from specrules.inspection.judge import Judge, Judgement, bounds_of
from specrules.inspection.remedy import otherwise, steps, word_of
from specrules.inspection.report import Finding
from specrules.pack import RuleChain
from specrules.quantity import CONTEXT, NO_UNIT
from specrules.vocabulary import BEYOND, Verdict


class WholeFinding(Finding):
    """A finding that can be asked for all that it stands on. It equals the plain finding that it was made of.

    Numbers stand in the unit shown, those of `inputs` in the unit of each, `u` of the `budget` as a float. Only the
    finding in its report travels: this one holds on to what it is worked out from.
    """

    judge: Judge
    judged: Judgement
    chain: RuleChain

    @classmethod
    def of(cls, finding: Finding, judge: Judge, judged: Judgement, chain: RuleChain) -> WholeFinding:
        """The finding with the judgement that it was made of."""
        whole = cls(*finding)
        whole.judge, whole.judged, whole.chain = judge, judged, chain
        return whole

    @cached_property
    def range(self) -> tuple[Decimal, Decimal] | None:
        """The formula with largest and smallest exchanged stands at the other end of what the readings allow."""
        with localcontext(CONTEXT):
            ends = _spread(self.judged, self.judge.environment.binding)
        return None if ends is None else (self.unit.from_base(ends[0]), self.unit.from_base(ends[1]))

    @cached_property
    def worked(self) -> str:
        """The formula with its numbers in it, in the unit shown."""
        with localcontext(CONTEXT):
            from specrules.inspection.workings import worked_out  # the screen of the bench asks for none

            return "" if self.judged.value is None else worked_out(self.judge, self.judged, self.unit)

    @cached_property
    def combines(self) -> bool:
        """Whether the formula is more than one reading, so that its working says more than its value."""
        with localcontext(CONTEXT):
            from specrules.inspection.workings import combines_readings

            return combines_readings(self.judge, self.judged)

    @cached_property
    def inputs(self) -> tuple[Input, ...]:
        """Every reading and fact that the value stands on, in the order in which it was met."""
        of = self.judge.environment.binding
        return (*inputs_of(self.judged.trace.found, of), *self._facts())

    @cached_property
    def margins(self) -> tuple[SideMargin, ...]:
        """With U towards the limit: downwards while the value is inside, upwards once it is beyond."""
        unit = self.unit
        return tuple(
            SideMargin(
                margin.side,
                difference_in(unit, margin.low),
                unit.difference_from_base(
                    margin.U_high if margin.high is not None and margin.high < 0 else margin.U_low
                ),
            )
            for margin in self.judged.margins
        )

    @cached_property
    def conformance(self) -> Conformity | None:
        """The probability that the true value lies inside every limit."""
        with localcontext(CONTEXT):
            return self.judge.conformity(self.judged.value, bounds_of(self.judged.resolved, self.judged.limits))

    @cached_property
    def budget(self) -> tuple[BudgetLine, ...]:
        """What each error source adds to the value's standard uncertainty, the largest first."""
        point, factor = self._point(), float(self.unit.factor)
        lines = () if point is None else self.judge.environment.binding.error_sources.budget(point)
        return tuple(BudgetLine(line.cause, line.u / factor) for line in lines)

    @cached_property
    def gauge_figures(self) -> tuple[FigureOfGauge, ...]:
        """What the gauges behind the value can do, and whose word that is."""
        with localcontext(CONTEXT):
            return tuple(figures_of_gauges(self.judged.trace.found, self.judge.environment.binding))

    @cached_property
    def alternatives(self) -> tuple[Alternative, ...]:
        """Of a value nearer to a limit than can be told: the ways to read it again that were tried."""
        if self.judged.decision.verdict not in (Verdict.JUST_IN, Verdict.JUST_OUT):
            return ()
        with localcontext(CONTEXT):
            return tuple(
                each._replace(U=self.unit.difference_from_base(each.U))
                for each in alternatives(self.judge, self.judged)
            )

    @cached_property
    def steps(self) -> tuple[StepOutcome, ...]:
        """What to do about it, each step with what it would bring; none where it is not beyond a limit, and none
        while a reading behind it is in doubt: then it is read again, and no part is touched."""
        if self.judged.decision.verdict not in BEYOND or self.rests_on.suspect:
            return ()
        with localcontext(CONTEXT):
            return steps(self.judge, self.judged, word_of(self.judged), self.unit)

    @property
    def otherwise(self) -> str:
        """What to do where no step is enough."""
        if self.judged.decision.verdict not in BEYOND or self.rests_on.suspect:
            return ""
        return otherwise(self.steps, self.judged.rule.otherwise)

    @cached_property
    def beside(self) -> tuple[Beside, ...]:
        """What each pack of the chain would have said by itself."""
        with localcontext(CONTEXT):
            return besides(self.judge, self.judged, self.chain, self.unit)

    def _point(self) -> Point | None:
        value = self.judged.value
        return value.low if value is not None and value.exact else None

    def _facts(self) -> Iterator[Input]:
        of = self.judge.environment.binding
        for place in self.judged.trace.facts:
            fact = of.fact_places.get(place)
            if fact is None or not isinstance(fact.value, Decimal | int):
                continue
            entry = of.spec.facts[fact.name]
            unit = entry.unit or NO_UNIT
            value = unit.from_base(Decimal(fact.value))
            yield Input(
                name=fact.name,
                station=dict(zip(entry.at, fact.station, strict=False)),
                position={},
                value=value,
                low=value,
                high=value,
                U=None,
                unit=unit,
                text=fact.text,
                gauge="",
                place=fact.place,
                confirmed=fact.confirmed,
            )


Whole = Callable[[Finding], WholeFinding]
"""Finds all that a finding stands on."""


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
