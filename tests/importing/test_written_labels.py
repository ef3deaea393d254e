"""Labels as shops write them."""

from __future__ import annotations

import pytest

from specrules.importing.written_labels import label_meant

NUMBERS = ("1", "2", "3", "10")

LABELS = [
    ("3", "main", "3"),
    ("Main 3", "main", "3"),
    ("MAIN #3", "main", "3"),
    ("Mains 3", "main", "3"),
    ("#3", "main", "3"),
    ("No. 3", "main", "3"),
    ("no 3", "main", "3"),
    ("Main no. 3", "main", "3"),
    ("Main3", "main", "3"),
    ("Main_3", "main", "3"),
    ("03", "main", "3"),
    ("Cyl. 3", "cylinder", "3"),
    ("cyl3", "cylinder", "3"),
    ("Cylinder 10", "cylinder", "10"),
    ("Cam bearing 2", "cam_bearing", "2"),
    ("Cy 3", "cylinder", None),
    ("C3", "cylinder", None),
    ("Rod 3", "main", None),
    ("Cap 3", "cap_bolt", "3"),
    ("3.0", "main", None),
    ("3rd", "main", None),
    ("1 and 3", "main", None),
    ("1-3", "main", None),
    ("4", "main", None),
    ("-3", "main", None),
    ("", "main", None),
    ("Main", "main", None),
    ("Thrust", "main", "2"),
    ("thrust ", "main", "2"),
]


@pytest.mark.parametrize(("text", "axis", "label"), LABELS)
def test_a_label_is_surely_one_or_none(text: str, axis: str, label: str | None) -> None:
    assert label_meant(text, axis, NUMBERS, {"Thrust": "2"}) == label


def test_the_word_of_the_map_comes_first_and_labels_that_look_alike_are_none() -> None:
    assert label_meant("1", "main", NUMBERS, {"1": "3"}) == "3"
    assert label_meant("a", "clock", ("a", "A"), {}) is None
    assert label_meant("Front", "plane", ("front", "rear"), {}) == "front"
    assert label_meant("top ring", "ring", ("top", "second"), {}) is None
    assert label_meant("Ring top", "ring", ("top", "second"), {}) == "top"
