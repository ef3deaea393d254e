"""Without its maker's limits, no value in the middle of what its maker calls new is called tight, loose, low or high.

`data/published_middles.csv` has a line for each of the 610 published values, in their order: what the general pack says
of the middle of the new band (0 is its lower end where only a most is printed) under simple acceptance, and why it is
silent or not asked. `python -m tests.reference.test_published_middles` writes it afresh; a change is read line by line.

What an engine's sheet states here that its manual does not print, sizes, stems, pins, piston and rod materials, is from
memory (see `published_engines`). It decides which limits speak, so the counts rest on it, and so does the 0: of the 173
middles of liquid-cooled four-stroke spark engines none is called tight with all those sizes 12 % smaller, and 7 with
all of them 12 % larger, where small engines pass for those that the limits hold for; of the 194 others one is called
loose with smaller ones, and none with larger.

The column `before` is what the packs said before any of their figures said what it holds for: commit e59bda3 and its
program, on the same sheets without the facts that it did not know. Silence where it called good values wrong would be
had by saying nothing at all, so what is still judged of those that it called good is counted as well.
"""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest

from specrules.inspection import Finding
from specrules.vocabulary import BEYOND, INSIDE, Reason, Verdict, Why
from tests.lanes import first_alone
from tests.reference.published_engines import BY_CARD, RULES, Published, judged, printed_size, published
from tests.shipped import resolved

DATA = Path(__file__).with_name("data") / "published_middles.csv"
COLUMNS = ("engine", "check", "label", "said", "why", "before")

JUDGED, PARTLY, SILENT = "in spec", "in spec or silent", "silent"
WAITING = "waits for a fact"
NO_CHECK, BY_THE_CARD, NO_SIZE, NO_BAND, NOT_ASKED = (
    "no check",
    "held against the card",
    "no size",
    "no new band",
    "not asked",
)
WHY = {
    NO_CHECK: "no rule stands for it",
    BY_THE_CARD: "the rule wants the maker's figure",
    NO_SIZE: "a share of a size, a multiple or a pull",
    NO_BAND: "only a wear limit is printed",
    NOT_ASKED: "the rule does not ask this of an oil ring",
}
MEASURED = {
    JUDGED: 172, PARTLY: 3, SILENT: 182, WAITING: 1, NOT_ASKED: 9, NO_BAND: 34, NO_SIZE: 8, BY_THE_CARD: 20,
    NO_CHECK: 181,
}  # fmt: skip
"""How many of the 610 values are what."""
OF_BOTH_ENDS = 135
"""How many of those judged have both ends of their band printed."""

UNCHECKED = """
big_end_radial_play 4, bolt_diameter 4, bolt_diameter_difference 3, bolt_length 5, bolt_torque_angle 3,
bore_size_wear 5, cam_bearing_size 2, cam_bend 1, cam_journal_size 2, compression_pressure 1, crank_width 1,
crosshead_clearance 1, cylinder_bore 21, fire_wall_height 1, flywheel_runout 1, gasket_grade 8, guide_size 2,
guide_size_wear 1, head_height 1, head_height_least 1, head_recess_depth 1, lifter_bore_roundness 1, liner_clearance 2,
liner_protrusion 3, lobe_height 9, lobe_lift 1, main_housing_size 1, main_journal_size 15, main_roller_clearance 2,
oil_pressure_least 1, pin_bore_piston_size 3, pin_bore_rod_size 3, pin_end_float 1, pin_size 4, pin_size_wear 1,
piston_protrusion_spread 1, piston_size 14, piston_size_wear 1, pump_body_clearance 1, pump_shaft_end_float 1,
pump_tip_clearance 1, ring_end_gap_rule 1, rod_bearing_size 3, rod_housing_size 1, rod_journal_size 18, rod_length 1,
rod_twist 1, rod_wobble 2, seat_insert_depth 1, spark_plug_gap 1, spring_free_length 9, stem_size 3, stem_size_wear 1,
valve_height 1, valve_margin 1, valve_recession 2
"""
"""The checks for which no rule stands, and how many values are printed for each. Sizes are read, and no rule holds
them against the maker's."""
ON_THE_CARD = "spring_load 1, spring_open_load 4, spring_seat_load 4, valve_lash 11"
"""Likewise the checks whose rule says nothing before the card states the figure."""


