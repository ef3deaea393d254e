"""What the worked examples reach: collected example by example, from the stations that came out as expected."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from specrules.evaluate import NotEvaluable, holds
from specrules.evaluate.binding import SheetEnvironment
from specrules.evaluate.evaluator import evaluate_operator
from specrules.evaluate.trace import Trace
from specrules.formula import Formula, Station
from specrules.formula.lowering import Lowering
from specrules.formula.operators import Operator
from specrules.inspection.decision import Margin
from specrules.inspection.judge import Judgement
from specrules.inspection.limits import ResolvedLimits, exact, in_force, take
from specrules.pack import LimitLine, Rule
from specrules.proving.examples import ExampleOutcome
from specrules.proving.names import choosing
from specrules.quantity import is_zero
from specrules.vocabulary import WORN, Verdict

Makers = Mapping[str, Sequence[LimitLine]]
"""Part of the limits -> the lines that made it."""

PLACES = ("inside", "on", "beyond")
"""Where a value may lie at a limit."""


@dataclass(slots=True)
class Reached:
    """lines: (rule, line) that counted; places: (rule, line, part) -> where values lay; ways: (figure, way) used;
    answers: (formula, text of the condition) -> what it answered; verdicts: rule -> those that came out;
    whole: rules of which a value came from readings."""

    lines: set[tuple[str, str]] = field(default_factory=set)
    places: dict[tuple[str, str, str], set[str]] = field(default_factory=dict)
    ways: set[tuple[str, str]] = field(default_factory=set)
    answers: dict[tuple[int, str], set[bool | str | None]] = field(default_factory=dict)
    verdicts: dict[str, set[Verdict]] = field(default_factory=dict)
    whole: set[str] = field(default_factory=set)
    _made: dict[int, tuple[ResolvedLimits, Makers]] = field(default_factory=dict)
    _choosing: dict[int, tuple[Formula, Sequence[tuple[Operator, str]]]] = field(default_factory=dict)

    def take(self, rule: Rule, outcome: ExampleOutcome) -> None:
        """Add what one worked example of a rule shows."""
        verdicts = self.verdicts.setdefault(rule.name, set())
        if outcome.judge is None:
            return
        environment = outcome.judge.environment
        if outcome.absent:
            verdicts.add(Verdict.NOT_APPLICABLE)
            if rule.applies_when is not None and rule.applies_when.same_everywhere:
                self._ask(rule.applies_when, environment, {})
        for finding in outcome.held:
            verdicts.add(finding.verdict)
            judged = finding.judged
            if finding.judge is not outcome.judge or judged.trace.questions:
                judged = outcome.judge.judge(outcome.judging or rule, finding.station)
            self._ask(rule.applies_when, environment, finding.station)
            if judged.decision.verdict is Verdict.NOT_APPLICABLE and rule.limits_wanted:
                continue
            trace = Trace()
            trace.take(judged.trace)
            if outcome.judging is None:
                self.whole.update({rule.name} if finding.value is not None else ())
                self._choices(rule.formula, environment, finding.station)
            environment.trace = Trace()
            if not outcome.judge.own.get(rule.name):
                self._limits(rule, judged, environment)
            trace.take(environment.trace)
            self._figures(trace, environment)

    def _limits(self, rule: Rule, judged: Judgement, environment: SheetEnvironment) -> None:
        """Credit the lines that made each limit with where the value lies at it."""
        if id(judged.resolved) not in self._made:  # as they are for all stations at which the judge has the same
            self._made[id(judged.resolved)] = judged.resolved, self._makers(rule, judged.station, environment)
        made_by = self._made[id(judged.resolved)][1]
        for margin in judged.margins:
            part = WORN[margin.side] if margin.side in judged.limits.worn else margin.side
            for line in made_by.get(part, ()) if (place := _place(margin)) else ():
                self.places.setdefault((rule.name, line.name, part), set()).add(place)

    def _makers(self, rule: Rule, station: Station, environment: SheetEnvironment) -> Makers:
        """Read the lines once more, for those that made each limit."""
        resolved = ResolvedLimits()
        made_by: dict[str, list[LimitLine]] = {}
        for line in rule.lines:
            self._ask(line.when, environment, station)
        for line in in_force(rule.lines, station, environment):
            self.lines.add((rule.name, line.name))
            before = {part: exact(value) for part, value in resolved.sets.items()}
            if line.from_the_maker:
                resolved.clear()
            try:
                take(line, resolved, station, environment)
            except NotEvaluable:
                return {}
            for part in line.clears:
                made_by.pop(part, None)
            for part, formula in line.sets.items():
                self._choices(formula, environment, station)
                if part not in formula.names or exact(resolved.sets.get(part)) != before.get(part):
                    made_by[part] = [line]
            if line.shift is not None:
                self._choices(line.shift, environment, station)
                for part in ("least", "most"):
                    if resolved.sets.get(part) is not None:
                        made_by.setdefault(part, []).append(line)
        return made_by

    def _figures(self, trace: Trace, environment: SheetEnvironment) -> None:
        for (name, labels), used in trace.ways.items():
            self.ways.add((name, used.name))
            figure = environment.binding.spec.figures[name]
            station = dict(zip(figure.each, labels, strict=True))
            self._choices(used.formula, environment, station)
            for way in figure.ways:
                self._ask(way.when, environment, station)

    def _ask(self, asked: Formula | None, environment: SheetEnvironment, station: Station) -> None:
        if asked is not None:
            answer = holds(asked, environment, station)
            self.answers.setdefault((id(asked), asked.text), set()).add(answer)

    def _choices(self, formula: Formula, environment: SheetEnvironment, station: Station) -> None:
        if id(formula) not in self._choosing:
            lowering = Lowering(environment.binding.spec.scope, formula.each)
            found = [(lowering.condition(node), text) for node, text in choosing(formula)]
            self._choosing[id(formula)] = formula, found
        for condition, text in self._choosing[id(formula)][1]:
            try:
                answer = evaluate_operator(condition, environment, station)
            except NotEvaluable:
                continue  # a table that it asks has no row: neither side was shown
            self.answers.setdefault((id(formula), text), set()).add(answer)


def _place(margin: Margin) -> str:
    """Where the value lies at a limit; nothing where it is a range that says neither."""
    if margin.low is not None and margin.exact and is_zero(margin.low, margin.scale):
        return "on"
    if margin.low is not None and margin.low > 0:
        return "inside"
    return "beyond" if margin.high is not None and margin.high < 0 else ""
