"""The schema of the record refuses what is no record."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from typing import Any

import pytest

from specrules.output.record import HEADER
from specrules.vocabulary import Verdict
from tests.output.record_bench import VERDICTS, inspection, recorded, wrong


@pytest.fixture(scope="module")
def whole() -> dict[str, Any]:
    """A record with the finding that stands on most, alone."""
    made = recorded(inspection())
    return {**made, "findings": [max(made["findings"], key=lambda each: len(each["inputs"]))]}


def _drop(key: str) -> Callable[[dict[str, Any]], None]:
    def change(made: dict[str, Any]) -> None:
        del made["findings"][0][key]

    return change


def _set(key: str, value: object, section: str = "findings") -> Callable[[dict[str, Any]], None]:
    def change(made: dict[str, Any]) -> None:
        made[section][0][key] = value

    return change


def test_the_schema_takes_it_as_it_is(whole: dict[str, Any]) -> None:
    assert wrong(whole) == []


BROKEN: dict[str, Callable[[dict[str, Any]], object]] = {
    "another header": lambda made: made.update(specrules="inspection-record/2"),
    "a count left out": lambda made: made["counts"].pop("just out"),
    "a count of nothing known": lambda made: made["counts"].update(good=1),
    "a count below none": lambda made: made["counts"].update({"in spec": -1}),
    "unknown verdict": _set("verdict", "good"),
    "unknown verdict of the whole": lambda made: made.update(verdict="good"),
    "unknown key": _set("colour", "red"),
    "value as a text": _set("value", "0.0024"),
    "station as a text": _set("station", "main 3"),
    "margin of three": _set("margins", {"least": [0.1, 0.2, 0.3]}),
    "margin to nothing": _set("margins", {"aim": [0.1, 0.2]}),
    "probability above one": _set("conformance", 1.5),
    "line none": lambda made: made["findings"][0]["inputs"][0].update(line=0),
    "hash": lambda made: made["sheet"].update(sha256="none"),
    "state": _set("state", "perhaps", "sign-offs"),
    "findings left out": lambda made: made.pop("findings"),
    **{
        f"{key} left out": _drop(key) for key in ("rule", "station", "verdict", "value", "limits", "rests on", "source")
    },
}


@pytest.mark.parametrize("change", BROKEN.values(), ids=BROKEN)
def test_the_schema_refuses_what_is_no_record(
    whole: dict[str, Any], change: Callable[[dict[str, Any]], object]
) -> None:
    made = deepcopy(whole)
    change(made)
    assert wrong(made) != []


def test_the_words_of_the_record_are_those_of_the_inspection() -> None:
    assert {str(verdict) for verdict in Verdict} == VERDICTS
    assert HEADER == "inspection-record/1"
