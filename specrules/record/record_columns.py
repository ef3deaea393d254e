"""How things of a kind lie in a table of the JSON record, where what several of them share is said once.

A table is `usual` and `sets`. A set has what all of its things share, and `each`: a column a key, a cell a thing. What
a set does not say is as `usual` has it. Findings that come to the same also share an outcome: `outcomes` has those of
the set in columns, and in `each` stands the number of each finding's.

A thing lies flat in its row. Of a part that it has once the keys stand behind the part's own, `limits least`. Of a list
of parts each key has a list of its own, `steps do`. A label stands behind `station` or `position` and its axis. A part
that others have as well stands once in the table of its kind, and where it belongs its number there, from 0.

All else of the program has `Record`, with every finding whole. How a new field lies follows from its type; a part that
lies in several goes by its number where its model is in `SHARED`. Numbers keep their 12 digits, since `record check`
holds them against each other.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum, auto
from functools import cache
from types import UnionType
from typing import Annotated, Any, NamedTuple, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from specrules.record.finding_record import FigureRecord, FindingRecord, GaugeFigureRecord, InputRecord
from specrules.record.record_part import ReasonRecord, RecordPart, SourceRecord, SuspectRecord
from specrules.validation.base import spaced


class TableOf(NamedTuple):
    """A table. together: the keys that all things of a set share; lead: the key that always has a column.

    apart: where findings of one outcome differ all the same; none: nothing comes to an outcome.
    """

    name: str
    together: tuple[str, ...]
    lead: str
    apart: tuple[str, ...] = ()


TABLES: dict[type[RecordPart], TableOf] = {
    SourceRecord: TableOf("sources", ("kind",), "note"),
    ReasonRecord: TableOf("reasons", ("code", "names"), "labels"),
    GaugeFigureRecord: TableOf("gauge figures", ("gauge",), "figure"),
    SuspectRecord: TableOf("suspects", ("name",), "text"),
    InputRecord: TableOf("inputs", ("name",), "value"),
    FigureRecord: TableOf("figures", ("name",), "value"),
    FindingRecord: TableOf("findings", ("rule",), "verdict", ("inputs", "budget cause")),
}
SHARED: tuple[type[RecordPart], ...] = (SourceRecord, ReasonRecord, GaugeFigureRecord, SuspectRecord, InputRecord)
"""What stands once and goes by its number; each only has those before it."""
OWN: dict[str, type[RecordPart]] = {
    "suspects": SuspectRecord,
    "readings": InputRecord,
    "figures": FigureRecord,
    "findings": FindingRecord,
}
"""The tables of the record itself. Numbers go through its own of a kind first, then through those that are shared."""
OUTCOME = "outcome"


class Lies(Enum):
    """What a key of a row has: its value as it is, labels by axis, a list of parts, or numbers of shared ones."""

    AS_IT_IS = auto()
    LABELS = auto()
    PARTS = auto()
    NUMBER = auto()
    NUMBERS = auto()


class Laid(NamedTuple):
    """What lies in a row: its key there, its path from the thing, and of which model its parts are."""

    key: str
    path: tuple[str, ...]
    lies: Lies
    model: type[RecordPart] | None = None


@cache
def laid(model: type[RecordPart]) -> tuple[Laid, ...]:
    """All that lies in a row of such things; of a part that a thing has once, what it has."""
    return tuple(each for name, field in model.model_fields.items() for each in _laid(name, field))


@cache
def keys_in_row(model: type[RecordPart]) -> tuple[str, ...]:
    """All keys that a row of such things has, but those of labels."""
    made: list[str] = []
    for each in laid(model):
        if each.lies is Lies.PARTS and each.model:
            made += (f"{each.key} {key}" for key in keys_in_row(each.model))
        elif each.lies is not Lies.LABELS:
            made.append(each.key)
    return tuple(made)


@cache
def numbers_in_row(model: type[RecordPart]) -> dict[str, type[RecordPart]]:
    """The keys of a row that have numbers of shared parts, or lists of them, and of which model those are."""
    made: dict[str, type[RecordPart]] = {}
    for each in laid(model):
        if each.model is not None and each.lies is Lies.PARTS:
            made |= {f"{each.key} {key}": kind for key, kind in numbers_in_row(each.model).items()}
        elif each.model is not None:
            made[each.key] = each.model
    return made


def _laid(name: str, field: FieldInfo) -> Iterator[Laid]:
    kind, nullable = _bare(field.annotation)
    of = get_args(kind)
    many = get_origin(kind) is tuple and of[1:] == (...,)
    model = _bare(of[0])[0] if many else kind
    key, path = spaced(name), (name,)
    if kind == dict[str, int | str]:
        yield Laid(key, path, Lies.LABELS)
    elif not (isinstance(model, type) and issubclass(model, RecordPart)):
        yield Laid(key, path, Lies.AS_IT_IS)
    elif model in SHARED:
        yield Laid(key, path, Lies.NUMBERS if many else Lies.NUMBER, model)
    elif many:
        yield Laid(key, path, Lies.PARTS, model)
    elif nullable:
        model.model_rebuild()  # `to_json` of older pydantic doesn't itself build a model whose building was put off
        yield Laid(key, path, Lies.AS_IT_IS)
    else:
        yield from (each._replace(key=f"{key} {each.key}", path=(name, *each.path)) for each in laid(model))


def _bare(kind: Any) -> tuple[Any, bool]:
    """A kind without what pydantic is told of it and without None, and whether None may stand there."""
    nullable = False
    while get_origin(kind) in (Annotated, Union, UnionType):
        args = get_args(kind)
        if get_origin(kind) is Annotated:
            kind = args[0]
            continue
        some = [each for each in args if each is not type(None)]
        nullable = nullable or len(some) < len(args)
        if len(some) > 1:
            break
        kind = some[0]
    return kind, nullable
