"""The one function that decides. Margins in, a verdict out; no verdict hides in a comparison anywhere else.

The four statements are those of the non-binary rule with a guard band equal to U: pass, conditional pass, conditional
fail, fail (ILAC-G8:09/2019, clause 4.2.3). A margin of exactly zero is inside: that choice is ours, and the standard's
closed intervals leave it open. With U zero the rule is simple acceptance (clause 4.2.1).
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from enum import StrEnum
from typing import NamedTuple

from specrules.quantity import is_zero


class Verdict(StrEnum):
    """What an inspection says of one check at one station."""

    IN_SPEC = "in spec"
    JUST_IN = "just in"
    JUST_OUT = "just out"
    OUT = "out of spec"
    NOT_PROVEN = "not proven"
    NOT_MEASURED = "not measured"
    NOT_APPLICABLE = "not applicable"


STATEMENTS = {
    Verdict.IN_SPEC: "pass",
    Verdict.JUST_IN: "conditional pass",
    Verdict.JUST_OUT: "conditional fail",
    Verdict.OUT: "fail",
}
BEYOND = (Verdict.OUT, Verdict.JUST_OUT)
INSIDE = (Verdict.IN_SPEC, Verdict.JUST_IN)


class Margin(NamedTuple):
    """How far inside one limit a value lies, in base units: between `low` and `high`; negative is beyond.

    `None` is an open end. U_low and U_high are the expanded uncertainties of the two ends; `half` is the part of them
    that brackets make up, by which either end may lie further out or in. `whole` is False where something that the
    value stands on is missing. `scale` is the size of what was compared where the formula went through binary
    arithmetic, and the one tolerance is wider; None where it did not.
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


_ORDER = (Verdict.OUT, Verdict.JUST_OUT, Verdict.NOT_MEASURED, Verdict.JUST_IN, Verdict.IN_SPEC)


def decide(margins: Sequence[Margin]) -> Decision:
    """The verdict over all margins: the worst that is sure.

    A range decides where all of it lies on one side; "in spec" never rests on something missing.
    """
    if not margins:
        return Decision(Verdict.NOT_APPLICABLE)
    decided = [(_one(margin), margin) for margin in margins]
    verdict, margin = min(decided, key=lambda pair: (_ORDER.index(pair[0]), _nearness(pair[1])))
    if verdict in BEYOND:
        assert margin.high is not None  # a side that is beyond has a known end
        return Decision(verdict, margin.side, max(Decimal(0), -margin.high - margin.half))
    return Decision(verdict, margin.side if verdict is Verdict.JUST_IN else "")


def _one(margin: Margin) -> Verdict:
    low, high = _snapped(margin.low, margin.scale), _snapped(margin.high, margin.scale)
    if high is not None and high < 0:
        if high < -margin.U_high:
            return Verdict.OUT
        return Verdict.JUST_OUT if margin.exact or low is not None else Verdict.NOT_MEASURED
    if low is None or low < 0 or not margin.whole:
        return Verdict.NOT_MEASURED
    return Verdict.IN_SPEC if low >= margin.U_low else Verdict.JUST_IN


def _snapped(margin: Decimal | None, scale: Decimal | None) -> Decimal | None:
    return Decimal(0) if margin is not None and is_zero(margin, scale) else margin


def _nearness(margin: Margin) -> Decimal:
    """The margin's own size, by which the worse of two sides with one verdict is named."""
    return margin.high if margin.high is not None else Decimal("Infinity")
