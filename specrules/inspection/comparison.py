"""Two inspections of one sheet by different packs: which limits differ, in whose favour, and which verdicts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from specrules.formula import Station
from specrules.inspection.finding_parts import Limits
from specrules.inspection.report import Finding, Report
from specrules.quantity import Unit, is_zero
from specrules.vocabulary import MAKERS, SIDE_OF, Reason, Verdict


class Differs(NamedTuple):
    """One part of the limits that is not the same, in the unit shown; None: there is none. `wider`: 0 or 1 for which of
    the two lets more pass, None for an aim. `by`: how far apart, None where one of them has none."""

    part: str
    sizes: tuple[Decimal | None, Decimal | None]
    wider: int | None
    by: Decimal | None


class How(NamedTuple):
    """How two findings of one rule at one place differ. `verdicts`: None where they agree. `lacks`: what each of them
    wants before it has any limits."""

    parts: tuple[Differs, ...]
    verdicts: tuple[Verdict, Verdict] | None
    lacks: tuple[tuple[Reason, ...], tuple[Reason, ...]]


@dataclass(frozen=True, slots=True)
class Difference:
    """One rule at stations where two specifications differ alike. `places`: decimals that readings are written to."""

    rule: str
    title: str
    group: str
    stations: tuple[Station, ...]
    how: How
    unit: Unit
    places: int


@dataclass(frozen=True, slots=True)
class ReportComparison:
    """All that differs. `alone`: rules that only one of the two has. `untold`: those without limits on this sheet, for
    want of readings or of the maker's figure. `alike`: how many rules do not differ."""

    differences: tuple[Difference, ...]
    alone: tuple[tuple[str, ...], tuple[str, ...]]
    untold: tuple[str, ...]
    alike: int


def between(one: Report, other: Report) -> ReportComparison:
    """What differs between two inspections of the same sheet, rule by rule in the order of the first."""
    mine, theirs = _by_place(one), _by_place(other)
    differing: dict[tuple[str, How], list[Finding]] = {}
    lacking: dict[str, None] = {}
    for place, finding in mine.items():
        if place in theirs:
            how = _how(finding, theirs[place])
            if how.parts or how.verdicts:
                differing.setdefault((finding.rule, how), []).append(finding)
            elif all(how.lacks):
                lacking[finding.rule] = None
    found = tuple(_difference(how, findings) for (_, how), findings in differing.items())
    rules, others = ({name: None for name, _ in places} for places in (mine, theirs))
    alone = (tuple(r for r in rules if r not in others), tuple(r for r in others if r not in rules))
    differ = {each.rule for each in found}
    untold = tuple(rule for rule in lacking if rule not in differ)
    return ReportComparison(found, alone, untold, len(rules.keys() & others.keys()) - len(differ) - len(untold))


def _by_place(of: Report) -> Mapping[tuple[str, tuple[tuple[str, str], ...]], Finding]:
    return {(finding.rule, tuple(finding.station.items())): finding for finding in of.findings}


def _difference(how: How, findings: list[Finding]) -> Difference:
    first = findings[0]
    stations = tuple(finding.station for finding in findings)
    places = max(finding.places for finding in findings)
    return Difference(first.rule, first.title, first.group, stations, how, first.unit, places)


def _how(one: Finding, other: Finding) -> How:
    verdicts = (one.verdict, other.verdict) if one.verdict is not other.verdict else None
    lacks = (_lacks(one), _lacks(other))
    told = Verdict.NOT_APPLICABLE not in (one.verdict, other.verdict) and bool(lacks[0]) is bool(lacks[1])
    return How(tuple(_parts(one.limits, other.limits)) if told else (), verdicts, lacks)


def _lacks(finding: Finding) -> tuple[Reason, ...]:
    """What a finding without limits to judge by wants; nothing for one that has some, or never has."""
    wants = finding.rests_on.missing
    has = any(size is not None for size in _sizes(finding.limits).values())
    if finding.verdict not in (Verdict.NOT_MEASURED, Verdict.NO_FIGURE):
        return ()
    return () if has and not any(want.code in MAKERS for want in wants) else wants


def _sizes(limits: Limits) -> dict[str, Decimal | None]:
    sizes = {"least": limits.least, "aim": limits.aim, "most": limits.most}
    return sizes | {"wear least": limits.wear_least, "wear most": limits.wear_most}


def _parts(one: Limits, other: Limits) -> Iterator[Differs]:
    mine, theirs = _sizes(one), _sizes(other)
    for part in (*mine, *(part for part in theirs if part not in mine)):
        sizes = (mine.get(part), theirs.get(part))
        by = abs(sizes[0] - sizes[1]) if sizes[0] is not None and sizes[1] is not None else None
        if sizes != (None, None) and not (by is not None and is_zero(by)):
            yield Differs(part, sizes, wider(part, *sizes), by)


def wider(part: str, one: Decimal | None, other: Decimal | None) -> int | None:
    """Which of two limits lets more pass, 0 or 1, where they are not the same; None for an aim."""
    if part not in SIDE_OF:
        return None
    if one is None or other is None:
        return 0 if one is None else 1
    return int(other < one if SIDE_OF[part] == "least" else other > one)
