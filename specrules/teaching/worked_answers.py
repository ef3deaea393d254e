"""What formulas and verdicts come to on an exercise's readings: worked out as an inspection does it."""

from __future__ import annotations

from decimal import Decimal
from functools import partial

from specrules.evaluate import NotEvaluable, Point, Value, evaluate
from specrules.evaluate.binding import Binding
from specrules.evaluate.explanation import explain, plain
from specrules.evaluate.trace import Trace
from specrules.formula import Formula
from specrules.formula.formula_reading import syntax_of
from specrules.formula.syntax import Name
from specrules.inspection.decision import Decision
from specrules.inspection.judge import Judge, Judgement
from specrules.pack import Question, Specification
from specrules.quantity import CONTEXT, Unit, is_zero, show
from specrules.sheet import Sheet
from specrules.teaching.exercise_parts import Right
from specrules.vocabulary import BEYOND, DECISION_RULES, SIDE_OF, SIDES


class Working:
    """One sheet of readings. Every sign-off counts as given: a learner is asked what the numbers say."""

    def __init__(self, sheet: Sheet, spec: Specification) -> None:
        self.sheet, self.spec = sheet, spec
        acceptance = DECISION_RULES[sheet.decision or spec.decision or "guarded"]
        binding = Binding(sheet, spec, simple=False)
        self.environment = binding.environment()
        judging = Binding(sheet, spec, simple=True).environment() if acceptance.simple else self.environment
        self.judge = Judge(judging, acceptance, sheet.limits)

    def point(self, formula: Formula) -> Point | None:
        """The one number that a formula comes to; None where it comes to none."""
        try:
            value = evaluate(formula, self.environment, {})
        except NotEvaluable:
            return None
        return value.low if value is not None and value.exact else None

    def value(self, formula: Formula) -> Decimal | None:
        """The same, base units."""
        point = self.point(formula)
        return None if point is None else point.value

    def right(self, question: Question) -> Right:
        """The right answer; an empty one where it cannot be known."""
        if question.rule:
            judged = self.judged(question)
            return Right() if judged is None else self.verdict(judged, judged.decision, self.held(judged))
        assert question.formula is not None
        point = self.point(question.formula)
        if point is None:
            return Right()
        if question.uncertainty:
            U = self.environment.binding.error_sources.uncertainty(point).expanded
            return Right(U, in_places(U, question))
        if question.choices:
            worked = self.worked(question.formula, question.unit, self.places(question.unit))
            return self.choice(question, point.value)._replace(worked=worked)
        worked = self.worked(question.formula, question.unit, question.places)
        return Right(point.value, in_places(point.value, question), worked)

    def choice(self, question: Question, value: Decimal) -> Right:
        """What is nearest to a value; without a text where two are as near, or nobody knows what a size comes to."""
        sizes = {offered.name: self.value(offered.size) for offered in question.choices}
        known = {name: CONTEXT.subtract(size, value).copy_abs() for name, size in sizes.items() if size is not None}
        least = min(known.values(), default=Decimal(0))
        nearest = [name for name, off in known.items() if is_zero(off - least)]
        return Right(value, nearest[0] if len(known) == len(sizes) and len(nearest) == 1 else "")

    def verdict(self, judged: Judgement, decision: Decision, worked: str = "") -> Right:
        """A verdict as an answer, with the pack's word for the side that it is beyond."""
        beyond = decision.verdict in BEYOND
        side = judged.rule.words[SIDES.index(decision.side)] if beyond else ""
        return Right(None, str(decision.verdict), worked, side)

    def judged(self, question: Question) -> Judgement | None:
        """A rule at the station that is asked for; None where there is no such station."""
        if any(label not in self.sheet.labels.get(axis, ()) for axis, label in question.at.items()):
            return None
        return self.judge.judge(self.spec.rules[question.rule].governing[-1], question.at)

    def held(self, judged: Judgement) -> str:
        """A judged value with its uncertainty and its limits, in words."""
        value, unit, limits = judged.value, judged.rule.unit, judged.limits
        if value is None or value.low is None or not value.exact:
            return ""
        places = self.places(unit)
        U = self.judge.uncertainty(value.low).expanded
        sides = ((part, limit) for part, limit in limits.told() if part in SIDE_OF)
        said = [show(value.low.value, unit, places) + (f" ±{show(U, unit, places)}" if U else "")]
        said += [f"{side} {show(limit, unit, places)}" for side, limit in sides]
        return f"{', '.join(said)} {unit.symbol}".rstrip()

    def places(self, unit: Unit) -> int:
        """The most decimals that a reading has, in a unit."""
        return max((_places(reading.place_value, unit) for reading in self.sheet.readings), default=0)

    def worked(self, formula: Formula, unit: Unit, places: int) -> str:
        """A formula with its numbers in it; a figure by the way that led to it."""
        station: dict[str, str] = {}
        outer, self.environment.trace = self.environment.trace, Trace()
        try:
            evaluate(formula, self.environment, {})
            if isinstance(tree := syntax_of(formula), Name) and self.environment.trace.ways:
                (figure, labels), way = next(
                    each for each in self.environment.trace.ways.items() if each[0][0] == tree.name
                )
                station = dict(zip(self.spec.figures[figure].each, labels, strict=True))
                formula = way.formula

            def shown(value: Value) -> str:
                return "not known" if value.low is None else show(value.low.value, unit, places)

            other = partial(plain, lengths_in=self.spec.lengths_in)
            return explain(formula, self.spec.scope, self.environment, station, shown, self.title, other)
        except NotEvaluable:
            return ""
        finally:
            self.environment.trace = outer

    def title(self, name: str) -> str:
        """What a name is called in a sum: its title without what stands behind it."""
        things = (self.spec.measurands, self.spec.figures, self.spec.facts)
        title = next((known[name].title for known in things if name in known), "") or name.replace("_", " ")
        short = title.partition(" (")[0].partition(",")[0]
        return short[:1].lower() + short[1:]


def in_places(value: Decimal, question: Question) -> str:
    """A value in the unit and the places that are asked for."""
    return f"{show(value, question.unit, question.places)} {question.unit.symbol}".rstrip()


def _places(place_value: Decimal, unit: Unit) -> int:
    return max(0, -(place_value / unit.difference_to_base(Decimal(1))).adjusted())
