"""Figures of tables in the text of sheets: in the units of their cells, and every other character as it was."""

from __future__ import annotations

import pytest

from specrules.importing.entering_all import AgainstSheet, changes_only, entries, roomy, with_all
from specrules.importing.map_reading import fitted, read_map
from specrules.importing.placing import place
from specrules.sheet import RawSheet, Sheet, read_sheet, settle
from specrules.sheet.cells import Cell, cells_of_sheet
from tests.importing.small_tables import FACTS, mapped, of_lines
from tests.sheet.small_shop import shop

GAPS = mapped(
    "layout: a row a station\nunit: in\nstations: {Cyl: cylinder, Ring: ring}\nreadings: {Gap: ring_end_gap}\n"
)
BORES = mapped(
    "layout: a row a station\nunit: mm\nstations: {Main: main}\n"
    "readings: {Bore: {measurand: main_bore, at: {plane: front}}}\n"
)
JOURNALS = mapped("layout: a row a station\nunit: in\nstations: {Main: main}\nreadings: {Bore: main_journal}\n")
WHOLE = mapped("layout: a row a station\nunit: in\nstations: {Main: main}\nreadings: {Bore: main_bore}\n")


def opened(text: str) -> tuple[Sheet, tuple[Cell, ...], RawSheet]:
    raw, faults = read_sheet(text.encode(), "e.sheet.yaml")
    assert raw is not None, faults
    sheet, faults = settle(raw, shop())
    assert sheet is not None, [fault.sentence() for fault in faults]
    return sheet, tuple(cells_of_sheet(raw, sheet, shop())), raw


def imported(
    body: str, import_map: str, *lines: str, overwrite: bool = False, unit: str = "in"
) -> tuple[str, AgainstSheet]:
    """The readings of a sheet after an import, and what came of each figure."""
    text = f"specrules: build-sheet/1\nunit: {unit}\n{FACTS}readings:\n{body}"
    sheet, cells, _ = opened(text)
    model, _ = read_map(import_map, "m.yaml")
    assert model is not None
    fits, _ = fitted(model, shop(), sheet)
    assert fits is not None
    placed = place(of_lines(*lines), fits, sheet).placed
    assert placed
    room = roomy(text, "e.sheet.yaml", placed, cells, sheet, shop())
    _, cells, raw = opened(room)
    found = entries(placed, cells, room, raw)
    wanted = (*found.entered, *(found.otherwise if overwrite else ()))
    made = with_all(room, wanted)
    assert made is not None
    assert changes_only(sheet, opened(made)[0], wanted)
    return made.split("readings:\n")[1], found


EARLIER = "  main_bore:\n  - {taken: 2026-09-01, at: {1: [2.5, 2.5]}}\n"
CASES = {
    "into empty braces": (
        "  main_bore: {1: {front: , rear: }}\n",
        BORES,
        "63.53",
        "  main_bore: {1: {front: 63.53 mm, rear: }}\n",
    ),
    "into a sheet in millimetres": (
        "  main_bore: {1: {front: }}\n",
        BORES,
        "63.53",
        "  main_bore: {1: {front: 63.53}}\n",
    ),
    "a fraction": (
        "  main_bore: {1: {front: , rear: 2.5}}\n",
        BORES,
        "2 1/2 in",
        "  main_bore: {1: {front: 2 1/2 in, rear: 2.5}}\n",
    ),
    "inches by their sign": ("  main_bore: {1: {front: }}\n", BORES, '2.5"', '  main_bore: {1: {front: 2.5"}}\n'),
    "an uncertainty of its own": (
        "  main_bore: {1: {front: }}\n",
        BORES,
        "63.53 ±0.01",
        "  main_bore: {1: {front: 63.53 mm ±0.01}}\n",
    ),
    "one side": (
        "  main_bore:\n    1:\n      front: open   # later\n",
        BORES,
        "over 63.5",
        "  main_bore:\n    1:\n      front: over 63.5 mm   # later\n",
    ),
    "into the last set": (
        EARLIER + "  - {taken: 2026-10-01, at: {1: {front: , rear: 2.5}}}\n",
        BORES,
        "63.53",
        EARLIER + "  - {taken: 2026-10-01, at: {1: {front: 63.53 mm, rear: 2.5}}}\n",
    ),
    "for the whole station, in place of empty braces": (
        "  main_bore: {1: {front: , rear: open}, 2: {front: , rear: }}   # cold\n",
        WHOLE,
        "2.5012",
        "  main_bore: {1: 2.5012, 2: {front: , rear: }}   # cold\n",
    ),
    "for the whole station, in another unit": (
        "  main_bore:\n    1: {front: , rear: }\n    2: {front: , rear: }\n",
        WHOLE,
        "63.53 mm ±0.01",
        "  main_bore:\n    1: 63.53 mm ±0.01\n    2: {front: , rear: }\n",
    ),
    "for the whole station, into the last set": (
        EARLIER + "  - {taken: 2026-10-01, at: {1: {front: , rear: }}}\n",
        WHOLE,
        "2.5012",
        EARLIER + "  - {taken: 2026-10-01, at: {1: 2.5012}}\n",
    ),
    "for the whole station of a measurand that the sheet does not name": (
        "  crank_end_float:\n",
        JOURNALS,
        "2.4990",
        "  crank_end_float:\n  main_journal:                   # Main journal (in)\n    1: 2.4990\n"
        "    2: {front: {a: , b: }, rear: {a: , b: }}\n    3: {front: {a: , b: }, rear: {a: , b: }}\n",
    ),
    "for the whole station, where the sheet has one place for it": (
        "  main_bore: {1: , 2: {front: , rear: }}\n",
        WHOLE,
        "2.5012",
        "  main_bore: {1: 2.5012, 2: {front: , rear: }}\n",
    ),
}


