"""The figures of a finding as text: limits with places of their own, everything else with those of its readings.

A limit is printed as it is. One that has no end, or more digits than anyone needs, is rounded towards the inside at the
places of the readings, so that no reading of so many places changes its side, and is said to be rounded.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Context, Decimal
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from specrules.quantity import YES_NO_UNIT, Unit, fixed, is_zero
from specrules.vocabulary import BEYOND, SIDE_OF, WORN

if TYPE_CHECKING:
    from specrules.inspection.finding_parts import Limits
    from specrules.inspection.report import Finding

MORE = 3
"""Digits that may be added to those measured so that the printed figures add up."""
MOST = 9
"""Digits at which something that is not nothing may print as nothing."""
FINER = 2
"""So many places more than the readings a limit may have, and is still printed whole."""
SHORT = 5
"""A limit of no more places is printed whole, however coarse the readings are."""
SIGNIFICANT = 2
"""Digits that a rounded limit has at the least."""
STEPS = 5
"""Steps of the last place that lie between two rounded limits at the least."""
DESERVED = 3
"""Digits of an amount that is finer than the value beside it: more say nothing."""
_TOO_LONG = 28  # places; behind them may be what a division by 3 leaves
_PAPER = Context(prec=2200, Emin=-3000, Emax=3000)
_INWARD = {"least": ROUND_CEILING, "most": ROUND_FLOOR}


class PrintedLimits(NamedTuple):
    """Limits as they are printed: texts by part, all with the same places, and whether any of them is rounded."""

    texts: dict[str, str]
    places: int
    rounded: bool


def printed_limits(limits: Limits, places: int) -> PrintedLimits:
    """The limits beside readings of so many places."""
    return printed(dict(limits.told()), places)


def printed(limits: Mapping[str, Decimal | None], places: int) -> PrintedLimits:
    """The same of limits by part."""
    given = {part: limit for part, limit in limits.items() if limit is not None}
    judging = [limit for part, limit in given.items() if part != "aim"]
    whole = limit_places(judging, places)
    if not any(own_places(limit) > whole for limit in judging):
        whole = limit_places(given.values(), places)  # an aim has all its places only where limits have
    places = whole
    texts = {part: inward(limit, part, places) for part, limit in given.items()}
    return PrintedLimits(texts, places, any(own_places(limit) > places for limit in given.values()))


def limit_places(limits: Iterable[Decimal], places: int) -> int:
    """How many places some limits are printed to: all that each has, unless one has too many."""
    given = [limit for limit in limits if limit]
    own = [own_places(limit) for limit in given]
    enough = max(places + FINER, SHORT)
    long = [abs(limit) for limit, each in zip(given, own, strict=True) if each > enough]
    if long:
        apart = max(given) - min(given)
        places = max(places, SIGNIFICANT - 1 - min(long).adjusted())
        places = max(places, 0 if is_zero(apart) else -(apart / STEPS).adjusted())
    return max(places, *(each for each in (0, *own) if each <= enough))


@lru_cache(maxsize=4096)  # limits are asked for theirs again and again
def own_places(number: Decimal) -> int:
    """The decimals that a number has."""
    decimals = fixed(number, _TOO_LONG).rstrip("0").partition(".")[2]
    return len(decimals)


def inward(limit: Decimal, part: str, places: int) -> str:
    """A limit in so many places; where that takes something off, it is rounded towards the inside."""
    if own_places(limit) <= places:
        return fixed(limit, places)
    side = next((side for side in _INWARD if part.endswith(side)), "")
    step = Decimal((0, (1,), -places))
    return fixed(limit.quantize(step, _INWARD.get(side, ROUND_HALF_UP), _PAPER), places)


def places_of(finding: Finding) -> int:
    """Decimals for what is printed of a finding besides its limits."""
    places, value = finding.places, nearer_end(finding)
    if value is None:
        return places
    ends = [end for end in (finding.low, finding.high) if end is not None]
    coarser = places - 1
    if finding.value is None and places and all(_whole(each, coarser) for each in ends):
        rounded = printed_limits(finding.limits, coarser).rounded
        places = places if rounded else coarser  # it is the middle of a bracket that would take one more than its ends
    tries = range(places, _TOO_LONG)
    places = next((each for each in tries if _sides_agree(value, finding.limits, each)), places)
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


def amount(value: Decimal | None, finding: Finding) -> str:
    """How far something lies from a limit of this finding."""
    return "" if value is None else amount_beside(value, finding.limits, places_of(finding))


def amount_beside(value: Decimal, limits: Limits, places: int) -> str:
    """How far something lies from one of these limits, beside a value of so many places: finer than that only as far as
    the limits are, and only for the digits that an amount deserves. Limits of inches in millimetres have more."""
    return never_nothing(value, _deserved(value, places, printed_limits(limits, places).places))


def _deserved(amount: Decimal, places: int, of_limits: int) -> int:
    if not amount:
        return max(places, of_limits)
    finest = max(places, min(of_limits, DESERVED - 1 - amount.adjusted()))
    return max(places, own_places(Decimal(fixed(amount, finest))))


def moved(value: Decimal, finding: Finding) -> str:
    """What a value of this finding would be after a step: whole, where that is no finer than amounts may be."""
    places = places_of(finding)
    whole = own_places(value) <= printed_limits(finding.limits, places).places
    return fixed(value, max(places, own_places(value))) if whole else number(value, finding)


def measured(finding: Finding, sign: str = "±") -> str:
    """The value with its uncertainty, or what is sure of it."""
    if finding.unit == YES_NO_UNIT:
        return "" if finding.value is None else "yes" if finding.value else "no"
    if finding.value is not None:
        U = f" {sign}{_to_its_first_digit(finding.U, places_of(finding))}" if finding.U else ""
        return number(finding.value, finding) + U
    if finding.low is not None and finding.high is not None:
        return f"{number(finding.low, finding)} to {number(finding.high, finding)}"
    if finding.low is not None:
        return f"over {number(finding.low, finding)}"
    return f"under {number(finding.high, finding)}" if finding.high is not None else ""


def with_unit(finding: Finding, sign: str = "±") -> str:
    """The same with its unit; "" where nothing is known."""
    value = measured(finding, sign)
    return f"{value} {finding.unit.symbol}".rstrip() if value and finding.unit != YES_NO_UNIT else value


def said_beyond(finding: Finding) -> str:
    """By how much it is beyond its limit, as a clause; what is only so or not so is beyond by no amount."""
    return "" if finding.unit == YES_NO_UNIT else f" by {amount_beyond(finding)}"


def _to_its_first_digit(U: Decimal, places: int) -> str:
    """An uncertainty beside a value of so many places; where that would change it by more than a tenth, its first digit
    at the least."""
    near = abs(Decimal(fixed(U, places)) - U) * 10 <= U
    return fixed(U, places if near else max(places, -U.adjusted()))


def amount_beyond(finding: Finding) -> str:
    """How far it is beyond its limit, or how far at least and at most where the value is not one number."""
    near, far = finding.beyond, finding.beyond_at_most
    apart = _apart(finding, nearer_end(finding))
    said = amount(near, finding) if apart is None else apart
    if finding.value is not None:
        return said
    if far is not None and far != near:
        end = _apart(finding, finding.low if finding.limit_side == "least" else finding.high)
        return f"{said} to {amount(far, finding) if end is None else end}"
    return f"more than {said}" if near else "an unknown amount"


def _apart(finding: Finding, end: Decimal | None) -> str | None:
    """How far apart a printed end and the printed limit are, where the limit is rounded; None where it is not."""
    limits = printed_limits(finding.limits, places_of(finding))
    text = limits.texts.get(_deciding_part(finding))
    if not limits.rounded or text is None or end is None or not finding.beyond:
        return None
    apart = abs(Decimal(number(end, finding)) - Decimal(text))
    return fixed(apart, _deserved(apart, places_of(finding), limits.places))


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


def _whole(number: Decimal, places: int) -> bool:
    return Decimal(fixed(number, places)) == number


def _sides_agree(value: Decimal, limits: Limits, places: int) -> bool:
    """Whether the printed value lies on the side of each printed limit on which it lies."""
    shown, texts = Decimal(fixed(value, places)), printed_limits(limits, places).texts
    for part, limit in limits.told():
        side = SIDE_OF.get(part, "")
        if side and not is_zero(value - limit):
            inside = value > limit if side == "least" else value < limit
            room = shown - Decimal(texts[part]) if side == "least" else Decimal(texts[part]) - shown
            if room < 0 if inside else room >= 0:
                return False
            if inside and room == 0 and own_places(limit) <= places:
                return False  # a limit that is printed whole is not reached
    return True


def _deciding_part(finding: Finding) -> str:
    """The part of the limits that it is judged by on its side."""
    side = finding.limit_side
    return WORN[side] if side in finding.limits.worn else side


def _adds_up(finding: Finding, places: int) -> bool:
    """Whether each printed end and the printed limit differ by the printed amount, which is something."""
    limits = printed_limits(finding.limits, places)
    limit = limits.texts.get(_deciding_part(finding))
    near, far = nearer_end(finding), finding.low if finding.limit_side == "least" else finding.high
    amounts = [(near, finding.beyond)] + ([(far, finding.beyond_at_most)] if finding.value is None else [])
    for end, by in amounts:
        if limit is None or end is None or by is None:
            continue
        apart = abs(Decimal(fixed(end, places)) - Decimal(limit))
        deserved = _deserved(by, places, limits.places)
        if bool(apart) != bool(by) or (not limits.rounded and fixed(apart, deserved) != fixed(by, deserved)):
            return False
    return True
