"""A rule judged in all worlds that what nobody stated allows: a verdict stands where it is the same in every one.

They are tried until two disagree; what is told to state is the fact that tells these two apart.
"""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from specrules.evaluate.worlds import THIS_WORLD, Unstated, World
from specrules.formula import Station
from specrules.formula.operators import Slot
from specrules.inspection.agreeing import agree, whichever
from specrules.inspection.decision import Decision
from specrules.inspection.finding_parts import Limits
from specrules.inspection.judge import Judge, Judgement
from specrules.pack import Rule, Specification
from specrules.vocabulary import Reason, Verdict, Why

NO_AGREEMENT = Unstated(())
"""Two worlds come to different verdicts; which question tells them apart is known further out."""


def in_all_worlds(rule: Rule, station: Station, judge_in: Callable[[World], Judge], spec: Specification) -> Judgement:
    """Judge; where an unstated fact matters try all that it may be. One verdict in all worlds decides."""
    judged = judge_in(THIS_WORLD).judge(rule, station)
    if not judged.trace.questions:
        return judged
    outcomes: list[Judgement] = []
    question = _Trying(judge_in, spec, outcomes).worlds(THIS_WORLD, judged)
    if question is None:
        return whichever(outcomes) if len(outcomes) == 1 else _in_every_one(judged, outcomes)
    lacks = tuple(Reason(Why.STATE_FACT, (name,)) for name in question.facts)
    size = question.compared[0] if question.compared is not None else None
    if isinstance(size, Slot) and not lacks and not judged.trace.missing:
        lacks = (Reason(Why.SIZE_ACROSS_EDGE, (size.name,)),)
    return _not_measured(judged, lacks)


def _in_every_one(judged: Judgement, outcomes: Sequence[Judgement]) -> Judgement:
    """What outcomes that agree come to; of what is lacking only that which lacks whatever is supposed."""
    found = whichever(outcomes)
    common = tuple([reason for reason in found.lacks if all(reason in other.lacks for other in outcomes)])
    if found.lacks and not common and found.decision.verdict is Verdict.NO_FIGURE:
        facts = dict.fromkeys(name for question in judged.trace.questions for name in question.facts)
        common = tuple([Reason(Why.STATE_FACT, (name,)) for name in facts])
    return found._replace(lacks=common)


def _has_no_value(judged: Judgement) -> bool:
    """Whether nothing is known of the value: it is not measured, whichever of its limits hold for its size."""
    return judged.value is None or (judged.value.low is None and judged.value.high is None)


def _not_measured(judged: Judgement, lacks: tuple[Reason, ...] = ()) -> Judgement:
    return judged._replace(decision=Decision(Verdict.NOT_MEASURED), lacks=lacks, margins=(), limits=Limits())


class _Trying(NamedTuple):
    """Tries worlds as long as their outcomes agree."""

    judge_in: Callable[[World], Judge]
    spec: Specification
    outcomes: list[Judgement]

    def worlds(self, world: World, judged: Judgement) -> Unstated | None:
        """Add what each world in a world comes to; where two differ the question that tells them apart is told, and
        where there are too many the one that makes them so."""
        question = next(iter(judged.trace.questions), None)
        if question is not None and not question.facts and _has_no_value(judged):
            judged, question = _not_measured(judged), None
        if question is None:
            self.outcomes.append(judged)
            return None if agree((self.outcomes[0], judged)) else NO_AGREEMENT
        first = not self.outcomes
        parts = world.split(question, self.spec)
        for part in parts:
            found = self.worlds(part, self.judge_in(part).judge(judged.rule, judged.station))
            if found is not None:
                return question if found is NO_AGREEMENT and first else found
        return None if parts else question
