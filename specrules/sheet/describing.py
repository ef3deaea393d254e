"""What a sheet says of the thing as a whole, and what it says of what the thing does not have."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import TypeVar

from specrules.document import Fault, Fields, Items, Node, Text, shown
from specrules.document.text import fields_at
from specrules.pack import Described, Present, Specification, present
from specrules.pack.said_facts import words_in
from specrules.quantity import Unit
from specrules.sheet.facts import LAYOUT_KINDS, labels_said, said_of
from specrules.sheet.faults import fault
from specrules.sheet.grid import is_open
from specrules.sheet.sheet_reading import RawSheet
from specrules.vocabulary import Code

T = TypeVar("T")


def described(stated: Fields, spec: Specification, lengths_in: Unit | None) -> Described:
    """The facts that a sheet states once for the whole thing; what is at fault is told elsewhere."""
    words: dict[str, str] = {}
    numbers: dict[str, Decimal] = {}
    labels: dict[str, tuple[str, ...]] = {}
    for name, node in stated.items():
        fact = spec.facts.get(name)
        if fact is not None and fact.kind == "labels" and (there := labels_said(node, fact, [])):
            labels[fact.name] = words_in(there)
        if fact is None or not isinstance(node, Text) or is_open(node):
            continue
        if fact.kind in LAYOUT_KINDS:
            if fact.kind == "count" and node.isdecimal() and node.isascii():
                numbers[fact.name] = Decimal(node)
            continue
        value, U = said_of(node, fact, lengths_in)
        if isinstance(value, Decimal) and U is None:
            numbers[fact.name] = value
        elif isinstance(value, str):
            words[fact.name] = value
    return Described(words, numbers, labels)


def held_against(
    raw: RawSheet, spec: Specification, said: Described
) -> tuple[RawSheet, Specification, tuple[Fault, ...]]:
    """The sheet without what the thing does not have, and the specification of what it has. To state, read or limit
    what is absent is a fault; sign-offs that are not needed may have been given all the same."""
    here = present(spec, said)
    if here.spec is spec:
        return raw, spec, ()
    faults: list[Fault] = []
    model = raw.model
    changed = {
        "facts": _fields("facts", model.facts, here.names, here, said, faults),
        "readings": _fields("readings", model.readings, here.names, here, said, faults),
        "parts": _fields("parts", model.parts, here.parts, here, said, faults),
        "limits": _mapping("limits", model.limits, here, said, faults),
        "signed": {name: each for name, each in model.signed.items() if name not in here.sign_offs},
    }
    conceded = [one for one in model.concessions if one.rule in here.rules]
    faults += (_absent(one.rule, "concessions", here.rules[one.rule], here.spec, said) for one in conceded)
    changed["concessions"] = tuple(one for one in model.concessions if one.rule not in here.rules)
    return raw._replace(model=model.model_copy(update=changed)), here.spec, tuple(faults)


def _fields(
    section: str, written: Fields, absent: Mapping[str, str], here: Present, said: Described, faults: list[Fault]
) -> Fields:
    """What is written without what is absent."""
    made = fields_at(written.place)
    for name, node in written.items():
        if name not in absent:
            made[name] = node
        elif _says_something(node):
            faults.append(_absent(name, section, absent[name], here.spec, said))
    return made


def _mapping(
    section: str, written: Mapping[Text, T], here: Present, said: Described, faults: list[Fault]
) -> dict[Text, T]:
    faults += (_absent(name, section, here.rules[name], here.spec, said) for name in written if name in here.rules)
    return {name: each for name, each in written.items() if name not in here.rules}


def _absent(name: Text, section: str, by: str, spec: Specification, said: Described) -> Fault:
    """The fault of something written about what is absent: it names the fact that says so."""
    if not by:
        return fault(name.place, section, Code.ABSENT, f"{shown(name)} is about what is not there")
    number = f"{said.numbers[by].normalize():f}" if by in said.numbers else ""
    stated = said.words.get(by) or ", ".join(said.labels.get(by, ())) or number
    how = f"is {stated}" if stated else f"is taken to be {spec.sets.get(by) or spec.facts[by].assumed}"
    told = f"{shown(name)} is about what is not there, since {by} {how}"
    return fault(name.place, section, Code.ABSENT, told, f"nothing there, or another {by} under facts")


def _says_something(node: Node) -> bool:
    """Whether anything is written below a node: `open` and empty cells say nothing."""
    return not is_open(node) if isinstance(node, Text) else any(map(_says_something, _below(node)))


def _below(node: Fields | Items) -> Iterator[Node]:
    yield from node.values() if isinstance(node, Fields) else node
