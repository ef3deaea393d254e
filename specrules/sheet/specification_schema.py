"""The JSON Schema of sheets of one specification: an editor then knows and explains every name that its packs have."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from copy import deepcopy
from typing import Any

from specrules.formula import Axis
from specrules.formula.axis_kinds import counts_of_kinds
from specrules.pack import BuildPart, Fact, Measurand, Specification
from specrules.sheet.expected_sizes import usual_size
from specrules.sheet.facts import LAYOUT_KINDS
from specrules.sheet.reading_shapes import OTHERS
from specrules.sheet.sheet_json_schema import ANY, OPEN, one_reading_keys, set_keys, sheet_schema
from specrules.validation.editors import Schema
from specrules.vocabulary import PART_STATES

NOT_YET = ("open", None)
_JOINED = r"(?:\s*[,/&-]\s*|\s*\.\.\s*|\s+and\s+|\s+to\s+)"  # as `axes.picked` reads several labels in one key
_ALSO: Mapping[str, bool] = {"yes": True, "no": False, "true": True, "false": False, "on": True, "off": False}


def schema_for(spec: Specification) -> Schema:
    """The JSON Schema of a sheet on these packs: closed where the specification says what there is, stations included.

    Counts and groups are facts of the sheet, so how far numbered labels go, and what groups are called, is left open.
    """
    schema = deepcopy(sheet_schema())
    made = _SpecificationSchema(spec, schema["$defs"])
    sections = schema["properties"]
    sections["packs"]["anyOf"] = [_words(head.name for head in spec.packs), _listed(h.name for h in spec.packs)]
    made.closed(sections["facts"], {name: made.fact(fact) for name, fact in spec.facts.items()})
    made.closed(sections["parts"], {name: made.part(part) for name, part in spec.parts.items()})
    made.closed(sections["readings"], {name: made.measured(each) for name, each in spec.measurands.items()})
    made.closed(sections["limits"], made.limits(sections["limits"]))
    made.closed(sections["signed"], made.signed())
    made.name_the_rest()
    names = " and ".join(head.name for head in spec.packs)
    return {**schema, "title": f"Build sheet on {names}"}


class _SpecificationSchema:
    def __init__(self, spec: Specification, defs: dict[str, Schema]) -> None:
        self.spec, self.defs = spec, defs

    def closed(self, section: Schema, properties: Mapping[str, Schema]) -> None:
        """A section with these keys and no others."""
        section.pop("patternProperties", None)
        section.update(properties=dict(properties), additionalProperties=False)

    def fact(self, fact: Fact) -> Schema:
        """What may be stated; what the packs imply is the only choice left."""
        implied = self.spec.sets.get(fact.name)
        choices = fact.choices if fact.kind in ("choice", "yes/no") else None
        if fact.kind == "count":
            least = 0 if fact.name in counts_of_kinds(self.spec.axes.values()) else 1
            value: Schema = {"type": ["integer", "string", "null"], "minimum": least, "pattern": r"^(\d+|open|)$"}
        elif fact.kind == "groups":
            group = {"type": "array", "items": OPEN}
            value = {"type": ["string", "null", "array", "object"], "items": group, "additionalProperties": group}
            value["pattern"] = "^(open|)$"
        elif fact.kind == "labels":
            value = {"anyOf": [{"type": ["string", "integer", "null"]}, _listed(fact.choices)]}
        elif choices is not None:
            value = _words((implied,) if implied in choices else choices)
        else:
            value = {"type": ["string", "number", "null"]} if fact.kind != "text" else OPEN
        if fact.kind in ("number", "quantity") and not fact.at:
            alone = {"type": "object", "properties": one_reading_keys(stated=True), "additionalProperties": False}
            value = {"anyOf": [value, alone]}
        if fact.at and fact.kind not in LAYOUT_KINDS:
            value = {"anyOf": [value, {"$ref": f"#/$defs/{self._along(fact.at, value, f'{fact.name} by ')}"}]}
        taken = f"{implied}, by the packs" if implied else f"{fact.assumed} if left empty" if fact.assumed else ""
        unit = f"in {fact.unit.symbol}" if fact.unit and fact.unit.symbol else ""
        by = f"may differ by {', '.join(fact.at)}" if fact.at else ""
        return {**value, "description": _about(fact.title, unit, by, taken)}

    def part(self, part: BuildPart) -> Schema:
        """What may be said of a part."""
        value = _words(PART_STATES)
        if part.at:
            value = {"anyOf": [value, {"$ref": f"#/$defs/{self._along(part.at, value, 'parts by ')}"}]}
        by = f"may differ by {', '.join(part.at)}" if part.at else ""
        return {**value, "description": _about(part.title, by)}

    def measured(self, measurand: Measurand) -> Schema:
        """The readings of one measurand: where they lie, how they are taken."""
        readings = self._along(measurand.axes, OPEN)
        name = f"set of {readings}"
        if name not in self.defs:
            inner = self.defs[readings]
            keys = {**set_keys(readings, self._operations()), **inner["properties"]}
            self.defs[name] = {**inner, "items": {"$ref": f"#/$defs/{name}"}, "properties": keys}
        return {"$ref": f"#/$defs/{name}", "description": _of(measurand)}

    def _along(self, axes: Collection[str], leaf: Schema, of: str = "readings by ") -> str:
        """The name of the schema of values on these axes: alone, listed, or by label in whatever order."""
        name = of + (" ".join(axes) or "none")
        inner = {"$ref": f"#/$defs/{name}"}
        labels = _Labels([self.spec.axes[axis] for axis in axes])
        found: Schema = {"type": ANY, "items": inner, "additionalProperties": False}
        found["properties"] = one_reading_keys(leaf is not OPEN, self._operations())
        if axes:
            found["properties"].update(dict.fromkeys(labels.names, inner))
            found["properties"][OTHERS[0]] = {**inner, "description": "all that are not named"}
            found["patternProperties"] = {labels.pattern: inner}
        if labels.free:
            found["additionalProperties"] = inner
        if leaf is not OPEN:
            deeper = {**found, "type": ["array", "object", "null"]}
            found = {"anyOf": [leaf, deeper]}
        self.defs.setdefault(name, found)
        return name

    def limits(self, section: Schema) -> dict[str, Schema]:
        """A place for the maker's own limits of each rule."""
        lines = _value(section)
        rules = [chain.governing[-1] for chain in self.spec.rules.values()]
        return {rule.name: {**lines, "description": _about(rule.title, f"in {rule.unit.symbol}")} for rule in rules}

    def signed(self) -> dict[str, Schema]:
        """A place for each sign-off's answer, with its question."""
        found = {}
        for check in self.spec.sign_offs.values():
            name = f"signature by {' '.join(check.at) or 'none'}"
            entry = deepcopy(self.defs["SignatureEntry"])
            entry["properties"]["at"] = self._at(entry["properties"]["at"], check.at)
            entry["properties"]["after"].update(self._operations())
            self.defs.setdefault(name, entry)
            one = {"$ref": f"#/$defs/{name}"}
            point = f"before {_plain(check.hold_point)}" if check.hold_point else ""
            about = _about(check.question.rstrip("."), point, check.caution.rstrip("."))
            found[check.name] = {"anyOf": [one, {"type": ["array", "null"], "items": one}], "description": about}
        return found

    def name_the_rest(self) -> None:
        """Names of gauge classes, operations, facts and rules, and axes, wherever entries of the sheet have them."""
        spec, defs = self.spec, self.defs
        if spec.gauge_classes:
            _only(defs["GaugeEntry"], "class", _words(spec.gauge_classes))
        _only(defs["WorkEntry"], "operation", _words(spec.operations))
        _only(defs["WorkEntry"], "restated", {"anyOf": [_words(spec.facts), _listed(spec.facts)]})
        _only(defs["ConcessionEntry"], "rule", _words(spec.rules))
        for entry in (defs["WorkEntry"], defs["ConcessionEntry"]):
            entry["properties"]["at"] = self._at(entry["properties"]["at"], spec.axes)
        for kept in ("SignatureEntry", "Stated", "Measured"):
            del defs[kept]

    def _operations(self) -> Schema:
        return {"anyOf": [_words(self.spec.operations), _listed(self.spec.operations)]}

    def _at(self, at: Schema, axes: Collection[str]) -> Schema:
        """Stations by axis: those a thing lies on, and those whose labels are groups of theirs."""
        grouped = dict.fromkeys(other for axis in axes for other in (axis, *self.spec.scope.grouped_by(axis)))
        closed = {key: part for key, part in at.items() if key != "patternProperties"}
        return {**closed, "properties": dict.fromkeys(grouped, _value(at))}