@pytest.mark.parametrize(("body", "import_map", "figure", "after"), CASES.values(), ids=CASES)
def test_a_figure_stands_in_its_cell_and_says_the_same_there(
    body: str, import_map: str, figure: str, after: str
) -> None:
    unit = "mm" if after.endswith("63.53}}\n") else "in"
    made, found = imported(body, import_map, "Main,Bore", f"1,{figure}", unit=unit)
    assert made == after
    assert found.faults == ()


ALREADY = [
    ("{unit: thou, 1: {top: 18, second: , oil: }}", "0.018", True),
    ("{unit: thou, 1: {top: 18.0, second: , oil: }}", "0.018", False),  # read to another place
    ("{1: {top: 0.018, second: , oil: }}", "18 thou", True),
    ("{1: {top: 18..20 thou, second: , oil: }}", "0.018..0.020", True),
    ("{1: {top: 0.018, second: , oil: }}", "0.018..0.020", False),
    ("{1: {top: {repeats: [0.018, 0.018]}, second: , oil: }}", "0.018", False),
    ("{1: {top: 0.018 ±0.001, second: , oil: }}", "0.018", False),
]


@pytest.mark.parametrize(("body", "figure", "same"), ALREADY)
def test_the_same_number_to_the_same_place_is_there_already(body: str, figure: str, same: bool) -> None:
    made, found = imported(f"  ring_end_gap: {body}\n", GAPS, "Cyl,Ring,Gap", f"1,top,{figure}")
    assert (len(found.already), len(found.otherwise), found.entered) == (same, not same, ())
    assert made == f"  ring_end_gap: {body}\n"


def test_what_the_sheet_has_otherwise_stays_beside_the_figure_that_comes_before_it() -> None:
    body = "  main_bore: {1: {front: 2.5, rear: {value: 2.6, confirmed: AB}}}\n"
    made, _ = imported(body, BORES, "Main,Bore", "1,63.53", overwrite=True)
    assert made == '  main_bore: {1: {front: {value: "63.53 mm", was: 2.5}, rear: {value: 2.6, confirmed: AB}}}\n'


def test_repeats_are_kept_as_what_was() -> None:
    made, _ = imported(
        "  main_bore: {1: {front: {repeats: [2.5, 2.6]}}}\n", BORES, "Main,Bore", "1,63.53", overwrite=True
    )
    assert made == '  main_bore: {1: {front: {value: "63.53 mm", was: {repeats: [2.5, 2.6]}}}}\n'


