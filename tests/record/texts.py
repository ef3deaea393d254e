"""Records as text: two of version 1 and one of version 2, as those versions wrote them.

`version_1.json` is the demo judged before there was a version 2, cut down to the fewest findings that have between them
every verdict, every kind of source and every part that a finding may have; `version_1_faults.json` is of a sheet that
could not be read. `version_2.json` is the demo as version 2 had it, cut down to four findings and what was loosened.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent
JUDGED = (FOLDER / "version_1.json").read_bytes()
OF_VERSION_2 = (FOLDER / "version_2.json").read_bytes()
FAULTY = (FOLDER / "version_1_faults.json").read_bytes()


def _finding(key: str, value: object) -> Callable[[Any], object]:
    return lambda made: made["findings"][0].update({key: value})


def _left_out(key: str) -> Callable[[Any], object]:
    return lambda made: made["findings"][0].pop(key)


WRONG: dict[str, tuple[Callable[[Any], object], str]] = {
    "a count left out": (lambda made: made["counts"].pop("just out"), "/counts: lacks the count of just out"),
    "a count of nothing known": (lambda made: made["counts"].update(good=1), "/counts/good: input should be 'in spec'"),
    "a count below none": (lambda made: made["counts"].update({"in spec": -1}), "/counts/in spec: input should be gre"),
    "unknown verdict": (
        _finding("verdict", "good"),
        "/findings/0/verdict: input should be 'in spec', 'worn within limit'",
    ),
    "unknown verdict of the whole": (lambda made: made.update(verdict="good"), "/verdict: input should be 'held',"),
    "unknown key": (_finding("colour", "red"), "/findings/0/colour: unknown key"),
    "key with an underscore": (_finding("would_be", None), "/findings/0/would_be: unknown key"),
    "value as a text": (_finding("value", "0.0024"), "/findings/0/value: input should be a valid number"),
    "value as a boolean": (_finding("value", True), "/findings/0/value: input should be a valid number"),
    "station as a text": (_finding("station", "main 3"), "/findings/0/station: input should be an object"),
    "label as a number that counts nothing": (
        _finding("station", {"main": 1.5}),
        "/findings/0/station/main: input should be a valid integer",
    ),
    "margin of three": (_finding("margins", {"least": [0.1, 0.2, 0.3]}), "/findings/0/margins/least: "),
    "margin to nothing": (_finding("margins", {"aim": [0.1, 0.2]}), "/findings/0/margins/aim: unknown key"),
    "probability above one": (_finding("conformance", 1.5), "/findings/0/conformance: input should be less than"),
    "note without words": (
        _finding("notes", [{"code": None, "names": [], "labels": [], "text": None}]),
        '/findings/0/notes/0: lacks the key "said"',
    ),
    "unknown code": (
        _finding("notes", [{"code": "mood", "names": [], "labels": [], "text": None, "said": "bad"}]),
        "/findings/0/notes/0/code: input should be 'fact not stated'",
    ),
    "unknown kind of source": (_finding("source", {"kind": "hearsay"}), "/findings/0/source/kind: input should be "),
    "line none": (
        lambda made: made["findings"][0]["inputs"][0].update(line=0),
        "/findings/0/inputs/0/line: input should be greater than or equal to 1",
    ),
    "hash": (lambda made: made["sheet"].update(sha256="none"), "/sheet/sha256: string should match pattern"),
    "state": (lambda made: made["sign-offs"][0].update(state="perhaps"), "/sign-offs/0/state: input should be 'si"),
    "findings left out": (lambda made: made.pop("findings"), 'the record: lacks the key "findings"'),
    "findings as a text": (lambda made: made.update(findings="none"), "/findings: input should be a valid array"),
    "no version of the tool": (lambda made: made["tool"].clear(), '/tool: lacks the key "version"'),
    **{
        f"{key} left out": (_left_out(key), f'/findings/0: lacks the key "{key}"')
        for key in ("rule", "station", "verdict", "value", "limits", "rests on", "source")
    },
}
"""What is done to a record, and what the first fault says then."""


def as_json(made: object) -> str:
    return json.dumps(made)
