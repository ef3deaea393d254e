"""ISO 286 fits through clearance formulas: sizes anywhere in their limits, clearances anywhere in between.

Limit deviations of ISO 286-2 as reprinted: holes and shafts to 120 mm in a public table of H7, H8, f7, g6, k6, n6, p6
and s6; fundamental deviations in "Machine Drawing", Table 15.2. The clearances follow from them. Ranges of size are
"over ... up to and including": 50 mm belongs to 30 to 50.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.evaluate import Value
from tests.reference.formula_bench import Example

# size (mm), fit, hole upper and lower, shaft upper and lower, greatest and least clearance (um; below 0: interference)
FITS = [
    (12, "H7/g6", 18, 0, -6, -17, 35, 6),
    (25, "H7/g6", 21, 0, -7, -20, 41, 7),
    (25, "H8/f7", 33, 0, -20, -41, 74, 20),
    (25, "H7/k6", 21, 0, 15, 2, 19, -15),
    (25, "H7/n6", 21, 0, 28, 15, 6, -28),
    (25, "H7/p6", 21, 0, 35, 22, -1, -35),
    (25, "H7/s6", 21, 0, 48, 35, -14, -48),
    (40, "H7/g6", 25, 0, -9, -25, 50, 9),
    (40, "H7/s6", 25, 0, 59, 43, -18, -59),
    (50, "H7/p6", 25, 0, 42, 26, -1, -42),
    (50, "H7/f6", 25, 0, -25, -41, 66, 25),  # from memory: the fit of a plain bearing in the tables of ISO 286
    (60, "H7/k6", 30, 0, 21, 2, 28, -21),
    (60, "H7/s6", 30, 0, 72, 53, -23, -72),  # 53, where a widely copied short table has it for 50 to 80 as a whole
    (75, "H7/s6", 30, 0, 78, 59, -29, -78),  # s splits at 65: "Machine Drawing", Table 15.2
    (100, "H7/g6", 35, 0, -12, -34, 69, 12),
    (100, "H7/p6", 35, 0, 59, 37, -2, -59),
    (64, "H8/f7", 46, 0, -30, -60, 106, 30),  # a worked example: allowance 30 um
]


def micrometres(value: Value) -> list[Decimal]:
    assert value.low is not None
    assert value.high is not None
    return [value.low.value * 1000, value.high.value * 1000]


@pytest.mark.parametrize(
    ("size", "fit", "ES", "EI", "es", "ei", "most", "least"), FITS, ids=[f"{size} {fit}" for size, fit, *_ in FITS]
)
def test_clearance_of_a_fit(size: int, fit: str, ES: int, EI: int, es: int, ei: int, most: int, least: int) -> None:
    hole = f"{size + Decimal(EI) / 1000}..{size + Decimal(ES) / 1000} mm"
    shaft = f"{size + Decimal(ei) / 1000}..{size + Decimal(es) / 1000} mm"
    anywhere = Example({"hole": hole, "shaft": shaft})
    assert micrometres(anywhere.value("hole - shaft")) == [least, most]
    assert micrometres(anywhere.value("shaft - hole")) == [-most, -least]
    loosest = Example({"hole": f"{size + Decimal(ES) / 1000} mm", "shaft": f"{size + Decimal(ei) / 1000} mm"})
    assert loosest.point("hole - shaft").value * 1000 == most
    kind = fit.partition("/")[2][0]
    assert (least > 0, most > 0) == {"clearance": (True, True), "either": (False, True), "press": (False, False)}[
        "clearance" if kind in "fg" else "either" if kind in "kn" else "press"
    ]


WORKED = [
    # "Shigley's Mechanical Engineering Design", 9th edition, Example 7-7 (p. 398): 34 H11/c11
    ("34.000..34.160 mm", "33.720..33.880 mm", "0.120 mm", "0.440 mm"),
    # the same, Example 7-8: 2 in H7/s6, interference 0.0007 in to 0.0023 in
    ("2.0000..2.0010 in", "2.0017..2.0023 in", "-0.0023 in", "-0.0007 in"),
    # United States Navy drafting manual (14276), p. 3-44: basic hole 1.500 in, allowance .003, tolerance .002
    ("1.500..1.502 in", "1.495..1.497 in", "0.003 in", "0.007 in"),
]


@pytest.mark.parametrize(("hole", "shaft", "least", "most"), WORKED)
def test_worked_examples(hole: str, shaft: str, least: str, most: str) -> None:
    example = Example({"hole": hole, "shaft": shaft, "least": least, "most": most})
    ends = [example.point(name).value for name in ("least", "most")]
    clearance = example.value("hole - shaft")
    assert clearance.low is not None
    assert clearance.high is not None
    assert [clearance.low.value, clearance.high.value] == ends


@pytest.mark.parametrize(
    ("over", "to", "grades"),
    [
        (18, 30, (13, 21, 33)),
        (30, 50, (16, 25, 39)),
        (50, 80, (19, 30, 46)),
    ],
)
def test_grades_by_their_rule(over: int, to: int, grades: tuple[int, int, int]) -> None:
    """ISO 286-1:1988, annex: i = 0.45 D^(1/3) + 0.001 D; IT6, IT7, IT8 are 10 i, 16 i, 25 i. Misses smaller sizes."""
    example = Example({"over": f"{over} mm", "to": f"{to} mm"})
    middle = "sqrt(over * to) / (1 mm)"
    unit = f"(0.45 * exp(ln({middle}) / 3) + 0.001 * {middle}) * 1 um"
    for times, grade in zip((10, 16, 25), grades, strict=True):
        assert round(example.number(f"{times} * {unit}", "um")) == grade
