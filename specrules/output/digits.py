"""How many digits to print: enough that the printed sum agrees with the verdict, and no more than were measured."""

from __future__ import annotations

from decimal import Decimal

from specrules.inspection import BEYOND, Finding
from specrules.quantity import places_to_agree, show

MORE = 3
"""Digits that may be added to those measured, to tell a value from a limit that it would print alike."""


def places_of(finding: Finding) -> int:
    """Decimals for everything that is printed of a finding."""
    places, value = finding.places, _value(finding)
    if value is None:
        return places
    for limit in (finding.limits.least, finding.limits.most):
        if limit is not None:
            places = min(places_to_agree(value, limit, finding.unit, places), finding.places + MORE)
    verdict = finding.would_be or finding.verdict
    if verdict in BEYOND and finding.beyond is not None:
        while places < finding.places + MORE and not _adds_up(finding, value, places):
            places += 1
    return places


def _adds_up(finding: Finding, value: Decimal, places: int) -> bool:
    """Whether the printed value and limit differ by the printed amount."""
    limit = finding.limits.least if finding.limit_side == "least" else finding.limits.most
    if limit is None or finding.beyond is None:
        return True
    printed = [Decimal(show(number, finding.unit, places)) for number in (value, limit, finding.beyond)]
    return printed[2] != 0 and abs(printed[0] - printed[1]) == printed[2]


def _value(finding: Finding) -> Decimal | None:
    """The value, or that end of what is sure of it which lies nearer to the limit that it is beyond."""
    near, far = (finding.high, finding.low) if finding.limit_side == "least" else (finding.low, finding.high)
    return next((number for number in (finding.value, near, far) if number is not None), None)