def said_of(one: Published) -> tuple[str, str]:
    """What is said of one value, and why."""
    if one.check not in RULES:
        said = BY_THE_CARD if one.check in BY_CARD else NO_CHECK
    elif one.unit != "mm":
        said = NO_SIZE
    elif one.middle is None:
        said = NO_BAND
    else:
        return _words(judged(one, one.middle))
    return said, WHY[said]


def is_tried(one: Published) -> bool:
    """Whether there is a rule, a size and a new band."""
    return one.check in RULES and one.unit == "mm" and one.middle is not None


def name_of(number: object) -> str:
    """Of a value by its number, for the name of a case."""
    return f"{number} {published()[number].name}" if isinstance(number, int) else ""


def _words(found: Sequence[Finding]) -> tuple[str, str]:
    verdicts = {each.would_be or each.verdict for each in found}
    why = "; ".join(dict.fromkeys(text for each in found for text in map(_because, each.rests_on.missing) if text))
    if verdicts <= set(INSIDE):
        return JUDGED, why
    if verdicts == {Verdict.NOT_APPLICABLE}:
        return NOT_ASKED, WHY[NOT_ASKED]
    if verdicts == {Verdict.NOT_MEASURED}:
        return WAITING, why
    if verdicts == {Verdict.NO_FIGURE}:
        return SILENT, why
    if verdicts <= {*INSIDE, Verdict.NO_FIGURE}:
        return PARTLY, why
    return " or ".join(sorted(verdicts)), why


def _because(reason: Reason) -> str:
    """By which keys figures do not hold, in short."""
    if reason.code is Why.HOLDS_FOR_OTHERS:
        return ", ".join(f"{name}: {label}" for name, label in zip(reason.names[1:], reason.labels, strict=True))
    if reason.code is Why.HOLDS_FOR_OTHER_SIZES:
        size, least, most, unit = reason.labels
        return f"{reason.names[1]} of {size} {unit}, not {least} to {most}"
    if reason.code is Why.NO_LIMIT_LINE:
        here = ", ".join(f"{name}: {label}" for name, label in zip(reason.names, reason.labels, strict=True))
        return f"no line for {here}"
    if reason.code is Why.STATE_FACT:
        return f"{reason.names[0]} is not printed"
    return str(reason.code)


def table() -> str:
    """The data file as it has to be."""
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\n")
    rows.writerow(COLUMNS)
    rows.writerows((one.engine, one.check, one.label, *said_of(one), before) for one, before in _with_before())
    return text.getvalue()


def _with_before() -> Iterator[tuple[Published, str]]:
    """Each value with what was said of it before, which no run of this program tells."""
    with DATA.open(encoding="utf-8", newline="") as lines:
        yield from zip(published(), [row["before"] for row in csv.DictReader(lines)], strict=True)


def stored() -> Iterator[tuple[Published, str, str]]:
    """Each value with what the data file has of it."""
    with DATA.open(encoding="utf-8", newline="") as lines:
        for one, row in zip(published(), csv.DictReader(lines), strict=True):
            assert (row["engine"], row["check"], row["label"]) == (one.engine, one.check, one.label)
            yield one, row["said"], row["why"]


def the(*kinds: str) -> list[Published]:
    """The values of some kinds, by the data file."""
    return [one for one, said, _ in stored() if said in kinds]


