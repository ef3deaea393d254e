"""What looks like a slip, what is to be said of a sheet, and what makes a value unsure: the words of each code.

No name that a sheet or a pack gives changes which words those are.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import pytest

from specrules.evaluate.error_sources import BudgetLine
from specrules.inspection import Options
from specrules.output.reasons import figure_in_doubt, said, slip_name
from specrules.output.telling import basis
from specrules.sheet import Suspect
from specrules.vocabulary import PAIR, SUSPECT_KINDS, WITHIN, Reason, Why, WrittenAs
from tests.inspecting import inspected, whole, words
from tests.output.test_reasons import SAID as OTHERS

SLIPS: Mapping[Why, Sequence[tuple[Reason, str]]] = {
    Why.IMPOSSIBLE_NEGATIVE: [
        (
            Reason(Why.IMPOSSIBLE_NEGATIVE),
            "is negative, which this never is; if it was read from some zero, add what that zero measured",
        ),
        (
            Reason(Why.IMPOSSIBLE_NEGATIVE, ("fit",)),
            "gives a negative value where none can be: one of the readings is wrong, or a part is",
        ),
        (
            Reason(Why.IMPOSSIBLE_NEGATIVE, ("fit", PAIR), ("2.0010", WITHIN)),
            "gives a negative value where none can be; with the two exchanged it would be 2.0010, and within the "
            "limits",
        ),
    ],
    Why.GAUGE_STEP: [
        (
            Reason(Why.GAUGE_STEP, ("caliper tenth",), ("0.1000", "in", "above", "2.0000")),
            "stands 0.1000 in above its neighbours, one caliper tenth; with that undone it would be 2.0000",
        )
    ],
    Why.DECIMAL_SLIP: [
        (
            Reason(Why.DECIMAL_SLIP, ("usual sizes",), ("10", "large", "0.302 in")),
            "is 10 times too large for the usual sizes; with that undone it would be 0.302 in",
        ),
        (
            Reason(Why.DECIMAL_SLIP, ("neighbours",), ("10", "small", "583.9 g")),
            "is 10 times too small for its neighbours; with that undone it would be 583.9 g",
        ),
    ],
    Why.UNIT_SLIP: [
        (
            Reason(Why.UNIT_SLIP, ("usual sizes", WrittenAs.MILLIMETRES), ("25.4", "large", "2 in")),
            "is 25.4 times too large for the usual sizes, as millimetres among inches are; "
            "with that undone it would be 2 in",
        ),
        (
            Reason(Why.UNIT_SLIP, ("neighbours", WrittenAs.INCHES), ("25.4", "small", "50.8 mm")),
            "is 25.4 times too small for its neighbours, as inches among millimetres are; "
            "with that undone it would be 50.8 mm",
        ),
        (
            Reason(Why.UNIT_SLIP, ("usual sizes", WrittenAs.THOU), ("1000", "large", "0.019 in")),
            "is 1000 times too large for the usual sizes, as thou or um without their unit are; "
            "with that undone it would be 0.019 in",
        ),
        (
            Reason(Why.UNIT_SLIP, ("usual sizes", WrittenAs.SIZE), ("1000", "small", "2.499 in")),
            "is 1000 times too small for the usual sizes, as a size is beside which thou or um was put by mistake; "
            "with that undone it would be 2.499 in",
        ),
        (
            Reason(Why.UNIT_SLIP, ("usual figures", WrittenAs.OTHER_SYSTEM), ("25.4", "large", "1 mm")),
            "is 25.4 times too large for the usual figures, as one in the wrong system of units is; "
            "with that undone it would be 1 mm",
        ),
        (
            Reason(Why.UNIT_SLIP, ("places", WrittenAs.INCHES), ("25.4", "small", "0.1397 mm")),
            "is written finer than its gauge shows, as inches among millimetres are; "
            "with that undone it would be 0.1397 mm",
        ),
    ],
    Why.DIGITS_EXCHANGED: [
        (
            Reason(Why.DIGITS_EXCHANGED, (), ("7", "3", "2.3749")),
            "is far from its neighbours; with 7 and 3 exchanged it would be 2.3749",
        )
    ],
    Why.LARGER_THAN_NEW: [
        (
            Reason(Why.LARGER_THAN_NEW, ("card_shaft",), ("2.0000",)),
            "is larger than it was new, 2.0000 by card_shaft, and wear does not make it so",
        )
    ],
    Why.SMALLER_THAN_NEW: [
        (
            Reason(Why.SMALLER_THAN_NEW, ("card_hole",), ("3.0000",)),
            "is smaller than it was new, 3.0000 by card_hole, and wear does not make it so",
        )
    ],
    Why.UNUSUAL: [
        (Reason(Why.UNUSUAL, (), ("5", "20", "in")), "is outside the usual sizes, 5..20 in"),
        (Reason(Why.UNUSUAL, (), ("0.9", "", "")), "is outside the usual sizes, 0.9.."),
        (
            Reason(Why.UNUSUAL, (), ("0.002", "0.15", "in", "0.025 in", "0.01 in")),
            "is outside the usual sizes, 0.002..0.15 in; with a slip undone it would be 0.025 in or 0.01 in",
        ),
    ],
    Why.TOO_FEW_PLACES: [(Reason(Why.TOO_FEW_PLACES), "is written to fewer places than the tolerance needs")],
    Why.IMPOSSIBLE_FIT: [
        (
            Reason(Why.IMPOSSIBLE_FIT, ("oil_clearance", "thimble turn"), ("2.4490", WITHIN)),
            "makes the oil clearance impossible; with one thimble turn undone it would be 2.4490, and within the "
            "limits",
        ),
        (
            Reason(Why.IMPOSSIBLE_FIT, ("fit", Why.DIGITS_EXCHANGED), ("2.4490",)),
            "makes the fit impossible; with two digits exchanged it would be 2.4490",
        ),
        (
            Reason(Why.IMPOSSIBLE_FIT, ("fit",)),
            "makes the fit impossible, many times farther beyond its limits than they are wide: one of the readings is "
            "wrong, or the parts do not belong together",
        ),
    ],
}
REMARKS: Mapping[Why, Sequence[tuple[Reason, str]]] = {
    Why.ZERO_TOO_FAR_OFF: [
        (
            Reason(Why.ZERO_TOO_FAR_OFF, ("mic_1",)),
            "mic_1 reads its standard wrong by more than its permissible error: have it set right; "
            "until then what it read is corrected, and no surer for that.",
        )
    ],
    Why.CHECK_TOO_LONG_AGO: [
        (
            Reason(Why.CHECK_TOO_LONG_AGO, ("mic_1",), ("2025-09-30", "365")),
            "mic_1 was last checked on 2025-09-30, more than 365 days before this build.",
        )
    ],
    Why.TEMPERATURE_ASSUMED: [
        (
            Reason(Why.TEMPERATURE_ASSUMED, (), ("20", "5", "C")),
            "No temperature is stated: parts and gauges are taken to be at 20 ±5 C, which counts where they expand "
            "differently. If you know it, write part temperature: 20 C ±1 K.",
        )
    ],
    Why.PAST_DUE: [
        (
            Reason(Why.PAST_DUE, ("mic_1",), ("2026-09-30", "2026-10-01")),
            "mic_1 was due to be checked by 2026-09-30 and used on 2026-10-01: have it checked, and take again what it "
            "read if it is off.",
        )
    ],
    Why.NO_BLADE: [
        (
            Reason(Why.NO_BLADE, ("end_gap", "blades"), ("0.030",)),
            "End gap 0.030 is no blade of blades: taken to lie between the blades beside it, or past the last. Of "
            "stacked blades write two stacks: the one that goes, two dots, the one that does not.",
        ),
        (
            Reason(Why.NO_BLADE, ("end_gap", "feeler", "assumed"), ("0.0105",)),
            "End gap 0.0105 is no blade of the assumed feeler: taken to lie between the blades beside it, or past the "
            "last. Of stacked blades write two stacks: the one that goes, two dots, the one that does not.",
        ),
    ],
    Why.FINER_THAN_READ: [
        (
            Reason(Why.FINER_THAN_READ, ("pin_bore", "mic_1"), ("0.98065", "0.0001 in")),
            "Pin bore 0.98065 is finer than mic_1 reads, which goes by 0.0001 in: write what it shows, or name the "
            "gauge that read it.",
        )
    ],
    Why.CONFIRMED: [
        (Reason(Why.CONFIRMED, ("main_journal",), ("ab", "2.4240", "3")), "Confirmed by ab: main journal 3 = 2.4240.")
    ],
    Why.ALL_ALIKE: [
        (
            Reason(Why.ALL_ALIKE, ("shaft", "end_gap", "end_gap"), ("2.0000", "upper 0.0020", "lower 0.0030")),
            "The same to the last place at every station, or one reading copied: "
            "shaft 2.0000; end gap upper 0.0020, lower 0.0030.",
        )
    ],
    Why.UNIT_TAKEN: [
        (
            Reason(Why.UNIT_TAKEN, ("seat_load", "open_load"), ("N", "lbf")),
            "No unit stands with seat load and open load: they are taken in N, by the unit of this sheet, and not in"
            " lbf. If that is not meant, write the unit.",
        )
    ],
}
SOURCES: Mapping[Why, Sequence[tuple[Reason, str]]] = {
    Why.READING: [(Reason(Why.READING, ("main_journal",), ("1", "front")), "reading main journal 1 front")],
    Why.CALIBRATION: [
        (Reason(Why.CALIBRATION, ("mic_1",)), "calibration of mic_1"),
        (Reason(Why.CALIBRATION, ("micrometer",), ("assumed",)), "calibration of micrometer, assumed"),
    ],
    Why.SCALE: [
        (Reason(Why.SCALE, ("tester",)), "scale of tester"),
        (Reason(Why.SCALE, ("balance",), ("assumed",)), "scale of balance, assumed"),
    ],
    Why.SETTING: [(Reason(Why.SETTING, ("bore", "mic")), "setting bore with mic")],
    Why.SELECTION: [(Reason(Why.SELECTION), "picking the extreme of near-equal readings")],
    Why.READ_MORE_OFTEN: [
        (Reason(Why.READ_MORE_OFTEN, ("pin_bore",), ("3",)), "read pin bore 3 times at each place"),
        (Reason(Why.READ_MORE_OFTEN, ("pin_bore", "pin"), ("10",)), "read pin bore and pin 10 times at each place"),
    ],
    Why.READ_BETWEEN: [
        (
            Reason(Why.READ_BETWEEN, ("ring_side_gap", "feeler in half thou"), ("0.0015", "0.002", "in")),
            "read ring side gap with a feeler in half thou, should it lie between 0.0015 and 0.002 in",
        ),
    ],
    Why.READ_WITH: [
        (Reason(Why.READ_WITH, ("pin", "outside micrometer")), "read pin with an outside micrometer"),
        (Reason(Why.READ_WITH, ("pin", "caliper")), "read pin with a caliper"),
    ],
    Why.SET_WITH: [(Reason(Why.SET_WITH, ("bore", "setting ring")), "set the gauge for bore with a setting ring")],
    Why.TEMPERATURE: [
        (Reason(Why.TEMPERATURE, ("gauge",)), "temperature of the gauge"),
        (Reason(Why.TEMPERATURE, ("part",), ("assumed",)), "temperature of the part, assumed"),
    ],
    Why.STATED: [
        (Reason(Why.STATED, ("rod_length",)), "rod length as stated"),
        (Reason(Why.STATED, ("card_size",), ("2",)), "card size 2 as stated"),
    ],
    Why.ASSUMPTION: [(Reason(Why.ASSUMPTION, ("air_density",)), "air density as assumed")],
}
SAID = {**SLIPS, **REMARKS, **SOURCES}


@pytest.mark.parametrize("code", SAID)
def test_a_code_has_its_sentence(code: Why) -> None:
    for reason, text in SAID[code]:
        assert reason.code is code
        assert said(reason) == text


def test_every_code_is_held_to_its_words_once() -> None:
    assert {*SAID} | {*OTHERS} == {*Why}
    assert {*SAID} & {*OTHERS} == set()


def test_the_kinds_of_suspect_are_in_one_table() -> None:
    assert tuple(SLIPS) == SUSPECT_KINDS
    assert {each.names[1] for each, _ in SLIPS[Why.UNIT_SLIP]} == {*WrittenAs}


@pytest.mark.parametrize("code", SUSPECT_KINDS)
def test_a_slip_is_called_by_its_code_and_a_step_by_the_name_that_its_pack_gives(code: Why) -> None:
    for reason, _ in SLIPS[code]:
        assert slip_name(reason) == ("caliper tenth" if code is Why.GAUGE_STEP else code.value)


PACK = """\
specrules: tolerance-pack/1
group: Gaps
pack: {name: gaps, version: "1", title: Gaps, unit: in}
axes: {place: {count: places}}
facts: {places: {kind: count}}
gauge classes:
  mic:
    {resolution: 0.0001 in, mpe: 0.0001 in, days between checks: 365, slips: {decimal slip: 0.1 in},
     source: {kind: from memory}}
