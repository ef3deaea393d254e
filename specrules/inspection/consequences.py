"""What findings make of one another, once all are there: rules that need others, and concessions of a sheet."""

from __future__ import annotations

from specrules.formula import Station
from specrules.inspection.report import ConcessionUse, Finding
from specrules.pack import Specification
from specrules.sheet import Sheet
from specrules.sheet.station_cover import touches
from specrules.vocabulary import BEYOND, INSIDE, Verdict


def with_needed_rules(findings: tuple[Finding, ...], sheet: Sheet, spec: Specification) -> tuple[Finding, ...]:
    """A rule may need another: while that one is not good at a station, a good value there is not proven."""
    needed = {need for chain in spec.rules.values() for need in chain.governing[-1].needs if need in spec.rules}
    if not needed:
        return findings
    bad: dict[str, list[Station]] = {}
    for finding in findings:
        if finding.rule in needed and finding.verdict not in (*INSIDE, Verdict.NOT_APPLICABLE):
            bad.setdefault(finding.rule, []).append(finding.station)

    def weighed(finding: Finding) -> Finding:
        if finding.verdict not in INSIDE:
            return finding
        lacking = tuple(
            need
            for need in spec.rules[finding.rule].governing[-1].needs
            for station in bad.get(need, ())
            if touches({axis: (label,) for axis, label in station.items()}, finding.station, sheet, spec.axes)
        )
        if not lacking:
            return finding
        rests_on = finding.rests_on._replace(unsigned=(*finding.rests_on.unsigned, *dict.fromkeys(lacking)))
        return finding._replace(verdict=Verdict.NOT_PROVEN, would_be=finding.verdict, rests_on=rests_on)

    after = tuple(weighed(finding) for finding in findings)
    changed = any(one is not other for one, other in zip(findings, after, strict=True))
    return with_needed_rules(after, sheet, spec) if changed else findings


def conceded(
    findings: tuple[Finding, ...], sheet: Sheet, spec: Specification
) -> tuple[tuple[Finding, ...], tuple[ConcessionUse, ...]]:
    """Mark what a concession covers; a concession that covers nothing is kept and said."""
    if not sheet.concessions:
        return findings, ()
    used: list[list[Station]] = [[] for _ in sheet.concessions]
    waits: list[list[Station]] = [[] for _ in sheet.concessions]

    def marked(finding: Finding) -> Finding:
        beyond = finding.verdict in BEYOND
        if not beyond and finding.would_be not in BEYOND:
            return finding
        for number, concession in enumerate(sheet.concessions):
            if concession.rule == finding.rule and touches(concession.at, finding.station, sheet, spec.axes):
                (used if beyond else waits)[number].append(finding.station)
                return finding._replace(conceded=True) if beyond else finding
        return finding

    after = tuple(marked(finding) for finding in findings)
    uses = tuple(
        ConcessionUse(of.rule, of.reason, of.by, tuple(used_at), tuple(waits_at), of.place)
        for of, used_at, waits_at in zip(sheet.concessions, used, waits, strict=True)
    )
    return after, uses
