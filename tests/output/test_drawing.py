"""Drawings read back: what each mark stands for, and that it stands where it says."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from itertools import pairwise
from math import atan2, degrees
from xml.etree.ElementTree import Element

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.formula import Axis
from specrules.output.drawing import SCALE, band, places, scale_of, share_of_way, turned

D = Decimal
LABELS = {
    "part": ("1", "2", "3", "4", "5"),
    "kind": ("inner", "outer"),
    "end": ("left", "right"),
    "depth": ("top", "middle", "bottom"),
    "gauged": ("10", "20", "90"),
    "clock": ("a", "b"),
    "thirds": ("upright", "leftward", "rightward"),
    "angle": ("0", "45", "90"),
    "half": ("upper", "lower"),
    "coat": ("first", "second"),
    "spot": ("1",),
}
AXES = {
    name: Axis(name, LABELS[name], lies=lies)
    for name, lies in {
        "part": "in a row",
        "kind": "",
        "end": "along",
        "depth": "down",
        "gauged": "down",
        "clock": "around",
        "thirds": "around",
        "angle": "around",
        "half": "across",
        "coat": "",
        "spot": "along",
    }.items()
}


def drawn(at: str = "", positions: str = "") -> Element:
    made = places([AXES[axis] for axis in at.split()], [AXES[axis] for axis in positions.split()], LABELS)
    assert made is not None
    return made


def marks(drawing: Element) -> Mapping[str, Element]:
    found = {each.get("data-place", ""): each for each in drawing.iter() if each.get("data-place")}
    assert len(found) == sum(each.get("data-place") is not None for each in drawing.iter())
    return found


def number(mark: Element, name: str) -> float:
    return float(mark.get(name, "nan"))


def test_every_station_has_one_box_and_they_stand_side_by_side_in_their_order() -> None:
    found = marks(drawn("part"))
    assert list(found) == [f"part={label}" for label in LABELS["part"]]
    left = [number(mark, "x") for mark in found.values()]
    wide = number(found["part=1"], "width")
    assert [b - a for a, b in pairwise(left)] == pytest.approx([wide] * 4)
    assert len({mark.get("y") for mark in found.values()}) == 1


def test_stations_of_two_axes_are_a_grid() -> None:
    found = marks(drawn("part kind"))
    assert len(found) == 10
    assert found["part=2; kind=inner"].get("x") == found["part=2; kind=outer"].get("x")
    assert number(found["part=1; kind=outer"], "y") > number(found["part=1; kind=inner"], "y")


def test_along_runs_from_left_to_right_and_down_from_top_to_bottom() -> None:
    along = marks(drawn("", "end"))
    assert along["end=left"].get("x1") == along["end=left"].get("x2")
    assert number(along["end=left"], "x1") < number(along["end=right"], "x1")
    down = marks(drawn("", "depth"))
    heights = [number(down[f"depth={label}"], "y1") for label in LABELS["depth"]]
    assert heights == sorted(heights)
    assert heights[1] - heights[0] == pytest.approx(heights[2] - heights[1], abs=0.002)


def test_labels_that_are_numbers_lie_to_scale() -> None:
    found = marks(drawn("", "gauged"))
    ten, twenty, ninety = (number(found[f"gauged={label}"], "y1") for label in LABELS["gauged"])
    assert (twenty - ten) / (ninety - ten) == pytest.approx(10 / 80, abs=0.001)


@pytest.mark.parametrize(
    ("axis", "angles"), [("clock", (0, 90)), ("thirds", (0, 60, 120)), ("angle", (0, 45, 90))], ids=str
)
def test_ways_across_a_section_go_round_from_upright_to_the_left(axis: str, angles: tuple[int, ...]) -> None:
    drawing = drawn("part", axis)
    circle = next(each for each in drawing.iter("circle") if not each.get("data-place"))
    for label, angle in zip(LABELS[axis], angles, strict=True):
        mark = marks(drawing)[f"{axis}={label}"]
        dx, dy = number(mark, "x2") - number(mark, "x1"), number(mark, "y2") - number(mark, "y1")
        assert degrees(atan2(dx, dy)) == pytest.approx(angle, abs=0.05)
        assert (number(mark, "x1") + number(mark, "x2")) / 2 == pytest.approx(number(circle, "cx"), abs=0.002)
        assert (dx**2 + dy**2) ** 0.5 == pytest.approx(2 * number(circle, "r"), abs=0.01)


def test_places_across_a_section_go_from_its_top_to_its_bottom() -> None:
    drawing = drawn("", "half")
    circle = next(each for each in drawing.iter("circle") if not each.get("data-place"))
    upper, lower = (number(marks(drawing)[f"half={label}"], "cy") for label in LABELS["half"])
    assert lower - upper == pytest.approx(2 * number(circle, "r"))


def test_what_says_not_how_it_lies_is_a_row_and_one_position_lies_in_the_middle() -> None:
    found = marks(drawn("", "coat"))
    assert number(found["coat=first"], "cx") < number(found["coat=second"], "cx")
    assert share_of_way(("1",)) == {"1": 0.5}
    assert list(marks(drawn("", "spot"))) == ["spot=1"]


def test_a_drawing_says_in_words_what_it_shows_and_every_label_stands_in_it() -> None:
    drawing = drawn("part", "depth clock coat")
    assert drawing.get("aria-label") == (
        "Where it is measured: part 1, 2, 3, 4, 5; depth top, middle, bottom; clock a, b; coat first, second"
    )
    texts = [each.text for each in drawing.iter("text")]
    assert set(texts) >= {label for axis in ("part", "depth", "clock", "coat") for label in LABELS[axis]}
    assert len(marks(drawing)) == 12


def test_what_is_measured_once_has_no_drawing() -> None:
    assert places([], [], {}) is None


@pytest.mark.parametrize("labels", [("1", "1.5"), ("a", "2"), ("-1", "0", "3")], ids=str)
def test_shares_run_from_one_end_to_the_other(labels: tuple[str, ...]) -> None:
    assert (share_of_way(labels)[labels[0]], share_of_way(labels)[labels[-1]]) == (0.0, 1.0)


def test_half_a_turn_is_divided_evenly_whatever_the_labels_are() -> None:
    assert turned(("a", "b", "c", "4")) == {"a": 0.0, "b": 45.0, "c": 90.0, "4": 135.0}


# Bands


def band_of(**limits: str) -> tuple[Mapping[str, Element], Element]:
    found = {part.replace("_", " "): D(limit) for part, limit in limits.items()}
    drawing = band(found, {part: str(limit) for part, limit in found.items()})
    assert drawing is not None
    return {each.get("data-part", ""): each for each in drawing.iter() if each.get("data-part")}, drawing


def at(mark: Element) -> float:
    return number(mark, "cx" if mark.tag == "circle" else "x1")


@pytest.mark.parametrize(
    ("limits", "ends"),
    [
        ({"least": "0.0010", "aim": "0.0020", "most": "0.0030"}, ("0.0010", "0.0030")),
        ({"least": "0.0010", "most": "0.0030", "wear_most": "0.0040"}, ("0.0010", "0.0040")),
        ({"least": "0.020", "wear_least": "0.010"}, ("0.010", "0.040")),
        ({"aim": "0.0002", "most": "0.0005"}, ("0", "0.0005")),
        ({"most": "0.0005", "wear_most": "0.0010"}, ("0", "0.0010")),
        ({"least": "0.060", "aim": "0.070"}, ("0.060", "0.120")),
        ({"least": "-0.010", "most": "0.010"}, ("-0.010", "0.010")),
        ({"least": "-0.010"}, ("-0.010", "0.000")),
        ({"most": "-0.010"}, ("-0.010", "0")),
    ],
    ids=str,
)
def test_limits_stand_to_scale(limits: dict[str, str], ends: tuple[str, str]) -> None:
    found, drawing = band_of(**limits)
    low, high = map(D, ends)
    assert len(found) == len(limits)
    for part, mark in found.items():
        assert mark.get("data-value") == f"{D(limits[part.replace(' ', '_')]):f}"
        share = (at(mark) - SCALE[0]) / (SCALE[1] - SCALE[0])
        assert share == pytest.approx(float((D(mark.get("data-value", "")) - low) / (high - low)), abs=0.0001)
    assert drawing.get("aria-label", "").startswith("To scale: ")


@pytest.mark.parametrize("limits", [{}, {"aim": "1"}, {"most": "0"}, {"least": "2", "most": "2"}], ids=str)
def test_where_there_is_no_width_nothing_is_drawn(limits: dict[str, str]) -> None:
    found = {part: D(limit) for part, limit in limits.items()}
    assert scale_of(found) is None
    assert band(found, limits) is None


AMOUNTS = st.decimals(-1000, 1000, places=4)


@given(st.dictionaries(st.sampled_from(["least", "aim", "most", "wear least", "wear most"]), AMOUNTS))
def test_every_mark_lies_on_its_band_in_the_order_of_its_figures(limits: dict[str, Decimal]) -> None:
    drawing = band(limits, {part: f"{limit:f}" for part, limit in limits.items()})
    if drawing is None:
        assert scale_of(limits) is None
        return
    found = [each for each in drawing.iter() if each.get("data-part")]
    assert {each.get("data-part") for each in found} == limits.keys()
    assert all(SCALE[0] - 0.001 <= at(each) <= SCALE[1] + 0.001 for each in found)
    by_figure = sorted(found, key=lambda each: limits[each.get("data-part", "")])
    assert [at(each) for each in by_figure] == sorted(at(each) for each in found)
