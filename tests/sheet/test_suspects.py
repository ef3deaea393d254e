"""Slips of the hand that written numbers betray, and good numbers that must not be taken for slips.

What a thimble turn, a decimal slip and a unit slip look like is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from importlib import import_module

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.output.reasons import said, slip_name
from specrules.sheet import Suspect, suspects
from specrules.sheet.reading_slips import exchanges
from tests.sheet.small_shop import sheet_of, shop

INCH = Decimal("25.4")
JOURNALS = "facts: {throws: [[1], [2], [3]]}\nreadings:\n  rod_journal:\n"


def found(body: str, unit: str = "in") -> list[Suspect]:
    return list(suspects(sheet_of(body, unit=unit), shop()))


def kinds(body: str, unit: str = "in") -> list[tuple[str, str]]:
    return [(suspect.text, slip_name(suspect.reason)) for suspect in found(body, unit)]


def test_one_turn_of_an_inch_thimble() -> None:
    (suspect,) = found(
        f"{JOURNALS}"
        "    1: [2.3748, 2.3749, 2.3748, 2.3748]\n"
        "    2: [2.3749, 2.3749, 2.3748, 2.3749]\n"
        "    3: [2.3749, 2.3749, 2.3999, 2.3748]\n"
    )
    assert (suspect.name, suspect.station, suspect.position) == ("rod_journal", ("3",), ("rear", "a"))
    assert (slip_name(suspect.reason), suspect.would_be) == ("thimble turn", Decimal("2.3749") * INCH)
    assert (suspect.place.line, suspect.place.column) == (8, 25)
    assert suspect.neighbours == ("2.3749", "2.3749", "2.3748")
    assert said(suspect.reason) == (
        "stands 0.0250 in above its neighbours, one thimble turn; with that undone it would be 2.3749"
    )


def test_one_turn_the_other_way_and_metric() -> None:
    assert kinds(f"{JOURNALS}    1: [2.3748, 2.3498, 2.3748, 2.3748]\n") == [("2.3498", "thimble turn")]
    metric = f"{JOURNALS}    1: [60.320, 60.322, 59.821, 60.321]\n"
    (suspect,) = found(metric, "mm")
    assert (slip_name(suspect.reason), suspect.would_be) == ("thimble turn", Decimal("60.321"))
    inch_turn_in_a_metric_sheet = f"{JOURNALS}    1: [60.320, 60.322, 60.956, 60.321]\n"
    assert kinds(inch_turn_in_a_metric_sheet, "mm") == []


def test_a_station_read_once_is_held_against_the_others() -> None:
    body = "readings: {main_journal: {1: 2.4990, 2: 2.5240, 3: 2.4991, 4: 2.4989}}\n"
    (suspect,) = found(body)
    assert (suspect.text, slip_name(suspect.reason), suspect.position) == ("2.5240", "thimble turn", None)
    assert suspect.neighbours == ("2.4990", "2.4991", "2.4989")


def test_a_part_that_is_another_size_all_over_was_not_misread() -> None:
    assert kinds(f"{JOURNALS}    1: [60.32, 60.32, 60.32, 60.32]\n    2: [59.82, 59.82, 59.82, 59.82]\n", "mm") == []
    assert kinds(f"{JOURNALS}    1: {{front: {{a: 2.3748, b: 2.3998}}}}\n") == []  # of two nobody can tell which


def test_stations_vote_and_not_readings() -> None:
    four = "[2.4240, 2.4240, 2.4240, 2.4240]"
    assert kinds(f"facts: {{mains: 5}}\nreadings: {{main_journal: {{3: {four}, others: 2.4490}}}}\n") == []
    each = f"readings: {{main_journal: {{1: 2.4490, 2: 2.4491, 3: {four}, 4: 2.4489, 5: 2.4490}}}}\n"
    assert kinds(each) == []  # nor is a part that is another size all over: what runs on it tells
    two = "readings: {main_journal: {1: 2.4490, 2: {front: {a: 2.4490, b: 2.4740}}, 3: 2.4491}}\n"
    assert kinds(two) == [("2.4740", "thimble turn")]  # two readings of a part: the other stations outvote one
    half = "readings: {main_journal: {1: 2.4490, 2: [2.4490, 2.4740, 2.4740, 2.4491], 3: 2.4491, 4: 2.4490}}\n"
    assert kinds(half) == [("2.4740", "thimble turn"), ("2.4740", "thimble turn")]


def test_one_figure_for_many_stations_is_one_neighbour() -> None:
    assert kinds("facts: {mains: 5}\nreadings: {main_journal: {1: 2.5240, others: 2.4990}}\n") == []


def test_decimal_slips_against_the_usual_sizes() -> None:
    both = found("readings: {lobe_lift: {1: {intake: 3.02, exhaust: 3.06}}}\n")
    assert [(slip_name(s.reason), s.would_be) for s in both] == [
        ("decimal slip", Decimal("0.302") * INCH),
        ("decimal slip", Decimal("0.306") * INCH),
    ]
    assert said(both[0].reason) == "is 10 times too large for the usual sizes; with that undone it would be 0.302 in"
    (small,) = found("readings: {main_journal: {1: 0.24990}}\n")
    assert said(small.reason) == "is 10 times too small for the usual sizes; with that undone it would be 2.499 in"
    (far,) = found("readings: {main_journal: {1: 249.90}}\n")
    assert (slip_name(far.reason), said(far.reason)) == (
        "decimal slip", "is 100 times too large for the usual sizes; with that undone it would be 2.499 in",
    )  # fmt: skip


def test_decimal_slips_against_neighbours() -> None:
    body = "readings: {piston_weight: {1: 583.9, 2: 58.39, 3: 584.1, 4: 584.0}}\n"
    (suspect,) = found(body)
    assert (suspect.text, slip_name(suspect.reason), suspect.would_be) == ("58.39", "decimal slip", Decimal("583.9"))
    assert said(suspect.reason) == "is 10 times too small for its neighbours; with that undone it would be 583.9 g"
    assert suspect.neighbours == ("583.9", "584.1", "584.0")


def test_unit_slips() -> None:
    (metric,) = found("readings: {main_journal: {1: 63.475}}\n")
    assert (slip_name(metric.reason), metric.would_be) == ("unit slip", Decimal("63.475"))
    assert said(metric.reason) == (
        "is 25.4 times too large for the usual sizes, as millimetres among inches are;"
        " with that undone it would be 2.49902 in"
    )
    (inch,) = found("readings: {main_journal: {1: 2.4990}}\n", "mm")
    assert (slip_name(inch.reason), inch.would_be) == ("unit slip", Decimal("63.4746"))
    assert "as inches among millimetres are" in said(inch.reason)
    (thou,) = found("readings: {ring_end_gap: {1: {top: 19}}}\n")
    assert (slip_name(thou.reason), thou.would_be) == ("unit slip", Decimal("0.019") * INCH)
    assert "as thou or um without their unit are" in said(thou.reason)
    (twice,) = found("readings: {main_journal: {1: 2.4990 thou}}\n")
    assert (slip_name(twice.reason), twice.would_be) == ("unit slip", Decimal("2.4990") * INCH)
    assert kinds("readings: {piston_bore: 3}\n".replace("piston_bore: 3", "main_bore: {1: 2.5, 2: 63.5, 3: 2.5}")) == []
    assert kinds("readings: {main_bore: {1: 2.501, 2: 63.52, 3: 2.500}}\n") == [("63.52", "unit slip")]


def test_where_two_slips_would_explain_it_the_neighbours_tell_or_nobody_does() -> None:
    alone = found("readings: {chamber_volume: {1: 5.0}, ring_end_gap: {1: {top: 0.25}}}\n")
    assert [(slip_name(s.reason), s.would_be) for s in alone] == [
        ("outside the usual sizes", None),
        ("decimal slip", Decimal(50000)),
    ]
    assert said(alone[0].reason) == (
        "is outside the usual sizes, 0.002..0.15 in; with a slip undone it would be 0.025 in or 0.0098 in"
    )
    told = found("readings: {ring_end_gap: {1: {top: 0.254}, 2: {top: 0.0255}, 3: {top: 0.0254}}}\n")
    assert [(s.text, slip_name(s.reason), s.would_be) for s in told] == [
        ("0.254", "decimal slip", Decimal("0.0254") * INCH)
    ]


def test_a_less_likely_slip_that_leads_to_the_neighbours_comes_before_a_likelier_one_that_does_not() -> None:
    """40 mm may have been inches, 1.57 mm, which is usual too; where others read 0.30 and 0.35 it was 0.40."""
    alone = found("readings: {ring_end_gap: {1: {top: 40}}}\n", "mm")
    beside = found("readings: {ring_end_gap: {1: {top: 0.30}, 2: {top: 40}, 3: {top: 0.35}}}\n", "mm")
    assert [(slip_name(s.reason), round(s.would_be or 0, 2)) for s in (*alone, *beside)] == [
        ("unit slip", Decimal("1.57")),
        ("decimal slip", Decimal("0.40")),
    ]


def test_outside_the_usual_sizes_for_no_reason_that_can_be_told() -> None:
    (suspect,) = found("readings: {deck_height: {front: 0, rear: 9.01}}\n")
    assert (slip_name(suspect.reason), suspect.would_be, suspect.neighbours) == ("outside the usual sizes", None, ())
    assert said(suspect.reason) == "is outside the usual sizes, 5..20 in"


def test_below_nothing_where_nothing_can_be() -> None:
    (suspect,) = found("readings: {deck_height: {front: -0.001, rear: 9.01}, piston_below_deck: {1: -0.005}}\n")
    assert (suspect.text, slip_name(suspect.reason), suspect.would_be) == ("-0.001", "impossible negative", None)


def test_digits_exchanged() -> None:
    (suspect,) = found(f"{JOURNALS}    1: [2.3749, 2.3749, 2.7349, 2.3748]\n")
    assert (suspect.text, slip_name(suspect.reason), suspect.would_be) == (
        "2.7349",
        "digits exchanged",
        Decimal("2.3749") * INCH,
    )
    assert said(suspect.reason) == "is far from its neighbours; with 7 and 3 exchanged it would be 2.3749"
    assert kinds("readings: {piston_weight: {1: 583.9, 2: 538.9, 3: 584.1, 4: 583.8}}\n") == [
        ("538.9", "digits exchanged")
    ]
    assert kinds("readings: {ring_end_gap: {unit: thou, 1: {top: 12}, 2: {top: 21}, 3: {top: 21}}}\n") == []


def test_only_two_digits_that_differ_and_stand_side_by_side_are_exchanged() -> None:
    (reading,) = sheet_of("readings: {main_journal: {1: 22.475}}\n", unit="mm").readings
    assert [pair[:2] for pair in exchanges(reading)] == [("4", "7"), ("7", "5")]


@pytest.mark.parametrize(
    ("below", "seen"),
    [
        ("1: 0.010, 2: 0.035, 3: 0.010, 4: 0.010, 5: 0.035, 6: 0.010", []),
        ("1: 0.035, 2: 0.010, 3: 0.010, 4: 0.035, 5: 0.010, 6: 0.010", [("2.3998", "thimble turn")]),
    ],
)
def test_what_is_measured_at_the_cylinders_of_a_throw_tells_that_it_is_another_size(
    below: str, seen: list[tuple[str, str]]
) -> None:
    facts = "facts: {cylinders: 6, throws: [[1, 4], [2, 5], [3, 6]]}\n"
    journals = "rod_journal: {1: 2.3748, 2: 2.3998, 3: 2.3749}"
    assert kinds(f"{facts}readings: {{{journals}, piston_below_deck: {{{below}}}}}\n") == seen


def test_on_one_part_less_is_far_for_exchanged_digits_than_among_parts() -> None:
    """Another part may be 3.6 thou smaller, as a bad one is among good ones; another place of the same part is not."""
    others = "1: 2.4984, 3: 2.4985, 4: 2.4983"
    two_places = f"readings: {{main_journal: {{2: {{front: {{a: 2.4984, b: 2.4948}}}}, {others}}}}}\n"
    assert kinds(two_places) == [("2.4948", "digits exchanged")]
    assert kinds(f"readings: {{main_journal: {{2: {{front: {{b: 2.4948}}}}, {others}}}}}\n") == []


@pytest.mark.parametrize(
    ("reading", "seen"),
    [("2.4002", True), ("2.4003", False), ("2.3995", True), ("2.3994", False)],
)
def test_a_step_is_one_to_within_a_few_tenths(reading: str, seen: bool) -> None:
    """2.3748 and 2.3749 beside it, a turn is 0.0250: three tenths beyond either is one still, four are none."""
    told = kinds(f"{JOURNALS}    1: [2.3748, 2.3749, {reading}, 2.3748]\n")
    assert told == ([(reading, "thimble turn")] if seen else [])


@pytest.mark.parametrize(("spread", "seen"), [("0.103125", True), ("0.103126", False)])
def test_neighbours_speak_for_a_step_when_they_lie_within_an_eighth_of_it(spread: str, seen: bool) -> None:
    """An eighth of 0.025 in is 0.003125 in: on the edge they do."""
    body = f"readings: {{ring_end_gap: {{1: {{top: 0.100000}}, 2: {{top: {spread}}}, 3: {{top: 0.128000}}}}}}\n"
    assert kinds(body) == ([("0.128000", "thimble turn")] if seen else [])


@pytest.mark.parametrize(("size", "seen"), [("0.0500", True), ("0.0499", False)])
def test_what_is_smaller_than_two_steps_is_not_read_by_them(size: str, seen: bool) -> None:
    turned = Decimal(size) + Decimal("0.0250")
    body = f"readings: {{ring_end_gap: {{1: {{top: {size}}}, 2: {{top: {size}}}, 3: {{top: {turned}}}}}}}\n"
    assert kinds(body) == ([(str(turned), "thimble turn")] if seen else [])


def test_an_average_has_no_digits_that_a_hand_exchanged() -> None:
    cells = "1: {{front: {{a: {}, b: 2.3749}}, rear: {{a: 2.3749, b: 2.3748}}}}"
    assert kinds(f"{JOURNALS}    {cells.format('2.7349')}\n") == [("2.7349", "digits exchanged")]
    assert kinds(f"{JOURNALS}    {cells.format('{repeats: [2.7349, 2.7349]}')}\n") == []


@pytest.mark.parametrize(
    "body",
    [
        # a bad part among good ones, and parts that differ by design: common practice, no source
        "readings: {guide_clearance: {1: {exhaust: 0.010}, 2: {exhaust: 0.001}, 3: {exhaust: 0.001}}}\n",
        "readings: {guide_clearance: {1: {exhaust: 0.0100}, 2: {exhaust: 0.0010}, 3: {exhaust: 0.0010}}}\n",
        "facts: {cylinders: 8}\nreadings: {guide_clearance: {8: {exhaust: 0.010}, others: 0.002}}\n",
        "readings: {lobe_lift: {1: {intake: 0.300, exhaust: 0.325}, 2: {intake: 0.300, exhaust: 0.325}}}\n",
        "readings: {ring_end_gap: {1: {top: 0.018..0.020}, 2: {top: under 0.015}}}\n",
        "readings: {main_journal: {1: 2.4990, 2: 2.4890, 3: 2.4990}}\n",
        "readings: {main_journal: {1: [2.4990, 2.4970, 2.4985, 2.4990]}}\n",
        "readings: {crank_end_float: 0.0055}\n",
        "readings: {main_journal: {1: 2.4990}}\n",
        "readings: {guide_clearance: {1: {intake: 0.0015}, 2: {intake: 0.0265}, 3: {intake: 0.0015}}}\n",
    ],
)
def test_what_is_no_slip(body: str) -> None:
    assert kinds(body) == []


@given(st.lists(st.integers(-12, 12), min_size=12, max_size=12), st.integers(15000, 40000))
def test_parts_within_a_few_thou_of_each_other_are_never_suspect(offsets: list[int], size: int) -> None:
    """12 tenths of wear, taper and roundness either way, on any size of the usual ones."""
    size = min(max(size, 15020), 39980)
    cells = [f"{Decimal(size + offset) / 10000:.4f}" for offset in offsets]
    rows = "".join(f"    {n + 1}: [{', '.join(cells[4 * n : 4 * n + 4])}]\n" for n in range(3))
    assert found(f"readings:\n  main_journal:\n{rows}") == []


@given(st.lists(st.integers(-1, 1), min_size=4, max_size=4), st.integers(0, 3), st.sampled_from((250, -250)))
def test_a_turn_is_seen_wherever_it_falls(offsets: list[int], at: int, turn: int) -> None:
    numbers = [25000 + offset for offset in offsets]
    numbers[at] += turn
    cells = ", ".join(f"{Decimal(number) / 10000:.4f}" for number in numbers)
    (suspect,) = found(f"readings: {{main_journal: {{1: [{cells}]}}}}\n")
    assert (slip_name(suspect.reason), suspect.would_be) == ("thimble turn", Decimal(numbers[at] - turn) / 10000 * INCH)


def _exchanged(at: int) -> Callable[[int], int]:
    return lambda size: int(
        "".join((f"{size:08}"[:at], f"{size:08}"[at + 1], f"{size:08}"[at], f"{size:08}"[at + 2 :]))
    )


ODD: dict[str, Callable[[int], int]] = {
    "a turn": lambda size: size + 250,
    "a point": lambda size: size // 10,
    "a minus": lambda size: -size,
    **{f"the digits {at} and {at + 1}": _exchanged(at) for at in range(2, 7)},
}


@pytest.mark.parametrize(
    ("name", "least", "most"),
    [
        ("main_journal", "2.0000", "4.0000"),
        ("piston_below_deck", "0.000200", "0.004000"),
        ("piston_weight", "0.20", "500.00"),
        ("chamber_volume", "9.00", "110.00"),
    ],
)
@given(st.data())
def test_none_of_those_beyond_suspicion_would_be_a_suspect(
    name: str, least: str, most: str, data: st.DataObject
) -> None:
    """The short look at readings that are much alike passes none over that the slips themselves would tell of."""
    places = len(least.partition(".")[2])
    size = data.draw(st.integers(int(least.replace(".", "")), int(most.replace(".", ""))))
    numbers = [size + off for off in data.draw(st.lists(st.integers(-1, 1), min_size=4, max_size=4))]
    numbers[1] = ODD[data.draw(st.sampled_from(sorted(ODD)))](numbers[1])
    sizes = [f"{Decimal(number).scaleb(-places):f}" for number in numbers]
    one_part = f"{{1: [{', '.join(sizes)}]}}"
    each_its_own = f"{{{', '.join(f'{n}: {each}' for n, each in enumerate(sizes, start=1))}}}"
    body = f"readings: {{{name}: {one_part if name == 'main_journal' else each_its_own}}}\n"
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(import_module("specrules.sheet.suspicion"), "beyond_suspicion", lambda *_: False)
        one_by_one = found(body)
    assert found(body) == one_by_one


def test_many_readings_cost_no_more_than_their_number() -> None:
    rows = "".join(
        f"    {n}: {{{', '.join(f'{v}: 0.30{n % 9}' for v in ('intake', 'exhaust'))}}}\n" for n in range(1, 257)
    )
    assert found(f"readings:\n  lobe_lift:\n{rows}") == []
