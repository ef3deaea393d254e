"""The schema of a pack on other packs: what they have is offered, what there is not to amend is refused."""

from typing import Any

import pytest
from jsonschema import Draft202012Validator

from specrules.pack.stack_schema import pack_schema_on
from tests.pack.small_packs import BASE, resolved

SCHEMA = pack_schema_on(resolved(BASE))
VALID = Draft202012Validator(SCHEMA)
HEAD = {"specrules": "tolerance-pack/1", "pack": {"name": "top", "version": "1", "title": "T", "builds on": ["base"]}}


def rule(**more: Any) -> dict[str, Any]:
    source = {"kind": "house"}
    return {**HEAD, "rules": {"mine": {"title": "Mine", "formula": "hole", "source": source, **more}}}


@pytest.mark.parametrize(
    ("pack", "valid"),
    [
        ({**HEAD, "amend": {"rules": {"fit": {"reason": "Ours.", "limits": {"least": "0.001 in"}}}}}, True),
        ({**HEAD, "amend": {"rules": {"fitt": {"reason": "Ours.", "limits": {"least": "0.001 in"}}}}}, False),
        ({**HEAD, "amend": {"sign-offs": {"clean": {"reason": "Ours.", "retire": "yes"}}}}, True),
        ({**HEAD, "amend": {"sign-offs": {"dirty": {"reason": "Ours.", "retire": "yes"}}}}, False),
        ({**HEAD, "margins": [{"on": ["fit"], "inward": "0.0002 in", "reason": "R."}]}, True),
        ({**HEAD, "margins": [{"on": "fit", "inward": "0.0002 in", "reason": "R."}]}, True),
        ({**HEAD, "margins": [{"on": ["fitt"], "inward": "0.0002 in", "reason": "R."}]}, False),
        (rule(**{"hold point": "dry_fit", "each": "place", "unit": "in", "importance": "minor"}), True),
        (rule(**{"hold point": "a_new_one", "each": ["a_new_axis"], "unit": "thou"}), True),
        (rule(**{"hold point": ["dry_fit"]}), False),
    ],
)
def test_what_a_pack_on_these_may_be(pack: dict[str, Any], valid: bool) -> None:
    assert VALID.is_valid(pack) is valid


def test_the_names_and_words_of_the_packs_are_offered() -> None:
    keys = SCHEMA["$defs"]["RuleEntry"]["properties"]
    assert keys["hold point"]["anyOf"][0] == {"enum": ["dry_fit", "first_start"]}
    assert {"enum": ["clean", "fit", "share"]} in [each.get("anyOf", [{}])[0] for each in keys["needs"]["anyOf"]]
    assert "in" in keys["unit"]["anyOf"][0]["enum"]
    assert keys["hold point"]["description"] == "the hold point that waits for it"
    assert SCHEMA["title"] == "Tolerance pack on base"
