"""The figures of a finding as text: enough digits that the printed sum agrees with the verdict, and no more than were
measured."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import TYPE_CHECKING

from specrules.quantity import Unit, fixed, places_to_agree
from specrules.vocabulary import BEYOND

if TYPE_CHECKING:
    from specrules.inspection.report import Finding

MORE = 3
"""Digits that may be added to those measured so that the printed figures add up."""
MOST = 9
"""Digits at which something that is not nothing may print as nothing."""


def places_of(finding: Finding) -> int:
    """Decimals for everything that is printed of a finding."""
    places, value = finding.places, nearer_end(finding)
    if value is None:
        return places
    if finding.value is None and places and all(_whole(each, places - 1) for each in _printed(finding)):
        places -= 1  # it is the middle of a bracket that would take one more than its ends
    for limit in (finding.limits.least, finding.limits.most):
        if limit is not None:
            places = places_to_agree(value, limit, places)
    if (finding.would_be or finding.verdict) not in BEYOND:
        return places
    return next((each for each in range(places, places + MORE + 1) if _adds_up(finding, each)), places)


def nearer_end(finding: Finding) -> Decimal | None:
    """The value, or that end of what is sure of it which lies nearer to the limit that it is beyond."""
    near, far = (finding.high, finding.low) if finding.limit_side == "least" else (finding.low, finding.high)
    return next((number for number in (finding.value, near, far) if number is not None), None)


def never_nothing(number: Decimal, places: int) -> str:
    """A number in so many places, or in as many more as keep something from printing as nothing."""
    while number and places < MOST and not Decimal(fixed(number, places)):
        places += 1
    return fixed(number, places)


def number(value: Decimal | None, finding: Finding) -> str:
    """A value of this finding in its unit, without the unit; never nothing where there is something."""
    return "" if value is None else never_nothing(value, places_of(finding))


def measured(finding: Finding, sign: str = "±") -> str:
    """The value with its uncertainty, or what is sure of it."""
    if finding.value is not None:
        U = f" {sign}{number(finding.U, finding)}" if finding.U else ""
        return number(finding.value, finding) + U
    if finding.low is not None and finding.high is not None:
        return f"{number(finding.low, finding)} to {number(finding.high, finding)}"
    if finding.low is not None:
        return f"over {number(finding.low, finding)}"
    return f"under {number(finding.high, finding)}" if finding.high is not None else ""


def amount_beyond(finding: Finding) -> str:
    """How far it is beyond its limit, or how far at least and at most where the value is not one number."""
    amount = number(finding.beyond, finding)
    if finding.value is not None:
        return amount
    if finding.beyond_at_most is not None and finding.beyond_at_most != finding.beyond:
        return f"{amount} to {number(finding.beyond_at_most, finding)}"
    return f"more than {amount}" if finding.beyond else "an unknown amount"


def span(ends: Sequence[tuple[Decimal | None, Decimal | None]], unit: Unit, places: int) -> str:
    """From the lowest to the highest of what is known, with its unit; an end that is open is said to be."""
    lows, highs = [low for low, _ in ends if low is not None], [high for _, high in ends if high is not None]
    bracketed = any(low != high for low, high in ends)
    if bracketed and places and all(_whole(number, places - 1) for number in (*lows, *highs)):
        places -= 1
    low = fixed(min(lows), places) if len(lows) == len(ends) and lows else ""
    high = fixed(max(highs), places) if len(highs) == len(ends) and highs else ""
    if low and high:
        said = low if low == high else f"{low} to {high}"
    else:
        said = f"over {low}" if low else f"under {high}" if high else ""
    return f"{said} {unit.symbol}".rstrip() if said else ""


def _printed(finding: Finding) -> list[Decimal]:
    """What is printed of a finding that has no one value."""
    limits = finding.limits
    every = (finding.low, finding.high, limits.least, limits.aim, limits.most, finding.beyond, finding.beyond_at_most)
    return [number for number in every if number is not None]


def _whole(number: Decimal, places: int) -> bool:
    return Decimal(fixed(number, places)) == number


def _adds_up(finding: Finding, places: int) -> bool:
    """Whether each printed end and the printed limit differ by the printed amount."""
    limit = finding.limits.least if finding.limit_side == "least" else finding.limits.most
    near, far = nearer_end(finding), finding.low if finding.limit_side == "least" else finding.high
    amounts = [(near, finding.beyond)] + ([(far, finding.beyond_at_most)] if finding.value is None else [])
    for end, amount in amounts:
        if limit is None or end is None or amount is None:
            continue
        printed = [Decimal(fixed(number, places)) for number in (end, limit, amount)]
        if abs(printed[0] - printed[1]) != printed[2] or bool(amount) != bool(printed[2]):
            return False
    return True
