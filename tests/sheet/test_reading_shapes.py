"""Where a written figure belongs: every shape that a builder may write, and what is said when it fits nowhere."""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.sheet import Reading
from tests.sheet.small_shop import sentences, settled, sheet_of, texts


def readings(body: str) -> tuple[Reading, ...]:
    return sheet_of(body).readings


def test_stations_positions_lists_and_one_figure_for_a_station() -> None:
    sheet = sheet_of(
        "readings:\n"
        "  main_journal:\n"
        "    1: {front: {a: 2.4990, b: 2.4991}, rear: {a: 2.4992, b: 2.4993}}\n"
        "    2: [2.4994, 2.4995, open, 2.4996]\n"
        "    3: 2.4997\n"
        "    4:\n"
    )
    assert texts(sheet.readings) == {
        "main_journal 1 front a": "2.4990",
        "main_journal 1 front b": "2.4991",
        "main_journal 1 rear a": "2.4992",
        "main_journal 1 rear b": "2.4993",
        "main_journal 2 front a": "2.4994",
        "main_journal 2 front b": "2.4995",
        "main_journal 2 rear b": "2.4996",
        "main_journal 3": "2.4997",
    }
    assert sheet.readings[-1].position is None
    assert sheet.labels["main"] == ("1", "2", "3", "4")
    assert sheet.assumed == {"mains": "4"}


def test_a_measurand_without_stations_and_one_without_positions() -> None:
    assert [(r.station, r.position) for r in readings("readings: {crank_end_float: 0.0055}\n")] == [((), ())]
    assert [(r.station, r.position) for r in readings("readings: {opens: {2: 6}}\n")] == [(("2",), ())]


def test_an_axis_of_one_label_may_be_left_out_or_named() -> None:
    short = "facts: {cylinders: 1}\nreadings: {ring_end_gap: {top: 0.018, second: 0.020}, deck_height: {front: 9.01}}\n"
    long = (
        "facts: {cylinders: 1}\n"
        "readings: {ring_end_gap: {1: {top: 0.018, second: 0.020}}, deck_height: {all: {front: 9.01}}}\n"
    )
    assert (
        texts(readings(short))
        == texts(readings(long))
        == {
            "ring_end_gap 1 top": "0.018",
            "ring_end_gap 1 second": "0.020",
            "deck_height all front": "9.01",
        }
    )
    assert texts(readings("facts: {cylinders: 1}\nreadings: {opens: 6}\n")) == {"opens 1": "6"}


def test_named_groups_are_stations() -> None:
    body = "facts: {banks: {left: [1, 3], right: [2, 4]}}\n"
    body += "readings: {deck_height: {left: {front: 9}, rear: {right: 9}}}\n"
    assert sentences(body) == ['line 4, deck_height: "rear" belongs to end, and stands beside labels of bank.']
    body = body.replace("rear: {right: 9}", "right: {rear: 9.1}")
    assert texts(readings(body)) == {"deck_height left front": "9", "deck_height right rear": "9.1"}


def test_others_are_the_stations_that_are_not_named() -> None:
    sheet = sheet_of("facts: {cylinders: 8}\nreadings: {guide_clearance: {others: 0.002, 8: {exhaust: 0.010}}}\n")
    assert len(sheet.readings) == 16
    found = {(r.station, r.text, r.group) for r in sheet.readings}
    assert (("8", "exhaust"), "0.010", False) in found
    assert (("8", "intake"), "0.002", True) in found
    assert len({r.statement for r in sheet.readings}) == 2


@pytest.mark.parametrize("word", ["others", "the rest", "all"])
def test_other_words_for_others(word: str) -> None:
    sheet = sheet_of(f"facts: {{mains: 5}}\nreadings: {{main_bore: {{{word}: 2.5025}}}}\n")
    assert [(r.station, r.position, r.group) for r in sheet.readings] == [((str(n),), None, True) for n in range(1, 6)]


def test_others_may_be_a_list_or_a_mapping() -> None:
    sheet = sheet_of("facts: {mains: 3}\nreadings: {main_bore: {2: 2.51, others: [2.52, 2.53]}}\n")
    assert texts(sheet.readings) == {
        "main_bore 1 front": "2.52", "main_bore 1 rear": "2.53", "main_bore 2": "2.51",
        "main_bore 3 front": "2.52", "main_bore 3 rear": "2.53",
    }  # fmt: skip
    sheet = sheet_of("facts: {cylinders: 2}\nreadings: {lobe_lift: {1: {intake: 0.3}, others: {intake: 0.31}}}\n")
    assert texts(sheet.readings) == {"lobe_lift 1 intake": "0.3", "lobe_lift 2 intake": "0.31"}


