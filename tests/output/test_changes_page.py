"""Two records on a page: both engines side by side, each change with its figures and drawn to scale, and inert."""

from __future__ import annotations

from xml.etree.ElementTree import Element

import pytest

from specrules.output.changes_page import MOST_DRAWN, page_of_changes
from specrules.record import Record
from specrules.record.record_comparison import RecordComparison, compare
from tests.lanes import first_alone
from tests.output.hostile_records import HOSTILE, dressed
from tests.output.page_reading import of_class, safe_page, said
from tests.record.test_record_comparison import GUARDED, IN_MM, of

OLD = GUARDED.replace("tilt: 0.0020", "tilt: 0.0060").replace("2: [1.5020, 1.5020]}", "2: [1.5032, 1.5032]}")
NEW = GUARDED.replace("packs: [base]", "packs: [wide]").replace("job: J-1", "job: J-2, serial: S-9")


def page(found: RecordComparison) -> Element:
    return safe_page(page_of_changes(found, ("old.json", "new.json")))


def changes(old: str, new: str) -> Element:
    return page(compare(of(old), of(new)))


def rows(tree: Element, heading: str) -> list[list[str]]:
    """The rows of the tables under a heading, without their heads."""
    (section,) = (each for each in tree.iter("section") if any(said(h2) == heading for h2 in each.findall("h2")))
    return [[said(cell) for cell in row] for body in section.iter("tbody") for row in body]


def headings(tree: Element) -> list[str]:
    return [said(each) for each in tree.iter("h2")]


def test_both_engines_stand_side_by_side() -> None:
    tree = changes(OLD, NEW)
    heads = [[said(cell) for cell in row] for row in next(of_class(tree, "heads")).iter("tr")]
    assert heads[:5] == [
        ["Of", "Old", "New"],
        ["Record", "old.json", "new.json"],
        ["Build", "A pair", "A pair"],
        ["Job", "J-1", "J-2"],
        ["Serial number", "", "S-9"],
    ]
    assert ["Came to", "Stop: something holds the job.", "Go on: nothing holds the job and nothing is open."] in heads
    assert ["Packs", "base 1.0", "base 1.0, wide 2"] in heads
    assert "Customer" not in [row[0] for row in heads]
    other = [said(next(iter(row))) for row in of_class(tree, "other")]
    assert other == ["Record", "Job", "Serial number", "Packs", "Came to", "Seal"]


def test_every_kind_of_change_has_its_table() -> None:
    tree = changes(OLD, NEW)
    assert headings(tree) == ["Verdicts that changed", "Limits that changed", "Read again"]
    assert rows(tree, "Verdicts that changed") == [
        ["place 2", "out of spec (loose), now in spec", "0.0032", "0.0020", "-0.0012 ±0.0002"],
        ["the whole build", "out of spec (high), now in spec", "0.006", "0.002", "-0.004"],
    ]
    assert rows(tree, "Limits that changed") == [["Tilt of the plate", "most", "0.004 in", "0.006 in"]]
    assert rows(tree, "Read again") == [
        ["hole", "place 2", "2", "by -0.0012 in"],
        ["tilt", "the whole build", "1", "by -0.004 in"],
    ]
    text = said(tree)
    assert "11 checks and 18 readings compared: 2 verdicts changed" in text
    assert "Was (in)" in text


def test_a_value_that_moved_by_less_than_its_u_is_told_apart() -> None:
    old, new, far = (GUARDED.replace("tilt: 0.0020", f"tilt: 0.00{each} ±0.0003") for each in (20, 22, 30))
    within, beyond = (
        "Moved by no more than U, the verdict the same",
        "Moved by more than any U known, the verdict the same",
    )
    for other, heading, moved in ((new, within, "+0.0002 ±0.0004"), (far, beyond, "+0.001 ±0.0004")):
        tree = changes(old, other)
        assert [each for each in headings(tree) if each.startswith("Moved")] == [heading]
        ((place, verdict, _, _, told),) = rows(tree, heading)
        assert (place, verdict, told) == ("the whole build", "in spec", moved)


def test_each_value_is_drawn_against_the_limits_of_its_day_in_one_unit() -> None:
    tree = changes(OLD.replace("packs: [base]", "packs: [wide]").replace("tilt: 0.0060", "tilt: 0.0070"), IN_MM)
    (check,) = (each for each in of_class(tree, "check") if said(next(each.iter("h3"))) == "Tilt of the plate")
    assert [each.get("data-value") for each in check.iter("line") if each.get("data-part") == "most"] == [
        "0.1524",
        "0.1016",
    ]
    marks = [each for each in check.iter() if each.get("data-shape")]
    assert [(each.get("data-value"), each.get("data-shape")) for each in marks] == [
        ("0.1778", "square"),
        ("0.0508", "disc"),
    ]
    assert len([each for each in check.iter("line") if each.get("data-joins")]) == 1


def test_a_range_stays_a_range() -> None:
    old, new = (GUARDED.replace("tilt: 0.0020", f"tilt: {each}") for each in ("0.0050..0.0060", "0.0010..0.0020"))
    ((_, verdict, was, now, moved),) = rows(changes(old, new), "Verdicts that changed")
    assert (verdict, was, now, moved) == ("out of spec (high), now in spec", "0.005 to 0.006", "0.001 to 0.002", "")


@pytest.mark.second_lane
def test_of_many_places_the_first_are_drawn_and_that_is_said() -> None:
    places = range(1, MOST_DRAWN + 3)
    pair = [
        GUARDED.replace("places: 2", f"places: {places[-1]}").replace(
            "grip: {1: 0.0030, 2: 0.0030}", f"grip: {{{', '.join(f'{place}: {size}' for place in places)}}}"
        )
        for size in ("0.0010", "0.0030")
    ]
    found = compare(*map(of, pair))
    changed = [each for each in found.findings if each.rule == "grip"]
    assert len(changed) == len(places)
    tree = page(found)
    (check,) = (each for each in of_class(tree, "check") if said(next(each.iter("h3"))) == changed[0].title)
    assert len([each for each in check.iter() if each.get("data-shape")]) == 2 * MOST_DRAWN
    assert len([row for body in check.iter("tbody") for row in body]) == len(places)
    assert f"The first {MOST_DRAWN} of {len(places)} places." in said(check)


def test_what_only_one_has_and_sign_offs_have_their_tables() -> None:
    other = GUARDED.replace("clean: {by: ab,", "clean: {answer: no, by: ab,").replace("  plug: 1.0000\n", "")
    tree = changes(GUARDED, other)
    assert rows(tree, "Sign-offs that changed") == [["Is every part clean?", "signed", "answered no"]]
    assert rows(tree, "Readings that only one has") == [["Only the old", "plug"]]


def test_where_nothing_changed_nothing_is_drawn() -> None:
    tree = changes(GUARDED, GUARDED)
    assert headings(tree) == []
    assert list(tree.iter("svg")) == []


@pytest.mark.parametrize("kind", first_alone(*HOSTILE))
def test_hostile_text_is_text(kind: str) -> None:
    made: Record = dressed(HOSTILE[kind])
    for pair in ((dressed("a"), made), (made, dressed("a"))):
        found = compare(*pair)
        tree = safe_page(page_of_changes(found, (HOSTILE[kind], HOSTILE[kind])))
        assert not {"\x1b", "\x00", "\u202e", "\ud800"} & {*said(tree)}
        assert len(list(of_class(tree, "heads"))) == 1
