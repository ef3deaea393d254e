"""A sheet as a form: a box for each of its cells, in the order of the work, with all that is known already."""

from __future__ import annotations

from xml.etree.ElementTree import Element

import pytest

from specrules.sheet.cells import Cell
from tests.output.page_reading import of_class, said
from tests.output.small_forms import form, form_of
from tests.sheet.small_trolley import TROLLEY

EMPTY = "readings:\n"
HOSTILE = "</td></style><script>alert(1)</script><img src=x onerror=alert(1)>&lt;\"'"


def boxes(tree: Element) -> dict[str, Element]:
    """Each box by the cell that it is of."""
    found = {each.get("data-cell", ""): each for each in of_class(tree, "box")}
    assert len(found) == len(list(of_class(tree, "box")))
    return found


def spot(cell: Cell) -> str:
    return " ".join((cell.measurand.name, *cell.station, *(cell.position or ())))


def measured(tree: Element, title: str) -> Element:
    """What the form has of one thing to measure."""
    return next(each for each in of_class(tree, "measured") if said(next(each.iter("h4"))).startswith(title))


def test_every_cell_of_the_sheet_has_one_box_in_the_order_of_the_work() -> None:
    tree, cells = form(EMPTY)
    assert len(cells) == 18
    assert list(boxes(tree)) == [spot(cell) for cell in cells]
    assert all(said(box) == "" for box in boxes(tree).values())
    assert "18 boxes." in said(tree)


def test_a_box_stands_under_its_labels() -> None:
    tree, _ = form("readings: {hole: {1: {front: 1.5020, rear: 1.5021}, 2: [open, 1.5022]}}")
    table = next(of_class(measured(tree, "Hole (in)"), "boxes"))
    rows = [[said(each) for each in row] for row in table.iter("tr")]
    assert rows == [["", "front", "rear"], ["place 1", "1.5020", "1.5021"], ["place 2", "", "1.5022"]]


def test_one_figure_for_a_station_is_one_box() -> None:
    tree, cells = form("readings: {hole: {1: 1.5020}}")
    found = {name: said(box) for name, box in boxes(tree).items() if name.startswith("hole")}
    assert found == {"hole 1": "1.5020", "hole 2 front": "", "hole 2 rear": ""}
    assert len(boxes(tree)) == len(cells)


def test_more_boxes_than_fit_side_by_side_go_on_below() -> None:
    tree, _ = form("facts: {places: 12, material: iron}\nreadings:\n")
    tables = list(of_class(measured(tree, "Grip"), "boxes"))
    assert [len(list(of_class(table, "box"))) for table in tables] == [4, 4, 4]
    assert [said(head) for head in tables[1].iter("th")] == ["place 5", "place 6", "place 7", "place 8"]


def test_what_one_gauge_reads_stands_together_with_room_for_its_zero() -> None:
    tree, _ = form(EMPTY)
    gauges = [said(each) for each in of_class(tree, "gauge")]
    assert gauges == ["Dial Gauge used Zero: standard reads", "Any gauge Gauge used Zero: standard reads"]
    fields = " ".join(said(each) for each in of_class(tree, "fields"))
    assert all(asked in fields for asked in ("Job", "Taken by (initials)", "Temperature of the parts", "of the gauges"))


def test_repeats_have_room_in_one_box() -> None:
    pack = TROLLEY.replace("unit: mm, usual: 50..400 mm,", "unit: mm, repeats: 3, usual: 50..400 mm,")
    sheet = "specrules: build-sheet/1\npacks: [trolley]\nunit: mm\nfacts: {axles: 2}\n"
    tree, _ = form_of(
        f"{sheet}readings: {{wheel_size: {{1: {{inner: {{repeats: [100.1, 100.2]}}}}}}}}\n", {"trolley": pack}
    )
    assert "Read each 3 times" in said(measured(tree, "Wheel size"))
    assert boxes(tree)["wheel_size 1 inner"].get("style") == "height: 24mm"
    assert said(boxes(tree)["wheel_size 1 inner"]) == "100.1, 100.2"


def test_each_check_stands_under_the_last_reading_that_it_waits_for_with_its_band() -> None:
    tree, _ = form(EMPTY)
    assert list(of_class(measured(tree, "Hole"), "judged")) == []
    told = [said(each) for each in measured(tree, "Shaft").iter("li")]
    assert told[0].startswith(
        "Running fit (on the diameter): least 0.0010, aim 0.0020, most 0.0030, wear most 0.0040 in"
    )
    svg = next(next(of_class(measured(tree, "Shaft"), "judged")).iter("svg"))
    parts = {each.get("data-part"): each.get("data-value") for each in svg.iter() if each.get("data-part")}
    assert parts == {"least": "0.0010", "aim": "0.0020", "most": "0.0030", "wear most": "0.0040"}


