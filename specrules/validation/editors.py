"""The JSON Schema of a file that people write, for editors, out of its model.

An editor reads a file by YAML's own schema: `2.4990` is a number to it, an empty value null, `yes` a boolean to some.
So a leaf may be any scalar here, however strict its text is read afterwards, while the structure is as strict as the
models: closed mappings, lists where lists belong, words from a list where there is one (JSON Schema 2020-12).
"""

from __future__ import annotations

from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from specrules.quantity.tolerance_class import WRITTEN_CLASS
from specrules.validation.base import FileModel

DIALECT = "https://json-schema.org/draft/2020-12/schema"
SCALAR = ("string", "number", "boolean")
SCALARS = frozenset((*SCALAR, "integer"))
ONE_LINE = "one line of limits, without the list"

Schema = dict[str, Any]

_NAMED = ("properties", "patternProperties", "$defs")
_WITHIN = ("items", "additionalProperties")
SHORT_LIMITS = {"anyOf": [{"type": "string", "pattern": f"^(none|{WRITTEN_CLASS})$"}, {"type": "object"}]}
"""Limits written short: none, a size with its class, or one line."""


class ForEditors(GenerateJsonSchema):
    """Schemas without what only a program wants: titles made from names, and what stands for a key left out."""

    def field_title_should_be_set(self, schema: Any) -> bool:  # noqa: ARG002
        """No title: the key is right before the reader."""
        return False

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        """Without the default: a key left out is no key with a value."""
        return self.generate_inner(schema["schema"])

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        """None stands for a key left out, and nobody can write it."""
        return self.generate_inner(schema["schema"])


def schema_of(model: type[FileModel], title: str, *, line: str = "", empty: bool = False) -> Schema:
    """The schema of a file. line: the model that one line of limits is, if any; empty: a value may be left empty."""
    schema = model.model_json_schema(schema_generator=ForEditors)
    defs = schema["$defs"]
    if line:
        one_line = {**defs[line], "description": ONE_LINE}
        defs["OneLine"] = {key: value for key, value in one_line.items() if key != "required"}
    return {"$schema": DIALECT, **as_editors_read(schema, empty), "title": title, "type": "object"}


def as_editors_read(schema: Schema, empty: bool) -> Schema:
    """The schema of texts as the schema of the values that an editor takes them for."""
    if schema == SHORT_LIMITS:
        schema = {"anyOf": [SHORT_LIMITS["anyOf"][0], {"$ref": "#/$defs/OneLine"}]}
    made = {key: value for key, value in schema.items() if key != "title" or not isinstance(value, str)}
    for key in _NAMED:
        if key in made:
            made[key] = {name: as_editors_read(part, empty) for name, part in made[key].items()}
    for key in _WITHIN:
        if isinstance(made.get(key), dict):
            made[key] = as_editors_read(made[key], empty)
    if "anyOf" in made:
        made["anyOf"] = [as_editors_read(part, empty) for part in made["anyOf"]]
    if "patternProperties" in made:
        made["additionalProperties"] = False
    if "type" in made:
        made.update(_type(made))
        if empty:
            made["type"] = [*_listed(made["type"]), "null"]
    if empty and len(made.get("enum", ())) > 1:
        made["enum"] = [*made["enum"], None]
    return made


def _type(schema: Schema) -> Schema:
    """A text may be any scalar; a name is a text still, and a whole number may be quoted."""
    types = _listed(schema["type"])
    if types == ["integer"]:
        return {"type": ["integer", "string"], "pattern": "^[0-9]+$"}
    if SCALARS.issuperset(types) and "pattern" not in schema:
        return {"type": list(SCALAR)}
    return {}


def _listed(types: str | list[str]) -> list[str]:
    return [types] if isinstance(types, str) else types