def test_every_published_value_is_counted_and_none_is_called_wrong() -> None:
    """The data file says nothing beside these words: neither out of spec nor just out, tight, loose, low or high."""
    counted = Counter(said for _, said, _ in stored())
    assert counted == MEASURED
    assert counted.total() == len(published()) == 610
    assert sum(None not in (one.least, one.most) and one.least != one.most for one in the(JUDGED)) == OF_BOTH_ENDS


@pytest.mark.parametrize(("kind", "text"), [(NO_CHECK, UNCHECKED), (BY_THE_CARD, ON_THE_CARD)])
def test_the_checks_without_a_rule_of_their_own_are_these(kind: str, text: str) -> None:
    counts = (each.split() for each in text.split(","))
    assert Counter(one.check for one in the(kind)) == {check: int(count) for check, count in counts}


def test_no_check_said_to_have_no_rule_has_one_of_its_name() -> None:
    assert not {one.check for one in the(NO_CHECK)} & set(resolved("general").rules)
    assert {rule for rule, _ in RULES.values()} <= set(resolved("general").rules)


def test_what_is_silent_says_why_and_what_is_judged_has_nothing_to_say() -> None:
    assert [one.name for one, said, why in stored() if bool(why) is (said == JUDGED)] == []
    assert {why for _, said, why in stored() if said == SILENT and " not " not in why} == FACTS | {ASK_THE_MAKER}


FACTS = {
    "cooling: air",
    "cooling: air, cycle: two_stroke",
    "cooling: air, piston_alloy: cast",
    "cycle: two_stroke",
    "ignition: compression",
    "ignition: compression, cycle: two_stroke",
    "block_material: aluminium",
    "piston_alloy: cast",
}
"""Why figures do not hold where it is no size that they do not hold for. Material and alloy are from memory."""
ASK_THE_MAKER = str(Why.ASK_THE_MAKER)

SIZED = {"main_oil_clearance": "main", "rod_oil_clearance": "rod", "ring_end_gap": "bore", "piston_clearance": "bore"}
"""The checks whose limits were shares of a size."""
BEFORE = {"in spec": 150, "called wrong": 73, "not measured": 6}
STILL = 100
"""How many of the 150 are judged."""


def both_ends(one: Published) -> bool:
    """Whether it has a new band of two ends, of no oil ring, and its manual prints the size that it is a share of."""
    two = None not in (one.least, one.most) and one.least != one.most
    return two and "oil" not in one.label and (one.check not in SIZED or bool(printed_size(one, SIZED[one.check])))


def test_most_of_what_was_called_good_before_is_judged() -> None:
    """Of the two-sided new bands with a printed size, without their makers' limits. What is silent says why."""
    with DATA.open(encoding="utf-8", newline="") as lines:
        rows = [
            row for one, row in zip(published(), csv.DictReader(lines), strict=True) if row["before"] and both_ends(one)
        ]
    counted = Counter("called wrong" if row["before"] not in BEFORE else row["before"] for row in rows)
    assert counted == BEFORE
    good = [row for row in rows if row["before"] == "in spec"]
    assert sum(row["said"] == JUDGED for row in good) == STILL
    assert [row for row in good if row["said"] != JUDGED and not row["why"]] == []
    assert {row["said"] for row in rows} <= {JUDGED, PARTLY, SILENT, WAITING}


@pytest.mark.parametrize("number", first_alone(*(n for n, one in enumerate(published()) if is_tried(one))), ids=name_of)
def test_the_middle_of_a_makers_band_is_called_good_or_nothing(number: int) -> None:
    one, said, why = list(stored())[number]
    assert one.middle is not None
    found = judged(one, one.middle)
    assert not {verdict for each in found for verdict in (each.verdict, each.would_be)} & set(BEYOND)
    assert (said, why) == said_of(one), "python -m tests.reference.test_published_middles"


def test_the_data_file_is_in_step_with_the_values_that_are_not_tried() -> None:
    assert [one.name for one, said, why in stored() if not is_tried(one) and (said, why) != said_of(one)] == []


if __name__ == "__main__":
    DATA.write_text(table(), encoding="utf-8")
