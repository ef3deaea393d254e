"""What the gauges of a sheet can decide, to the letter and the style, where nothing, one or some stand out."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from specrules.inspection.gauge_capability import Capable
from specrules.inspection.report import Unable
from specrules.output.adequacy_page import able_lines
from specrules.quantity import LENGTH, Unit
from tests.output.styled import styled

INCH = Unit("in", LENGTH, Fraction("25.4"))
U, WIDTH = Decimal("0.0002"), Decimal("0.001")
CALIPER = Unable(U, WIDTH, "main_bore", "caliper", ("dial bore gauge", "micrometer"))
NOTHING = Unable(U, WIDTH, "gap", "", ())


def tolerance(title: str, group: str, unable: Unable | None = None) -> Capable:
    return Capable("fit", title, group, INCH, U, WIDTH, unable)


def test_none_that_they_cannot() -> None:
    every = "[heading]These gauges can decide every tolerance that has a width."
    assert styled(able_lines([])) == [every]
    fits = [tolerance("Fit (on the diameter)", "Crank"), tolerance("Gap", "Rings")]
    assert styled(able_lines(fits)) == ["Can be decided: Fit; Gap.", every]


def test_one_that_they_cannot() -> None:
    assert styled(able_lines([tolerance("Fit", "Crank", CALIPER)])) == [
        "[heading]CRANK",
        "  Fit: U 0.00020, width 0.00100 in",
        "    Main bore read with caliper cannot decide a tolerance this narrow; dial bore",
        "    gauge or micrometer could.",
        "",
        "[heading]1 of 1 tolerance is narrower than four times U of its gauges.",
    ]


def test_some_that_they_cannot() -> None:
    """Each group has its heading once; what they can decide is one line."""
    found = [
        tolerance("Fit", "Crank", CALIPER),
        tolerance("Float", "Crank"),
        tolerance("Size", "Crank", CALIPER),
        tolerance("Gap", "Rings", NOTHING),
    ]
    assert styled(able_lines(found)) == [
        "[heading]CRANK",
        "  Fit: U 0.00020, width 0.00100 in",
        "    Main bore read with caliper cannot decide a tolerance this narrow; dial bore",
        "    gauge or micrometer could.",
        "  Size: U 0.00020, width 0.00100 in",
        "    Main bore read with caliper cannot decide a tolerance this narrow; dial bore",
        "    gauge or micrometer could.",
        "",
        "[heading]RINGS",
        "  Gap: U 0.00020, width 0.00100 in",
        "    Gap cannot decide a tolerance this narrow; no gauge that is usual for it",
        "    could either.",
        "",
        "Can be decided: Float.",
        "[heading]3 of 4 tolerances are narrower than four times U of their gauges.",
    ]
