"""Whether one thing asks less than another of its kind: decision rules, and what gauges can do.

A decision rule is laxer by how surely what it just passes conforms, with one limit and a normal state of knowledge.
"""

from __future__ import annotations

import math
from decimal import Decimal
from itertools import pairwise

from specrules.pack.capability import Amount, Capability
from specrules.vocabulary import DECISION_RULES, USUAL_DECISION


def laxer(below: str, above: str) -> bool:
    """Whether a decision rule lets more pass than another, "" being the usual one: by how surely what it just passes
    conforms, with one limit and a normal state of knowledge."""
    known = below in ("", *DECISION_RULES) and above in DECISION_RULES
    return known and _surety(above) < _surety(below or USUAL_DECISION)


def _surety(name: str) -> float:
    rule = DECISION_RULES[name]
    if rule.probability is not None:
        return rule.probability
    return 0.5 if rule.simple else 1 - 0.5 * math.erfc(2 * float(rule.guard) / math.sqrt(2))


def surer(below: Capability, above: Capability, part: str) -> bool:
    """Whether a figure of a gauge is smaller than it was at any size, in its fixed part or in its share."""
    if above == below:
        return False
    ends = sorted({Decimal(0), *(end for each in (*below.by_size, *above.by_size) for end in (each.over, each.to))})
    sizes = {*ends, *((one + other) / 2 for one, other in pairwise(ends)), ends[-1] + 1}
    return any(_smaller(*(getattr(each.at(size), part) or Amount() for each in (below, above))) for size in sizes)


def _smaller(below: Amount, above: Amount) -> bool:
    return above.absolute < below.absolute or above.share < below.share
