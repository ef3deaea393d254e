"""Numbers of spreadsheets as their cells show them: digits, noughts and units; and what shows something else."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.importing.shown_numbers import shown_number
from specrules.quantity import Refusal

SHOWN = [
    (2.499, "General", "2.499"),
    (2.4990000000000001, "General", "2.499"),
    (2.5 - 0.001, "General", "2.499"),
    (0.1 + 0.2, "General", "0.3"),
    (63, "General", "63"),
    (2.5, "0.0000", "2.5000"),
    (2.5, "0.0###", "2.5"),
    (2.5, "#,##0.000", "2.500"),
    (2.49904, "0.00", "2.49904"),  # a format takes no digit away
    (2, "0", "2"),
    (2.5, "@", "2.5"),
    (2.5, "0.00E+00", "2.5"),
    (2.5, "# ?/?", "2.5"),
    (2.5, '0.000" mm"', "2.500 mm"),
    (2.5, r"0.000\"", '2.500 "'),
    (2.5, "[$-409]0.000", "2.500"),
    (2.5, '0.00""', "2.50"),
    (2.5, "_(* #,##0.00_);_(* \\(#,##0.00\\)", "2.50"),
    (-2.5, "0.000;-0.000", "-2.500"),
    (-2.5, "0.000;[Red]0.000", "-2.500"),
    (-2.5, "_(* #,##0.00_);_(* \\(#,##0.00\\)", "-2.50"),
    (0, "0.000", "0.000"),
    (0, "0.00;-0.0000", "0.00"),
    (999999999999999, "General", "999999999999999"),
    (1e-05, "General", "0.00001"),
    (1234567.125, "General", "1234567.125"),
]

ODD = [
    (0.05, "0%", "percentage"),
    (0.05, "0.00 %", "percentage"),
    (2500, "0.0,", "shows something else"),
    (2500, "#,", "shows something else"),
    (2.5, "$0.00", "shows something else"),
    (2.5, "[$€-2] 0.00", "shows something else"),
    (2.5, '"about "0.00', "shows something else"),
    (2.5, "[<1]0.00;0.000", "shows something else"),
    (2.5, '"yes";"no"', "shows something else"),
    (2.5, ";;;", "shows something else"),
    (0, "0.00;-0.00;", "shows something else"),
    (2.5, "(0.00);-0.0000", "shows something else"),
    (2.5, "0.0.0", "shows something else"),
    (2.5, "yyyy", "shows something else"),
    (float("inf"), "General", "is not a number, or too large a one"),
    (float("nan"), "General", "is not a number"),
    (10**15, "General", "too large"),
    (10**400, "General", "too large"),
]


@pytest.mark.parametrize(("value", "number_format", "text"), SHOWN)
def test_a_number_has_its_own_digits_and_the_noughts_of_its_format(value: float, number_format: str, text: str) -> None:
    assert shown_number(value, number_format, formula=False) == text


@pytest.mark.parametrize(("value", "number_format", "said"), ODD)
def test_a_format_that_shows_something_else_is_refused(value: float, number_format: str, said: str) -> None:
    found = shown_number(value, number_format, formula=False)
    assert isinstance(found, Refusal)
    assert said in found.said


@pytest.mark.parametrize(
    ("value", "number_format", "text"),
    [(2.499 * 25.4, "General", "63.4746"), (2.4, "0.000", "2.400"), (7.0 / 4, "0.00", "1.75"), (2.5, "0.00 ", "2.50")],
)
def test_the_result_of_a_formula_is_taken_where_its_cell_shows_all_of_it(
    value: float, number_format: str, text: str
) -> None:
    assert shown_number(value, number_format, formula=True) == text


@pytest.mark.parametrize(
    ("value", "number_format", "shown"),
    [(7.4971 / 3, "0.0000", "2.4990"), (1 / 3, "General", "0.333333333"), (2.49904, "0.000", "2.499")],
)
def test_the_result_of_a_formula_with_more_places_than_shown_is_refused(
    value: float, number_format: str, shown: str
) -> None:
    found = shown_number(value, number_format, formula=True)
    assert isinstance(found, Refusal)
    assert found.said.startswith(f"is worked out by a formula and shown as {shown};")
    assert not isinstance(shown_number(value, number_format, formula=False), Refusal)


@given(st.decimals(-9999, 9999, places=6), st.sampled_from(["General", "0.0000", "#,##0.00", "0"]))
def test_a_typed_number_is_never_another(typed: object, number_format: str) -> None:
    from decimal import Decimal

    found = shown_number(float(str(typed)), number_format, formula=False)
    assert not isinstance(found, Refusal)
    assert Decimal(found) == Decimal(str(typed))


@given(st.floats(), st.text('0#?.,;%eE+-"\\[]_*/ mM$@gyd', max_size=12), st.booleans())
def test_any_number_under_any_format_is_itself_to_15_digits_or_refused(
    value: float, number_format: str, formula: bool
) -> None:
    found = shown_number(value, number_format, formula)
    if not isinstance(found, Refusal):
        number = found.split(" ")[0]
        for end in range(len(number), 0, -1):  # a unit may stand right behind it
            try:
                read = float(number[:end])
            except ValueError:
                continue
            assert read == pytest.approx(value, rel=1e-14)
            break
        else:
            raise AssertionError(found)
