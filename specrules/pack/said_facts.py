"""What a sheet says of the whole thing, and what stands of its facts with what packs imply or assume."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType
from typing import NamedTuple

from specrules.pack.naming import words_in
from specrules.pack.specification import Specification


class Described(NamedTuple):
    """What a sheet states once for the whole thing: words of choices, numbers in base units, labels."""

    words: Mapping[str, str] = MappingProxyType({})
    numbers: Mapping[str, Decimal] = MappingProxyType({})
    labels: Mapping[str, tuple[str, ...]] = MappingProxyType({})

    @property
    def stated(self) -> frozenset[str]:
        """The facts of which a word or a number is stated."""
        return frozenset((*self.words, *self.numbers))


def stated_facts(spec: Specification, said: Described) -> tuple[dict[str, str], dict[str, Decimal]]:
    """The words and numbers that stand: what is stated, else what the packs imply or assume."""
    words, numbers = dict(said.words), dict(said.numbers)
    for fact in spec.facts.values():
        implied = spec.sets.get(fact.name, "") or fact.assumed
        if fact.kind == "labels":
            continue
        if implied and fact.choices:
            words.setdefault(fact.name, implied)
        elif implied and fact.kind == "count":
            numbers.setdefault(fact.name, Decimal(implied))
        elif fact.assumed_figure is not None and fact.assumed_figure.U is None:
            numbers.setdefault(fact.name, fact.assumed_figure.value)
    return words, numbers


def lacking_labels(spec: Specification, said: Described) -> dict[str, frozenset[str]]:
    """The labels that axes have not: of what is stated, else of what the packs imply or assume."""
    found: dict[str, frozenset[str]] = {}
    for axis in spec.axes.values():
        implied = spec.sets.get(axis.labels, "") or (spec.facts[axis.labels].assumed if axis.labels else "")
        there = said.labels.get(axis.labels) or words_in(implied)
        if any(there) and (lacking := frozenset(axis.names) - set(there)):
            found[axis.name] = lacking
    return found
