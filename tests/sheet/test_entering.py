"""A reading entered into a sheet: its text alone differs, it reads back as typed, and no other reading moves."""

from __future__ import annotations

import re
from datetime import date

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from specrules.document.replacing import written
from specrules.document.source import UNWANTED
from specrules.pack import Specification
from specrules.quantity import LENGTH
from specrules.sheet import Reading, Sheet, read_sheet, settle
from specrules.sheet.cells import Cell, cells_of_sheet
from specrules.sheet.entering import with_figure, with_repeat, with_room, with_said, with_signature, with_superseded
from specrules.sheet.new_sheet import NewSheet, rows_of, start
from tests.lanes import first_alone
from tests.sheet.small_shop import FILE, shop

HEAD = "specrules: build-sheet/1\npacks: [small]\nunit: in\nfacts: {mains: 2, cylinders: 2, throws: [[1, 2]]}\n"
FACTS = {"mains": "2", "cylinders": "2", "throws": "[[1, 2]]", "banks": "{left: [1], right: [2]}"}

NOTATIONS = {
    "a line a station": "  main_journal:\n    1: {front: {a: , b: }, rear: {a: 2.5, b: }}  # so\n    2: {front: {}}\n",
    "in blocks": "  main_journal:\n    1:\n      front:\n        a: \n        b:\n      rear: {a: open}\n",
    "lists": "  main_journal: {1: [2.5001, open, '', 2.5003], 2: [open, open, open, open]}\n",
    "dashes": "  main_journal:\n    1:\n      - 2.5001\n      -\n      - open\n      - 2.5\n",
    "one figure": "  crank_end_float:\n",
    "one figure and a comment": "  crank_end_float: # the last of the day\n",
    "open": "  crank_end_float: open   # not yet\n",
    "quoted": "  crank_end_float: ''\n",
    "a set with its gauge": "  main_journal:\n    gauge: ''\n    unit: thou\n    1: {front: {a: , b: }}\n",
    "sets": (
        "  main_journal:\n    - {state: as found, at: {1: {front: {a: 2.5}}}}\n"
        "    - {state: as built, at: {1: {front: {b: }}}}\n"
    ),
    "a reading as a mapping": (
        "  main_journal: {1: {front: {a: {value: 2.5, because: again}, b: {repeats: [2.5, 2.6]}}}}\n"
    ),
    "readings as blocks": (
        "  main_journal:\n    1:\n      front:\n"
        "        a:  # twice\n          value: 2.5  # cold\n          because: again\n"
        "        b: {value: 2.5, taken: 2026-10-01,\n            was: {value: 2.6, confirmed: ab}}\n"
    ),
    "one reading, said of it alone": "  crank_end_float: {value: 0.005, taken: 2026-10-01, because: it was lapped}\n",
    "with pictures": (
        "  main_journal:\n    pictures: [a/1.jpg, 2.png]  # of both\n"
        "    1: {front: {a: {value: 2.5, pictures: 'it''s 3.jpg'}, b: {value: 2.5, pictures: [4.jpg, \"5.jpg\"]}}}\n"
        "  crank_end_float:\n    pictures:\n      - 6.jpg\n    value: 0.005\n"
    ),
    "windows": "  main_journal:\r\n    1: {front: {a: , b: }}\r\n    2: {front: {a: ,b:}}\r\n",
    "a mark at the start": "  crank_end_float: \n  ring_end_gap: {1: {top: 0.02}}\n",
    "a key in quotes": '  "crank_end_float": \n',
}


def sheet_of(text: str, spec: Specification) -> tuple[Sheet, dict[tuple[object, ...], Cell]]:
    raw, faults = read_sheet(text.encode(), FILE)
    assert raw is not None, [fault.sentence() for fault in faults]
    sheet, wrong = settle(raw, spec)
    assert sheet is not None, [fault.sentence() for fault in (*faults, *wrong)]
    return sheet, {cell.spot: cell for cell in cells_of_sheet(raw, sheet, spec)}


def readings(sheet: Sheet) -> dict[tuple[object, ...], Reading]:
    """Each by where it stands; behind those that govern what they replaced, numbered."""
    found: dict[tuple[object, ...], Reading] = {}
    for r in (*sheet.readings, *sheet.history):
        key = (r.name, r.station, r.position or (), r.state)
        number = sum(each[:4] == key for each in found)
        found[*key, number] = r._replace(place=None, statement=0)  # type: ignore[arg-type]
    return found