class _Labels:
    """What keys may name of some axes. free: an axis has labels that only the sheet knows."""

    def __init__(self, axes: Iterable[Axis]) -> None:
        axes = list(axes)
        self.names = tuple(dict.fromkeys(name for axis in axes for name in axis.names))
        self.free = any(axis.groups for axis in axes)
        numbers = [r"[1-9]\d*"] if any(not axis.names and not axis.letters for axis in axes) else []
        numbers += ["[a-z]"] if any(axis.letters for axis in axes) else []
        numbers += [rf"{re.escape(kind)}_[1-9]\d*" for axis in axes if axis.kinds for kind in axis.names]
        one = "|".join([*map(re.escape, (*self.names, *OTHERS)), *numbers])
        self.pattern = f"^(?:{one})(?:{_JOINED}(?:{one}))*$"


def _value(section: Schema) -> Schema:
    """The schema of one thing of a section whose keys are names."""
    found: Schema = next(iter(section["patternProperties"].values()))
    return found


def _only(entry: Schema, key: str, words: Schema) -> None:
    entry["properties"][key] = {"description": entry["properties"][key]["description"], **words}


def _words(words: Iterable[str]) -> Schema:
    """One of these words, as whatever YAML takes them for, or nothing yet."""
    found: list[Any] = []
    for word in words:
        found.append(word)
        if word in _ALSO:
            found.append(_ALSO[word])
        elif word.isdecimal():
            found.append(int(word))
    return {"enum": [*found, *NOT_YET]}


def _listed(words: Iterable[str]) -> Schema:
    return {"type": ["array", "null"], "items": _words(words)}


def _of(measurand: Measurand) -> str:
    at = f"at each {' and '.join(map(_plain, measurand.at))}" if measurand.at else ""
    positions = f"at each {' and '.join(map(_plain, measurand.positions))} there" if measurand.positions else ""
    repeats = f"{measurand.repeats} times" if measurand.repeats > 1 else ""
    title = measurand.title or _plain(measurand.name)
    usual = usual_size(measurand.usual, measurand.unit)
    sized = f"usually {usual} {measurand.unit.symbol}".rstrip() if usual else ""
    return _about(f"{title} ({measurand.unit.symbol})", at, positions, repeats, sized, measurand.how.rstrip("."))


def _plain(name: str) -> str:
    return name.replace("_", " ")


def _about(*parts: str) -> str:
    return "; ".join(part for part in parts if part)
