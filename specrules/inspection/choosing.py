"""Which size that is sold brings a value nearest its aim and inside its limits: tried one by one, when asked for.

It is no part of a verdict or of the seal.
"""

from collections.abc import Iterator
from decimal import Decimal
from typing import NamedTuple

from specrules.evaluate import NotEvaluable, Value, add, evaluate, exactly
from specrules.inspection.decision import Decision
from specrules.inspection.judge import Judge, Judgement
from specrules.pack import Blades, Sold, Step
from specrules.pack.blades import of_one_system
from specrules.quantity import Unit
from specrules.vocabulary import INSIDE


class Choice(NamedTuple):
    """One size that is sold, in its unit, and what the value would be with it."""

    text: str
    moved: Value
    decision: Decision
    off: Decimal  # how far from the aim


def chosen(judge: Judge, judged: Judgement, step: Step, unit: Unit) -> Choice | bool:
    """The size to take; False where none brings the value inside, True where it cannot be told.

    Of those inside, one that leaves no doubt comes before one that is just in, then the nearest to the aim: to the
    middle where no aim is set, and with one limit the one that changes the least.
    """
    value, sold = judged.value, judge.environment.binding.spec.sold[step.one_of]
    if value is None or step.moves is None:
        return True
    tried = list(_tried(judge, judged, step, sizes_in(sold, unit)))
    if not tried:
        return True
    inside = [choice for choice in tried if choice.decision.verdict in INSIDE]
    return min(inside, key=lambda each: (INSIDE.index(each.decision.verdict), each.off), default=False)


def sizes_in(sold: Sold, unit: Unit) -> Blades:
    """The sizes of a thing that is sold, in the system of a unit where it is sold in that."""
    return next((each for each in sold.sets if of_one_system(each.unit, unit)), sold.sets[0])


def _tried(judge: Judge, judged: Judgement, step: Step, among: Blades) -> Iterator[Choice]:
    environment = judge.environment
    assert step.moves is not None
    assert judged.value is not None
    try:
        for size in among.sizes:
            environment.so_far = {step.one_of: exactly(size)}
            by = evaluate(step.moves, environment, judged.station)
            if by is None or not by.whole or by.low is None:
                return
            moved = add(judged.value, by)
            text = f"{among.unit.from_base(size).normalize():f} {among.unit.symbol}"
            yield Choice(text, moved, judge.again(judged, moved), _off(judged, moved, by))
    except NotEvaluable:
        return
    finally:
        environment.so_far = {}


def _off(judged: Judgement, moved: Value, by: Value) -> Decimal:
    limits = judged.limits
    least, most = limits.deciding("least"), limits.deciding("most")
    aim = limits.aim
    if aim is None and least is not None and most is not None:
        aim = (least + most) / 2
    ends = [end.value for end in (moved.low, moved.high) if end is not None]
    if aim is None or not ends:
        return abs(by.low.value) if by.low is not None else Decimal(0)
    return abs(sum(ends, Decimal(0)) / len(ends) - aim)
