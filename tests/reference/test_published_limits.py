"""With its maker's limits in the sheet a value inside passes and one outside fails, in the shapes that are printed.

Of the 401 published values whose check is a rule and whose unit is a size 392 are written as a line of the sheet:
both ends, the most alone, the least alone, a wear limit on reused parts, a wear limit alone. Values on the limit pass,
those 0.0001 mm beyond it fail on that side, whatever the engine is: a maker's limit is always judged.

What a limits line can't say of what is printed stands in `UNSAYABLE`; what it says in a form of its own, a limit by
station, fractions of an inch, centimetres and a figure a size, in `FORMS`. Columns that were cut instead of rounded
are none of a line's business: it takes the one that is typed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from decimal import Decimal

import pytest

from specrules.vocabulary import BEYOND, INSIDE, SIDE_OF, Verdict
from tests.lanes import first_alone
from tests.reference.published_engines import RULES, Published, judged, published, standing

STEP = Decimal("0.0001")
"""How far beyond a limit, in mm: far less than any manual prints."""
REUSED = {"work": "refresh"}

BOTH, MOST, LEAST, WEAR = "both ends", "the most", "the least", "wear alone"
NOMINAL, AMOUNT, TWO, CROSSED = "one nominal figure", "an amount of wear", "two figures in one", "wear inside new"
UNSAYABLE = {
    NOMINAL: "a line that sets an aim alone limits nothing",
    AMOUNT: "an amount is added to a most, and none is printed with it",
    TWO: "the limits of two rings in one figure, and not which is whose",
    CROSSED: "a printed fault: the wear limit lies inside the new band, and is told as such",
}


def line_of(one: Published) -> dict[str, Decimal]:
    """The parts of its limits line. How far a piston stands out is read as how far below the deck it stands."""
    printed = {"least": one.least, "most": one.most}
    printed["wear least" if one.wear_is == "least" else "wear most"] = one.wear
    if one.check.endswith(("taper", "roundness")):
        del printed["least"]  # some print 0.000, or a range where there can be none: nothing is too round
    line = {part: figure for part, figure in printed.items() if figure is not None}
    if one.check == "piston_protrusion":
        other = {"least": "most", "most": "least", "wear least": "wear most", "wear most": "wear least"}
        line = {other[part]: -figure for part, figure in line.items()}
    return line


def shape_of(one: Published) -> str:
    """In which shape its limits are printed."""
    if one.least is not None and one.least == one.most:
        return NOMINAL
    if one.wear_is == "amount":
        return AMOUNT
    line = line_of(one)
    if not line:
        return TWO
    if "most" in line and line.get("wear most", line["most"]) < line["most"]:
        return CROSSED
    new = BOTH if {"least", "most"} <= line.keys() else MOST if "most" in line else LEAST if "least" in line else ""
    worn = bool({"wear most", "wear least"} & line.keys())
    return f"{new} and wear" if new and worn else new or WEAR


SAYABLE = [number for number, one in enumerate(standing()) if shape_of(one) not in UNSAYABLE]
SHAPES = {
    f"{BOTH} and wear": 195, BOTH: 102, f"{MOST} and wear": 22, MOST: 42, f"{LEAST} and wear": 1, WEAR: 30,
    NOMINAL: 4, AMOUNT: 2, TWO: 1, CROSSED: 2,
}  # fmt: skip
"""How many of the values are printed in each shape."""
BEYOND_THREE = ("third", "fourth", "fire", "2-4")
"""Rings that a pack for such an engine has to name: the general one names top, second, oil; tried as these."""
INSIDE_ANOTHER = ("desired", "allowable")
"""One band inside another for one clearance: a sheet holds one of the two, and each is tried by itself."""


def name_of(number: object) -> str:
    """Of a value by its number, for the name of a case."""
    return f"{number} {list(standing())[number].name}" if isinstance(number, int) else ""


def called(one: Published, value: Decimal, more: Mapping[str, str] | None = None) -> set[tuple[Verdict, str]]:
    """The verdicts and sides by the maker's limits. A negative one, asked about, counts as what it would be."""
    text = ", ".join(f"{part}: {figure} mm" for part, figure in line_of(one).items())
    mirrored = -value if one.check == "piston_protrusion" else value
    return {(each.would_be or each.verdict, each.limit_side) for each in judged(one, mirrored, text, more)}