AGAIN = mapped(
    "layout: a row a station\nunit: mm\nstations: {Main: main}\nreadings:\n"
    + "".join(f"  No {n}: {{measurand: main_bore, at: {{plane: front}}, repeat: {n}}}\n" for n in (1, 2, 3))
)
REPEATS = {
    # cells of the sheet, what three columns say -> the cells after it
    (
        "{front: , rear: 2.5}",
        "63.53,63.54,63.53",
    ): '{front: {repeats: ["63.53 mm", "63.54 mm", "63.53 mm"]}, rear: 2.5}',
    ("{front: open, rear: }", "2.5012 in,,2.5013 in"): '{front: {repeats: ["2.5012 in", "2.5013 in"]}, rear: }',
    ("{front: , rear: }", ",2.5012 in,"): "{front: 2.5012 in, rear: }",
    ("{front: 2.5}", "2.5012 in,2.5013 in,"): '{front: {repeats: ["2.5012 in", "2.5013 in"], was: 2.5}}',
    ("{front: {repeats: [2.5, 2.6]}}", "2.5 in,2.6 in,"): "{front: {repeats: [2.5, 2.6]}}",
    ("{front: {repeats: [2.5, 2.6]}}", "2.5 in,2.60 in,"): (
        '{front: {repeats: ["2.5 in", "2.60 in"], was: {repeats: [2.5, 2.6]}}}'
    ),
}


@pytest.mark.parametrize(("before", "figures"), REPEATS)
def test_what_several_columns_say_of_one_place_are_its_repeats(before: str, figures: str) -> None:
    lines = ("Main,No 1,No 2,No 3", f"1,{figures}")
    made, found = imported(f"  main_bore: {{1: {before}}}\n", AGAIN, *lines, overwrite=True)
    assert made == f"  main_bore: {{1: {REPEATS[before, figures]}}}\n"
    assert (len(found.already), found.faults) == (made == f"  main_bore: {{1: {before}}}\n", ())


NO_PLACE = {
    "one figure for several places": (
        "  main_bore: {1: 2.5}\n",
        BORES,
        "the sheet has one figure of main_bore for the whole of this station",
    ),
    "one for the rest": (
        "  main_bore: {others: {front: 2.5, rear: 2.6}}\n",
        BORES,
        "the sheet has one figure for several places; write it in by hand",
    ),
    "no room": ("  main_bore: {2: {front: , rear: }}\n", BORES, "the sheet has no room for it; write it in by hand"),
    "one figure where a position is read already": (
        "  main_bore: {1: {front: , rear: 2.5}}\n",
        WHOLE,
        "one figure for the whole station, of which something is read at each plane",
    ),
    "one figure for a station that has no braces": (
        "  main_bore:\n    1:\n      front:\n      rear:\n",
        WHOLE,
        "one figure for the whole station, of which something is read at each plane",
    ),
}


@pytest.mark.parametrize(("body", "import_map", "said"), NO_PLACE.values(), ids=NO_PLACE)
def test_where_the_sheet_has_no_place_for_a_figure_it_is_refused(body: str, import_map: str, said: str) -> None:
    made, found = imported(body, import_map, "Main,Bore", "1,63.53")
    assert [fault.said for fault in found.faults] == [said]
    assert [fault.subject for fault in found.faults] == ["column 2, main_bore"]
    assert made == body


def test_many_figures_go_in_at_once_whatever_their_order() -> None:
    body = "  main_bore: {1: {front: , rear: }, 2: , 3: {front: , rear: }}\n"
    made, found = imported(body, WHOLE, "Main,Bore", "3,2.5013", "1,2.5011", "2,2.5012")
    assert made == "  main_bore: {1: 2.5011, 2: 2.5012, 3: 2.5013}\n"
    assert (len(found.entered), found.faults) == (3, ())


def test_one_figure_for_a_station_and_another_for_a_place_of_it_do_not_go_together() -> None:
    import_map = WHOLE.replace(
        "{Bore: main_bore}", "{Bore: main_bore, Front: {measurand: main_bore, at: {plane: front}}}"
    )
    body = "  main_bore: {1: {front: , rear: }}\n"
    made, found = imported(body, import_map, "Main,Bore,Front", "1,2.5,2.6")
    assert made == "  main_bore: {1: {front: 2.6, rear: }}\n"
    assert [fault.subject for fault in found.faults] == ["column 2, main_bore"]


def test_whatever_else_changes_is_noticed() -> None:
    text = f"specrules: build-sheet/1\nunit: in\n{FACTS}readings:\n  main_bore: {{1: {{front: 2.5, rear: 2.6}}}}\n"
    before = opened(text)[0]
    assert changes_only(before, opened(text)[0], ())
    for old, new in (("2.6", "2.61"), ("mains: 3", "mains: 4"), ("unit: in", "unit: mm"), ("rear: 2.6", "rear: ")):
        assert not changes_only(before, opened(text.replace(old, new))[0], ())
