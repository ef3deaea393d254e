"""Readings out of tables: the layouts of shops, and what in them is not surely a reading, refused at its address."""

from __future__ import annotations

import pytest

from tests.importing.small_tables import book, of_book, of_lines, placing, readings, refusals
from tests.lanes import first_alone

BY_ROW = """\
layout: a row a station
unit: in
stations: {Main: main}
readings:
  Bore front: {measurand: main_bore, at: {plane: front}}
  Bore rear: {measurand: main_bore, at: {plane: rear}}
"""
BY_COLUMN = BY_ROW.replace("a row a", "a column a")
BY_BLOCK = """\
layout: a block a part
unit: in
block: {titles: main, across: plane}
readings: {Bore: main_bore}
"""
GAPS = "layout: a row a station\nunit: thou\nstations: {Cyl: cylinder, Ring: ring}\nreadings: {Gap: ring_end_gap}\n"

ALL = {
    "main_bore 1 front": "2.5012 in",
    "main_bore 1 rear": "2.5013 in",
    "main_bore 2 front": "2.5010 in",
    "main_bore 2 rear": "2.5011 in",
}

LAYOUTS = {
    "a row a station": (BY_ROW, ["Main,Bore front,Bore rear", "1,2.5012,2.5013", "2,2.5010,2.5011", "3,,"]),
    "a column a station": (BY_COLUMN, ["Main,1,2,3", "Bore front,2.5012,2.5010", "Bore rear,2.5013,2.5011,"]),
    "a block a part": (
        BY_BLOCK,
        ["Main 1,front,rear", "Bore,2.5012,2.5013", "", "Main 2,front,rear", "Bore,2.5010,2.5011"],
    ),
    "labels beside titles": (
        BY_BLOCK,
        ["Main:,1,front,rear", "Bore,,2.5012,2.5013", "Main:,2,front,rear", "Bore,,2.5010,2.5011"],
    ),
    "one figure a line of a block": (
        BY_BLOCK.replace(", across: plane", "").replace("{Bore: main_bore}", "")
        + "  Bore front: {measurand: main_bore, at: {plane: front}}\n"
        "  Bore rear: {measurand: main_bore, at: {plane: rear}}\n",
        ["#1", "Bore front,2.5012", "Bore rear,2.5013", "#2", "bore  FRONT,2.5010", "Bore_rear,2.5011"],
    ),
    "headings of two lines, in a part of the table": (
        f"{BY_ROW}rows: 3..5\ncolumns: B..D\nheading lines: 2\n".replace("{Main: main}", "{No Main: main}"),
        ["Job 7", "", ",No,Bore,Bore", ",Main,front,rear", ",1,2.5012,2.5013", ",2,9,9"],
    ),
}


@pytest.mark.parametrize(("text", "lines"), LAYOUTS.values(), ids=LAYOUTS)
def test_each_layout_has_its_readings_at_their_places(text: str, lines: list[str]) -> None:
    found = placing(of_lines(*lines), text)
    assert refusals(found) == []
    wanted = {name: figure for name, figure in ALL.items() if " 1 " in name} if "rows:" in text else ALL
    assert readings(found) == wanted


@pytest.mark.parametrize(("text", "lines"), first_alone(*LAYOUTS.values()))
def test_a_spreadsheet_reads_as_the_same_text_does(text: str, lines: list[str]) -> None:
    rows = [[float(cell) if "." in cell else cell or None for cell in line.split(",")] for line in lines]
    found = placing(of_book(book(rows)), text)
    assert refusals(found) == []
    assert {name: figure.replace("2.501 ", "2.5010 ") for name, figure in readings(found).items()} == readings(
        placing(of_lines(*lines), text)
    )


