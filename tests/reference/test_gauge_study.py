"""Published gauge studies, taken apart again by the program's own analysis of variance.

MSA is Measurement Systems Analysis, 4th edition, chapter III-B.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from statistics import mean

import pytest

from specrules.study import Analysis, Component, analyse
from specrules.study.chance import f_above
from specrules.study.components import Share, component, effective_freedom
from specrules.study.scattering import Scatter, pooled, scatter
from tests.study.small_studies import column, crossed, study, table


@pytest.fixture(scope="module")
def whole() -> Analysis:
    """The study of 10 parts, 3 operators and 3 trials."""
    return analyse(study(crossed()))


def rounded(value: Fraction | Decimal | float, places: int) -> str:
    """A figure to so many decimals, as it is printed."""
    return f"{float(value):.{places}f}"


def deviation(found: Component | None) -> str:
    """A component's standard deviation to six places."""
    assert found is not None
    return rounded(found.deviation, 6)


def test_the_sums_of_squares_of_the_crossed_study(whole: Analysis) -> None:
    """MSA, analysis of variance table; the five-digit figures from memory."""
    assert whole.operators is not None
    assert whole.parts is not None
    assert whole.interplay is not None
    rows = [whole.operators, whole.parts, whole.interplay.found, whole.repeats]
    assert [row.freedom for row in rows] == [2, 9, 18, 60]
    assert [rounded(row.squares, 4) for row in rows] == ["3.1673", "88.3619", "0.3590", "2.7589"]
    assert [rounded(row.variance, 5) for row in rows] == ["1.58363", "9.81799", "0.01994", "0.04598"]
    assert rounded(sum(row.squares for row in rows), 4) == "94.6471"


def test_the_crossed_study_s_interaction_is_pooled(whole: Analysis) -> None:
    """MSA: F 0.434 on 18 and 60 degrees of freedom (from memory); the chance of 0.974 is as published packages say."""
    assert whole.interplay is not None
    assert rounded(whole.interplay.ratio, 3) == "0.434"
    assert rounded(whole.interplay.chance, 3) == "0.974"
    assert not whole.interplay.kept
    assert whole.operators is not None
    assert rounded(whole.operators.variance / whole.repeats.variance, 2) == "34.44"


def test_the_variances_of_the_crossed_study(whole: Analysis) -> None:
    """MSA, the table of estimated variances with the interaction pooled."""
    found = [whole.repeatability, whole.reproducibility, whole.part_variation, whole.together]
    printed = [rounded(each.variance, places) for each, places in zip(found, (4, 4, 3, 4), strict=True) if each]
    assert printed == ["0.0400", "0.0515", "1.086", "0.0914"]


def test_the_standard_deviations_of_the_crossed_study(whole: Analysis) -> None:
    """MSA, the same table (from memory): 0.199933, 0.226838, 0.302373, 1.042327.

    The third is the root of the sum of the two that are printed before it, which were rounded; without that it is
    0.302372 (0.3023715).
    """
    assert deviation(whole.repeatability) == "0.199933"
    assert deviation(whole.reproducibility) == "0.226838"
    assert whole.together is not None
    assert float(whole.together.deviation) == pytest.approx(0.302373, abs=2e-6)
    assert deviation(whole.part_variation) == "1.042327"
    assert whole.repeatability.freedom == pytest.approx(78)


def test_the_wide_cell_of_the_crossed_study_is_seen(whole: Analysis) -> None:
    """MSA: on the range chart operator B's readings of part 4 (range 1.02) are the ones out of control."""
    assert whole.straggler is not None
    assert (whole.straggler.operator, whole.straggler.part) == ("B", "4")


def test_without_the_wide_cell_nothing_is_seen() -> None:
    """The same, with operator B's second reading of part 4 as near to the other two as they are to each other."""
    readings = {who: dict(row) for who, row in crossed().items()}
    readings["B"]["4"] = ["0.01", "0.15", "0.20"]
    assert analyse(study(readings)).straggler is None


def test_the_levels_of_a_resistivity_study() -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 2.6.1 (from memory): 0.0675, 0.0778, 0.0729, 0.0362, 0.0197.

    The second and the last are 0.07786 and 0.019645 from the handbook's own data, up to one unit of their last place
    off, so they are held to that.
    """
    rows = table("resistivity_study.txt")
    wafers = ("138", "139", "140", "141", "142")
    runs: dict[tuple[str, str], list[Fraction]] = {(run, wafer): [] for run in "12" for wafer in wafers}
    repeats: dict[str, list[Scatter]] = {"1": [], "2": []}
    for run, wafer, average, spread in rows:
        runs[run, wafer].append(Fraction(average))
        repeats[run].append(Scatter(Fraction(spread) ** 2 * 5, 5))
    assert [pooled(each).freedom for each in repeats.values()] == [150, 150]
    assert [float(pooled(each).deviation) for each in repeats.values()] == pytest.approx([0.0675, 0.0778], abs=7e-5)
    together = pooled(each for run in repeats.values() for each in run)
    assert (together.freedom, rounded(together.deviation, 4)) == (300, "0.0729")
    days = pooled(scatter(each) for each in runs.values())
    assert (days.freedom, rounded(days.deviation, 4)) == (50, "0.0362")
    between = pooled(scatter([mean(runs["1", wafer]), mean(runs["2", wafer])]) for wafer in wafers)
    assert between.freedom == 5
    assert float(between.deviation) == pytest.approx(0.0197, abs=1e-4)


def test_the_check_standard_s_pooled_scatter() -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 2.4.4.1: LK(J - 1) = 60 degrees of freedom.

    The figures are computed from its data elsewhere, not printed there.
    """
    rows = table("check_standard.txt")
    found = pooled(Scatter(Fraction(spread) ** 2 * 5, 5) for _, _, spread in rows)
    assert (found.freedom, rounded(found.deviation, 6)) == (60, "0.078714")
    by_run = [[Fraction(average) for run, average, _ in rows if run == which] for which in "12"]
    assert [rounded(mean(each), 5) for each in by_run] == ["96.03573", "96.07653"]
    assert [rounded(scatter(each).deviation, 6) for each in by_run] == ["0.027279", "0.027563"]