def text_of(name: str) -> str:
    body = NOTATIONS[name]
    text = f"{HEAD}readings:\n{body}signed: {{}}\n"
    return (
        "\ufeff" + text
        if name.startswith("a mark")
        else text.replace("\r\n", "\n").replace("\n", "\r\n")
        if "\r" in body
        else text
    )


@pytest.mark.parametrize("name", NOTATIONS)
def test_only_the_text_of_that_reading_differs(name: str) -> None:
    source = text_of(name)
    sheet, there = sheet_of(source, shop())
    written = {spot: cell for spot, cell in there.items() if cell.written is not None and not cell.written.repeated}
    assert written
    for spot, cell in written.items():
        assert cell.written is not None
        made = with_figure(source, cell, "2.4999")
        assert made is not None
        start, end = cell.written.texts[0].span
        assert made.startswith(source[:start])
        rests = [rest for rest in (source[end:], source[end:].removeprefix(" ")) if made.endswith(rest)]
        assert "2.4999" in [made[start : len(made) - len(rest)].strip(" '\"") for rest in rests]
        after, now = sheet_of(made, shop())
        assert now[spot].given
        differ = {key for key, reading in readings(after).items() if readings(sheet).get(key) != reading}
        assert {key[:3] for key in differ} == {spot}
        (key,) = differ
        assert readings(after)[key].text == "2.4999"


@pytest.mark.parametrize("name", NOTATIONS)
def test_once_more_and_confirmed_are_of_that_reading_alone(name: str) -> None:
    source = text_of(name)
    _, there = sheet_of(source, shop())
    for spot, cell in there.items():
        for made in (with_repeat(source, cell, "2.4998"), with_said(source, cell, {"confirmed": "ab"})):
            if not cell.given or cell.written is None:
                assert made is None
            elif made is not None:
                before, _ = sheet_of(source, shop())
                after, now = sheet_of(made, shop())
                differ = {key[:3] for key, each in readings(after).items() if readings(before).get(key) != each}
                assert differ == {spot}
                assert now[spot].given


@pytest.mark.parametrize("name", first_alone(*sorted(NOTATIONS, key="readings as blocks".__ne__)))
def test_what_stood_there_is_kept_beside_the_new_figure_and_nothing_else_moves(name: str) -> None:
    """Twice over: the first is in the history still, with all that was said of it."""
    first = text_of(name)
    at_first = sheet_of(first, shop())
    kept = [cell for cell in at_first[1].values() if cell.given and cell.written is not None]
    for cell in at_first[1].values():
        assert cell in kept or with_superseded(first, cell, ["2.4997"], {}) is None
    for spot in (cell.spot for cell in kept):
        source, (before, there) = first, at_first
        for figure in ("2.4997", "2.4998"):
            made = with_superseded(source, there[spot], [figure], {"taken": "2026-10-02"})
            assert made is not None
            after, now = sheet_of(made, shop())
            assert now[spot].given
            assert said_of(after, spot)[0][:2] == (figure, date(2026, 10, 2))
            assert sorted(said_of(after, spot)[1:]) == sorted(said_of(before, spot))
            told = readings(after)
            assert all(told[key] == each for key, each in readings(before).items() if key[:3] != spot)
            assert without_layout(made).count("was:") == without_layout(source).count("was:") + 1
            assert made.count("#") == source.count("#")
            source, before, there = made, after, now


def said_of(sheet: Sheet, spot: tuple[object, ...]) -> list[tuple[object, ...]]:
    every = (*sheet.readings, *sheet.history)
    return [
        (r.text, r.taken or date.min, r.because, r.confirmed, r.gauge, r.pictures)
        for r in every
        if (r.name, r.station, r.position or ()) == spot
    ]


def without_layout(text: str) -> str:
    return re.sub(r"\s", "", text)


def test_a_superseded_figure_as_it_is_written() -> None:
    source = f"{HEAD}readings: {{crank_end_float: 5 thou}}\n"
    spot = ("crank_end_float", (), ())
    made = with_superseded(source, sheet_of(source, shop())[1][spot], ["0.0052"], {"taken": "2026-10-02"})
    assert made == f'{HEAD}readings: {{crank_end_float: {{value: 0.0052, taken: 2026-10-02, was: "5 thou"}}}}\n'
    block = f"{HEAD}readings:\r\n  crank_end_float:\r\n    value: 0.0050  # cold\r\n    because: lapped\r\n"
    made = with_superseded(block, sheet_of(block, shop())[1][spot], ["0.0052"], {"taken": "2026-10-02"})
    assert made == (
        f"{HEAD}readings:\r\n  crank_end_float:\r\n    value: 0.0052\r\n    taken: 2026-10-02\r\n    was:\r\n"
        "      value: 0.0050  # cold\r\n      because: lapped\r\n"
    )