def test_others_at_a_station_are_its_other_positions() -> None:
    sheet = sheet_of("readings: {main_journal: {1: {front: {a: 2.5}, others: 2.4999}}}\n")
    assert texts(sheet.readings) == {
        "main_journal 1 front a": "2.5", "main_journal 1 front b": "2.4999",
        "main_journal 1 rear a": "2.4999", "main_journal 1 rear b": "2.4999",
    }  # fmt: skip
    assert [r.group for r in sheet.readings] == [False, True, True, True]


def test_a_station_that_is_named_and_left_open_is_none_of_the_others() -> None:
    sheet = sheet_of("facts: {mains: 3}\nreadings: {main_bore: {2: open, others: 2.5}}\n")
    assert texts(sheet.readings) == {"main_bore 1": "2.5", "main_bore 3": "2.5"}


@pytest.mark.parametrize("key", ["1 and 3", "1, 3", "3 & 1", "1/3"])
def test_a_statement_of_several_stations(key: str) -> None:
    sheet = sheet_of(f'readings: {{main_bore: {{"{key}": 2.5}}}}\n')
    assert [(r.station, r.group) for r in sheet.readings] == [(("1",), True), (("3",), True)]


@pytest.mark.parametrize("key", ["2-4", "2 to 4", "2..4", "2 - 4"])
def test_a_run_of_stations(key: str) -> None:
    sheet = sheet_of(f"readings: {{main_bore: {{{key}: 2.5}}}}\n")
    assert [r.station for r in sheet.readings] == [("2",), ("3",), ("4",)]
    assert sheet.assumed == {"mains": "4"}


def test_one_figure_for_some_positions_is_one_statement() -> None:
    sheet = sheet_of("readings: {main_journal: {1: {front: 2.4990, rear: {a: 2.4991}}}}\n")
    assert texts(sheet.readings) == {
        "main_journal 1 front a": "2.4990", "main_journal 1 front b": "2.4990", "main_journal 1 rear a": "2.4991",
    }  # fmt: skip
    assert [r.group for r in sheet.readings] == [True, True, False]
    assert sheet.readings[0].statement == sheet.readings[1].statement != sheet.readings[2].statement


def test_lists_of_lists_and_lists_along_named_stations() -> None:
    sheet = sheet_of(
        "readings: {main_journal: {1: [[1.6, 1.7], [1.8, open]]}, ring_end_gap: {1: [18, 20, open], unit: thou}}\n"
    )
    assert texts(sheet.readings) == {
        "main_journal 1 front a": "1.6", "main_journal 1 front b": "1.7", "main_journal 1 rear a": "1.8",
        "ring_end_gap 1 top": "18", "ring_end_gap 1 second": "20",
    }  # fmt: skip


