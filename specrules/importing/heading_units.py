"""The unit that a heading says of its figures: in brackets, as a word, or not surely any."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from specrules.document import Fault, shown
from specrules.importing.map_reading import Target
from specrules.importing.table_cells import TableCell
from specrules.quantity import Dimension, Refusal, Unit, find_unit
from specrules.vocabulary import Code

INCH = "in"
"""The unit whose name is a word of its own."""

_IN_BRACKETS = re.compile(r"[(\[]\s*([^()\[\]]+?)\s*[)\]]")
_WORD = re.compile(r"[^\s,;:/_]+")


class SaidUnits(NamedTuple):
    """Where the unit of a column's figures is said: by the map or the heading, or for all that say none."""

    own: Unit | None
    usual: Unit | None


def units_of(heading: TableCell, target: Target, usual: Mapping[Dimension, Unit]) -> SaidUnits | Fault:
    """The units of the figures under a heading; a fault where it may say another than the map does.

    In brackets it says one, whatever the map says for all headings. As a mere word, `Gap thou`, it says one where the
    map says none for all, and has to agree with it otherwise; `in` is a word of its own.
    """
    measurand, own = target.measurand, target.unit
    dimension, all_in = measurand.unit.dimension, usual.get(measurand.unit.dimension)

    def unclear(said: str) -> Fault:
        return heading.fault(Code.AMBIGUOUS_UNIT, said, "unit: for this heading in the map", measurand.name)

    brackets = _IN_BRACKETS.findall(heading.text)
    in_brackets = {name: find_unit(name, dimension=dimension, beside=all_in) for name in brackets}
    said = [found for found in in_brackets.values() if isinstance(found, Unit) and found.dimension == dimension]
    words = {name: find_unit(name, dimension=dimension) for name in _unit_words(_IN_BRACKETS.sub(" ", heading.text))}
    as_words = [found for found in words.values() if isinstance(found, Unit) and found.dimension == dimension]
    if own is not None:
        other = next((found for found in (*said, *as_words) if found != own), None)
        if other is None or (other.symbol == INCH and other not in said):
            return SaidUnits(own, all_in)
        told = f"names {other.symbol}, and the map says {own.symbol}"
        return heading.fault(Code.CONTRADICTION, told, "", measurand.name)
    for name, found in in_brackets.items():
        if isinstance(found, Refusal) and (found.code == Code.AMBIGUOUS_UNIT or found.write):
            return unclear(f"{shown(name)} {found.said}")
        if isinstance(found, Unit) and found.dimension != dimension and len(name) > 1:
            return unclear(f"names {found.symbol}, and {measurand.name} is {dimension.words()}")
    named = said or as_words
    if len(set(named)) > 1:
        return unclear("names two units")
    if not said and named and named[0] != all_in and (all_in is not None or named[0].symbol == INCH):
        otherwise = f"the map {all_in.symbol}" if all_in is not None else "the word in"
        return unclear(f"may say {named[0].symbol}, {'and' if all_in is not None else 'or'} {otherwise}")
    return SaidUnits(named[0] if named else None, all_in)


def _unit_words(text: str) -> Iterator[str]:
    """The words of a heading that may be a unit: of two letters at least, and not of an amount, as in 10 mm below."""
    before = ""
    for word in _WORD.findall(text):
        if len(word) > 1 and not before[-1:].isdigit():
            yield word
        before = word
