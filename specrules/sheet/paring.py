"""A sheet as one of two specifications can take it: without what only the other of them knows, or states otherwise.

So `pack compare` judges the sheet by each pack apart.
"""

from __future__ import annotations

from collections.abc import Container, Mapping
from typing import TypeVar

from specrules.document import Fields, Text
from specrules.document.text import fields_at
from specrules.pack import Specification
from specrules.sheet.sheet_reading import RawSheet

T = TypeVar("T")


def pared(raw: RawSheet, spec: Specification, other: Specification) -> RawSheet:
    """The sheet for `specification`. What neither specification knows stays in it, and is a fault as ever."""
    model = raw.model
    facts = _fields(model.facts, spec.facts, other.facts)
    for name in [name for name, value in facts.items() if spec.sets.get(name, value) != value]:
        del facts[name]
    operations = [work for work in model.work_done if _kept(work.operation, spec.operations, other.operations)]
    conceded = [one for one in model.concessions if _kept(one.rule, spec.rules, other.rules)]
    changed = {
        "facts": facts,
        "parts": _fields(model.parts, spec.parts, other.parts),
        "readings": _fields(model.readings, spec.measurands, other.measurands),
        "limits": _mapping(model.limits, spec.rules, other.rules),
        "signed": _mapping(model.signed, spec.sign_offs, other.sign_offs),
        "work_done": tuple(operations),
        "concessions": tuple(conceded),
    }
    return raw._replace(model=model.model_copy(update=changed))


def _kept(name: str, known: Container[str], elsewhere: Container[str]) -> bool:
    return name in known or name not in elsewhere


def _mapping(written: Mapping[Text, T], known: Container[str], elsewhere: Container[str]) -> dict[Text, T]:
    return {name: entry for name, entry in written.items() if _kept(name, known, elsewhere)}


def _fields(written: Fields, known: Container[str], elsewhere: Container[str]) -> Fields:
    made = fields_at(written.place)
    made.update((name, node) for name, node in written.items() if _kept(name, known, elsewhere))
    return made
