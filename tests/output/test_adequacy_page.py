"""What the gauges of a sheet can decide, to the letter and the style, where nothing, one or some stand out."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from specrules.inspection.finding_parts import Alternative
from specrules.inspection.gauge_capability import Capable
from specrules.output.adequacy_page import able_lines
from specrules.quantity import LENGTH, Unit
from specrules.vocabulary import Reason, Verdict, Why
from tests.output.styled import styled

INCH = Unit("in", LENGTH, Fraction("25.4"))


def tolerance(title: str, group: str, narrow: bool = False, better: tuple[Alternative, ...] = ()) -> Capable:
    ends = (Decimal("0.0012"), Decimal("0.0018"))
    U = Decimal("0.0002")
    return Capable("fit", title, group, INCH, U, U, U, Decimal("0.001"), *ends, narrow, better)


def read_with(gauge: str, U: str) -> Alternative:
    return Alternative(Reason(Why.READ_WITH, ("main_bore", gauge)), Decimal(U), Verdict.IN_SPEC)


BETTER = (
    read_with("bore gauge", "0.0001"),
    read_with("micrometer", "0.00015"),  # of a kind that is told of already
    Alternative(Reason(Why.READ_MORE_OFTEN, ("main_bore",), ("4",)), Decimal("0.00012"), Verdict.IN_SPEC),
)


def test_none_that_is_narrow() -> None:
    every = "[heading]Every tolerance that has a width is four times U of its gauges."
    assert styled(able_lines([])) == [every]
    easy = [tolerance("Fit (on the diameter)", "Crank"), tolerance("Gap", "Rings")]
    assert styled(able_lines(easy)) == ["Decided with ease: Fit; Gap.", every]


def test_one_that_is_narrow() -> None:
    """Of each kind of thing that would help the first is told."""
    assert styled(able_lines([tolerance("Fit", "Crank", True, BETTER)])) == [
        "[heading]CRANK",
        "  Fit: in spec beyond doubt from 0.00120 to 0.00180; U 0.00020, width 0.00100 in",
        "    For a quarter of the width, read main bore with a bore gauge (U 0.00010) or",
        "    read main bore 4 times at each place (U 0.00012).",
        "",
        "[heading]1 of 1 tolerance is narrower than four times U of its gauges.",
    ]


def test_some_that_are_narrow() -> None:
    """Each group has its heading once; what is decided with ease is one line."""
    found = [
        tolerance("Fit", "Crank", True, BETTER[:1]),
        tolerance("Float", "Crank"),
        tolerance("Size", "Crank", True)._replace(down=Decimal("0.00015")),
        tolerance("Gap", "Rings", True)._replace(least=None, most=None),
    ]
    assert styled(able_lines(found)) == [
        "[heading]CRANK",
        "  Fit: in spec beyond doubt from 0.00120 to 0.00180; U 0.00020, width 0.00100 in",
        "    For a quarter of the width, read main bore with a bore gauge (U 0.00010).",
        "  Size: in spec beyond doubt from 0.00120 to 0.00180; U -0.00015 +0.00020, width",
        "    0.00100 in",
        "",
        "[heading]RINGS",
        "  Gap: no value would be in spec beyond doubt; U 0.00020, width 0.00100 in",
        "",
        "Decided with ease: Float.",
        "[heading]3 of 4 tolerances are narrower than four times U of their gauges.",
    ]
