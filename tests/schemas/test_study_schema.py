"""The schema of a study takes what the reader of studies takes, and refuses what it refuses for its shape."""

from __future__ import annotations

import pytest

from specrules.schemas import schemas
from specrules.study import read_study
from tests.schemas.as_editors import wrong

SCHEMA = schemas()["gauge-study.schema.json"]

GOOD = """\
specrules: gauge-study/1
gauge: {name: mic 2-3, class: outside micrometer}
unit: in
date: 2026-10-02
readings:
  JT: {1: [2.4990, 2.4991], 2: [2 1/2, 63.475 mm]}
  KM: {1: [2.4990, 2.4990], 2: [2.4985, 2.4986]}
"""

BROKEN = {
    "no header": ("specrules: gauge-study/1\n", ""),
    "another header": ("gauge-study/1", "gauge-study/2"),
    "no unit": ("unit: in\n", ""),
    "unknown key": ("date:", "day:"),
    "gauge as a text": ("{name: mic 2-3, class: outside micrometer}", "mic 2-3"),
    "no class": (", class: outside micrometer", ""),
    "unit as a list": ("unit: in", "unit: [in]"),
    "readings as a list": ("  JT: {1: [2.4990, 2.4991], 2: [2 1/2, 63.475 mm]}\n  KM:", "  - JT:"),
    "a figure without its list": ("[2.4990, 2.4991]", "2.4990"),
    "no readings of a part": ("[2.4990, 2.4991]", "[]"),
    "lists of lists": ("[2.4990, 2.4991]", "[[2.4990], 2.4991]"),
}


@pytest.mark.parametrize("text", [GOOD, GOOD.replace("date: 2026-10-02\n", ""), GOOD.replace(" 2026-10-02", "")])
def test_a_study_is_taken_with_its_day_or_without(text: str) -> None:
    assert read_study(text, "mic.study.yaml")[1] == ()
    assert wrong(SCHEMA, text) == []


@pytest.mark.parametrize(("old", "new"), BROKEN.values(), ids=BROKEN)
def test_the_schema_refuses_what_the_reader_refuses(old: str, new: str) -> None:
    text = GOOD.replace(old, new, 1)
    assert text != GOOD
    assert read_study(text, "mic.study.yaml")[1] != ()
    assert wrong(SCHEMA, text) != []