WRONG = {
    "main_journal: {1: 2.5, 6: 2.4990}": [
        'main_journal: "6" is no main; there are 1 to 5, since mains is 5; write mains: 6 under facts, if there are so '
        "many"
    ],
    "main_journal: {fornt: 2.4990}": ['main_journal: "fornt" is no main or plane or clock; write front'],
    "main_journal: {1: {fornt: 2.4990}}": ['main_journal 1: "fornt" is no plane or clock; write front'],
    "main_journal: {1: {front: {a: {x: 2}}}}": ['main_journal 1 front a: "x" stands where one figure belongs'],
    "main_journal: {1: {front: 2.5, gauge: mic}}": [
        'main_journal 1: "gauge" is said once, for all the readings of a set'
    ],
    "main_journal: 2.4990": ["main_journal: no main is named, and there are 1 to 5; write 1: 2.4990"],
    "main_journal: {front: 2.4990}": ["main_journal front: no main is named, and there are 1 to 5; write 1: 2.4990"],
    "main_bore: [2.5, 2.5, 2.5, 2.5, 2.5]": [
        "main_bore: a list does not say which main each figure is of; write them by name, 1: and the figure"
    ],
    "main_journal: {1: [1, 2, 3]}": [
        "main_journal 1: 3 figures stand where 4 belong, in this order: front a, front b, rear a and rear b;"
        " write open for what is not measured"
    ],
    "main_journal: {1: [2, 2, 2, 2, 2]}": [
        "main_journal 1: 5 figures stand where 4 belong, in this order: front a, front b, rear a and rear b;"
        " write open for what is not measured"
    ],
    "opens: {1: [2, 3]}": [
        "opens 1: 2 figures stand where one belongs; write repeats: [...] where one place was measured again"
    ],
    "chamber_volume: {1: {repeats: 64.1}}": [
        "chamber_volume 1: repeats are a list of figures; write repeats: [64.1, 64.3, 64.2]"
    ],
    "main_bore: {1-3: 2.5, 2: 2.6}": ["main_bore 2: this place has a figure already, on line 4; keep one of the two"],
    "main_bore: {2: {front: 2.6}, 1-3: 2.5}": [
        "main_bore 1-3: this place has a figure already, on line 4; keep one of the two"
    ],
    "main_bore: {others: 2.5, the rest: 2.6}": ['main_bore: "the rest" and "others" both speak of what is not named'],
    "lobe_lift: {1: 0.3}": ["lobe_lift 1: no valve is named, and there are intake and exhaust; write intake: 0.3"],
    "lobe_lift: 0.3": ["lobe_lift: no cylinder is named, and how many there are is not stated; write 1: 0.3"],
    "lobe_lift: {others: 0.3}": ["lobe_lift: no cylinder is named, and how many there are is not stated"],
    "deck_height: {left: {front: 9}}": [
        'deck_height: "left" is no end; there are front and rear, and one bank, since banks is not stated'
    ],
    "rod_journal: {1: 2.3}": [
        "rod_journal: which cylinder belongs to which throw is not stated;"
        " write it under facts, such as throws: [[1, 5], [2, 6]]"
    ],
    "main_clearance: {1: 0.002}": ['readings: "main_clearance" is worked out, not measured'],
    "main_oil_clearance: {1: 0.002}": ['readings: "main_oil_clearance" is worked out, not measured'],
    "stroke: 3.5": ['readings: "stroke" is stated, not measured; write it under facts'],
    "rotates_freely: yes": ['readings: "rotates_freely" is signed, not measured; write it under signed'],
    "quench: 0.04": [
        'readings: "quench" is no measurand of these packs; specrules sheet new --with-how lists all',
    ],
    "main_journal: {1: 2.4990x}": [
        'main_journal 1: "2.4990x" has x after the number, which is no unit; a note belongs in a comment;'
        " write 2.4990 in"
    ],
    "crank_end_float: 3 cc": ['crank_end_float: "3 cc" is in cc, which is volume, not length'],
}


@pytest.mark.parametrize("written", WRONG)
def test_what_is_said_of_a_figure_that_fits_nowhere(written: str) -> None:
    assert sentences(f"facts: {{mains: 5}}\nreadings: {{{written}}}\n") == [
        f"line 4, {each}." for each in WRONG[written]
    ]


def test_the_place_of_a_fault_is_that_of_the_text() -> None:
    _, faults = settled("readings:\n  main_journal:\n    3: {front: {a: abc}}\n")
    assert [(fault.place.line, fault.place.column, fault.subject) for fault in faults] == [
        (5, 20, "main_journal 3 front a")
    ]


def test_too_many_places_are_a_fault_of_the_count_that_makes_them() -> None:
    body = "facts: {mains: 256, cylinders: 40}\nreadings: {wall: {others: 0.2}}\n"
    assert len(readings(body.replace("40", "3"))) == 768
    assert sentences(body) == [
        "line 3, mains: with 256 of these, wall lies at 122,880 places along main, cylinder, plane, clock, ring,"
        " more than the 10,000 allowed; write a smaller count."
    ]
    assert sentences("facts: {mains: 257}\n") == ['line 3, mains: "257" is no whole number from 1 to 256.']
    assert sentences("readings: {main_bore: {257: 2.5}}\n") == [
        'line 3, main_bore: "257" is no main; they are numbered from 1 to 256.'
    ]


MAINS, PLANES, CLOCKS = ("1", "2", "3"), ("front", "rear"), ("a", "b")
FIGURES = {(m, p, c): f"2.49{m}{PLANES.index(p)}{CLOCKS.index(c)}" for m in MAINS for p in PLANES for c in CLOCKS}


def nested(order: tuple[int, ...], chosen: frozenset[tuple[str, str, str]]) -> str:
    """The figures of these places, nested in that order of axes."""
    tree: dict[str, dict[str, dict[str, str]]] = {}
    for place in sorted(chosen):
        first, second, third = (place[axis] for axis in order)
        tree.setdefault(first, {}).setdefault(second, {})[third] = FIGURES[place]
    return str(tree).replace("'", "")


