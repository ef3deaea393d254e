"""A published two-way gauge study in which parts and operators interact: the thermal impedance of ten power modules.

Readings (hundredths of a degree a watt) and results from memory of a textbook of statistical quality control that took
them from a published article; that they are remembered rightly is shown by the analysis, which comes out as printed.
"""

from __future__ import annotations

import pytest

from specrules.study import Analysis, analyse
from tests.study.small_studies import study

BY_OPERATOR = {
    "first": [
        "37 38 37", "42 41 43", "30 31 31", "42 43 42", "28 30 29", "42 42 43", "25 26 27", "40 40 40", "25 25 25",
        "35 34 34",
    ],
    "second": [
        "41 41 40", "42 42 42", "31 31 31", "43 43 43", "29 30 29", "45 45 45", "28 28 30", "43 42 42", "27 29 28",
        "35 35 34",
    ],
    "third": [
        "41 42 41", "43 42 43", "29 30 28", "42 42 42", "31 29 29", "44 46 45", "29 27 27", "43 43 41", "26 26 26",
        "35 34 35",
    ],
}  # fmt: skip


@pytest.fixture(scope="module")
def whole() -> Analysis:
    return analyse(
        study({who: {str(n): cell.split() for n, cell in enumerate(cells, 1)} for who, cells in BY_OPERATOR.items()})
    )


def test_the_mean_squares(whole: Analysis) -> None:
    """437.3 for parts, 19.63 for operators, 2.695 for both together, 0.511 within."""
    assert whole.parts is not None
    assert whole.operators is not None
    assert whole.interplay is not None
    found = [whole.parts, whole.operators, whole.interplay.found, whole.repeats]
    assert [float(row.variance) for row in found] == pytest.approx([437.3, 19.63, 2.695, 0.511], rel=5e-4)
    assert [row.freedom for row in found] == [9, 2, 18, 60]


def test_parts_and_operators_interact(whole: Analysis) -> None:
    """F = 5.27 on 18 and 60 degrees of freedom: the interaction is kept, not pooled."""
    assert whole.interplay is not None
    assert float(whole.interplay.ratio) == pytest.approx(5.27, abs=0.005)
    assert whole.interplay.kept


def test_the_standard_deviations(whole: Analysis) -> None:
    """0.715 repeatability, 0.751 operators, 0.853 interaction, 6.949 parts."""
    assert whole.by_operator is not None
    assert whole.by_pair is not None
    assert whole.part_variation is not None
    assert float(whole.repeatability.deviation) == pytest.approx(0.715, abs=0.0005)
    assert float(whole.part_variation.deviation) == pytest.approx(6.949, abs=0.0005)
    assert float(whole.by_operator.deviation) == pytest.approx(0.751, abs=0.0005)
    assert float(whole.by_pair.deviation) == pytest.approx(0.853, abs=0.0005)
