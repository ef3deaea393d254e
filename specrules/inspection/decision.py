"""The one function that decides. Margins in, a verdict out; no verdict hides in a comparison anywhere else.

The four statements are those of the non-binary rule with a guard band equal to U: pass, conditional pass, conditional
fail, fail (ILAC-G8:09/2019, clause 4.2.3). A margin of exactly zero is inside: that choice is ours, and the standard's
closed intervals leave it open. With U zero the rule is simple acceptance (clause 4.2.1).

A value is just in on a limit when its bracket reaches beyond it, under simple acceptance too: a bracket keeps its
width.
"""

from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import NamedTuple

from specrules.evaluate.error_distribution import ErrorDistribution
from specrules.quantity import is_zero
from specrules.vocabulary import BEYOND, DECISION_RULES, INSIDE, USUAL_DECISION, DecisionRule, Verdict


class Margin(NamedTuple):
    """How far inside one limit a value lies, in base units: between `low` and `high`; negative is beyond.

    `None` is an open end. U_low is how far below the low end the true margin may be, U_high how far above the high
    one (k = 2); `half` is the part of them that brackets make up. `whole` is False where something that the value
    stands on is missing. `scale` is the size of what was compared where the formula went through binary arithmetic,
    and the one tolerance is wider; None where it did not.
    """

    side: str  # least or most
    low: Decimal | None
    high: Decimal | None
    U_low: Decimal = Decimal(0)
    U_high: Decimal = Decimal(0)
    whole: bool = True
    scale: Decimal | None = None
    half: Decimal = Decimal(0)

    @property
    def exact(self) -> bool:
        """One number, not a range."""
        return self.low is not None and self.low == self.high


class Decision(NamedTuple):
    """The verdict, the side it is beyond (or nearest to), and by how much beyond at the least (0 where inside)."""

    verdict: Verdict
    side: str = ""
    beyond: Decimal | None = None


class Conformity(NamedTuple):
    """The probability that the true value lies inside every limit, and whether that is only approximately so."""

    probability: float
    approximate: bool = False


_ORDER = (Verdict.OUT, Verdict.JUST_OUT, Verdict.NOT_MEASURED, Verdict.JUST_IN, Verdict.IN_SPEC)
_NOTHING = Decimal(0)


def not_known() -> None:
    """The probability where nothing says how sure a value is."""


def decide(
    margins: Sequence[Margin],
    rule: DecisionRule = DECISION_RULES[USUAL_DECISION],
    conformity: Callable[[], Conformity | None] = not_known,
) -> Decision:
    """The verdict over all margins: the worst that is sure.

    A range decides where all of it lies on one side; "in spec" never rests on something missing. `conformity` is asked
    for where the rule goes by it.
    """
    if not margins:
        return Decision(Verdict.NOT_APPLICABLE)
    verdict, margin = _worst(margins, rule.guard)
    if rule.probability is not None and (rule.by_probability or (len(margins) > 1 and verdict is Verdict.IN_SPEC)):
        verdict = _probably(verdict, _worst(margins, _NOTHING)[0], conformity(), rule)
    if verdict in BEYOND:
        assert margin.high is not None  # a side that is beyond has a known end
        return Decision(verdict, margin.side, max(_NOTHING, -margin.high - margin.half))
    return Decision(verdict, margin.side if verdict is Verdict.JUST_IN else "")


def _worst(margins: Sequence[Margin], guard: Decimal) -> tuple[Verdict, Margin]:
    """The worst verdict that is sure, and the margin that it comes from: of like ones the smaller."""
    verdict, margin = _one(margins[0], guard), margins[0]
    for other in margins[1:]:
        by_other = _one(other, guard)
        worse = _ORDER.index(by_other) - _ORDER.index(verdict)
        if worse < 0 or (worse == 0 and _nearness(other) < _nearness(margin)):
            verdict, margin = by_other, other
    return verdict, margin


def decide_worn(by_wear: Decision, new: Sequence[Margin]) -> Decision:
    """The verdict over a reused part that its wear limits alone come to `by_wear` of; `new`: margins to new limits.

    Wear limits decide, and by the whole rule. New ones only tell what is worn from what is as good as new, by the value
    itself: no more hangs on it, so that no U makes a doubt of a part that is surely inside its wear limit.
    """
    if by_wear.verdict is not Verdict.IN_SPEC or not new:
        return by_wear
    as_new, margin = _worst(new, _NOTHING)
    return by_wear if as_new in INSIDE else Decision(Verdict.WORN, margin.side)


def inside(margins: Sequence[tuple[Decimal, ErrorDistribution]]) -> Conformity | None:
    """The probability that the true value lies inside every limit (JCGM 106:2012, 7.2 to 7.4).

    Of each limit: how far inside it was observed, and how the error of that is distributed. A true value cannot be
    outside two limits at once, so that what lies outside adds up. None where nothing says how sure the value is.
    """
    found = [(1.0 - error.below(float(room)), error.approximate) for room, error in margins if error.known]
    if not found or len(found) < len(margins):
        return None
    outside, approximate = zip(*found, strict=True)
    return Conformity(max(0.0, 1.0 - sum(outside)), any(approximate))


def _probably(verdict: Verdict, simple: Verdict, conformity: Conformity | None, rule: DecisionRule) -> Verdict:
    """The verdict by probability where there is one; good or bad only where simple acceptance says so too."""
    if conformity is None or rule.probability is None:
        return verdict
    probability = conformity.probability
    if not rule.by_probability:
        return verdict if probability >= rule.probability else Verdict.JUST_IN
    if simple in INSIDE:
        sure = simple is Verdict.IN_SPEC and probability >= rule.probability
        return Verdict.IN_SPEC if sure else Verdict.JUST_IN
    if simple in BEYOND:
        sure = simple is Verdict.OUT and probability <= 1 - rule.probability
        return Verdict.OUT if sure else Verdict.JUST_OUT
    return verdict


def _one(margin: Margin, guard: Decimal) -> Verdict:
    low = _snapped(margin.low, margin.scale)
    high = low if margin.high is margin.low else _snapped(margin.high, margin.scale)
    if high is not None and high < 0:
        if high < -_guarded(margin.U_high, margin.half, guard):
            return Verdict.OUT
        return Verdict.JUST_OUT if margin.exact or low is not None else Verdict.NOT_MEASURED
    if low is None or low < 0 or not margin.whole:
        return Verdict.NOT_MEASURED
    return Verdict.IN_SPEC if low >= _guarded(margin.U_low, margin.half, guard) else Verdict.JUST_IN


def _guarded(U: Decimal, half: Decimal, guard: Decimal) -> Decimal:
    """The guard band: a share of U, and never less than what brackets leave open."""
    return max(U * guard, half)


def _snapped(margin: Decimal | None, scale: Decimal | None) -> Decimal | None:
    return Decimal(0) if margin is not None and is_zero(margin, scale) else margin


def _nearness(margin: Margin) -> Decimal:
    """The margin's own size, by which the worse of two sides with one verdict is named."""
    return margin.high if margin.high is not None else Decimal("Infinity")