def test_a_label_may_stand_in_two_columns_and_a_measurand_of_one_figure_a_part() -> None:
    found = placing(
        of_lines("Cyl,Ring,Gap", "Cyl 1,Top,18", "Cyl 1,2nd,21..22", "2,Top,over 20"),
        f"{GAPS}labels: {{ring: {{2nd: second}}}}\n",
    )
    assert refusals(found) == []
    assert readings(found) == {
        "ring_end_gap 1 top": "18 thou",
        "ring_end_gap 1 second": "21..22 thou",
        "ring_end_gap 2 top": "over 20 thou",
    }


def test_an_axis_of_one_label_need_not_be_said() -> None:
    text = "layout: a row a station\nunit: in\nreadings: {Front: {measurand: deck_height, at: {end: front}}}\n"
    found = placing(of_lines("Front", "9.0250"), text)
    assert (readings(found), refusals(found)) == ({"deck_height all front": "9.0250 in"}, [])


def test_a_number_of_a_spreadsheet_has_a_point_whatever_its_texts_have() -> None:
    table = of_book(book([["Main", "Bore front", "Bore rear"], [1, 2.5012, "2,5013"]]))
    found = placing(table, f"{BY_ROW}decimal: comma\n")
    assert readings(found) == {"main_bore 1 front": "2.5012 in", "main_bore 1 rear": "2.5013 in"}


def test_what_is_measured_once_needs_no_label() -> None:
    table = of_lines("End float,Note", "0.0055,cold")
    found = placing(table, "layout: a row a station\nunit: in\nreadings: {End float: crank_end_float}\n")
    assert (readings(found), refusals(found)) == ({"crank_end_float": "0.0055 in"}, [])
    assert [cell.text for cell in found.passed] == ["Note"]


UNITS = {
    "by the heading": ("Bore front (mm)", "63.53", "63.53 mm", ""),
    "by the cell": ("Bore front", "63.53 mm", "63.53 mm", ""),
    "by the cell and the same by the heading": ("Bore front [mm]", "63.53 mm", "63.53 mm", ""),
    "by the cell and another by the heading": (
        "Bore front (mm)",
        "2.5012 in",
        "",
        'line 2, column 2, main_bore: "2.5012 in" names in, and its heading says mm.',
    ),
    "by a sign": ("Bore front", '2.5012"', '2.5012"', ""),
    "of another kind": (
        "Bore front",
        "2.5 cc",
        "",
        'line 2, column 2, main_bore: "2.5 cc" is in cc, which is volume, not length.',
    ),
    "twice, and they agree": ("Bore front", "2.5012 in (63.530 mm)", "2.5012 in (63.530 mm)", ""),
    "of a word in brackets that is none": ("Bore front (cold)", "2.5012", "2.5012 in", ""),
}


@pytest.mark.parametrize(("heading", "cell", "read", "refused"), UNITS.values(), ids=UNITS)
def test_the_unit_is_said_by_the_cell_the_heading_or_the_map(heading: str, cell: str, read: str, refused: str) -> None:
    text = BY_ROW.replace("Bore front:", f"'{heading}':").replace(
        "  Bore rear: {measurand: main_bore, at: {plane: rear}}\n", ""
    )
    found = placing(of_lines(f"Main,{heading}", f"1,{cell}"), text)
    assert readings(found) == ({"main_bore 1 front": read} if read else {})
    assert refusals(found) == ([refused] if refused else [])


HEADING_UNITS = [
    # heading, unit of the map for all, the figure that is read or what is refused
    ("Bore (thou)", "in", "18 thou"),
    ("Bore thou", "", "18 thou"),
    ("Bore thou", "thou", "18 thou"),
    ("Bore, mm", "", "18 mm"),
    ("Bore_mm", "", "18 mm"),
    ("Bore thou", "in", "may say thou, and the map in"),
    ("Bore in", "in", "18 in"),
    ("Bore in", "mm", "may say in, and the map mm"),
    ("Bore in", "", "may say in, or the word in"),
    ("Bore 10 mm below deck", "in", "18 in"),
    ("Bore #2 mm below", "in", "18 in"),
    ("Bore (hundredths)", "mm", '"hundredths"'),
    ("Bore (inhc)", "mm", '"inhc" is no known unit'),
    ("Bore (cc)", "mm", "names cc, and main_bore is length"),
    ("Bore (a)", "mm", "18 mm"),
    ("Bore (cold)", "mm", "18 mm"),
    ("Bore (mm) (in)", "mm", "names two units"),
]


