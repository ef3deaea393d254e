"""The JSON Schema of a build sheet, for editors; `specification_schema` makes one that knows the packs."""

from __future__ import annotations

from specrules.sheet.misplaced import AT
from specrules.sheet.sheet_model import SheetFile
from specrules.validation.editors import SCALAR, Schema, schema_of
from specrules.vocabulary import READING_KEYS, READING_STATES

ANY = [*SCALAR, "null", "array", "object"]
OPEN: Schema = {"type": [*SCALAR, "null"]}
"""One written figure or text, or nothing yet."""

SET: dict[str, str] = {
    "unit": "what a bare number of these readings means",
    "gauge": "the gauge they were taken with, by its name under gauges",
    "taken": "the day they were taken, year first, as 2026-10-02",
    "state": f"the state of the part then: {', '.join(READING_STATES)}",
    "because": "why the part was measured again",
    "after": "operations of the same day that they were taken after",
    "pictures": "files that show what was read, in the folder of this sheet or below it, such as photos/main-3.jpg",
    AT: "the readings of this set, where it stands in a list",
}
"""What may be said once for all readings of a set, in the order in which it is offered."""

ALONE: dict[str, str] = {
    "value": "the figure of this one reading",
    "repeats": "the same place measured several times",
    "gauge": SET["gauge"],
    "taken": SET["taken"],
    "after": SET["after"],
    "because": SET["because"],
    "confirmed": "by whom, in initials: this number was read again, looks like a slip and is right",
    "pictures": SET["pictures"],
    "was": "what stood here before it was read again: a figure, or a mapping such as this one",
}
"""What one reading may have where it is written as a mapping."""

OPERATIONS: Schema = {"type": [*SCALAR, "null", "array"], "items": OPEN}
PICTURES: Schema = {"type": [*SCALAR, "null", "array"], "items": OPEN, "description": SET["pictures"]}
REPEATED: Schema = {"description": "the same place measured several times", "type": "array", "items": OPEN}


def one_reading_keys(stated: bool = False, after: Schema | None = None) -> dict[str, Schema]:
    """The schema of each key that a mapping of one reading may have. stated: of a fact, which nobody measures. after:
    which operations there are."""
    made: dict[str, Schema] = {key: {**OPEN, "description": ALONE[key]} for key in READING_KEYS}
    made["repeats"] = REPEATED
    made["after"] = {"description": ALONE["after"], **(after or OPERATIONS)}
    made["pictures"] = PICTURES
    made["was"]["type"] = [*SCALAR, "null", "object"]
    return {key: made[key] for key in ("value", "because", "confirmed")} if stated else made


def set_keys(readings: str, after: Schema | None = None) -> dict[str, Schema]:
    """The schema of each key that a set may have. readings: the name of the schema of what stands under `at`."""
    made: dict[str, Schema] = {key: {**OPEN, "description": about} for key, about in SET.items()}
    made["state"] = {"enum": [*READING_STATES, None], "description": SET["state"]}
    made["after"] = {"description": SET["after"], **(after or OPERATIONS)}
    made["pictures"] = PICTURES
    made[AT] = {"description": SET[AT], "$ref": f"#/$defs/{readings}"}
    return made


def _tree(name: str, keys: dict[str, Schema]) -> Schema:
    """Figures in any shape: alone, listed, or by label."""
    inner = {"$ref": f"#/$defs/{name}"}
    return {"type": ANY, "items": inner, "properties": keys, "additionalProperties": inner}


def sheet_schema() -> Schema:
    """The JSON Schema of any build sheet: its sections whole, the names of packs and what they allow left open."""
    schema = schema_of(SheetFile, "Build sheet", line="OwnLine", empty=True)
    schema["$defs"]["Stated"] = _tree("Stated", one_reading_keys(stated=True))
    schema["$defs"]["Measured"] = _tree("Measured", {**one_reading_keys(), **set_keys("Measured")})
    sections = schema["properties"]
    sections["facts"]["additionalProperties"] = {"$ref": "#/$defs/Stated"}
    sections["readings"]["additionalProperties"] = {"$ref": "#/$defs/Measured"}
    sections["unit"]["examples"] = ["in", "mm"]
    return schema
