"""The page of a gauge's study, to the letter and the style, of one and of two operators and parts."""

from __future__ import annotations

from specrules.output.study import study_lines
from specrules.study import analyse
from tests.output.styled import styled
from tests.study.small_studies import HEAD, Readings, study


def page(readings: Readings, head: str = HEAD) -> list[str]:
    found = study(readings, head)
    return styled(study_lines(found, analyse(found)))


def test_of_one_operator_and_one_part() -> None:
    """Two readings that differ by 0.0003: s is that over the root of two, with one degree of freedom."""
    assert page({"JT": {"1": ["2.4990", "2.4993"]}}, HEAD.replace("date: 2026-10-02\n", "")) == [
        "[heading]mic 2-3: repeatability study",
        "outside micrometer; 1 operator, 1 part, 2 readings each; mean 2.499150 in",
        "",
        "[quiet]  unit: in                        s      u(s)  freedom  95 % interval",
        "  repeatability            0.000212  0.000160        1  0.000095 to 0.006769",
        "",
        "s is a standard deviation, u(s) its standard uncertainty, freedom its degrees of",
        "freedom.",
        "[doubt]Fewer than 10 degrees of freedom: where this is below the figure for the class,",
        "[doubt]use that one.",
        "One operator read, so reproducibility is not estimated.",
        "One part was read, so part variation is not estimated.",
        "",
        "[heading]For the sheet:",
        "",
        "gauges:",
        "  mic 2-3:",
        "    class: outside micrometer",
        "    repeatability: 0.000212 in",
        "    # the study gave it with 1 degree of freedom",
    ]


def test_of_two_operators_and_two_parts() -> None:
    readings: Readings = {
        "JT": {"1": ["2.4990", "2.4991"], "2": ["2.4985", "2.4986"]},
        "KM": {"1": ["2.4991", "2.4991"], "2": ["2.4986", "2.4985"]},
    }
    assert page(readings) == [
        "[heading]mic 2-3: repeatability study                                          2026-10-02",
        "outside micrometer; 2 operators, 2 parts, 2 readings each; mean 2.4988125 in",
        "",
        "[quiet]  unit: in                        s      u(s)  freedom  95 % interval",
        "  repeatability           0.0000570 0.0000184        5  0.0000356 to 0.0001398",
        "  reproducibility         0.0000000         -        -  0.0000000 to 0.0005641",
        "  any of their readings   0.0000570 0.0000184        5  0.0000356 to 0.0001398",
        "  part to part            0.0003701 0.0002814      0.9  too little freedom",
        "",
        "s is a standard deviation, u(s) its standard uncertainty, freedom its degrees of",
        "freedom.",
        "[doubt]Fewer than 10 degrees of freedom: where this is below the figure for the class,",
        "[doubt]use that one.",
        "Reproducibility is what changes with the operator; nothing else was changed.",
        "Operators by parts: F 0.33 on 1 and 4 degrees of freedom, chance 0.595 against a",
        "level of 0.25 (our choice): no sign that operators read parts differently, so it",
        "is pooled into repeatability.",
        "  JT reads 0.0000125 below the mean of all (u 0.0000202)",
        "  KM reads 0.0000125 above the mean of all (u 0.0000202)",
        "The variance of operators came out below zero and was set to zero: the readings'",
        "own scatter hides it.",
        "",
        "[heading]For the sheet:",
        "",
        "gauges:",
        "  mic 2-3:",
        "    class: outside micrometer",
        "    repeatability: 0.0000570 in",
        "    # the study of 2026-10-02 gave it with 5 degrees of freedom",
    ]
