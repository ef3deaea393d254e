"""The JSON Schema of a pack that builds on others: an editor then offers the names and words that those have."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from copy import deepcopy

from specrules.pack.pack_json_schema import pack_schema
from specrules.pack.specification import Specification
from specrules.quantity import UNITS
from specrules.validation.editors import Schema
from specrules.vocabulary import DECISION_RULES, IMPORTANCES


def pack_schema_on(spec: Specification) -> Schema:
    """The schema of a pack on these packs. What it amends has to be there; elsewhere it may have names of its own, and
    those of the packs are offered."""
    schema = deepcopy(pack_schema())
    defs, properties = schema["$defs"], schema["properties"]
    words = _words(spec)
    for each in defs.values():
        for key, node in each.get("properties", {}).items():
            if key in words:
                each["properties"][key] = _offering(node, words[key])
    for section, names in _sections(spec).items():
        _closed(_resolved(schema, properties["amend"])["properties"][section], names)
    margin = _resolved(schema, properties["margins"]["items"])["properties"]
    margin["on"] = _only(margin["on"], tuple(spec.rules))
    return {**schema, "title": f"Tolerance pack on {' and '.join(head.name for head in spec.packs)}"}


def _sections(spec: Specification) -> Mapping[str, Iterable[str]]:
    """What there is to amend, by section."""
    return {
        "axes": [axis.name for axis in spec.axes.values() if not axis.of],
        "facts": spec.facts,
        "gauge classes": spec.gauge_classes,
        "measurands": spec.measurands,
        "parts": spec.parts,
        "figures": spec.figures,
        "sign-offs": spec.sign_offs,
        "rules": spec.rules,
        "operations": spec.operations,
        "lessons": spec.lessons,
        "exercises": spec.exercises,
    }


def _words(spec: Specification) -> Mapping[str, Sequence[str]]:
    """What a key may name, besides what the pack defines itself."""
    axes = tuple(spec.axes)
    return {
        **dict.fromkeys(("each", "at", "positions", "of"), axes),
        **dict.fromkeys(("wears below", "wears above", "count", "labels", "groups"), tuple(spec.facts)),
        "hold point": spec.hold_points,
        "hold points": spec.hold_points,
        "needs": (*spec.sign_offs, *spec.rules),
        "gauge classes": tuple(spec.gauge_classes),
        "measurands": tuple(spec.measurands),
        "makes stale": (*spec.measurands, *spec.facts, *spec.sign_offs),
        "rules": tuple(spec.rules),
        "unit": tuple(unit.symbol for unit in UNITS if unit.symbol),
        "importance": IMPORTANCES,
        "decision": tuple(DECISION_RULES),
        "builds on": tuple(head.name for head in spec.packs),
    }


def _offering(node: Schema, words: Sequence[str]) -> Schema:
    """A node whose texts may be one of some words, or another; what is no text stays."""
    if "anyOf" in node:
        return {**node, "anyOf": [_offering(each, words) for each in node["anyOf"]]}
    if isinstance(node.get("items"), dict):
        return {**node, "items": _offering(node["items"], words)}
    if not words or "string" not in node.get("type", ()):
        return node
    told = {key: node[key] for key in ("description",) if key in node}
    return {**told, "anyOf": [{"enum": list(words)}, {key: value for key, value in node.items() if key not in told}]}


def _only(node: Schema, words: Sequence[str]) -> Schema:
    """A node whose texts are one of some words."""
    if "anyOf" in node:
        return {**node, "anyOf": [_only(each, words) for each in node["anyOf"]]}
    if isinstance(node.get("items"), dict):
        return {**node, "items": _only(node["items"], words)}
    return {"enum": list(words)}


def _closed(section: Schema, names: Iterable[str]) -> None:
    """A mapping with these keys and no others."""
    held = next(iter(section.pop("patternProperties", {}).values()), None) or section.get("additionalProperties")
    section.update(properties=dict.fromkeys(names, held), additionalProperties=False)


def _resolved(schema: Schema, node: Schema) -> Schema:
    found: Schema = schema["$defs"][node["$ref"].rpartition("/")[2]] if "$ref" in node else node
    return found
