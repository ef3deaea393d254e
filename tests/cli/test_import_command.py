"""`specrules sheet import`: what goes in is shown first, then written whole, and nothing else of the sheet changes."""

from __future__ import annotations

from pathlib import Path

import pytest

from specrules.effects import files
from tests.cli.shell import Ran, call
from tests.cli.small_jobs import SIGNED, lay_out
from tests.importing.small_tables import Value, book
from tests.output.small_screen import build

SHEET = build(
    """\
readings:
  hole:                  # measured cold
    1: {front: , rear: }
    2: {front: , rear: 1.5021}
  grip: {1: , 2: }
"""
    + SIGNED
)

MAP = """\
specrules: import-map/1
layout: a row a station
stations: {Place: place}
readings:
  Hole front (in): {measurand: hole, at: {plane: front}}
  Hole rear (in): {measurand: hole, at: {plane: rear}}
  Shaft front (mm): {measurand: shaft, at: {plane: front}}
"""

TABLE = """\
Place,Hole front (in),Hole rear (in),Shaft front (mm),By
1,1.5020,1.5021,38.100,JT
2,1.5022,1.5021,38.105,JT
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    laid = lay_out(tmp_path, new=SHEET)
    (laid / "t.csv").write_text(TABLE, encoding="utf-8")
    (laid / "t.map.yaml").write_text(MAP, encoding="utf-8")
    return laid


def run(*options: str, table: str | None = None, status: int = 0) -> Ran:
    if table is not None:
        Path("t.csv").write_text(table, encoding="utf-8")
    ran = call("sheet", "import", "new.sheet.yaml", "t.csv", "--map", "t.map.yaml", *options)
    assert ran.status == status, ran
    return ran


def sheet() -> str:
    return Path("new.sheet.yaml").read_text(encoding="utf-8")


AFTER = SHEET.replace("1: {front: , rear: }", "1: {front: 1.5020, rear: 1.5021}", 1)
AFTER = AFTER.replace("2: {front: , rear: 1.5021}", "2: {front: 1.5022, rear: 1.5021}")
AFTER = AFTER.replace(
    "  grip: {1: , 2: }\n",
    "  grip: {1: , 2: }\n  shaft:                          # Shaft (in)\n"
    "    1: {front: 38.100 mm, rear: }\n    2: {front: 38.105 mm, rear: }\n",
)


def test_what_would_go_in_is_shown_and_nothing_is_written() -> None:
    assert run().out == (
        "Hole (in)                                                              3 figures\n"
        "  place 1  front 1.5020, rear 1.5021\n"
        "  place 2  front 1.5022\n"
        "Shaft (mm)                                                             2 figures\n"
        "  place 1  front 38.100\n"
        "  place 2  front 38.105\n"
        "\n"
        "THERE ALREADY\n"
        "  1 figure, as the sheet has it.\n"
        "\n"
        "NOT ASKED FOR BY THE MAP\n"
        '  line 1, column 5: "By"\n'
        "\n"
        "Nothing is written yet. 5 figures would go in by:\n"
        "  specrules sheet import new.sheet.yaml t.csv --map t.map.yaml --write\n"
    )
    assert sheet() == SHEET


def test_with_write_all_of_it_is_in_the_sheet_and_nothing_else_has_changed() -> None:
    said = run("--write").out
    assert said.endswith("\n5 figures written into new.sheet.yaml. Then: specrules inspect new.sheet.yaml\n")
    assert sheet() == AFTER
    assert run("--write").out.endswith("There is nothing to write into new.sheet.yaml.\n")
    assert sheet() == AFTER


def test_a_spreadsheet_says_the_same_with_its_noughts() -> None:
    def change(made: object) -> None:
        for row in (2, 3):
            for column, places in ((2, 4), (3, 4), (4, 3)):
                made.cell(row, column).number_format = f"0.{'0' * places}"  # type: ignore[attr-defined]

    rows = [line.split(",") for line in TABLE.splitlines()]
    values: list[list[Value]] = [[*rows[0]]]
    values += [[*map(float, row[:4]), row[4]] for row in rows[1:]]
    Path("t.csv").write_bytes(book(values, change))
    assert 'E1 of sheet "T": "By"' in run("--write").out
    assert sheet() == AFTER


REFUSED = TABLE.replace("1.5022,", "about 1.5,")


def test_where_one_cell_is_refused_nothing_is_written() -> None:
    ran = run("--write", table=REFUSED, status=2)
    assert sheet() == SHEET
    assert (
        'REFUSED\n  line 3, column 2, hole: "about 1.5" is approximate, and never judged as exact;\n'
        "    write what the gauge showed, and the gauge.\n"
    ) in ran.out
    assert ran.out.endswith(
        "Nothing is written: 1 thing above cannot go in. Put it right in the table or in\n"
        "the map; --rest enters the rest.\n"
    )


@pytest.mark.second_lane
def test_the_rest_goes_in_where_that_is_asked_for() -> None:
    assert "4 figures written" in run("--write", "--rest", table=REFUSED).out
    assert sheet() == AFTER.replace("2: {front: 1.5022, rear: 1.5021}", "2: {front: , rear: 1.5021}")


@pytest.mark.second_lane
def test_another_figure_of_the_sheet_stays_unless_it_may_be_written_over() -> None:
    other = TABLE.replace("1.5022,1.5021", "1.5022,1.5029")
    ran = run("--write", table=other, status=2)
    assert (
        "THE SHEET HAS OTHERWISE\n  line 3, column 3: hole place 2 rear is 1.5029 here; in the sheet 1.5021 stays.\n"
    ) in ran.out
    assert sheet() == SHEET
    run("--write", "--rest", table=other)
    assert sheet() == AFTER
    assert "in the sheet 1.5021 is\n    kept beside it." in run("--write", "--overwrite", table=other).out
    assert sheet() == AFTER.replace(
        "2: {front: 1.5022, rear: 1.5021}", "2: {front: 1.5022, rear: {value: 1.5029, was: 1.5021}}"
    )


@pytest.mark.second_lane
def test_the_same_number_in_another_unit_is_another_figure() -> None:
    """Its places are not the same."""
    said = run(table="Place,Hole front (in),Hole rear (in),Shaft front (mm)\n2,,38.1533 mm,\n", status=2).out
    assert "names mm, and its heading says in" in said


def test_what_looks_like_a_slip_is_told_before_it_is_written() -> None:
    said = run(table=TABLE.replace("38.105", "1.5001")).out
    assert "TO READ AGAIN\n" in said
    assert "shaft 2 front = 1.5001 mm" in said


@pytest.mark.second_lane
def test_every_byte_but_the_figures_stays(folder: Path) -> None:
    """Line ends, the mark and the encoding too."""
    Path("new.sheet.yaml").write_bytes(("\ufeff" + SHEET.replace("\n", "\r\n")).encode("utf-16-le"))
    run("--write")
    after = Path("new.sheet.yaml").read_bytes().decode("utf-16-le")
    assert after == "\ufeff" + AFTER.replace("\n", "\r\n")
    assert [each.name for each in folder.iterdir() if "tmp" in each.name] == []


def test_a_sheet_that_somebody_changed_meanwhile_is_left_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    written, other = files.rewrite, SHEET.replace("A pair", "Another")

    def first(path: Path, before: bytes, after: bytes) -> None:
        path.write_text(other, encoding="utf-8")
        written(path, before, after)

    monkeypatch.setattr("specrules.cli.import_command.rewrite", first)
    assert "has changed since it was read, so it is left alone; try again" in run("--write", status=2).err
    assert sheet() == other


def test_an_edit_that_would_say_more_is_not_written(monkeypatch: pytest.MonkeyPatch) -> None:
    from specrules.importing import entering_all

    def careless(text: str, wanted: object) -> str | None:
        made = entering_all.with_all(text, wanted)  # type: ignore[arg-type]
        return made and made.replace("grip: {1: ,", "grip: {1: 0.003,")

    monkeypatch.setattr("specrules.cli.import_command.with_all", careless)
    assert "would say something else than these figures" in run("--write", status=2).err
    assert sheet() == SHEET


FAULTS = {
    "a map that is at fault": (
        "t.map.yaml",
        MAP.replace("hole", "hol"),
        't.map.yaml, line 5, Hole front (in): "hol" is no',
    ),
    "no map": ("t.map.yaml", "", "t.map.yaml, line 1: the file is empty"),
    "a table that is no text": ("t.csv", "\0", "t.csv: a null character stands in the file"),
    "a sheet at fault": ("new.sheet.yaml", SHEET.replace("grip", "grib"), '"grib"'),
}


@pytest.mark.parametrize(("file", "text", "said"), FAULTS.values(), ids=FAULTS)
def test_a_file_at_fault_is_told_and_nothing_is_written(file: str, text: str, said: str) -> None:
    Path(file).write_text(text, encoding="utf-8")
    before = sheet()
    assert said in run("--write", status=2).err
    assert sheet() == before


@pytest.mark.second_lane
def test_a_unit_may_be_said_by_the_command() -> None:
    Path("t.map.yaml").write_text(MAP.replace(" (in)", ""), encoding="utf-8")
    table = TABLE.replace(" (in)", "")
    assert "has no unit" in run(table=table, status=2).out
    assert "Hole (in) " in run("--unit", "in", table=table).out
    assert "--unit inhc: is no known unit; write in" in run("--unit", "inhc", status=2).err


def test_a_map_is_proposed_and_serves_as_it_is(folder: Path) -> None:
    proposed = """\
