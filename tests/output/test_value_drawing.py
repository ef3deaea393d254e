"""Drawings of values and of shapes, read back: everything stands to scale, and each state has a shape of its own."""

from __future__ import annotations

from collections.abc import Sequence
from xml.etree.ElementTree import Element

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.output.value_drawing import (
    BOTTOM,
    LARGEST,
    LEFT,
    READABLE,
    SAME,
    SHAPES,
    TALLEST,
    TOP,
    WIDE,
    SizeDrawn,
    ValueDrawn,
    mark,
    shapes,
    values,
)
from specrules.output.verdicts import TELLING
from specrules.vocabulary import Verdict

LIMITS = {"least": 0.0010, "aim": 0.0020, "most": 0.0030, "wear most": 0.0040}


def drawn(*middles: float, U: float = 0.0, shape: str = "disc") -> Element:
    made = values([ValueDrawn(str(n), each, each, U, shape, LIMITS) for n, each in enumerate(middles, 1)])
    assert made is not None
    return made


def marks(drawing: Element) -> Sequence[Element]:
    return [each for each in drawing.iter() if each.get("data-shape")]


def lines(drawing: Element, part: str) -> Sequence[Element]:
    return [each for each in drawing.iter("line") if each.get("data-part") == part]


def height(each: Element) -> float:
    return float(each.get("cy") or each.get("y1") or "nan")


def test_values_and_limits_stand_to_one_scale_side_by_side() -> None:
    drawing = drawn(0.0010, 0.0025, 0.0040)
    low, middle, high = marks(drawing)
    assert [each.get("data-at") for each in (low, middle, high)] == ["1", "2", "3"]
    assert height(low) == pytest.approx(height(lines(drawing, "least")[0]), abs=0.001)
    assert height(high) == pytest.approx(height(lines(drawing, "wear most")[0]), abs=0.001)
    assert (height(low) - height(middle)) / (height(low) - height(high)) == pytest.approx(0.5, abs=0.001)
    xs = [float(each.get("cx", "nan")) for each in (low, middle, high)]
    assert xs[1] - xs[0] == pytest.approx(xs[2] - xs[1], abs=0.01)
    for part in LIMITS:
        (across,) = lines(drawing, part)
        assert (float(across.get("x1", "nan")), float(across.get("x2", "nan"))) == (LEFT, WIDE)


def test_uncertainty_is_a_bar_to_scale() -> None:
    drawing = drawn(0.0020, 0.0030, U=0.0005)
    first = next(each for each in drawing.iter("line") if not each.get("data-part"))
    per_unit = (height(marks(drawing)[0]) - height(marks(drawing)[1])) / 0.0010
    assert float(first.get("y2", "nan")) - float(first.get("y1", "nan")) == pytest.approx(0.0010 * per_unit, abs=0.01)


def test_what_a_value_was_and_what_it_is_are_joined_under_one_label() -> None:
    sizes = ((1, 0.0010), (1, 0.0030), (2, 0.0020), (2, None))
    made = values([ValueDrawn(str(at), size, size, 0.0, "disc", LIMITS) for at, size in sizes], pairs=True)
    assert made is not None
    was, now, alone = marks(made)
    (joint,) = [each for each in made.iter("line") if each.get("data-joins")]
    ends = [joint.get(each) for each in ("x1", "y1", "x2", "y2")]
    assert ends == [was.get("cx"), was.get("cy"), now.get("cx"), now.get("cy")]
    assert (joint.get("data-joins"), alone.get("data-at")) == ("1", "2")
    labels = {each.text: float(each.get("x", "nan")) for each in made.iter("text") if each.text in ("1", "2")}
    assert labels["1"] == pytest.approx((float(was.get("cx", "nan")) + float(now.get("cx", "nan"))) / 2, abs=0.01)
    assert len([each for each in made.iter("text") if each.text == "2"]) == 1


def test_the_band_is_drawn_between_the_limits() -> None:
    drawing = drawn(0.0020)
    band = next(drawing.iter("rect"))
    top, bottom = height(lines(drawing, "most")[0]), height(lines(drawing, "least")[0])
    assert float(band.get("y", "nan")) == pytest.approx(top, abs=0.002)
    assert float(band.get("height", "nan")) == pytest.approx(bottom - top, abs=0.002)


def test_stations_with_limits_of_their_own_have_them_drawn() -> None:
    made = values([ValueDrawn("a", 1, 1, 0, "disc", {"most": 2.0}), ValueDrawn("b", 1, 1, 0, "disc", {"most": 4.0})])
    assert made is not None
    assert [each.get("data-value") for each in lines(made, "most")] == ["2.0", "4.0"]
    assert [each.text for each in made.iter("text")] == ["a", "b"]


