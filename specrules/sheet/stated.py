"""Stated facts that look like a slip: outside the figures that the packs call usual, and what they may have been."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from specrules.pack import Fact, Specification
from specrules.quantity import LENGTH, NUMBER, Bracket, Exact, Unit
from specrules.sheet.bare_figures import bare_unit
from specrules.sheet.corrections import read_figure
from specrules.sheet.family import Suspect
from specrules.sheet.reading_slips import (
    INCH,
    LENGTHS,
    OTHERS,
    Factors,
    explanations,
    far_outside,
    is_usual,
    not_usual,
    outside,
    plain,
)
from specrules.sheet.sheet_parts import FactValue, Sheet
from specrules.vocabulary import WrittenAs

FOREIGN: Factors = ((INCH,), *LENGTHS)
"""A length that is written in the other system of units than the sheet: first that its unit is the wrong one."""


def stated_suspects(sheet: Sheet, spec: Specification) -> Iterator[Suspect]:
    """Every stated figure outside the usual ones, each once however many stations it stands for."""
    for name, values in sheet.facts.items():
        fact, told = spec.facts[name], set()
        for value in values:
            if fact.usual is not None and isinstance(value.value, Decimal) and value.place not in told:
                told.add(value.place)
                if outside(value.value, fact.usual):
                    yield _suspect(value, value.value, fact, fact.usual, sheet.unit)


def _suspect(stated: FactValue, value: Decimal, fact: Fact, usual: Bracket, lengths_in: Unit | None) -> Suspect:
    dimension = fact.unit.dimension if fact.unit else NUMBER
    written = read_figure(stated.text, bare_unit(fact.unit, lengths_in) if fact.unit else None, dimension)
    assert isinstance(written, Exact)  # it was read the same way before
    unit, is_length = written.unit, dimension == LENGTH
    foreign = is_length and lengths_in is not None and unit.of_inches != lengths_in.of_inches
    factors = FOREIGN if foreign else LENGTHS if is_length else OTHERS
    shown_in = lengths_in if foreign and lengths_in is not None else unit
    known = foreign or far_outside(value, usual)
    ways = explanations(value, lambda size: is_usual(size, usual), factors) if known else []
    undone = [plain(way.undone(value), shown_in, way.undone(written.place_value)) for way in ways]
    would_be, reason = None, not_usual(usual, fact.unit or unit, undone)
    if len(ways) == 1:
        would_be = ways[0].undone(value)
        written_as = WrittenAs.OTHER_SYSTEM if foreign and ways[0].times == INCH else None
        reason = ways[0].reason("usual figures", undone[0], written_as)
    return Suspect(
        stated.name,
        stated.station,
        None,
        stated.place,
        stated.text,
        would_be,
        shown_in,
        (),
        reason,
        fact.at,
        confirmed=stated.confirmed,
    )
