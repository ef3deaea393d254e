"""Printed figures agree with the verdict: no failing value prints as a passing one, and every printed sum adds up."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.inspection import Finding, Limits
from specrules.inspection.digits import amount_beside, measured, never_nothing, printed, span
from specrules.output.telling import limits_of, verdict_text
from specrules.quantity import LENGTH, Unit
from specrules.vocabulary import BEYOND, Verdict
from tests.output.small_screen import judged

NUMBER = r"-?\d+\.?\d*"
INCH = Unit("in", LENGTH, Fraction("25.4"))


def fit(hole: str, unit: str = "in", limits: str = "", facts: str = "") -> Finding:
    """The running fit of a hole over a shaft of 1.5 in; limits 0.0010 to 0.0030 in where nothing is said."""
    own = f"limits: {{fit: [{limits}]}}\n" if limits else ""
    places = max(len(hole.partition(".")[2]), 4)  # both as fine as each other: else the coarser one is suspect
    body = f"readings:\n  hole: {{unit: {unit}, 1: {hole}}}\n  shaft: {{1: {Decimal('1.5'):.{places}f} in}}\n{own}"
    signed = "signed: {clean: {by: ab, on: 2026-10-01}}\n"
    found = [each for each in judged(facts + body + signed).findings if each.rule == "fit"]
    return found[0]


def numbers(text: str) -> list[Decimal]:
    """Every number of a printed text."""
    return [Decimal(number) for number in re.findall(NUMBER, text)]


def agrees(finding: Finding) -> None:
    """What is printed of a value and its limits says what the verdict says."""
    value = numbers(measured(finding))[0]
    least, *_, most = numbers(limits_of(finding))
    if finding.verdict is Verdict.IN_SPEC:
        assert least <= value <= most
    else:
        assert finding.verdict in BEYOND
        limit = least if finding.limit_side == "least" else most
        text = verdict_text(finding).split()[-1]
        by, last = Decimal(text), Decimal((0, (1,), -len(text.partition(".")[2])))
        assert value < limit if finding.limit_side == "least" else value > limit
        assert by > 0
        assert abs(abs(value - limit) - by) <= last / 2
        assert abs(value - limit) == by or by >= 100 * last


HOLES = st.decimals("1.5001", "1.5080", places=6)


@given(HOLES)
def test_a_printed_sum_agrees_with_its_verdict(hole: Decimal) -> None:
    agrees(fit(str(hole)))


@given(st.decimals("38.103", "38.20", places=4))
def test_a_printed_sum_agrees_where_units_are_mixed(hole: Decimal) -> None:
    agrees(fit(str(hole), "mm"))


@given(HOLES, st.decimals("0.0001", "0.0030", places=7), st.decimals("0.0031", "0.0060", places=7))
def test_limits_finer_than_the_readings_are_shown_as_fine_as_they_need(
    hole: Decimal, least: Decimal, most: Decimal
) -> None:
    agrees(fit(str(hole), "in", f"{{least: {least} in, most: {most} in, source: card}}"))


@pytest.mark.parametrize(
    ("hole", "value", "limits", "verdict"),
    [
        ("1.5010", "0.0010", "least 0.0010   aim 0.0020   most 0.0030 in", "in spec"),
        ("1.50099", "0.00099", "least 0.00100   aim 0.00200   most 0.00300 in", "TIGHT by 0.00001"),
        ("1.5030000001", "0.0030000001", "least 0.0010000000   aim 0.0020000000   most 0.0030000000 in", "LOOSE by"),
        ("1.5009", "0.0009", "least 0.0010   aim 0.0020   most 0.0030 in", "TIGHT by 0.0001"),
    ],
)
def test_digits_are_added_until_a_value_and_its_limit_differ(hole: str, value: str, limits: str, verdict: str) -> None:
    finding = fit(hole)
    assert measured(finding) == value
    assert limits_of(finding) == limits
    assert verdict_text(finding).startswith(verdict)


@pytest.mark.parametrize(
    ("hole", "least", "most", "verdict", "value"),
    [
        # 0.0027953 in, which five places, as fine as its readings are, round to 0.00280
        ("38.171", "0.0010", "0.0028", Verdict.IN_SPEC, "0.002795"),
        ("38.171", "0.0010", "0.002796", Verdict.IN_SPEC, "0.002795"),
        ("38.171", "0.0010", "0.00281", Verdict.IN_SPEC, "0.00280"),
        ("38.171", "0.0028", "0.0040", Verdict.OUT, "0.002795"),
        ("38.171", "0.002796", "0.0040", Verdict.OUT, "0.002795"),
        ("38.171", "0.002853", "0.0040", Verdict.OUT, "0.002795"),  # 0.00280 is no 0.000058 below it
        # 0.0029921 in, which they round to 0.00299
        ("38.176", "0.00299", "0.0040", Verdict.IN_SPEC, "0.002992"),
        ("38.176", "0.002991", "0.0040", Verdict.IN_SPEC, "0.002992"),
        ("38.176", "0.00298", "0.0040", Verdict.IN_SPEC, "0.00299"),
        ("38.176", "0.0010", "0.0029925196850", Verdict.IN_SPEC, "0.00299"),  # a rounded limit may be reached
        ("38.176", "0.0010", "0.00299", Verdict.OUT, "0.002992"),
        ("38.176", "0.0010", "0.002991", Verdict.OUT, "0.002992"),
    ],
)
def test_a_value_is_printed_on_the_side_of_each_limit_on_which_it_lies(
    hole: str, least: str, most: str, verdict: Verdict, value: str
) -> None:
    finding = fit(hole, "mm", f"{{least: {least} in, most: {most} in, source: card}}")
    assert (finding.verdict, measured(finding)) == (verdict, value)
    agrees(finding)


@pytest.mark.parametrize(
    ("most", "wear_most", "verdict", "value"),
    [
        # 0.0027953 in, which five places, as fine as its readings are, round to 0.00280
        ("0.0020", "0.0028", "worn within limit", "0.002795"),
        ("0.0020", "0.002796", "worn within limit", "0.002795"),
        ("0.0020", "0.00281", "worn within limit", "0.00280"),
        ("0.00279", "0.0040", "worn within limit", "0.00280"),
        ("0.0028", "0.0040", "in spec", "0.002795"),
        ("0.0020", "0.00279", "LOOSE by 0.00001", "0.00280"),
    ],
)
def test_a_value_is_printed_on_the_side_of_both_the_new_limit_and_the_worn_one(
    most: str, wear_most: str, verdict: str, value: str
) -> None:
    limits = f"{{least: 0.0010 in, most: {most} in, wear most: {wear_most} in, source: card}}"
    finding = fit("38.171", "mm", limits, "facts: {places: 1, material: iron, work: refresh}\n")
    assert (verdict_text(finding), measured(finding)) == (verdict, value)
    shown, (_, new, worn) = Decimal(value), numbers(limits_of(finding))
    assert (shown < new) == (verdict == "in spec")
    assert (shown < worn) == (not verdict.startswith("LOOSE"))


@pytest.mark.parametrize(
    ("beyond", "places", "of_limits", "text"),
    [
        ("0.62030", 2, 5, "0.62"),
        ("0.6253", 2, 5, "0.625"),
        ("12.3457", 2, 5, "12.35"),
        ("0.00135", 4, 5, "0.00135"),
        ("0.00005", 4, 5, "0.00005"),
        ("0.0001", 4, 4, "0.0001"),
        ("0.5", 1, 0, "0.5"),
        ("0.12345", 4, 2, "0.1235"),
    ],
)
def test_an_amount_has_the_places_that_it_deserves(beyond: str, places: int, of_limits: int, text: str) -> None:
    """Not those of an inch limit in millimetres, of which most say nothing beside a value of two places."""
    limit = Limits(most=Decimal(1).scaleb(-of_limits))
    assert amount_beside(Decimal(beyond), limit, places) == text


def test_a_bracket_is_printed_as_it_was_written() -> None:
    found = {each.station["side"]: each for each in judged(
        "facts: {places: 1, material: iron}\n"
        "readings:\n  slot: {1: {left: 0.021..0.022, right: 0.0091..0.0092}}\n"
    ).findings if each.rule == "slot"}  # fmt: skip
    assert (measured(found["left"]), verdict_text(found["left"])) == ("0.021 to 0.022", "HIGH by 0.001 to 0.002")
    assert (measured(found["right"]), verdict_text(found["right"])) == ("0.0091 to 0.0092", "LOW by 0.0008 to 0.0009")


def limits(**parts: str) -> dict[str, Decimal | None]:
    return {part: Decimal(text) for part, text in parts.items()}


@pytest.mark.parametrize(
    ("given_limits", "places", "texts", "rounded"),
    [
        # as they are, whatever the readings are written to
        (limits(least="0.005", aim="0.0075", most="0.012"), 2, ["0.0050", "0.0075", "0.0120"], False),
        (limits(least="0.00125"), 4, ["0.00125"], False),
        (limits(most="0.02032"), 2, ["0.02032"], False),
        (limits(least="0.0010", most="0.0030"), 4, ["0.0010", "0.0030"], False),
        (limits(least="0", most="10.25"), 0, ["0.00", "10.25"], False),
        # without an end, or too long: towards the inside
        (limits(least="0.0021992", aim="0.002749", most="0.0032988"), 4, ["0.0022", "0.0027", "0.0032"], True),
        (limits(most="0.00078740157480314960629921"), 2, ["0.00078"], True),
        (limits(least="0.01814", aim="0.0202", most="0.0282170314"), 3, ["0.01814", "0.02020", "0.02821"], True),
        (limits(least="-0.0123456789", most="-0.0023456789"), 3, ["-0.0123", "-0.0024"], True),
        # a width that would be nothing
        (limits(least="101.60078741", most="101.60151234"), 2, ["101.6008", "101.6015"], True),
    ],
)
def test_limits_have_places_of_their_own(
    given_limits: dict[str, Decimal | None], places: int, texts: list[str], rounded: bool
) -> None:
    found = printed(given_limits, places)
    assert (list(found.texts.values()), found.rounded) == (texts, rounded)


NUMBERS = st.decimals("-20", "20", places=12)


@given(NUMBERS, NUMBERS, st.integers(0, 6), st.integers(-(10**6), 10**6))
def test_no_reading_changes_its_side_of_a_printed_limit(one: Decimal, other: Decimal, places: int, steps: int) -> None:
    """Nor is a limit that is printed without saying that it is rounded another than the one in force."""
    least, most = min(one, other), max(one, other)
    found = printed({"least": least, "most": most}, places)
    shown = {part: Decimal(text) for part, text in found.texts.items()}
    assert found.rounded or shown == {"least": least, "most": most}
    reading = Decimal(steps).scaleb(-places)
    assert (reading >= least) == (reading >= shown["least"])
    assert (reading <= most) == (reading <= shown["most"])


@given(st.decimals("0.0001", "9", places=8), st.integers(0, 6))
def test_a_rounded_limit_keeps_two_digits_and_no_reading_more(limit: Decimal, places: int) -> None:
    found = printed({"most": limit}, places)
    if found.rounded:
        assert abs(Decimal(found.texts["most"]) - limit) <= limit / 10
        assert found.places >= places


def test_something_never_prints_as_nothing() -> None:
    assert never_nothing(Decimal("0.001"), 1) == "0.001"
    assert never_nothing(Decimal("-0.001"), 1) == "-0.001"
    assert never_nothing(Decimal(0), 2) == "0.00"


def test_a_span_says_which_end_is_open() -> None:
    inch, two = Decimal(1), Decimal(2)
    assert span([(inch, inch)], INCH, 3) == "1.000 in"
    assert span([(inch, inch), (two, two)], INCH, 1) == "1.0 to 2.0 in"
    assert span([(inch, two)], INCH, 2) == "1.0 to 2.0 in"
    assert span([(inch, None), (two, None)], INCH, 1) == "over 1 in"
    assert span([(None, inch), (two, two)], INCH, 1) == "under 2 in"
    assert span([(None, inch), (inch, None)], INCH, 1) == ""
    assert span([], INCH, 1) == ""
