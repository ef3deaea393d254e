"""Analysis of variance of a study: operators and parts crossed, both at random, every reading repeated (GUM H.5)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import inf
from statistics import mean
from typing import NamedTuple

from specrules.study.chance import f_above
from specrules.study.components import Component, Share, component
from specrules.study.scattering import Scatter, pooled, root, scatter
from specrules.study.study_parts import Study

LEVEL = 0.25
"""Operators and parts count as apart only where chance alone would do this less often. Our choice: pooling what is no
repeatability would make the gauge look worse for every operator, so little evidence is enough against it."""

STRAGGLER = 0.05
"""ISO 5725-2, Cochran's test: readings of one operator on one part that spread more than this chance allows."""


class Interplay(NamedTuple):
    """Whether some operators read some parts differently: a mean square against that of the repeats."""

    found: Scatter
    ratio: float
    chance: float

    @property
    def kept(self) -> bool:
        """Whether it stands by itself; otherwise it is pooled into repeatability."""
        return self.chance < LEVEL


class Straggler(NamedTuple):
    """The one cell that spreads more than the others allow, and the chance that it would by chance."""

    operator: str
    part: str
    chance: float


class Bias(NamedTuple):
    """How much an operator reads above the mean of all, and the standard uncertainty of that from the scatter."""

    operator: str
    above: Fraction
    uncertainty: Decimal


@dataclass(frozen=True, slots=True)
class Analysis:
    """What a study shows. Mean squares and components in the study's unit; None is what it cannot show.

    `repeats` are the readings about their cell's mean, `operators` and `parts` the means about the mean of all;
    `repeatability` (VIM 2.21) includes the interplay where that was pooled; where it was kept it is `by_pair`.
    `reproducibility` (VIM 2.25, operators changed and nothing else) is `by_operator` and `by_pair` in one;
    `together` is a reading of one part by any of these operators.
    """

    mean: Fraction
    repeats: Scatter
    operators: Scatter | None
    parts: Scatter | None
    interplay: Interplay | None
    repeatability: Component
    by_operator: Component | None
    by_pair: Component | None
    reproducibility: Component | None
    together: Component | None
    part_variation: Component | None
    biases: tuple[Bias, ...]
    straggler: Straggler | None


def analyse(study: Study) -> Analysis:
    """The components of variance of a balanced study, random-effects model with operators and parts crossed."""
    many, several, often = len(study.operators), len(study.parts), study.repeats
    cells = [[scatter(cell) for cell in row] for row in study.readings]
    means = [[mean(cell) for cell in row] for row in study.readings]
    operator_means = [mean(row) for row in means]
    part_means = [mean(column) for column in zip(*means, strict=True)]
    repeats = pooled(cell for row in cells for cell in row)
    operators = _times(scatter(operator_means), several * often) if many > 1 else None
    parts = _times(scatter(part_means), many * often) if several > 1 else None
    interplay = _interplay(means, operator_means, part_means, often, repeats)
    kept = interplay is not None and interplay.kept
    alone = pooled((repeats, interplay.found)) if interplay is not None and not kept else repeats
    against = interplay.found if interplay is not None and kept else alone
    own = (Share(Fraction(1), alone),)
    pair = _shares(against, alone, often) if kept else ()
    operator = _shares(operators, against, several * often) if operators is not None else ()
    by_operator = component(operator) if operator else None
    apart = pair if by_operator is not None and by_operator.negative else (*operator, *pair)
    return Analysis(
        mean=mean(operator_means),
        repeats=repeats,
        operators=operators,
        parts=parts,
        interplay=interplay,
        repeatability=component(own),
        by_operator=by_operator,
        by_pair=component(pair) if pair else None,
        reproducibility=(component(apart) if apart else by_operator) if operator else None,
        together=component((*apart, *own)) if operator else None,
        part_variation=component(_shares(parts, against, many * often)) if parts is not None else None,
        biases=_biases(study.operators, operator_means, against, several * often),
        straggler=_straggler(study, cells),
    )


def _times(found: Scatter, readings: int) -> Scatter:
    """The scatter of means of so many readings each, on the scale of single readings."""
    return Scatter(found.squares * readings, found.freedom)


def _shares(found: Scatter, against: Scatter, readings: int) -> tuple[Share, ...]:
    """The variance that is in one mean square and not in the other, where it holds that variance so many times."""
    return Share(Fraction(1, readings), found), Share(Fraction(-1, readings), against)


def _interplay(
    means: Sequence[Sequence[Fraction]],
    by_operator: Sequence[Fraction],
    by_part: Sequence[Fraction],
    often: int,
    repeats: Scatter,
) -> Interplay | None:
    freedom = (len(by_operator) - 1) * (len(by_part) - 1)
    if not freedom:
        return None
    middle = mean(by_operator)
    left = (
        cell - operator - part + middle
        for row, operator in zip(means, by_operator, strict=True)
        for cell, part in zip(row, by_part, strict=True)
    )
    found = Scatter(often * sum((each**2 for each in left), Fraction(0)), freedom)
    if not found.squares:
        return Interplay(found, 0.0, 1.0)
    ratio = float(found.variance / repeats.variance) if repeats.squares else inf
    return Interplay(found, ratio, f_above(ratio, freedom, repeats.freedom))


def _biases(
    operators: Sequence[str], by_operator: Sequence[Fraction], against: Scatter, readings: int
) -> tuple[Bias, ...]:
    many = len(operators)
    if many < 2:
        return ()
    middle = mean(by_operator)
    doubt = root(against.variance / readings * Fraction(many - 1, many))
    return tuple(Bias(name, each - middle, doubt) for name, each in zip(operators, by_operator, strict=True))


def _straggler(study: Study, cells: Sequence[Sequence[Scatter]]) -> Straggler | None:
    """Cochran's test, its chance taken from F: the largest variance against the rest, times the number of cells."""
    placed = [
        (cell, operator, part)
        for row, operator in zip(cells, study.operators, strict=True)
        for cell, part in zip(row, study.parts, strict=True)
    ]
    largest, operator, part = max(placed, key=lambda each: each[0].squares)
    rest = sum((cell.squares for cell, _, _ in placed), Fraction(0)) - largest.squares
    others = len(placed) - 1
    if not others or not largest.squares:
        return None
    ratio = float(others * largest.squares / rest) if rest else inf
    chance = len(placed) * f_above(ratio, largest.freedom, others * largest.freedom)
    return Straggler(operator, part, chance) if chance < STRAGGLER else None
