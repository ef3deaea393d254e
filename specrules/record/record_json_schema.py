"""The JSON Schema of a record, out of its model and of how that lies in tables."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from specrules.record.inspection_record import Record
from specrules.record.record_columns import OUTCOME, OWN, SHARED, TABLES, Laid, Lies, laid
from specrules.record.record_comparison import RecordComparison
from specrules.record.record_part import ReasonRecord, RecordPart
from specrules.validation.base import spaced
from specrules.validation.editors import DIALECT, ForEditors, Schema

TABLE = (
    "; a set is what its things share, `each` the rest of them in columns, and what neither says is as `usual` says it"
)
OF_OUTCOMES = "; what findings of one outcome share stands in `outcomes` at the number that `outcome` says"
_NUMBER: Schema = {"type": "integer", "minimum": 0}
_NULL: Schema = {"type": "null"}


class _RecordSchema(ForEditors):
    """Null is written in a record, where a person would leave the key out."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        return GenerateJsonSchema.nullable_schema(self, schema)


def comparison_schema() -> Schema:
    """The JSON Schema of two records held against each other."""
    made: dict[str, Any] = RecordComparison.model_json_schema(schema_generator=_RecordSchema)
    return {"$schema": DIALECT, **made}


def record_schema() -> Schema:
    """The JSON Schema of a record."""
    made: dict[str, Any] = Record.model_json_schema(schema_generator=_RecordSchema)
    whole, properties = made["$defs"], made["properties"]
    tables: Schema = {}
    for model in TABLES:
        tables |= _table(model, whole)
    for key, model in OWN.items():
        ref = _ref(_name(model, "Table"))
        told = properties[key]["description"] + TABLE + (OF_OUTCOMES if TABLES[model].apart else "")
        properties[key] = {"description": told, **({"anyOf": [ref, _NULL]} if _nullable(properties[key]) else ref)}
    properties["shared"] = {
        "description": "what several things of the record have, each said once and numbered from 0 in its order",
        "type": "object",
        "properties": {
            TABLES[model].name: {"description": _counted(model), **_ref(_name(model, "Table"))} for model in SHARED
        },
        "required": [TABLES[model].name for model in SHARED],
        "additionalProperties": False,
    }
    made["required"].append("shared")
    defs = {**made.pop("$defs"), **tables}
    return {"$schema": DIALECT, **made, "$defs": {name: defs[name] for name in sorted(_needed(made, defs))}}


def _table(model: type[RecordPart], whole: Schema) -> Schema:
    """The schemas of a table of such things, by their names."""
    constants = dict(_constants(model, whole))
    usual, columns = _name(model, "Usual"), _name(model, "Columns")
    each: Schema = {
        key: {"description": said["description"], "type": "array", "items": _untold(said)}
        for key, said in constants.items()
    }
    labels: Schema = {}
    for field in laid(model):
        if field.lies is Lies.LABELS:
            of = _leaf(model, field, whole)
            label = next(each for each in (of, *of.get("anyOf", ())) if "additionalProperties" in each)
            told = f"{of['description']}: the labels of each, the axis behind `{field.key}`"
            labels[f"^{field.key} "] = {
                "description": told,
                "type": "array",
                "items": label["additionalProperties"],
            }
            if _nullable(of):
                each[field.key] = {"description": "null where it is not known", "type": "array", "items": _NULL}
    by_label: Schema = {"patternProperties": labels} if labels else {}
    parts: Schema = {"each": {"description": "a column a key, a cell a thing", **_ref(columns)}}
    if TABLES[model].apart:
        parts["outcomes"] = {"description": "a column a key, a cell an outcome", **_ref(columns)}
        told = "the number of the outcome of each, from 0"
        each = {**each, OUTCOME: {"description": told, "type": "array", "items": _NUMBER}}
    sets: Schema = {"description": "the sets in order", "type": "array", "items": _ref(_name(model, "Set"))}
    said: Schema = {"description": "what holds wherever a set says nothing else", **_ref(usual)}
    return {
        usual: _closed(constants),
        columns: {**_closed(each), **by_label, "minProperties": 1},
        _name(model, "Set"): {**_closed({**constants, **parts}), "required": list(parts)},
        _name(model, "Table"): {**_closed({"usual": said, "sets": sets}), "required": ["usual", "sets"]},
    }


def _constants(model: type[RecordPart], whole: Schema) -> Iterator[tuple[str, Schema]]:
    """What may stand at each key of a row but those of labels."""
    for field in laid(model):
        key, leaf, of = field.key, _leaf(model, field, whole), field.model
        told = {"description": leaf.get("description", "")}
        if of is None:
            if field.lies is not Lies.LABELS:
                yield key, _said(leaf) if model is ReasonRecord and key == "said" else leaf
        elif field.lies is Lies.PARTS:
            for inner, schema in _constants(of, whole):
                yield (
                    f"{key} {inner}",
                    {
                        "description": f"{told['description']}: {schema.get('description', inner)}",
                        **_or_null({"type": "array", "items": _untold(schema)}, leaf),
                    },
                )
        else:
            number = _NUMBER if field.lies is Lies.NUMBER else {"type": "array", "items": _NUMBER}
            yield key, {"description": f"{told['description']}: {_where(of)}", **_or_null(number, leaf)}


def _said(text: Schema) -> Schema:
    """Of reasons that differ by their labels alone: the text in pieces."""
    piece = {"type": "array", "items": {"anyOf": [_untold(text), _NUMBER]}}
    told = f"{text['description']}; or that in pieces, a number standing for the label of that number, from 0"
    return {"description": told, "anyOf": [_untold(text), piece]}


def _leaf(model: type[RecordPart], field: Laid, whole: Schema) -> Schema:
    """The schema of what a key of a row has, as the thing itself has it."""
    at: Schema = _ref(model.__name__)
    for step in field.path:
        at = whole[at["$ref"].removeprefix("#/$defs/")]["properties"][spaced(step)]
    return at


def _counted(model: type[RecordPart]) -> str:
    own = [key for key, of in OWN.items() if of is model]
    return f"numbered on from those of `{own[0]}`, which are not said again" if own else "numbered from 0"


def _where(model: type[RecordPart]) -> str:
    own = [f"`{key}` and then " for key, of in OWN.items() if of is model]
    return f"the number in {''.join(own)}`{TABLES[model].name}` of `shared`, from 0"


def _closed(properties: Schema) -> Schema:
    return {"type": "object", "properties": properties, "additionalProperties": False}


def _nullable(schema: Schema) -> bool:
    return _NULL in schema.get("anyOf", ())


def _or_null(schema: Schema, like: Schema) -> Schema:
    return {"anyOf": [schema, _NULL]} if _nullable(like) else schema


def _untold(schema: Schema) -> Schema:
    return {key: value for key, value in schema.items() if key != "description"}


def _ref(name: str) -> Schema:
    return {"$ref": f"#/$defs/{name}"}


def _name(model: type[RecordPart], part: str) -> str:
    return model.__name__.removesuffix("Record") + part


def _needed(schema: Schema, defs: Schema) -> set[str]:
    """The definitions that a schema needs, and those that these need."""
    found: set[str] = set()
    todo: list[Any] = [schema]
    while todo:
        part = todo.pop()
        if isinstance(part, list):
            todo += part
        elif isinstance(part, dict):
            todo += (each for key, each in part.items() if key != "$ref")
            name = part.get("$ref", "").removeprefix("#/$defs/").split("/")[0]
            if name and name not in found:
                found.add(name)
                todo.append(defs[name])
    return found
