"""Which formulas plain decimals are enough for, and which of those let a reading meet itself."""

from __future__ import annotations

import pytest

from specrules.formula import NotPlain, plainly, told_apart
from specrules.formula.row import ReadingKind, Row, within_2u
from tests.formula.small_bench import base, read

PLAIN = [
    ("runout", ()),
    ("largest(housing) - smallest(journal)", ("main",)),
    ("largest(spread(journal, plane))", ("main",)),
    ("spread(gap, ring)", ("cylinder",)),
    ("-smallest(bore) + 0.1 mm", ("cylinder",)),
    ("0.001 * size", ("main",)),
    ("pi * runout / 4", ()),
    ("ratio * runout", ()),
    ("max(0.001 * mean(journal), 0.015 mm)", ("main",)),
    ("min(least, 0.1 mm)", ()),
    ("crankpin", ("cylinder",)),
    ("sum(weight)", ()),
    ("land[ring: top, depth: middle]", ("cylinder",)),
]
FULL = [
    ("x * y / z", ()),
    ("x ^ 2 / (1 mm)", ()),
    ("sqrt(x * x)", ()),
    ("(1 mm) / x * y", ()),
    ("x if use == street else y", ()),
    ("count(weight) * x", ()),
    ("largest(housing[front] + housing[rear])", ()),
    ("spread(rod_bore)", ("throw",)),
    ("size[1]", ()),
    ("largest(size)", ()),
    ("largest(bore[top])", ()),
    ("largest(spread(land, depth))", ("cylinder", "ring")),
    ("largest(largest(spread(journal, plane), main))", ()),
]


@pytest.mark.parametrize(("text", "each"), PLAIN)
def test_what_only_adds_scales_and_picks_is_plain(text: str, each: tuple[str, ...]) -> None:
    assert told_apart(plainly(read(text, each=each)).uses)


@pytest.mark.parametrize(("text", "each"), FULL)
def test_what_does_more_is_not(text: str, each: tuple[str, ...]) -> None:
    with pytest.raises(NotPlain):
        plainly(read(text, each=each))


@pytest.mark.parametrize(
    ("text", "each", "apart"),
    [
        ("largest(journal) - mean(journal)", ("main",), True),
        ("largest(journal) - smallest(journal)", ("main",), False),
        ("largest(journal) - largest(journal)", ("main",), True),
        ("spread(journal) + largest(spread(journal, plane))", ("main",), False),
        ("housing[front] - housing[rear]", ("main",), True),
        ("housing[front] - smallest(housing)", ("main",), False),
        ("gap - gap[top]", ("cylinder", "ring"), False),
        ("land[ring: top, depth: middle] - land[ring: top, depth: bottom]", ("cylinder",), True),
        ("sum(gap, ring) - mean(gap, ring)", ("cylinder",), True),
        ("weight[1] - mean(weight)", (), False),
    ],
)
def test_a_reading_that_may_come_in_twice(text: str, each: tuple[str, ...], apart: bool) -> None:
    assert told_apart(plainly(read(text, each=each)).uses) is apart


def row(*sizes: str, u: float = 0.5, lengths: tuple[int, ...] = ()) -> Row:
    """A row of lengths in millimetres, each as sure as the others."""
    values = tuple(base(f"{size} mm") for size in sizes)
    return Row(values, lengths or (len(values),), ReadingKind(0, u, within_2u(u)))


@pytest.mark.parametrize(
    ("how", "value", "reach", "rivals"),
    [
        ("largest", "9", 0.5, 2),
        ("smallest", "5", 0.5, 1),
        ("spread", "4", 1.0, (2, 1)),
        ("sum", "22", 1.5, ()),
        ("mean", "22", 0.5, ()),
    ],
)
def test_a_row_reduced(how: str, value: str, reach: float, rivals: object) -> None:
    """Within 2u of the largest lie two; of the smallest only itself."""
    found = row("9", "5", "8").reduced((how, "", 0))
    assert found == (base(f"{value} mm") / (3 if how == "mean" else 1), reach, rivals)


def test_a_row_reduced_line_by_line() -> None:
    """Front 5, 9 and rear 6, 6.5: across the planes 1 and 2.5, along them 4 and 0.5."""
    planes = row("5", "9", "6", "6.5", lengths=(2, 2))
    assert planes.reduced(("largest", "spread", 0)) == (base("2.5 mm"), 1.0, (1, ((1, 1),)))
    assert planes.reduced(("largest", "spread", 1)) == (base("4 mm"), 1.0, (1, ((1, 1),)))
    assert planes.reduced(("spread", "mean", 1)) == (base("0.75 mm"), 1.0, ((1, 1), ((), ())))


def test_a_spread_of_one_is_not_plain() -> None:
    with pytest.raises(NotPlain):
        row("5").reduced(("spread", "", 0))