def test_a_limit_that_is_not_known_yet_says_what_it_waits_for() -> None:
    tree, _ = form("facts: {places: 2}\nreadings:\n")
    assert [said(each) for each in measured(tree, "Slot").iter("li")] == ["Slot width: Not known yet: state material."]
    tree, _ = form(EMPTY)
    assert [said(each) for each in measured(tree, "Plug").iter("li")] == [
        "Plug size: The maker's limits, in the sheet."
    ]


def test_what_lies_along_an_unknown_axis_is_asked_for() -> None:
    tree, cells = form("facts: {material: iron}\nreadings:\n")
    assert {cell.measurand.name for cell in cells} == {"tilt", "plug"}
    assert "State places in the sheet's facts and print this again" in said(tree)


def test_figures_that_cannot_stand_are_marked() -> None:
    tree, _ = form(
        "readings: {hole: {1: [1.5020, 1.5020], 2: [1.5020, 1.5020]}, tilt: 0.021, grip: {1: 0.0030, 2: 0.0300}}\n"
        "work done: [{operation: hone, on: 2026-10-02, at: {place: [2]}}]"
    )
    found = boxes(tree)
    assert [each.tag for each in found["hole 2 front"]] == ["s"]
    assert [each.tag for each in found["hole 1 front"]] == []
    assert "Struck out: read before later work." in said(tree)


def test_a_suspect_has_a_question_mark() -> None:
    tree, _ = form("readings: {tilt: 0.21}")
    assert said(boxes(tree)["tilt"]) == "0.21 ?"
    assert "With a question mark: looks like a slip." in said(tree)
    assert "question mark" not in said(form(EMPTY)[0])


def test_questions_have_room_for_an_answer_and_show_what_is_signed() -> None:
    tree, _ = form(
        EMPTY + "signed: {clean: {by: ab, on: 2026-10-01}, turned: [{at: {place: [2]}, by: cd, answer: no}]}"
    )
    rows = [[said(each) for each in row] for row in next(of_class(tree, "signing")).iter("tr")]
    assert rows == [
        ["Question", "Yes or no", "Initials", "Date"],
        ["Is every part clean? Before dry fit.", "yes", "ab", "2026-10-01"],
        ["Does it turn by hand? Before first start."],
        ["place 1", "", "", ""],
        ["place 2", "no", "cd", ""],
    ]


def test_a_drawing_stands_beside_what_has_places() -> None:
    tree, _ = form(EMPTY)
    drawn = next(next(of_class(measured(tree, "Hole"), "places")).iter("svg"))
    assert drawn.get("aria-label") == "Where it is measured: place 1, 2; plane front, rear"
    assert list(of_class(measured(tree, "Tilt"), "places")) == []


def test_the_head_says_whose_build_it_is() -> None:
    text = said(form(EMPTY)[0])
    assert text.startswith("A pair: form")
    assert "Form of engine.sheet.yaml, by the packs base 1.0." in text


@pytest.mark.parametrize("key", ["title", "job", "serial", "customer", "builder", "date"])
def test_hostile_text_of_a_sheet_stays_text(key: str) -> None:
    sheet = f"specrules: build-sheet/1\nbuild: {{{key}: {HOSTILE!r}}}\npacks: [base]\nunit: in\nfacts: {{places: 1}}\n"
    sheet = sheet.replace(repr(HOSTILE), "'" + HOSTILE.replace("'", "''") + "'")
    if key == "date":
        sheet = sheet.replace("date:", "builder:")
    tree, _ = form_of(sheet)
    assert HOSTILE in said(tree)
    assert "<script>" not in (next(tree.iter("style")).text or "")


def test_hostile_text_of_a_pack_stays_text() -> None:
    quoted = "'" + HOSTILE.replace("'", "''") + "'"
    pack = TROLLEY
    for old in ("Wheel size", "Does it turn?", "A trolley", "Size of the wheel"):
        pack = pack.replace(f": {old}", f": {quoted}")
    pack = pack.replace("group: Wheels", f"group: {quoted}").replace(
        "gauge classes: [tape]", "gauge classes: [tape], how: " + quoted
    )
    sheet = (
        "specrules: build-sheet/1\npacks: [trolley]\nunit: mm\nfacts: {axles: 1}\nsigned: {turns: {by: "
        + quoted
        + "}}\n"
    )
    tree, _ = form_of(sheet, {"trolley": pack})
    assert said(tree).count(HOSTILE) >= 5


def test_labels_of_a_sheet_stay_text_and_boxes_are_told_apart() -> None:
    pack = TROLLEY.replace("[near, far]", "['near<', '&quot;']")
    tree, cells = form_of(
        "specrules: build-sheet/1\npacks: [trolley]\nunit: mm\nfacts: {axles: 1}\n", {"trolley": pack}
    )
    assert list(boxes(tree)) == [spot(cell) for cell in cells]