@given(st.text(max_size=30))
@example("the thrust was lapped: 0.5 thou, # not so")
@example('"')
@example("null")
@example("a\\")
def test_a_note_reads_back_as_it_was_typed_or_is_refused(note: str) -> None:
    note = " ".join(note.split())
    for before in ("0.0050", "{value: 0.0050, because: so}", "\n    value: 0.0050"):
        source = f"{HEAD}readings:\n  crank_end_float: {before}\nsigned: {{}}\n"
        made = with_said(source, sheet_of(source, shop())[1]["crank_end_float", (), ()], {"because": written(note)})
        assert made is not None
        assert made.endswith("\nsigned: {}\n")
        raw, faults = read_sheet(made.encode("utf-8", "surrogatepass"), FILE)
        if UNWANTED.search(note):
            assert faults
        else:
            assert raw is not None
            (reading,) = sheet_of(made, shop())[0].readings
            assert (reading.text, reading.because) == ("0.0050", note)


def test_a_reading_begins_its_repeats_and_takes_a_word() -> None:
    source = f"{HEAD}readings: {{crank_end_float: 0.0050}}\n"
    twice = with_repeat(source, sheet_of(source, shop())[1]["crank_end_float", (), ()], "0.0051")
    assert twice == f"{HEAD}readings: {{crank_end_float: {{repeats: [0.0050, 0.0051]}}}}\n"
    again = with_repeat(twice, sheet_of(twice, shop())[1]["crank_end_float", (), ()], "5.2 thou")
    assert again == f'{HEAD}readings: {{crank_end_float: {{repeats: [0.0050, 0.0051, "5.2 thou"]}}}}\n'
    said = with_said(again, sheet_of(again, shop())[1]["crank_end_float", (), ()], {"confirmed": "ab"})
    assert said == f'{HEAD}readings: {{crank_end_float: {{repeats: [0.0050, 0.0051, "5.2 thou"], confirmed: ab}}}}\n'
    (reading,) = sheet_of(said, shop())[0].readings
    assert (reading.confirmed, reading.text) == ("ab", "0.0050, 0.0051, 5.2 thou")


@pytest.mark.parametrize(
    "before",
    [
        "",
        "readings:\n",
        "readings:\n  crank_end_float: 0.005\n",
        "readings:\n    crank_end_float: 0.005 # so\n\nsigned: {}\n",
        "signed: {}\nreadings:\n  main_bore: {1: {front: }}",
        "signed: {}",
    ],
)
def test_what_a_sheet_does_not_name_gets_room_as_the_last_of_its_readings(before: str) -> None:
    source = HEAD + before
    sheet, there = sheet_of(source, shop())
    journal = shop().measurands["main_journal"]
    made = with_room(source, FILE, rows_of(journal, sheet, shop()))
    assert made is not None
    after, now = sheet_of(made, shop())
    assert readings(after) == readings(sheet)
    assert all(cell.written is not None for spot, cell in now.items() if spot[0] == "main_journal")
    assert not any(cell.written is not None for spot, cell in there.items() if spot[0] == "main_journal")


@pytest.mark.parametrize("before", ["readings: {}\n", "readings: {crank_end_float: 0.005}\n"])
def test_readings_in_braces_get_no_room(before: str) -> None:
    sheet, _ = sheet_of(HEAD + before, shop())
    assert with_room(HEAD + before, FILE, rows_of(shop().measurands["main_journal"], sheet, shop())) is None


@pytest.mark.second_lane
@given(st.data())
def test_a_new_sheet_may_be_filled_in_any_order(data: st.DataObject) -> None:
    """Each cell with a number of its own; what was entered before stays to the last."""
    source = start(shop(), FACTS, NewSheet("", ("small",), "in", with_how=data.draw(st.booleans())))
    entered: dict[tuple[object, ...], str] = {}
    for number in range(data.draw(st.integers(1, 6))):
        _, there = sheet_of(source, shop())
        lengths = [spot for spot, cell in there.items() if cell.measurand.unit.dimension == LENGTH]
        spot = data.draw(st.sampled_from(sorted(lengths)))
        figure = data.draw(
            st.sampled_from([f"2.{number}", f"2{number} thou", f"2.1..2.{number + 2}", f"over 0.{number}1"])
        )
        made = with_figure(source, there[spot], figure)
        assert made is not None
        source, entered[spot] = made, figure
    sheet, _ = sheet_of(source, shop())
    assert {(r.name, r.station, r.position or ()): r.text for r in sheet.readings} == entered