@given(st.lists(st.sampled_from([1.0, 1.0001, 1.01, 2.0]), min_size=1, max_size=9))
def test_whichever_neighbours_share_a_line_each_station_has_its_own_limit_there(mosts: list[float]) -> None:
    made = values([ValueDrawn("x", 0.5, 0.5, 0.0, "disc", {"most": most}) for most in mosts])
    assert made is not None
    spans = [tuple(float(each.get(key, "nan")) for key in ("x1", "x2", "y1")) for each in lines(made, "most")]
    step, scale = (WIDE - LEFT) / len(mosts), (BOTTOM - TOP) / (max(mosts) - 0.5)
    for number, most in enumerate(mosts):
        middle = LEFT + (number + 0.5) * step
        (at,) = [y for x1, x2, y in spans if x1 < middle < x2]
        assert at == pytest.approx(BOTTOM - (most - 0.5) * scale, abs=SAME + 0.01)
    assert spans[0][0] == LEFT
    assert spans[-1][1] == WIDE


def test_limits_that_are_the_same_have_their_figures_beside_them() -> None:
    said = [each.text for each in drawn(0.0020, 0.0021).iter("text")]
    assert said == ["wear most 0.004", "most 0.003", "aim 0.002", "least 0.001", "1", "2"]


def test_a_figure_stands_beside_its_limit() -> None:
    drawing = drawn(0.0020, 0.0021)
    for text in (each for each in drawing.iter("text") if " " in (each.text or "")):
        part = (text.text or "").rpartition(" ")[0]
        assert float(text.get("y", "nan")) == pytest.approx(height(lines(drawing, part)[0]) + 0.8, abs=0.02)


def test_names_that_would_be_too_small_lying_stand_below_their_stations() -> None:
    names = [f"{number} second" for number in range(1, 25)]
    made = values([ValueDrawn(each, 1.0, 1.0, 0.0, "disc", {"most": 2.0}) for each in names])
    assert made is not None
    group = next(each for each in made.iter("g") if each.get("text-anchor") == "end" and each.find("text") is not None)
    assert [each.text for each in group] == names
    assert all("rotate(-90)" in each.get("transform", "") for each in group)
    size = float(group.get("font-size", "nan"))
    assert size >= READABLE
    high = float(made.get("viewBox", "").split()[3])
    assert high >= BOTTOM + 0.62 * size * len("24 second")
    lying = values([ValueDrawn(each, 1.0, 1.0, 0.0, "disc", {"most": 2.0}) for each in names[:3]])
    assert lying is not None
    assert not [each for each in lying.iter("text") if each.get("transform")]


def test_of_a_name_without_end_the_drawing_keeps_its_height() -> None:
    made = values([ValueDrawn("m" * 10_000, 1.0, 1.0, 0.0, "disc", {"most": 2.0})])
    assert made is not None
    assert float(made.get("viewBox", "").split()[3]) <= BOTTOM + 2 + TALLEST


def test_what_is_not_known_leaves_its_place_empty_and_what_is_open_runs_to_the_edge() -> None:
    ends = ((0.0020, 0.0020), (None, None), (0.0025, None), (None, 0.0015))
    made = values([ValueDrawn(str(n), low, high, 0.0, "disc", LIMITS) for n, (low, high) in enumerate(ends, 1)])
    assert made is not None
    assert [each.get("data-at") for each in marks(made)] == ["1", "3", "4"]
    assert [each.text for each in made.iter("text")][-4:] == ["1", "2", "3", "4"]
    bars = [each for each in made.iter("line") if not each.get("data-part")]
    assert float(bars[0].get("y1", "nan")) == TOP
    assert float(bars[1].get("y2", "nan")) == BOTTOM
    assert len(bars) == 2  # what is known to a point has none
    xs = [float(each.get("cx", "nan")) for each in marks(made)]
    assert xs[1] - xs[0] == pytest.approx(2 * (xs[2] - xs[1]), abs=0.03)  # each to a hundredth
    assert values([ValueDrawn("1", None, None, 0.0, "disc", LIMITS)]) is None


def test_nothing_is_drawn_of_nothing_or_without_height() -> None:
    assert values([]) is None
    assert values([ValueDrawn("1", 2.0, 2.0, 0.0, "disc", {})]) is None


def test_every_shape_is_told_apart_by_its_outline_or_its_filling() -> None:
    made = {shape: mark(shape, 5, 5, {}) for shape in SHAPES}
    looks = {(each.tag, each.get("points"), each.get("fill")) for each in made.values()}
    assert len(looks) == len(SHAPES)


