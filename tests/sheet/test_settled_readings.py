"""Readings settled again: what is written as it was is taken as it was, its statements numbered as they are now."""

from __future__ import annotations

import pytest

from specrules.effects.workspace import Loaded, Workspace
from specrules.sheet import SettledReadings
from tests.fuzz.sound import ALL_PACKS, FULL

WORKSPACE = Workspace(plugins=False, texts={name: text.encode() for name, text in ALL_PACKS.items()})


def settled(text: str, kept: SettledReadings | None = None) -> Loaded:
    return WORKSPACE.settle(text.encode(), None, "e.sheet.yaml", (), kept)


def names_of_same(before: Loaded, now: Loaded) -> set[str]:
    """The measurands of which every reading is the very same thing as before."""
    assert before.sheet is not None
    assert now.sheet is not None
    known = {id(reading) for reading in before.sheet.readings}
    return {r.name for r in now.sheet.readings} - {r.name for r in now.sheet.readings if id(r) not in known}


EVERY = {"hole", "shaft", "grip", "tilt", "slot", "plug", "weight"}


@pytest.mark.parametrize(
    ("old", "new", "same"),
    [
        ("plug: 15.0", "plug: 15.1", EVERY - {"plug"}),
        ("plug: 15.0", 'plug: "15.0"', EVERY - {"plug"}),
        ("plug: 15.0", "plug:  15.0", EVERY - {"plug"}),  # it stands at another column
        ("[1.5020, open]", "[1.5020, 1.5021]", set()),  # a statement more: all behind it have other numbers
        ("checked: 2026-09-01", "checked: 2026-09-02", set()),  # of a gauge, which may be anybody's
        ("unit: in\n", "unit: mm\n", set()),
        ("material: aluminium", "material: iron", EVERY),
        ("  tilt:", "  # a line more\n  tilt:", {"hole", "shaft", "grip"}),
    ],
)
def test_what_is_written_as_it_was_is_the_same_reading(old: str, new: str, same: set[str]) -> None:
    kept = SettledReadings()
    before, text = settled(FULL, kept), FULL.replace(old, new)
    assert text != FULL
    now, from_nothing = settled(text, kept), settled(text)
    assert now.sheet == from_nothing.sheet
    assert now.faults == from_nothing.faults == ()
    assert names_of_same(before, now) == same


def test_a_fault_is_told_again_and_one_put_right_is_gone() -> None:
    kept = SettledReadings()
    wrong = FULL.replace("plug: 15.0", "plug: 15,0,0")
    first = settled(wrong, kept)
    assert [fault.subject for fault in first.faults] == ["plug"]
    assert settled(wrong.replace("tilt: 0.0039", "tilt: 0.0038"), kept).faults == first.faults
    assert settled(FULL, kept).sheet == settled(FULL).sheet


def test_what_stands_on_other_lines_is_told_with_these() -> None:
    kept, wrong = SettledReadings(), "plug: 15,0,0"
    shown = FULL.replace("plug: 15.0", "plug: {value: 15.0, was: 14.9, pictures: [dial.jpg]}")
    for text in (FULL, shown, FULL.replace("plug: 15.0", wrong)):
        settled(text, kept)
        down = text.replace("readings:\n", "# two lines\n# more\nreadings:\n")
        now, from_nothing = settled(down, kept), settled(down)
        assert now.faults == from_nothing.faults
        assert now.sheet == from_nothing.sheet
        if now.sheet is not None and from_nothing.sheet is not None:  # texts are equal wherever they stand
            assert [p.place for r in now.sheet.readings for p in r.pictures] == [
                p.place for r in from_nothing.sheet.readings for p in r.pictures
            ]
