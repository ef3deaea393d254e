"""What a sheet gives formulas to work with, beside single readings: facts in a row, gauges of which little is known."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.inspection import Options
from tests.inspecting import finding, inspected, words

PACK = """\
specrules: tolerance-pack/1
group: Volumes
pack: {name: bare, version: "1", title: Facts in a row, unit: in}
axes: {cylinder: {count: cylinders}}
facts:
  cylinders: {kind: count}
  crown: {kind: quantity, unit: cc, at: [cylinder]}
gauge classes:
  plain: {resolution: 0.0002 in, mpe: 0.0003 in, source: {kind: house}}
measurands:
  bore: {at: [cylinder], unit: in, gauge classes: [plain]}
rules:
  crowns:
    title: Crowns alike
    formula: spread(crown, cylinder)
    unit: cc
    limits: {most: 1 cc}
    importance: minor
    source: {kind: house}
    worked: [{given: {facts: {crown: {1: 5 cc, 2: 5 cc}}}, expect: {value: 0 cc, verdict: in spec}}]
  bores:
    title: Bore
    each: cylinder
    formula: bore
    limits: {most: 4.1 in}
    importance: minor
    source: {kind: house}
    worked: [{given: {readings: {bore: {1: 4.0}}}, expect: {at: {cylinder: 1}, verdict: in spec}}]
"""
HEAD = "specrules: build-sheet/1\npacks: [bare]\nunit: in\n"


def test_facts_along_an_axis_are_a_row() -> None:
    sheet = HEAD + "facts: {cylinders: 3, crown: {1: 5.0 cc, 2: 7.0 cc, 3: 6.0 cc}}\n"
    found = finding(inspected(sheet, {"bare": PACK}), "crowns")
    assert (found.value, str(found.verdict)) == (Decimal(2), "out of spec")
    lacking = finding(inspected(sheet.replace("2: 7.0 cc, ", ""), {"bare": PACK}), "crowns")
    assert (str(lacking.verdict), words(lacking.rests_on.missing)) == ("not measured", ("state crown",))


def test_a_gauge_set_with_one_of_no_known_repeatability_has_its_step_alone() -> None:
    gauges = "gauges: {master: {class: plain}, bar: {class: plain, set with: master}}\n"
    sheet = f"{HEAD}{gauges}facts: {{cylinders: 1}}\nreadings: {{bore: {{gauge: bar, 1: 4.0000}}}}\n"
    bore = finding(inspected(sheet, {"bare": PACK}, Options(decision="guarded")), "bores", cylinder="1")
    setting = [line.u for line in bore.budget if line.cause.names == ("bar", "master")]
    assert setting == [pytest.approx(0.0001 / 3**0.5)]  # half of the step of 0.0002 in, as a rectangle
