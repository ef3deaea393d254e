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
"""What is done to a record of version 3, and what the first fault says then."""
WRONG_BESIDE_TABLES = (
    *("a count left out", "a count of nothing known", "a count below none", "unknown verdict of the whole"),
    *("hash", "state", "findings left out", "findings as a text", "no version of the tool"),
)
"""Those of them that are as wrong in version 4."""


Change = Callable[[Any], object]


def _of(*steps: str | int) -> Callable[[Any], Any]:
    """What stands at a place of a record as it is written."""

    def found(made: Any) -> Any:
        for step in steps:
            made = made[step]
        return made

    return found


_SET = _of("findings", "sets", 0)
_EACH = _of("findings", "sets", 0, "each")
_OUTCOMES = _of("findings", "sets", 0, "outcomes")

TABLES_WRONG: dict[str, tuple[Change, str]] = {
    "no table": (lambda made: made.update(findings=[]), "/findings: this has to be a mapping, as version 4 has it"),
    "no figures": (lambda made: made.update(figures=None), "/figures: this has to be a mapping"),
    "no sets": (lambda made: made["findings"].pop("sets"), "/findings/sets: this has to be a list"),
    "no usual": (lambda made: made["findings"].pop("usual"), "/findings/usual: this has to be a mapping"),
    "more in a table": (lambda made: made["findings"].update(rest=1), "/findings/rest: unknown key"),
    "a set that is none": (
        lambda made: made["findings"]["sets"].insert(0, 1),
        "/findings/sets/0: this has to be a map",
    ),
    "nothing shared": (lambda made: made.pop("shared"), "/shared: this has to be a mapping"),
    "no reasons": (lambda made: made["shared"].pop("reasons"), "/shared/reasons: this has to be a mapping"),
    "more shared": (lambda made: made["shared"].update(moods=1), "/shared/moods: unknown key"),
    "no columns": (lambda made: _SET(made).pop("each"), "/findings/sets/0/each: this has to be a mapping"),
    "no outcomes": (lambda made: _SET(made).pop("outcomes"), "/findings/sets/0/outcomes: this has to be a mapping"),
    "empty columns": (lambda made: _EACH(made).clear(), "/findings/sets/0/each: there have to be columns, all of one"),
    "a column that is none": (
        lambda made: _EACH(made).update(inputs=1),
        "/findings/sets/0/each/inputs: this has to be",
    ),
    "a short column": (
        lambda made: _EACH(made)["outcome"].pop(),
        "/findings/sets/0/each: there have to be columns, all",
    ),
    "unknown key": (lambda made: _SET(made).update(colour="red"), "/findings/sets/0/colour: unknown key"),
    "a column of nothing known": (
        lambda made: _OUTCOMES(made).update({"a/b": _OUTCOMES(made)["verdict"]}),
        "/findings/sets/0/outcomes/a~1b: unknown key",
    ),
    "unknown key of limits": (
        lambda made: made["findings"]["usual"].update({"limits leest": 1}),
        "/findings/usual/limits leest: unknown key",
    ),
    "no outcome of that number": (
        lambda made: _EACH(made).update(outcome=[99] * len(_EACH(made)["outcome"])),
        "/findings/sets/0: 99 is no number of what there is, ",
    ),
    "a number below none": (lambda made: _SET(made).update(source=-1), "/findings/sets/0/source: -1 is no number of"),
    "a number that is none": (
        lambda made: _SET(made).update(source=True),
        "/findings/sets/0/source: true is no number",
    ),
    "a word for a number": (lambda made: _SET(made).update(notes=["a"]), '/findings/sets/0/notes: "a" is no number of'),
    "lists that differ": (
        lambda made: _SET(made).update({"steps do": ["a"], "steps value": []}),
        "/findings/sets/0: steps: its lists have to be of one length",
    ),
}
"""What is done to a record of version 4 so that it cannot be put together, and what is said then."""
IN_TABLES_WRONG: dict[str, tuple[Change, str]] = {
    "unknown verdict": (
        lambda made: _OUTCOMES(made).update(verdict=["good"] * len(_OUTCOMES(made)["verdict"])),
        "/findings/0/verdict: input should be 'in spec', 'worn within limit'",
    ),
    "a limit as a text": (
        lambda made: _SET(made).update({"limits least": "0.1"}),
        "/findings/0/limits/least: input sh",
    ),
    "a label as a list": (
        lambda made: _EACH(made).update({"station main": [[]] * len(_EACH(made)["outcome"])}),
        "/findings/0/station/main: input should be",
    ),
}
"""The same of what is put together and then is no record."""


def as_json(made: object) -> str:
    return json.dumps(made)
