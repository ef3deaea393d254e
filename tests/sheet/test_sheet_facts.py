"""Facts by their kinds, what the packs imply, and the labels that facts lay out."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.sheet.small_shop import sentences, sheet_of, texts


def test_every_kind_of_fact() -> None:
    sheet = sheet_of(
        "facts:\n"
        "  mains: 5\n  cylinders: 4\n  throws: [[1, 4], [2, 3]]\n  banks: {left: [1, 3], right: [2, 4]}\n"
        "  stroke: 3.500 ±0.001 in\n  card_ratio: 1.6\n  use: towing\n  coated: yes\n  remark: what the owner said\n"
    )
    values = {name: [(fact.station, fact.value) for fact in facts] for name, facts in sheet.facts.items()}
    assert values == {
        "mains": [((), 5)],
        "cylinders": [((), 4)],
        "throws": [((), (("1", ("1", "4")), ("2", ("2", "3"))))],
        "banks": [((), (("left", ("1", "3")), ("right", ("2", "4"))))],
        "stroke": [((), Decimal("88.9"))],
        "card_ratio": [((), Decimal("1.6"))],
        "use": [((), "towing")],
        "coated": [((), "yes")],
        "remark": [((), "what the owner said")],
    }
    assert Decimal("0.0254") == sheet.facts["stroke"][0].U
    assert sheet.facts["stroke"][0].place.line == 8
    assert sheet.labels["throw"] == ("1", "2")
    assert sheet.labels["bank"] == ("left", "right")
    assert sheet.groups["bank"] == {"1": "left", "2": "right", "3": "left", "4": "right"}
    assert sheet.groups["throw"] == {"1": "1", "2": "2", "3": "2", "4": "1"}
    assert sheet.assumed == {}


def test_groups_that_are_not_stated() -> None:
    sheet = sheet_of("facts: {mains: 2, cylinders: 2}\n")
    assert sheet.labels["bank"] == ("all",)
    assert sheet.groups["bank"] == {"1": "all", "2": "all"}
    assert sheet.labels["pair"] == ("1", "2")  # each a group of its own
    assert sheet.groups["pair"] == {"1": "1", "2": "2"}
    assert sheet.labels["throw"] == ()


def test_counts_are_taken_from_what_is_named() -> None:
    sheet = sheet_of("facts: {throws: [[1, 4], [2, 3]]}\nreadings: {main_bore: {1: 2.5, 3 to 5: 2.5}}\n")
    assert sheet.assumed == {"mains": "5", "cylinders": "4"}
    assert "mains" not in sheet.facts
    named_by_a_fact = sheet_of("facts: {crown_volume: {3: -2.86 cc}}\n")
    assert named_by_a_fact.labels["cylinder"] == ("1", "2", "3")


def test_a_fact_by_station_or_one_for_all() -> None:
    sheet = sheet_of(
        "facts: {cylinders: 3, crown_volume: {1: -2.86 in^3, others: 3}, alloy: {1 and 2: cast, 3: forged}}\n"
    )
    cc = Decimal(1000)
    assert [(f.station, f.value) for f in sheet.facts["crown_volume"]] == [
        (("1",), Decimal("-2.86") * Decimal("25.4") ** 3),
        (("2",), 3 * cc),
        (("3",), 3 * cc),
    ]
    assert [(f.station, f.value) for f in sheet.facts["alloy"]] == [
        (("1",), "cast"),
        (("2",), "cast"),
        (("3",), "forged"),
    ]
    assert [(f.station, f.value) for f in sheet_of("facts: {crown_volume: 3}\n").facts["crown_volume"]] == [
        ((), 3 * cc)
    ]


def test_a_bare_fact_is_in_the_unit_of_the_sheet_if_a_length_and_in_its_own_if_not() -> None:
    sheet = sheet_of("facts: {stroke: 88.9, crown_volume: 3}\n", unit="mm")
    assert sheet.facts["stroke"][0].value == Decimal("88.9")
    assert sheet.facts["crown_volume"][0].value == 3000


def test_packs_that_imply_a_fact() -> None:
    assert sheet_of("facts: {use: towing}\n", "towing").facts["use"][0].value == "towing"
    assert sheet_of("", "towing").facts == {}
    assert sheet_of("", "towing").labels["main"] == ("1", "2", "3", "4", "5")
    assert sheet_of("facts: {mains: 5, stroke: 3.500}\n", "towing").facts["mains"][0].value == 5
    assert sentences("facts: {mains: 4, stroke: 3.501}\n", "towing") == [
        'line 3, mains: "4" is stated, and pack towing is for 5; write 5, or name another pack.',
        'line 3, stroke: "3.501" is stated, and pack towing is for 3.5 in; write 3.5 in, or name another pack.',
    ]
    assert sentences("facts: {use: street}\n", "towing") == [
        'line 3, use: "street" is stated, and pack towing is for towing; write towing, or name another pack.'
    ]


WRONG = {
    "mains: 0": ['mains: "0" is no whole number from 1 to 256'],
    "mains: 05": ['mains: "05" is no whole number from 1 to 256'],
    "mains: -3": ['mains: "-3" is no whole number from 1 to 256'],
    "mains: five": ['mains: "five" is no whole number from 1 to 256'],
    "mains: ٣": ['mains: "٣" is no whole number from 1 to 256'],
    "mains: 99999999999999999999": ['mains: "99999999999999999999" is no whole number from 1 to 256'],
    "mains: [5]": ["mains: this is no whole number from 1 to 256"],
    "throws: [1, 2]": ["throws: groups are lists of labels; write [[1, 5], [2, 6]]"],
    "throws: 2": ["throws: groups are lists of labels; write [[1, 5], [2, 6]]"],
    "throws: [[1, [2]]]": ["throws: groups are lists of labels; write [[1, 5], [2, 6]]"],
    "throws: [[]]": ["throws: groups are lists of labels; write [[1, 5], [2, 6]]"],
    "cylinders: 4, banks: {left: [1, 3], right: [2, 3, 9]}": [
        "banks: cylinder 4 stands in no group",
        "banks: cylinder 3 stands in two groups",
        'banks: "9" is no cylinder; there are 1 to 4, since cylinders is 4; write cylinders: 9 under facts, if '
        'there are so many',
    ],
    "card_journal: {1: 2.1 in}": [
        "card_journal: which cylinder belongs to which throw is not stated;"
        " write it under facts, such as throws: [[1, 5], [2, 6]]"
    ],
    "use: strt": ['use: "strt" is not among its choices, street, towing and racing'],
    "use: stret": ['use: "stret" is not among its choices, street, towing and racing; write street'],
    "alloy: {1: cast, 2: forgd}": ['alloy 2: "forgd" is not among its choices, cast and forged; write forged'],
    "coated: true": ['coated: "true" is not among its choices, yes and no; write yes'],
    "card_ratio: 1.5..1.7": ['card_ratio: "1.5..1.7" is a range, and a fact is one figure'],
    "stroke: 3.5 cc": ['stroke: "3.5 cc" is in cc, which is volume, not length'],
    "crown_volume: {repeats: [1, 2]}": ["crown_volume: a fact is stated once; repeats are for readings"],
    "crown_volume: [1, 2]": [
        "crown_volume: a list does not say which cylinder each figure is of; write them by name, 1: and the figure",
    ],
    "main_journal: 3": ['facts: "main_journal" is measured, not stated; write it under readings: main_journal'],
    "main_clearance: 3": ['facts: "main_clearance" is worked out, not stated'],
    "colour: red": ['facts: "colour" is no fact; specrules sheet new --with-how lists all'],
    "stoke: 3.5": ['facts: "stoke" is no fact; write stroke'],
}  # fmt: skip


@pytest.mark.parametrize("written", WRONG)
def test_what_is_said_of_a_fact_that_cannot_be(written: str) -> None:
    assert sentences(f"facts: {{{written}}}\n") == [f"line 3, {each}." for each in WRONG[written]]


def test_readings_may_lie_on_groups_once_they_are_stated() -> None:
    body = "facts: {throws: [[1, 4], [2, 3]]}\nreadings: {rod_journal: {2: {front: {a: 2.1}}}}\n"
    assert texts(sheet_of(body).readings) == {"rod_journal 2 front a": "2.1"}
    assert sentences("readings: {rod_journal: {1: open, 2: }}\n") == []