@pytest.mark.parametrize(("heading", "unit", "read"), HEADING_UNITS)
def test_a_heading_that_may_say_another_unit_is_asked_about(heading: str, unit: str, read: str) -> None:
    text = "layout: a row a station\nstations: {Main: main}\nreadings:\n"
    text += f"  '{heading}': {{measurand: main_bore, at: {{plane: front}}}}\n" + (f"unit: {unit}\n" if unit else "")
    found = placing(of_lines(f"Main;{heading}", "1;18", between=";"), text)
    if read[0].isdigit():
        assert (readings(found), refusals(found)) == ({"main_bore 1 front": read}, [])
    else:
        assert readings(found) == {}
        (refused,) = refusals(found)
        assert refused.startswith(f"line 1, column 2, main_bore: {read}")
        assert refused.endswith("; write unit: for this heading in the map.")


def test_the_map_may_say_the_unit_of_a_heading_that_is_unclear_but_none_against_it() -> None:
    text = "layout: a row a station\nstations: {{Main: main}}\nreadings:\n"
    text += "  'Bore {}': {{measurand: main_bore, at: {{plane: front}}, unit: mm}}\n"
    assert readings(placing(of_lines("Main,Bore in", "1,18"), text.format("in"))) == {"main_bore 1 front": "18 mm"}
    for said in ("thou", "(thou)", "(in)"):
        found = placing(of_lines(f"Main,Bore {said}", "1,18"), text.format(said))
        assert readings(found) == {}
        assert f"names {said.strip('()')}, and the map says mm" in refusals(found)[0]


def test_a_unit_that_nobody_says_is_never_guessed() -> None:
    table, text = of_lines("Main,Bore front,Bore rear", "1,2.5012,2.5013 in"), BY_ROW.replace("unit: in\n", "")
    found = placing(table, text)
    assert readings(found) == {"main_bore 1 rear": "2.5013 in"}
    assert refusals(found) == [
        'line 2, column 2, main_bore: "2.5012" has no unit, and neither its heading nor the map says one; write '
        "unit: in the map, or --unit."
    ]
    assert readings(placing(table, text, ["in"]))["main_bore 1 front"] == "2.5012 in"
    assert readings(placing(table, BY_ROW, ["mm"]))["main_bore 1 front"] == "2.5012 in"  # the map's word comes first


def test_each_kind_of_quantity_has_a_unit_of_its_own() -> None:
    text = "layout: a row a station\nunit: [mm, cc]\nstations: {Cyl: cylinder}\n"
    text += "readings: {Volume: chamber_volume, Weight: {measurand: piston_weight, unit: g}, Opens: opens}\n"
    found = placing(of_lines("Cyl,Volume,Weight,Opens", "1,64.1,512,12"), text)
    assert readings(found) == {"chamber_volume 1": "64.1 cc", "piston_weight 1": "512 g"}
    assert len(refusals(found)) == 1
    assert "has no unit" in refusals(found)[0]


CELLS = {
    "2,5012": '"2,5012" has a comma; write 2.5012, or decimal: comma in the map.',
    "about 2.5": '"about 2.5" is approximate, and never judged as exact; write what the gauge showed, and the gauge.',
    "-": '"-" is only a dash; what was not measured is left empty or open; write open.',
    "n/a": '"n/a" does not say whether 0 was measured or nothing was; write 0 or open.',
    "2.5012 ok": '"2.5012 ok" has ok after the number, which is no unit; a note belongs in a comment; write 2.5012 in.',
    "2.5012 2.5013": '"2.5012 2.5013" has a space inside a number.',
    "2.50l2": "letter",
    "22..20": '"22..20" runs from the larger to the smaller; write 20..22.',
    "=1+1": '"=1+1" is no written number.',
    "1e3": "exponent",
    "2" * 10_000: "is longer than 60 characters",
}


