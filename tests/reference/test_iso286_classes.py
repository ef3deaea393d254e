"""Tolerance classes by name against 2,925 printed limits of ISO 286-2, and against its corrections and exceptions."""

from __future__ import annotations

from csv import DictReader
from decimal import Decimal
from pathlib import Path

import pytest

from specrules.quantity import Refusal
from specrules.quantity.tolerance_class import Deviations, WrittenClass, deviations, read_class

PRINTED = Path(__file__).parent / "data" / "iso286_limits.csv"


def printed() -> list[dict[str, str]]:
    lines = PRINTED.read_text(encoding="utf-8").splitlines()
    return list(DictReader(line for line in lines if not line.startswith("#")))


def test_every_printed_limit_is_that_of_its_class() -> None:
    rows = printed()
    assert len(rows) == 2925
    assert len({row["class"] for row in rows}) == 131
    wrong = [
        row
        for row in rows
        if deviations(row["class"], Decimal(row["nominal_mm"])) != (Decimal(row["lower_um"]), Decimal(row["upper_um"]))
    ]
    assert wrong == []


@pytest.mark.parametrize(
    ("name", "nominal", "lower", "upper"),
    [
        ("H7", "50", 0, 25),  # a nominal size on an edge is of the step below
        ("H7", "50.001", 0, 30),
        ("H7", "80", 0, 30),
        ("H7", "120", 0, 35),
        ("M6", "250", -37, -8),
        ("M6", "280", -41, -9),  # not -11: ISO 286-1, note to its table
        ("M6", "315", -41, -9),
        ("M6", "316", -46, -10),
        ("A13", "340", 1200, 2090),  # these four: ISO 286-2:1988/Cor.1:2006
        ("E8", "100", 72, 126),
        ("R10", "24", -112, -28),
        ("f9", "300", -186, -56),
        ("js7", "40", Decimal("-12.5"), Decimal("12.5")),
        ("N9", "20", -52, 0),
        ("k8", "20", 0, 33),
        ("k6", "50", 2, 18),
        ("h6", "500", -40, 0),
    ],
)
def test_exceptions_that_trip_programs(name: str, nominal: str, lower: int, upper: int) -> None:
    assert deviations(name, Decimal(nominal)) == Deviations(Decimal(lower), Decimal(upper))


@pytest.mark.parametrize(
    ("name", "nominal"),
    [
        ("H7", "500.001"),
        ("H7", "0"),
        ("H19", "50"),
        ("I7", "50"),
        ("l6", "50"),
        ("t6", "24"),  # begins over 24 mm
        ("v6", "14"),
        ("y6", "18"),
        ("K9", "10"),  # only to 3 mm
        ("a9", "1"),
        ("B9", "1"),
        ("N9", "1"),
        ("H14", "1"),
        ("J9", "50"),
        ("j4", "50"),
        ("Hh7", "50"),
    ],
)
def test_classes_that_the_standard_does_not_have(name: str, nominal: str) -> None:
    assert deviations(name, Decimal(nominal)) is None


@pytest.mark.parametrize(
    ("text", "least", "most", "fit"),
    [
        ("50 H7", "50", "50.025", False),
        ("50H7", "50", "50.025", False),
        ("50 mm k6", "50.002", "50.018", False),
        ("50 H7/k6", "-0.018", "0.023", True),
        ("25 H8/f7", "0.020", "0.074", True),
        ("25 H7/s6", "-0.048", "-0.014", True),
        ("12.7 H7 / g6", "0.006", "0.035", True),
    ],
)
def test_a_class_as_it_is_written(text: str, least: str, most: str, fit: bool) -> None:
    assert read_class(text) == WrittenClass(Decimal(least), Decimal(most), fit)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("H7", "is no nominal size in mm with its class"),
        ("50 H7/K6", "is not a hole, in capitals, and then a shaft, in small letters"),
        ("50 h6/H7", "is not a hole, in capitals, and then a shaft, in small letters"),
        ("600 H7", "has H7, which ISO 286 does not have for 600 mm, the tables end at 500"),
        ("20 t6", "has t6, which ISO 286 does not have for 20 mm"),
        ("2 in H7", "is no nominal size in mm with its class"),
        ("50 ±1 H7", "is no nominal size in mm with its class"),
    ],
)
def test_what_is_no_class(text: str, said: str) -> None:
    found = read_class(text)
    assert isinstance(found, Refusal)
    assert found.said == said