ASKED = "signed:\n  rotates_freely:"
SIGNED = {
    # the section as it is, yes -> with the signature, or None where there is no room
    (f"{ASKED} {{by: , on: }}  # so\n", True): f"{ASKED} {{by: AB, on: 2026-10-02}}  # so\n",
    (f"{ASKED} {{by: , on: }}\n", False): f"{ASKED} {{by: AB, on: 2026-10-02, answer: no}}\n",
    (f"{ASKED} {{on: , by: }}\n", False): f"{ASKED} {{on: 2026-10-02, by: AB, answer: no}}\n",
    (f"{ASKED}\n    by:\n    on:\n", True): f"{ASKED}\n    by: AB\n    on: 2026-10-02\n",
    (f"{ASKED}\n    by:\n    on:\n", False): f"{ASKED}\n    by: AB\n    on: 2026-10-02\n    answer: no\n",
    (f"{ASKED}  # so\n", True): f"{ASKED} {{by: AB, on: 2026-10-02}}  # so\n",
    ("signed:\n", True): f"{ASKED} {{by: AB, on: 2026-10-02}}\n",
    ("", False): f"\n{ASKED} {{by: AB, on: 2026-10-02, answer: no}}\n",
    ("signed: {}\n", True): None,
    (f"{ASKED} as it should\n", True): None,
}
AGAIN = "{by: AB, on: 2026-10-02, after: align_hone}"
SIGNED_AGAIN = {
    "{by: CD, on: 2026-10-01}": f"[{{by: CD, on: 2026-10-01}}, {AGAIN}]",
    "{by: CD, on: 2026-10-01, at: {main: 2}}": f"[{{by: CD, on: 2026-10-01, at: {{main: 2}}}}, {AGAIN}]",
    "[{by: CD, on: 2026-10-01}, {by: EF, on: 2026-10-01}]": (
        f"[{{by: CD, on: 2026-10-01}}, {{by: EF, on: 2026-10-01}}, {AGAIN}]"
    ),
    "{by: , on: }": AGAIN,
}


@pytest.mark.parametrize("before", SIGNED_AGAIN)
def test_what_was_signed_before_stays_beside_what_is_signed_again(before: str) -> None:
    source = f"{HEAD}{ASKED} {before}  # so\n"
    made = with_signature(source, FILE, "rotates_freely", "AB", "2026-10-02", True, ("align_hone",))
    assert made == source.replace(before, SIGNED_AGAIN[before])
    two = with_signature(source, FILE, "rotates_freely", "AB", "2026-10-02", False, ("align_hone", "grind"))
    assert two is not None
    assert "on: 2026-10-02, after: [align_hone, grind], answer: no}" in two


ON_LINES = {
    # signed on lines of its own -> with one signature more
    "\n    by: CD  # so\n    on: 2026-10-01\n": f"\n    - by: CD  # so\n      on: 2026-10-01\n    - {AGAIN}\n",
    "\n    - by: CD\n      on: 2026-10-01  # so\n": f"\n    - by: CD\n      on: 2026-10-01  # so\n    - {AGAIN}\n",
    "\n  - {by: CD, on: 2026-10-01}": f"\n  - {{by: CD, on: 2026-10-01}}\n  - {AGAIN}\n",
    "\n    by: CD\n    on: 2026-10-01\n    after:\n      - align_hone": (
        f"\n    - by: CD\n      on: 2026-10-01\n      after:\n        - align_hone\n    - {AGAIN}\n"
    ),
}


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("before", ON_LINES)
def test_what_was_signed_on_lines_of_its_own_stays_so(before: str, end: str) -> None:
    source = f"{HEAD}{ASKED}{before}".replace("\n", end)
    made = with_signature(source, FILE, "rotates_freely", "AB", "2026-10-02", True, ("align_hone",))
    assert made == f"{HEAD}{ASKED}{ON_LINES[before]}".replace("\n", end)
    (given,) = sheet_of(made, shop())[0].signed.values()
    assert [each.by for each in given] == ["CD", "AB"]


@pytest.mark.parametrize(("section", "good"), SIGNED)
def test_a_signature_changes_its_own_line_alone(section: str, good: bool) -> None:
    source = HEAD + section
    made = with_signature(source, FILE, "rotates_freely", "AB", "2026-10-02", good)
    expected = SIGNED[section, good]
    assert made == (None if expected is None else HEAD + expected)
    if made is not None:
        ((signature,),) = sheet_of(made, shop())[0].signed.values()
        assert (signature.by, str(signature.on), signature.answer) == ("AB", "2026-10-02", good)