measurands:
  mean_gap: {title: Smallest gap - mean of all, unit: in, usual: 0.1..1}
  gap: {at: [place], unit: in, gauge classes: [mic]}
rules:
  one:
    {title: One, formula: mean_gap, limits: {least: 0.1 in}, importance: minor, source: {kind: house},
     worked: [{given: {readings: {mean_gap: 0.200}}, expect: {verdict: in spec}}]}
  twice:
    {title: Twice, formula: mean_gap + mean_gap, limits: {least: 0.1 in}, importance: minor, source: {kind: house},
     worked: [{given: {readings: {mean_gap: 0.200}}, expect: {verdict: in spec}}]}
  least:
    {title: Least, formula: smallest(gap), limits: {least: 0.1 in}, importance: minor, source: {kind: house},
     worked: [{given: {readings: {gap: {1: 0.200}}}, expect: {verdict: in spec}}]}
"""
SHEET = "specrules: build-sheet/1\nbuild: {title: T, date: 2026-10-01}\npacks: [gaps]\nunit: in\n"


def test_a_step_of_a_gauge_may_have_the_name_of_another_slip() -> None:
    """A pack calls a step `decimal slip`: what is said follows the code, and no name."""
    (suspect,) = inspected(f"{SHEET}readings: {{gap: {{1: 0.5000, 2: 0.6000, 3: 0.5001}}}}\n", {"gaps": PACK}).suspects
    assert (suspect.reason.code, suspect.reason.names) == (Why.GAUGE_STEP, ("decimal slip",))
    assert said(suspect.reason).startswith("stands 0.1000 in above its neighbours, one decimal slip; ")
    assert figure_in_doubt(suspect).startswith("gap 0.6000 stands 0.1000 in above")


def test_remarks_are_data_in_a_report() -> None:
    gauge = "gauges: {old: {class: mic, zero: {standard: 1.0000, reads: 1.0002}, checked: 2025-01-01}}\n"
    readings = "readings: {gap: {gauge: old, 1: 0.5000, 2: 0.5000, 3: 0.5000, 4: 0.5000}}\n"
    found = inspected(f"{SHEET}{gauge}{readings}", {"gaps": PACK}).remarks
    assert found == (
        Reason(Why.ZERO_TOO_FAR_OFF, ("old",)),
        Reason(Why.CHECK_TOO_LONG_AGO, ("old",), ("2025-01-01", "365")),
        Reason(Why.ALL_ALIKE, ("gap",), ("0.5000",)),
    )
    assert words(found)[2].endswith("or one reading copied: gap 0.5000.")


def test_a_budget_is_data_in_a_report() -> None:
    guarded = Options(decision="guarded")
    found = inspected(f"{SHEET}readings: {{gap: {{1: 0.5000}}}}\n", {"gaps": PACK}, guarded)
    budget: Sequence[BudgetLine] = next(whole(each) for each in found.findings if each.rule == "least").budget
    assert [line.cause for line in budget] == [
        Reason(Why.CALIBRATION, ("mic",), ("assumed",)),
        Reason(Why.READING, ("gap",), ("1",)),
    ]


@pytest.mark.parametrize(
    ("rule", "told"),
    [
        ("one", []),  # one reading, though its title has the words and signs of a sum
        ("twice", ["smallest gap - mean of all 0.200 + smallest gap - mean of all 0.200, 1 of 1 reading"]),
        ("least", ["smallest gap 0.500, 1 of 1 reading"]),
    ],
)
def test_the_working_is_told_where_there_is_one_whatever_a_reading_is_called(rule: str, told: list[str]) -> None:
    found = inspected(f"{SHEET}readings: {{mean_gap: 0.200, gap: {{1: 0.500}}}}\n", {"gaps": PACK})
    assert list(basis(next(whole(each) for each in found.findings if each.rule == rule))) == told


def test_a_suspect_has_no_sentence() -> None:
    assert not {"said", "kind"} & {*Suspect._fields}
