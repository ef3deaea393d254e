"""Whether what was said at some places concerns a station, over counted axes and groups of them."""

from __future__ import annotations

import pytest

from specrules.sheet.station_cover import At, covered, touches
from tests.inspecting import settled
from tests.inspection.small_build import BASE

SHEET, SPEC, FAULTS = settled(
    "specrules: build-sheet/1\npacks: [base]\nunit: in\nfacts: {mains: 3, throws: [[1, 2], [3, 4]]}\n", {"base": BASE}
)


@pytest.mark.parametrize(
    ("at", "station", "concerned"),
    [
        ({}, {"main": "1"}, True),  # everywhere
        ({}, {}, True),
        ({"main": ("1",)}, {"main": "1"}, True),
        ({"main": ("1", "3")}, {"main": "2"}, False),
        ({"main": ("1",)}, {"cylinder": "1"}, True),  # what cannot be told apart is concerned
        ({"main": ("1",)}, {}, True),
        ({"throw": ("1",)}, {"cylinder": "2"}, True),  # cylinder 2 is on throw 1
        ({"throw": ("1",)}, {"cylinder": "3"}, False),
        ({"cylinder": ("3",)}, {"throw": "2"}, True),  # throw 2 carries cylinder 3
        ({"cylinder": ("1", "2")}, {"throw": "2"}, False),
        ({"main": ("1",), "throw": ("2",)}, {"main": "1", "cylinder": "1"}, False),  # all axes must meet
    ],
)
def test_touches(at: At, station: dict[str, str], concerned: bool) -> None:
    assert SHEET is not None
    assert SPEC is not None, FAULTS
    assert touches(at, station, SHEET, SPEC.axes) is concerned


@pytest.mark.parametrize(
    ("ats", "station", "along", "whole"),
    [
        ([], {}, (), False),
        ([{}], {}, (), True),
        ([{}], {"main": "1"}, ("main",), True),
        ([{"main": ("1",)}], {"main": "1"}, ("main",), True),
        ([{"main": ("1",)}], {}, ("main",), False),  # of three mains
        ([{"main": ("1",)}, {"main": ("2", "3")}], {}, ("main",), True),  # together they are all
        ([{"main": ("1", "2", "3")}], {}, ("main", "plane"), True),
        ([{"main": ("1", "2", "3"), "plane": ("front",)}], {}, ("main", "plane"), False),
        ([{"main": ("1", "2", "3"), "plane": ("front",)}, {"plane": ("rear",)}], {}, ("main", "plane"), True),
    ],
)
def test_covered(ats: list[At], station: dict[str, str], along: tuple[str, ...], whole: bool) -> None:
    assert SHEET is not None
    assert covered(ats, station, SHEET, along) is whole
