"""The limits of a build as forms and cards print them: rule by rule, stations that print alike together."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import groupby
from typing import NamedTuple

from specrules.formula import Station
from specrules.inspection import Examination
from specrules.inspection.digits import SHORT, places_of, printed
from specrules.inspection.limits_of_build import LimitsInForce, limits_in_force
from specrules.output.reasons import said
from specrules.output.telling import HAS_TO_BE_SO, limits_row
from specrules.output.words import listed, name, places, sentence
from specrules.pack import Rule
from specrules.quantity import YES_NO_UNIT
from specrules.vocabulary import Why

DIGITS = 3
"""Digits of a limit that is rounded where nothing was read yet by which it could be."""


class StandingLimits(NamedTuple):
    """What is printed of a rule's limits at some of its stations.

    `where`: which, "" where it is all of them. `texts`: the limits by part, with their places; `exact`: the same as
    they are. `unknown`: a sentence on what is not known yet and what brings it, or on the maker's own; "" where all is
    known.
    """

    rule: Rule
    where: str
    texts: Mapping[str, str]
    exact: Mapping[str, Decimal]
    rounded: bool
    unknown: str

    @property
    def line(self) -> str:
        """All of it in one line; "" where there is no limit and nothing is to be known."""
        limits = limits_row(self.texts, self.rounded, self.rule.unit.symbol, ", ") if self.texts else ""
        if self.rule.unit == YES_NO_UNIT and self.texts:
            limits = HAS_TO_BE_SO
        return ". ".join(filter(None, (limits, self.unknown)))


def limits_standing(examination: Examination, rules: Container[str]) -> Iterator[tuple[Rule, list[StandingLimits]]]:
    """Each of these rules with its limits, in the order of the work; those that have none and lack none left out."""
    decimals: dict[str, int] = {}
    for finding in examination.report.findings:
        if finding.rests_on.found:
            decimals[finding.rule] = max(decimals.get(finding.rule, 0), places_of(finding))
    in_force = limits_in_force(examination, rules)
    for name_, of_name in groupby(in_force, key=lambda entry: entry.rule.name):
        entries = list(of_name)
        several = (
            len({id(entry.rule) for entry in entries}) > 1
        )  # packs that govern it, of which none builds on another
        alike: dict[tuple[object, ...], tuple[StandingLimits, list[Station]]] = {}
        for entry in entries:
            row = _row(entry, decimals.get(name_))
            key = (row.rule.pack, tuple(row.texts.items()), row.rounded, row.unknown)
            alike.setdefault(key, (row, []))[1].extend(entry.stations)
        everywhere = examination.stations(entries[0].rule.each)
        rows = [
            row._replace(where=_where(stations, everywhere, row.rule.pack if several else ""))
            for row, stations in alike.values()
            if row.line
        ]
        if rows:
            yield entries[0].rule, rows


def _row(entry: LimitsInForce, decimals: int | None) -> StandingLimits:
    """`decimals`: those of the readings behind the rule, None where there are none yet."""
    written = max((-int(number.as_tuple().exponent) for number in entry.parts.values()), default=0)
    found = printed(entry.parts, decimals or (written if written <= SHORT else 0))
    if found.rounded and decimals is None:
        smallest = min(abs(number) for number in entry.parts.values() if number)
        found = printed(entry.parts, DIGITS - 1 - smallest.adjusted())
    return StandingLimits(entry.rule, "", found.texts, entry.parts, found.rounded, _unknown(entry))


def _where(stations: Sequence[Station], everywhere: Sequence[Station], pack: str) -> str:
    """Which stations, in the order of the sheet, and which pack's limits; "" where it is all of them and one pack's."""
    where = "" if len(stations) == len(everywhere) else places(sorted(stations, key=everywhere.index))
    return ", ".join(filter(None, (where, f"by {pack}" if pack else "")))


def _unknown(entry: LimitsInForce) -> str:
    """What is not known yet, and what to state, to read or to ask for."""
    if not entry.hangs_on:
        return ""
    facts = dict.fromkeys(each.names[0] for each in entry.hangs_on if each.code is Why.STATE_FACT)
    read = dict.fromkeys(name(each.names[0]) for each in entry.hangs_on if each.code is Why.READ)
    if not facts and not read:
        return " ".join(sentence(said(reason)) for reason in entry.hangs_on)
    wanted = "; ".join(f"{do} {listed(sorted(what))}" for do, what in (("state", facts), ("read", read)) if what)
    some = listed(entry.open) if entry.open else "whether it applies"
    return sentence(f"{some if entry.parts else ''} not known yet: {wanted}".strip())