@given(st.sampled_from(sorted(permutations(range(3)))), st.sets(st.sampled_from(sorted(FIGURES)), min_size=1))
def test_any_order_of_nesting_gives_the_same_readings(
    order: tuple[int, ...], chosen: set[tuple[str, str, str]]
) -> None:
    def made(by: tuple[int, ...]) -> list[tuple[object, ...]]:
        found = readings(f"facts: {{mains: 3}}\nreadings: {{main_journal: {nested(by, frozenset(chosen))}}}\n")
        return [(r.name, r.station, r.position, r.value, r.text, r.group) for r in found]

    assert made(order) == made((0, 1, 2))
    assert len(made(order)) == len(chosen)


def test_two_numbered_axes_are_nested_in_their_declared_order() -> None:
    sheet = sheet_of("readings: {wall: {2: {3: {front: 0.2}}}}\n")
    assert sheet.assumed == {"mains": "2", "cylinders": "3"}
    assert {r.station for r in sheet.readings} == {("2", "3")}
    assert len(sheet.readings) == 6


ALONE = "{value: 0.0055, gauge: dial, taken: 2026-10-02, because: the thrust was lapped, confirmed: ab}"
GAUGES = "gauges: {dial: {class: bore gauge}, mic: {class: outside micrometer}}\n"


def test_one_reading_may_be_a_mapping() -> None:
    (alone,) = readings(f"{GAUGES}readings: {{crank_end_float: {ALONE}}}\n")
    assert (alone.text, alone.gauge, str(alone.taken), alone.because, alone.confirmed) == (
        "0.0055",
        "dial",
        "2026-10-02",
        "the thrust was lapped",
        "ab",
    )


def test_what_stood_there_before_is_history_the_oldest_first_and_nothing_said_of_it_is_said_of_the_other() -> None:
    oldest = "{value: 0.0050, was: 0.0049, gauge: mic}"
    old = f"{{repeats: [0.0052, 0.0053], taken: 2026-10-01, was: {oldest}}}"
    new = f"{{value: 0.0055, gauge: dial, taken: 2026-10-02, because: lapped, confirmed: ab, was: {old}}}"
    sheet = sheet_of(f"{GAUGES}readings: {{crank_end_float: {new}}}\n")
    told = [(r.text, r.gauge, str(r.taken), r.because, r.confirmed) for r in (*sheet.readings, *sheet.history)]
    assert told == [
        ("0.0055", "dial", "2026-10-02", "lapped", "ab"),
        ("0.0049", "", "None", "", ""),
        ("0.0050", "mic", "None", "", ""),
        ("0.0052, 0.0053", "", "2026-10-01", "", ""),
    ]


def test_what_was_before_counts_behind_what_an_earlier_set_says() -> None:
    sets = "[{state: as found, at: {1: {value: 2.1, was: 2.0}}}, {state: as built, at: {1: {value: 2.3, was: 2.2}}}]"
    sheet = sheet_of(f"readings: {{main_bore: {sets}}}\n")
    assert [(r.text, r.state) for r in (*sheet.readings, *sheet.history)] == [
        ("2.3", "as built"),
        ("2.0", "as found"),
        ("2.1", "as found"),
        ("2.2", "as built"),
    ]


def test_a_place_to_be_read_again_keeps_what_it_was() -> None:
    assert sheet_of("readings: {crank_end_float: {value: , was: 0.005}}\n").readings == ()
    assert sheet_of("readings: {crank_end_float: {value: 0.005, was: }}\n").history == ()


def test_one_reading_says_after_which_work_of_its_day_it_was_taken() -> None:
    (reading,) = readings("readings: {main_bore: {1: {value: 2.5, taken: 2026-10-01, after: align_hone}}}\n")
    assert reading.after == ("align_hone",)
    said = sentences("readings: {crank_end_float: {value: 0.0055, after: {a: b}}}\n")
    assert said == ["line 3, crank_end_float after: one operation, or a list of them, belongs here."]


