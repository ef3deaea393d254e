"""What a repeatability study holds: who read which part how often, and what they read."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from specrules.quantity import Unit


@dataclass(frozen=True, slots=True)
class Study:
    """A balanced study: every operator read every part equally often, at least twice.

    `readings[operator][part][repeat]` are numbers of `unit`, exact; `step` is the finest last place that was written,
    in `unit`. Operators and parts are in the order of the file.
    """

    gauge: str
    gauge_class: str
    unit: Unit
    on: date | None
    operators: tuple[str, ...]
    parts: tuple[str, ...]
    readings: tuple[tuple[tuple[Fraction, ...], ...], ...]
    step: Fraction

    @property
    def repeats(self) -> int:
        """How often each operator read each part."""
        return len(self.readings[0][0])