@pytest.mark.parametrize(("cell", "said"), CELLS.items(), ids=[key[:20] for key in CELLS])
def test_what_is_not_surely_a_number_is_refused_at_its_address(cell: str, said: str) -> None:
    found = placing(of_lines("Main;Bore front;Bore rear", f"1;{cell};2.5013", between=";"), BY_ROW)
    assert readings(found) == {"main_bore 1 rear": "2.5013 in"}
    (refused,) = refusals(found)
    assert refused.startswith("line 2, column 2, main_bore: ")
    assert said in refused


@pytest.mark.parametrize("cell", ["", "open", " OPEN "])
def test_what_was_not_measured_is_passed_by(cell: str) -> None:
    found = placing(of_lines("Main,Bore front,Bore rear", f"1,{cell},2.5013"), BY_ROW)
    assert (readings(found), refusals(found)) == ({"main_bore 1 rear": "2.5013 in"}, [])


COMMAS = {
    "2,5012": "2.5012 in",
    "2.5012": "",
    "63,53 mm": "63.53 mm",
    "2,5012,3": "",
    "1.234,5": "",
    "18..20": "18..20 in",
}


@pytest.mark.parametrize(("cell", "read"), COMMAS.items())
def test_a_decimal_comma_is_declared_and_a_point_is_then_none(cell: str, read: str) -> None:
    found = placing(of_lines("Main;Bore front;Bore rear", f"1;{cell};", between=";"), f"{BY_ROW}decimal: comma\n")
    assert readings(found) == ({"main_bore 1 front": read} if read else {})
    assert len(refusals(found)) == (not read)