def test_every_shape_is_counted() -> None:
    counted = Counter(map(shape_of, standing()))
    assert counted == SHAPES
    assert counted.total() == 401
    assert sum(counted[shape] for shape in UNSAYABLE) == counted.total() - len(SAYABLE)


@pytest.mark.parametrize(("labels", "count"), [(BEYOND_THREE, 11), (INSIDE_ANOTHER, 4)])
def test_what_a_line_says_only_in_part_is_counted(labels: tuple[str, ...], count: int) -> None:
    assert sum(any(label in one.label for label in labels) for one in standing()) == count


@pytest.mark.parametrize("number", first_alone(*SAYABLE), ids=name_of)
def test_inside_passes_and_outside_fails(number: int) -> None:
    one = list(standing())[number]
    line = line_of(one)
    for part, limit in line.items():
        side = SIDE_OF[part]
        outwards = STEP if side == "most" else -STEP
        if part == side:
            assert called(one, limit) == {(Verdict.IN_SPEC, "")}
            assert {(verdict in BEYOND, at) for verdict, at in called(one, limit + outwards)} == {(True, side)}
            continue
        assert {verdict for verdict, _ in called(one, limit, REUSED)} <= set(INSIDE)
        assert {(verdict in BEYOND, at) for verdict, at in called(one, limit + outwards, REUSED)} == {(True, side)}
        if side in line and line[side] != limit:
            assert {verdict for verdict, _ in called(one, limit, REUSED)} == {Verdict.WORN}
            assert {(verdict in BEYOND, at) for verdict, at in called(one, limit)} == {(True, side)}


FORMS = [
    # by main number, and not by another's
    ("aircooled_flat_four_car main_oil_clearance [1]", "when: main == 1, most: 0.09 mm", "0.09", "0.0901"),
    ("v8_diesel_indirect piston_clearance [1-6]", "when: cylinder == 1, most: 0.0045 in", "0.1143", "0.1144"),
    ("v8_sohc_38 ring_end_gap [top]", "when: ring == top or ring == second, most: 0.3 mm", "0.3", "0.3001"),
    # fractions of an inch, and centimetres
    ("sidevalve_single seat_width", "most: 1/16 in", "1.5875", "1.5876"),
    ("twostroke_diesel_108 piston_clearance", "least: 0.0114 cm, most: 0.0211 cm", "0.211", "0.2111"),
    # a figure for each inch of the bore, here of 85 mm
    ("wear_rules_industrial bore_taper", "most: 0.0005 * card_bore", "0.0425", "0.0426"),
]


@pytest.mark.second_lane
@pytest.mark.parametrize(("name", "limits", "inside", "outside"), FORMS, ids=[name for name, *_ in FORMS])
def test_a_line_in_a_form_of_its_own(name: str, limits: str, inside: str, outside: str) -> None:
    (one,) = [each for each in published() if each.name == name and each.check in RULES]
    more = {"card_bore": "85 mm"}
    assert {each.verdict for each in judged(one, Decimal(inside), limits, more)} == {Verdict.IN_SPEC}
    assert {each.verdict for each in judged(one, Decimal(outside), limits, more)} <= set(BEYOND)


def test_a_line_for_another_main_leaves_this_one_without_a_figure() -> None:
    (one,) = [each for each in standing() if each.name == "aircooled_flat_four_car main_oil_clearance [1]"]
    (found,) = judged(one, Decimal("0.07"), "when: main == 2, most: 0.09 mm")
    assert found.verdict is Verdict.NO_FIGURE