def test_pooling_sums_of_squares() -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 2.4.4: five sums on 60 degrees each give 0.10290 on 300.

    Only the arithmetic is held: the sums do not follow from the handbook's own data of that study.
    """
    found = pooled(Scatter(Fraction(each), 60) for each in ("0.48115", "0.69209", "0.48483", "1.21752", "0.30076"))
    assert (str(float(found.squares)), found.freedom, rounded(found.deviation, 5)) == ("3.17635", 300, "0.10290")


def test_the_gear_batches_by_one_way_analysis() -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.4 (from memory): F 2.2969 on 9 and 90 degrees."""
    sizes, batches = column("gear_diameters.txt"), column("gear_diameters.txt", 1)
    groups = [[size for size, batch in zip(sizes, batches, strict=True) if batch == which] for which in range(1, 11)]
    within = pooled(map(scatter, groups))
    between = Scatter(scatter([mean(group) for group in groups]).squares * 10, 9)
    assert (rounded(between.squares, 6), between.freedom) == ("0.000729", 9)
    assert (rounded(within.squares, 6), within.freedom) == ("0.003174", 90)
    ratio = float(between.variance / within.variance)
    assert rounded(ratio, 4) == "2.2969"
    assert rounded(f_above(ratio, 9, 90), 4) == "0.0227"


def test_the_voltage_standard_by_one_way_analysis() -> None:
    """GUM (JCGM 100:2008) H.5, table H.9 and H.5.2 (from memory): five readings on each of ten days.

    The standard deviations within a day are 85 uV together, the day means scatter by 57 uV, F is 2.25 against the
    upper 5 % and 2.5 % points of 2.12 and 2.45, and the component between days is 43 uV. The 2.25 follows from the
    rounded 57 and 85; the data themselves give 2.26.
    """
    means = [Fraction(each) for each in (172, 116, 13, 144, 106, 31, 60, 125, 163, 41)]
    within = pooled(Scatter(Fraction(each) ** 2 * 4, 4) for each in (60, 77, 111, 101, 67, 93, 80, 73, 88, 86))
    between = Scatter(scatter(means).squares * 5, 9)
    assert within.freedom == 40
    assert rounded(within.deviation, 0) == "85"
    assert rounded(scatter(means).deviation, 0) == "57"
    assert rounded(between.deviation, 0) == "128"
    ratio = float(between.variance / within.variance)
    assert rounded(ratio, 2) == "2.26"
    of_rounded = Scatter(Fraction(57) ** 2 * 5 * 9, 9).variance / Scatter(Fraction(85) ** 2 * 40, 40).variance
    assert rounded(of_rounded, 2) == "2.25"
    assert 0.025 < f_above(float(of_rounded), 9, 40) < 0.05
    assert 0.025 < f_above(ratio, 9, 40) < 0.05
    assert f_above(2.12, 9, 40) == pytest.approx(0.05, abs=0.0005)
    assert f_above(2.45, 9, 40) == pytest.approx(0.025, abs=0.0003)
    days = component([Share(Fraction(1, 5), between), Share(Fraction(-1, 5), within)])
    assert rounded(days.deviation, 0) == "43"


def test_degrees_of_freedom_of_a_combined_uncertainty() -> None:
    """GUM (JCGM 100:2008) G.4.1, example (from memory): 0.25, 0.57, 0.82 % with 10, 5, 15 readings give 19.0."""
    terms = [(Fraction(u) ** 2, float(n - 1)) for u, n in (("0.25", 10), ("0.57", 5), ("0.82", 15))]
    assert rounded(effective_freedom(terms), 1) == "19.0"


def test_degrees_of_freedom_of_the_end_gauge() -> None:
    """GUM (JCGM 100:2008) H.1.6: 16.7 from u(l) = 32 nm, which is 31.66 unrounded: so 16.75 from the components.

    Of the components only these have an end to their degrees of freedom: 25 (18), 9.7 (25.6), 2.9 (50), 16.6 nm (2).
    """
    terms = [(Fraction(25) ** 2, 18.0), (Fraction("9.7") ** 2, 25.6), (Fraction("2.9") ** 2, 50.0)]
    exact = Fraction("31.664") ** 2
    dt = Fraction("16.599") ** 2
    rest = exact - dt - sum(term for term, _ in terms)
    found = effective_freedom([*terms, (dt, 2.0), (rest, float("inf"))])
    assert found == pytest.approx(16.7, abs=0.1)
