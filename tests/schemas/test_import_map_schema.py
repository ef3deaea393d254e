"""The schema of an import map takes what the reader of maps takes, and refuses what it refuses for its shape."""

from __future__ import annotations

import pytest

from specrules.importing.map_reading import read_map
from specrules.schemas import schemas
from tests.schemas.as_editors import wrong

SCHEMA = schemas()["import-map.schema.json"]

GOOD = """\
specrules: import-map/1
layout: a row a station
worksheet: Mains
rows: 3..20
columns: A..F
heading lines: 2
decimal: comma
delimiter: semicolon
encoding: cp1252
unit: [mm, cc]
stations: {Main: main}
readings:
  Bore: main_bore
  Journal: {measurand: main_journal, at: {plane: front}, unit: in}
labels: {main: {Thrust: 3, 5: 4}}
left out: [Remarks, 7]
"""

BROKEN = {
    "no header": ("specrules: import-map/1\n", ""),
    "another header": ("import-map/1", "import-map/2"),
    "no layout": ("layout: a row a station\n", ""),
    "another layout": ("a row a station", "rows"),
    "unknown key": ("worksheet:", "sheet:"),
    "rows as a list": ("rows: 3..20", "rows: [3, 20]"),
    "another decimal": ("decimal: comma", "decimal: dot"),
    "readings as a list": ("  Bore: main_bore\n  Journal:", "  -"),
    "a reading without its measurand": ("measurand: main_journal, ", ""),
    "labels without their axis": ("{main: {Thrust: 3, 5: 4}}", "{Thrust: 3}"),
}

BLOCKS = GOOD.replace("a row a station", "a block a part").replace("heading lines: 2\n", "")
BLOCKS = BLOCKS.replace("stations: {Main: main}", "block: {titles: main, across: plane}")


@pytest.mark.parametrize("text", [GOOD, GOOD.replace("[mm, cc]", "mm").replace("3..20", "3"), BLOCKS])
def test_a_map_is_taken(text: str) -> None:
    assert read_map(text, "m.yaml")[1] == ()
    assert wrong(SCHEMA, text) == []


@pytest.mark.parametrize(("old", "new"), BROKEN.values(), ids=BROKEN)
def test_what_the_reader_refuses_for_its_shape_the_schema_refuses(old: str, new: str) -> None:
    text = GOOD.replace(old, new, 1)
    assert text != GOOD
    assert read_map(text, "m.yaml")[1]
    assert wrong(SCHEMA, text)