specrules: import-map/1
# Proposed from the headings of the table. Check every line before you use it.
layout: a row a station
# unit:              # in or mm, of figures whose heading and cell say none; it is never guessed
stations:
  "Place": place
readings:
  "Hole front (in)": {measurand: hole, at: {plane: front}}
  "Hole rear (in)": {measurand: hole, at: {plane: rear}}
  "Shaft front (mm)": {measurand: shaft, at: {plane: front}}
  # "By":     # nothing of these packs is called so
"""
    ran = call("sheet", "import", "new.sheet.yaml", "t.csv", "--learn")
    assert (ran.status, ran.out) == (0, proposed)
    ran = call("sheet", "import", "new.sheet.yaml", "t.csv", "--learn", "--map", "own.map.yaml")
    assert ran.out == (
        "Wrote own.map.yaml. Check every line of it, fill in what is a comment, then:\n"
        "  specrules sheet import new.sheet.yaml t.csv --map own.map.yaml\n"
    )
    assert (folder / "own.map.yaml").read_text(encoding="utf-8") == proposed
    ran = call("sheet", "import", "new.sheet.yaml", "t.csv", "--map", "own.map.yaml", "--write")
    assert (ran.status, sheet()) == (0, AFTER)
    ran = call("sheet", "import", "new.sheet.yaml", "t.csv", "--learn", "--map", "own.map.yaml")
    assert (ran.status, "is there already and is left alone" in ran.err) == (2, True)


def test_without_a_map_it_is_said_what_to_do() -> None:
    ran = call("sheet", "import", "new.sheet.yaml", "t.csv")
    assert (ran.status, "--map says what the headings mean; --learn proposes one." in ran.err) == (2, True)
