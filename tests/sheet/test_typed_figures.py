"""What is typed at the bench and what is written for it; a number that is typed whole stands for itself."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.quantity import LENGTH, Refusal, Unit, find_unit
from specrules.sheet.typed_figures import figure


def unit(name: str) -> Unit:
    found = find_unit(name)
    assert isinstance(found, Unit)
    return found


BESIDE = {
    # size said, what is typed -> what is written
    ("54.988", "91"): "54.991",
    ("54.988", "02"): "55.002",
    ("54.988", "8"): "54.988",
    ("54.988", "988"): "54.988",
    ("54.988", "001"): "55.001",
    ("2.4990", ".4985"): "2.4985",
    ("2.4990", ".501"): "2.5010",
    ("2.0010", ".9998"): "1.9998",
    ("2.4990", "0"): "2.4990",
    ("2.4990", "04"): "2.5004",
    ("2.4990", "8 thou over"): "2.5070",
    ("2.4990", "0.5 thou under"): "2.4985",
    ("2.4990", "0.05 thou over"): "2.49905",
    ("2.4990", "54.988 mm"): "54.988 mm",
    ("2.4990", "2.5001"): "2.5001",
    ("2.4990", "12345"): "12345",
    ("0.0020", "98"): "0.0098",
    ("0.020", "998"): "0.998",
}


@pytest.mark.parametrize(("size", "answer"), BESIDE)
def test_beside_a_size_the_last_digits_are_enough(size: str, answer: str) -> None:
    assert figure(answer, size, unit("in"), LENGTH) == BESIDE[size, answer]


@pytest.mark.parametrize("answer", ["88", "0.0021", ".0021", "20 thou", "18..20", "over 0.020", "2.1  thou"])
def test_without_a_size_what_is_typed_is_what_is_written(answer: str) -> None:
    assert figure(answer, "", unit("in"), LENGTH) == " ".join(answer.split())


@pytest.mark.parametrize("answer", ["54,988", "abc", "5 lbf", "5 lbf over", "--", "1e3x", "=2", "c", "٣٤"])
@pytest.mark.parametrize("size", ["", "54.988"])
def test_what_states_no_number_is_refused(answer: str, size: str) -> None:
    assert isinstance(figure(answer, size, unit("mm"), LENGTH), Refusal)


@given(st.integers(1, 6), st.integers(1, 10**7), st.integers(0, 9999))
def test_the_number_ends_so_and_no_other_that_does_is_nearer(places: int, number: int, tail: int) -> None:
    size = f"{Decimal(number).scaleb(-places):f}"
    typed = str(tail)
    if len(typed) > places:
        return
    found = figure(typed, size, unit("mm"), LENGTH)
    assert isinstance(found, str)
    period = Decimal(1).scaleb(len(typed) - places)
    assert found.replace(".", "").endswith(typed)
    assert len(found.partition(".")[2]) == places
    off = Decimal(found) - Decimal(size)
    assert abs(off) <= period / 2 or (off > 0 and Decimal(size) < period)
    assert Decimal(found) >= 0


@given(st.text(max_size=20), st.sampled_from(["", "54.988"]))
def test_any_text_is_a_figure_or_refused(answer: str, size: str) -> None:
    found = figure(answer, size, unit("mm"), LENGTH)
    assert isinstance(found, Refusal | str)
