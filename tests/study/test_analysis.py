"""The analysis of variance of small studies whose answers can be worked by hand, and what must not change it."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import inf, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specrules.study import Analysis, Study, analyse
from specrules.study.chance import f_above
from specrules.study.components import Share, component, effective_freedom
from specrules.study.scattering import Scatter
from tests.study.small_studies import Readings, study

Cells = list[list[list[int]]]


def analysed(*rows: list[list[int]]) -> Analysis:
    """The analysis of whole numbers, by operator and part."""
    return analyse(made(list(rows)))


def made(cells: Cells) -> Study:
    """A study of whole numbers, by operator and part."""
    readings: Readings = {
        f"O{number}": {f"P{part}": [str(each) for each in cell] for part, cell in enumerate(row)}
        for number, row in enumerate(cells)
    }
    return study(readings)


@st.composite
def grids(draw: st.DrawFn) -> Cells:
    """Balanced studies of every size down to the smallest."""
    many, several, often = draw(st.integers(1, 3)), draw(st.integers(1, 4)), draw(st.integers(2, 3))
    reading = st.integers(0, 30)
    return [[[draw(reading) for _ in range(often)] for _ in range(several)] for _ in range(many)]


def test_one_operator_gives_no_reproducibility() -> None:
    """By hand: cells scatter by squares of 2 and 8 on 1 degree each; means 11 and 22, so 2 * 60.5 on 1."""
    found = analysed([[10, 12], [20, 24]])
    assert found.repeats == (Fraction(10), 2)
    assert found.parts == (Fraction(121), 1)
    assert (found.operators, found.interplay, found.reproducibility, found.together) == (None, None, None, None)
    assert found.repeatability.variance == 5
    assert found.part_variation is not None
    assert found.part_variation.variance == Fraction(121 - 5, 2)
    assert found.part_variation.freedom == pytest.approx(116**2 / (121**2 / 1 + 5**2 / 2))
    assert found.biases == ()


def test_one_part_gives_no_part_variation_and_no_interplay() -> None:
    found = analysed([[10, 12]], [[20, 24]])
    assert (found.parts, found.interplay, found.part_variation, found.by_pair) == (None, None, None, None)
    assert found.reproducibility is not None
    assert found.reproducibility.variance == Fraction(121 - 5, 2)
    assert found.together is not None
    assert found.together.variance == Fraction(121 - 5, 2) + 5
    assert [bias.above for bias in found.biases] == [Fraction(-11, 2), Fraction(11, 2)]
    assert float(found.biases[0].uncertainty) == pytest.approx(sqrt(5 / 2 / 2))


def test_interplay_that_is_seen_is_reproducibility() -> None:
    """By hand: cell means 1, 5, 5, 1, so no operator and no part stands out, and all of it is the pair: 32 on 1."""
    found = analysed([[0, 2], [4, 6]], [[4, 6], [0, 2]])
    assert found.interplay is not None
    assert found.interplay.kept
    assert found.interplay.found == (Fraction(32), 1)
    assert found.interplay.ratio == 16
    assert found.repeatability.variance == found.repeats.variance == 2
    assert found.by_operator is not None
    assert found.by_operator.negative
    assert found.by_pair is not None
    assert found.by_pair.variance == Fraction(32 - 2, 2)
    assert found.reproducibility == found.by_pair
    assert found.part_variation is not None
    assert found.part_variation.negative


def test_operators_and_pairs_add_up() -> None:
    """With both above zero, the mean square of the pairs is in both and is in doubt only once."""
    found = analysed([[0, 2], [4, 6], [9, 9]], [[24, 26], [20, 22], [39, 41]])
    assert found.by_operator is not None
    assert found.by_pair is not None
    assert found.reproducibility is not None
    assert found.operators is not None
    assert found.interplay is not None
    assert found.by_pair.variance > 0
    assert found.reproducibility.variance == found.by_operator.variance + found.by_pair.variance
    pairs, repeats = found.interplay.found, found.repeats
    terms = [
        (found.operators.variance / 6, float(found.operators.freedom)),
        (pairs.variance * (Fraction(1, 2) - Fraction(1, 6)), float(pairs.freedom)),
        (-repeats.variance / 2, float(repeats.freedom)),
    ]
    assert found.reproducibility.freedom == pytest.approx(effective_freedom(terms))


def test_a_variance_below_zero_is_zero_and_has_an_upper_end() -> None:
    found = analysed([[10, 14], [20, 24]], [[14, 10], [24, 20]])
    assert found.by_operator is not None
    assert found.by_operator.negative
    assert found.by_operator.variance == 0
    assert (found.by_operator.freedom, found.by_operator.uncertainty) == (None, None)
    assert found.by_operator.interval is None  # the operators' own mean square is zero: nothing to go by
    assert found.together == found.repeatability
    some = analysed([[10, 14], [20, 24]], [[15, 10], [24, 21]])
    assert some.by_operator is not None
    assert some.by_operator.negative
    assert some.by_operator.interval is not None
    assert some.by_operator.interval.low == 0
    assert some.by_operator.interval.high > some.repeatability.deviation


def test_readings_that_are_all_the_same() -> None:
    found = analysed([[5, 5], [5, 5]], [[5, 5], [5, 5]])
    assert found.repeatability.variance == 0
    assert (found.repeatability.freedom, found.repeatability.interval) == (None, None)
    assert not found.repeatability.negative
    assert found.interplay is not None
    assert (found.interplay.ratio, found.interplay.chance, found.straggler) == (0, 1, None)


def test_pairs_that_differ_where_repeats_do_not() -> None:
    found = analysed([[5, 5], [6, 6]], [[6, 6], [5, 5]])
    assert found.interplay is not None
    assert (found.interplay.ratio, found.interplay.chance, found.interplay.kept) == (inf, 0, True)
    assert found.together is not None
    assert found.together.variance == found.interplay.found.variance / 2


def test_the_only_cell_that_scatters_is_named() -> None:
    found = analysed([[5, 5], [6, 6], [7, 7]], [[5, 5], [6, 60], [7, 7]])
    assert found.straggler is not None
    assert found.straggler[:2] == ("O1", "P1")


@pytest.mark.parametrize(("often", "cells", "five", "one"), [(2, 10, 0.602, 0.718), (3, 10, 0.445, 0.536)])
def test_cochran_s_test_as_tabled(often: int, cells: int, five: float, one: float) -> None:
    """ISO 5725-2, table of critical values for Cochran's test (from memory): 5 % and 1 % points.

    The chance is bounded by the sum over the cells, as the table itself is made.
    """
    for critical, chance in ((five, 0.05), (one, 0.01)):
        ratio = (cells - 1) * critical / (1 - critical)
        assert cells * f_above(ratio, often - 1, (cells - 1) * (often - 1)) == pytest.approx(chance, rel=0.03)


def test_the_interval_of_a_standard_deviation() -> None:
    """By the table of chi-square: with 10 degrees of freedom, s times sqrt(10/20.483) and sqrt(10/3.247)."""
    found = component([Share(Fraction(1), Scatter(Fraction(10), 10))])
    assert found.interval is not None
    assert float(found.interval.low) == pytest.approx(sqrt(10 / 20.483), rel=1e-4)
    assert float(found.interval.high) == pytest.approx(sqrt(10 / 3.247), rel=1e-4)


def test_too_few_degrees_of_freedom_have_no_interval() -> None:
    found = component([Share(Fraction(1), Scatter(Fraction(3), 2)), Share(Fraction(-1), Scatter(Fraction(2), 2))])
    assert found.freedom == pytest.approx(0.25 / ((2.25 + 1) / 2))
    assert found.interval is None
    assert found.uncertainty is not None


def test_degrees_of_freedom_without_end() -> None:
    assert effective_freedom([(Fraction(1), inf)]) == inf
    assert effective_freedom([]) == inf


@given(grids())
def test_the_sums_of_squares_add_up(cells: Cells) -> None:
    found = analyse(made(cells))
    flat = [Fraction(each) for row in cells for cell in row for each in cell]
    middle = sum(flat, Fraction(0)) / len(flat)
    whole = sum(((each - middle) ** 2 for each in flat), Fraction(0))
    parts = [found.repeats, found.operators, found.parts, found.interplay and found.interplay.found]
    assert sum(part.squares for part in parts if part) == whole
    assert sum(part.freedom for part in parts if part) == len(flat) - 1
    assert found.mean == middle


@given(grids(), st.integers(-5, 5), st.sampled_from([2, 10]))
def test_neither_where_zero_is_nor_the_order_matters(cells: Cells, shift: int, times: int) -> None:
    """Shifted by a size all deviations stay; scaled they scale; operators and parts may come in any order."""
    found = analyse(made(cells))
    moved = [[[times * (each + shift) for each in cell] for cell in reversed(row)] for row in reversed(cells)]
    other = analyse(made(moved))
    for name in ("repeatability", "by_operator", "by_pair", "reproducibility", "together", "part_variation"):
        before, after = getattr(found, name), getattr(other, name)
        assert (before is None) == (after is None)
        if before is not None:
            assert after.variance == before.variance * times**2
            assert after.negative == before.negative
            assert after.freedom == (pytest.approx(before.freedom) if before.freedom is not None else None)


@given(grids())
def test_every_figure_lies_in_its_interval_and_none_is_negative(cells: Cells) -> None:
    found = analyse(made(cells))
    for each in (found.repeatability, found.reproducibility, found.together, found.part_variation):
        if each is not None:
            assert each.variance >= 0
            assert each.uncertainty is None or each.uncertainty > Decimal(0)
            if each.interval is not None and each.variance:
                assert each.interval.low < each.deviation < each.interval.high
    if found.together is not None and found.reproducibility is not None:
        assert found.together.variance == found.repeatability.variance + found.reproducibility.variance
