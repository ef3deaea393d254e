"""What a sheet says of the whole thing, and what stands of its facts with what packs imply or assume.

What a thing has is assumed as most of its kind are, so that sheets older than such a fact keep their shape; what a
verdict stood on is told. Where an assumed kind has other figures than the general ones, a line `from the maker` clears
them with `when`, and not `holds for`, for which an assumed value counts as unstated.
"""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from types import MappingProxyType
from typing import NamedTuple

from specrules.document import shown
from specrules.pack.specification import Specification
from specrules.quantity import nearest
from specrules.vocabulary import Code


class Described(NamedTuple):
    """What a sheet states once for the whole thing: words of choices, numbers in base units, labels."""

    words: Mapping[str, str] = MappingProxyType({})
    numbers: Mapping[str, Decimal] = MappingProxyType({})
    labels: Mapping[str, tuple[str, ...]] = MappingProxyType({})

    @property
    def stated(self) -> frozenset[str]:
        """The facts of which a word or a number is stated."""
        return frozenset((*self.words, *self.numbers))


def words_in(text: str) -> tuple[str, ...]:
    """The labels that a text lists: top, oil."""
    return tuple(word.strip() for word in text.split(","))


def which_of(words: Sequence[str], of: Sequence[str]) -> tuple[tuple[str, ...], list[tuple[Code, str, str]]]:
    """Which labels some words say that there are, in their declared order; what is wrong with the words."""
    wrong = [
        (Code.UNKNOWN_LABEL, f"{shown(word)} is none of {', '.join(of)}", nearest(word, of) or "")
        for word in dict.fromkeys(words)
        if word not in of
    ]
    if len(set(words)) < len(words):
        wrong.append((Code.DEFINED_TWICE, "names a label twice", ""))
    return tuple(label for label in of if label in words), wrong


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