TROUBLES = {
    "a label that is none": (
        BY_ROW,
        ["Main,Bore front,Bore rear", "9,2.5012,2.5013"],
        ['line 2, column 1: "9" is no label of main; there are 1 to 3; write it under left out: or labels:.'],
    ),
    "no label": (
        BY_ROW,
        ["Main,Bore front,Bore rear", ",2.5012,2.5013"],
        ["line 2, column 1: has no label of main; there are 1 to 3."],
    ),
    "one place twice": (
        BY_ROW,
        ["Main,Bore front,Bore rear", "1,2.5012,", "Main 1,2.5013,"],
        [
            'line 2, column 2, main_bore: "2.5012" is of the same place as the figure at line 3, column 2.',
            'line 3, column 2, main_bore: "2.5013" is of the same place as the figure at line 2, column 2.',
        ],
    ),
    "one place in two columns that are the same repeat": (
        BY_ROW.replace("{plane: rear}}", "{plane: front}, repeat: 1}").replace(
            "{plane: front}}", "{plane: front}, repeat: 1}"
        ),
        ["Main,Bore front,Bore rear", "1,2.5012,2.5013"],
        [
            'line 2, column 2, main_bore: "2.5012" is of the same place as the figure at line 2, column 3; '
            "write repeat: 1 and repeat: 2 in the map.",
            'line 2, column 3, main_bore: "2.5013" is of the same place as the figure at line 2, column 2; '
            "write repeat: 1 and repeat: 2 in the map.",
        ],
    ),
    "a repeat that is no one figure": (
        BY_ROW.replace("{plane: rear}}", "{plane: front}, repeat: 2}").replace(
            "{plane: front}}", "{plane: front}, repeat: 1}"
        ),
        ["Main,Bore front,Bore rear", "1,2.5012,2.5010..2.5014"],
        ['line 2, column 3, main_bore: "2.5010..2.5014" is no one figure, and what is read again is one.'],
    ),
    "a heading twice": (
        BY_ROW,
        ["Main,Bore front,Bore rear,bore front", "1,2.5012,2.5013,"],
        ['line 1, column 4: the heading "bore front" stands in column 2 too, and one of them is meant.'],
    ),
    "a comma that parts a number in two": (
        BY_ROW,
        ["Main,Bore front,Bore rear", "1,2,5012,2,5013"],
        ['line 2, column 4: "2" stands under no heading, so nothing in its line is sure.'],
    ),
    "another delimiter": (
        BY_ROW,
        ["Main;Bore front;Bore rear", "1;2.5012;2.5013"],
        [
            f'm.yaml, line {line}: no heading in t.csv is "{name}"; write delimiter: semicolon.'
            for line, name in ((4, "Main"), (6, "Bore front"), (7, "Bore rear"))
        ],
    ),
    "a heading that is not there": (
        BY_ROW,
        ["Main,Bore font,Bore rear", "1,2.5012,"],
        ['m.yaml, line 6: no heading in t.csv is "Bore front"; write Bore font.'],
    ),
    "no heading of labels": (
        BY_ROW,
        ["Mian,Bore front,Bore rear", "1,2.5012,"],
        ['m.yaml, line 4: no heading in t.csv is "Main"; write Mian.'],
    ),
    "a title that is none": (
        BY_BLOCK,
        ["Mian 1,front,rear", "Bore,2.5012,2.5013"],
        [
            'line 1, column 1: "Mian 1" is neither a heading of the map nor a label of main; there are 1 to 3; write '
            "it under left out: or labels:.",
            'line 2, column 1: "Bore" stands in no block: above it is no title that says the main.',
        ],
    ),
    "a label beside a title that is none": (
        BY_BLOCK,
        ["Main 1,front,reer", "Bore,2.5012,2.5013"],
        [
            'line 1, column 3: "reer" is no label of plane; there are front and rear; write it '
            "under left out: or labels:.",
            'line 2, column 3: "2.5013" stands under no label of plane.',
        ],
    ),
    "figures beside no heading": (
        BY_BLOCK,
        ["Main 1,front,rear", "Bore,2.5012,", ",2.5012,2.5013"],
        ["line 3, column 1: something stands here beside no heading or title."],
    ),
    "a title that is missing": (
        BY_BLOCK,
        ["Main 1,front,rear", "Bore,2.5012,", "Bore,,2.5013"],
        ['line 3, column 1: "Bore" stands under its title already, so a title may be missing above it.'],
    ),
    "several figures for one": (
        BY_BLOCK.replace(", across: plane", "").replace("main_bore", "{measurand: main_bore, at: {plane: front}}"),
        ["Main 1", "Bore,2.5012,2.5013"],
        ['line 2, column 3: "2.5013" is one figure more than "Bore" can have; write across: in the map\'s block.'],
    ),
    "two labels of one axis that differ": (
        BY_ROW.replace("{Main: main}", "{Main: main, Again: main}"),
        ["Main,Again,Bore front,Bore rear", "1,2,2.5012,"],
        ["line 2, column 2: the line says two labels of main, 1 and 2."],
    ),
}


@pytest.mark.parametrize(("text", "lines", "said"), TROUBLES.values(), ids=TROUBLES)
def test_what_is_not_sure_is_refused_and_never_read(text: str, lines: list[str], said: list[str]) -> None:
    found = placing(of_lines(*lines), text)
    assert refusals(found) == said
    sure = {"main_bore 1 rear": "2.5013 in"} if "bore front" in lines[0] else {}
    sure |= {"main_bore 1 front": "2.5012 in"} if text.startswith(BY_BLOCK[:25]) and "Mian" not in lines[0] else {}
    assert readings(found) == sure


def test_lines_and_headings_that_are_left_out_say_nothing() -> None:
    found = placing(
        of_lines("Main,Bore front,Bore rear,By", "1,2.5012,,JT", "Average,2.5,2.5,", ",,,JT"),
        f"{BY_ROW}left out: [Average, By]\n",
    )
    assert (readings(found), refusals(found), found.passed) == ({"main_bore 1 front": "2.5012 in"}, [], ())
