"""The limits of a finding's record as they are printed and drawn: with the places of its readings, or finer.

A record prints no limits: it has the decimals to which its numbers are printed (`places`), once where all places of a
check share them.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from functools import lru_cache

from specrules.inspection.digits import PrintedLimits, printed
from specrules.output.telling import HAS_TO_BE_SO, NO_LIMITS, limits_row
from specrules.output.words import sentence
from specrules.quantity import YES_NO_UNIT
from specrules.record import FindingRecord
from specrules.record.finding_record import LimitsRecord
from specrules.vocabulary import LIMIT_PARTS, WORN


def limits_drawn(limits: LimitsRecord) -> Mapping[str, float]:
    """The limits by part, wear limits only where they decide."""
    given = {part: getattr(limits, part.replace(" ", "_")) for part in LIMIT_PARTS}
    decides = {"least", "aim", "most", *(WORN[side] for side in limits.worn)}
    return {part: number for part, number in given.items() if number is not None and part in decides}


def printed_by_part(limits: Mapping[str, float], places: int) -> Mapping[str, str]:
    """Each of these limits as it is printed beside a value of so many places."""
    return _printed(tuple(limits.items()), places).texts


def limits_told(finding: FindingRecord) -> str:
    """The limits in a row, with the unit once; "" where an older record has them in what is said."""
    if finding.places is None:
        return ""
    limits = limits_drawn(finding.limits)
    if finding.unit == YES_NO_UNIT.symbol:
        return HAS_TO_BE_SO if "least" in limits else NO_LIMITS
    found = _printed(tuple(limits.items()), finding.places)
    return limits_row(found.texts, found.rounded, finding.unit, ", ")


def in_full(finding: FindingRecord) -> str:
    """What is said of a finding, and its limits, in sentences."""
    limits = limits_told(finding)
    told = limits if limits in ("", HAS_TO_BE_SO, NO_LIMITS) else f"limits: {limits}"
    return f"{finding.said or sentence(finding.verdict.value)} {sentence(told) if told else ''}".rstrip()


@lru_cache(maxsize=4096)
def _printed(limits: tuple[tuple[str, float], ...], places: int) -> PrintedLimits:
    return printed({part: Decimal(repr(number)) for part, number in limits}, places)
