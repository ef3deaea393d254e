"""Trying limits takes bounded time: each figure is worked out once a trial, and what takes long is tried less often."""

from __future__ import annotations

from decimal import Decimal

import pytest

from specrules.evaluate import Environment, Value, evaluate
from specrules.formula import Formula, Station
from specrules.proving import sizes
from specrules.proving.sizes import Setting, Trial
from specrules.proving.trial_settings import MOST_CELLS, MOST_TRIED, most_tried, points_of
from tests.pack import hostile_packs as hostile
from tests.pack.small_packs import resolved


def test_a_figure_is_worked_out_once_in_a_trial(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each of 20 figures is named twice by the next: by their uses it would be half a million times."""
    worked: list[Formula] = []

    def counted(formula: Formula, environment: Environment, station: Station) -> Value | None:
        worked.append(formula)
        return evaluate(formula, environment, station)

    monkeypatch.setattr(sizes, "evaluate", counted)
    trial = Trial(resolved(hostile.doubling(20)), {"size": Decimal(3)}, Setting({}, {}, frozenset()))
    value = trial.look("f19", ())
    assert value is not None
    assert value.low is not None
    assert value.low.value == 3 * 2**19
    assert len(worked) == 20


def test_what_takes_long_is_tried_at_fewer_sizes() -> None:
    """A reducer over 90 labels, and the sum in it, of 90 values for each of 90 labels."""
    spec = resolved(hostile.reducer(2, 90))
    (chain,) = spec.rules.values()
    formula = chain.governing[-1].formula
    assert most_tried((), spec) == MOST_TRIED
    assert most_tried((formula,), spec) == MOST_CELLS // (90 * 90 + 90 + 90 + 1)


def test_sizes_and_settings_together_are_bounded() -> None:
    each = {f"s{n}": (Decimal(1), Decimal(2), Decimal(3)) for n in range(30)}
    assert len(points_of([*each], each, 1, 4000)) == 4000
    assert len(points_of([*each], each, 500, 4000)) == 8
    assert len(points_of([*each], each, 4000, 4000)) == 2
    assert points_of(["s0"], each, 4, 4000) == [{"s0": Decimal(1)}, {"s0": Decimal(2)}, {"s0": Decimal(3)}]
