"""From the texts of a sheet and of packs to an inspection, for the tests that judge whole builds."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from decimal import Decimal
from functools import cache
from typing import NamedTuple

from specrules.inspection import Examination, Finding, Options, Report, WholeFinding
from specrules.output.reasons import said
from specrules.pack import Specification
from specrules.pack.pack_reading import read_pack
from specrules.pack.resolving import resolve
from specrules.plugins import plug
from specrules.quantity import Exact, Unit, fixed, read_written, show
from specrules.sheet import Sheet, read_sheet, settle
from specrules.vocabulary import Reason
from tests import shipped

FILE = "engine.sheet.yaml"


class Outcome(NamedTuple):
    """What came of one sheet: an inspection, or the faults that kept it from being made."""

    inspection: Report | None
    faults: tuple[str, ...]


@cache
def resolved(
    packs: tuple[tuple[str, str], ...], asked: tuple[str, ...]
) -> tuple[Specification | None, tuple[str, ...]]:
    """The specification of the packs asked for, out of those that ship and of these (name, text)."""
    known, faults = list(shipped.packs(*shipped.RULED)), []
    for name, text in packs:
        pack, wrong = read_pack([(f"{name}.pack.yaml", text.encode())])
        faults += [fault.sentence() for fault in wrong]
        known += [pack] if pack is not None else []
    if faults:
        return None, tuple(faults)
    made, more = resolve(known, asked, plug().functions)
    return made, tuple(fault.sentence() for fault in more)


def settled(sheet: str, packs: Mapping[str, str]) -> tuple[Sheet | None, Specification | None, tuple[str, ...]]:
    """A sheet's text against its packs, or every fault of the first step that has any."""
    raw, wrong = read_sheet(sheet.encode(), FILE)
    if raw is None or wrong:
        return None, None, tuple(fault.sentence() for fault in wrong)
    made, faults = resolved(tuple(packs.items()), tuple(map(str, raw.packs)))
    if made is None:
        return None, None, faults
    read, wrong = settle(raw, made)
    return read, made, tuple(fault.sentence() for fault in wrong)


def run(sheet: str, packs: Mapping[str, str], options: Options | None = None) -> Outcome:
    """Everything from the texts of a sheet and its packs to an inspection; simple acceptance where nothing is said."""
    read, made, faults = settled(sheet, packs)
    if read is None or made is None:
        return Outcome(None, faults)
    examined = Examination(read, made, options or Options(decision="simple"))
    whole = tuple(map(examined.whole, examined.report.findings))
    return Outcome(replace(examined.report, findings=whole), ())


def whole(finding: Finding) -> WholeFinding:
    """All that a finding of these tests stands on: their reports hold whole findings."""
    assert isinstance(finding, WholeFinding)
    return finding


def inspected(sheet: str, packs: Mapping[str, str] | None = None, options: Options | None = None) -> Report:
    """The inspection of a sheet that has no fault."""
    found, faults = run(sheet, packs or {}, options)
    assert found is not None, faults
    return found


def finding(inspection: Report, rule: str, **station: str) -> WholeFinding:
    """The one finding of a rule at a station."""
    found = [each for each in inspection.findings if each.rule == rule and each.station == station]
    assert len(found) == 1, (rule, station, [each.station for each in inspection.findings if each.rule == rule])
    return whole(found[0])


def words(reasons: Iterable[Reason]) -> tuple[str, ...]:
    """Reasons as a screen puts them."""
    return tuple(map(said, reasons))


def same(actual: Decimal | None, text: str, unit: Unit) -> bool:
    """Whether a number of this unit is what is written: exactly, or to the places written where it says `about`."""
    if text == "none" or actual is None:
        return actual is None and text == "none"
    written = read_written(text.removeprefix("about "), unit=unit, dimension=unit.dimension)
    assert isinstance(written, Exact), f"{text!r} is no figure"
    if text.startswith("about "):
        places = max(-int(written.number.as_tuple().exponent), 0)
        in_its_unit = (
            fixed(actual, places) if written.unit == unit else show(unit.to_base(actual), written.unit, places)
        )
        return Decimal(in_its_unit) == written.number
    return actual == unit.from_base(written.value)


def shown(actual: Decimal | None, unit: Unit) -> str:
    """A number of this unit as a failing test says it: to every digit."""
    return "none" if actual is None else f"{actual:f} {unit.symbol}".rstrip()