def test_what_one_reading_says_counts_before_what_its_set_says() -> None:
    one = "[{value: 2.7240, confirmed: ab}, 2.7490, {repeats: [2.7490, 2.7492], gauge: dial}, 2.7491]"
    found = readings(f"{GAUGES}readings: {{main_journal: {{gauge: mic, taken: 2026-10-01, 3: {one}}}}}\n")
    assert [(r.text, r.gauge, r.repeats, r.confirmed, str(r.taken)) for r in found] == [
        ("2.7240", "mic", 1, "ab", "2026-10-01"),
        ("2.7490", "mic", 1, "", "2026-10-01"),
        ("2.7490, 2.7492", "dial", 2, "", "2026-10-01"),
        ("2.7491", "mic", 1, "", "2026-10-01"),
    ]


def test_a_later_set_with_another_number_is_not_confirmed() -> None:
    first = "{taken: 2026-10-01, at: {1: {value: 2.5240, confirmed: ab}}}"
    (found,) = readings(f"readings: {{main_journal: [{first}, {{taken: 2026-10-02, at: {{1: 2.5241}}}}]}}\n")
    assert (found.text, found.confirmed) == ("2.5241", "")


def test_one_reading_stands_wherever_a_figure_may() -> None:
    sheet = sheet_of("facts: {mains: 3}\nreadings: {main_bore: {2: {value: 2.51}, others: {value: 2.52}}}\n")
    assert texts(sheet.readings) == {"main_bore 1": "2.52", "main_bore 2": "2.51", "main_bore 3": "2.52"}
    listed = "readings: {lobe_lift: {1: [{value: 0.3}, 0.31]}}\n"
    assert texts(readings(listed)) == {"lobe_lift 1 intake": "0.3", "lobe_lift 1 exhaust": "0.31"}
    assert readings("readings: {crank_end_float: {value: open, confirmed: ab}}\n") == ()


def test_a_fact_may_be_confirmed_and_has_no_gauge() -> None:
    (fact,) = sheet_of("facts: {stroke: {value: 9, confirmed: ab}}\n").facts["stroke"]
    assert (fact.text, fact.confirmed) == ("9", "ab")
    assert sentences("facts: {stroke: {value: 9, gauge: mic}}\n") == [
        "line 3, stroke: a fact is stated, and not measured."
    ]
    assert sentences("facts: {stroke: {value: 9, was: 8}}\n") == ["line 3, stroke: a fact is stated, and not measured."]


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("{value: 0.0055, repeats: [0.0055]}", "value and repeats both give the figure; keep one."),
        (
            "{value: 0.0055, gage: mic}",
            '"gage" stands beside the value of one reading, which has value, repeats, gauge, taken, after, '
            "because, confirmed, pictures and was; write gauge.",
        ),
        ("{value: [0.0055, 0.0056]}", "value is one figure; write repeats: [...]."),
        ("{value: 0.0055, confirmed: [ab]}", "confirmed is one text."),
        ("{value: 0.0055, was: [0.0050]}", "was is the one figure that stood here before; write was: 64.12."),
        ("{value: 0.0055, was: {gauge: mic}}", "was is the one figure that stood here before; write was: 64.12."),
        (
            "{value: 0.0055, was: {value: 0.0050, was: {value: 5, repeats: [5]}}}",
            "value and repeats both give the figure; keep one.",
        ),
        (
            "{value: 0.0055, taken: 2026-10-01, was: {value: 0.0050, taken: 2026-10-02}}",
            "taken on 2026-10-01, and what it was on 2026-10-02; write the later one as value, the earlier one as was.",
        ),
    ],
)
def test_what_is_wrong_with_one_reading(written: str, said: str) -> None:
    assert sentences(f"readings: {{crank_end_float: {written}}}\n") == [f"line 3, crank_end_float: {said}"]


def test_a_gauge_of_one_reading_is_one_of_the_sheet() -> None:
    assert sentences(f"{GAUGES}readings: {{crank_end_float: {{value: 0.0055, gauge: dail}}}}\n") == [
        'line 4, crank_end_float gauge: "dail" is no gauge of this sheet; write dial.'
    ]


def test_confirmed_stands_beside_a_value() -> None:
    assert sentences("readings: {main_journal: {confirmed: ab, 1: 2.5}}\n") == [
        'line 3, main_journal: "confirmed" stands beside the value of one reading; write {value: ..., confirmed: '
        "initials}."
    ]


def test_the_words_of_one_reading_are_no_labels() -> None:
    assert sentences("facts: {cylinders: 2, banks: {value: [1], gauge: [2]}}\n") == [
        'line 3, banks: "gauge" is no label, for in a reading it is a word of its own.',
        'line 3, banks: "value" is no label, for in a reading it is a word of its own.',
    ]