@pytest.mark.parametrize("verdict", Verdict)
def test_every_verdict_has_a_shape_and_what_must_be_told_apart_is(verdict: Verdict) -> None:
    assert TELLING[verdict].shape in SHAPES
    told_apart = (Verdict.IN_SPEC, Verdict.WORN, Verdict.JUST_IN, Verdict.JUST_OUT, Verdict.OUT, Verdict.NOT_PROVEN)
    assert len({TELLING[each].shape for each in told_apart}) == len(told_apart)


FLOATS = st.floats(-1e3, 1e3)


@given(st.lists(st.tuples(FLOATS, FLOATS, st.floats(0, 10)), min_size=1, max_size=20))
def test_every_mark_lies_inside_the_drawing(found: list[tuple[float, float, float]]) -> None:
    made = values([ValueDrawn("x", min(a, b), max(a, b), U, "disc", {"most": 1.0}) for a, b, U in found])
    if made is not None:
        assert all(TOP - 0.01 <= height(each) <= BOTTOM + 0.01 for each in marks(made))


# Shapes

LIES = {"depth": "down", "end": "along", "clock": "around"}
ORDER = {"depth": ("top", "middle", "bottom"), "clock": ("a", "b")}


def part(**sizes: float) -> list[SizeDrawn]:
    """Readings by "depth_clock"."""
    keys = {name: dict(zip(("depth", "clock"), name.split("_"), strict=True)) for name in sizes}
    return [SizeDrawn(keys[name], size) for name, size in sizes.items()]


TAPERED = part(top_a=2.0, top_b=2.0, middle_a=2.1, middle_b=2.1, bottom_a=2.2, bottom_b=2.2)
OVAL = part(top_a=2.2, top_b=2.0, middle_a=2.2, middle_b=2.0, bottom_a=2.2, bottom_b=2.0)


def offs(drawing: Element, station: str, label: str) -> set[float]:
    group = next(each for each in drawing.iter("g") if each.get("data-station") == station)
    return {float(each.get("data-off", "nan")) for each in group.iter() if each.get("data-place") == label}


def test_taper_and_ovality_are_seen() -> None:
    drawing = shapes({"one": TAPERED, "two": OVAL}, LIES, ORDER)
    assert drawing is not None
    assert offs(drawing, "one", "top") == {-LARGEST / 2}
    assert offs(drawing, "one", "bottom") == {LARGEST / 2}
    assert offs(drawing, "one", "a") == offs(drawing, "one", "b") == {0.0}
    assert offs(drawing, "two", "top") == offs(drawing, "two", "bottom") == {0.0}
    assert offs(drawing, "two", "a") == {LARGEST / 2}
    assert offs(drawing, "two", "b") == {-LARGEST / 2}


def test_a_section_goes_through_what_was_measured() -> None:
    drawing = shapes({"two": OVAL}, LIES, ORDER)
    assert drawing is not None
    outline = next(drawing.iter("polygon"))
    points = [tuple(map(float, each.split(","))) for each in outline.get("points", "").split()]
    wide = max(x for x, _ in points) - min(x for x, _ in points)
    tall = max(y for _, y in points) - min(y for _, y in points)
    assert tall - wide == pytest.approx(2 * LARGEST, abs=0.03)  # it is widest a little beside the way across


def test_what_runs_along_is_drawn_lying_and_what_runs_down_standing() -> None:
    standing = shapes({"one": TAPERED}, LIES, ORDER)
    lying = shapes({"one": TAPERED}, {**LIES, "depth": "along"}, ORDER)
    assert standing is not None
    assert lying is not None
    for drawing, across in ((standing, 0), (lying, 1)):
        first = [each for each in drawing.iter("polyline") if not each.get("stroke-dasharray")]
        ends = [[tuple(map(float, at.split(","))) for at in each.get("points", "").split()] for each in first]
        apart = [abs(ends[0][number][across] - ends[1][number][across]) for number in (0, -1)]
        assert apart[1] - apart[0] == pytest.approx(2 * LARGEST, abs=0.01)


@pytest.mark.parametrize(
    ("sizes", "lies"),
    [(TAPERED, {}), (part(top_a=2.0, top_b=2.0), LIES), ([], LIES), ([SizeDrawn({}, 2.0), SizeDrawn({}, 2.1)], LIES)],
    ids=["nothing lies anywhere", "all alike", "nothing read", "one figure for all"],
)
def test_where_there_is_no_shape_none_is_drawn(sizes: list[SizeDrawn], lies: dict[str, str]) -> None:
    assert shapes({"one": sizes}, lies, ORDER) is None


def test_a_part_with_one_figure_has_no_place_among_the_shapes() -> None:
    drawing = shapes({"one": TAPERED, "two": [SizeDrawn({}, 2.0)], "three": OVAL}, LIES, ORDER)
    assert drawing is not None
    assert [each.get("data-station") for each in drawing.iter("g") if each.get("data-station")] == ["one", "three"]
