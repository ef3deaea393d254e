"""The one function that decides. Margins in, a verdict out; no verdict hides in a comparison anywhere else.

The four statements are those of the non-binary rule with a guard band equal to U: pass, conditional pass, conditional
fail, fail (ILAC-G8:09/2019, clause 4.2.3). A margin of exactly zero is inside: that choice is ours, and the standard's
closed intervals leave it open. With U zero the rule is simple acceptance (clause 4.2.1).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import NamedTuple

from specrules.quantity import is_zero
from specrules.vocabulary import BEYOND, DECISION_RULES, USUAL_DECISION, DecisionRule, Verdict


class Margin(NamedTuple):
    """How far inside one limit a value lies, in base units: between `low` and `high`; negative is beyond.

    `None` is an open end. U_low is how far below the low end the true margin may be, U_high how far above the high
    one (k = 2); `half` is the part of them that brackets make up, `u` the standard uncertainty. `whole` is False where
    something that the value stands on is missing. `scale` is the size of what was compared where the formula went
    through binary arithmetic, and the one tolerance is wider; None where it did not.
    """

    side: str  # least or most
    low: Decimal | None
    high: Decimal | None
    U_low: Decimal = Decimal(0)
    U_high: Decimal = Decimal(0)
    whole: bool = True
    scale: Decimal | None = None
    half: Decimal = Decimal(0)
    u: float = 0.0

    @property
    def exact(self) -> bool:
        """One number, not a range."""
        return self.low is not None and self.low == self.high


class Decision(NamedTuple):
    """The verdict, the side it is beyond (or nearest to), and by how much beyond at the least (0 where inside)."""

    verdict: Verdict
    side: str = ""
    beyond: Decimal | None = None


_ORDER = (Verdict.OUT, Verdict.JUST_OUT, Verdict.NOT_MEASURED, Verdict.JUST_IN, Verdict.IN_SPEC)


def decide(margins: Sequence[Margin], rule: DecisionRule = DECISION_RULES[USUAL_DECISION]) -> Decision:
    """The verdict over all margins: the worst that is sure.

    A range decides where all of it lies on one side; "in spec" never rests on something missing.
    """
    if not margins:
        return Decision(Verdict.NOT_APPLICABLE)
    verdict, margin = _one(margins[0], rule.guard), margins[0]
    for other in margins[1:]:
        by_other = _one(other, rule.guard)
        worse = _ORDER.index(by_other) - _ORDER.index(verdict)
        if worse < 0 or (worse == 0 and _nearness(other) < _nearness(margin)):
            verdict, margin = by_other, other
    if rule.probability is not None:
        verdict = _probably(verdict, margins, rule.probability)
    if verdict in BEYOND:
        assert margin.high is not None  # a side that is beyond has a known end
        return Decision(verdict, margin.side, max(Decimal(0), -margin.high - margin.half))
    return Decision(verdict, margin.side if verdict is Verdict.JUST_IN else "")


_ROOT_OF_TWO = math.sqrt(2)


def conformity(margins: Sequence[Margin]) -> float | None:
    """The probability that the true value lies inside every limit, the state of knowledge being normal.

    JCGM 106:2012, 7.2 to 7.4; with a limit that is uncertain itself the margin's own uncertainty counts. None where
    nothing says how sure the value is, or part of it is missing.
    """
    rooms = [margin.low for margin in margins if margin.exact and margin.whole and margin.low is not None]
    if not margins or len(rooms) < len(margins):
        return None
    return probably_inside(rooms, [margin.u for margin in margins])


def probably_inside(rooms: Iterable[Decimal], us: Iterable[float]) -> float | None:
    """The same of how far inside each limit a value is, and the standard uncertainty of that."""
    outside = 0.0
    for room, u in zip(rooms, us, strict=True):
        if not u:
            return None
        outside += 0.5 * math.erfc(float(room) / u / _ROOT_OF_TWO)
    return max(0.0, 1.0 - outside)


def _probably(verdict: Verdict, margins: Sequence[Margin], wanted: float) -> Verdict:
    """The verdict by probability, for a value of which one number is known."""
    probability = conformity(margins)
    if probability is None:
        return verdict
    if probability >= wanted:
        return Verdict.IN_SPEC
    beyond = verdict in BEYOND
    if probability <= 1 - wanted and beyond:
        return Verdict.OUT
    return Verdict.JUST_OUT if beyond else Verdict.JUST_IN


def _one(margin: Margin, guard: Decimal) -> Verdict:
    low, high = _snapped(margin.low, margin.scale), _snapped(margin.high, margin.scale)
    if high is not None and high < 0:
        if high < -_guarded(margin.U_high, margin.half, guard):
            return Verdict.OUT
        return Verdict.JUST_OUT if margin.exact or low is not None else Verdict.NOT_MEASURED
    if low is None or low < 0 or not margin.whole:
        return Verdict.NOT_MEASURED
    return Verdict.IN_SPEC if low >= _guarded(margin.U_low, margin.half, guard) else Verdict.JUST_IN


def _guarded(U: Decimal, half: Decimal, guard: Decimal) -> Decimal:
    """The guard band: a share of U, and never less than what brackets leave open."""
    return U if guard == 1 else max(U * guard, half)


def _snapped(margin: Decimal | None, scale: Decimal | None) -> Decimal | None:
    return Decimal(0) if margin is not None and is_zero(margin, scale) else margin


def _nearness(margin: Margin) -> Decimal:
    """The margin's own size, by which the worse of two sides with one verdict is named."""
    return margin.high if margin.high is not None else Decimal("Infinity")
