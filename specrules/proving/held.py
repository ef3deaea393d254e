"""What an example's author expected at one station, held against what came out there."""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from specrules.document import shown
from specrules.inspection import Finding
from specrules.pack import Expected, Rule
from specrules.quantity import Exact, Refusal, Unit, fixed, places_to_agree, read_written, show


class Mismatch(NamedTuple):
    """One thing that is not as expected, in words."""

    wanted: str
    came: str


def differences(expected: Expected, finding: Finding, rule: Rule, lengths_in: Unit | None) -> list[Mismatch] | str:
    """All that differs; or, of a figure that cannot be read, what is wrong with it.

    Figures are held at the places that they are written with, in their own unit; `lengths_in`: of a bare length.
    """
    alike = lengths_in is not None and lengths_in.dimension == rule.formula.dimension
    bare = lengths_in if alike else rule.unit
    verdicts = Mismatch(expected.verdict, str(finding.verdict))
    found = [verdicts] if verdicts.wanted != verdicts.came else []
    unit = finding.unit
    value_in_base = None if finding.value is None else unit.to_base(finding.value)
    beyond_in_base = None if finding.beyond is None else unit.difference_to_base(finding.beyond)
    for text, value, head, none in (
        (expected.value, value_in_base, "", "no one figure"),
        (expected.beyond, beyond_in_base, "beyond by ", "nothing beyond a limit"),
    ):
        if not text:
            continue
        written = read_written(text, unit=bare, dimension=rule.formula.dimension)
        if not isinstance(written, Exact):
            return f"{shown(text)} {written.said if isinstance(written, Refusal) else 'is no one figure'}"
        if value is None:
            found.append(Mismatch(f"{head}{text}", none))
        elif _places(written, value) is not None:
            places = _places(written, value) or 0
            wanted, came = (f"{head}{_text(size, written.unit, places)}" for size in (written.value, value))
            found.append(Mismatch(wanted, came))
    if expected.side and expected.side != finding.side:
        found.append(Mismatch(expected.side, finding.side or f"not {expected.side}"))
    return found


def _places(written: Exact, value: Decimal) -> int | None:
    """The places at which the value can be seen to differ; None where it is what is written, at its places."""
    exponent = written.number.as_tuple().exponent
    places = max(0, -exponent) if isinstance(exponent, int) else 0
    number = written.unit.from_base(value)
    if fixed(number, places) == fixed(written.number, places):
        return None
    return places_to_agree(written.number, number, places)


def _text(size: Decimal, unit: Unit, places: int) -> str:
    return f"{show(size, unit, places)} {unit.symbol}".rstrip()
