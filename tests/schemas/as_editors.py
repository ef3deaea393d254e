"""Files as an editor sees them, judged by a validator that knows nothing of this program."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

import specrules
from specrules.effects.pack_files import shipped_folder

PACK_FILES = sorted(shipped_folder().rglob("*.pack.yaml"))
DEMO = sorted((Path(specrules.__file__).parent / "demo").glob("*.sheet.yaml"))


def loaded(text: str) -> Any:
    """YAML 1.2 by its core schema; keys become the names that JSON has, dates the texts that they are."""
    return _as_json(YAML(typ="safe", pure=True).load(text))


def _as_json(node: Any) -> Any:
    if isinstance(node, dict):
        return {str(key): _as_json(value) for key, value in node.items()}
    if isinstance(node, list):
        return [_as_json(item) for item in node]
    return str(node) if isinstance(node, datetime.date) else node


def wrong(schema: Mapping[str, Any], text: str) -> list[str]:
    """What the validator finds, as the places in the file."""
    return [
        f"{each.json_path}: {each.message[:150]}" for each in Draft202012Validator(schema).iter_errors(loaded(text))
    ]
